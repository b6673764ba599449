package page

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/record"
)

// handouts are the leaves of a band and what they are made from.
type handouts struct {
	cards              []plan.Tonight
	garden             gardenDates
	tonight, worksheet *Leaf // nil where there is nothing to print
}

// fewestNamed is the least number of crops that a card names in a group.
const fewestNamed = 8

// fewestLows is the least number of rows that a card keeps.
const fewestLows = 6

// hand makes a band's leaves. A card that finds no room names fewer crops, then has fewer
// rows, its page with it.
func (b *builder) hand(m *bandPage) {
	m.hand.cards = m.wall.Cards
	if len(m.hand.cards[0].Rows) > 0 {
		most := 0
		for _, g := range m.hand.cards[0].Groups {
			most = max(most, len(g.Crops))
		}
		b.fitTonight(m, most)
	}
	if m.in.Climate.Nearest() >= 0 {
		m.hand.garden = b.gardenDates(m)
		m.hand.worksheet = b.worksheetLeaf(m)
	}
}

// fitTonight makes the card with as many crops named as it has room for: most, or fewer by
// twos, down to fewestNamed; then with fewer rows, and only where that does not do with fewer
// names still. The fewer are named the less room it
// takes, so that not every number need be tried.
func (b *builder) fitTonight(m *bandPage, most int) {
	fits := func(named int) bool {
		m.hand.tonight = b.tonightLeaf(m, named)
		return b.LeafFits == nil || b.LeafFits(m.hand.tonight) == nil
	}
	if fits(most) {
		return
	}
	steps := max(0, most-fewestNamed+1) / 2
	n := 1 + sort.Search(steps, func(i int) bool { return fits(most - 2*(i+1)) })
	m.hand.tonight = b.tonightLeaf(m, most-2*min(n, steps))
	if n <= steps {
		return
	}
	for named := most - 2*steps; !fits(named); {
		switch {
		case thin(m.hand.cards):
		case named > 1:
			named-- // names so long that not even the fewest have room
		default:
			return
		}
	}
}

// thin takes one row from every card that has more than the fewest, and says whether there
// was one to take.
func thin(cards []plan.Tonight) bool {
	done := false
	for i := range cards {
		if len(cards[i].Rows) > fewestLows && cards[i].Thin() {
			done = true
		}
	}
	return done
}

// newLeaf begins a leaf of a band; closed ends it.
func (b *builder) newLeaf(m *bandPage, path, nameKey string) *Leaf {
	g := b.Tables.Guide
	return &Leaf{Path: path, Lang: b.words.Language(), Band: m.row().Name, Name: b.t(nameKey), Subject: b.heights(m.row()),
		Edition: b.t("sheet.edition", "guide", g.Title, "edition", strconv.Itoa(g.Edition)), Dated: isoDate(g.EditionDate)}
}

// estimateLine says on paper that dates of a band are estimates and what they do not wait
// for; "" where there is nothing to say.
func (b *builder) estimateLine(m *bandPage) string {
	return strings.Join(m.wall.leadEstimate(m.careful[record.Last], m.half[record.Last], m.careful[record.First], m.half[record.First]), " ")
}

// running is the line at the foot of each page of a leaf of several, with the mark of an
// estimate.
func (b *builder) running(m *bandPage, key string) string {
	line := b.t(key, "band", m.row().Name)
	if b.estimateOf(m) != "" {
		line += " · " + b.t("leaf.estimate")
	}
	return line
}

// closed adds what stands at the foot of every printed page, and the code.
func (b *builder) closed(l *Leaf) *Leaf {
	g := b.Tables.Guide
	about := []string{l.Edition}
	if g.UseUntil != "" {
		about = append(about, b.t("sheet.foot.until", "date", g.UseUntil))
	}
	about = append(about, g.Publisher)
	if g.Address != "" {
		about = append(about, g.Address)
	}
	l.Foot = []string{strings.Join(about, " · ")}
	if g.Statement != "" {
		l.Foot = append(l.Foot, g.Statement)
	}
	if l.Running != "" && g.Short != "" {
		l.Running += " · " + g.Short
	}
	if text := begunText(b.Tables, b.words); text != "" {
		l.Strips = slices.Insert(l.Strips, 0, LeafStrip{Columns: [][]LeafBlock{{LeafText{Lead: text}}}})
	}
	l.Code = l.code()
	l.Foot[0] = firstUpper(b.t("sheet.code", "code", l.Code)) + " · " + l.Foot[0]
	return l
}

// leafLinks leads from a page of text to its leaf and to the band.
func (b *builder) leafLinks(m *bandPage, l *Leaf) Para {
	out := para()
	if l != nil && !b.Tables.Guide.FirstPDF {
		out.Text = append(out.Text, link(b.t("sheet.link.letter"), LeafPDF(l.Path, "letter")), Inline{Text: " · "},
			link(b.t("sheet.link.a4"), LeafPDF(l.Path, "a4")), Inline{Text: " · "})
	}
	out.Text = append(out.Text, link(b.t("sheet.link.band", "band", m.row().Name), m.href()))
	return out
}

// cardTables leads from a band's page to its card and worksheet in every form.
func (b *builder) cardTables(m *bandPage) Block {
	t := Table{ID: "card-table", Caption: b.t("band.cards.caption", "band", m.row().Name), RowHeads: true,
		Head: []string{b.t("band.cards.card"), b.t("band.cards.for"), b.t("band.sheets.paper"), b.t("band.sheets.code")}}
	for _, x := range []struct {
		key, path string
		leaf      *Leaf
	}{{"tonight", TonightPath(m.row().ID), m.hand.tonight}, {"worksheet", WorksheetPath(m.row().ID), m.hand.worksheet}} {
		pdf, code := b.say("band.cards.none"), b.say("band.cards.none")
		switch {
		case x.leaf != nil && b.Tables.Guide.FirstPDF:
			pdf = b.say("band.sheets.no_pdf")
		case x.leaf != nil:
			pdf = []Inline{heardLink(b.t(x.key+".name"), b.t("paper.letter.cell"), LeafPDF(x.path, "letter")), {Text: " · "}, heardLink(b.t(x.key+".name"), b.t("paper.a4.cell"), LeafPDF(x.path, "a4"))}
			code = plain(x.leaf.Code)
		}
		t.Rows = append(t.Rows, [][]Inline{{link(b.t(x.key+".name"), HTML(x.path))}, b.say("band.cards.for." + x.key), pdf, code})
	}
	return t
}
