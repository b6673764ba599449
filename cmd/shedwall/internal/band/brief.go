package band

import (
	"math"
	"math/bits"
	"slices"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Brief is what Date says, but for what it is made of: State, Slot, Exact, PlusMinus,
// Decides, Estimate and Shifted of the Answer are the same, the rest is empty. On the
// climate that Remembering gives it is many times quicker, for a plan that asks
// thousands of questions; on others, or where a station has a table or no maxima, or more
// years than a word has bits, or of several gates in fall, it is Date.
func (c *Climate) Brief(e record.Event, odds quantity.Odds, gates ...Gate) Answer {
	if c.brief == nil || len(gates) > maxGates {
		return summary(c.Date(e, odds, gates...))
	}
	var put [maxGates]*Question
	for g := range gates {
		put[g] = c.Question(e, odds, &gates[g])
	}
	return c.BriefOf(put[:len(gates)], gates)
}

// BriefOf is Brief of gates whose questions, all of one event and level of odds, were put
// before. At most eight gates.
func (c *Climate) BriefOf(put []*Question, gates []Gate) Answer {
	e, odds := put[0].event, put[0].odds
	able := e == record.Last || len(put) == 1
	for _, q := range put {
		able = able && q.brief
	}
	if !able {
		return summary(c.Date(e, odds, slices.Clone(gates)...))
	}
	if c.Region.Plain {
		return c.briefly(put, gates, false)
	}
	shifted := c.briefly(put, gates, true)
	if odds >= quantity.Half {
		return shifted
	}
	return safer(c.briefly(put, gates, false), shifted, e)
}

func summary(a Answer) Answer {
	return Answer{State: a.State, Slot: a.Slot, Exact: a.Exact, PlusMinus: a.PlusMinus, Decides: a.Decides, Estimate: a.Estimate, Shifted: a.Shifted}
}

// briefing is the memory and the scratch paper of Brief.
type briefing struct {
	questions map[question]*Question

	shifts [2][2][3][]Shift           // by event, level of odds and kind of shift, by station; nil = not worked out yet
	ranks  [2][2][maxYears + 1]*ranks // by event, level of odds and years
	days   bool                       // every station has a record with maxima, of at most maxYears years
	nights bool                       // every station has a record, likewise

	votes  [maxGates]float64
	parts  []Part
	values [maxYears]int16
	worst  [maxYears]int16
	by     [maxYears]uint8 // gate that a year of worst is of
	said   [maxGates][]*vector
}

// Bounds of what Brief can do: years as bits of a word, gates as places of scratch paper.
const (
	maxYears = 64
	maxGates = 8
)

// Sentinels of a vector: beyond all slots, which lie within four season years.
const (
	briefNothing int16 = -30_000
	briefNever   int16 = 30_000
)

// ranks is where a date and its sampling error are read off n sorted years: the ranks that
// valueAt is asked for, and the two neighbours of the first.
type ranks struct {
	middle, low, high [2]int // ranks between which each lies
	part              [3]float64
	okLow, okHigh     bool
	first, last       int // of all ranks read
}

func newBriefing(c *Climate) *briefing {
	b := &briefing{questions: map[question]*Question{}, days: true, nights: len(c.Region.Stations) < 256}
	for _, s := range c.Region.Stations {
		n := s.Last - s.First + 1
		b.nights = b.nights && s.Table == nil && n >= 0 && n <= maxYears
		b.days = b.days && s.hasMaxima
	}
	return b
}

// able says that a gate needs nothing that Brief leaves to Date.
func (b *briefing) able(g *Gate) bool {
	return b.nights && (b.days || !g.Series.byDay()) && g.Count <= math.MaxUint16
}

// briefly is date with the same arithmetic in the same order.
func (c *Climate) briefly(put []*Question, gates []Gate, shifted bool) Answer {
	b, e, odds := c.brief, put[0].event, put[0].odds
	a := Answer{Decides: -1, Shifted: shifted, Parts: b.parts[:0]}
	t := tally{votes: b.votes[:len(gates)], towards: towards(gates[0].Series, e, c.Region.Hemisphere)}
	clear(t.votes)
	for g, q := range put {
		b.said[g] = c.saidOf(q, shifted)
	}
	for i := range c.Region.Stations {
		c.hear(&a, &t, i, e, odds, gates)
	}
	b.parts = a.Parts[:0]
	c.settle(&a, &t, e, odds, shifted, 0)
	a.Parts, a.Used, a.Without, a.Unusable = nil, 0, 0, 0
	return a
}

// hear adds a station's part.
func (c *Climate) hear(a *Answer, t *tally, station int, e record.Event, odds quantity.Odds, gates []Gate) {
	b := c.brief
	var blind, midsummer uint64
	for g := range gates {
		v := b.said[g][station]
		blind, midsummer = blind|v.blind, midsummer|v.midsummer
	}
	used := len(b.said[0][station].slots) - bits.OnesCount64(blind)
	if used < fewest(odds) {
		return
	}
	weight := c.weights[station]
	t.weight += weight
	t.summers += weight * float64(bits.OnesCount64(midsummer&^blind)) / float64(used)
	r := b.ranksOf(used, e, odds)
	p := Part{Station: station, Weight: weight, Used: used}
	if len(gates) == 1 { // it decides, and its years are in order
		v := b.said[0][station]
		for k := r.first; k <= r.last; k++ {
			b.values[k-1] = actionOf(&gates[0], v.slots[v.order[k-1]])
		}
	} else {
		reached := b.take(station, blind, used, r, gates)
		b.vote(t, reached, b.values[r.middle[0]-1], b.values[r.middle[1]-1], weight)
	}
	p.Slot, p.Sampling = r.read(b.values[:used])
	a.Estimate = a.Estimate || used < frost.FullYears
	a.Parts = append(a.Parts, p)
}

// actionOf is the slot of the action for the slot at which a gate opens.
func actionOf(g *Gate, s int16) int16 {
	if g.Days == nil || s == briefNothing || s == briefNever {
		return s
	}
	return briefSlot(g.Days(quantity.Slot(s)))
}

// take fills in worst, by and values, as far as ranks are read: the worst of several gates
// in spring in each year, the first gate that is as late, and those years in order.
//
// A gate's own year at the first rank read is a floor: of the worst, which come no earlier,
// there are as many from it on. Years below the latest floor are only counted, gates that
// lie below it altogether not looked at, and of the rest but the earliest are put in order.
// It returns the bits of the years from the floor on.
func (b *briefing) take(station int, blind uint64, used int, r *ranks, gates []Gate) (reached uint64) {
	floor := int16(math.MinInt16)
	var order []uint8 // of the gate with the latest floor: nearly that of the worst
	for g := range gates {
		v := b.said[g][station]
		if s := actionOf(&gates[g], v.slots[v.order[r.first-1]]); order == nil || s > floor {
			floor, order = s, v.order
		}
	}
	for g := range gates {
		v := b.said[g][station]
		for i := len(v.order) - 1; i >= 0; i-- {
			k := v.order[i]
			s := actionOf(&gates[g], v.slots[k])
			if s < floor {
				break
			}
			if reached>>k&1 == 0 || s > b.worst[k] {
				b.worst[k], b.by[k] = s, uint8(g)
				reached |= 1 << k
			}
		}
	}
	reached &^= blind
	below := used - bits.OnesCount64(reached)
	values, n := b.values[below:r.last], 0
	for _, k := range order {
		if reached>>k&1 == 0 {
			continue
		}
		s := b.worst[k]
		if n == len(values) {
			if s >= values[n-1] {
				continue
			}
			n--
		}
		j := n
		for j > 0 && values[j-1] > s {
			values[j] = values[j-1]
			j--
		}
		values[j] = s
		n++
	}
	return reached
}

// vote is tally.vote of the worst gates in spring.
func (b *briefing) vote(t *tally, reached uint64, below, above int16, weight float64) {
	var here uint64 // bits of the years
	for m := reached; m != 0; m &= m - 1 {
		k := bits.TrailingZeros64(m)
		if s := b.worst[k]; (s == below || s == above) && s != briefNothing {
			here |= 1 << k
		}
	}
	share := weight / float64(bits.OnesCount64(here))
	for m := here; m != 0; m &= m - 1 {
		t.votes[b.by[bits.TrailingZeros64(m)]] += share
	}
}

func briefSlot(s quantity.Slot) int16 {
	if s == NoSlot {
		return briefNever
	}
	return int16(s)
}

func (b *briefing) ranksOf(n int, e record.Event, odds quantity.Odds) *ranks {
	at := &b.ranks[e][levelOf(odds)][n]
	if *at == nil {
		*at = newRanks(n, e, odds)
	}
	return *at
}

func newRanks(n int, e record.Event, odds quantity.Odds) *ranks {
	r := &ranks{}
	q := shareBefore(e, odds)
	rank, spread := rankAt(n, e, odds), math.Sqrt(float64(n)*q*(1-q))
	at := func(rank float64, to *[2]int, part *float64) bool {
		if rank < 1-slack || rank > float64(n)+slack {
			return false
		}
		to[0], to[1], *part = neighbours(rank)
		return true
	}
	at(rank, &r.middle, &r.part[0])
	r.okLow, r.okHigh = at(rank-spread, &r.low, &r.part[1]), at(rank+spread, &r.high, &r.part[2])
	r.first, r.last = r.middle[0], r.middle[1]
	if r.okLow {
		r.first = min(r.first, r.low[0])
	}
	if r.okHigh {
		r.last = max(r.last, r.high[1])
	}
	return r
}

// read is quantile and samplingError.
func (r *ranks) read(sorted []int16) (slot, sampling float64) {
	at := func(ranks [2]int, part float64) float64 {
		below, above := briefValue(sorted[ranks[0]-1]), briefValue(sorted[ranks[1]-1])
		switch {
		case math.IsInf(below, 0):
			return above
		case math.IsInf(above, 0):
			return below
		}
		return below + (above-below)*part
	}
	slot = at(r.middle, r.part[0])
	var low, high float64
	okLow, okHigh := r.okLow, r.okHigh
	if okLow {
		low = at(r.low, r.part[1])
		okLow = !math.IsInf(low, 0)
	}
	if okHigh {
		high = at(r.high, r.part[2])
		okHigh = !math.IsInf(high, 0)
	}
	switch {
	case okLow && okHigh:
		return slot, (high - low) / 2
	case okLow:
		return slot, slot - low
	case okHigh:
		return slot, high - slot
	}
	return slot, math.NaN()
}

func briefValue(s int16) float64 {
	switch s {
	case briefNever:
		return never
	case briefNothing:
		return nothing
	}
	return float64(s)
}

// lastBefore is the last slot that days turns into one no later than from, so that a night
// after it is one after from. days does not decrease.
func lastBefore(days func(quantity.Slot) quantity.Slot, from quantity.Slot) quantity.Slot {
	low, high := quantity.Slot(-1), quantity.Slot(2*quantity.SlotsPerYear-1)
	for low < high {
		if m := (low + high + 1) / 2; days(m) <= from {
			low = m
		} else {
			high = m - 1
		}
	}
	return low
}

// briefRisk adds one station to the risk of a season, as seasonRisk does; from is the last
// slot of a night that strikes nothing in spring, to the last of one that does in fall.
func (c *Climate) briefRisk(r *SeasonRisk, weight *float64, station int, odds quantity.Odds, spring, fall *vector, from, to quantity.Slot, apart int) {
	n := max(0, len(spring.slots)-apart)
	heard := (uint64(1)<<n - 1) &^ (spring.blind | fall.blind>>apart)
	used := bits.OnesCount64(heard)
	if used < fewest(odds) {
		return
	}
	// Bits of the years struck.
	early := spring.after(briefSlot(from)) & heard
	late := (fall.upTo[len(fall.order)] &^ fall.after(briefSlot(to))) >> apart & heard
	w := c.weights[station] / float64(used)
	r.Share, r.Spring, r.Fall = r.Share+w*float64(bits.OnesCount64(early|late)), r.Spring+w*float64(bits.OnesCount64(early)), r.Fall+w*float64(bits.OnesCount64(late))
	*weight += c.weights[station]
	r.Years = max(r.Years, used)
}
