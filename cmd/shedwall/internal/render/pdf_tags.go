package render

import (
	"github.com/carlos7ags/folio/core"
	"github.com/carlos7ags/folio/document"
)

// pdfPiece is a piece of marked content: the page it is on and its number there.
type pdfPiece struct{ page, id int }

// page is the page on which an element begins.
func (n *pdfNode) page() int {
	for _, k := range n.kids {
		switch k := k.(type) {
		case pdfPiece:
			return k.page
		case *pdfNode:
			if p := k.page(); p >= 0 {
				return p
			}
		}
	}
	return -1
}

// structure writes the structure tree and the table that leads from the marked content
// of each page back to it.
func (c *pdfCanvas) structure(w *document.Writer, drawn []pdfPage, pages []*core.PdfIndirectReference) *core.PdfIndirectReference {
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
		first := max(0, n.page())
		d.Set("Pg", pages[first])
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
			case pdfPiece:
				if k.page == first {
					kids.Add(core.NewPdfInteger(k.id))
					continue
				}
				away := core.NewPdfDictionary()
				away.Set("Type", core.NewPdfName("MCR"))
				away.Set("Pg", pages[k.page])
				away.Set("MCID", core.NewPdfInteger(k.id))
				kids.Add(away)
			case *pdfNode:
				kids.Add(write(k, ref))
			}
		}
		d.Set("K", kids)
		return ref
	}
	top := write(c.root, rootRef)
	nums := core.NewPdfArray()
	for i, p := range drawn {
		owners := core.NewPdfArray()
		for _, n := range p.content {
			owners.Add(refs[n])
		}
		nums.Add(core.NewPdfInteger(i))
		nums.Add(w.AddObject(owners))
	}
	parents := core.NewPdfDictionary()
	parents.Set("Nums", nums)
	root.Set("Type", core.NewPdfName("StructTreeRoot"))
	root.Set("K", core.NewPdfArray(top))
	root.Set("ParentTree", w.AddObject(parents))
	root.Set("ParentTreeNextKey", core.NewPdfInteger(len(drawn)))
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
func (c *pdfCanvas) outline(w *document.Writer, pages []*core.PdfIndirectReference) *core.PdfIndirectReference {
	marks := c.facts.outline
	root, refs, items := core.NewPdfDictionary(), make([]*core.PdfIndirectReference, len(marks)), make([]*core.PdfDictionary, len(marks))
	rootRef := w.AddObject(root)
	for i, mk := range marks {
		d := core.NewPdfDictionary()
		d.Set("Title", core.NewPdfTextString(mk.title))
		d.Set("Dest", core.NewPdfArray(pages[mk.page], core.NewPdfName("XYZ"), core.NewPdfInteger(0), core.NewPdfReal(c.y(mk.y)), core.NewPdfNull()))
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
