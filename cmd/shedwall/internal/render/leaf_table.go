package render

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// cellText is a text of a cell that has been measured: so many lines at a size. The lines
// themselves are made when it is drawn.
type cellText struct {
	text   string
	weight weight
	size   float64
	lines  int
}

// setCell is what stands in a cell: nothing, a text, or the texts of a heading one under
// another.
type setCell []cellText

// lines is how many there are.
func (c setCell) lines() int {
	n := 0
	for _, t := range c {
		n += t.lines
	}
	return n
}

func (c setCell) height(leading float64) float64 {
	var h, last float64
	first := true
	for _, t := range c {
		for range t.lines {
			if first {
				h, first = headInk(bold, t.size), false
			} else {
				h += t.size * point * leading
			}
			last = t.size
		}
	}
	if !first {
		h += last * point * 0.22
	}
	return h
}

// table sets a table: the first column as wide as it wants to be, up to a third, the
// others alike and centred, for the eye goes down a column.
func (s leafSetter) table(t page.LeafTable, width float64, alike []page.LeafTable) (leafItem, error) {
	n := len(t.Head)
	if n == 0 {
		return leafItem{}, fmt.Errorf("a table has no heading row")
	}
	head := make([]setCell, n)
	texts := make([][]string, n)
	var err error
	for i, h := range t.Head {
		if texts[i], err = linesOf(h); err != nil {
			return leafItem{}, err
		}
	}
	var first float64
	for _, o := range alike {
		one, err := s.firstColumn(o, width)
		if err != nil {
			return leafItem{}, err
		}
		first = max(first, one)
	}
	wide := make([]float64, n)
	wide[0] = first
	for i := 1; i < n; i++ {
		wide[i] = (width - first) / float64(n-1)
	}
	headHeight := 0.0
	for i := range head {
		if head[i], err = s.headCell(texts[i], wide[i]-2*s.m.cellPad); err != nil {
			return leafItem{}, err
		}
		headHeight = max(headHeight, head[i].height(s.m.leading))
	}
	headHeight += 2 * s.m.rowPad
	rows := make([][]setCell, len(t.Rows))
	cells, bodyTexts := make([]setCell, len(t.Rows)*n), make([]cellText, len(t.Rows)*n)
	heights := make([]float64, len(t.Rows))
	for r, row := range t.Rows {
		if len(row) != n {
			return leafItem{}, fmt.Errorf("row %d of a table has %d cells, its heading row %d", r+1, len(row), n)
		}
		rows[r] = cells[r*n : (r+1)*n]
		for i, c := range row {
			cell, err := s.bodyCell(c, wide[i]-2*s.m.cellPad, bodyTexts[r*n+i:r*n+i:r*n+i+1])
			if err != nil {
				return leafItem{}, err
			}
			if s.m.whole && t.Whole && cell.lines() > 1 {
				return leafItem{}, fmt.Errorf("%q does not fit on one line", c.Text)
			}
			rows[r][i] = cell
			heights[r] = max(heights[r], cell.height(s.m.leading)+2*s.m.rowPad)
		}
		if t.Pencil {
			heights[r] = max(heights[r], s.m.pencil)
		}
	}
	caption, err := s.flowed("Caption", t.Caption, "", s.m.label, width)
	if err != nil {
		return leafItem{}, err
	}
	above := caption.height
	if above > 0 {
		above += 0.8
	}
	item := leafItem{height: above + headHeight, before: s.m.gap}
	for _, h := range heights {
		item.height += h
	}
	item.draw = func(d *drawing, x, y float64) {
		d.open(&part{tag: "Table"})
		if caption.height > 0 {
			caption.draw(d, x, y)
		}
		top := y + above
		d.open(&part{tag: "THead"})
		s.drawRow(d, head, wide, x, top, headHeight, func(i int) part { return part{tag: "TH", scope: "Column"} })
		d.shut()
		d.open(&part{tag: "TBody"})
		at := top + headHeight
		for r := range rows {
			s.drawRow(d, rows[r], wide, x, at, heights[r], func(i int) part {
				if i == 0 {
					return part{tag: "TH", scope: "Row"}
				}
				return part{tag: "TD"}
			})
			at += heights[r]
		}
		d.shut()
		d.shut()
		s.rules(d, t, wide, heights, rect{x, top, x + width, at}, headHeight)
	}
	return item, nil
}

// linesOf is the lines of a heading, ready to print.
func linesOf(head string) ([]string, error) {
	var out []string
	for _, line := range strings.Split(head, "\n") {
		line, err := printable(line)
		if err != nil {
			return nil, err
		}
		out = append(out, line)
	}
	return out, nil
}

