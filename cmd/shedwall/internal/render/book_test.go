package render

import (
	"bytes"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

func plainInline(s string) []page.Inline { return []page.Inline{{Text: s}} }

// longPage has a chapter with a table of 120 rows: more than two pages of a book.
func longPage() *page.Page {
	p := &page.Page{Path: "guide", Blocks: []page.Block{
		page.Heading{Level: 1, Text: plainInline("Guide")}, page.Para{Lead: true, Text: plainInline("On the cover.")},
		page.Heading{Level: 2, ID: "a", Text: plainInline("First chapter")}, page.Para{Text: plainInline("Words of the first chapter.")},
		page.Heading{Level: 3, Text: plainInline("A part of it")},
		page.Drawing{ID: "frame", Kind: "glass", Name: "A frame"},
		page.List{Items: [][]page.Inline{plainInline("one"), plainInline("two")}},
		page.Heading{Level: 2, ID: "b", Text: plainInline("Second chapter")},
	}}
	t := page.Table{Caption: "Rows", RowHeads: true, Head: []string{"Name", "Figure"}}
	for range 120 {
		t.Rows = append(t.Rows, [][]page.Inline{plainInline("Kale"), plainInline("12 May")})
	}
	p.Blocks = append(p.Blocks, t)
	return p
}

func TestBookIsTheSameTwice(t *testing.T) {
	facts := page.BookFacts{Title: "Guide", Edition: "edition 3", Lang: "en", Dated: "2026-02-01", Contents: "Contents", Page: "page {n}", StatementShort: "Everyone is welcome."}
	a, err := BookPDF(facts, longPage())
	if err != nil {
		t.Fatal(err)
	}
	b, err := BookPDF(facts, longPage())
	if err != nil || !bytes.Equal(a, b) {
		t.Errorf("other bytes the second time, or %v", err)
	}
}

// TestBookPages: a chapter begins a page, a heading is never the last thing on one, a
// table goes on with its heading row, and no line lies below the text.
func TestBookPages(t *testing.T) {
	b := &book{x: bookMargin, w: bookPaper.Width - 2*bookMargin}
	b.blocks(body(longPage()), page.Prose{})
	if b.err != nil {
		t.Fatal(b.err)
	}
	pages, entries := b.paginate()
	if len(pages) < 3 || len(entries) != 3 || entries[0].page != 0 || entries[2].page != 1 {
		t.Fatalf("%d pages, entries %v", len(pages), entries)
	}
	heads := 0
	for _, d := range pages {
		for _, m := range d.marks {
			r, ok := m.(run)
			if !ok {
				continue
			}
			if r.y > bookTop+bookRoom()+1 {
				t.Errorf("%q lies at %.0f mm, the text ends at %.0f", r.s, r.y, bookTop+bookRoom())
			}
			if r.s == "Name" {
				heads++
			}
		}
	}
	if heads != len(pages)-1 { // the table begins on the second page
		t.Errorf("%d heading rows on %d pages", heads, len(pages))
	}
}

func TestBookSaysWhatItCannotPrint(t *testing.T) {
	p := longPage()
	p.Blocks = append(p.Blocks, page.Para{Text: plainInline("snow \u2603\U0001F600")})
	if _, err := BookPDF(page.BookFacts{Title: "Guide", Page: "{n}"}, p); err == nil || !strings.Contains(err.Error(), "no sign for") {
		t.Errorf("no word about a sign that the type lacks: %v", err)
	}
}

// TestPosterDates: by hand; the least type is 7 points, and 36 mm hold about 27 letters.
func TestPosterDates(t *testing.T) {
	inside := page.PosterCell{Bars: []page.Bar{{Kind: page.BarInside}, {Kind: page.BarSetOut}}}
	for _, c := range []struct {
		cell        page.PosterCell
		dates, want string
	}{
		{page.PosterCell{}, "sow 1 May-2 Jun", "sow 1 May-2 Jun"},
		{inside, "in 1 Apr-2 May · out 1 May-2 Jun · ready 3 Jul-4 Aug", "out 1 May-2 Jun"},
		{page.PosterCell{}, "only under N+F: sow 10 May-24 Jun · ready 3 Jul-4 Aug", "N+F: sow 10 May-24 Jun"},
	} {
		if got := posterDates(c.cell, c.dates, 36); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestBookBeginsWithTheGuide: what stands before the list of contents leads from the web page to
// other papers; a bound guide does not print it.
func TestBookBeginsWithTheGuide(t *testing.T) {
	text := func(s string) page.Para { return page.Para{Text: []page.Inline{{Text: s}}} }
	h := page.Heading{Level: 1, Text: []page.Inline{{Text: "Guide"}}}
	lead := text("lead")
	lead.Lead = true
	p := &page.Page{Blocks: []page.Block{h, lead, text("to other papers"), page.Contents{}, text("first")}}
	out := body(p)
	if _, ok := out[0].(page.Contents); !ok || len(out) != 2 {
		t.Errorf("begins with %T of %d blocks", out[0], len(out))
	}
	p.Blocks = []page.Block{h, lead, text("first")}
	if out := body(p); len(out) != 1 || out[0].(page.Para).Text[0].Text != "first" {
		t.Errorf("without contents: %v", out)
	}
}

// TestPosterHeadsAlike: the names of bands have one size, which is that of the longest.
func TestPosterHeadsAlike(t *testing.T) {
	bands := []page.PosterBand{{Name: "Floor"}, {Name: "A band of a name that hardly fits over it"}}
	alone, big, err := posterHeads(bands[:1], 30)
	if err != nil || len(alone[0]) != 1 || big != 13 {
		t.Errorf("alone: %v at %v, %v", alone, big, err)
	}
	heads, size, err := posterHeads(bands, 30)
	if err != nil || size >= big || len(heads[0]) != 1 || len(heads[1]) < 2 {
		t.Errorf("%v at %v, %v", heads, size, err)
	}
	for _, lines := range heads {
		for _, l := range lines {
			if textWidth(l, bold, size) > 30 {
				t.Errorf("%q is wider than its column", l)
			}
		}
	}
}
