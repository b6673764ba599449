package plan

import (
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Term is the days of the year on which a garden is tended, as at a school: From and To
// as slots of one season year, To running on where the term goes over its end.
type Term struct{ From, To quantity.Slot }

// TermOf is the term of a guide's settings; nil where none is given.
func TermOf(s catalog.Schedule, h quantity.Hemisphere) *Term {
	if !s.HasTerm() {
		return nil
	}
	t := &Term{From: h.SlotOf(s.TermFrom), To: h.SlotOf(s.TermTo)}
	if t.To < t.From {
		t.To += quantity.SlotsPerYear
	}
	return t
}

// has says whether a day lies in the term of any year; all days do without a term.
func (t *Term) has(s quantity.Slot) bool {
	if t == nil {
		return true
	}
	n := (s - t.From) % quantity.SlotsPerYear
	if n < 0 {
		n += quantity.SlotsPerYear
	}
	return n <= t.To-t.From
}

// Within is a plan once for each year's term that it fits into, its windows cut to the
// term: a start so early that even the slow kinds are harvested by the last day, a sowing
// inside no earlier than the first. Nothing where the crop cannot be begun and harvested
// within one term, or its days to harvest are not known. Without a term it is the plan.
func (t *Term) Within(c *catalog.Crop, l LayerPlan) []LayerPlan {
	if t == nil {
		return []LayerPlan{l}
	}
	var out []LayerPlan
	for k := quantity.Slot(-1); k <= 2; k++ {
		if p, ok := within(c, l, t.From+k*quantity.SlotsPerYear, t.To+k*quantity.SlotsPerYear); ok {
			out = append(out, p)
		}
	}
	return out
}

// within cuts a plan to the days from first to last.
func within(c *catalog.Crop, l LayerPlan, first, last quantity.Slot) (LayerPlan, bool) {
	p := LayerPlan{Layers: l.Layers}
	harvest := quantity.Slot(0)
	for _, x := range []struct {
		action Action
		days   span
	}{{SowOutside, fromSowing(c)}, {SetOut, fromSetOut(c)}} {
		win, ok := l.Find(quantity.Careful, x.action)
		if !ok || !x.days.known || win.From.State != Dated && win.From.State != Open || win.To.State == Never || backwards(win) {
			continue
		}
		weeks, raised := c.WeeksInsideLow.Get()
		begin := first
		if x.action == SetOut {
			if !raised {
				continue
			}
			begin += quantity.Slot(7 * weeks)
		}
		if win.From.State == Dated {
			begin = max(begin, win.From.Slot)
		}
		end := last - quantity.Slot(x.days.high)
		if win.To.State == Dated {
			end = min(end, win.To.Slot)
		}
		if end < begin {
			continue
		}
		cut := win
		cut.From, cut.To = clipped(win.From, begin), clippedEnd(win.To, end)
		if x.action == SetOut {
			high, _ := c.WeeksInsideHigh.Get()
			in := Window{Action: SowInside, Layers: l.Layers, Odds: win.Odds,
				From: Bound{State: Dated, Slot: max(first, begin-quantity.Slot(7*high)), Gate: Raising},
				To:   Bound{State: Dated, Slot: end - quantity.Slot(7*weeks), Gate: Raising}}
			p.Careful = append(p.Careful, in)
		}
		p.Careful = append(p.Careful, cut)
		if ripe := begin + quantity.Slot(x.days.low); harvest == 0 || ripe < harvest {
			harvest = ripe
		}
	}
	if len(p.Careful) == 0 {
		return p, false
	}
	if h, ok := l.Find(quantity.Careful, Harvest); ok {
		h.From = clipped(h.From, harvest)
		whole := h.To
		h.To = clippedEnd(whole, last)
		if end, limited := l.endOf(Harvest); limited {
			h.To = clippedEnd(whole, min(last, end))
		}
		p.Careful = append(p.Careful, h)
	}
	for _, s := range l.Covers {
		s.From, s.To = max(s.From, first), min(s.To, last)
		if s.From <= s.To {
			p.Covers = append(p.Covers, s)
		}
	}
	return p, true
}

// endOf is the last day of a window that has one.
func (l LayerPlan) endOf(a Action) (quantity.Slot, bool) {
	w, ok := l.Find(quantity.Careful, a)
	return w.To.Slot, ok && w.To.State == Dated
}

// clippedEnd is a last day cut to a slot; one that is not known stays so, one of which only
// the least is known is known where it is cut short of that.
func clippedEnd(b Bound, s quantity.Slot) Bound {
	if b.State == NotKnown {
		return b
	}
	b.AtLeast = b.AtLeast && s >= b.Slot
	return clipped(b, s)
}

func clipped(b Bound, s quantity.Slot) Bound {
	b.State, b.Slot = Dated, s
	return b
}
