package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// layersUnder is sets of layers but for open ground, which is always planned.
func (b *bandPlan) layersUnder(ids []string) []*layered {
	out := make([]*layered, 0, len(ids))
	for _, id := range ids {
		if id != "" {
			out = append(out, b.layersOf(id))
		}
	}
	return out
}

// begun is the plan of a crop with room for open ground and so many sets of layers, which
// careful and half fill in.
func begun(c *catalog.Crop, layers int) CropPlan {
	if PlantedInFall(c) {
		layers = 0 // covers change nothing about when it is planted
	}
	return CropPlan{Crop: c, Layers: make([]LayerPlan, 1+layers)}
}

// crop plans one crop.
func (b *bandPlan) crop(c *catalog.Crop, layers []*layered) CropPlan {
	p := begun(c, len(layers))
	b.careful(&p, layers)
	b.half(&p, layers)
	return p
}

// careful fills in all of a plan but its half-and-half windows: open ground first, then each
// set of layers.
func (b *bandPlan) careful(p *CropPlan, layers []*layered) {
	c := p.Crop
	l := &b.of(c).limits
	p.Group, p.LeftOut = groupOf(*l), b.untold(c, l)
	open := &p.Layers[0]
	b.under(open, c, l, b.layersOf(""))
	b.open = open
	for i, x := range layers[:len(p.Layers)-1] {
		lp := &p.Layers[1+i]
		b.under(lp, c, l, x)
		lp.Covers = b.covers(c, l, x, lp)
		bought(open, lp)
		lp.Work = b.works(c, l, x, open, lp)
	}
	b.open = nil
	if PlantedInFall(c) {
		p.LeftOut = append(p.LeftOut, b.fallPlanting(c, quantity.Careful).Missing...)
	}
}

// under plans a crop under one set of layers at careful odds.
func (b *bandPlan) under(lp *LayerPlan, c *catalog.Crop, l *limits, layers *layered) {
	lp.Layers = layers.id
	lp.Careful = b.windows(c, l, layers, quantity.Careful)
	if Lasting(c) {
		lp.Careful = b.established(c, lp.Careful, b.firstPlanting(lp))
	}
	lp.Risk = b.risk(c, l, layers, lp)
}

// half fills in the half-and-half windows of a plan. It reads and writes nothing that careful
// writes, so that another bandPlan may do it meanwhile.
func (b *bandPlan) half(p *CropPlan, layers []*layered) {
	c := p.Crop
	l := &b.of(c).limits
	open := &LayerPlan{} // its careful windows are asked again where they count
	b.underHalf(open, c, l, b.layersOf(""))
	p.Layers[0].Half = open.Half
	b.open = open
	for i, x := range layers[:len(p.Layers)-1] {
		lp := LayerPlan{}
		b.underHalf(&lp, c, l, x)
		p.Layers[1+i].Half = lp.Half
	}
	b.open = nil
}

// underHalf plans a crop under one set of layers at half-and-half odds. What stays for years
// counts its days of planting from the first careful one.
func (b *bandPlan) underHalf(lp *LayerPlan, c *catalog.Crop, l *limits, layers *layered) {
	lp.Half = b.windows(c, l, layers, quantity.Half)
	if !Lasting(c) {
		return
	}
	first := b.firstPlanting(lp)
	if first.State == NotKnown {
		lp.Careful = b.windows(c, l, layers, quantity.Careful)
		first = b.firstPlanting(lp)
	}
	lp.Half = b.established(c, lp.Half, first)
}

