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
	return c.Region.printed(e, odds, func(shifted bool) Answer { return c.briefly(put, gates, shifted) })
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

	few map[few]fewAnswer

	shifts [2][2][3][]Shift           // by event, level of odds and kind of shift, by station; nil = not worked out yet
	ranks  [2][2][maxYears + 1]*ranks // by event, level of odds and years
	days   bool                       // every station has a record with maxima, of at most maxYears years
	nights bool                       // every station has a record, likewise

	votes  [maxGates]float64
	shares []share
	values [maxYears]int16
	by     [maxYears]uint8 // gate that a value is of
	lowest int             // rank of the first value
	said   [maxGates]*testimony
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
	years             int
	middle, low, high [2]int // ranks between which each lies
	part              [3]float64
	okLow, okHigh     bool
	first, last       int // of all ranks read
}

// manyQuestions is about how many a plan of a hundred crops puts at one level of odds.
const manyQuestions = 300

// fewQuestions is about how many are put of a garden, see Warmer.
const fewQuestions = 30

// newBriefing has room for so many questions, and more as they come.
func newBriefing(c *Climate, questions int) *briefing {
	b := &briefing{questions: make(map[question]*Question, questions), few: make(map[few]fewAnswer, questions/4), days: true, nights: len(c.Region.Stations) < 256}
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
	b := c.brief
	for g, q := range put {
		b.said[g], b.turned[g] = c.saidOf(q, shifted), gates[g].Days
		if b.turned[g] == nil {
			b.turned[g] = asItIs
		}
	}
	q := hearing{put[0].event, put[0].odds, shifted, towards(gates[0].Series, put[0].event, c.Region.Hemisphere), len(gates)}
	if len(gates) == 1 {
		a, _ := c.listen(q)
		return a
	}
	return c.listenToFew(put, q)
}

// hearing is a question to all stations, of so many gates.
type hearing struct {
	event   record.Event
	odds    quantity.Odds
	shifted bool
	towards float64
	gates   int
}

// listen asks the stations, and says whether any gate had a vote.
func (c *Climate) listen(q hearing) (a Answer, voted bool) {
	b := c.brief
	a = Answer{Decides: -1, Shifted: q.shifted}
	t := tally{votes: b.votes[:q.gates], towards: q.towards}
	clear(t.votes)
	b.shares = b.shares[:0]
	for i := range c.Region.Stations {
		if used := c.hear(&t, i, q); used > 0 {
			a.Estimate = a.Estimate || used < frost.FullYears
		}
	}
	switch {
	case len(b.shares) == 0:
		return a, false
	case t.anyMonth(q.odds):
		a.State = AnyMonth
		return a, false
	}
	a.Decides = argmax(t.votes)
	var m mixture
	for _, s := range b.shares {
		m.add(s.weight/t.weight, s.slot, s.sampling, q.event, t.towards)
	}
	m.settle(&a, q.event, c.transfer(q.event))
	return a, t.votes[a.Decides] > 0
}

// share is the part of a station in a brief answer.
type share struct{ weight, slot, sampling float64 }

// hear adds a station's share and returns how many years it is made of; 0 where they are
// too few.
func (c *Climate) hear(t *tally, station int, q hearing) int {
	b := c.brief
	blind, midsummer := b.unlike(station, q.gates)
	used := b.said[0].of[station].years - bits.OnesCount64(blind)
	if used < fewest(q.odds) {
		return 0
	}
	weight := c.weights[station]
	t.weight += weight
	t.summers += weight * float64(bits.OnesCount64(midsummer&^blind)) / float64(used)
	r := b.ranksOf(used, q.event, q.odds)
	b.entered = append(b.places[:0], 0)
	if q.gates > 1 {
		b.enter(station, r, q.gates)
	}
	only := b.entered[0]
	switch said := b.said[only].of[station].told[:used]; {
	case len(b.entered) == 1 && b.said[only].of[station].used == used: // it decides, and its years are in order
		b.tell(b.turned[only], said, r)
		t.votes[only] = b.voteOf(b.turned[only], said, r, weight, t.votes[only])
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

// unlike is the bits of a station's years that cannot tell, and of those that freeze at
// midsummer, by any of the first gates.
func (b *briefing) unlike(station, gates int) (blind, midsummer uint64) {
	for g := range gates {
		v := b.said[g].of[station]
		blind, midsummer = blind|v.blind, midsummer|v.midsummer
	}
	return blind, midsummer
}

func (b *briefing) ranksOf(n int, e record.Event, odds quantity.Odds) *ranks {
	at := &b.ranks[e][levelOf(odds)][n]
	if *at == nil {
		r := newRanks(n, e, odds)
		*at = &r
	}
	return *at
}

func newRanks(n int, e record.Event, odds quantity.Odds) ranks {
	r := ranks{years: n}
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
		a, z := springs.of[i], falls.of[i]
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
