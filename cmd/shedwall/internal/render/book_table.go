package render

import (
	"fmt"
	"math"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// bookTableOf is a table ready to be set.
type bookTableOf struct {
	caption  string
	head     []string
	rows     [][][]bookSpan
	rowHeads bool
}

func (b *book) pageTable(x page.Table) {
	t := bookTableOf{caption: b.clean(x.Caption), rowHeads: x.RowHeads}
	for _, h := range x.Head {
		t.head = append(t.head, b.clean(h))
	}
	for _, row := range x.Rows {
		var cells [][]bookSpan
		for i, c := range row {
			spans := b.spans(c)
			if i == 0 && x.RowHeads {
				for k := range spans {
					spans[k].w = bold
				}
			}
			cells = append(cells, spans)
		}
		t.rows = append(t.rows, cells)
	}
	b.table(t)
}

const bookCellPad = 1.1

// table sets a table: a row is an item, the heading row is drawn again where the table
// goes on on a further page.
func (b *book) table(t bookTableOf) {
	if len(t.head) == 0 || len(t.rows) == 0 {
		return
	}
	wide := b.columns(t)
	pitch := bookTable * point * 1.25
	headLines := make([][][]run, len(t.head))
	most := 0
	for i, h := range t.head {
		headLines[i] = b.flowSpans([]bookSpan{{h, bold}}, bookTable, wide[i]-2*bookCellPad)
		most = max(most, len(headLines[i]))
	}
	headHigh := pitch*float64(most) + 1.6
	caption := b.flowSpans([]bookSpan{{t.caption, bold}}, bookText, b.w)
	capPitch := bookText * point * 1.3
	capHigh := capPitch*float64(len(caption)) + 1.2
	cellsAt := func(d *drawing, lines [][][]run, y float64, open func(i int) part) {
		x := b.x
		for i, c := range lines {
			if open != nil {
				d.open(open(i))
			}
			for _, line := range c {
				for k := range line {
					line[k].decor = open == nil
				}
			}
			drawLines(d, c, x+bookCellPad*min(1, float64(i)), y+0.5+bookTable*point, pitch)
			if open != nil {
				d.shut()
			}
			x += wide[i]
		}
	}
	rule := func(d *drawing, y, w float64) {
		d.strokes(strokes{role: roleRule, width: w, decor: true, segs: []seg{{b.x, y, b.x + b.w, y}}})
	}
	head := bookItem{height: capHigh + headHigh, before: 3, keep: true}
	head.draw = func(d *drawing, y float64) {
		d.open(part{tag: "Table"})
		d.in(part{tag: "Caption"}, func() { drawLines(d, caption, b.x, y+bookText*point, capPitch) })
		y += capHigh
		rule(d, y, lineBar)
		d.open(part{tag: "THead"})
		d.open(part{tag: "TR"})
		cellsAt(d, headLines, y, func(int) part { return part{tag: "TH", scope: "Column"} })
		d.shut()
		d.shut()
		rule(d, y+headHigh, lineThin)
		d.open(part{tag: "TBody"})
	}
	b.add(head)
	again := func(d *drawing, y float64) {
		copied := make([][][]run, len(headLines))
		for i, c := range headLines {
			for _, line := range c {
				copied[i] = append(copied[i], append([]run(nil), line...))
			}
		}
		rule(d, y, lineBar)
		cellsAt(d, copied, y, nil)
		rule(d, y+headHigh, lineThin)
	}
	for r, row := range t.rows {
		lines := make([][][]run, len(row))
		most := 1
		for i, c := range row {
			lines[i] = b.flowSpans(c, bookTable, wide[i]-2*bookCellPad)
			most = max(most, len(lines[i]))
		}
		last := r == len(t.rows)-1
		it := bookItem{height: pitch*float64(most) + 1.5, head: again, headUp: headHigh, keep: r == 0 && !last}
		if it.height > bookRoom()-headHigh {
			b.fail(fmt.Errorf("a row of the table %q is higher than a page", t.caption))
		}
		it.draw = func(d *drawing, y float64) {
			d.open(part{tag: "TR"})
			cellsAt(d, lines, y, func(i int) part {
				if i == 0 && t.rowHeads {
					return part{tag: "TH", scope: "Row"}
				}
				return part{tag: "TD"}
			})
			d.shut()
			if last {
				d.shut()
				d.shut()
				rule(d, y+it.height, lineBar)
			} else {
				rule(d, y+it.height, lineThin)
			}
		}
		b.add(it)
	}
}

// columns shares the width out: no column narrower than its longest word where that can
// be, and more to those that hold more words.
func (b *book) columns(t bookTableOf) []float64 {
	n := len(t.head)
	least, want := make([]float64, n), make([]float64, n)
	measure := func(i int, text string, w weight) {
		total := textWidth(text, w, bookTable)
		want[i] = max(want[i], math.Min(total, 95))
		for _, word := range strings.Fields(text) {
			least[i] = max(least[i], math.Min(textWidth(word, w, bookTable), 40))
		}
	}
	for i, h := range t.head {
		measure(i, h, bold)
		want[i] = least[i] // long headings break
	}
	for _, row := range t.rows {
		for i, c := range row {
			text := ""
			for _, s := range c {
				measure(i, s.text, s.w)
				text += s.text + " "
			}
			want[i] = max(want[i], math.Min(textWidth(strings.TrimSpace(text), regular, bookTable), 95))
		}
	}
	const pad = 2*bookCellPad + 0.3
	sumLeast, sumMore := 0.0, 0.0
	for i := range n {
		sumLeast += least[i] + pad
		sumMore += math.Sqrt(max(0.01, want[i]-least[i]))
	}
	out := make([]float64, n)
	left := b.w - sumLeast
	for i := range n {
		out[i] = least[i] + pad
		if left > 0 {
			out[i] += left * math.Sqrt(max(0.01, want[i]-least[i])) / sumMore
		} else {
			out[i] *= b.w / sumLeast
		}
	}
	return out
}