// windows is every action of a crop at one level of odds. The order of work:
// the last safe day in fall; from it and the days to harvest the latest starts;
// the earliest starts from frost, chill and soil; from those the sowing inside and
// the harvest.
func (b *bandPlan) windows(c *catalog.Crop, l *limits, layers *layered, odds quantity.Odds) []Window {
	if PlantedInFall(c) {
		return b.fallWindows(c, layers.id, odds)
	}
	sown, raised := c.Start != catalog.Inside, c.Start == catalog.Inside || c.Start == catalog.Either
	n := 2
	if sown {
		n++
	}
	if raised {
		n += 2
	}
	out, x := b.room.place(n), b.of(c)
	w := func(a Action) *Window {
		k := len(out)
		out = out[:k+1] // place is empty
		x := &out[k]
		x.Action, x.Layers, x.Odds, x.Reasons = a, layers.id, odds, b.room.paper(k)
		return x
	}
	var outside, setOut, inside *Window
	if raised {
		inside = w(SowInside)
	}
	if sown {
		outside = w(SowOutside)
	}
	if raised {
		setOut = w(SetOut)
	}
	harvest, safe := w(Harvest), w(LastSafeDay)

	b.action = LastSafeDay
	safe.To = b.lastSafe(c, l, layers, odds, &safe.Reasons)
	safe.To = b.cut(layers, odds, safe.To, &safe.Reasons)
	safe.From = safe.To
	harvest.From, harvest.To = Bound{State: NotKnown}, safe.To
	if c.WinterKill.Known() {
		b.action = Harvest
		harvest.To = b.stands(c, safe.To, odds, &harvest.Reasons)
	}
	if sown && b.asks(SowOutside) {
		b.action = SowOutside
		outside.From = b.sowFrom(c, l, layers, odds, &outside.Reasons)
		outside.To = b.latest(c, odds, safe.To, outside.From, &x.sowing, &outside.Reasons)
		b.ripensHardened(c, outside, harvest.To, &x.sowing)
		b.avoidHeat(c, outside, &x.sowing)
	}
	if raised && b.asks(SetOut) {
		b.action = SetOut
		setOut.From = b.setOutFrom(c, l, layers, odds, &setOut.Reasons)
		setOut.From = b.exposed(layers, SetOut, odds, setOut.From, 0, &setOut.Reasons)
		setOut.To = b.latest(c, odds, safe.To, setOut.From, &x.setting, &setOut.Reasons)
		b.ripensHardened(c, setOut, harvest.To, &x.setting)
		b.avoidHeat(c, setOut, &x.setting)
		inside.From, inside.To = raising(c, setOut, &inside.Reasons)
		if low, high, ok := weeksInside(c); ok {
			inside.Gap = gapInside(setOut.Gap, low, high)
		}
	}
	if b.only == "" {
		b.picked(c, odds, outside, setOut, harvest)
	}
	var open []Window
	if b.open != nil {
		open = b.open.at(odds)
	}
	b.room.keep(out, open)
	return out
}

// asks says whether a window is asked for.
func (b *bandPlan) asks(a Action) bool { return b.only == "" || b.only == a }

// picked fills in when a harvest begins, by starts outside that may be nil, whether it comes to
// one at all, and its days that are hot or slow.
func (b *bandPlan) picked(c *catalog.Crop, odds quantity.Odds, outside, setOut, harvest *Window) {
	x := b.of(c)
	byOutside, needOutside := b.firstHarvest(c, odds, outside, &x.sowing)
	bySetOut, need := b.firstHarvest(c, odds, setOut, &x.setting)
	if harvest.From = earlier(byOutside, bySetOut); harvest.From == byOutside {
		need = needOutside
	}
	if end := harvest.To; need > 0 && harvest.From.State == Dated && end.State == Dated && !end.AtLeast && harvest.From.Slot > end.Slot {
		harvest.From = Bound{State: NotKnown, Gate: Warmth} // its warmth may not suffice
	}
	if harvest.From.State == Never || harvest.From.State == NotKnown {
		harvest.To = harvest.From
	}
	if harvest.From.State == Dated && harvest.To.State == Never {
		harvest.From = harvest.To
	}
	if harvest.From.State == Dated && harvest.To.AtLeast && harvest.To.Slot < harvest.From.Slot {
		harvest.To = Bound{State: NotKnown}
	}
	if f := &c.DaysLow; f.Known() {
		harvest.Reasons = append(harvest.Reasons, daysReason(f))
	}
	if need > 0 {
		harvest.Reasons = append(harvest.Reasons, b.warmthReasons(c, need)...)
	}
	b.action = Harvest
	b.flag(c, harvest)
}

