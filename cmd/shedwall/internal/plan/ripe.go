package plan

import (
	"sort"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// growth is what a crop needs of warmth on one day that counts as a day to harvest. Published
// days are those of weather in which the crop grows well, and a day of colder weather is
// worth less: a full day is one as warm as the best monthly means begin (Knott's table of
// monthly temperatures for best growth, as in the table of crops), counted above the base of
// the crop's degree days.
type growth struct {
	base  figure.Of[quantity.Celsius]
	best  quantity.Celsius
	daily float64 // degree days (K)
}

// leastGrowth is the least difference of best mean and base that is counted with: with a
// smaller one (melons, peppers) the days would hang on tenths of a degree. Ours, no source.
const leastGrowth = 5 // K

// growthOf is false where nobody knows the base or the best mean, or they lie too near to
// each other.
func (p *Planner) growthOf(c *catalog.Crop) (g growth, ok bool) {
	if g.best, ok = c.BestMeanLow.Get(); !ok {
		return g, false
	}
	g.base, _ = p.base(c)
	base, ok := g.base.Get()
	g.daily = float64(g.best - base)
	return g, ok && g.daily >= leastGrowth
}

// GrowsFrom is the mean from which on a day counts in full toward a crop's harvest; false
// where days are counted alone.
func (p *Planner) GrowsFrom(c *catalog.Crop) (quantity.Celsius, bool) {
	g, ok := p.growthOf(c)
	return g.best, ok
}

// firstHarvest is the first picking of the earliest start, of the quick kinds, and the
// degree days it waits for (0 = none); a start that nothing holds back counts from the
// beginning of spring.
func (b *bandPlan) firstHarvest(c *catalog.Crop, odds quantity.Odds, start *Window, s *span) (first Bound, need float64) {
	if start == nil {
		return Bound{}, 0
	}
	from := start.From
	if from.State == Open {
		from = Bound{State: Dated, Slot: springStart(b.climate.Region.Hemisphere)}
	}
	if from.State != Dated {
		return Bound{State: from.State, Gate: from.Gate}, 0
	}
	if start.To.State == Never {
		return Bound{State: Never, Gate: start.To.Gate}, 0
	}
	if !s.known {
		return Bound{State: NotKnown}, 0
	}
	after, need := b.ripens(c, odds, from, s)
	return Bound{State: Dated, Slot: from.Slot + quantity.Slot(after), PlusMinus: from.PlusMinus, Gate: Growth}, need
}

// ripens is after how many days a start of the quick kinds comes to harvest, and the degree
// days (K) that it needs, 0 where days are counted alone: no sooner than the kinds' days, and
// not before the degree days of that many good days are collected. Under covers a plant takes
// as long as one that is started in the open on its first day there: a cover makes up for the
// colder air, and nobody has measured by how much more. After is a year where it does not
// ripen within one.
func (b *bandPlan) ripens(c *catalog.Crop, odds quantity.Odds, from Bound, s *span) (after int, need float64) {
	x, days := b.of(c), s.low
	if !x.growthKnown {
		x.growth, x.grows = b.p.growthOf(c)
		x.growthKnown = true
	}
	if !x.grows || days <= 0 {
		return days, 0
	}
	base, _ := x.growth.base.Get()
	start := b.begin(from)
	if from.Gate != Heat { // what waits for hot weather to pass is not begun in spring
		start = b.usual(s, odds, from)
	}
	sums := b.sumsAbove(base, c, odds)
	if sums == nil || start < 0 || int(start)+quantity.SlotsPerYear >= len(sums) {
		return days, 0
	}
	need = float64(days) * x.growth.daily
	after = sort.Search(quantity.SlotsPerYear, func(n int) bool { return sums[int(start)+n]-sums[start] >= need })
	return max(days, after), need
}

// warmthReasons are the figures behind ripens.
func (b *bandPlan) warmthReasons(c *catalog.Crop, need float64) []Reason {
	g := b.of(c).growth
	base, _ := g.base.Get()
	return []Reason{
		{Kind: ReasonBase, Number: float64(base), Unit: UnitCelsius, Gate: Growth, By: g.base.Owner, cell: &g.base.Cell},
		{Kind: ReasonBest, Number: float64(g.best), Unit: UnitCelsius, Gate: Growth, By: c.BestMeanLow.Owner, cell: &c.BestMeanLow.Cell},
		{Kind: ReasonRipe, Number: need, Unit: UnitDegreeDays, Gate: Growth},
	}
}
