package band

import (
	"math"
	"math/bits"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// shiftFor is ShiftOf, worked out once for each of its three kinds.
func (c *Climate) shiftFor(e record.Event, odds quantity.Odds, station int, g *Gate) Shift {
	kind := 0
	switch g.Series {
	case Soil, Month, Cold:
		kind = 1
	case Hot:
		kind = 2
	}
	list := &c.brief.shifts[e][levelOf(odds)][kind]
	if *list == nil {
		*list = make([]Shift, len(c.Region.Stations))
		for i := range *list {
			(*list)[i] = c.ShiftOf(*g, e, odds, i)
		}
	}
	return (*list)[station]
}

// vector is what one series of a station says of a threshold, by calendar year. It is
// small and of one piece: a plan reads a hundred thousand of them.
type vector struct {
	years, used      int              // of the station, and those that can tell
	blind, midsummer uint64           // bits of the years that cannot tell, and of those that freeze at midsummer
	told             [maxYears]saying // the first used: what they say, in order
}

// saying is a slot and, in the lowest byte, the year that says it.
type saying int32

func say(slot int16, year int) saying { return saying(slot)<<8 | saying(year) }

func (s saying) slot() int16 { return int16(s >> 8) }
func (s saying) year() uint  { return uint(s) & (maxYears - 1) }

// after is the bits of the years whose slot is later than s, few where s is a careful date
// of spring.
func (v *vector) after(s int16) (years uint64) {
	for k := v.used - 1; k >= 0 && v.told[k].slot() > s; k-- {
		years |= 1 << v.told[k].year()
	}
	return years
}

// until is the bits of the years whose slot is no later than s, few where s is a careful
// date of fall.
func (v *vector) until(s int16) (years uint64) {
	for k := 0; k < v.used && v.told[k].slot() <= s; k++ {
		years |= 1 << v.told[k].year()
	}
	return years
}

// Question is a gate, but for its Days, as it is put to every station at one event and
// level of odds. Two gates that compare the same have the same Question.
type Question struct {
	ID int // from 0, in the order in which they were first put

	event record.Event
	odds  quantity.Odds
	gate  Gate
	brief bool          // Brief can do without Date
	said  [2]*testimony // what the stations say, plain and shifted; nil = not asked yet
}

// question identifies a Question.
type question struct {
	threshold uint64 // bits of a float
	rest      uint64
}

// levelOf is 0 for careful odds, 1 for half-and-half ones.
func levelOf(odds quantity.Odds) int {
	if odds >= quantity.Half {
		return 1
	}
	return 0
}

// Question puts a gate; on the climate that Remembering gives alone.
func (c *Climate) Question(e record.Event, odds quantity.Odds, g *Gate) *Question {
	key := question{math.Float64bits(float64(Shift{}.Threshold(g.Limit, g.Allowance, g.Gain))), uint64(e) | uint64(levelOf(odds))<<8 | uint64(g.Series)<<16 | uint64(g.Count)<<32}
	near := &c.brief.near[(key.threshold^key.rest*0x9e3779b97f4a7c15)*0x9e3779b97f4a7c15>>56]
	if near.q != nil && near.key == key {
		return near.q
	}
	q, ok := c.brief.questions[key]
	if !ok {
		q = c.ask(e, odds, g)
		q.ID = len(c.brief.questions)
		c.brief.questions[key] = q
	}
	near.key, near.q = key, q
	return q
}

// ask is a question that nobody need put again.
func (c *Climate) ask(e record.Event, odds quantity.Odds, g *Gate) *Question {
	q := &Question{event: e, odds: odds, gate: *g, brief: c.brief.able(g)}
	q.gate.Days = nil
	return q
}

// testimony is what every station says of a question, and bounds of it: no year of a station
// that is heard has its slot after latest, and no more than mostBlind years of it being blind,
// none of the ranks that are read of it has one before least. They are for dates of spring,
// whose ranks never fall as there are more years.
type testimony struct {
	of            []*vector // by station
	least, latest int16
	blind         int  // the most years of a station that cannot tell
	whole         bool // every year can tell, and none freezes at midsummer
}

// mostBlind is how many years of a station bounds allow for that cannot tell.
const mostBlind = 4

// saidOf is what every station says of a question.
func (c *Climate) saidOf(q *Question, shifted bool) *testimony {
	k := 0
	if shifted && !q.gate.Series.byDay() {
		k = 1
	}
	if q.said[k] == nil {
		t := &testimony{of: make([]*vector, len(c.Region.Stations))}
		for i := range t.of {
			t.of[i] = c.vector(i, q.event, q.odds, k == 1, &q.gate)
		}
		c.brief.bound(t, q.event, q.odds)
		q.said[k] = t
	}
	return q.said[k]
}

// bound fills in the bounds of what was said.
func (b *briefing) bound(t *testimony, e record.Event, odds quantity.Odds) {
	t.whole, t.least, t.latest = true, briefNever, briefNothing
	for _, v := range t.of {
		t.whole = t.whole && v.blind|v.midsummer == 0
		t.blind = max(t.blind, bits.OnesCount64(v.blind))
		if v.used >= fewest(odds) {
			first := b.ranksOf(max(v.years-mostBlind, fewest(odds)), e, odds).first
			t.least, t.latest = min(t.least, v.told[first-1].slot()), max(t.latest, v.told[v.used-1].slot())
		}
	}
}

// vector is what a station says of a gate, without its Days. What is said of nights is kept
// with the station, for all bands.
func (c *Climate) vector(station int, e record.Event, odds quantity.Odds, shifted bool, g *Gate) *vector {
	return c.vectorAt(station, e, shifted, g, c.Region.Stations[station].compared(g.Series, c.shiftFor(e, odds, station, g).Threshold(g.Limit, g.Allowance, g.Gain)))
}

// vectorAt is vector of a gate's threshold at the station, as it is compared.
func (c *Climate) vectorAt(station int, e record.Event, shifted bool, g *Gate, compared quantity.Hundredths) *vector {
	s := c.Region.Stations[station]
	if g.Series == Night {
		return c.night(s, e, shifted, compared)
	}
	key := uint64(uint16(compared)) | uint64(g.Count)<<16 | uint64(station)<<32 | uint64(g.Series)<<40 | uint64(e)<<44
	if shifted {
		key |= 1 << 48
	}
	v := c.kept.vector(key)
	if v == nil {
		v = c.newVector(s, e, shifted, g, compared)
		c.kept.keep(key, v)
	}
	return v
}

func (c *Climate) newVector(s *Station, e record.Event, shifted bool, g *Gate, compared quantity.Hundredths) *vector {
	n := s.Last - s.First + 1
	v := &vector{years: n}
	if g.Series == Week {
		c.fill(v, s, e, shifted, g.Series, compared)
		return v
	}
	for k := range n {
		v.set(k, c.yearAt(s, e, s.First+k, shifted, g, compared))
	}
	return v
}

// put puts what a year says in its place.
func (v *vector) put(k int, slot int16) {
	t, j := say(slot, k), v.used
	for j > 0 && v.told[j-1] > t {
		v.told[j] = v.told[j-1]
		j--
	}
	v.told[j] = t
	v.used++
}

// set puts a year into a vector.
func (v *vector) set(k int, y year) {
	switch {
	case math.IsNaN(y.slot):
		v.blind |= 1 << k
	case math.IsInf(y.slot, 1):
		v.put(k, briefNever)
	case math.IsInf(y.slot, -1):
		v.put(k, briefNothing)
	default:
		v.put(k, int16(y.slot))
	}
	if y.midsummer {
		v.midsummer |= 1 << k
	}
}

// fill is set for every year of nights or weeks, as Station.year says of each.
func (c *Climate) fill(v *vector, s *Station, e record.Event, shifted bool, series Series, compared quantity.Hundredths) {
	stairs, step := &s.climbs.night, s.step(series)
	if series == Week {
		stairs = &s.climbs.week
	}
	season := seasonFor(e, s.First, c.Region.Hemisphere)
	for k := range v.years {
		at := compared
		if shifted {
			at = frost.Moved(compared, s.drift[e][k], step)
		}
		o := stairs.Year(season+k, e, at)
		switch {
		case o.State == frost.Unusable:
			v.blind |= 1 << k
			continue
		case o.State == frost.NoFreeze && e == record.Last:
			v.put(k, briefNothing)
		case o.State == frost.NoFreeze:
			v.put(k, briefNever)
		case e == record.First:
			v.put(k, int16(o.Slot+quantity.SlotsPerYear))
		default:
			v.put(k, int16(o.Slot))
		}
		if o.Midsummer && series == Night {
			v.midsummer |= 1 << k
		}
	}
}
