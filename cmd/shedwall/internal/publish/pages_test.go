package publish

import (
	"os"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/made"
	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/proof"
)

// A guide of more bands than stand on one page of a crop has further pages of it: each
// band stands on one, its own pages lead there, and all lead to each other.
func TestCropPages(t *testing.T) {
	program := os.DirFS(proof.Root(t))
	dir := t.TempDir()
	size := made.Size{Bands: 2*page.GroupSize + 1, Stations: 1, Crops: 2, Layers: 1, Years: 25}
	if err := size.Write(dir, program); err != nil {
		t.Fatal(err)
	}
	g, err := Load(os.DirFS(dir), program)
	if err != nil || g.Faults.HasErrors() {
		t.Fatal(err, g.Faults.Sorted())
	}
	p := newPress(g, nil)
	pages, titles := map[string]barePage{}, map[string]string{}
	for _, x := range p.everyPage() {
		if other, twice := titles[x.Title]; twice {
			t.Errorf("%s and %s are both called %q", other, x.Path, x.Title)
		}
		if _, twice := pages[page.HTML(x.Path)]; twice {
			t.Errorf("%s is made twice", x.Path)
		}
		titles[x.Title], pages[page.HTML(x.Path)] = x.Path, bareOf(x)
	}
	crop := g.Tables.Crops[0].ID
	own := func(n int) string { return page.HTML(page.CropPagePath(crop, n)) }
	for path, x := range pages {
		for _, in := range x.inlines() {
			to, _, _ := strings.Cut(in.Href, "#")
			if _, ok := pages[to]; !ok && strings.HasPrefix(to, "crops/") {
				t.Errorf("%s leads to %s, which is not there", path, to)
			}
		}
	}
	leads := func(from, to string) bool {
		for _, in := range pages[from].inlines() {
			if href, _, _ := strings.Cut(in.Href, "#"); href == to {
				return true
			}
		}
		return false
	}
	for n := 1; n <= 3; n++ {
		for m := 1; m <= 3; m++ {
			if n != m && !leads(own(n), own(m)) {
				t.Errorf("%s does not lead to %s", own(n), own(m))
			}
		}
		for i, b := range g.Tables.Bands {
			at := page.HTML(page.BandPath(b.ID))
			here := i/page.GroupSize+1 == n
			if got := leads(own(n), at); got != here {
				t.Errorf("%s leads to band %d: %v", own(n), i+1, got)
			}
			if got := leads(at, own(n)); got && !here {
				t.Errorf("band %d leads to %s, where it does not stand", i+1, own(n))
			}
		}
	}
	if !leads(page.HTML(page.BandPath(g.Tables.Bands[60].ID)), own(2)) {
		t.Errorf("band 61 does not lead to %s", own(2))
	}
}

func (x barePage) inlines() (out []page.Inline) {
	for _, b := range x.Blocks {
		for _, row := range b.Rows {
			for _, cell := range row {
				out = append(out, cell...)
			}
		}
	}
	return out
}

// everyPage is all pages of text in the guide's own language.
func (p *press) everyPage() []*page.Page { return p.everything().Pages }

// everything is what stands on the site in the guide's own language.
func (p *press) everything() *page.Guide {
	in := p.guide.voices[0].in(p.in, p.guide.languages())
	for i := range in.Bands {
		in.Bands[i].Plans = p.guide.Planner.Band(in.Bands[i].Climate)
	}
	return page.Build(in)
}

// barePage is a page's text without its layout.
type barePage struct {
	Lang, Title string
	Blocks      []bareBlock
}

// bareBlock is a table where it has a head, else paragraphs.
type bareBlock struct {
	Head []string
	Rows [][][]page.Inline
}

func bareOf(x *page.Page) barePage {
	out := barePage{Lang: x.Lang, Title: x.Title}
	lines := func(all ...[]page.Inline) { out.Blocks = append(out.Blocks, bareBlock{Rows: [][][]page.Inline{all}}) }
	for _, block := range x.Blocks {
		switch block := block.(type) {
		case page.Heading:
			lines(block.Text)
		case page.Para:
			lines(block.Text)
		case page.Note:
			lines(block.Text)
		case page.List:
			lines(block.Items...)
		case page.Contents:
			lines(block.Items)
		case page.Facts:
			for _, f := range block.Items {
				lines(f.Value, f.Detail)
			}
		case page.Table:
			out.Blocks = append(out.Blocks, bareBlock{block.Head, block.Rows})
		case page.Chart:
			out.Blocks = append(out.Blocks, bareBlock{block.Twin.Head, block.Twin.Rows})
		}
	}
	return out
}
