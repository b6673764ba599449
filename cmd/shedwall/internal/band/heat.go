package band

import (
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Heat is when hot weather begins and ends in a year: the first and the last day on which
// a series, Hot or Month, is as warm as a limit. Both answers have slots of the calendar
// year, counted on from the spring (in the north 184, 1 February, to 549, 31 January).
// At rarer odds it begins earlier and ends later. NoneNeeded: it gets so hot in fewer
// years than that. There is no drift in it: years are taken as they were.
func (c *Climate) Heat(series Series, odds quantity.Odds, limit quantity.Celsius) (begins, ends Answer) {
	gates := []Gate{{Series: series, Limit: limit}}
	return c.date(record.First, odds, false, gates), c.date(record.Last, odds, false, gates)
}

// HeatWithoutParts is what Heat says, but for the parts.
func (c *Climate) HeatWithoutParts(series Series, odds quantity.Odds, limit quantity.Celsius) (begins, ends Answer) {
	g := Gate{Series: series, Limit: limit}
	return c.withoutParts(record.First, odds, false, g), c.withoutParts(record.Last, odds, false, g)
}

// hotYear is a year of hot weather; followed upward, "no freeze" is never as hot.
func hotYear(o frost.Outcome, e record.Event, h quantity.Hemisphere) year {
	switch o.State {
	case frost.Date:
		return year{slot: float64(fromOther(o.Slot, h))}
	case frost.NoFreeze:
		return year{slot: free(e)}
	}
	return year{slot: unusable}
}

// hottest is the hottest time of the year as a slot of Heat, 25 July in the north and 25
// January in the south.
func hottest(h quantity.Hemisphere) float64 {
	md := quantity.MonthDay{Month: 7, Day: 25}
	if h == quantity.South {
		md.Month = 1
	}
	return float64(h.SlotOf(md))
}

// towards is the day with which a station counts that has no date of a series because it
// hardly gets so far: midwinter for cold, the hottest time of the year for heat.
func towards(s Series, e record.Event, h quantity.Hemisphere) float64 {
	if s == Hot || s == Month {
		return hottest(h)
	}
	return midwinter(e, h)
}

// coldMissing is how many days of a spring may be missing for its cold days to be counted.
const coldMissing = 10

// coldDays is, in one calendar year, the day before which count days of spring with a
// mean at or below t lie no more, counted back from midsummer to midwinter: a plant that
// comes to its size after it meets fewer. Nothing where the whole spring has fewer.
func (s *Station) coldDays(calendar, count int, t quantity.Hundredths, h quantity.Hemisphere) year {
	means, start := s.climbs.means(), s.Record.Start
	season := seasonFor(record.Last, calendar, h)
	from, to := int(midwinter(record.Last, h)), quantity.SlotsPerYear-1
	first, last := h.DayAt(season, quantity.Slot(from)), h.DayAt(season, quantity.Slot(to))
	cold, missing := 0, 0
	for i := int(last - start); i >= int(first-start); i-- {
		mean := quantity.Missing // colder than all that is known
		if uint(i) < uint(len(means)) {
			mean = means[i]
		}
		switch {
		case mean > t:
		case mean.Known():
			cold++
		default:
			if missing++; missing > coldMissing {
				return year{slot: unusable}
			}
		}
		if cold == count {
			_, slot := h.SeasonOf(start + quantity.Day(i))
			return year{slot: float64(slot)}
		}
	}
	return year{slot: nothing}
}

// tells says that a station can tell a series from its own days: what needs maxima only
// where it has some.
func (s *Station) tells(series Series) bool { return !series.byDay() || s.hasMaxima }

// Tells says whether a station can tell a series from its own days or its table.
func (r *Region) Tells(station int, series Series) bool {
	s := r.Stations[station]
	return s.Table != nil || s.tells(series)
}

// hasMaxima says that a record has a maximum beside a minimum on any day.
func hasMaxima(d *record.Daily) bool {
	for i, high := range d.Max {
		if high.Known() && d.Min[i].Known() {
			return true
		}
	}
	return false
}

// borrow lets a station without maxima take the dates of gates that need them from what
// the other stations say together, other(g): the later in spring, the earlier in fall.
// Where they cannot tell either, the gate is left out and noted. It says which gate
// decides, -1 where that is one of the station's own years.
func (c *Climate) borrow(a *Answer, p *Part, e record.Event, gates []Gate, other func(g int) Answer) (decides int) {
	decides = -1
	s := c.Region.Stations[p.Station]
	for g, gate := range gates {
		if s.tells(gate.Series) {
			continue
		}
		v, ok := saidBy(other(g), e)
		if !ok {
			a.leaveOut(gate.Series)
			continue
		}
		a.Apart = true
		if e == record.Last && v.slot > p.Slot || e == record.First && v.slot < p.Slot {
			p.Slot, p.Sampling, decides = v.slot, v.sampling, g
		}
	}
	return decides
}

// ownGates is how many of the gates a station can tell.
func (s *Station) ownGates(gates []Gate) int {
	n := 0
	for _, g := range gates {
		if s.tells(g.Series) {
			n++
		}
	}
	return n
}

// hotCourse is how dates of hot weather, taken year by year, lie about the days on which
// the mean course crosses a temperature: so many days before its beginning and after its
// end in half the years, so much further for each deviate of rarer odds, and none where
// the course stays reach below it (more at rarer odds). Measured between 16 and 34 C on 27
// records: a month's mean first got there 2 days before (-1 to 5 in four of five), in one
// year of ten 17 (10 to 26), and last 0 days after (-2 to 3) and 11 (7 to 17); maxima swing
// alike.
type hotCourse struct {
	before, after  float64 // days
	early, late    float64 // days for each deviate
	reach, further float64 // K, and for each deviate
	error          float64 // days, one standard error
}

var hotMonths = hotCourse{before: 2, after: 0, early: 12, late: 9, reach: 1, further: 1.2, error: 3}

// hotSlot is when hot weather begins or ends by a course of means.
func hotSlot(course []float64, k hotCourse, e record.Event, t, rare float64, h quantity.Hemisphere) float64 {
	start := int(fromOther(0, h))
	first, last, peak := -1, -1, start
	for s := start; s < start+len(course); s++ {
		v := course[s%len(course)]
		if v > course[peak%len(course)] {
			peak = s
		}
		if v >= t {
			if first < 0 {
				first = s
			}
			last = s
		}
	}
	if first < 0 {
		if t-course[peak%len(course)] > k.reach+k.further*rare {
			return free(e)
		}
		first, last = peak, peak
	}
	if e == record.First {
		return max(float64(start), float64(first)-k.before-k.early*rare)
	}
	return min(float64(start+len(course)-1), float64(last)+k.after+k.late*rare)
}
