package page

import (
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// takeOff says in words when covers go on and come off in a band, and leads to the dates.
func (b *builder) takeOff(m *bandPage) []Block {
	out := []Block{
		para(Inline{Text: b.t("band.freeze.evening")}),
		para(Inline{Text: b.t("band.freeze.open", "temp", b.words.Temp(openAt, words.Down)) + " " + b.t("band.freeze.flowers")}),
		para(Inline{Text: b.t("band.freeze.card") + " "}, link(b.t("tonight.title", "band", m.row().Name), HTML(TonightPath(m.row().ID)))),
	}
	if len(b.planner.OfferedIn(m.in.Climate)) > 0 {
		out = append(out, para(Inline{Text: b.t("takeoff.more") + " "}, link(b.t("tonight.h.open"), HTML(TonightPath(m.row().ID))+"#open")))
	}
	return out
}

// takeOffTables are from when covers in use are opened by day, until when they are worth
// their work, and from when crops that need insects are uncovered. They stand on the page
// of the tonight card, as the band's own is long.
func (b *builder) takeOffTables(m *bandPage) (out []Block) {
	if t := b.ventTable(m); len(t.Rows) > 0 {
		out = append(out, b.heading(3, "vents", "takeoff.h.vents"), para(Inline{Text: b.t("takeoff.vents.intro", "odds", b.words.Odds(quantity.Careful))}), t)
	}
	if t := b.lastUseTable(m); len(t.Rows) > 0 {
		out = append(out, b.heading(3, "worth", "takeoff.h.worth"), para(Inline{Text: b.t("takeoff.worth.intro", "odds", b.words.Odds(quantity.Careful))}), t)
	}
	if t := b.uncoverTable(m); len(t.Rows) > 0 {
		out = append(out, b.heading(3, "uncover", "takeoff.h.uncover"), para(Inline{Text: b.t("takeoff.uncover.intro")}), t)
	}
	return out
}

// dayOr is a day, or that there is none.
func (b *builder) dayOr(s quantity.Slot) string {
	if s < 0 {
		return b.t("takeoff.no_day")
	}
	return b.words.Date(b.date(s))
}

// opensAt is when a cover is opened, with where that is read.
func (b *builder) opensAt(v plan.Vent) string {
	key := "vent.outside"
	if v.Inside {
		key = "vent.inside"
	}
	return b.t(key, "temp", b.words.Temp(v.Opens, words.Down))
}

// ventTable is from when in spring, and until when in fall, days of a band ask for each
// cover in use to be opened.
func (b *builder) ventTable(m *bandPage) Table {
	t := Table{ID: "vent-table", Caption: b.t("takeoff.vents.caption", "band", m.row().Name), RowHeads: true, Head: []string{
		b.t("covers.buy.head.layers"), b.t("cover.fact.vent"), b.t("takeoff.head.early", "odds", b.words.Odds(quantity.Careful)), b.t("takeoff.head.half", "odds", b.words.Odds(quantity.Half)), b.t("takeoff.head.daily"), b.t("takeoff.head.last")}}
	used := coversOf(b.planner.OfferedIn(m.in.Climate))
	for i := range b.Tables.Covers {
		cv := &b.Tables.Covers[i]
		if !used[cv.ID] {
			continue
		}
		v, ok := plan.VentOf(m.in.Climate, cv)
		if !ok {
			continue
		}
		t.Rows = append(t.Rows, [][]Inline{{link(cv.Name, HTML(CoverPath(cv.ID)))}, plain(b.opensAt(v)),
			plain(b.dayOr(v.Early)), plain(b.dayOr(v.Half)), plain(b.dayOr(v.Daily)), plain(b.dayOr(v.Last))})
	}
	return t
}

// coverVents is the same for one cover, a row a band.
func (b *builder) coverVents(c *catalog.Cover) []Block {
	t := Table{ID: "vent-table", Caption: b.t("takeoff.cover.caption", "cover", firstUpper(c.Name)), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("takeoff.head.early", "odds", b.words.Odds(quantity.Careful)), b.t("takeoff.head.half", "odds", b.words.Odds(quantity.Half)), b.t("takeoff.head.daily"), b.t("takeoff.head.last")}}
	var at plan.Vent
	for _, m := range b.made {
		v, ok := plan.VentOf(m.in.Climate, c)
		if !ok {
			continue
		}
		at = v
		t.Rows = append(t.Rows, [][]Inline{{link(m.row().Name, m.href())}, plain(b.dayOr(v.Early)), plain(b.dayOr(v.Half)), plain(b.dayOr(v.Daily)), plain(b.dayOr(v.Last))})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	intro := b.t("takeoff.cover.outside", "opens", b.words.Temp(at.Opens, words.Down))
	if at.Inside {
		intro = b.t("takeoff.cover.inside", "opens", b.words.Temp(at.Opens, words.Down), "outside", b.words.Temp(at.Outside, words.Down))
	}
	return []Block{b.heading(2, "vents", "takeoff.h.vents"), para(Inline{Text: intro}), t}
}

// lastUseTable is the last evening of spring on which each set of layers is worth its work.
func (b *builder) lastUseTable(m *bandPage) Table {
	t := Table{ID: "worth-table", Caption: b.t("takeoff.worth.caption", "band", m.row().Name), RowHeads: true, Head: []string{
		b.t("covers.buy.head.layers"), b.t("takeoff.head.most"), b.t("takeoff.head.longest"), b.t("takeoff.head.crop")}}
	for _, u := range b.planner.LastUses(m.in.Climate, m.in.Plans) {
		t.Rows = append(t.Rows, [][]Inline{b.layersLink(u.Layers), plain(b.dayOr(u.Most)), plain(b.dayOr(u.Last)), {link(u.Crop.Name, cropHref(m, u.Crop.ID))}})
	}
	return t
}

// uncoverTable is from when covers that keep insects out must be off by day, for each
// crop that needs them, under the layers with which it is picked first.
func (b *builder) uncoverTable(m *bandPage) Table {
	t := Table{ID: "uncover-table", Caption: b.t("takeoff.uncover.caption", "band", m.row().Name), RowHeads: true, Head: []string{
		b.t("head.crop"), b.t("takeoff.head.under"), b.t("takeoff.head.from")}}
	var row plan.Uncover
	flush := func() {
		if row.Crop == nil {
			return
		}
		from := b.t("takeoff.uncover.flowers")
		if row.Dated {
			from = b.t("takeoff.uncover.from", "date", b.words.Date(b.date(row.From)))
		}
		t.Rows = append(t.Rows, [][]Inline{{link(row.Crop.Name, cropHref(m, row.Crop.ID))}, b.layersLink(row.Layers), plain(from)})
	}
	for _, u := range b.planner.Uncovers(m.in.Plans) {
		switch {
		case row.Crop != u.Crop:
			flush()
			row = u
		case u.Dated && (!row.Dated || u.From < row.From):
			row = u
		}
	}
	flush()
	return t
}

// coversOf is every cover that stands in any of some sets of layers.
func coversOf(layers []string) map[string]bool {
	out := map[string]bool{}
	for _, id := range layers {
		for _, c := range catalog.SplitLayers(id) {
			out[c] = true
		}
	}
	return out
}
