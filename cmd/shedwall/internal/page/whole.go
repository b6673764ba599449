package page

import (
	"sync"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// chapters is what pages of bands leave for the whole guide, by the number of the band.
// Bands come in any order.
type chapters struct {
	mu    sync.Mutex
	bands map[int][]Block
	rows  map[int]posterColumn
}

// wholeBands is the most bands that a guide may have to be printed as one page.
const wholeBands = GroupSize

func (b *builder) whole() bool { return len(b.Bands) <= wholeBands }

// keepChapter is what the whole guide says of band i.
func (b *builder) keepChapter(i int, m *bandPage) {
	if !b.whole() {
		return
	}
	row := m.row()
	out := []Block{Heading{Level: 3, ID: "band-" + row.ID, Text: plain(row.Name)},
		para(Inline{Text: b.t("band.lead", "heights", b.heights(row), "position", b.position(row.Position), "zone", b.zoneOf(m))})}
	add := func(blocks ...Block) { out = append(out, reprint(blocks, 1)...) }
	add(b.bandFacts(m))
	add(b.estimateNotes(m)...)
	add(b.leftOutNotes(m)...)
	add(b.prose("bands/"+row.ID, 1)...)
	add(b.heading(3, "", "band.h.odds"), b.oddsTable(m))
	add(b.oddsNotes(m)...)
	if ch := m.twice.chart(); ch.drawn() {
		add(ch)
	} else {
		add(para(Inline{Text: b.t("chart.nothing")}))
	}
	add(b.heading(3, "", "band.h.calendar"))
	for _, x := range m.twice.calendar() {
		switch x := x.(type) {
		case Heading:
			x.Level++
			add(x)
		case Table:
			add(x)
		}
	}
	add(m.twice.notHere()...)
	add(b.heading(3, "", "band.h.covers"))
	add(m.twice.covers()...)
	b.chapters.mu.Lock()
	defer b.chapters.mu.Unlock()
	if b.chapters.bands == nil {
		b.chapters.bands, b.chapters.rows = map[int][]Block{}, map[int]posterColumn{}
	}
	b.chapters.bands[i] = out
	b.chapters.rows[i] = posterColumnOf(m)
}

// reprint is blocks of other pages as part of a page of many: headings some levels
// deeper, no anchors, no lists of contents.
func reprint(blocks []Block, deeper int) []Block {
	var out []Block
	for _, x := range blocks {
		switch x := x.(type) {
		case Contents, Gallery:
			continue
		case Heading:
			x.Level, x.ID = min(6, x.Level+deeper), ""
			out = append(out, x)
		case Table:
			x.ID, x.RowIDs = "", nil
			out = append(out, x)
		case Chart:
			x.ID, x.Twin.ID, x.Twin.RowIDs = "", "", nil
			out = append(out, x)
		case Prose:
			x.Shift, x.Bare = x.Shift+deeper, true
			out = append(out, x)
		case Terms:
			for i := range x.Items {
				x.Items[i].ID = ""
			}
			out = append(out, x)
		case Para:
			x.Lead = false
			out = append(out, x)
		default:
			out = append(out, x)
		}
	}
	return out
}

// chapter is a page without its main heading, under a heading of its own.
func (b *builder) chapter(id string, p *Page) []Block {
	title := p.Blocks[0].(Heading).Text
	return append([]Block{Heading{Level: 2, ID: id, Text: title}}, reprint(p.Blocks[1:], 1)...)
}

// wholePage is the whole guide as one page to print: how to take the odds, finding a
// band, each band, crops, covers, safety, sources. It is the one page that may be heavy.
func (b *builder) wholePage() *Page {
	g := b.Tables.Guide
	p := b.newPage(WholePath, HTML(WholePath), g.Title, b.t("whole.description", "publisher", g.Publisher))
	p.Title = b.t("page.title", "page", b.t("whole.title"), "guide", g.Title)
	p.add(Para{Lead: true, Text: plain(b.t("whole.lead", "publisher", g.Publisher, "edition", b.edition()))})
	var rest []Block
	contents := Contents{Name: b.t("frame.contents")}
	part := func(blocks ...Block) {
		h := blocks[0].(Heading)
		contents.Items = append(contents.Items, Inline{Text: textsOf(h.Text), Href: "#" + h.ID})
		rest = append(rest, blocks...)
	}
	part(b.chapter("words", b.wordsPage())...)
	part(b.chapter("find", b.find())...)
	part(b.heading(2, "bands", "index.h.bands"), para(Inline{Text: b.t("calendar.intro", "odds", b.words.Odds(quantity.Careful))}), b.actionList())
	for i := range b.Bands {
		rest = append(rest, b.chapters.bands[i]...)
	}
	part(b.heading(2, "crops", "index.h.crops"), b.cropTable())
	part(b.heading(2, "covers", "index.h.covers"))
	for _, c := range everyCover(b.Tables) {
		rest = append(rest, b.coverChapter(c)...)
	}
	part(b.chapter("safety", b.safety())...)
	part(b.chapter("sources", b.sourcePage())...)
	if b.Booklet {
		p.add(b.bookletLinks())
	}
	p.add(contents)
	p.add(rest...)
	return p
}

// coverChapter is what the whole guide says of a cover.
func (b *builder) coverChapter(c *catalog.Cover) []Block {
	out := []Block{Heading{Level: 3, ID: "cover-" + c.ID, Text: plain(firstUpper(c.Name))}, b.drawing(c), b.coverFacts(c)}
	out = append(out, reprint(b.prose("covers/"+c.ID, 1), 1)...)
	if c.Note != "" {
		out = append(out, para(Inline{Text: c.Note}))
	}
	if low, known := c.Gain.Low.Get(); known && low <= 0 {
		out = append(out, Note{Kind: "caution", Label: b.t("note.no_help"), Text: b.say("cover.no_help")})
	}
	return out
}

// cropTable is what each crop stands and needs, a row a crop.
func (b *builder) cropTable() Table {
	t := Table{Caption: b.t("whole.crops.caption"), RowHeads: true, Head: []string{b.t("crops_page.crop"), b.t("crop.fact.young"), b.t("crop.fact.grown"),
		b.t("crop.fact.soil"), b.t("crop.fact.days"), b.t("whole.crops.spacing")}}
	order := make([]int, len(b.Tables.Crops))
	for i := range order {
		order[i] = i
	}
	sortByName(order, func(i int) string { return b.Tables.Crops[i].Name })
	for _, i := range order {
		c := &b.Tables.Crops[i]
		row := [][]Inline{{link(c.Name, HTML(CropPath(c.ID)))}}
		for _, f := range b.cropFacts(c).Items {
			row = append(row, f.Value)
		}
		spacing := b.t("not_known")
		if v, ok := c.SpacingCm.Get(); ok {
			spacing = b.length(v, 0)
		}
		t.Rows = append(t.Rows, append(row[:min(len(row), 5)], plain(spacing)))
	}
	return t
}

func textsOf(in []Inline) string {
	s := ""
	for _, x := range in {
		s += x.Text
	}
	return s
}
