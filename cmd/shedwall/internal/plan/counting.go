package plan

import (
	"math"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// blended is prices of stations by weight.
type blended struct {
	price  cover.Price
	weight float64
}

func (s *blended) add(counts []int, weight float64) {
	if p, ok := cover.PriceOf(counts); ok {
		s.price.Middling += weight * p.Middling
		s.price.Bad += weight * p.Bad
		s.weight += weight
	}
}

func (s *blended) nights() Nights {
	if s.weight == 0 {
		return Nights{}
	}
	return Nights{int16(math.Round(s.price.Middling / s.weight)), int16(math.Ceil(s.price.Bad/s.weight - rounding))}
}

// counting keeps what was laid out and marked of each station, for one band, and the prices
// already asked for: crops of a class stand the same, and many layers buy the same days.
type counting struct {
	laid   [2][]*cover.Years // by event and station
	nights map[coldKey]*coldMarks
	days   map[warmKey]*cover.Marks
	heavy  [2][]float64 // by event: weights of the stations that are counted
	prices map[evenings]price

	counts []int // by year, on paper
}

// evenings is what the price of a stretch of evenings hangs on. Plants stand the nights of
// young ones for four weeks in spring, then those of grown ones; nil = nobody knows which
// nights harm them.
type evenings struct {
	young, grown *coldMarks
	vent         uint64        // bits of a temperature, so that keys compare as they lie in memory
	first, safe  quantity.Slot // see bandPlan.work
	event        record.Event
	ventKnown    bool
}

// price is how many nights and days a stretch takes; known where any station tells. A band
// has thousands, so it is kept small.
type price struct {
	needed, prudent, open Nights
	known                 bool
}

func (n *counting) price(c *band.Climate, q evenings) price {
	p, ok := n.prices[q]
	if !ok {
		p = n.count(c, q)
		if n.prices == nil {
			n.prices = make(map[evenings]price, 1024) // of a hundred crops
		}
		n.prices[q] = p
	}
	return p
}

// stretch is slots of minima, both included, in which a plant stands a limit.
type stretch struct {
	marks    *coldMarks
	from, to quantity.Slot
}

// stretches is those of a question, in season years of its event, of which anything is
// known.
func (q evenings) stretches(out []stretch) []stretch {
	add := func(m *coldMarks, from, to quantity.Slot) {
		if m != nil && from <= to {
			out = append(out, stretch{m, from, to})
		}
	}
	if q.event == record.First {
		add(q.grown, q.first+1-quantity.SlotsPerYear, q.safe-quantity.SlotsPerYear)
		return out
	}
	grown := q.first + youngDays
	add(q.young, q.first+1, min(q.safe, grown))
	add(q.grown, grown+1, q.safe)
	return out
}

func (n *counting) count(c *band.Climate, q evenings) price {
	var room [2]stretch
	stretches := q.stretches(room[:0])
	if len(stretches) == 0 || q.safe <= q.first {
		return price{}
	}
	var needed, prudent, open blended
	var list [2]cover.Stretch
	for station, weight := range n.weights(c, q.event) {
		if weight == 0 {
			continue
		}
		y := n.years(c, q.event, station)
		sum := func(kind int, and *cover.Marks) []int {
			for k, s := range stretches {
				list[k] = cover.Stretch{Marks: s.marks[kind].at(c, y, q.event, station), And: and, From: s.from, To: s.to}
			}
			n.counts = y.Counts(n.counts, list[:len(stretches)]...)
			return n.counts
		}
		needed.add(sum(harmful, nil), weight)
		prudent.add(sum(doubtful, nil), weight)
		if q.ventKnown {
			open.add(sum(harmful, n.warm(c, q.event, station, quantity.Celsius(math.Float64frombits(q.vent)))), weight)
		}
	}
	return price{needed.nights(), prudent.nights(), open.nights(), needed.weight > 0}
}

type coldKey struct {
	event     record.Event
	limit     quantity.Celsius
	allowance quantity.Kelvins
}

// coldMarks is the nights of a limit, and those that a prudent gardener covers for it.
type coldMarks [2]*nightMarks

// The kinds of coldMarks.
const harmful, doubtful = 0, 1

// nightMarks is the cold nights of a limit at each station, marked as they are asked for.
type nightMarks struct {
	coldKey
	marks []*cover.Marks
}

type warmKey struct {
	event   record.Event
	station int
	vent    quantity.Celsius
}

// leastWeight is the share in the band's dates below which a station is not counted:
// it would change no whole night.
const leastWeight = 0.05

// leastYears is how many years a station must have to be counted, as cover.PriceOf.
const leastYears = 10

func (n *counting) weights(c *band.Climate, e record.Event) []float64 {
	if n.heavy[e] == nil {
		n.heavy[e] = make([]float64, len(c.Region.Stations))
		for i := range n.heavy[e] {
			if w := c.Weight(i); w >= leastWeight && len(c.CountSeasons(e, i)) >= leastYears {
				n.heavy[e][i] = w
			}
		}
	}
	return n.heavy[e]
}

func (n *counting) years(c *band.Climate, e record.Event, station int) *cover.Years {
	if n.laid[e] == nil {
		n.laid[e] = make([]*cover.Years, len(c.Region.Stations))
	}
	if n.laid[e][station] == nil {
		s := c.Region.Stations[station]
		n.laid[e][station] = s.Keep(laidKey{e}, func() any {
			return cover.Lay(s.Record, c.Region.Hemisphere, c.CountSeasons(e, station))
		}).(*cover.Years)
	}
	return n.laid[e][station]
}

// laidKey is the key of a station's years.
type laidKey struct{ record.Event }

// marksOf is the cold nights of a limit.
func (n *counting) marksOf(c *band.Climate, e record.Event, limit quantity.Celsius, allowance quantity.Kelvins) *coldMarks {
	key := coldKey{e, limit, allowance}
	m := n.nights[key]
	if m == nil {
		m = &coldMarks{newNightMarks(c, key), newNightMarks(c, coldKey{e, limit, allowance + cover.Prudent})}
		if n.nights == nil {
			n.nights = map[coldKey]*coldMarks{}
		}
		n.nights[key] = m
	}
	return m
}

func newNightMarks(c *band.Climate, key coldKey) *nightMarks {
	return &nightMarks{key, make([]*cover.Marks, len(c.Region.Stations))}
}

// at is the cold nights of a station, laid out in y.
func (m *nightMarks) at(c *band.Climate, y *cover.Years, e record.Event, station int) *cover.Marks {
	if m.marks[station] == nil {
		m.marks[station] = y.Cold(c.NightThresholds(e, quantity.Careful, station, m.limit, m.allowance))
	}
	return m.marks[station]
}

func (n *counting) warm(c *band.Climate, e record.Event, station int, vent quantity.Celsius) *cover.Marks {
	key := warmKey{e, station, vent}
	m, ok := n.days[key]
	if !ok {
		m = n.years(c, e, station).Warm(c.DayThreshold(e, quantity.Careful, station, vent))
		if n.days == nil {
			n.days = map[warmKey]*cover.Marks{}
		}
		n.days[key] = m
	}
	return m
}

// warmDays is how many days of a stretch of spring, both ends included, get as warm as a
// cover must be opened at; false where no station tells.
func (n *counting) warmDays(c *band.Climate, vent quantity.Celsius, from, to quantity.Slot) (Nights, bool) {
	var days blended
	for station, weight := range n.weights(c, record.Last) {
		if weight == 0 {
			continue
		}
		n.counts = n.years(c, record.Last, station).Counts(n.counts, cover.Stretch{Marks: n.warm(c, record.Last, station, vent), From: from, To: to})
		days.add(n.counts, weight)
	}
	return days.nights(), days.weight > 0
}
