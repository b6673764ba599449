package render

import (
	"bytes"
	"maps"
	"math"
	"slices"

	"github.com/carlos7ags/folio/content"
	"github.com/carlos7ags/folio/core"
	"github.com/carlos7ags/folio/document"
)

// pdfCanvas draws a sheet as a tagged PDF of one page, a longer leaf as one of several.
// Only this file, pdf_tags.go and pdf_font.go know the PDF library, and only its lowest
// layer: the layers above it tag no table cells.
//
// Structure: Document > H1, P, L > LI, Table > THead, TBody > TR > TH, TD > Figure. What
// carries no meaning of its own (grid, ticks, codes repeated at the right) is an
// artifact.
type pdfCanvas struct {
	paper   Paper
	facts   pdfFacts
	out     *content.Stream
	letters [2]map[rune]bool
	root    *pdfNode
	stack   []*pdfNode
	marked  *pdfNode   // whose marked content is open; nil and artifact unset: none
	artful  bool       // an artifact is open
	content []*pdfNode // owner of each marked-content id of the page
	done    []pdfPage  // pages before this one
	width   float64    // line width last set
	round   bool
	dash    dash
}

// pdfFacts are the properties of the document.
type pdfFacts struct {
	title, lang, subject string
	dated                string // YYYY-MM-DD or ""
	outline              []pdfMark
}

// pdfMark is an entry of the outline and the height on the page it leads to, in
// mm from the top. Page counts from 0.
type pdfMark struct {
	title string
	y     float64
	page  int
	deep  bool // stands under the entry before it that is not deep
}

// pdfPage is a page that has been drawn: its operators and whose content they are.
type pdfPage struct {
	out     *content.Stream
	content []*pdfNode
}

// pdfNode is an element of the structure tree. Kids are elements and pieces of marked
// content.
type pdfNode struct {
	part part
	up   *pdfNode
	kids []any
}

func newPDF(p Paper, facts pdfFacts) *pdfCanvas {
	root := &pdfNode{part: part{tag: "Document"}}
	return &pdfCanvas{
		paper: p, facts: facts, out: content.NewStream(), root: root, stack: []*pdfNode{root},
		letters: [2]map[rune]bool{{}, {}},
	}
}

// pts turns mm into points, to a hundredth: 0.004 mm.
func pts(mm float64) float64 { return math.Round(mm/point*100) / 100 }

func (c *pdfCanvas) x(mm float64) float64 { return pts(mm) }
func (c *pdfCanvas) y(mm float64) float64 { return pts(c.paper.Height - mm) }

func (c *pdfCanvas) open(p *part) {
	top := c.stack[len(c.stack)-1]
	n := &pdfNode{part: *p, up: top}
	top.kids = append(top.kids, n)
	c.stack = append(c.stack, n)
}

func (c *pdfCanvas) shut() { c.stack = c.stack[:len(c.stack)-1] }

// mark opens the marked content that a following operator belongs to.
func (c *pdfCanvas) mark(decor bool) {
	top := c.stack[len(c.stack)-1]
	if decor && c.artful || !decor && c.marked == top {
		return
	}
	c.unmark()
	if decor {
		c.out.BeginMarkedContent("Artifact")
		c.artful = true
		return
	}
	id := len(c.content)
	c.out.BeginMarkedContentWithID(top.part.tag, id)
	c.content = append(c.content, top)
	top.kids = append(top.kids, pdfPiece{len(c.done), id})
	c.marked = top
}

// turn ends a page and begins the next. Elements that are open go on there.
func (c *pdfCanvas) turn() {
	c.unmark()
	c.done = append(c.done, pdfPage{c.out, c.content})
	c.out, c.content = content.NewStream(), nil
	c.width, c.round, c.dash = 0, false, dash{}
}

func (c *pdfCanvas) unmark() {
	if c.artful || c.marked != nil {
		c.out.EndMarkedContent()
	}
	c.artful, c.marked = false, nil
}

func (c *pdfCanvas) strokes(s strokes) {
	c.mark(s.decor)
	if w := pts(s.width); w != c.width {
		c.out.SetLineWidth(w)
		c.width = w
	}
	if s.round != c.round {
		ends := 0
		if s.round {
			ends = 1
		}
		c.out.SetLineCap(ends)
		c.round = s.round
	}
	if s.dash != c.dash {
		var d []float64
		if s.dash.on > 0 {
			d = []float64{pts(s.dash.on), pts(s.dash.off)}
		}
		c.out.SetDashPattern(d, 0)
		c.dash = s.dash
	}
	for _, l := range s.segs {
		c.out.MoveTo(c.x(l.x1), c.y(l.y1))
		c.out.LineTo(c.x(l.x2), c.y(l.y2))
	}
	c.out.Stroke()
}