// firstColumn is the width that a table wants for its column of row headings.
func (s leafSetter) firstColumn(t page.LeafTable, width float64) (float64, error) {
	head, err := linesOf(t.Head[0])
	if err != nil {
		return 0, err
	}
	var want, least float64
	for i, line := range head {
		w, size := s.headStyle(i, len(head))
		want = max(want, textWidth(line, w, size))
		for _, word := range strings.Split(line, " ") {
			least = max(least, textWidth(word, w, size))
		}
	}
	want = min(want, max(least, 0.16*width)) // a long heading may break its line
	for _, row := range t.Rows {
		if len(row) == 0 {
			continue
		}
		text, err := printable(row[0].Text)
		if err != nil {
			return 0, err
		}
		want = max(want, textWidth(text, weightOf(row[0]), s.m.table))
	}
	return min(want+2*s.m.cellPad+0.2, width*0.34), nil
}

func weightOf(c page.LeafCell) weight {
	if c.Strong {
		return bold
	}
	return regular
}

// headStyle is how line i of n of a heading is printed: of several the first is what
// the eye looks for.
func (s leafSetter) headStyle(i, n int) (weight, float64) {
	switch {
	case n > 1 && i == 0:
		return bold, s.m.table
	case n > 1:
		return regular, s.m.head
	}
	return bold, s.m.head
}

func (s leafSetter) headCell(texts []string, width float64) (setCell, error) {
	var c setCell
	for i, text := range texts {
		w, size := s.headStyle(i, len(texts))
		var err error
		if c, err = c.add(text, w, size, width); err != nil {
			return c, err
		}
	}
	return c, nil
}

// bodyCell sets a cell into room, which is empty.
func (s leafSetter) bodyCell(cell page.LeafCell, width float64, room setCell) (setCell, error) {
	text, err := printable(cell.Text)
	if err != nil || text == "" {
		return nil, err
	}
	return room.add(text, weightOf(cell), s.m.table, width)
}

// add measures a text for a cell.
func (c setCell) add(text string, w weight, size, width float64) (setCell, error) {
	lines, ok := linesNeeded(text, w, size, width)
	if !ok {
		return c, fmt.Errorf("a word of %q is wider than its column", text)
	}
	return append(c, cellText{text, w, size, lines}), nil
}

// drawRow draws the words of a row, the first cell from the left, the others centred.
func (s leafSetter) drawRow(d *drawing, cells []setCell, wide []float64, x, y, height float64, tag func(i int) part) {
	d.open(&part{tag: "TR"})
	for i, c := range cells {
		d.in(tag(i), func() {
			at := y + (height-c.height(s.m.leading))/2
			n, all := 0, c.lines()
			for _, t := range c {
				lines, _ := balanced(t.text, t.weight, t.size, wide[i]-2*s.m.cellPad)
				for _, line := range lines {
					if n == 0 {
						at += headInk(bold, t.size)
					} else {
						at += t.size * point * s.m.leading
					}
					n++
					r := run{x: x + s.m.cellPad, y: at, size: t.size, weight: t.weight, more: n < all, s: line}
					if i > 0 {
						r.x = x + (wide[i]-r.width())/2
						r.anchor = atMiddle
					}
					d.text(r)
				}
			}
		})
		x += wide[i]
	}
	d.shut()
}

// rules draws the lines of a table: thin uprights, dashes between rows so that the
// uprights are seen first, and heavy lines where what is to be done changes.
func (s leafSetter) rules(d *drawing, t page.LeafTable, wide, heights []float64, r rect, headHeight float64) {
	var thin, dashes, steps []seg
	at := r.x0
	for _, w := range wide[:len(wide)-1] {
		at += w
		thin = append(thin, seg{at, r.y0, at, r.y1})
	}
	y := r.y0 + headHeight
	for i, h := range heights {
		if i > 0 {
			x := r.x0
			for k, w := range wide {
				line := seg{x, y, x + w, y}
				if t.Rows[i][k].Rule {
					steps = append(steps, line)
				} else {
					dashes = append(dashes, line)
				}
				x += w
			}
		}
		y += h
	}
	d.strokes(strokes{role: roleGrid, width: lineThin, decor: true, segs: thin})
	if t.Pencil {
		d.strokes(strokes{role: roleGrid, width: lineThin, decor: true, segs: dashes})
	} else {
		d.strokes(strokes{role: roleGrid, width: lineThin, dash: rowDash, decor: true, segs: dashes})
	}
	d.strokes(strokes{role: roleRule, width: lineFreeze, decor: true, segs: steps})
	d.strokes(strokes{role: roleRule, width: lineRule, decor: true, segs: []seg{
		{r.x0, r.y0, r.x1, r.y0}, {r.x0, r.y0 + headHeight, r.x1, r.y0 + headHeight}, {r.x0, r.y1, r.x1, r.y1}}})
}
