package band

import "math/bits"

// few is gates that alone have a part in a date, as they are asked together.
type few struct {
	gates   [mostFew]fewGate
	shifted bool
	towards float64
}

type fewGate struct {
	*Question
	*Days
}

// mostFew is how many gates there may be among few.
const mostFew = 3

// listenToFew is listen to several gates, without those that have a part at no station: under
// heavier covers frost has none in what cold soil decides, and under many of them the answer
// is one that was given before.
func (c *Climate) listenToFew(put []*Question, q hearing) Answer {
	b := c.brief
	mask, ok := b.partsByBounds(q.gates)
	if !ok {
		mask, ok = c.partsOf(q)
	}
	if all := uint8(1)<<q.gates - 1; !ok || mask == 0 || mask == all || bits.OnesCount8(mask) > mostFew {
		a, _ := c.listen(q)
		return a
	}
	key := few{shifted: q.shifted, towards: q.towards}
	var places [mostFew]int // by place among the few: the gate
	n := 0
	for g := range put {
		if mask>>g&1 == 1 {
			key.gates[n], places[n] = fewGate{put[g], b.turned[g]}, g
			n++
		}
	}
	a, ok := b.few[key]
	if !ok {
		for k, g := range places[:n] {
			b.said[k], b.turned[k] = b.said[g], b.turned[g]
		}
		q.gates = n
		a.Answer, a.voted = c.listen(q)
		b.few[key] = a
	}
	if a.voted {
		a.Decides = places[a.Decides]
	}
	return a.Answer
}

// fewAnswer is the answer to few: which of them decides, and whether any had a vote.
type fewAnswer struct {
	Answer
	voted bool
}

// partsByBounds is the bits of the gates that may have a part at any station: all but those
// whose latest year anywhere is earlier than all that another says at the ranks that are
// read. false where that cannot be told by bounds.
func (b *briefing) partsByBounds(gates int) (mask uint8, ok bool) {
	var latest [maxGates]int16
	least := briefNothing
	for g, t := range b.said[:gates] {
		if !t.whole {
			return 0, false
		}
		least, latest[g] = max(least, b.turned[g].action(t.least)), b.turned[g].action(t.latest)
	}
	for g, s := range latest[:gates] {
		if s >= least {
			mask |= 1 << g
		}
	}
	return mask, true
}

// partsOf is the bits of the gates that have a part at any station; false where one that has
// none knows of years what the others do not.
func (c *Climate) partsOf(q hearing) (mask uint8, ok bool) {
	b := c.brief
	for i := range c.Region.Stations {
		blind, _ := b.unlike(i, q.gates)
		if used := b.said[0].of[i].years - bits.OnesCount64(blind); used >= fewest(q.odds) {
			b.enter(i, b.ranksOf(used, q.event, q.odds), q.gates)
			for _, g := range b.entered {
				mask |= 1 << g
			}
		}
	}
	if mask == 0 || mask == 1<<q.gates-1 {
		return mask, true
	}
	for i := range c.Region.Stations {
		blind, midsummer := b.unlike(i, q.gates)
		var knownBlind, knownMidsummer uint64
		for g := range q.gates {
			if mask>>g&1 == 1 {
				v := b.said[g].of[i]
				knownBlind, knownMidsummer = knownBlind|v.blind, knownMidsummer|v.midsummer
			}
		}
		if blind != knownBlind || midsummer != knownMidsummer {
			return mask, false
		}
	}
	return mask, true
}