func (c *pdfCanvas) fill(f fill) {
	c.mark(f.decor)
	x, y := c.x(f.box.x0), c.y(f.box.y1)
	c.out.Rectangle(x, y, pts(f.box.x1-f.box.x0), pts(f.box.y1-f.box.y0))
	c.out.Fill()
}

func (c *pdfCanvas) text(t run) {
	if t.s == "" {
		return
	}
	c.mark(t.decor)
	s := t.s
	if t.more {
		s += " " // so that words of two lines stay two words when read aloud
	}
	c.out.BeginText()
	c.out.SetFont([2]string{"R", "B"}[t.weight], math.Round(t.size*100)/100)
	c.out.MoveText(c.x(t.x), c.y(t.y))
	c.out.ShowTextHex(c.encode(s, t.weight))
	c.out.EndText()
}

// encode writes a text as the numbers of its glyphs, and notes its letters.
func (c *pdfCanvas) encode(s string, w weight) []byte {
	out := make([]byte, 0, 2*len(s))
	for _, r := range s {
		c.letters[w][r] = true
		id := pdfFaces()[w].GlyphIndex(r)
		out = append(out, byte(id>>8), byte(id))
	}
	return out
}

func (c *pdfCanvas) finish() ([]byte, error) {
	c.unmark()
	w := document.NewWriter("1.7")
	fonts := core.NewPdfDictionary()
	for i, name := range []string{"R", "B"} {
		f, err := subsetOf(weight(i), string(slices.Sorted(maps.Keys(c.letters[i]))))
		if err != nil {
			return nil, err
		}
		fonts.Set(name, f.addTo(w))
	}
	resources := core.NewPdfDictionary()
	resources.Set("Font", fonts)

	drawn := append(c.done, pdfPage{c.out, c.content})
	pages := core.NewPdfDictionary()
	pagesRef := w.AddObject(pages)
	leaves, refs := make([]*core.PdfDictionary, len(drawn)), make([]*core.PdfIndirectReference, len(drawn))
	kids := core.NewPdfArray()
	for i := range drawn {
		leaves[i] = core.NewPdfDictionary()
		refs[i] = w.AddObject(leaves[i])
		kids.Add(refs[i])
	}
	pages.Set("Type", core.NewPdfName("Pages"))
	pages.Set("Kids", kids)
	pages.Set("Count", core.NewPdfInteger(len(drawn)))
	for i, p := range drawn {
		page := leaves[i]
		page.Set("Type", core.NewPdfName("Page"))
		page.Set("Parent", pagesRef)
		page.Set("MediaBox", numbers(0, 0, pts(c.paper.Width), pts(c.paper.Height)))
		page.Set("Resources", resources)
		page.Set("Contents", w.AddObject(packedStream(pack(p.out.Bytes()), nil)))
		page.Set("Tabs", core.NewPdfName("S"))
		page.Set("StructParents", core.NewPdfInteger(i))
	}

	viewer := core.NewPdfDictionary()
	viewer.Set("DisplayDocTitle", core.NewPdfBoolean(true))
	markInfo := core.NewPdfDictionary()
	markInfo.Set("Marked", core.NewPdfBoolean(true))
	catalog := core.NewPdfDictionary()
	catalog.Set("Type", core.NewPdfName("Catalog"))
	catalog.Set("Pages", pagesRef)
	catalog.Set("Lang", core.NewPdfTextString(c.facts.lang))
	catalog.Set("MarkInfo", markInfo)
	catalog.Set("ViewerPreferences", viewer)
	catalog.Set("StructTreeRoot", c.structure(w, drawn, refs))
	catalog.Set("Metadata", w.AddObject(c.facts.metadata()))
	if len(c.facts.outline) > 0 {
		catalog.Set("Outlines", c.outline(w, refs))
	}
	w.SetRoot(w.AddObject(catalog))
	w.SetInfo(w.AddObject(c.facts.info()))

	var out bytes.Buffer
	_, err := w.WriteToWithOptions(&out, document.WriteOptions{UseXRefStream: true, UseObjectStreams: true, ObjectStreamCapacity: 1 << 16, Deterministic: true})
	return out.Bytes(), err
}

func numbers(vs ...float64) *core.PdfArray {
	a := core.NewPdfArray()
	for _, v := range vs {
		a.Add(core.NewPdfReal(v))
	}
	return a
}
