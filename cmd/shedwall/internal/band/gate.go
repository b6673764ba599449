package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Gate is one thing that holds a date back. Limit is what the crop stands (or,
// for Soil, needs); Allowance and Gain shift it as in Shift.Threshold. Days, if not
// nil, turns the slot at which the gate opens into the slot of the action (a seed
// may be sown some days before its seedling must be safe), or into NoSlot; it must
// not decrease.
type Gate struct {
	Series    Series
	Limit     quantity.Celsius
	Allowance quantity.Kelvins
	Gain      quantity.Kelvins
	Days      *Days

	// Count is of Cold alone: the gate opens after the day from which on fewer than Count
	// days of that spring are as cold as Limit.
	Count int
}

// NoSlot is what Gate.Days gives where no slot of the action will do any more.
const NoSlot quantity.Slot = math.MaxInt32

// A year in which nothing held the date back, one in which it never came free,
// and one that the record cannot tell.
var (
	nothing  = math.Inf(-1)
	never    = math.Inf(+1)
	unusable = math.NaN()
)

// year is what a calendar year says: a slot, nothing, never or unusable; which gate
// decided; and whether it freezes at midsummer.
type year struct {
	slot      float64
	decides   int
	midsummer bool
}

// free says that nothing held the spring date back, or that the fall never ended.
func (y year) free(e record.Event) bool {
	return math.IsInf(y.slot, 0) && math.Signbit(y.slot) == (e == record.Last)
}

// worst appends the calendar years of a station to dst: in each the gate that lets
// go last, or closes first. A year that any gate cannot tell is unusable.
func (c *Climate) worst(dst []year, e record.Event, station int, shifted bool, gates []Gate, p Part) []year {
	s := c.Region.Stations[station]
	none := year{slot: nothing}
	if e == record.First {
		none.slot = never
	}
	for range s.Last - s.First + 1 {
		dst = append(dst, none)
	}
	for g, gate := range gates {
		if !s.tells(gate.Series) {
			continue
		}
		for k, y := range c.years(station, e, shifted, gate, p.Compared[g]) {
			w := &dst[k]
			if gate.Days != nil && !math.IsInf(y.slot, 0) && !math.IsNaN(y.slot) {
				y.slot = slotOf(gate.Days.Of(quantity.Slot(y.slot)))
			}
			w.midsummer = w.midsummer || y.midsummer
			switch {
			case math.IsNaN(w.slot):
			case math.IsNaN(y.slot), e == record.Last && y.slot > w.slot, e == record.First && y.slot < w.slot:
				w.slot, w.decides = y.slot, g
			}
		}
	}
	return dst
}

func slotOf(s quantity.Slot) float64 {
	if s == NoSlot {
		return never
	}
	return float64(s)
}

// asked is one station's series at one threshold, as it is compared.
type asked struct {
	station   int
	event     record.Event
	series    Series
	shifted   bool
	threshold quantity.Hundredths
	count     int
}

// Remembering is the same climate with a memory of what each station's years say
// of a threshold, for asking many questions whose gates are often the same. It must
// stay with one goroutine.
func (c *Climate) Remembering() *Climate {
	if c.kept.under != nil {
		return c.remembering(fewQuestions)
	}
	return c.remembering(manyQuestions)
}

func (c *Climate) remembering(questions int) *Climate {
	k := *c
	k.memory = map[asked][]year{}
	k.brief = newBriefing(&k, questions)
	return &k
}

// years is what one series of a station says of a threshold, as it is compared, by
// calendar year; shifted moves it by the year's drift. What needs maxima has no drift: what
// its trend is worth was never tested. The result must not be changed.
func (c *Climate) years(station int, e record.Event, shifted bool, gate Gate, compared quantity.Hundredths) []year {
	series := gate.Series
	shifted = shifted && !series.byDay()
	key := asked{station, e, series, shifted, compared, gate.Count}
	if known, ok := c.memory[key]; ok {
		return known
	}
	s := c.Region.Stations[station]
	var out []year
	if n := s.Last - s.First + 1; series == Night && n >= 0 && n <= maxYears {
		out = c.night(s, e, shifted, compared).list()
	} else {
		out = make([]year, 0, max(0, n))
		for y := s.First; y <= s.Last; y++ {
			out = append(out, c.yearAt(s, e, y, shifted, &gate, compared))
		}
	}
	if c.memory != nil {
		c.memory[key] = out
	}
	return out
}

// yearAt is what one calendar year says of a gate's series.
func (c *Climate) yearAt(s *Station, e record.Event, calendar int, shifted bool, gate *Gate, compared quantity.Hundredths) year {
	at := compared
	if shifted {
		at = frost.Moved(compared, s.drift[e][calendar-s.First], s.step(gate.Series))
	}
	if gate.Series == Cold {
		return s.coldDays(calendar, gate.Count, at, c.Region.Hemisphere)
	}
	return s.year(e, calendar, gate.Series, at, c.Region.Hemisphere)
}

// step is the step of a series' values.
func (s *Station) step(series Series) record.StepKind {
	if series == Night {
		return s.Record.Step
	}
	return record.HundredthC
}

// compared is a threshold as readings are compared with it. What is followed upward, in
// negated staircases, has its threshold negated too.
func (s *Station) compared(series Series, t quantity.Celsius) quantity.Hundredths {
	if series.rises() {
		return (-t).Hundredths()
	}
	return frost.RoundWarm(t, s.step(series))
}

// year is one series in one calendar year.
func (s *Station) year(e record.Event, calendar int, series Series, t quantity.Hundredths, h quantity.Hemisphere) year {
	switch series {
	case Hot:
		return hotYear(s.climbs.hot().Year(calendar, e, t), e, h)
	case Month:
		return hotYear(s.climbs.month().Year(calendar, e, t), e, h)
	case Soil:
		o := s.climbs.soil.Year(calendar, record.First, t)
		switch o.State {
		case frost.Date:
			return year{slot: float64(fromOther(o.Slot, h))}
		case frost.NoFreeze:
			return year{slot: never}
		}
		return year{slot: unusable}
	}
	stairs := &s.climbs.night
	if series == Week {
		stairs = &s.climbs.week
	}
	y := yearOf(stairs.Year(seasonFor(e, calendar, h), e, t), e)
	y.midsummer = y.midsummer && series == Night
	return y
}

// yearOf is frost's outcome of a year as bands reckon with it.
func yearOf(o frost.Outcome, e record.Event) year {
	y := year{midsummer: o.Midsummer}
	switch {
	case o.State == frost.Unusable:
		return year{slot: unusable}
	case o.State == frost.NoFreeze && e == record.Last:
		y.slot = nothing
	case o.State == frost.NoFreeze:
		y.slot = never
	case e == record.First:
		y.slot = float64(o.Slot + quantity.SlotsPerYear)
	default:
		y.slot = float64(o.Slot)
	}
	return y
}

// fromOther turns a slot of the other hemisphere's season year (which begins at
// midwinter here) into one of ours: 1 February is slot 184 in the north.
func fromOther(s quantity.Slot, h quantity.Hemisphere) quantity.Slot {
	other := quantity.South
	if h == quantity.South {
		other = quantity.North
	}
	return s + h.SlotOf(other.MonthDay(0))
}

// threshold is T* at a station and the value it is compared as. What needs maxima gets
// no allowance, and no gain but that of soil under film.
func (c *Climate) threshold(e record.Event, odds quantity.Odds, station int, g Gate) (quantity.Celsius, quantity.Hundredths) {
	s := c.Region.Stations[station]
	shift := c.ShiftOf(g, e, odds, station)
	t := shift.Threshold(g.Limit, g.Allowance, g.Gain)
	return t, s.compared(g.Series, t)
}
