package frost

import (
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// steady is a series from day a up to but not including day b at one value.
func steady(a, b quantity.Day, v quantity.Hundredths) Series {
	s := Series{Start: a, Values: make([]quantity.Hundredths, b-a), Step: record.TenthC}
	for i := range s.Values {
		s.Values[i] = v
	}
	return s
}

// put writes a value on a date (year, month, day) or on every day of a stretch.
func put(s Series, v quantity.Hundredths, days ...quantity.Day) Series {
	for _, d := range days {
		s.Values[d-s.Start] = v
	}
	return s
}

func gap(s Series, a, b quantity.Day) Series {
	for d := max(a, s.Start); d < min(b, s.End()); d++ {
		s.Values[d-s.Start] = quantity.Missing
	}
	return s
}

func day(y, m, d int) quantity.Day { return quantity.DayOf(y, m, d) }

// Edge cases of a season, each with the word it is known by. All expected dates
// are the ones written into the series two lines above them.
func TestSeasonEdges(t *testing.T) {
	north, south := quantity.North, quantity.South
	whole := func(v quantity.Hundredths) Series { return steady(day(2000, 8, 1), day(2001, 8, 1), v) }
	cases := []struct {
		word   string
		series Series
		h      quantity.Hemisphere
		season int
		event  record.Event
		state  OutcomeState
		date   string
		miss   int
	}{
		{"never", whole(500), north, 2000, record.Last, NoFreeze, "", 0},
		{"never, first", whole(500), north, 2000, record.First, NoFreeze, "", 0},
		{"always", whole(-500), north, 2000, record.Last, Date, "07-31", 0},
		{"always, first", whole(-500), north, 2000, record.First, Date, "08-01", 0},
		{"exactly at the threshold counts", put(whole(500), 0, day(2001, 4, 7)), north, 2000, record.Last, Date, "04-07", 0},
		{"a hundredth above does not", put(whole(500), 1, day(2001, 4, 7)), north, 2000, record.Last, NoFreeze, "", 0},
		{"starts but does not end: freezes from November to the split", func() Series {
			s := whole(500)
			for d := day(2000, 11, 3); d < day(2001, 8, 1); d++ {
				put(s, -100, d)
			}
			return s
		}(), north, 2000, record.Last, Date, "07-31", 0},
		{"last freeze before New Year", put(whole(500), -100, day(2000, 12, 3)), north, 2000, record.Last, Date, "12-03", 0},
		{"first freeze after New Year", put(whole(500), -100, day(2001, 1, 9)), north, 2000, record.First, Date, "01-09", 0},
		{"leap day", put(steady(day(1999, 8, 1), day(2000, 8, 1), 500), -100, day(2000, 2, 29)), north, 1999, record.Last, Date, "02-29", 0},
		{"day after the leap day, leap year", put(steady(day(1999, 8, 1), day(2000, 8, 1), 500), -100, day(2000, 3, 1)), north, 1999, record.Last, Date, "03-01", 0},
		{"1 March of a common year", put(whole(500), -100, day(2001, 3, 1)), north, 2000, record.Last, Date, "03-01", 0},
		{"28 February of a common year", put(whole(500), -100, day(2001, 2, 28)), north, 2000, record.First, Date, "02-28", 0},
		{"south, last in spring", put(steady(day(2000, 2, 1), day(2001, 2, 1), 500), -100, day(2000, 5, 20), day(2000, 10, 12)), south, 2000, record.Last, Date, "10-12", 0},
		{"south, first in fall", put(steady(day(2000, 2, 1), day(2001, 2, 1), 500), -100, day(2000, 5, 20), day(2000, 10, 12)), south, 2000, record.First, Date, "05-20", 0},
		{"south, leap day", put(steady(day(2000, 2, 1), day(2001, 2, 1), 500), -100, day(2000, 2, 29)), south, 2000, record.First, Date, "02-29", 0},
		{"south, no freeze seen, April missing", gap(steady(day(2000, 2, 1), day(2001, 2, 1), 500), day(2000, 4, 1), day(2000, 5, 1)), south, 2000, record.Last, NoFreeze, "", 0},
		{"south, no freeze seen, September missing", gap(steady(day(2000, 2, 1), day(2001, 2, 1), 500), day(2000, 9, 1), day(2000, 10, 1)), south, 2000, record.Last, Unusable, "", 30},
		{"ten days missing after the date", gap(put(whole(500), -100, day(2001, 4, 7)), day(2001, 4, 8), day(2001, 4, 18)), north, 2000, record.Last, Date, "04-07", 10},
		{"eleven days missing after the date", gap(put(whole(500), -100, day(2001, 4, 7)), day(2001, 4, 8), day(2001, 4, 19)), north, 2000, record.Last, Unusable, "", 11},
		{"a hole on the winter side does not matter", gap(put(whole(500), -100, day(2001, 4, 7)), day(2000, 9, 1), day(2001, 4, 7)), north, 2000, record.Last, Date, "04-07", 0},
		{"a hole before the first freeze matters", gap(put(whole(500), -100, day(2000, 10, 7)), day(2000, 9, 1), day(2000, 9, 12)), north, 2000, record.First, Unusable, "", 11},
		{"no freeze seen, February missing", gap(whole(500), day(2001, 2, 1), day(2001, 3, 1)), north, 2000, record.Last, Unusable, "", 28},
		{"no freeze seen, June missing", gap(whole(500), day(2001, 6, 1), day(2001, 7, 1)), north, 2000, record.Last, NoFreeze, "", 0},
		{"begins on 1 January, spring freeze", put(steady(day(2001, 1, 1), day(2001, 8, 1), 500), -100, day(2001, 4, 7)), north, 2000, record.Last, Date, "04-07", 0},
		{"begins on 1 January, fall unseen", put(steady(day(2001, 1, 1), day(2001, 8, 1), 500), -100, day(2001, 4, 7)), north, 2000, record.First, Unusable, "", 153}, // August to December
		{"begins on 1 January, no freeze seen", steady(day(2001, 1, 1), day(2001, 8, 1), 500), north, 2000, record.Last, Unusable, "", 61},                            // November and December
		{"cut off in fall after the freeze", put(steady(day(2000, 8, 1), day(2000, 11, 16), 500), -100, day(2000, 10, 7)), north, 2000, record.First, Date, "10-07", 0},
		{"cut off in fall, spring to come", put(steady(day(2000, 8, 1), day(2000, 11, 16), 500), -100, day(2000, 10, 7)), north, 2000, record.Last, Unusable, "", 258}, // 16 November to 31 July: 15+31+31+28+31+30+31+30+31
		{"cut off in fall before any freeze", steady(day(2000, 8, 1), day(2000, 11, 16), 500), north, 2000, record.First, Unusable, "", 136},                           // 16 November to 31 March: 15+31+31+28+31
		{"season before the record", whole(500), north, 1999, record.Last, Unusable, "", 366},                                                                          // August 1999 to July 2000 holds a leap day
		{"season after the record", whole(500), north, 2001, record.First, Unusable, "", 365},
	}
	for _, c := range cases {
		before := slices.Clone(c.series.Values)
		o := Climb(c.series, c.h).Year(c.season, c.event, 0)
		date := ""
		if o.State == Date {
			date = c.h.MonthDay(o.Slot).String()
		}
		if o.State != c.state || date != c.date || o.Missing != c.miss {
			t.Errorf("%s: %v %q with %d missing, want %v %q with %d", c.word, o.State, date, o.Missing, c.state, c.date, c.miss)
		}
		if !slices.Equal(before, c.series.Values) {
			t.Errorf("%s: the series was changed", c.word)
		}
	}
}
