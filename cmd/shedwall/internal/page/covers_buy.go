package page

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// coversBuy says what each offered set of layers is worth in one band, in days: a
// table for a plant that stands no frost and one for a plant harmed by a hard frost.
func (b *builder) coversBuy(m *bandPage) []Block {
	offered := b.planner.OfferedIn(m.in.Climate)
	if len(offered) == 0 {
		return []Block{para(Inline{Text: b.t("covers.none_offered")})}
	}
	out := append(b.bestCovers(m), para(Inline{Text: b.t("covers.buy.intro", "odds", b.words.Odds(quantity.Careful), "half", b.words.Odds(quantity.Half))}))
	for i, limit := range []quantity.Celsius{0, -2.2} {
		t := Table{Caption: b.t("covers.buy.caption", "band", m.row().Name, "temp", b.words.Temp(limit, 0)), RowHeads: true, Head: []string{
			b.t("covers.buy.head.layers"), b.t("covers.buy.head.gain"),
			b.t("covers.buy.head.spring"), b.t("covers.buy.head.spring.typical"), b.t("covers.buy.head.fall"), b.t("covers.buy.head.fall.typical")}}
		if i == 0 {
			t.ID = "covers-table"
		}
		for _, id := range offered {
			g, out := b.gainIn(m, id), b.planner.OutMonths(m.row(), id)
			row := [][]Inline{b.layersLink(id), plain(b.gainWords(g))}
			for _, e := range []record.Event{record.Last, record.First} {
				row = append(row, plain(b.buys(m, e, quantity.Careful, limit, g, out)), plain(b.buys(m, e, quantity.Half, limit, g, out)))
			}
			t.Rows = append(t.Rows, row)
		}
		out = append(out, t)
	}
	out = append(out, Note{Kind: "caution", Label: b.t("note.clear_nights"), Text: b.say("covers.clear_nights")})
	return append(out, b.bandWeather(m)...)
}

// gainIn is the gain of layers as planned with in a band: that of a structure is worked
// out for the band's own nights.
func (b *builder) gainIn(m *bandPage, layers string) cover.Gain {
	return b.planner.BookFor(m.in.Climate).Gain(layers)
}

// boughtDays is the days that a gain buys for a limit in spring and in fall at careful
// odds, where both sides have a date.
func boughtDays(m *bandPage, limit quantity.Celsius, g cover.Gain, out catalog.Months) (spring, fall int, known bool) {
	days := func(e record.Event) (int, bool) {
		open := freeze(m.in.Climate, e, quantity.Careful, limit)
		covered := m.in.Climate.Date(e, quantity.Careful, band.Gate{Limit: limit, Gain: max(g.Low, 0)})
		if open.State != band.Dated || covered.State != band.Dated {
			return 0, false
		}
		left := plan.Left(m.in.Climate.Region.Hemisphere, out, e, covered.Slot, open.Slot)
		if e == record.Last {
			return int(open.Slot - left), true
		}
		return int(left - open.Slot), true
	}
	spring, a := days(record.Last)
	fall, c := days(record.First)
	return spring, fall, a && c && g.Known
}

// bestCovers says in one sentence what the best covers of a band buy a plant that stands
// no frost: the most days for hand work, the most of all, and the work of it.
func (b *builder) bestCovers(m *bandPage) []Block {
	type found struct {
		id           string
		spring, fall int
	}
	var light, best found
	for _, id := range b.planner.OfferedIn(m.in.Climate) {
		s, f, ok := boughtDays(m, 0, b.gainIn(m, id), b.planner.OutMonths(m.row(), id))
		if !ok || s+f == 0 {
			continue
		}
		x := found{id, s, f}
		if x.spring+x.fall > best.spring+best.fall && b.structureIn(id) == nil {
			best = x
		}
		if !b.mustStand([]string{id}) && x.spring+x.fall > light.spring+light.fall {
			light = x
		}
	}
	if best.id == "" {
		return []Block{para(Inline{Text: b.t("covers.best.none", "odds", b.words.Odds(quantity.Careful))})}
	}
	pairs := func(x found) []string {
		return []string{"cover", b.layersName(x.id), "spring", b.words.Days(x.spring), "fall", b.words.Days(x.fall), "odds", b.words.Odds(quantity.Careful)}
	}
	text := b.t("covers.best", pairs(best)...)
	if light.id != "" && light.id != best.id {
		p := append(pairs(best), "light", b.layersName(light.id), "light_spring", b.words.Days(light.spring), "light_fall", b.words.Days(light.fall))
		text = b.t("covers.best.two", p...)
	}
	return []Block{Para{Text: []Inline{{Text: text, Strong: true}}}}
}

