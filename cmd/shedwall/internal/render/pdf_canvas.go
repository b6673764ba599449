package render

import (
	"bytes"
	"math"

	"github.com/carlos7ags/folio/content"
	"github.com/carlos7ags/folio/core"
	"github.com/carlos7ags/folio/document"
	"github.com/carlos7ags/folio/font"
)

// pdfCanvas draws a sheet as a tagged PDF of one page. Only this file and
// pdf_font.go know the PDF library, and only its lowest layer: the layers above
// it tag no table cells.
//
// Structure: Document > H1, P, Table > THead, TBody > TR > TH, TD > Figure. What
// carries no meaning of its own (grid, ticks, codes repeated at the right) is an
// artifact.
type pdfCanvas struct {
	paper   Paper
	facts   pdfFacts
	out     *content.Stream
	fonts   [2]*font.EmbeddedFont
	root    *pdfNode
	stack   []*pdfNode
	marked  *pdfNode   // whose marked content is open; nil and artifact unset: none
	artful  bool       // an artifact is open
	content []*pdfNode // owner of each marked-content id
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
// mm from the top.
type pdfMark struct {
	title string
	y     float64
}

// pdfNode is an element of the structure tree. Kids are elements and, as
// integers, pieces of marked content.
type pdfNode struct {
	part part
	up   *pdfNode
	kids []any
}

func newPDF(p Paper, facts pdfFacts) *pdfCanvas {
	faces := pdfFaces()
	root := &pdfNode{part: part{tag: "Document"}}
	return &pdfCanvas{
		paper: p, facts: facts, out: content.NewStream(), root: root, stack: []*pdfNode{root},
		fonts: [2]*font.EmbeddedFont{font.NewEmbeddedFont(faces[regular]), font.NewEmbeddedFont(faces[bold])},
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
	top.kids = append(top.kids, id)
	c.marked = top
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
	c.out.ShowTextHex(c.fonts[t.weight].EncodeString(s))
	c.out.EndText()
}

func (c *pdfCanvas) finish() ([]byte, error) {
	c.unmark()
	w := document.NewWriter("1.7")
	fonts := core.NewPdfDictionary()
	for i, name := range []string{"R", "B"} {
		fonts.Set(name, w.AddObject(c.fonts[i].BuildObjects(w.AddObject)))
	}
	resources := core.NewPdfDictionary()
	resources.Set("Font", fonts)

	pages, page := core.NewPdfDictionary(), core.NewPdfDictionary()
	pagesRef, pageRef := w.AddObject(pages), w.AddObject(page)
	pages.Set("Type", core.NewPdfName("Pages"))
	pages.Set("Kids", core.NewPdfArray(pageRef))
	pages.Set("Count", core.NewPdfInteger(1))
	page.Set("Type", core.NewPdfName("Page"))
	page.Set("Parent", pagesRef)
	page.Set("MediaBox", numbers(0, 0, pts(c.paper.Width), pts(c.paper.Height)))
	page.Set("Resources", resources)
	page.Set("Contents", w.AddObject(c.out.ToPdfStream()))
	page.Set("Tabs", core.NewPdfName("S"))
	page.Set("StructParents", core.NewPdfInteger(0))

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
	catalog.Set("StructTreeRoot", c.structure(w, pageRef))
	catalog.Set("Metadata", w.AddObject(c.facts.metadata()))
	if len(c.facts.outline) > 0 {
		catalog.Set("Outlines", c.outline(w, pageRef))
	}
	w.SetRoot(w.AddObject(catalog))
	w.SetInfo(w.AddObject(c.facts.info()))

	var out bytes.Buffer
	_, err := w.WriteToWithOptions(&out, document.WriteOptions{UseXRefStream: true, UseObjectStreams: true, Deterministic: true})
	return out.Bytes(), err
}

func numbers(vs ...float64) *core.PdfArray {
	a := core.NewPdfArray()
	for _, v := range vs {
		a.Add(core.NewPdfReal(v))
	}
	return a
}

// structure writes the structure tree and the table that leads from marked
// content back to it.
func (c *pdfCanvas) structure(w *document.Writer, page *core.PdfIndirectReference) *core.PdfIndirectReference {
	root := core.NewPdfDictionary()
	rootRef := w.AddObject(root)
	refs := map[*pdfNode]*core.PdfIndirectReference{}
	var write func(n *pdfNode, up *core.PdfIndirectReference) *core.PdfIndirectReference
	write = func(n *pdfNode, up *core.PdfIndirectReference) *core.PdfIndirectReference {
		d := core.NewPdfDictionary()
		ref := w.AddObject(d)
		refs[n] = ref
		d.Set("Type", core.NewPdfName("StructElem"))
		d.Set("S", core.NewPdfName(n.part.tag))
		d.Set("P", up)
		d.Set("Pg", page)
		if n.part.alt != "" {
			d.Set("Alt", core.NewPdfTextString(n.part.alt))
		}
		if n.part.actual != "" {
			d.Set("ActualText", core.NewPdfTextString(n.part.actual))
		}
		if a := c.attributes(n.part); a != nil {
			d.Set("A", a)
		}
		kids := core.NewPdfArray()
		for _, k := range n.kids {
			switch k := k.(type) {
			case int:
				kids.Add(core.NewPdfInteger(k))
			case *pdfNode:
				kids.Add(write(k, ref))
			}
		}
		d.Set("K", kids)
		return ref
	}
	owners := core.NewPdfArray()
	top := write(c.root, rootRef)
	for _, n := range c.content {
		owners.Add(refs[n])
	}
	parents := core.NewPdfDictionary()
	parents.Set("Nums", core.NewPdfArray(core.NewPdfInteger(0), w.AddObject(owners)))
	root.Set("Type", core.NewPdfName("StructTreeRoot"))
	root.Set("K", core.NewPdfArray(top))
	root.Set("ParentTree", w.AddObject(parents))
	root.Set("ParentTreeNextKey", core.NewPdfInteger(1))
	return rootRef
}

// attributes are the scope of a heading cell and the place of a figure.
func (c *pdfCanvas) attributes(p part) *core.PdfDictionary {
	d := core.NewPdfDictionary()
	switch {
	case p.scope != "":
		d.Set("O", core.NewPdfName("Table"))
		d.Set("Scope", core.NewPdfName(p.scope))
	case p.tag == "Figure":
		d.Set("O", core.NewPdfName("Layout"))
		d.Set("Placement", core.NewPdfName("Block"))
		d.Set("BBox", numbers(c.x(p.box.x0), c.y(p.box.y1), c.x(p.box.x1), c.y(p.box.y0)))
	default:
		return nil
	}
	return d
}

// outline writes the bookmarks: the first entry on top, the others under it.
func (c *pdfCanvas) outline(w *document.Writer, page *core.PdfIndirectReference) *core.PdfIndirectReference {
	marks := c.facts.outline
	root, refs, items := core.NewPdfDictionary(), make([]*core.PdfIndirectReference, len(marks)), make([]*core.PdfDictionary, len(marks))
	rootRef := w.AddObject(root)
	for i, mk := range marks {
		d := core.NewPdfDictionary()
		d.Set("Title", core.NewPdfTextString(mk.title))
		d.Set("Dest", core.NewPdfArray(page, core.NewPdfName("XYZ"), core.NewPdfInteger(0), core.NewPdfReal(c.y(mk.y)), core.NewPdfNull()))
		items[i], refs[i] = d, w.AddObject(d)
	}
	items[0].Set("Parent", rootRef)
	root.Set("Type", core.NewPdfName("Outlines"))
	root.Set("First", refs[0])
	root.Set("Last", refs[0])
	root.Set("Count", core.NewPdfInteger(len(marks)))
	for i := 1; i < len(marks); i++ {
		items[i].Set("Parent", refs[0])
		if i > 1 {
			items[i].Set("Prev", refs[i-1])
		}
		if i+1 < len(marks) {
			items[i].Set("Next", refs[i+1])
		}
	}
	if len(marks) > 1 {
		items[0].Set("First", refs[1])
		items[0].Set("Last", refs[len(refs)-1])
		items[0].Set("Count", core.NewPdfInteger(len(marks)-1))
	}
	return rootRef
}
