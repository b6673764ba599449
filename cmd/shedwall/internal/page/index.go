package page

import (
	"cmp"
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// index is the front page: what the guide is, its bands, crops and covers.
func (b *builder) index() *Page {
	g := b.Tables.Guide
	p := b.newPage(IndexPath, "", g.Title, b.t("index.description", "publisher", g.Publisher))
	p.add(Para{Lead: true, Text: b.say(b.madeFrom("index.lead", "index.lead.tables"), "publisher", g.Publisher)})
	p.add(List{Ordered: true, Items: [][]Inline{
		{{Text: b.t("index.step.find") + " "}, link(b.t("nav.find"), HTML(FindPath))},
		b.say("index.step.print"),
		b.say("index.step.tasks"),
		b.say("index.step.crop"),
	}})
	p.add(b.heading(2, "bands", "index.h.bands"))
	p.add(para(Inline{Text: b.t(b.typedOr("index.bands.intro.typed", "index.bands.intro"), "careful", b.words.Odds(quantity.Careful))}))
	p.add(b.estimateNotes(b.made...)...)
	p.add(b.bandTable("band-table", b.t("index.bands.caption"), b.made))
	p.add(b.workList()...)
	if d := b.Texts.Doc(IndexPath); d != nil {
		p.add(Heading{Level: 2, ID: "about", Text: []Inline{{Text: d.Title, Lang: d.Foreign}}})
		p.add(b.prose(IndexPath, 1)...)
	}
	p.add(b.heading(2, "crops", "index.h.crops"))
	p.add(b.cropJumps()...)
	p.add(b.heading(2, "covers", "index.h.covers"))
	p.add(b.coverGallery())
	if len(b.further) > 0 {
		p.add(b.heading(2, "further", "index.h.further"))
		l := List{}
		for _, d := range b.further {
			l.Items = append(l.Items, []Inline{link(d.Title, HTML(d.ID))})
		}
		p.add(l)
	}
	return p
}

// bandTable sets bands side by side.
func (b *builder) bandTable(id, caption string, bands []*bandPage) Block {
	if len(bands) == 0 {
		return para(Inline{Text: b.t("index.bands.none")})
	}
	t := Table{ID: id, Caption: caption, RowHeads: true, Head: []string{
		b.t("head.band"), b.t("head.heights"), b.t("head.position"), b.t("head.zone"),
		b.t("head.last.careful"), b.t("head.last.half"), b.t("head.first.half"), b.t("head.first.careful"), b.t("head.free")}}
	for _, m := range bands {
		free, _ := b.free(m)
		c := m.in.Climate
		t.Rows = append(t.Rows, [][]Inline{
			{link(m.row().Name, m.href())},
			plain(b.heights(m.row())), plain(b.position(m.row().Position)), plain(b.zoneOf(m)),
			plain(b.answerAt(c, m.careful[0], 0)), plain(b.answerAt(c, m.half[0], 0)), plain(b.answerAt(c, m.half[1], 0)), plain(b.answerAt(c, m.careful[1], 0)), plain(free),
		})
	}
	return t
}

// find is the page on which readers find their band: by place, then by height and
// position.
func (b *builder) find() *Page {
	p := b.newPage(FindPath, HTML(FindPath), b.t("find.title"), b.t("find.description"))
	p.add(Para{Lead: true, Text: b.say("find.lead")})
	p.add(b.prose(FindPath, 0)...)
	if len(b.Tables.Places) > 0 {
		p.add(b.heading(2, "places", "find.h.places"), b.placeTable(), para(Inline{Text: b.t("find.border", "height", b.words.Height(borderWidth))}))
	}
	p.add(b.heading(2, "heights", "find.h.heights"), para(Inline{Text: b.t("find.heights.intro")}))
	positions := List{}
	for _, k := range []catalog.Position{catalog.Hollow, catalog.Floor, catalog.Slope, catalog.Ridge} {
		key := "position." + k.String()
		positions.Items = append(positions.Items, []Inline{{Text: b.t("label", "name", firstUpper(b.t(key))), Strong: true}, {Text: " " + b.t(key+".means")}})
	}
	p.add(positions)
	p.add(b.estimateNotes(b.made...)...)
	p.add(b.bandTable("band-table", b.t("find.caption"), b.byHeight()))
	p.add(b.bandless()...)
	p.add(b.heading(2, "choose", "find.h.choose"))
	questions := List{}
	for _, k := range []string{"frost", "fog", "above", "wind"} {
		questions.Items = append(questions.Items, b.say("band.border."+k))
	}
	p.add(para(Inline{Text: b.t("find.choose.intro")}), questions, para(Inline{Text: b.t("find.zone")}))
	return p
}

// bandless says which heights have no band: below the lowest, between two, above the
// highest. Nothing is said where a band has no lower or no upper limit there.
func (b *builder) bandless() []Block {
	type span struct{ low, high quantity.Metres }
	var spans []span
	lowest, highest := true, true // whether the limit is known
	for _, m := range b.made {
		low, hasLow := m.row().Low.Get()
		high, hasHigh := m.row().High.Get()
		lowest, highest = lowest && hasLow, highest && hasHigh
		if !hasLow {
			low = quantity.Metres(math.Inf(-1))
		}
		if !hasHigh {
			high = quantity.Metres(math.Inf(1))
		}
		spans = append(spans, span{low, high})
	}
	if len(spans) == 0 {
		return nil
	}
	slices.SortFunc(spans, func(a, c span) int { return cmp.Compare(a.low, c.low) })
	var none []string
	if lowest {
		none = append(none, b.t("find.below", "height", b.words.Height(spans[0].low)))
	}
	top := spans[0].high
	for _, s := range spans[1:] {
		if s.low > top {
			none = append(none, b.words.HeightRange(top, s.low))
		}
		top = max(top, s.high)
	}
	if highest {
		none = append(none, b.t("find.above", "height", b.words.Height(top)))
	}
	if len(none) == 0 {
		return nil
	}
	return []Block{para(Inline{Text: b.t("find.bandless", "heights", b.words.And(none...))})}
}

// byHeight is the bands from low to high.
func (b *builder) byHeight() []*bandPage {
	out := append([]*bandPage(nil), b.made...)
	low := func(m *bandPage) quantity.Metres { v, _ := m.row().Low.Get(); return v }
	for i := 1; i < len(out); i++ {
		for j := i; j > 0 && low(out[j]) < low(out[j-1]); j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}
