package band

import (
	"math"
	"math/bits"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// withoutParts is date, but for the parts, of a single gate without Days: what stations say
// of one gate lies in order, so that nothing need be sorted. Where a station has a table, or
// cannot tell of the gate, or has more years than a word has bits, it is date.
func (c *Climate) withoutParts(e record.Event, odds quantity.Odds, shifted bool, g Gate) Answer {
	if !c.aloneAble(&g) {
		a := c.date(e, odds, shifted, []Gate{g})
		a.Parts = nil
		return a
	}
	r := c.Region
	a := Answer{Decides: -1, Shifted: shifted}
	var t tally
	var happened, watched, blind uint64 // bits of the region's calendar years, as sight has them
	var read ranks
	shares := make([]share, 0, len(r.Stations))
	for i, s := range r.Stations {
		_, compared := c.threshold(e, odds, i, g)
		v := c.vectorAt(i, e, shifted && !g.Series.byDay(), &g, compared)
		if v.used < fewest(odds) {
			continue
		}
		all, free := uint64(1)<<v.years-1, v.free(e)
		start := s.First - r.first
		happened |= (all &^ v.blind &^ free) << start
		watched |= (all &^ v.blind) << start
		blind |= v.blind << start
		weight := c.weights[i]
		t.weight += weight
		t.summers += weight * float64(bits.OnesCount64(v.midsummer&^v.blind)) / float64(v.used)
		if read.years != v.used {
			read = newRanks(v.used, e, odds)
		}
		var slots [maxYears]int16
		for k, x := range v.told[:v.used] {
			slots[k] = x.slot()
		}
		slot, sampling := read.read(slots[:v.used])
		shares = append(shares, share{weight, slot, sampling})
		a.Used = max(a.Used, v.used)
		a.Estimate = a.Estimate || v.used < frost.FullYears
	}
	if len(shares) == 0 {
		return a
	}
	a.Used = max(a.Used, bits.OnesCount64(watched))
	a.Without, a.Unusable = bits.OnesCount64(watched&^happened), bits.OnesCount64(blind&^watched)
	if t.anyMonth(odds) {
		a.State = AnyMonth
		return a
	}
	a.Decides = 0
	var m mixture
	for _, x := range shares {
		m.add(x.weight/t.weight, x.slot, x.sampling, e, towards(g.Series, e, r.Hemisphere))
	}
	m.settle(&a, e, c.transfer(e))
	return a
}

// aloneAble says that withoutParts can do without date.
func (c *Climate) aloneAble(g *Gate) bool {
	if n := c.Region.last - c.Region.first + 1; n < 0 || n > maxYears || g.Days != nil || g.Count > math.MaxUint16 || len(c.Region.Stations) >= 256 {
		return false
	}
	for _, s := range c.Region.Stations {
		if s.Table != nil || !s.tells(g.Series) || s.Last < s.First-1 {
			return false
		}
	}
	return true
}

// free is the bits of the years without the event: those that nothing held back in spring,
// those whose fall never ended.
func (v *vector) free(e record.Event) (years uint64) {
	if e == record.First {
		for k := v.used - 1; k >= 0 && v.told[k].slot() == briefNever; k-- {
			years |= 1 << v.told[k].year()
		}
		return years
	}
	return v.until(briefNothing)
}
