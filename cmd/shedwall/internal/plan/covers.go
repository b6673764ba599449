package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// bought fills in how many days layers add at careful odds: spring days by which the
// first start outside comes earlier, fall days by which the last safe day comes
// later. Each is not known where either side has no such date.
func bought(open, covered *LayerPlan) {
	for _, a := range []Action{SowOutside, SetOut} {
		o, c := open.find(quantity.Careful, a), covered.find(quantity.Careful, a)
		if o != nil && c != nil && o.From.State == Dated && c.From.State == Dated {
			covered.SpringGain, covered.SpringKnown = max(covered.SpringGain, int(o.From.Slot-c.From.Slot)), true
		}
	}
	o, c := open.find(quantity.Careful, LastSafeDay), covered.find(quantity.Careful, LastSafeDay)
	if o != nil && c != nil && o.To.State == Dated && c.To.State == Dated && o.To.EndKnown() && c.To.EndKnown() {
		covered.FallGain, covered.FallKnown = max(0, int(c.To.Slot-o.To.Slot)), true
	}
	covered.GainKnown = covered.SpringKnown || covered.FallKnown
}

// covers is when each layer must be on for the careful dates. In spring the
// outermost layer comes off on the day on which the layers under it are enough,
// against frost and against cold weeks, the next when those under it are, and so on;
// in fall they go on in the reverse order. A layer that is never needed has no span.
// Where it may freeze in any month under the layers below, the spans of spring and
// fall meet between the season years; where a start or an end is open, they reach to
// the winter's middle.
func (b *bandPlan) covers(c *catalog.Crop, l *limits, layers *layered, lp *LayerPlan) []CoverSpan {
	var list [6]CoverSpan // more than there are layers that anyone puts on
	out := list[:0]
	spring := springStart(b.climate.Region.Hemisphere)
	start := firstStart(lp, spring)
	end := Bound{State: NotKnown}
	if safe := lp.find(quantity.Careful, LastSafeDay); safe != nil && start.State != Never {
		end = safe.To
	}
	if end.State == Open {
		end = Bound{State: Dated, Slot: spring + quantity.SlotsPerYear - 1}
	}
	grown := [2]quantity.Slot{start.Slot + youngDays, b.lastStart(lp) + youngDays}
	for k, id := range layers.parts {
		under := layers.under[k]
		nearest := len(layers.parts) - 1 - k
		off, spring := b.offAgain(c, l, under, grown)
		on, fall := b.onAgain(c, l, under)
		spring = spring && start.State == Dated && off > start.Slot
		fall = fall && end.State == Dated && on < end.Slot
		switch {
		case spring && fall && on <= off:
			out = append(out, CoverSpan{Cover: id, Level: nearest, Event: record.Last, From: start.Slot, To: end.Slot})
			continue
		case spring:
			out = append(out, CoverSpan{Cover: id, Level: nearest, Event: record.Last, From: start.Slot, To: off - 1})
		}
		if fall {
			out = append(out, CoverSpan{Cover: id, Level: nearest, Event: record.First, From: max(on, start.Slot), To: end.Slot})
		}
	}
	return stay(out, &b.room.spans, 200)
}

// lastStart is the last slot on which anything is started outside by careful dates;
// 0 where no start has a last day.
func (b *bandPlan) lastStart(lp *LayerPlan) quantity.Slot {
	var last quantity.Slot
	for _, a := range []Action{SowOutside, SetOut} {
		if w := lp.find(quantity.Careful, a); w != nil && w.To.State == Dated {
			last = max(last, w.To.Slot)
		}
	}
	return last
}

// offAgain is the day on which layers are enough, so that one over them may stay off
// the evening before; false where they always are. Young plants need them until the
// last night that harms them, at most until the last of them are grown; grown ones,
// of which there are none before the first are, until the last night that harms those,
// over the whole summer where that may come in any month. grown is when the first and
// the last plants started are grown.
func (b *bandPlan) offAgain(c *catalog.Crop, l *limits, layers *layered, grown [2]quantity.Slot) (quantity.Slot, bool) {
	night, ok := b.nightGate(c, &l.young, layers, quantity.Careful, nil)
	if !ok {
		return 0, false
	}
	off := b.letsGo(quantity.Careful, night)
	if g, ok := b.chillGate(l, layers, quantity.Careful, nil); ok {
		off = max(off, b.letsGo(quantity.Half, g)) // asked as opens does
	}
	if grown[1] > youngDays {
		off = min(off, grown[1])
	}
	if g, ok := b.nightGate(c, &l.grown, layers, quantity.Careful, nil); ok {
		if last := b.letsGo(quantity.Careful, g); last > grown[0] {
			off = max(off, last)
		}
	}
	return off, off > 0
}

// letsGo is the day from which a gate holds nothing back any more at odds: 0 where it
// never did, past the end of the season year where it may in any month.
func (b *bandPlan) letsGo(odds quantity.Odds, gate band.Gate) quantity.Slot {
	switch a := b.alone(record.Last, odds, gate); a.state {
	case band.Dated:
		return a.slot
	case band.AnyMonth:
		return 2 * quantity.SlotsPerYear
	}
	return 0
}

// onAgain is the evening before the first fall night that layers do not hold; false
// where they hold all.
func (b *bandPlan) onAgain(c *catalog.Crop, l *limits, layers *layered) (quantity.Slot, bool) {
	gate, ok := b.nightGate(c, &l.grown, layers, quantity.Careful, nil)
	if !ok {
		return 0, false
	}
	switch a := b.alone(record.First, quantity.Careful, gate); a.state {
	case band.Dated:
		return a.slot - 1, true
	case band.AnyMonth:
		return quantity.SlotsPerYear, true
	}
	return 0, false
}

// firstStart is the first slot on which anything of the crop stands outside; a start
// that nothing holds back counts from the beginning of spring. Never where every
// start comes too late to be harvested, or not at all.
func firstStart(lp *LayerPlan, spring quantity.Slot) Bound {
	best := Bound{State: Never}
	for _, a := range []Action{SowOutside, SetOut} {
		w := lp.find(quantity.Careful, a)
		if w == nil {
			continue
		}
		from := w.From
		switch {
		case from.State == Never || w.To.State == Never:
			continue
		case from.State == Open:
			from = Bound{State: Dated, Slot: spring}
		}
		if best.State == Never || from.State == Dated && (best.State == NotKnown || from.Slot < best.Slot) {
			best = from
		}
	}
	return best
}
