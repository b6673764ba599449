package band

import (
	"math"
	"math/bits"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Brief is what Date says, but for what it is made of: State, Slot, Exact, PlusMinus,
// Decides, Estimate and Shifted of the Answer are the same, the rest is empty. On the
// climate that Remembering gives it is several times quicker, for a plan that asks
// thousands of questions; on others, or where a station has a table or no maxima, or more
// years than a word has bits, it is Date.
func (c *Climate) Brief(e record.Event, odds quantity.Odds, gates ...Gate) Answer {
	if c.brief == nil || !c.brief.able(c, gates) {
		a := c.Date(e, odds, gates...)
		return Answer{State: a.State, Slot: a.Slot, Exact: a.Exact, PlusMinus: a.PlusMinus, Decides: a.Decides, Estimate: a.Estimate, Shifted: a.Shifted}
	}
	if c.Region.Plain {
		return c.briefly(e, odds, false, gates)
	}
	shifted := c.briefly(e, odds, true, gates)
	if odds >= quantity.Half {
		return shifted
	}
	return safer(c.briefly(e, odds, false, gates), shifted, e)
}

// briefing is the memory and the scratch paper of Brief.
type briefing struct {
	questions map[question][]*vector // by station
	asked     [maxGates][]*vector

	shifts [2][2][3][]Shift           // by event, level of odds and kind of shift, by station; nil = not worked out yet
	ranks  [2][2][maxYears + 1]*ranks // by event, level of odds and years
	days   bool                       // every station has a record with maxima, of at most maxYears years
	nights bool                       // every station has a record, likewise

	votes  [maxGates]float64
	parts  []Part
	values [maxYears]int16
	worst  [maxYears]int16
	mapped [maxGates][maxYears]int16
	rows   [maxGates][]int16
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
}

func newBriefing(c *Climate) *briefing {
	b := &briefing{questions: map[question][]*vector{}, days: true, nights: len(c.Region.Stations) < 256}
	for _, s := range c.Region.Stations {
		n := s.Last - s.First + 1
		b.nights = b.nights && s.Table == nil && n >= 0 && n <= maxYears
		b.days = b.days && s.hasMaxima
	}
	return b
}

// able says that no gate needs what Brief leaves to Date.
func (b *briefing) able(c *Climate, gates []Gate) bool {
	if !b.nights || len(gates) > maxGates {
		return false
	}
	for _, g := range gates {
		if g.Series.byDay() && !b.days || g.Count > math.MaxUint16 {
			return false
		}
	}
	return true
}

// briefly is date with the same arithmetic in the same order.
func (c *Climate) briefly(e record.Event, odds quantity.Odds, shifted bool, gates []Gate) Answer {
	b := c.brief
	a := Answer{Decides: -1, Shifted: shifted, Parts: b.parts[:0]}
	t := tally{votes: b.votes[:len(gates)], towards: towards(gates[0].Series, e, c.Region.Hemisphere)}
	clear(t.votes)
	for g := range gates {
		b.asked[g] = c.vectorsOf(e, odds, shifted, &gates[g])
	}
	for i := range c.Region.Stations {
		c.hear(&a, &t, i, e, odds, shifted, gates)
	}
	b.parts = a.Parts[:0]
	c.settle(&a, &t, e, odds, shifted, 0)
	a.Parts, a.Used, a.Without, a.Unusable = nil, 0, 0, 0
	return a
}

// hear adds a station's part.
func (c *Climate) hear(a *Answer, t *tally, station int, e record.Event, odds quantity.Odds, shifted bool, gates []Gate) {
	b, n := c.brief, 0
	var blind, midsummer uint64
	var order []uint8 // of a gate that holds late in spring, early in fall: nearly that of the worst
	late := 0
	for g := range gates {
		v := b.asked[g][station]
		blind, midsummer = blind|v.blind, midsummer|v.midsummer
		b.rows[g], n = v.slots, len(v.slots)
		if days := gates[g].Days; days != nil {
			row := b.mapped[g][:n]
			for k, s := range v.slots {
				row[k] = s
				if s != briefNothing && s != briefNever {
					row[k] = briefSlot(days(quantity.Slot(s)))
				}
			}
			b.rows[g] = row
		}
		if n > 0 {
			if m := int(b.rows[g][v.order[n/2]]); order == nil || e == record.Last && m > late || e == record.First && m < late {
				order, late = v.order, m
			}
		}
	}
	used := n - bits.OnesCount64(blind)
	if used < fewest(odds) {
		return
	}
	worst := b.rows[0]
	if len(gates) > 1 {
		worst = b.worst[:n]
		copy(worst, b.rows[0])
		for _, row := range b.rows[1:len(gates)] {
			row = row[:n]
			if e == record.Last {
				for k, s := range row {
					worst[k] = max(worst[k], s)
				}
			} else {
				for k, s := range row {
					worst[k] = min(worst[k], s)
				}
			}
		}
	}
	values := b.values[:0]
	for _, k := range order {
		if blind>>k&1 != 0 {
			continue
		}
		s, j := worst[k], len(values)
		values = append(values, s)
		for j > 0 && values[j-1] > s {
			values[j] = values[j-1]
			j--
		}
		values[j] = s
	}
	weight := c.weights[station]
	t.weight += weight
	t.summers += weight * float64(bits.OnesCount64(midsummer&^blind)) / float64(used)
	r := b.ranksOf(used, e, odds)
	p := Part{Station: station, Weight: weight, Used: used}
	p.Slot, p.Sampling = r.read(values)
	if len(gates) > 1 { // the one gate decides
		c.briefVote(t, worst, blind, values[r.middle[0]-1], values[r.middle[1]-1], e, weight, len(gates))
	}
	a.Estimate = a.Estimate || used < frost.FullYears
	a.Parts = append(a.Parts, p)
}

// briefVote is tally.vote.
func (c *Climate) briefVote(t *tally, worst []int16, blind uint64, below, above int16, e record.Event, weight float64, gates int) {
	free := briefNothing
	if e == record.First {
		free = briefNever
	}
	var here uint64 // bits of the years
	for k, s := range worst {
		if s == below || s == above {
			here |= 1 << k
		}
	}
	here &^= blind
	for m := here; m != 0; m &= m - 1 {
		if k := bits.TrailingZeros64(m); worst[k] == free {
			here &^= 1 << k
		}
	}
	share := weight / float64(bits.OnesCount64(here))
	for m := here; m != 0; m &= m - 1 {
		k, g := bits.TrailingZeros64(m), 0
		for g < gates-1 && c.brief.rows[g][k] != worst[k] {
			g++
		}
		t.votes[g] += share
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
func (c *Climate) briefRisk(r *SeasonRisk, weight *float64, station int, odds quantity.Odds, shifted bool, spring, fall *Gate, from, to quantity.Slot, apart int) {
	a, z := c.vectorsOf(record.Last, odds, shifted, spring)[station], c.vectorsOf(record.First, odds, shifted, fall)[station]
	n := max(0, len(a.slots)-apart)
	ends := z.slots[min(apart, len(z.slots)):]
	var early, late uint64 // bits of the years struck
	for k, last := range a.slots[:n] {
		if last > briefSlot(from) {
			early |= 1 << k
		}
		if ends[k] <= briefSlot(to) {
			late |= 1 << k
		}
	}
	heard := (uint64(1)<<n - 1) &^ (a.blind | z.blind>>apart)
	early, late = early&heard, late&heard
	used := bits.OnesCount64(heard)
	if used < fewest(odds) {
		return
	}
	w := c.weights[station] / float64(used)
	r.Share, r.Spring, r.Fall = r.Share+w*float64(bits.OnesCount64(early|late)), r.Spring+w*float64(bits.OnesCount64(early)), r.Fall+w*float64(bits.OnesCount64(late))
	*weight += c.weights[station]
	r.Years = max(r.Years, used)
}