// structureIn is the first structure among layers, nil where there is none.
func (b *builder) structureIn(layers string) *catalog.Structure {
	for _, id := range catalog.SplitLayers(layers) {
		if s := b.structure(id); s != nil {
			return s
		}
	}
	return nil
}

// buys is the days that layers buy for a limit: at careful odds counted with the low
// end of their gain, at half-and-half odds with the typical one, as the plans do; a
// cover that may not help at all buys none.
func (b *builder) buys(m *bandPage, e record.Event, odds quantity.Odds, limit quantity.Celsius, g cover.Gain, out catalog.Months) string {
	gain := max(g.Low, 0)
	if odds == quantity.Half {
		gain = max(g.Typical, 0)
	}
	if gain == 0 {
		return b.t("days.none")
	}
	open := freeze(m.in.Climate, e, odds, limit)
	covered := m.in.Climate.Date(e, odds, band.Gate{Limit: limit, Gain: gain})
	switch {
	case covered.State == band.NoneNeeded && open.State == band.NoneNeeded:
		return b.t("days.not_needed")
	case open.State == band.Dated && covered.State == band.NoneNeeded:
		return b.t("days.all")
	case open.State == band.AnyMonth && covered.State == band.Dated:
		return b.t("days.from_none", "date", b.words.Date(b.date(covered.Slot)))
	case open.State != band.Dated || covered.State != band.Dated:
		return b.answer(covered)
	case e == record.Last:
		return b.daysGained(int(open.Slot - plan.Left(b.Tables.Hemisphere, out, e, covered.Slot, open.Slot)))
	}
	return b.daysGained(int(plan.Left(b.Tables.Hemisphere, out, e, covered.Slot, open.Slot) - open.Slot))
}

// gainText is the range of a gain in words, with how it is known.
func (b *builder) gainText(id string) string {
	return b.gainWords(b.covers.Gain(id))
}

// gainWords is gainText of a gain.
func (b *builder) gainWords(g cover.Gain) string {
	if !g.Known {
		return b.t("not_known")
	}
	text := b.words.DiffRange(g.Low, g.High)
	switch {
	case g.Estimated:
		text += ", " + b.t("gain.estimate")
	case g.Low < 0:
		text += ", " + b.t("gain.no_help")
	}
	return text
}

// layersLink names layers, each cover leading to its page.
func (b *builder) layersLink(id string) []Inline {
	var out []Inline
	for i, c := range catalog.SplitLayers(id) {
		if i > 0 {
			out = append(out, Inline{Text: " " + b.t("layers.plus") + " "})
		}
		if cv := b.covers.Cover(c); cv != nil {
			out = append(out, link(cv.Name, HTML(CoverPath(c))))
		} else {
			out = append(out, Inline{Text: c})
		}
	}
	return out
}

// cautions are the hazards printed for any of the given things: cover ids, "all",
// "heat", "food", "structure".
func (b *builder) cautions(on ...string) []Block {
	l := List{}
	for i := range b.Tables.Hazards {
		h := &b.Tables.Hazards[i]
		if meets(h.On, on) {
			l.Items = append(l.Items, b.caution(h))
		}
	}
	if len(l.Items) == 0 {
		return nil
	}
	return []Block{l}
}

func meets(a, b []string) bool {
	for _, x := range a {
		for _, y := range b {
			if x == y {
				return true
			}
		}
	}
	return false
}

// caution is a hazard with whom to ask and where it is from.
func (b *builder) caution(h *catalog.Hazard) []Inline {
	text := h.Caution
	if h.Defer != "" {
		text += " " + b.t("caution.defer", "who", h.Defer)
	}
	out := append([]Inline{{Text: text + " ("}}, b.source(h.Source)...)
	return append(out, Inline{Text: ")"})
}

// source is a short link to a row of the sources page.
func (b *builder) source(id string) []Inline {
	s := b.sources[id]
	if s == nil {
		return plain(b.t("source.none"))
	}
	return []Inline{{Text: b.sourceName(s), Href: HTML(SourcesPath) + "#" + sourceAnchor(id), Lang: b.sourceLanguage(s)}}
}

// sourceName is what a reader sees of a source: who, and when where it is known.
func (b *builder) sourceName(s *catalog.Source) string {
	switch s.Kind {
	case "memory", "practice", "own":
		return b.t("source.kind." + s.Kind)
	}
	name := s.Organisation
	if name == "" {
		name = s.Title
	}
	if s.Year != "" {
		name += " " + s.Year
	}
	return name
}

func sourceAnchor(id string) string { return "source-" + id }
