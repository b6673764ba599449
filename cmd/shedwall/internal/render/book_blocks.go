package render

import (
	"fmt"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/prose"
)

// blocks sets a page's blocks. from is the text that prose blocks belong to.
func (b *book) blocks(in []page.Block, from page.Prose) {
	for _, x := range in {
		switch x := x.(type) {
		case page.Heading:
			b.heading(x.Level, b.textOf(x.Text))
		case page.Para:
			b.para("P", b.spans(x.Text), bookText, 0, "")
		case page.List:
			b.list(x.Ordered, len(x.Items), func(i int) []bookSpan { return b.spans(x.Items[i]) })
		case page.Table:
			b.pageTable(x)
		case page.Facts:
			b.list(false, len(x.Items), func(i int) []bookSpan {
				f := x.Items[i]
				out := []bookSpan{{b.clean(f.Name + ":"), bold}}
				out = append(out, b.spans(f.Value)...)
				if len(f.Detail) > 0 {
					out = append(out, bookSpan{"-", regular})
					out = append(out, b.spans(f.Detail)...)
				}
				return out
			})
		case page.Note:
			spans := b.spans(x.Text)
			if x.Label != "" {
				spans = append([]bookSpan{{b.clean(x.Label), bold}}, spans...)
			}
			b.para("P", spans, bookText, 4, "note")
		case page.Terms:
			b.list(false, len(x.Items), func(i int) []bookSpan {
				return append([]bookSpan{{b.clean(b.textOf(x.Items[i].Name) + ":"), bold}}, b.spans(x.Items[i].Means)...)
			})
		case page.Drawing:
			b.sketch(x)
		case page.Chart:
			b.chart(x)
			b.pageTable(x.Twin)
		case page.Prose:
			if x.Doc != nil {
				b.prose(x.Doc.Blocks, x)
			}
		case page.Contents, page.Gallery:
		default:
			b.fail(fmt.Errorf("a booklet holds a %T, which nobody can set", x))
		}
	}
}

// bookSpan is words of one weight.
type bookSpan struct {
	text string
	w    weight
}

func (b *book) spans(in []page.Inline) []bookSpan {
	var out []bookSpan
	for _, x := range in {
		w := regular
		if x.Strong {
			w = bold
		}
		if t := b.clean(x.Text); t != "" {
			// Blanks at the joints decide whether two runs are one word.
			if len(out) > 0 && !strings.HasPrefix(x.Text, " ") && !strings.HasSuffix(out[len(out)-1].text, " ") && out[len(out)-1].w == w {
				out[len(out)-1].text += t
			} else {
				out = append(out, bookSpan{t, w})
			}
			if strings.HasSuffix(x.Text, " ") {
				out[len(out)-1].text += " "
			}
		}
	}
	return out
}

func (b *book) textOf(in []page.Inline) string {
	s := ""
	for _, x := range in {
		s += x.Text
	}
	return b.clean(s)
}

var bookHeadings = map[int]struct{ size, before float64 }{1: {22, 6}, 2: {18, 6}, 3: {14, 6}, 4: {11, 4.5}, 5: {10, 3.5}, 6: {9.5, 3}}

// heading sets a heading; those of level 2 and 3 begin a page when they begin a chapter
// or a band.
func (b *book) heading(level int, text string) {
	h := bookHeadings[level]
	lines, ok := balanced(text, bold, h.size, b.w)
	if !ok {
		b.fail(fmt.Errorf("a word of the heading %q is wider than the page", text))
	}
	pitch := h.size * point * 1.15
	it := bookItem{height: pitch*float64(len(lines)) + 1.2, before: h.before, keep: true, fresh: level == 2, heading: &bookHeading{level, text}}
	it.draw = func(d *drawing, y float64) {
		d.in(part{tag: "H" + strconv.Itoa(level)}, func() {
			for i, l := range lines {
				y += pitch
				d.text(run{x: b.x, y: y - h.size*point*0.2, size: h.size, weight: bold, more: i < len(lines)-1, s: l})
			}
		})
		if level == 2 {
			d.strokes(strokes{role: roleRule, width: lineRule, decor: true, segs: []seg{{b.x, y + 1.2, b.x + b.w, y + 1.2}}})
		}
	}
	if level == 2 {
		it.height += 2.5
	}
	b.add(it)
}

// flowSpans breaks words of several weights into lines.
func (b *book) flowSpans(spans []bookSpan, size, width float64) [][]run {
	var lines [][]run
	var line []run
	at := 0.0
	space := textWidth(" ", regular, size)
	for _, s := range spans {
		for _, word := range strings.Fields(s.text) {
			for k, piece := range broken(word, s.w, size, width) {
				wide := textWidth(piece, s.w, size)
				gap := space
				if k > 0 || at == 0 {
					gap = 0
				}
				if at > 0 && at+gap+wide > width {
					lines, line, at, gap = append(lines, line), nil, 0, 0
				}
				at += gap
				if n := len(line); n > 0 && line[n-1].weight == s.w && gap > 0 {
					line[n-1].s += " " + piece
				} else {
					line = append(line, run{x: at, size: size, weight: s.w, s: piece})
				}
				at = line[len(line)-1].x + line[len(line)-1].width()
			}
		}
	}
	if len(line) > 0 {
		lines = append(lines, line)
	}
	return lines
}

