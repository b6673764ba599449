package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// risk is how often frost strikes the careful season of a crop under one set of layers,
// from its first start to its last safe day. Chill and cold soil slow a crop and do not
// count; an end that nothing holds back lies at the beginning of spring or at the end of
// the season year.
func (b *bandPlan) risk(c *catalog.Crop, l *limits, layers *layered, lp *LayerPlan) band.SeasonRisk {
	var start *Window
	for _, a := range []Action{SowOutside, SetOut} {
		if w := lp.Window(quantity.Careful, a); w != nil && w.Exists() && (start == nil || b.begin(w.From) < b.begin(start.From)) {
			start = w
		}
	}
	safe := lp.Window(quantity.Careful, LastSafeDay)
	if start == nil || safe == nil || safe.To.State != Dated && safe.To.State != Open || !safe.To.EndKnown() {
		return band.SeasonRisk{}
	}
	spring, ok1 := b.nightGate(c, &l.young, layers, quantity.Careful, nil)
	fall, ok2 := b.nightGate(c, &l.grown, layers, quantity.Careful, nil)
	if !ok1 || !ok2 {
		return band.SeasonRisk{}
	}
	if start.Action == SowOutside {
		spring.Days = b.emerges(c, quantity.Careful).young
	}
	to := quantity.Slot(2*quantity.SlotsPerYear - 1)
	if safe.To.State == Dated {
		to = safe.To.Slot
	}
	return b.climate.SeasonRisk(quantity.Careful, spring, fall, b.begin(start.From), to)
}

// begin is the day of a start; one that nothing holds back begins with spring.
func (b *bandPlan) begin(from Bound) quantity.Slot {
	if from.State == Open {
		return springStart(b.climate.Region.Hemisphere)
	}
	return from.Slot
}
