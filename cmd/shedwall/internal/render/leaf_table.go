package render

import (
	"fmt"

	"shedwall/cmd/shedwall/internal/page"
)

// leafTable is a table: the first column as wide as it wants to be, up to a third, the
// others alike and centred, for the eye goes down a column.
type leafTable struct {
	page    page.LeafTable
	caption running
	head    [][]wording // each heading in lines
	rows    []leafRow
	first   float64      // longest text of the first column, in ems
	alike   []*leafTable // those that share their columns, this one among them
}

// leafRow is a row with the longest text right of its first column, in ems.
type leafRow struct {
	cells   []wording
	longest float64
}

// cellHeight adds up the height of texts in a cell, one under another.
type cellHeight struct {
	h, last float64
	begun   bool
}

func (c *cellHeight) add(lines int, size, leading float64) {
	for range lines {
		if !c.begun {
			c.h, c.begun = headInk(bold, size), true
		} else {
			c.h += size * point * leading
		}
		c.last = size
	}
}

func (c *cellHeight) total() float64 {
	if !c.begun {
		return 0
	}
	return c.h + c.last*point*0.22
}

// tableSizes is a table that has been set.
type tableSizes struct {
	first, other float64 // widths of the first column and of each other
	above        float64 // height of the caption
	head         float64
	rows         []float64 // heights; nil where only their sum was asked
	height       float64   // of all
}

func (s *tableSizes) wide(column int) float64 {
	if column == 0 {
		return s.first
	}
	return s.other
}

// sizes sets a table. The heights of rows go into rows, unless that is nil.
func (t *leafTable) sizes(m *leafMeasures, width float64, rows []float64) (s tableSizes, err error) {
	s.rows = rows
	for _, o := range t.alike {
		s.first = max(s.first, o.firstColumn(m, width))
	}
	s.other = (width - s.first) / float64(len(t.head)-1)
	for i := range t.head {
		var cell cellHeight
		for k := range t.head[i] {
			text, size := &t.head[i][k], headSize(m, k, len(t.head[i]))
			lines, ok := text.lines(size, s.wide(i)-2*m.cellPad)
			if !ok {
				return s, tooWide(text)
			}
			cell.add(lines, size, m.leading)
		}
		s.head = max(s.head, cell.total())
	}
	s.head += 2 * m.rowPad
	if s.above, err = t.caption.height(m.label, width, m.leading); err != nil {
		return s, err
	}
	if s.above > 0 {
		s.above += 0.8
	}
	s.height = s.above + s.head
	for r := range t.rows {
		lines, err := t.rows[r].lines(m, &s, m.whole && t.page.Whole)
		if err != nil {
			return s, err
		}
		var cell cellHeight
		cell.add(lines, m.table, m.leading)
		h := cell.total() + 2*m.rowPad
		if t.page.Pencil {
			h = max(h, m.pencil)
		}
		if rows != nil {
			rows[r] = h
		}
		s.height += h
	}
	return s, nil
}

// lines is the most lines that a cell of the row takes. An error: a word is too wide, or a
// cell that should be whole is not.
func (row *leafRow) lines(m *leafMeasures, s *tableSizes, whole bool) (most int, err error) {
	for i := range row.cells {
		if i == 1 && widthOf(row.longest, m.table) < s.other-2*m.cellPad-lessThan {
			if row.longest > 0 {
				most = max(most, 1)
			}
			break // all others stand on one line too
		}
		n, ok := row.cells[i].lines(m.table, s.wide(i)-2*m.cellPad)
		if !ok {
			return 0, tooWide(&row.cells[i])
		}
		if whole && n > 1 {
			return 0, fmt.Errorf("%q does not fit on one line", row.cells[i].text)
		}
		most = max(most, n)
	}
	return most, nil
}

func tooWide(t *wording) error { return fmt.Errorf("a word of %q is wider than its column", t.text) }

// firstColumn is the width that a table wants for its column of row headings.
func (t *leafTable) firstColumn(m *leafMeasures, width float64) float64 {
	var want, least float64
	for i := range t.head[0] {
		line, size := &t.head[0][i], headSize(m, i, len(t.head[0]))
		want = max(want, line.width(size))
		for _, word := range line.words {
			least = max(least, widthOf(word.ems, size))
		}
	}
	want = min(want, max(least, 0.16*width)) // a long heading may break its line
	want = max(want, widthOf(t.first, m.table))
	return min(want+2*m.cellPad+0.2, width*0.34)
}

