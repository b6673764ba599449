package frost

import (
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// DefaultYears is how many calendar years of a record odds are made from where
// nobody says which.
const DefaultYears = 30

// Years is a range of calendar years, both included, as people name records:
// "1991-2020".
type Years struct{ From, To int }

// Len is the number of years, 0 where To lies before From.
func (y Years) Len() int { return max(0, y.To-y.From+1) }

// Seasons is the first and the last season year that hold an event of these
// calendar years. The freeze of a calendar year is the one a gardener would give
// that year's number:
//
//	north  last   spring of y   season year y-1 (1 August y-1 to 31 July y)
//	north  first  fall of y     season year y
//	south  last   spring of y   season year y   (1 February y to 31 January y+1)
//	south  first  fall of y     season year y
//
// An event that strays over New Year keeps the number of its spring or fall: a
// first freeze on 9 January 2016 belongs to the fall of 2015, a southern last
// freeze on 3 January 2016 to the spring of 2015.
func (y Years) Seasons(e record.Event, h quantity.Hemisphere) (first, last int) {
	if e == record.Last && h == quantity.North {
		return y.From - 1, y.To - 1
	}
	return y.From, y.To
}

// LastYears is the last n calendar years of the series. A calendar year that the
// series leaves before 21 December (more than MaxMissing days early) is not
// counted as its last: both events of every counted year had their chance to be
// seen. A series without such a year ends with the year of its last value. Years
// before the first value are left out, so there may be fewer than n. Years{} with
// Len 0 where the series has no value.
func (s Series) LastYears(n int) Years {
	first, last := -1, -1
	for i, v := range s.Values {
		if v.Known() {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return Years{From: 1, To: 0}
	}
	from, _, _ := (s.Start + quantity.Day(first)).Date()
	lastDay := s.Start + quantity.Day(last)
	to, _, _ := lastDay.Date()
	if lastDay < quantity.DayOf(to, 12, 31)-MaxMissing && to > from {
		to--
	}
	return Years{From: max(from, to-n+1), To: to}
}
