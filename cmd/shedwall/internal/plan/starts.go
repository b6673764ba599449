package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/season"
)

// FirstStarts is the careful window in open ground of how each crop is started outside:
// set out where it is raised inside, else sown or planted.
func (p *Planner) FirstStarts(c *band.Climate, crops []*catalog.Crop) []Window {
	open := *p
	open.housed = false // no house counts in open ground, so none is worked out for c
	b := open.bandOf(c)
	out := make([]Window, len(crops))
	for i, crop := range crops {
		b.only = StartOutside(crop)
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

// sowFrom is the earliest sowing outside: emergence no earlier than the last
// night that harms a seedling and the last cold week, soil warm enough to emerge, and no
// more early cold than makes it run to seed, the worst of them in each year. Under film
// that warms the soil it comes up sooner, which may be too soon; then it is sown as if the
// film went on when it is up, so that a cover never makes it later. Months that rule the
// layers out are kept, for the film those before the sowing too.
func (b *bandPlan) sowFrom(c *catalog.Crop, l *limits, layers *layered, odds quantity.Odds, why *[]Reason) Bound {
	before, asked := *why, b.questions()
	from := b.exposed(layers, SowOutside, odds, b.sowFromIn(c, l, layers, odds, 0, why), 0, why)
	if gain, of := layers.warms, layers.warmed; gain > 0 && (l.soil.Known() || c.Germination != "") && b.soilAt(level(odds)) != nil {
		open := b.questions()
		reasons := append(before[:len(before):len(before)], Reason{Kind: ReasonGain, Number: float64(gain), Unit: UnitKelvins, Gate: Soil, Of: of.ID, By: of.SoilGain.Owner, cell: &of.SoilGain.Cell})
		if warm := b.exposed(layers, SowOutside, odds, b.sowFromIn(c, l, layers, odds, gain, &reasons), filmAhead, &reasons); later(warm, from) == from && warm != from {
			*why = reasons
			b.forget(asked, open)
			return warm
		}
		b.forget(open, b.questions())
	}
	return from
}

// sowFromIn is the earliest sowing outside in soil that is warmer by a gain.
func (b *bandPlan) sowFromIn(c *catalog.Crop, l *limits, layers *layered, odds quantity.Odds, gain quantity.Kelvins, why *[]Reason) Bound {
	night, ok := b.nightGate(c, &l.young, layers, odds, why)
	if !ok {
		return Bound{State: NotKnown}
	}
	var list [maxGates]band.Gate
	var kindsOf [maxGates]Gate
	gates, kinds := list[:0], kindsOf[:0]
	up := b.emerges(c, odds)
	if gain != 0 {
		up = b.emergesIn(c, odds, gain)
	}
	night.Days = up.young
	gates, kinds = append(gates, night), append(kinds, Frost)
	if g, ok := b.grownGate(c, l, layers, odds, why); ok {
		g.Days = up.grown
		gates, kinds = append(gates, g), append(kinds, Frost)
	}
	if g, ok := b.chillGate(l, layers, odds, why); ok {
		g.Days = up.young
		gates, kinds = append(gates, g), append(kinds, Chill)
	}
	if t, ok := l.soil.Get(); ok && b.soilAt(level(odds)) != nil {
		*why = append(*why, Reason{Kind: ReasonSoil, Number: float64(t), Unit: UnitCelsius, Gate: Soil, By: l.soil.Owner, cell: &l.soil.Cell})
		gates, kinds = append(gates, band.Gate{Series: band.Soil, Limit: t, Gain: gain}), append(kinds, Soil)
	}
	if g, ok := b.boltGate(c, &b.of(c).sowing, why); ok {
		g.Days = up.large
		gates, kinds = append(gates, g), append(kinds, Bolt)
	}
	bound := b.opens(odds, up.number, gates, kinds, up)
	if months, ok := b.climate.Band.SnowMonths.Get(); ok && bound.State == Dated && bound.Gate == Soil && months.Has(b.climate.Region.Hemisphere.MonthDay(bound.Slot).Month) {
		*why = append(*why, Reason{Kind: ReasonSnow, Number: float64(bound.Slot), Unit: UnitSlot, Gate: Soil, cell: &b.climate.Band.SnowMonths.Cell})
	}
	if bound.State == Dated && int(bound.Slot) < len(up.up) && up.up[bound.Slot] != season.NotEmerged {
		*why = append(*why, Reason{Kind: ReasonEmerge, Number: float64(up.up[bound.Slot] - bound.Slot), Unit: UnitDays, Gate: bound.Gate, Of: c.Germination, cell: b.emergenceCell(c, odds)})
	}
	return bound
}

// setOutFrom is the earliest day to set out a hardened young plant: no harmful
// night and no cold week after it.
func (b *bandPlan) setOutFrom(c *catalog.Crop, l *limits, layers *layered, odds quantity.Odds, why *[]Reason) Bound {
	night, ok := b.nightGate(c, &l.young, layers, odds, why)
	if !ok {
		return Bound{State: NotKnown}
	}
	var list [maxGates]band.Gate
	var kindsOf [maxGates]Gate
	gates, kinds := append(list[:0], night), append(kindsOf[:0], Frost)
	if g, ok := b.grownGate(c, l, layers, odds, why); ok {
		g.Days = whenGrown
		gates, kinds = append(gates, g), append(kinds, Frost)
	}
	if g, ok := b.chillGate(l, layers, odds, why); ok {
		gates, kinds = append(gates, g), append(kinds, Chill)
	}
	if g, ok := b.boltGate(c, &b.of(c).setting, why); ok {
		g.Days = whenLarge
		gates, kinds = append(gates, g), append(kinds, Bolt)
	}
	return b.opens(odds, settingOut, gates, kinds, nil)
}

// growsOn is the mean below which a hardy crop hardly grows: 7 C, the least month in which
// leeks grow well, 45 F [source knott_ucsc5].
const growsOn = quantity.Celsius(7)

// ripensHardened lets a hardy crop that cold hardens be started on the first safe day where
// even that is too late to be ready by the last: by then it is as hardened as what is left
// standing, so it still ripens as long as nothing kills it (stands), days are long enough and
// there is warmth for it. A published calendar for Fairbanks, Alaska, sets out leeks in the
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
