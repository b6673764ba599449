package band

import (
	"math"
	"sync/atomic"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// nightGrid is what a station says of its nights at every threshold on which its readings may
// lie: a guide asks for nearly all of them, and to look one up takes a fraction of the time
// of climbing each year's staircase.
type nightGrid struct {
	low, step int                   // of the first column, and from each to the next (hundredths)
	columns   int                   // 0 = there is no grid for this station
	said      []int16               // by year, then by column: a slot, briefNothing, briefNever or briefBlind
	moved     []int                 // by year: how far its drift moves a threshold (hundredths)
	summers   []quantity.Hundredths // by year: thresholds from there on are reached at midsummer

	// What was asked, plain and shifted, by steps from keptFrom; nil = not yet. latest of all is
	// the last of them.
	kept   [2][]atomic.Pointer[vector]
	latest atomic.Pointer[vector]
}

// What a grid keeps: thresholds (hundredths) of all crops and covers but the odd one, which
// heard keeps.
const (
	keptFrom = -4500
	keptTo   = 2500
)

// briefBlind is a year that cannot tell, in a grid.
const briefBlind int16 = math.MinInt16

// gridFrom is how many nights a station has been asked for before it gets grids: the first
// are cheaper without. mostColumns is how many a grid may have: more than there are tenths of
// a degree between the coldest and the warmest night; records with finer steps have none.
const (
	gridFrom    = 60
	mostColumns = 1000
)

func (c *Climate) newGrid(s *Station, e record.Event) *nightGrid {
	size, even := frost.EvenStep(s.Record.Step)
	lowest, highest, some := s.climbs.night.Range()
	g := &nightGrid{step: int(size)}
	if !even || !some {
		return g
	}
	// In the first column nothing is reached, in the last all: what lies beyond is alike.
	g.low = (int(math.Floor(float64(lowest)/float64(size))) - 1) * g.step
	columns := (int(highest)-g.low+g.step-1)/g.step + 1
	if columns > mostColumns {
		return g
	}
	g.columns = columns
	years := s.Last - s.First + 1
	g.said, g.moved, g.summers = make([]int16, 0, years*columns), make([]int, years), make([]quantity.Hundredths, years)
	for i := range g.kept {
		g.kept[i] = make([]atomic.Pointer[vector], (keptTo-keptFrom)/g.step+1)
	}
	outcomes := make([]frost.Outcome, columns)
	season := seasonFor(e, s.First, c.Region.Hemisphere)
	for k := range years {
		s.climbs.night.Each(outcomes, season+k, e, quantity.Hundredths(g.low), size)
		for _, o := range outcomes {
			g.said = append(g.said, briefSlotOf(o, e))
		}
		g.moved[k] = int(frost.Moved(0, s.drift[e][k], s.Record.Step))
		g.summers[k] = s.climbs.night.Summer(season+k, e)
	}
	return g
}

// briefSlotOf is what a season year says, as vectors have it; briefBlind where it cannot tell.
func briefSlotOf(o frost.Outcome, e record.Event) int16 {
	switch {
	case o.State == frost.Unusable:
		return briefBlind
	case o.State == frost.NoFreeze && e == record.Last:
		return briefNothing
	case o.State == frost.NoFreeze:
		return briefNever
	case e == record.First:
		return int16(o.Slot + quantity.SlotsPerYear)
	}
	return int16(o.Slot)
}

// holds says whether a threshold is one that the grid keeps.
func (g *nightGrid) holds(compared quantity.Hundredths) bool {
	return g.columns > 0 && compared >= keptFrom && compared <= keptTo && int(compared)%g.step == 0
}

// night is what the station says of nights at a threshold that the grid holds.
func (g *nightGrid) night(shifted bool, compared quantity.Hundredths) *vector {
	kept := &g.kept[0][(int(compared)-keptFrom)/g.step]
	if shifted {
		kept = &g.kept[1][(int(compared)-keptFrom)/g.step]
	}
	v := kept.Load()
	if v == nil {
		v = &vector{years: len(g.summers)}
		g.fill(v, shifted, compared)
		kept.Store(v)
		g.latest.Store(v)
	}
	return v
}

// fill is Climate.fill. Years lie in the order of the last threshold that was asked, or nearly
// so, and are soon put in order.
func (g *nightGrid) fill(v *vector, shifted bool, compared quantity.Hundredths) {
	left := uint64(1)<<v.years - 1
	if like := g.latest.Load(); like != nil {
		for _, t := range like.told[:like.used] {
			left &^= 1 << t.year()
			g.put(v, int(t.year()), shifted, compared)
		}
	}
	for k := range v.years {
		if left>>k&1 == 1 {
			g.put(v, k, shifted, compared)
		}
	}
}

func (g *nightGrid) put(v *vector, k int, shifted bool, compared quantity.Hundredths) {
	t := int(compared)
	if shifted {
		t += g.moved[k]
	}
	slot := g.said[k*g.columns+min(max((t-g.low)/g.step, 0), g.columns-1)]
	if slot == briefBlind {
		v.blind |= 1 << k
		return
	}
	v.put(k, slot)
	if t >= int(g.summers[k]) {
		v.midsummer |= 1 << k
	}
}
