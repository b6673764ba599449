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

// outline writes the bookmarks: the first entry on top, the others under it, deep ones
// a step further down.
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
	root.Set("Type", core.NewPdfName("Outlines"))
	root.Set("First", refs[0])
	root.Set("Last", refs[0])
	root.Set("Count", core.NewPdfInteger(len(marks)))
	items[0].Set("Parent", rootRef)
	under := map[int][]int{} // entries by the one they stand under
	above := 0
	for i := 1; i < len(marks); i++ {
		if marks[i].deep && above > 0 {
			under[above] = append(under[above], i)
			continue
		}
		above = i
		under[0] = append(under[0], i)
	}
	for up := range marks {
		kids := under[up]
		for k, i := range kids {
			items[i].Set("Parent", refs[up])
			if k > 0 {
				items[i].Set("Prev", refs[kids[k-1]])
			}
			if k+1 < len(kids) {
				items[i].Set("Next", refs[kids[k+1]])
			}
		}
		if len(kids) > 0 {
			items[up].Set("First", refs[kids[0]])
			items[up].Set("Last", refs[kids[len(kids)-1]])
			items[up].Set("Count", core.NewPdfInteger(len(kids)+deeper(under, up, kids)))
		}
	}
	return rootRef
}

// deeper counts the entries under the kids of an entry: all of them are shown open.
func deeper(under map[int][]int, up int, kids []int) int {
	if up > 0 {
		return 0
	}
	n := 0
	for _, k := range kids {
		n += len(under[k])
	}
	return n
}
