package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// opens is when gates let go in spring; those of frost come first. What harms is asked
// at the odds of the window. Cold weeks and cold soil only check growth, and a
// thermometer tells both on the day: a careful date waits until frost harms in 1 year in
// 10 at most and until in half the years nothing at all holds it back, the worst gate
// taken in each year. (Asked at 1 in 10 as well, they held tomatoes back until seven
// weeks after the middle last freeze; published guides set out one to two weeks after it.)
//
// up is nil for plants set out. For a sowing the day on which a plant must be safe is
// turned back into the sowing that comes up no earlier. The harm of a careful date is asked about plants and turned into a
// sowing afterwards: that is steep where soil is cold, and its steps are no error of the
// frost date.
func (b *bandPlan) opens(odds quantity.Odds, seed uint32, gates []band.Gate, kinds []Gate, up *emergence) Bound {
	frosts := 0
	for frosts < len(kinds) && kinds[frosts] == Frost {
		frosts++
	}
	if odds == quantity.Half || frosts == len(gates) && up == nil {
		return b.date(record.Last, odds, seed, gates).boundOfAny(kinds)
	}
	days := [2]*band.Days{gates[0].Days}
	gates[0].Days = nil
	if frosts > 1 {
		days[1], gates[1].Days = gates[1].Days, whenGrown
	}
	harm := b.date(record.Last, odds, plants, gates[:frosts]).bound(Frost)
	for i := range frosts {
		gates[i].Days = days[i]
	}
	if up != nil && harm.State == Dated {
		harm.Slot = up.young.Of(harm.Slot)
		if harm.Slot == band.NoSlot {
			harm = Bound{State: Never, Gate: Soil}
		}
		if b.trace != nil {
			(*b.trace)[len(*b.trace)-1].Sown = harm
		}
	}
	if frosts == len(gates) {
		return harm
	}
	return later(harm, b.date(record.Last, quantity.Half, seed, gates).boundOfAny(kinds))
}

// whenGrown turns the last night that harms a grown plant into the last day on which a
// young one may come up or be set out, youngDays before it; whenLarge the day before which
// a plant must not be as large as a grown one.
var whenGrown, whenLarge = band.NewDays(youngDays, nil), band.NewDays(youngDays-1, nil)

// later of two bounds: one that never comes after all others, one that nothing holds
// back before them; not known where either is not.
func later(x, y Bound) Bound {
	rank := func(b Bound) int { return [...]int{NotKnown: 3, Never: 2, Dated: 1, Open: 0}[b.State] }
	if rank(y) > rank(x) || x.State == Dated && y.State == Dated && y.Slot > x.Slot {
		return y
	}
	return x
}

// nightGate is the freeze gate for a limit under layers; its reasons are noted where why
// is not nil.
func (b *bandPlan) nightGate(c *catalog.Crop, limit *temperature, layers *layered, odds quantity.Odds, why *[]Reason) (g band.Gate, ok bool) {
	t, ok := limit.Get()
	if !ok {
		return g, false
	}
	k := level(odds)
	g.Series, g.Limit, g.Gain = band.Night, t, layers.gain[k]
	if c.Basis == catalog.Plant {
		g.Allowance = allowanceCareful
		if odds == quantity.Half {
			g.Allowance = allowanceHalf
		}
	}
	if why == nil {
		return g, true
	}
	*why = append(*why, Reason{Kind: ReasonLimit, Number: float64(t), Unit: UnitCelsius, Gate: Frost, Of: c.Class, By: limit.Owner, cell: &limit.Cell})
	if c.Basis == catalog.Plant {
		*why = append(*why, Reason{Kind: ReasonAllowance, Number: float64(g.Allowance), Unit: UnitKelvins, Gate: Frost, cell: &c.Cell})
	}
	if layers.id != "" {
		*why = append(*why, Reason{Kind: ReasonGain, Number: float64(g.Gain), Unit: UnitKelvins, Gate: Frost, Of: layers.id, cell: layers.cells[k]})
	}
	return g, true
}

// youngDays is how long a plant counts as young after it has come up or been set
// out: four weeks (stated in the design of this guide; no trial found).
const youngDays = 28

// grownGate is the freeze gate of the grown plant in spring, for crops that stand
// less when grown than when young (a pea in flower): four weeks after it came up no
// night may harm it any more. Where the grown plant stands as much or more, the gate
// of the young one says it all.
func (b *bandPlan) grownGate(c *catalog.Crop, l *limits, layers *layered, odds quantity.Odds, why *[]Reason) (band.Gate, bool) {
	young, a := l.young.Get()
	grown, g := l.grown.Get()
	if !a || !g || grown <= young {
		return band.Gate{}, false
	}
	return b.nightGate(c, &l.grown, layers, odds, why)
}

// boltGate is the gate of early cold that makes plants run to seed. It takes plants of
// some size, so the cold counts once they are grown (four weeks after they came up or were
// set out, youngDays), and does nothing to a crop picked before it can have met so many
// cold days. What the cold of a spring adds up to is asked of daily means, and no cover
// changes them.
func (b *bandPlan) boltGate(c *catalog.Crop, s *span, why *[]Reason) (band.Gate, bool) {
	t, a := c.Bolt.Get()
	n, z := c.BoltDays.Get()
	if !a || !z || s.known && s.high-youngDays < n {
		return band.Gate{}, false
	}
	*why = append(*why, Reason{Kind: ReasonBolt, Number: float64(t), Unit: UnitCelsius, Gate: Bolt, By: c.Bolt.Owner, cell: &c.Bolt.Cell},
		Reason{Kind: ReasonBoltDays, Number: float64(n), Unit: UnitDays, Gate: Bolt, By: c.BoltDays.Owner, cell: &c.BoltDays.Cell})
	return band.Gate{Series: band.Cold, Limit: t, Count: n}, true
}

// chillGate is the gate of the 7-day mean of minima, where the crop has one.
func (b *bandPlan) chillGate(l *limits, layers *layered, odds quantity.Odds, why *[]Reason) (band.Gate, bool) {
	t, ok := l.chill.Get()
	if !ok {
		return band.Gate{}, false
	}
	if why != nil {
		*why = append(*why, Reason{Kind: ReasonChill, Number: float64(t), Unit: UnitCelsius, Gate: Chill, By: l.chill.Owner, cell: &l.chill.Cell})
	}
	return band.Gate{Series: band.Week, Limit: t, Gain: layers.gain[level(odds)]}, true
}
