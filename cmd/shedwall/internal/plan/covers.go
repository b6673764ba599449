package plan

import (
	"slices"

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
		o, c := open.Window(quantity.Careful, a), covered.Window(quantity.Careful, a)
		if o != nil && c != nil && o.From.State == Dated && c.From.State == Dated {
			covered.SpringGain, covered.SpringKnown = max(covered.SpringGain, int(o.From.Slot-c.From.Slot)), true
		}
	}
	o, c := open.Window(quantity.Careful, LastSafeDay), covered.Window(quantity.Careful, LastSafeDay)
	if o != nil && c != nil && o.To.State == Dated && c.To.State == Dated && o.To.EndKnown() && c.To.EndKnown() {
		covered.FallGain, covered.FallKnown = max(0, int(c.To.Slot-o.To.Slot)), true
	}
	covered.GainKnown = covered.SpringKnown || covered.FallKnown
}

// covers is when each layer must be on for the careful dates. In spring the
// outermost layer comes off on the day on which the layers under it are enough,
// against frost and against cold weeks, the next when those under it are, and so on;
// in fall they go on in the reverse order. A layer that is never needed has no span,
// nor has one in spring before anything stands under it, see standing.
// Where it may freeze in any month under the layers below, the spans of spring and
// fall meet between the season years; where a start or an end is open, they reach to
// the winter's middle. Film that makes a sowing earlier by warming the soil lies on the
// bed before it, see warming.
func (b *bandPlan) covers(c *catalog.Crop, l *limits, layers *layered, lp *LayerPlan) []CoverSpan {
	var list [6]CoverSpan // more than there are layers that anyone puts on
	out := list[:0]
	spring := springStart(b.climate.Region.Hemisphere)
	start := firstStart(lp, spring)
	end := Bound{State: NotKnown}
	if safe := lp.Window(quantity.Careful, LastSafeDay); safe != nil && start.State != Never {
		end = safe.To
	}
	if !lp.FallCounts(c) {
		end = Bound{State: NotKnown}
	}
	if end.State == Open {
		end = Bound{State: Dated, Slot: spring + quantity.SlotsPerYear - 1}
	}
	stood := b.standing(c, layers, lp)
	film, warms := b.warming(c, layers, lp)
	for k, id := range layers.parts {
		under := layers.under[k]
		nearest := len(layers.parts) - 1 - k
		off, spring := b.offAgain(c, l, under, stood.grown)
		on, fall := b.onAgain(c, l, under)
		from, begun := stood.from(off)
		spring = spring && start.State == Dated && begun
		fall = fall && end.State == Dated && on < end.Slot
		if !spring {
			from = stood.first()
		}
		s := CoverSpan{Cover: id, Level: nearest, Event: record.Last, From: from, To: off - 1}
		if warms && layers.warmed.ID == id {
			if !spring {
				s.From, s.To = film.From, film.To
			}
			s.From, s.To, s.Warms, spring = min(s.From, film.From), max(s.To, film.To), true, true
		}
		switch {
		case spring && fall && on <= s.To+1:
			s.To = end.Slot
			out = append(out, s)
			continue
		case spring:
			out = append(out, s)
		}
		if fall {
			out = append(out, CoverSpan{Cover: id, Level: nearest, Event: record.First, From: max(on, from), To: end.Slot})
		}
	}
	return stay(out, &b.room.spans, 200)
}

// FallCounts says whether days that layers buy in fall are worth anything: not where nothing
// is picked in the year of planting, nor of tubers, which are dug when frost has taken the
// leaves.
func (l *LayerPlan) FallCounts(c *catalog.Crop) bool {
	return l.Window(quantity.Careful, Harvest) != nil && !(c.Start == catalog.Planted && Lasting(c))
}

// soonUp is how many days before the day on which seed should be up a cover against frost
// is on: a week. Seed comes up sooner in a warm spring; peas in soil of 10 C instead of 7.5
// by six days [source knott_ucsc], and that is much warmer than most years.
const soonUp = 7