// flag marks the days of a harvest that are too hot for the crop, and those in winter on
// which what stands hardly grows any more.
func (b *bandPlan) flag(c *catalog.Crop, h *Window) {
	if h.From.State != Dated || h.To.State == Never {
		return
	}
	to := quantity.Slot(2*quantity.SlotsPerYear - 1)
	if h.To.State == Dated {
		to = h.To.Slot
	}
	hot, why := b.hot(c)
	h.Reasons = append(h.Reasons, why...)
	h.Hot = hot.within(h.From.Slot, to)
	h.Slow = b.slow.within(h.From.Slot, to)
}

// untold is what a plan leaves out: figures that the tables do not have, and the soil gate
// where no station tells how warm days are.
func (b *bandPlan) untold(c *catalog.Crop, l *limits) []Missing {
	out := l.missing
	if l.soil.Known() && b.soilAt(0) == nil && c.Start != catalog.Inside {
		out = append(out[:len(out):len(out)], Missing{Figure: "soil_min_c", Want: "tmax"})
	}
	return out
}

// lastSafe is the last day on which the grown plant is not yet harmed: the day
// before the first night at its limit.
func (b *bandPlan) lastSafe(c *catalog.Crop, l *limits, layers *layered, odds quantity.Odds, why *[]Reason) Bound {
	gate, ok := b.nightGate(c, &l.grown, layers, odds, why)
	if !ok {
		return Bound{State: NotKnown}
	}
	bound := b.alone(record.First, odds, gate).bound(Frost)
	if bound.State == NotKnown {
		bound = b.safeAtLeast(odds, gate)
	}
	if bound.State == Dated {
		bound.Slot--
	}
	return bound
}

// warmerStep and warmerSteps are how a limit is raised to find the coldest one of which
// anything is known: by half a kelvin, up to 12 K (from the hardiest crop's limit to where
// the published tables begin).
const (
	warmerStep  quantity.Celsius = 0.5
	warmerSteps int              = 24
)

// safeAtLeast is the first night at the coldest limit above a gate's of which there is a
// date, where there is none for the gate itself: a night at the gate's own limit is at least
// one at that limit too, so it comes no sooner. Not known where no warmer limit has a date.
func (b *bandPlan) safeAtLeast(odds quantity.Odds, gate band.Gate) Bound {
	trace := b.trace
	b.trace = nil // what explains the date is that the gate's own is not known
	defer func() { b.trace = trace }()
	for range warmerSteps {
		gate.Limit += warmerStep
		switch bound := b.alone(record.First, odds, gate).bound(Frost); bound.State {
		case Dated:
			bound.AtLeast = true
			return bound
		case Open:
			return bound
		}
	}
	return Bound{State: NotKnown}
}

// stands is the last day on which what is hardened by cold still stands to be
// picked, for crops with a winter limit (a parsnip whose leaves are long gone): the
// day before the first night that kills it, never before the last safe day. Covers that keep
// it from harm come off with that day: what they gain in spring does not hold in deep cold.
func (b *bandPlan) stands(c *catalog.Crop, safe Bound, odds quantity.Odds, why *[]Reason) Bound {
	gate, ok := b.nightGate(c, &c.WinterKill, b.layersOf(""), odds, why)
	if !ok || safe.State != Dated {
		return safe
	}
	bound := b.alone(record.First, odds, gate).bound(Frost)
	if bound.State == Dated {
		bound.Slot = max(safe.Slot, bound.Slot-1)
	}
	if bound.State == Never || bound.State == NotKnown {
		return safe
	}
	return bound
}