// headWeight and headSize are how line i of n of a heading is printed: of several the
// first is what the eye looks for.
func headWeight(i, n int) weight {
	if n > 1 && i > 0 {
		return regular
	}
	return bold
}

func headSize(m *leafMeasures, i, n int) float64 {
	if n > 1 && i == 0 {
		return m.table
	}
	return m.head
}

func (t *leafTable) set(m *leafMeasures, width float64) (leafItem, error) {
	s, err := t.sizes(m, width, nil)
	return leafItem{height: s.height, before: m.gap, width: width, block: t}, err
}

func (t *leafTable) draw(m *leafMeasures, d *drawing, x, y, width float64) {
	s, err := t.sizes(m, width, make([]float64, len(t.rows)))
	if err != nil {
		return // it was set a moment ago
	}
	d.open(part{tag: "Table"})
	if s.above > 0 {
		t.caption.draw(d, "Caption", x, y, m.label, width, m.leading)
	}
	top := y + s.above
	d.open(part{tag: "THead"})
	d.open(part{tag: "TR"})
	for i, at := 0, x; i < len(t.head); i++ {
		d.in(part{tag: "TH", scope: "Column"}, func() { drawCell(m, d, t.head[i], true, i > 0, at, top, s.wide(i), s.head) })
		at += s.wide(i)
	}
	d.shut()
	d.shut()
	d.open(part{tag: "TBody"})
	bottom := top + s.head
	for r := range t.rows {
		d.open(part{tag: "TR"})
		cells := t.rows[r].cells
		for i, at := 0, x; i < len(cells); i++ {
			p := part{tag: "TD"}
			if i == 0 {
				p = part{tag: "TH", scope: "Row"}
			}
			d.in(p, func() { drawCell(m, d, cells[i:i+1], false, i > 0, at, bottom, s.wide(i), s.rows[r]) })
			at += s.wide(i)
		}
		d.shut()
		bottom += s.rows[r]
	}
	d.shut()
	d.shut()
	t.rules(d, &s, rect{x, top, x + width, bottom})
}

// drawCell draws the texts of a cell, those of a heading one under another, from the left
// or centred.
func drawCell(m *leafMeasures, d *drawing, texts []wording, head, centred bool, x, y, wide, height float64) {
	var lines []run
	var high cellHeight
	for k := range texts {
		size := m.table
		if head {
			size = headSize(m, k, len(texts))
		}
		set, _ := texts[k].balanced(size, wide-2*m.cellPad)
		high.add(len(set), size, m.leading)
		for _, s := range set {
			lines = append(lines, run{size: size, weight: texts[k].weight, s: s})
		}
	}
	at := y + (height-high.total())/2
	for n, r := range lines {
		if n == 0 {
			at += headInk(bold, r.size)
		} else {
			at += r.size * point * m.leading
		}
		r.x, r.y, r.more = x+m.cellPad, at, n < len(lines)-1
		if centred {
			r.x = x + (wide-r.width())/2
			r.anchor = atMiddle
		}
		d.text(r)
	}
}

// rules draws the lines of a table: thin uprights, dashes between rows so that the
// uprights are seen first, and heavy lines where what is to be done changes.
func (t *leafTable) rules(d *drawing, s *tableSizes, r rect) {
	n := len(t.head)
	thin := make([]seg, 0, n-1)
	dashes := make([]seg, 0, n*len(t.rows))
	var steps []seg
	at := r.x0
	for k := range n - 1 {
		at += s.wide(k)
		thin = append(thin, seg{at, r.y0, at, r.y1})
	}
	y := r.y0 + s.head
	for i, h := range s.rows {
		if i > 0 {
			x := r.x0
			for k := range n {
				w := s.wide(k)
				line := seg{x, y, x + w, y}
				if t.page.Rows[i][k].Rule {
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
	if t.page.Pencil {
		d.strokes(strokes{role: roleGrid, width: lineThin, decor: true, segs: dashes})
	} else {
		d.strokes(strokes{role: roleGrid, width: lineThin, dash: rowDash, decor: true, segs: dashes})
	}
	d.strokes(strokes{role: roleRule, width: lineFreeze, decor: true, segs: steps})
	head := r.y0 + s.head
	d.strokes(strokes{role: roleRule, width: lineRule, decor: true, segs: []seg{
		{r.x0, r.y0, r.x1, r.y0}, {r.x0, head, r.x1, head}, {r.x0, r.y1, r.x1, r.y1}}})
}