// drawLines draws lines of runs from a baseline on.
func drawLines(d *drawing, lines [][]run, x, y, pitch float64) {
	for i, line := range lines {
		for k, r := range line {
			r.x, r.y = r.x+x, y+pitch*float64(i)
			r.more = i < len(lines)-1 || k < len(line)-1
			d.text(r)
		}
	}
}

// para sets a paragraph; its lines may be parted between pages, but no single one is
// left behind. indent is kept free at the left; a note has a rule there.
func (b *book) para(tag string, spans []bookSpan, size, indent float64, kind string) {
	lines := b.flowSpans(spans, size, b.w-indent)
	if len(lines) == 0 {
		return
	}
	pitch := size * point * 1.32
	it := bookItem{height: pitch*float64(len(lines)) + 0.6, before: 2.2}
	it.draw = func(d *drawing, y float64) {
		if kind == "note" {
			d.fill(fill{role: roleRule, decor: true, box: rect{b.x, y + 0.6, b.x + 0.9, y + it.height}})
		}
		d.in(part{tag: tag}, func() { drawLines(d, lines, b.x+indent, y+size*point, pitch) })
	}
	b.add(it)
}

// list sets items with a mark, each an item of a list.
func (b *book) list(ordered bool, n int, item func(i int) []bookSpan) {
	const indent = 5.0
	for i := range n {
		lines := b.flowSpans(item(i), bookText, b.w-indent)
		mark := "-"
		if ordered {
			mark = strconv.Itoa(i+1) + "."
		}
		pitch := bookText * point * 1.3
		it := bookItem{height: pitch*float64(len(lines)) + 0.4, before: 1.2, keep: i == 0 && n > 1}
		first, last := i == 0, i == n-1
		it.draw = func(d *drawing, y float64) {
			if first {
				d.open(part{tag: "L"})
			}
			d.open(part{tag: "LI"})
			d.in(part{tag: "Lbl"}, func() {
				d.text(run{x: b.x + 1, y: y + bookText*point, size: bookText, more: true, s: mark})
			})
			d.in(part{tag: "LBody"}, func() { drawLines(d, lines, b.x+indent, y+bookText*point, pitch) })
			d.shut()
			if last {
				d.shut()
			}
		}
		b.add(it)
	}
}

// sketch sets the drawing of a cover.
func (b *book) sketch(x page.Drawing) {
	s, ok := sketchOf(x.ID, x.Kind)
	if !ok {
		b.fail(fmt.Errorf("there is no drawing of %q", x.ID))
		return
	}
	const wide = 66.0
	high := wide * sketchHeight / sketchWidth
	b.add(bookItem{height: high, before: 2, keep: true, draw: func(d *drawing, y float64) {
		box := rect{b.x, y, b.x + wide, y + high}
		d.in(part{tag: "Figure", alt: x.Name, box: box}, func() {
			var held drawing
			strokesOf(&held, s, box)
			for _, m := range held.marks {
				st := m.(strokes)
				st.decor = false
				d.strokes(st)
			}
		})
	}})
}

// prose sets a publisher's text.
func (b *book) prose(in []prose.Block, from page.Prose) {
	for _, x := range in {
		switch x := x.(type) {
		case prose.Heading:
			b.heading(min(6, max(3, x.Level+from.Shift)), b.clean(proseText(x.Text)))
		case prose.Para:
			b.para("P", b.proseSpans(x.Text, regular), bookText, 0, "")
		case prose.Quote:
			b.prose(x.Blocks, from)
		case prose.Code:
			b.para("P", []bookSpan{{b.clean(x.Text), regular}}, bookText, 4, "")
		case prose.List:
			b.list(x.Ordered, len(x.Items), func(i int) []bookSpan {
				var out []bookSpan
				for _, y := range x.Items[i] {
					if p, ok := y.(prose.Para); ok {
						out = append(out, b.proseSpans(p.Text, regular)...)
					}
				}
				return out
			})
		case prose.Table:
			t := bookTableOf{caption: b.clean(proseText(x.Caption)), rowHeads: true}
			for _, h := range x.Head {
				t.head = append(t.head, b.clean(proseText(h)))
			}
			for _, row := range x.Rows {
				var cells [][]bookSpan
				for _, c := range row {
					cells = append(cells, b.proseSpans(c, regular))
				}
				t.rows = append(t.rows, cells)
			}
			b.table(t)
		}
	}
}

func (b *book) proseSpans(in []prose.Inline, w weight) []bookSpan {
	var out []bookSpan
	for _, x := range in {
		own := w
		switch x.Kind {
		case prose.Strong:
			own = bold
			fallthrough
		case prose.Emphasis, prose.Link:
			out = append(out, b.proseSpans(x.Children, own)...)
		case prose.Image:
		default:
			if t := b.clean(x.Text); t != "" {
				if strings.HasPrefix(x.Text, " ") {
					t = " " + t
				}
				out = append(out, bookSpan{t, own})
			}
		}
	}
	return out
}

func proseText(in []prose.Inline) string {
	s := ""
	for _, x := range in {
		if len(x.Children) > 0 {
			s += proseText(x.Children)
		} else if x.Kind != prose.Image {
			s += x.Text
		}
	}
	return s
}
