package page

import (
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// firstMonth is the month with which the local gardening year begins.
func (w Wall) firstMonth() int {
	if w.Climate.Region.Hemisphere == quantity.South {
		return 7
	}
	return 1
}

// day is the axis day of a slot.
func (w Wall) day(s quantity.Slot) int {
	h := w.Climate.Region.Hemisphere
	origin := h.SlotOf(quantity.MonthDay{Month: w.firstMonth(), Day: 1})
	return ((int(s-origin) % quantity.SlotsPerYear) + quantity.SlotsPerYear) % quantity.SlotsPerYear
}

func (w Wall) date(s quantity.Slot) quantity.MonthDay {
	return w.Climate.Region.Hemisphere.MonthDay(s)
}

// axisEnd is the last slot of the axis of the summer planned for.
func (w Wall) axisEnd() quantity.Slot {
	h := w.Climate.Region.Hemisphere
	return h.SlotOf(quantity.MonthDay{Month: w.firstMonth(), Day: 1}) + quantity.SlotsPerYear - 1
}

func (w Wall) months() []Month {
	var out []Month
	for i := range 12 {
		m := (w.firstMonth()-1+i)%12 + 1
		out = append(out, Month{Name: w.Book.MonthShort(m), Full: w.Book.Month(m), From: w.monthDay(m), To: w.monthDay(m) + quantity.DaysIn(2024, m)})
	}
	return out
}

func (w Wall) monthDay(m int) int {
	return w.day(w.Climate.Region.Hemisphere.SlotOf(quantity.MonthDay{Month: m, Day: 1}))
}

// chosen is the layers a sheet plans a crop with: those that the publisher names in
// sheets.csv; else the lightest that buy ten days, else open ground; where open ground
// has no season, the lightest that has one. A set with a house in it (see housed) is
// chosen only where it is named: a crop with a season in nothing else is left off.
func (w Wall) chosen(p plan.CropPlan) plan.LayerPlan {
	if w.kept != nil {
		if i, ok := w.kept.chosen[layersOf(&p)]; ok {
			return p.Layers[i]
		}
	}
	return p.Layers[w.choose(&p)]
}

// choose is the place of the chosen layers.
func (w Wall) choose(p *plan.CropPlan) int {
	if i, ok := w.named(p); ok {
		return i
	}
	inOpen := grownUnder(&p.Layers[0])
	for i := range p.Layers[1:] {
		l := &p.Layers[1+i]
		better := l.GainKnown && gained(p.Crop, l) >= worthwhile
		if !inOpen {
			better = grownUnder(l)
		}
		if better && !w.housed(l.Layers) {
			return 1 + i
		}
	}
	return 0
}

// gained is the days that layers buy, spring and fall together where those of fall count.
func gained(c *catalog.Crop, l *plan.LayerPlan) int {
	if !l.FallCounts(c) {
		return l.SpringGain
	}
	return l.SpringGain + l.FallGain
}

// row draws one crop; covers are the ids whose key the sheet needs. The dates in type
// are those of open ground, then what covers change; the bars and cover lines are drawn
// with the covers, so that the part before the open date is seen as well.
func (w Wall) row(p plan.CropPlan) (r SheetRow, covers []string) {
	l := w.chosen(p)
	r = SheetRow{Name: p.Crop.Name}
	starts := w.draw(&r, p, l)
	told := w.told(p, l)
	for _, c := range l.Covers {
		cv := w.cover(c.Cover)
		if cv == nil || len(starts) == 0 {
			continue
		}
		covers = append(covers, c.Cover)
		for _, cut := range w.cut(c.From, c.To) {
			r.Covers = append(r.Covers, CoverLine{Style: cv.Kind.String(), Letter: cv.Letter, Level: c.Level, From: cut[0], To: cut[1]})
		}
		key := "twin.cover." + c.Event.String()
		if c.Warms {
			key = "twin.cover.warm"
		}
		told.words = append(told.words, w.Book.T(key, "cover", cv.Name, "from", w.Book.Date(w.date(c.From)), "to", w.Book.Date(w.date(c.To))))
	}
	if l.Layers != "" && len(l.Covers) == 0 && len(starts) > 0 && seasonNotKnown(&w.whole(&p).Layers[0], quantity.Careful) {
		told.words = append(told.words, w.Book.T("twin.cover.not_known", "covers", w.layersName(l.Layers)))
	}
	w.tell(&r, p, l, told)
	return r, covers
}

// draw gives a row its bars and returns the starts that they show.
func (w Wall) draw(r *SheetRow, p plan.CropPlan, l plan.LayerPlan) []plan.Window {
	if win, ok := l.Find(quantity.Careful, plan.SowInside); ok && win.Exists() && win.From.State == plan.Dated {
		for _, part := range win.Parts() {
			r.Bars = w.bar(r.Bars, BarInside, part.From.Slot, part.To.Slot)
		}
	}
	starts := w.starts(p, l)
	for _, win := range starts {
		_, kind := w.startKey(p, win)
		for _, part := range win.Parts() {
			from, to := w.ends(part)
			r.Bars = w.bar(r.Bars, kind, from, to)
		}
	}
	if h, to, ok := w.harvest(l); ok && len(starts) > 0 {
		if _, end := w.ends(starts[len(starts)-1]); end < h.From.Slot-1 {
			r.Bars = w.bar(r.Bars, BarGrowing, end+1, h.From.Slot-1)
		}
		r.Bars = w.bar(r.Bars, BarHarvest, h.From.Slot, to)
	}
	return starts
}

// starts is the ways in which a crop is begun outside under layers, by their dates.
func (w Wall) starts(p plan.CropPlan, l plan.LayerPlan) []plan.Window {
	var starts []plan.Window
	for i := range l.Careful {
		if win := &l.Careful[i]; (win.Action == plan.SowOutside || win.Action == plan.SetOut) && startable(win) {
			starts = append(starts, *win)
		}
	}
	if p.Crop.Start.String() == "either" && len(starts) == 2 {
		starts = w.oneOf(starts)
	}
	return starts
}

// harvest is the harvest to be drawn and its last slot: the end of the axis where nothing
// ends it, its first day where nothing is known of its end.
func (w Wall) harvest(l plan.LayerPlan) (h plan.Window, to quantity.Slot, ok bool) {
	h, ok = l.Find(quantity.Careful, plan.Harvest)
	if !ok || h.From.State != plan.Dated || h.To.State == plan.Never {
		return h, 0, false
	}
	to = h.To.Slot
	switch h.To.State {
	case plan.Open:
		to = w.axisEnd()
	case plan.NotKnown:
		to = h.From.Slot
	}
	return h, to, to >= h.From.Slot
}

// oneOf keeps both ways of starting a crop that may be sown outside or set out,
// in the order of their dates.
func (w Wall) oneOf(starts []plan.Window) []plan.Window {
	if starts[1].From.State == plan.Dated && starts[0].From.State == plan.Dated && starts[1].From.Slot < starts[0].From.Slot {
		return []plan.Window{starts[1], starts[0]}
	}
	return starts
}

// startKey names the phrase and the bar of a start: sowing, planting or setting out.
func (w Wall) startKey(p plan.CropPlan, win plan.Window) (string, BarKind) {
	switch {
	case win.Action == plan.SetOut:
		return "set_out", BarSetOut
	case p.Crop.Start.String() == "planted":
		return "plant", BarOutside
	}
	return "outside", BarOutside
}

// ends is the first and last slot drawn for a start: a missing or open first day
// is drawn from the beginning of the axis, an open last day to its end; where nothing is
// known of the last day the first alone is drawn.
func (w Wall) ends(win plan.Window) (from, to quantity.Slot) {
	from, to = win.From.Slot, win.To.Slot
	if win.From.State != plan.Dated {
		from = w.axisEnd() - quantity.SlotsPerYear + 1
	}
	switch win.To.State {
	case plan.Open:
		to = w.axisEnd()
	case plan.NotKnown:
		to = from
	}
	return from, max(from, to)
}

// bar adds a bar, cut in two where it crosses the end of the axis.
func (w Wall) bar(bars []Bar, k BarKind, from, to quantity.Slot) []Bar {
	letter := letters[k]
	for _, c := range w.cut(from, to) {
		bars = append(bars, Bar{Kind: k, From: c[0], To: c[1], Letter: letter})
		letter = ""
	}
	return bars
}

// cut turns slots into axis days, in two pieces where they cross the axis' end.
func (w Wall) cut(from, to quantity.Slot) [][2]int {
	if to-from >= quantity.SlotsPerYear-1 {
		return [][2]int{{0, quantity.SlotsPerYear - 1}}
	}
	a, b := w.day(from), w.day(to)
	if a <= b {
		return [][2]int{{a, b}}
	}
	return [][2]int{{a, quantity.SlotsPerYear - 1}, {0, b}}
}

func (w Wall) rangeShort(win plan.Window) string {
	return w.rangeOf(win, "sheet.from", w.Book.DateShort, w.Book.DateRangeShort)
}

func (w Wall) rangeLong(win plan.Window) string {
	return w.rangeOf(win, "twin.from", w.Book.Date, w.Book.DateRange)
}

// rangeOf words a window's days: both ends, or only the first where the last is
// open; where the true last day is not known, that it is not.
func (w Wall) rangeOf(win plan.Window, fromKey string, date func(quantity.MonthDay) string, both func(a, b quantity.MonthDay) string) string {
	if parts := win.Parts(); len(parts) == 2 {
		return w.Book.T("range.two", "first", w.rangeOf(parts[0], fromKey, date, both), "second", w.rangeOf(parts[1], fromKey, date, both))
	}
	if !win.To.EndKnown() {
		least := win
		least.To.AtLeast = false
		if win.To.State == plan.NotKnown {
			least.To.State = plan.Open
		}
		return w.Book.T("end_not_known", "days", w.rangeOf(least, fromKey, date, both))
	}
	switch {
	case win.From.State != plan.Dated && win.To.State == plan.Dated:
		return w.Book.T(fromKey+"_any", "date", date(w.date(win.To.Slot)))
	case win.From.State != plan.Dated:
		return w.Book.T("any_time")
	case win.To.State != plan.Dated:
		return w.Book.T(fromKey, "date", date(w.date(win.From.Slot)))
	}
	return both(w.date(win.From.Slot), w.date(win.To.Slot))
}

func (w Wall) cover(id string) *catalog.Cover {
	for i := range w.Tables.Covers {
		if w.Tables.Covers[i].ID == id {
			return &w.Tables.Covers[i]
		}
	}
	return nil
}
