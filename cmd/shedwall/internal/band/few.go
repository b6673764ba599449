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
	mask := c.partsOf(q)
	if mask == 0 || mask == 1<<q.gates-1 || bits.OnesCount8(mask) > mostFew {
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

// partsOf is the bits of the gates that may have a part at any station: all but those whose
// latest year anywhere is earlier than all that another says at the ranks that are read. All
// where that cannot be told by bounds, or where a gate without a part knows of years what the
// others do not.
func (c *Climate) partsOf(q hearing) (mask uint8) {
	b, all := c.brief, uint8(1)<<q.gates-1
	var latest [maxGates]int16
	least, blind, whole := briefNothing, 0, true
	for g, t := range b.said[:q.gates] {
		least, latest[g] = max(least, b.turned[g].action(t.least)), b.turned[g].action(t.latest)
		blind += t.blind
		whole = whole && t.whole
	}
	for g, s := range latest[:q.gates] {
		if s >= least {
			mask |= 1 << g
		}
	}
	if whole || mask == all {
		return mask
	}
	if blind > mostBlind {
		return all
	}
	for i := range c.Region.Stations {
		var knownBlind, knownMidsummer uint64
		for g, t := range b.said[:q.gates] {
			if mask>>g&1 == 1 {
				knownBlind, knownMidsummer = knownBlind|t.of[i].blind, knownMidsummer|t.of[i].midsummer
			}
		}
		if blind, midsummer := b.unlike(i, q.gates); blind != knownBlind || midsummer != knownMidsummer {
			return all
		}
	}
	return mask
}
