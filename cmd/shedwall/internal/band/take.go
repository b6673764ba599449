package band

import "math"

// How a brief date takes the worst of several gates in each year of a station.

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
		v, d := b.said[g].of[station], b.turned[g]
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
		runs[k] = newRunner(b.said[g].of[station], b.turned[g], g)
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
	first, second := b.said[g].of[station], b.said[h].of[station]
	firstTurned, secondTurned := b.turned[g], b.turned[h]
	i, j := first.used-1, second.used-1
	xSaid, ySaid := first.told[i], second.told[j]
	x, y := firstTurned.action(xSaid.slot()), secondTurned.action(ySaid.slot())
	for rank := used; ; {
		now, said, gate := x, xSaid, g
		if y > x {
			now, said, gate = y, ySaid, h
			y = math.MinInt16 // earlier than all
			if j--; j >= 0 {
				ySaid = second.told[j&(maxYears-1)]
				y = secondTurned.action(ySaid.slot())
			}
		} else {
			x = math.MinInt16
			if i--; i >= 0 {
				xSaid = first.told[i&(maxYears-1)]
				x = firstTurned.action(xSaid.slot())
			}
		}
		if rank < r.first && (rank == 0 || now < b.values[r.middle[0]-1]) {
			b.lowest = rank + 1
			return
		}
		if year := uint64(1) << said.year(); blind&year == 0 {
			blind |= year
			rank--
			b.values[rank&(maxYears-1)], b.by[rank&(maxYears-1)] = now, gate
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
