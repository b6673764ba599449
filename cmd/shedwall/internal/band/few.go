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
	mask, ok := c.partsOf(q)
	if !ok || bits.OnesCount8(mask) > mostFew {
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

// partsOf is the bits of the gates that have a part at any station; false where all have, or
// where one that has none knows of years what the others do not.
func (c *Climate) partsOf(q hearing) (mask uint8, ok bool) {
	b := c.brief
	for i := range c.Region.Stations {
		blind, _ := b.unlike(i, q.gates)
		if used := b.said[0][i].years - bits.OnesCount64(blind); used >= fewest(q.odds) {
			b.enter(i, b.ranksOf(used, q.event, q.odds), q.gates)
			for _, g := range b.entered {
				mask |= 1 << g
			}
		}
	}
	if mask == 1<<q.gates-1 || mask == 0 {
		return mask, false
	}
	for i := range c.Region.Stations {
		blind, midsummer := b.unlike(i, q.gates)
		var knownBlind, knownMidsummer uint64
		for g := range q.gates {
			if mask>>g&1 == 1 {
				v := b.said[g][i]
				knownBlind, knownMidsummer = knownBlind|v.blind, knownMidsummer|v.midsummer
			}
		}
		if blind != knownBlind || midsummer != knownMidsummer {
			return mask, false
		}
	}
	return mask, true
}
