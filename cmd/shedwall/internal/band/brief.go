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
	near      [256]struct { // of them, those last put, by a hash
		key question
		q   *Question
	}

	shifts [2][2][3][]Shift           // by event, level of odds and kind of shift, by station; nil = not worked out yet
	ranks  [2][2][maxYears + 1]*ranks // by event, level of odds and years
	days   bool                       // every station has a record with maxima, of at most maxYears years
	nights bool                       // every station has a record, likewise

	votes  [maxGates]float64
	shares []share
	values [maxYears]int16
	by     [maxYears]uint8 // gate that a value is of
	lowest int             // rank of the first value
	said   [maxGates][]*vector

	// Gates that have a part in a date: each one's latest slot, as an action, of those to come
	// and, as if a year, lastGate less its number, so that of two the greater comes first.
	next    [maxGates]saying
	entered int
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
	a := Answer{Decides: -1, Shifted: shifted}
	t := tally{votes: b.votes[:len(gates)], towards: towards(gates[0].Series, e, c.Region.Hemisphere)}
	clear(t.votes)
	for g, q := range put {
		b.said[g] = c.saidOf(q, shifted)
	}
	b.shares = b.shares[:0]
	for i := range c.Region.Stations {
		if used := c.hear(&t, i, e, odds, gates); used > 0 {
			a.Estimate = a.Estimate || used < frost.FullYears
		}
	}
	switch {
	case len(b.shares) == 0:
		return a
	case t.anyMonth(odds):
		a.State = AnyMonth
		return a
	}
	a.Decides = argmax(t.votes)
	var m mixture
	for _, s := range b.shares {
		m.add(s.weight/t.weight, s.slot, s.sampling, e, t.towards)
	}
	m.settle(&a, e, c.transfer(e))
	return a
}

// share is the part of a station in a brief answer.
type share struct{ weight, slot, sampling float64 }

// hear adds a station's share and returns how many years it is made of; 0 where they are
// too few.
func (c *Climate) hear(t *tally, station int, e record.Event, odds quantity.Odds, gates []Gate) int {
	b := c.brief
	var blind, midsummer uint64
	for g := range gates {
		v := b.said[g][station]
		blind, midsummer = blind|v.blind, midsummer|v.midsummer
	}
	used := b.said[0][station].years - bits.OnesCount64(blind)
	if used < fewest(odds) {
		return 0
	}
	weight := c.weights[station]
	t.weight += weight
	t.summers += weight * float64(bits.OnesCount64(midsummer&^blind)) / float64(used)
	r := b.ranksOf(used, e, odds)
	if len(gates) == 1 {
		b.tell(&gates[0], b.said[0][station].told[:used], r)
	} else if only := b.enter(station, r, gates); only >= 0 && b.said[only][station].used == used {
		said := b.said[only][station].told[:used]
		b.tell(&gates[only], said, r)
		t.votes[only] = b.voteOf(&gates[only], said, r, weight, t.votes[only])
	} else {
		b.take(station, blind, used, r, gates)
		b.vote(t, used, r, weight)
	}
	slot, sampling := r.read(b.values[:used])
	b.shares = append(b.shares, share{weight, slot, sampling})
	return used
}

// tell fills in values, as far as ranks are read, where one gate decides all.
func (b *briefing) tell(g *Gate, said []saying, r *ranks) {
	for k := r.first - 1; k < r.last; k++ {
		b.values[k] = g.Days.action(said[k].slot())
	}
}

// voteOf adds to a gate's votes what vote would of a station that it alone decides.
func (b *briefing) voteOf(g *Gate, said []saying, r *ranks, weight, votes float64) float64 {
	at := func(k int) int16 { return g.Days.action(said[k].slot()) }
	low, high := r.middle[0]-1, r.middle[1]-1
	below, above := b.values[low], b.values[high]
	for low > 0 && at(low-1) == below {
		low--
	}
	for high+1 < len(said) && at(high+1) == above {
		high++
	}
	if below == briefNothing {
		for low <= high && at(low) == briefNothing {
			low++
		}
	}
	share := weight / float64(high+1-low)
	for range high + 1 - low {
		votes += share
	}
	return votes
}

