package render

// number gives an element and all below it the numbers of their objects, and the page on
// which each begins; -1 where there is nothing on any.
func (n *pdfNode) number(f *pdfDoc) {
	n.ref, n.first = f.book(), -1
	for _, k := range n.kids {
		page := k.page
		if k.node != nil {
			k.node.number(f)
			page = k.node.first
		}
		if n.first < 0 {
			n.first = page
		}
	}
}

// structure writes the structure tree and the table that leads from the marked content
// of each page back to it.
func (c *pdfCanvas) structure(f *pdfDoc, pages []int) int {
	root := f.book()
	c.root.number(f)
	c.writeNode(f, c.root, root, pages)
	owners := make([]int, len(c.done))
	from := 0
	for i, p := range c.done {
		owners[i] = f.book()
		f.object(owners[i])
		f.small = append(f.small, '[')
		for k, n := range c.content[from:p.content] {
			if k > 0 {
				f.small = append(f.small, ' ')
			}
			f.small = appendRef(f.small, n.ref)
		}
		f.small = append(f.small, "]\n"...)
		from = p.content
	}
	f.object(root)
	f.small = appendRef(append(f.small, "<< /Type /StructTreeRoot /K ["...), c.root.ref)
	f.small = append(f.small, "] /ParentTree << /Nums ["...)
	for i, o := range owners {
		f.small = append(appendWhole(f.small, i), ' ')
		f.small = append(appendRef(f.small, o), ' ')
	}
	f.small = append(f.small, "] >> /ParentTreeNextKey "...)
	f.small = append(appendWhole(f.small, len(c.done)), " >>\n"...)
	return root
}

// writeNode writes an element and all below it.
func (c *pdfCanvas) writeNode(f *pdfDoc, n *pdfNode, up int, pages []int) {
	first := max(0, n.first)
	f.object(n.ref)
	b := append(append(f.small, "<< /Type /StructElem /S /"...), n.part.tag...)
	b = appendRef(append(b, " /P "...), up)
	b = appendRef(append(b, " /Pg "...), pages[first])
	if n.part.alt != "" {
		b = appendText(append(b, " /Alt "...), n.part.alt)
	}
	if n.part.actual != "" {
		b = appendText(append(b, " /ActualText "...), n.part.actual)
	}
	b = c.appendAttributes(b, &n.part)
	b = append(b, " /K ["...)
	for i, k := range n.kids {
		if i > 0 {
			b = append(b, ' ')
		}
		switch {
		case k.node != nil:
			b = appendRef(b, k.node.ref)
		case k.page == first:
			b = appendWhole(b, k.id)
		default:
			b = appendRef(append(b, "<< /Type /MCR /Pg "...), pages[k.page])
			b = append(appendWhole(append(b, " /MCID "...), k.id), " >>"...)
		}
	}
	f.small = append(b, "] >>\n"...)
	for _, k := range n.kids {
		if k.node != nil {
			c.writeNode(f, k.node, n.ref, pages)
		}
	}
}

// appendAttributes appends the scope of a heading cell or the place of a figure.
func (c *pdfCanvas) appendAttributes(b []byte, p *part) []byte {
	switch {
	case p.scope != "":
		b = append(append(append(b, " /A << /O /Table /Scope /"...), p.scope...), " >>"...)
	case p.tag == "Figure":
		b = append(b, " /A << /O /Layout /Placement /Block /BBox ["...)
		for i, v := range [...]int{c.x(p.box.x0), c.y(p.box.y1), c.x(p.box.x1), c.y(p.box.y0)} {
			if i > 0 {
				b = append(b, ' ')
			}
			b = appendHundredths(b, v)
		}
		b = append(b, "] >>"...)
	}
	return b
}

// pdfEntry is an entry of the outline with its neighbours, by their places in the list;
// -1 = none.
type pdfEntry struct {
	up, before, after, first, last int
	below                          int // entries under it, all shown open
}

// outline writes the bookmarks: the first entry on top, the others under it, deep ones
// a step further down.
func (c *pdfCanvas) outline(f *pdfDoc, pages []int) int {
	marks := c.facts.outline
	root := f.book()
	refs := make([]int, len(marks))
	entries := make([]pdfEntry, len(marks))
	above := 0 // the entry that deep ones stand under
	for i, mk := range marks {
		refs[i] = f.book()
		entries[i] = pdfEntry{-1, -1, -1, -1, -1, 0}
		if i == 0 {
			continue
		}
		up := 0
		if mk.deep && above > 0 {
			up = above
			entries[0].below++
		} else {
			above = i
		}
		entries[i].up = up
		if last := entries[up].last; last >= 0 {
			entries[i].before, entries[last].after = last, i
		} else {
			entries[up].first = i
		}
		entries[up].last = i
		entries[up].below++
	}
	f.object(root)
	f.small = appendRef(append(f.small, "<< /Type /Outlines /First "...), refs[0])
	f.small = appendRef(append(f.small, " /Last "...), refs[0])
	f.small = append(appendWhole(append(f.small, " /Count "...), len(marks)), " >>\n"...)
	for i, mk := range marks {
		e := entries[i]
		f.object(refs[i])
		b := appendText(append(f.small, "<< /Title "...), mk.title)
		b = appendRef(append(b, " /Dest ["...), pages[mk.page])
		b = append(appendHundredths(append(b, " /XYZ 0 "...), c.y(mk.y)), " null] /Parent "...)
		if e.up < 0 {
			b = appendRef(b, root)
		} else {
			b = appendRef(b, refs[e.up])
		}
		for _, way := range [...]struct {
			name string
			to   int
		}{{" /Prev ", e.before}, {" /Next ", e.after}, {" /First ", e.first}, {" /Last ", e.last}} {
			if way.to >= 0 {
				b = appendRef(append(b, way.name...), refs[way.to])
			}
		}
		if e.below > 0 {
			b = appendWhole(append(b, " /Count "...), e.below)
		}
		f.small = append(b, " >>\n"...)
	}
	return root
}
