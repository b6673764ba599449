package page

import "shedwall/cmd/shedwall/internal/plan"

// tonightLeaf is the cards on paper, side by side, with at most so many crops named in
// each group.
func (b *builder) tonightLeaf(m *bandPage, most int) *Leaf {
	l := b.newLeaf(m, TonightPath(m.row().ID), "tonight.name")
	strip := LeafStrip{Cut: len(m.hand.cards) > 1}
	for i, t := range m.hand.cards {
		strip.Columns = append(strip.Columns, b.cardColumn(m, t, most, i == 0))
	}
	l.Strips = []LeafStrip{strip}
	return b.closed(l)
}

// cardColumn is one card.
func (b *builder) cardColumn(m *bandPage, t plan.Tonight, most int, first bool) []LeafBlock {
	d, unit := t.Degrees, b.unit(t.Degrees)
	level := 2
	if first {
		level = 1
	}
	out := []LeafBlock{LeafHeading{Level: level, Text: b.t("tonight.card.title", "band", m.row().Name), Corner: unit}}
	own, sum := b.t("tonight.no_default"), ""
	if still, windy, ok := b.nights(m, d); ok {
		own = b.t("tonight.box2.note."+sameNights(still, windy), "still", b.signed(still), "windy", b.signed(windy))
		sum = b.example(d, still)
	}
	out = append(out, LeafBoxes{Across: true, Boxes: []LeafBox{
		{Number: "1", Label: b.t("tonight.box1", "station", b.stationName(m)), Unit: unit, Says: b.t("leaf.box", "number", "1")},
		{Number: "2", Label: b.t("tonight.box2"), Sign: b.t("tonight.and"), Unit: unit, Says: b.t("leaf.box", "number", "2")},
		{Number: "3", Label: b.t("tonight.box3"), Note: sum, Sign: b.t("tonight.makes"), Unit: unit, Says: b.t("leaf.box", "number", "3")},
	}})
	// What stands to say of the first two takes fewer lines across the card than under its box.
	out = append(out, LeafText{Lead: "1", Text: b.whereToRead(m), Small: true}, LeafText{Lead: "2", Text: own, Small: true})
	out = append(out, LeafText{Text: b.t("tonight.how.paper")}, b.cardTable(t))
	for _, id := range layersOn(t) {
		out = append(out, LeafText{Lead: b.layersCode(id), Text: b.layersName(id), Small: true})
	}
	out = append(out, LeafText{Lead: b.t("tonight.pick.short"), Text: b.t("tonight.pick.means"), Small: true})
	for _, r := range b.tonightRules(t) {
		out = append(out, LeafText{Lead: r.lead, Text: r.text, Small: true})
	}
	if b.estimateOf(m) != "" {
		out = append(out, LeafText{Text: b.t("tonight.estimate"), Small: true})
	}
	for _, g := range t.Groups {
		out = append(out, LeafText{Lead: string(g.Group), Text: b.groupCrops(g, most), Small: true})
	}
	return out
}

// cardTable is the table of a card: covers by their letters.
func (b *builder) cardTable(t plan.Tonight) LeafTable {
	out := LeafTable{Whole: true, Head: []string{b.t("tonight.head.low.short")}}
	for _, g := range t.Groups {
		out.Head = append(out.Head, string(g.Group)+"\n"+b.t("tonight.group."+string(g.Group)))
	}
	for i, r := range t.Rows {
		low := b.t("tonight.row.colder.short")
		if !r.Colder {
			low = b.lows(t, i, "")
		}
		row := []LeafCell{{Text: low, Strong: true}}
		for k, n := range r.Needs {
			c := LeafCell{Strong: n.State == plan.Covered || n.State == plan.PickToday}
			switch n.State {
			case plan.Covered:
				c.Text = b.layersCode(n.Layers)
			case plan.NeedUnknown:
				c.Text = b.need(n)
			default:
				c.Text = b.t(needKeys[n.State] + ".short")
			}
			c.Rule = i > 0 && n != t.Rows[i-1].Needs[k]
			row = append(row, c)
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}