// enter fills in the gates that have a part in the ranks that are read of a station, and
// returns the gate if there is but one, else -1. A gate has none whose latest year is
// earlier than all that another says at these ranks; most often one or two are left.
func (b *briefing) enter(station int, r *ranks, gates []Gate) int {
	least := briefNothing
	for g := range gates {
		least = max(least, gates[g].Days.action(b.said[g][station].told[r.first-1].slot()))
	}
	b.entered = 0
	for g := range gates {
		v := b.said[g][station]
		if s := gates[g].Days.action(v.told[v.used-1].slot()); s >= least {
			b.next[b.entered] = say(s, lastGate-g)
			b.entered++
		}
	}
	if b.entered > 1 {
		return -1
	}
	return lastGate - int(b.next[0].year())
}

// take fills in values and by, as far as ranks are read: the worst of the gates entered in
// spring in each year, in order, and the first gate that is as late.
//
// What the gates say lies in order, so they are run through together from the latest on:
// where a year first turns up, there is its worst. Years as late as that of the middle
// rank are all taken, for they vote; lowest is the rank of the earliest taken.
//
// There are tens of thousands of such runs to a plan, and nobody can foretell which gate is
// next or whether its year was taken: so neither is a branch.
func (b *briefing) take(station int, blind uint64, used int, r *ranks, gates []Gate) {
	var left [maxGates][]saying // by gate: those to come, in order
	for _, x := range b.next[:b.entered] {
		g := lastGate - int(x.year())
		v := b.said[g][station]
		left[g] = v.told[:v.used]
	}
	next := b.next[:b.entered]
	for rank := used; ; {
		best, at := next[0], 0
		for j, x := range next {
			if x > best {
				best, at = x, j
			}
		}
		slot, g := best.slot(), lastGate-int(best.year())
		if rank == 0 || rank < r.first && slot < b.values[r.middle[0]-1] {
			b.lowest = rank + 1
			return
		}
		said := left[g]
		last := len(said) - 1
		year := said[last].year()
		b.values[rank-1], b.by[rank-1] = slot, uint8(g) // the place of the next one if its year was taken
		rank -= int(^blind >> year & 1)
		blind |= 1 << year
		left[g] = said[:last]
		next[at] = say(math.MinInt16, 0)
		if last > 0 {
			next[at] = say(gates[g].Days.action(said[last-1].slot()), lastGate-g)
		}
	}
}

const lastGate = maxGates - 1

// vote is tally.vote of what was taken: of the years alike in what they say at the middle
// ranks.
func (b *briefing) vote(t *tally, used int, r *ranks, weight float64) {
	low, high := r.middle[0]-1, r.middle[1]-1
	below, above := b.values[low], b.values[high]
	for low >= b.lowest && b.values[low-1] == below {
		low--
	}
	for high+1 < used && b.values[high+1] == above {
		high++
	}
	for low <= high && b.values[low] == briefNothing {
		low++
	}
	var years [maxGates]int
	for _, g := range b.by[low : high+1] {
		years[g]++
	}
	share := weight / float64(high+1-low)
	for g := range t.votes {
		for range years[g] {
			t.votes[g] += share
		}
	}
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

// briefRisk is riskAtLength of gates whose questions were put; from is the last slot of a
// night that strikes nothing in spring, to the last of one that does in fall.
func (c *Climate) briefRisk(spring, fall *Question, odds quantity.Odds, shifted bool, from, to quantity.Slot) (r SeasonRisk) {
	weight, apart := 0.0, c.apart()
	springs, falls := c.saidOf(spring, shifted), c.saidOf(fall, shifted)
	for i := range c.Region.Stations {
		a, z := springs[i], falls[i]
		n := max(0, a.years-apart)
		heard := (uint64(1)<<n - 1) &^ (a.blind | z.blind>>apart)
		used := bits.OnesCount64(heard)
		if used < fewest(odds) {
			continue
		}
		// Bits of the years struck.
		early := a.after(briefSlot(from)) & heard
		late := z.until(briefSlot(to)) >> apart & heard
		w := c.weights[i] / float64(used)
		r.Share, r.Spring, r.Fall = r.Share+w*float64(bits.OnesCount64(early|late)), r.Spring+w*float64(bits.OnesCount64(early)), r.Fall+w*float64(bits.OnesCount64(late))
		weight += c.weights[i]
		r.Years = max(r.Years, used)
	}
	r.shares(weight)
	return r
}
