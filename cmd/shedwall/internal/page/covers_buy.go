package page

import (
	"strings"

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
	weather := false
	for i, limit := range []quantity.Celsius{0, -2.2} {
		t := Table{Caption: b.t("covers.buy.caption", "band", m.row().Name, "temp", b.words.Temp(limit, 0)), RowHeads: true, Head: []string{
			b.t("covers.buy.head.layers"), b.t("covers.buy.head.gain"),
			b.t("covers.buy.head.spring"), b.t("covers.buy.head.spring.typical"), b.t("covers.buy.head.fall"), b.t("covers.buy.head.fall.typical")}}
		if i == 0 {
			t.ID = "covers-table"
		}
		for _, id := range offered {
			g := b.gainIn(m, id)
			cells, cut := b.buysRow(m, limit, g, b.planner.OutMonths(m.row(), id))
			t.Rows, weather = append(t.Rows, append([][]Inline{b.layersLink(id), plain(b.gainWords(g))}, cells...)), weather || cut
		}
		out = append(out, t)
	}
	if weather {
		out = append(out, para(Inline{Text: b.t("days.weather.means")}))
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
		covered := m.in.Climate.NightDate(e, quantity.Careful, limit, max(g.Low, 0))
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
// no frost: the most days by hand work, and the most in a house. Where it may freeze in
// any month no day can be counted: then which of them make a season at all.
func (b *builder) bestCovers(m *bandPage) []Block {
	type found struct {
		id           string
		spring, fall int
	}
	var hand, house found
	say := func(key string, pairs ...string) []Block {
		return []Block{Para{Text: []Inline{{Text: b.t(key, append(pairs, "odds", b.words.Odds(quantity.Careful))...), Strong: true}}}}
	}
	anyMonth := m.careful[record.Last].State == band.AnyMonth || m.careful[record.First].State == band.AnyMonth
	for _, id := range b.planner.OfferedIn(m.in.Climate) {
		best := &hand
		if b.mustStand([]string{id}) {
			best = &house
		}
		out := b.planner.OutMonths(m.row(), id)
		if anyMonth {
			if from, to, ok := seasonUnder(m, 0, b.gainIn(m, id), out); ok && best.id == "" {
				*best = found{id, int(from), int(to)}
			}
			continue
		}
		if s, f, ok := boughtDays(m, 0, b.gainIn(m, id), out); ok && s+f > best.spring+best.fall {
			*best = found{id, s, f}
		}
	}
	var pairs []string
	add := func(prefix string, x found) {
		pairs = append(pairs, prefix, b.layersName(x.id))
		if anyMonth {
			pairs = append(pairs, prefix+"_from", b.words.Date(b.date(quantity.Slot(x.spring))), prefix+"_to", b.words.Date(b.date(quantity.Slot(x.fall))))
			return
		}
		pairs = append(pairs, prefix+"_spring", b.words.Days(x.spring), prefix+"_fall", b.words.Days(x.fall))
	}
	keys := [4]string{"covers.best", "covers.best.house", "covers.best.two", "covers.best.none"}
	if anyMonth {
		keys = [4]string{"covers.season", "covers.season.house", "covers.season.two", "covers.season.none"}
	}
	switch {
	case hand.id != "" && house.id != "":
		add("hand", hand)
		add("house", house)
		return say(keys[2], pairs...)
	case hand.id != "":
		add("hand", hand)
		return say(keys[0], pairs...)
	case house.id != "":
		add("house", house)
		return say(keys[1], pairs...)
	}
	return say(keys[3])
}

// seasonUnder is the days between which a plant of a limit is safe at careful odds under
// a gain, where it may freeze in any month in open ground and the weather rules the layers
// out in no month between.
func seasonUnder(m *bandPage, limit quantity.Celsius, g cover.Gain, out catalog.Months) (from, to quantity.Slot, ok bool) {
	gain := max(g.Low, 0)
	last, first := m.in.Climate.NightDate(record.Last, quantity.Careful, limit, gain), m.in.Climate.NightDate(record.First, quantity.Careful, limit, gain)
	if !g.Known || last.State != band.Dated || first.State != band.Dated {
		return 0, 0, false
	}
	h := m.in.Climate.Region.Hemisphere
	if plan.Left(h, out, record.Last, last.Slot, quantity.SlotsPerYear) != last.Slot || plan.Left(h, out, record.First, first.Slot, -1) != first.Slot {
		return 0, 0, false
	}
	return last.Slot, first.Slot, true
}

// structureIn is the first structure among layers, nil where there is none.
func (b *builder) structureIn(layers string) *catalog.Structure {
	for _, id := range catalog.SplitLayers(layers) {
		if s := b.Tables.Structure(id); s != nil {
			return s
		}
	}
	return nil
}

// buys is the days that layers buy for a limit: at careful odds counted with the low
// end of their gain, at half-and-half odds with the typical one, as the plans do; a
// cover that may not help at all buys none. weather says that months which rule the
// layers out cut them.
func (b *builder) buys(m *bandPage, e record.Event, odds quantity.Odds, limit quantity.Celsius, g cover.Gain, out catalog.Months) (text string, weather bool) {
	gain := max(g.Low, 0)
	if odds == quantity.Half {
		gain = max(g.Typical, 0)
	}
	if gain == 0 {
		return b.t("days.none"), false
	}
	open := freeze(m.in.Climate, e, odds, limit)
	covered := m.in.Climate.NightDate(e, odds, limit, gain)
	switch {
	case covered.State == band.AnyMonth:
		return b.t("days.any_month"), false
	case covered.State == band.NoneNeeded && open.State == band.NoneNeeded:
		return b.t("days.not_needed"), false
	case open.State == band.Dated && covered.State == band.NoneNeeded:
		return b.t("days.all"), false
	case open.State != band.Dated && open.State != band.AnyMonth || covered.State != band.Dated:
		return b.answer(covered), false
	}
	until := open.Slot // open ground's own day; without one the layers are needed all summer
	if open.State == band.AnyMonth && e == record.Last {
		until = quantity.SlotsPerYear
	} else if open.State == band.AnyMonth {
		until = -1
	}
	left := plan.Left(b.Tables.Hemisphere, out, e, covered.Slot, until)
	days := int(until - left)
	if e == record.First {
		days = -days
	}
	switch {
	case open.State == band.AnyMonth && left == covered.Slot:
		return b.t("days.from_none", "date", b.words.Date(b.date(covered.Slot))), false
	case open.State == band.AnyMonth, left != covered.Slot && days <= 0:
		return b.t("days.weather_none"), true
	case left != covered.Slot:
		return b.t("days.weather", "days", b.daysGained(days)), true
	}
	return b.daysGained(days), false
}

// buysRow is the four cells of days that layers buy for a limit: spring and fall, each at
// careful and at half-and-half odds.
func (b *builder) buysRow(m *bandPage, limit quantity.Celsius, g cover.Gain, out catalog.Months) (cells [][]Inline, weather bool) {
	for _, e := range []record.Event{record.Last, record.First} {
		for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
			text, cut := b.buys(m, e, odds, limit, g, out)
			cells, weather = append(cells, plain(text)), weather || cut
		}
	}
	return cells, weather
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
	if g.Estimated {
		text += ", " + b.t("gain.estimate")
	}
	if g.Low < 0 {
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

// cautions are the hazards printed for any of the given things: cover ids and the words
// of catalog.Hazard.On.
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
	if s.Year != "" && !strings.Contains(name, s.Year) {
		name += " " + s.Year
	}
	return name
}

func sourceAnchor(id string) string { return "source-" + id }
