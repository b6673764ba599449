package page

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/words"
)

// date is the calendar date of a slot.
func (b *builder) date(s quantity.Slot) quantity.MonthDay {
	return b.Region.Hemisphere.MonthDay(s)
}

// answer words a date of the climate, or why there is none.
func (b *builder) answer(a band.Answer) string {
	switch a.State {
	case band.Dated:
		return b.words.Date(b.date(a.Slot))
	case band.NoneNeeded:
		return b.t("answer.none_needed")
	case band.AnyMonth:
		return b.t("answer.any_month")
	case band.Never:
		return b.t("answer.never")
	}
	return b.t("not_known")
}

// window words the days of an action, or why there are none.
func (b *builder) window(w plan.Window) string {
	if parts := w.Parts(); len(parts) == 2 {
		return b.t("range.two", "first", b.window(parts[0]), "second", b.window(parts[1]))
	}
	from, to := w.From, w.To
	switch {
	case from.State == plan.Never:
		return b.never(from.Gate)
	case from.State == plan.NotKnown && from.Gate == plan.Warmth:
		return b.t("window.may_not_ripen")
	case from.State == plan.NotKnown:
		return b.t("not_known")
	case to.State == plan.Never || from.State == plan.Dated && to.State == plan.Dated && to.Slot < from.Slot:
		return b.never(plan.Maturity)
	case from.State == plan.Open && to.AtLeast:
		return b.t("end_not_known", "days", b.t("window.until", "date", b.words.Date(b.date(to.Slot))))
	case from.State == plan.Open && to.State == plan.NotKnown:
		return b.t("end_not_known", "days", b.t("any_time"))
	case from.State == plan.Open && to.State == plan.Dated:
		return b.t("window.until", "date", b.words.Date(b.date(to.Slot)))
	case from.State == plan.Open:
		return b.t("any_time")
	case to.State == plan.Dated && to.Slot-from.Slot >= quantity.SlotsPerYear-1:
		return b.t("any_time")
	case to.AtLeast:
		return b.t("end_not_known", "days", b.words.DateRange(b.date(from.Slot), b.date(to.Slot)))
	case to.State == plan.Dated:
		return b.words.DateRange(b.date(from.Slot), b.date(to.Slot))
	case to.State == plan.NotKnown:
		return b.t("end_not_known", "days", b.t("window.from", "date", b.words.Date(b.date(from.Slot))))
	}
	return b.t("window.from", "date", b.words.Date(b.date(from.Slot)))
}

// never says what leaves no date.
func (b *builder) never(g plan.Gate) string {
	switch g {
	case plan.Frost, plan.Chill, plan.Soil, plan.Maturity:
		return b.t("window.never." + g.String())
	}
	return b.t("window.never")
}

// bound words one end of a window.
func (b *builder) bound(x plan.Bound) string {
	switch x.State {
	case plan.Dated:
		if x.AtLeast {
			return b.t("bound.at_least", "date", b.words.Date(b.date(x.Slot)))
		}
		return b.words.Date(b.date(x.Slot))
	case plan.Open:
		return b.t("bound.open")
	case plan.Never:
		return b.never(x.Gate)
	}
	return b.t("not_known")
}

// action words a crop's action in a layer plan; "not done" where the crop is not
// started that way.
func (b *builder) action(l *plan.LayerPlan, odds quantity.Odds, a plan.Action) string {
	w, ok := l.Find(odds, a)
	if !ok {
		return b.t("window.not_done")
	}
	return b.actionOf(a, w)
}

// cropAction is action of a crop whose days are known: where its slow kinds come too late and
// its quick ones do not, that those may fit, and from when.
func (b *builder) cropAction(c *catalog.Crop, l *plan.LayerPlan, odds quantity.Odds, a plan.Action) string {
	quick, startable := quickFits(c, l, odds)
	w, ok := l.Find(odds, a)
	switch {
	case !ok || a == plan.LastSafeDay || !quick:
	case a == plan.SowOutside || a == plan.SetOut:
		if s, short := w.TooShort(c); short && s.QuickFits {
			return b.t("window.quick_from", "date", b.words.Date(b.date(w.From.Slot)))
		}
	case !startable && (w.From.State == plan.Never || w.To.State == plan.Never):
		return b.t("window.quick")
	}
	return b.action(l, odds, a)
}

// quickFits says whether quick kinds of a crop may be ready in time where slow ones are not,
// and whether any start outside leaves time for those.
func quickFits(c *catalog.Crop, l *plan.LayerPlan, odds quantity.Odds) (quick, startable bool) {
	for _, a := range []plan.Action{plan.SowOutside, plan.SetOut} {
		if w, ok := l.Find(odds, a); ok {
			s, short := w.TooShort(c)
			quick = quick || short && s.QuickFits
		}
	}
	return quick, started(l, odds)
}

// actionOf words a window that there is.
func (b *builder) actionOf(a plan.Action, w plan.Window) string {
	if a == plan.LastSafeDay {
		return b.bound(w.To)
	}
	return b.window(w)
}

// layersName names covers used together, outermost first.
func (b *builder) layersName(id string) string {
	return Wall{Tables: b.Tables, Book: b.words}.layersName(id)
}

// heights words a band's limits of height.
func (b *builder) heights(row *catalog.Band) string {
	low, a := row.Low.Get()
	high, c := row.High.Get()
	switch {
	case a && c:
		return b.words.HeightRange(low, high)
	case a:
		return b.t("height.above", "height", b.words.Height(low))
	case c:
		return b.t("height.below", "height", b.words.Height(high))
	}
	return b.t("not_known")
}

func (b *builder) position(f figure.Of[catalog.Position]) string {
	if p, ok := f.Get(); ok {
		return b.t("position." + p.String())
	}
	return b.t("not_known")
}

// zoneOf words the zone of a band: the one worked out, else the one that its table
// declares, marked so.
func (b *builder) zoneOf(m *bandPage) string {
	if declared, ok := m.row().DeclaredZone.Get(); ok && !m.winter.Known {
		return b.t("zone.declared", "zone", declared)
	}
	return b.zone(m.winter)
}

// zone words a hardiness zone worked out from records.
func (b *builder) zone(w band.Winter) string {
	if !w.Known {
		return b.t("not_known")
	}
	return w.Zone
}

// daysText words a number of days gained: "12 days", "none".
func (b *builder) daysGained(n int) string {
	if n <= 0 {
		return b.t("days.none")
	}
	return b.words.Days(n)
}

// freeze asks the climate for a plain freeze at a limit.
func freeze(c *band.Climate, e record.Event, odds quantity.Odds, limit quantity.Celsius) band.Answer {
	return c.NightDate(e, odds, limit, 0)
}

// firstUpper begins a phrase with a capital.
func firstUpper(s string) string { return words.Sentence(s) }
