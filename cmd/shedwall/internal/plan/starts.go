package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// FirstStarts is the careful window in open ground of how each crop is started outside:
// set out where it is raised inside, else sown or planted.
func (p *Planner) FirstStarts(c *band.Climate, crops []*catalog.Crop) []Window {
	open := *p
	open.housed = false // no house counts in open ground, so none is worked out for c
	b := open.bandOf(c)
	out := make([]Window, len(crops))
	for i, crop := range crops {
		lp := LayerPlan{Careful: b.windows(crop, &b.of(crop).limits, b.layersOf(""), quantity.Careful)}
		out[i], _ = lp.Find(quantity.Careful, StartOutside(crop))
	}
	return out
}

// StartOutside is the action by which a crop comes to stand outside: setting out where
// it must be raised inside, else sowing.
func StartOutside(c *catalog.Crop) Action {
	if c.Start == catalog.Inside {
		return SetOut
	}
	return SowOutside
}

// growsOn is the mean below which a hardy crop hardly grows: 7 C, the least month in which
// leeks grow well, 45 F [source knott_ucsc5].
const growsOn = quantity.Celsius(7)

// ripensHardened lets a hardy crop that cold hardens be started on the first safe day where
// even that is too late to be ready by the last: by then it is as hardened as what is left
// standing, so it still ripens as long as nothing kills it (stands), days are
// long enough and there is warmth for it. A published calendar for Fairbanks, Alaska, sets out leeks in the
// second half of May for a season of eighty days between middling freezes. On a later day
// they would be left standing in the open with no time to spare, so there is none.
func (b *bandPlan) ripensHardened(c *catalog.Crop, w *Window, stands Bound, s *span) {
	if !c.WinterKill.Known() || c.Class != "hardy" || c.Start == catalog.Planted || Lasting(c) {
		return
	}
	if w.From.State != Dated || w.To.State != Never || w.To.Gate != Maturity || !s.known {
		return
	}
	end := stands
	if end.State == Open {
		end = Bound{State: Dated, Slot: springStart(b.climate.Region.Hemisphere) + quantity.SlotsPerYear - 1}
	}
	if end.State != Dated || !end.EndKnown() {
		return
	}
	if b.slow.Exists() {
		end.Slot = min(end.Slot, b.slow.From-1)
	}
	switch cool := b.cools(quantity.Half, growsOn, Cooling); cool.State {
	case Dated:
		end.Slot = min(end.Slot, cool.Slot-1)
	case NotKnown, Never:
		return
	}
	if w.From.Slot+quantity.Slot(s.high) > end.Slot {
		return
	}
	w.To = Bound{State: Dated, Slot: w.From.Slot, PlusMinus: w.From.PlusMinus, Gate: Hardened}
	t, _ := c.WinterKill.Get()
	w.Reasons = append(w.Reasons, Reason{Kind: ReasonLimit, Number: float64(t), Unit: UnitCelsius, Gate: Hardened, By: c.WinterKill.Owner, cell: &c.WinterKill.Cell})
}
