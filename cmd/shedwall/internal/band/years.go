package band

import (
	"cmp"
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// YearDate is what one calendar year of one station says about a question.
type YearDate struct {
	Year    int
	State   frost.OutcomeState // Date, NoFreeze (nothing held the date back, or it never came), Unusable
	Slot    quantity.Slot      // of the action
	Decides int                // gate that held the date back
	Day     quantity.Day       // civil day of Slot
	Reading quantity.Day       // civil day of the reading that decided: of Week the last of its nights, of Soil the first of its fortnight, of Hot and Month the middle of its days
}

// Years lists a station's years behind an answer, sorted by date, years without a
// date first in spring and last in fall, unusable years at the end: the row of
// dates of which the answer is a quantile. shifted is the answer's.
func (c *Climate) Years(e record.Event, odds quantity.Odds, station int, shifted bool, gates ...Gate) []YearDate {
	s := c.Region.Stations[station]
	p := Part{Thresholds: make([]quantity.Celsius, len(gates)), Compared: make([]quantity.Hundredths, len(gates))}
	for g, gate := range gates {
		p.Thresholds[g], p.Compared[g] = c.threshold(e, odds, station, gate)
	}
	var out []YearDate
	for k, w := range c.worst(nil, e, station, shifted, gates, p) {
		d := YearDate{Year: s.First + k, Decides: w.decides}
		switch {
		case math.IsNaN(w.slot):
			d.State = frost.Unusable
		case math.IsInf(w.slot, 0):
			d.State, d.Slot = frost.NoFreeze, noSlot(w.slot)
		default:
			d.State, d.Slot = frost.Date, quantity.Slot(w.slot)
			at := e
			if s := gates[w.decides].Series; s == Hot || s == Month {
				at = record.Last // their slots are those of spring answers
			}
			d.Day = c.Region.civil(at, d.Year, d.Slot)
			decided := c.years(station, e, shifted, gates[w.decides], p.Compared[w.decides])[k]
			d.Reading = c.Region.civil(at, d.Year, quantity.Slot(decided.slot))
		}
		out = append(out, d)
	}
	slices.SortStableFunc(out, func(a, b YearDate) int {
		return cmp.Or(cmp.Compare(rankOf(a), rankOf(b)), cmp.Compare(a.Slot, b.Slot), cmp.Compare(a.Year, b.Year))
	})
	return out
}

func rankOf(d YearDate) int {
	if d.State == frost.Unusable {
		return 1
	}
	return 0
}

func noSlot(v float64) quantity.Slot {
	if v < 0 {
		return math.MinInt32
	}
	return math.MaxInt32
}

// civil is the day of a slot of an event of a calendar year.
func (r *Region) civil(e record.Event, year int, s quantity.Slot) quantity.Day {
	if e == record.First {
		s -= quantity.SlotsPerYear
	}
	return r.Hemisphere.DayAt(seasonFor(e, year, r.Hemisphere), s)
}

// Positions is the ranks (from 1) between which the quantile of n usable years at
// odds lies, and how far from the first to the second.
func Positions(n int, e record.Event, odds quantity.Odds) (lower, upper int, part float64) {
	return neighbours(rankAt(n, e, odds))
}

// ShiftOf is the shift a gate's threshold was carried by.
func (c *Climate) ShiftOf(g Gate, e record.Event, odds quantity.Odds, station int) Shift {
	switch g.Series {
	case Soil, Month, Cold:
		return c.meanShift(odds, station)
	case Hot:
		return c.dayShift(odds, station)
	}
	return c.Shift(e, odds, station)
}
