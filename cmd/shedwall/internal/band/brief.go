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
	turned [maxGates]*Days // of the gates

	entered []uint8 // gates that have a part in a date, in places
	places  [maxGates]uint8
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
		b.said[g], b.turned[g] = c.saidOf(q, shifted), gates[g].Days
		if b.turned[g] == nil {
			b.turned[g] = asItIs
		}
	}
	b.shares = b.shares[:0]
	for i := range c.Region.Stations {
		if used := c.hear(&t, i, e, odds, len(gates)); used > 0 {
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
func (c *Climate) hear(t *tally, station int, e record.Event, odds quantity.Odds, gates int) int {
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
	b.entered = append(b.places[:0], 0)
	if gates > 1 {
		b.enter(station, r, gates)
	}
	only := b.entered[0]
	switch said := b.said[only][station].told[:used]; {
	case len(b.entered) == 1 && b.said[only][station].used == used: // it decides, and its years are in order
		b.tell(b.turned[only], said, r)
		if gates > 1 {
			t.votes[only] = b.voteOf(b.turned[only], said, r, weight, t.votes[only])
		}
	case len(b.entered) == 2:
		b.takeTwo(station, blind, used, r)
		b.vote(t, used, r, weight)
	default:
		b.take(station, blind, used, r)
		b.vote(t, used, r, weight)
	}
	slot, sampling := r.read(b.values[:used])
	b.shares = append(b.shares, share{weight, slot, sampling})
	return used
}

// tell fills in values, as far as ranks are read, where one gate decides all.
func (b *briefing) tell(d *Days, said []saying, r *ranks) {
	values := b.values[r.first-1 : r.last]
	for k, t := range said[r.first-1 : r.last] {
		values[k] = d.action(t.slot())
	}
}

// voteOf adds to a gate's votes what vote would of a station that it alone decides.
func (b *briefing) voteOf(d *Days, said []saying, r *ranks, weight, votes float64) float64 {
	at := func(k int) int16 { return d.action(said[k].slot()) }
	low, high := r.middle[0]-1, r.middle[1]-1
	below, above := b.values[low], b.values[high]
	for low > 0 && at(low-1) == below {
		low--
	}
	for high+1 < len(said) && at(high+1) == above {
		high++
	}
	for low <= high && at(low) == briefNothing {
		low++
	}
	share := weight / float64(high+1-low)
	for range high + 1 - low {
		votes += share
	}
	return votes
}

// enter lists the gates that have a part in the ranks that are read of a station. A gate has
// none whose latest year is earlier than all that another says at these ranks; most often one
// or two are left.
func (b *briefing) enter(station int, r *ranks, gates int) {
	var latest [maxGates]int16
	least := briefNothing
	for g := range gates {
		v, d := b.said[g][station], b.turned[g]
		least, latest[g] = max(least, d.action(v.told[r.first-1].slot())), d.action(v.told[v.used-1].slot())
	}
	b.entered = b.places[:0]
	for g, s := range latest[:gates] {
		if s >= least {
			b.entered = append(b.entered, uint8(g))
		}
	}
}

// take fills in values and by, as far as ranks are read: the worst of the gates entered in
// spring in each year, in order, and the first gate that is as late.
//
// What the gates say lies in order, so they are run through together from the latest on:
// where a year first turns up, there is its worst. Years as late as that of the middle
// rank are all taken, for they vote; lowest is the rank of the earliest taken.
func (b *briefing) take(station int, blind uint64, used int, r *ranks) {
	var runs [maxGates]runner
	for k, g := range b.entered {
		runs[k] = newRunner(b.said[g][station], b.turned[g], g)
	}
	for rank := used; ; {
		best := &runs[0]
		for k := range b.entered {
			if runs[k].slot > best.slot {
				best = &runs[k]
			}
		}
		if rank == 0 || rank < r.first && best.slot < b.values[r.middle[0]-1] {
			b.lowest = rank + 1
			return
		}
		if blind>>best.year&1 == 0 {
			blind |= 1 << best.year
			b.values[rank-1], b.by[rank-1] = best.slot, best.gate
			rank--
		}
		best.next()
	}
}

// takeTwo is take of two gates, in half the time: a plan does it some ten thousand times.
func (b *briefing) takeTwo(station int, blind uint64, used int, r *ranks) {
	g, h := b.entered[0], b.entered[1]
	first, second := b.said[g][station], b.said[h][station]
	firstTurned, secondTurned := b.turned[g], b.turned[h]
	i, j := first.used-1, second.used-1
	x, y := first.told[i], second.told[j]
	x, y = say(firstTurned.action(x.slot()), int(x.year())), say(secondTurned.action(y.slot()), int(y.year()))
	for rank := used; ; {
		now, gate := x, g
		if y.slot() > x.slot() {
			now, gate = y, h
			y = math.MinInt32 // earlier than all
			if j--; j >= 0 {
				t := second.told[j]
				y = say(secondTurned.action(t.slot()), int(t.year()))
			}
		} else {
			x = math.MinInt32
			if i--; i >= 0 {
				t := first.told[i]
				x = say(firstTurned.action(t.slot()), int(t.year()))
			}
		}
		if rank == 0 || rank < r.first && now.slot() < b.values[r.middle[0]-1] {
			b.lowest = rank + 1
			return
		}
		if year := uint64(1) << now.year(); blind&year == 0 {
			blind |= year
			rank--
			b.values[rank], b.by[rank] = now.slot(), gate
		}
	}
}

// runner runs through what a gate says from the latest year on.
type runner struct {
	told *[maxYears]saying
	days *Days
	left int   // years before that which it is at
	year uint  // ... which
	slot int16 // ... and what it says, as an action; earlier than all at the end
	gate uint8
}

func newRunner(v *vector, days *Days, gate uint8) runner {
	r := runner{told: &v.told, days: days, left: v.used, gate: gate}
	r.next()
	return r
}

func (r *runner) next() {
	if r.left--; r.left < 0 {
		r.slot = math.MinInt16
		return
	}
	t := r.told[r.left&(maxYears-1)]
	r.year, r.slot = t.year(), r.days.action(t.slot())
}

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
	slot, _ = between(sorted, r.middle, r.part[0])
	var low, high float64
	okLow, okHigh := r.okLow, r.okHigh
	if okLow {
		low, okLow = between(sorted, r.low, r.part[1])
	}
	if okHigh {
		high, okHigh = between(sorted, r.high, r.part[2])
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

// between is valueAt of a rank, part of the way from the first to the second of two; false
// where that is no date.
func between(sorted []int16, ranks [2]int, part float64) (float64, bool) {
	below, above := sorted[ranks[0]-1], sorted[ranks[1]-1]
	switch {
	case dated(below) && dated(above):
		return float64(below) + float64(above-below)*part, true
	case dated(below):
		return float64(below), true
	}
	return briefValue(above), dated(above)
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

func dated(s int16) bool { return s != briefNothing && s != briefNever }

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