// stood is when plants stand outside that are begun on the careful days of each action.
type stood struct {
	starts [2]stand
	n      int

	grown [2]quantity.Slot // when the first and the last of them are grown
}

// stand is the first day on which plants of an action stand outside, and the first evening
// on which a cover must be at hand for them.
type stand struct{ up, cover quantity.Slot }

// standing is when plants stand outside under layers by careful dates: from the day on which
// they are set out, or come up. Until a week before seed should be up it needs no cover, and
// it never does where it comes up when all is safe.
func (b *bandPlan) standing(c *catalog.Crop, layers *layered, lp *LayerPlan) stood {
	var out stood
	var first, last quantity.Slot
	for _, a := range []Action{SowOutside, SetOut} {
		w := lp.Window(quantity.Careful, a)
		if w == nil || w.From.State != Dated && w.From.State != Open || w.To.State == Never {
			continue
		}
		begun := b.begin(w.From)
		x, end := stand{begun, begun}, w.To.Slot
		if a == SowOutside {
			x.up = b.comesUp(c, begun, warmer(w, layers))
			x.cover = max(begun, x.up-soonUp)
			end = b.comesUp(c, end, 0)
		}
		if out.n == 0 || x.up < first {
			first = x.up
		}
		if w.To.State == Dated {
			last = max(last, end)
		}
		out.starts[out.n] = x
		out.n++
	}
	out.grown = [2]quantity.Slot{first + youngDays, last + youngDays}
	return out
}

// from is the first evening on which plants need a cover that comes off on a day: false where
// none stands before it.
func (s *stood) from(off quantity.Slot) (quantity.Slot, bool) {
	var from quantity.Slot
	found := false
	for _, x := range s.starts[:s.n] {
		if x.up < off && (!found || x.cover < from) {
			from, found = x.cover, true
		}
	}
	return from, found
}

// first is the first evening on which any plant might need a cover.
func (s *stood) first() quantity.Slot {
	from, _ := s.from(3 * quantity.SlotsPerYear)
	return from
}

// filmAhead is for how many days film must lie on a bed for its soil to be as warm as is
// reckoned with: soil at sowing depth follows the mean of that many days of air.
const filmAhead = band.SoilDays

// warming is the evenings on which film lies on a bed to warm the soil for a sowing that is
// earlier by it than in open ground: from filmAhead days before the first until the seed is
// up and open ground is as good for those that follow. It stays on by day, but for the hours
// in which it is opened. false where it makes no sowing earlier.
func (b *bandPlan) warming(c *catalog.Crop, layers *layered, lp *LayerPlan) (Stretch, bool) {
	w := lp.Window(quantity.Careful, SowOutside)
	if w == nil || w.From.State != Dated || w.To.State == Never || !w.warmed() || b.open == nil {
		return Stretch{}, false
	}
	until := b.lastStart(lp)
	if o := b.open.Window(quantity.Careful, SowOutside); o != nil && o.From.State == Dated {
		if o.From.Slot <= w.From.Slot {
			return Stretch{}, false
		}
		until = o.From.Slot - 1
	}
	up := b.comesUp(c, w.From.Slot, layers.warms)
	return Stretch{From: w.From.Slot - filmAhead, To: max(until, up-1), Gate: Soil}, true
}

// warmed says that a sowing is reckoned with in soil that film has warmed.
func (w *Window) warmed() bool {
	return w.From.Gate != Heat && slices.ContainsFunc(w.Reasons, func(r Reason) bool { return r.Kind == ReasonGain && r.Gate == Soil })
}

// warmer is by how much the soil of the first sowing of a window is warmed under layers.
func warmer(w *Window, layers *layered) quantity.Kelvins {
	if w.warmed() {
		return layers.warms
	}
	return 0
}

// lastStart is the last slot on which anything is started outside by careful dates;
// 0 where no start has a last day.
func (b *bandPlan) lastStart(lp *LayerPlan) quantity.Slot {
	var last quantity.Slot
	for _, a := range []Action{SowOutside, SetOut} {
		if w := lp.Window(quantity.Careful, a); w != nil && w.To.State == Dated {
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
		w := lp.Window(quantity.Careful, a)
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