// latest is the last start that still comes to harvest: the last safe day, or the
// last day of ten hours where that comes first, less the days of the slow kinds; and no
// later than the warmth that is left by then allows.
func (b *bandPlan) latest(c *catalog.Crop, odds quantity.Odds, safe, from Bound, s *span, why *[]Reason) Bound {
	if from.State == Never || from.State == NotKnown {
		return from
	}
	if safe.State == Never {
		return Bound{State: Never, Gate: Frost}
	}
	if !s.known || safe.State == NotKnown {
		return Bound{State: NotKnown}
	}
	end, gate := safe, Maturity
	if last := b.slow.From - 1; b.slow.Exists() && (end.State == Open || last < end.Slot) {
		end, gate = Bound{State: Dated, Slot: last}, Light
		r := Reason{Kind: ReasonLight, Number: float64(last), Unit: UnitSlot, Gate: Light}
		if b.sunLost {
			r.Kind, r.cell = ReasonSun, &b.climate.Band.SunLostFrom.Cell
		}
		*why = append(*why, r)
	}
	*why = append(*why, s.why...)
	if end.State == Open {
		return Bound{State: Open}
	}
	to := Bound{State: Dated, Slot: end.Slot - quantity.Slot(s.high), PlusMinus: end.PlusMinus, AtLeast: end.AtLeast, Gate: gate}
	if last, need, ok := b.warmUntil(c, odds, b.usual(s, odds, from), end.Slot, s.high); ok && last < to.Slot {
		to.Slot, to.Gate = last, Warmth
		base, _ := c.Base.Get()
		*why = append(*why, Reason{Kind: ReasonBase, Number: float64(base), Unit: UnitCelsius, Gate: Warmth, By: c.Base.Owner, cell: &c.Base.Cell},
			Reason{Kind: ReasonWarmth, Number: need, Unit: UnitDegreeDays, Gate: Warmth})
	}
	if from.State == Dated && to.Slot < from.Slot {
		if to.AtLeast {
			return Bound{State: NotKnown}
		}
		to.State = Never
	}
	return to
}

// weeksInside is the fewest and most days raised inside.
func weeksInside(c *catalog.Crop) (low, high quantity.Slot, ok bool) {
	l, a := c.WeeksInsideLow.Get()
	h, b := c.WeeksInsideHigh.Get()
	return quantity.Slot(7 * l), quantity.Slot(7 * h), a && b
}

// raising is when to sow inside: from the most weeks before the first setting out
// to the fewest before the last.
func raising(c *catalog.Crop, setOut *Window, why *[]Reason) (from, to Bound) {
	low, a := c.WeeksInsideLow.Get()
	high, b := c.WeeksInsideHigh.Get()
	if !a || !b || setOut.From.State != Dated {
		return Bound{State: setOut.From.State}, Bound{State: setOut.From.State}
	}
	if setOut.To.State == Never {
		return Bound{State: Never, Gate: Maturity}, Bound{State: Never, Gate: Maturity}
	}
	*why = append(*why, Reason{Kind: ReasonWeeks, Number: high, Unit: UnitWeeks, Gate: Raising, cell: &c.WeeksInsideHigh.Cell})
	from, to = setOut.From, setOut.To
	if to.State == Open {
		to = setOut.From
	}
	from.Slot -= quantity.Slot(7 * high)
	to.Slot -= quantity.Slot(7 * low)
	from.Gate, to.Gate = Raising, Raising
	return from, to
}

// earlier of two bounds, a dated one before one that is not.
func earlier(a, b Bound) Bound {
	switch {
	case a.State != Dated && b.State == Dated:
		return b
	case a.State == Dated && b.State == Dated && b.Slot < a.Slot:
		return b
	case a.State == NotKnown && b.State != NotKnown:
		return b
	}
	return a
}

// boundOf turns an answer into a bound.
func boundOf(a band.Answer, gate Gate) Bound { return toldBy(&a).bound(gate) }

func (t told) bound(gate Gate) Bound {
	switch t.state {
	case band.Dated:
		return Bound{State: Dated, Slot: t.slot, PlusMinus: t.plusMinus, Gate: gate}
	case band.NoneNeeded:
		return Bound{State: Open}
	case band.Never, band.AnyMonth:
		return Bound{State: Never, Gate: gate}
	}
	return Bound{State: NotKnown}
}

// boundOfAny is the bound of several gates: of the kind of that which decides.
func (t told) boundOfAny(kinds []Gate) Bound {
	if t.decides < 0 || int(t.decides) >= len(kinds) {
		return t.bound(kinds[0])
	}
	return t.bound(kinds[t.decides])
}
