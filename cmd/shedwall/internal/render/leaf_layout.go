package render

import (
	"errors"
	"fmt"
	"slices"

	"shedwall/cmd/shedwall/internal/page"
)

// A leaf is held in the hand or pinned by a door: half an inch of margin, which every
// printer can leave blank.
const leafMargin = 12.7 // mm

func (p Paper) leafArea() sheetArea {
	return sheetArea{
		name:  p.Title,
		width: p.Width, height: p.Height,
		box: rect{leafMargin, leafMargin, p.Width - leafMargin, p.Height - leafMargin},
	}
}

// Least sizes of type on a leaf, in points: what is read by a torch, and what is read
// once.
const (
	leastTable = 9.0
	leastSmall = 7.5
)

// leafMeasures are the sizes of one layout: type in points, the rest in mm.
type leafMeasures struct {
	scale                float64
	heading, text, small float64
	table, head, label   float64

	leading float64
	box     float64 // height of a box
	pencil  float64 // height of a line to write on
	rowPad  float64 // above and below the words of a row
	cellPad float64 // left and right of them
	gap     float64 // between blocks; half of it between small ones
	strip   float64 // between strips
	column  float64 // between columns
	cut     float64 // between columns that may be cut apart
	whole   bool    // cells that should be whole are
}

func leafMeasuresAt(scale float64) leafMeasures {
	t := func(least, size, most float64) float64 { return min(max(size*scale, least), most) }
	return leafMeasures{
		scale:   scale,
		heading: t(12.5, 15, 20), text: t(9, 10, 12.5), small: t(leastSmall, 8.6, 11),
		table: t(leastTable, 10.5, 14), head: t(7.5, 8.4, 11), label: t(8, 8.8, 11),
		leading: 1.2,
		box:     t(9.5, 11, 14), pencil: t(6.8, 7.4, 9.5),
		rowPad: t(0.35, 0.75, 1.4), cellPad: 0.9,
		gap: t(1.6, 2.4, 4), strip: t(2.4, 3.6, 6), column: 6, cut: 11,
	}
}

// leastLeafScale is the scale at which nearly all type has its least size.
const leastLeafScale = 0.86

// leafScales are tried from large to small, first with whole cells.
func leafScales() []leafMeasures {
	var out []leafMeasures
	for _, whole := range []bool{true, false} {
		for s := 1.3; s > leastLeafScale; s -= 0.02 {
			m := leafMeasuresAt(s)
			m.whole = whole
			out = append(out, m)
		}
	}
	return append(out, leafMeasuresAt(leastLeafScale))
}

// leafItem is a block that has been set: so high, drawn from its top left corner.
type leafItem struct {
	height float64
	before float64 // blank above it unless it is the first
	draw   func(d *drawing, x, y float64)
}

// leafColumn is the items of a column at its place.
type leafColumn struct {
	x     float64
	items []leafItem
}

func (c leafColumn) height() float64 {
	var h float64
	for i, it := range c.items {
		h += it.height
		if i > 0 {
			h += it.before
		}
	}
	return h
}

// leafStrip is the columns of a strip.
type leafStrip struct {
	columns []leafColumn
	height  float64
	cuts    []float64 // where lines to cut along stand
	above   bool      // ... and one over it
	keep    bool      // on one page with the next
}

// leafPlan is a leaf worked out at one scale.
type leafPlan struct {
	area   sheetArea
	m      leafMeasures
	strips []leafStrip
	foot   leafColumn
}

// planLeaf sets every block of a leaf at one scale. An error means that something is
// too wide; whether the heights fit is asked later.
func planLeaf(l *page.Leaf, area sheetArea, m leafMeasures) (*leafPlan, error) {
	p := &leafPlan{area: area, m: m}
	width := area.box.x1 - area.box.x0
	s := leafSetter{m: m}
	for _, strip := range l.Strips {
		out := leafStrip{above: strip.CutAbove, keep: strip.Keep}
		gap := m.column
		if strip.Cut {
			gap = m.cut
		}
		n := len(strip.Columns)
		if strip.Shares != nil && len(strip.Shares) != n {
			return nil, fmt.Errorf("a strip of %d columns has %d shares", n, len(strip.Shares))
		}
		x := area.box.x0
		for i, blocks := range strip.Columns {
			share := 1 / float64(n)
			if strip.Shares != nil {
				share = strip.Shares[i]
			}
			c := leafColumn{x: x}
			wide := (width - gap*float64(n-1)) * share
			for k, b := range blocks {
				item, err := s.block(b, wide, neighbours(blocks, k))
				if err != nil {
					return nil, err
				}
				c.items = append(c.items, item)
			}
			x += wide
			if i < n-1 && strip.Cut {
				out.cuts = append(out.cuts, x+gap/2)
			}
			x += gap
			out.columns = append(out.columns, c)
			out.height = max(out.height, c.height())
		}
		p.strips = append(p.strips, out)
	}
	p.foot.x = area.box.x0
	for _, text := range l.Foot {
		item, err := s.text(page.LeafText{Text: text, Small: true}, width)
		if err != nil {
			return nil, err
		}
		p.foot.items = append(p.foot.items, item)
	}
	return p, nil
}

// neighbours are the tables right above and below block k with nothing else between,
// itself among them, that have as many columns.
func neighbours(blocks []page.LeafBlock, k int) []page.LeafTable {
	t, ok := blocks[k].(page.LeafTable)
	if !ok {
		return nil
	}
	out := []page.LeafTable{t}
	for _, step := range []int{-1, 1} {
		for i := k + step; i >= 0 && i < len(blocks); i += step {
			o, ok := blocks[i].(page.LeafTable)
			if !ok || len(o.Head) != len(t.Head) {
				break
			}
			out = append(out, o)
		}
	}
	return out
}

// height is what the whole leaf needs.
func (p *leafPlan) height() float64 {
	h := p.foot.height()
	for i, s := range p.strips {
		h += s.height
		if i < len(p.strips)-1 || len(p.foot.items) > 0 {
			h += p.m.strip
		}
	}
	return h
}

// draw places a plan that fits, the foot at the lower edge.
func (p *leafPlan) draw() *drawing {
	d := &drawing{width: p.area.width, height: p.area.height}
	y := p.area.box.y0
	place := func(c leafColumn, y float64) {
		for i, it := range c.items {
			if i > 0 {
				y += it.before
			}
			it.draw(d, c.x, y)
			y += it.height
		}
	}
	for _, s := range p.strips {
		for _, c := range s.columns {
			place(c, y)
		}
		var cuts []seg
		for _, x := range s.cuts {
			cuts = append(cuts, seg{x, y, x, y + s.height})
		}
		d.strokes(strokes{role: roleGrid, width: lineThin, dash: dash{2, 2}, decor: true, segs: cuts})
		y += s.height + p.m.strip
	}
	place(p.foot, p.area.box.y1-p.foot.height())
	return d
}

// layoutLeaf is the one drawing of a leaf on a paper: the largest scale at which
// everything fits.
func layoutLeaf(l *page.Leaf, area sheetArea) (*drawing, error) {
	var err error
	for _, m := range leafScales() {
		var plan *leafPlan
		if plan, err = fitLeaf(l, area, m); err == nil {
			return roomier(l, area, plan).draw(), nil
		}
	}
	return nil, err
}

// roomier gives height that is left over to the rows of tables.
func roomier(l *page.Leaf, area sheetArea, plan *leafPlan) *leafPlan {
	for more := 1.4; more > 0.05; more -= 0.1 {
		m := plan.m
		m.rowPad += more
		if p, err := fitLeaf(l, area, m); err == nil {
			return p
		}
	}
	return plan
}

// fitLeaf plans a leaf at one scale; too high is an error too.
func fitLeaf(l *page.Leaf, area sheetArea, m leafMeasures) (*leafPlan, error) {
	plan, err := planLeaf(l, area, m)
	if err != nil {
		return nil, err
	}
	if need, room := plan.height(), area.box.y1-area.box.y0; need > room {
		return nil, noRoom{area.name, need, room}
	}
	return plan, nil
}

// noRoom says that a leaf is too high. Dozens are made for each leaf and one is read, so
// that they are put into words when they are.
type noRoom struct {
	paper      string
	need, room float64 // mm
}

func (e noRoom) Error() string {
	return fmt.Sprintf("no room on the %s: %.0f mm are needed and %.0f there", e.paper, e.need, e.room)
}

// LeafFits proves that a leaf fits on Letter and on A4 without drawing it.
func LeafFits(l *page.Leaf) error {
	var errs []error
	for _, p := range []Paper{Letter, A4} {
		if l.Pages {
			if _, err := leastPages(l, p.leafArea()); err != nil {
				errs = append(errs, fmt.Errorf("%s: %w", l.Title(), err))
			}
			continue
		}
		if _, err := fitLeaf(l, p.leafArea(), leafMeasuresAt(leastLeafScale)); err != nil {
			errs = append(errs, fmt.Errorf("%s: %w", l.Title(), err))
		}
	}
	return errors.Join(errs...)
}

// LeafPDF draws a leaf as a tagged PDF of one page, or of several where the leaf may. The
// same leaf gives the same bytes.
func LeafPDF(l *page.Leaf, paper Paper) ([]byte, error) {
	if l.Pages {
		return pagesPDF(l, paper)
	}
	d, err := layoutLeaf(l, paper.leafArea())
	if err != nil {
		return nil, fmt.Errorf("%s: %w", paper.Title, err)
	}
	if l.Dated != "" && !isoDate.MatchString(l.Dated) {
		return nil, fmt.Errorf("the leaf is dated %q, not year-month-day", l.Dated)
	}
	facts := pdfFacts{title: l.Title(), lang: l.Lang, subject: l.Subject, dated: l.Dated}
	facts.outline = leafOutline(l, d)
	return d.play(newPDF(paper, facts))
}

// leafOutline leads to each heading.
func leafOutline(l *page.Leaf, d *drawing) []pdfMark {
	marks := []pdfMark{{title: l.Band + ": " + l.Name}}
	for i, m := range d.marks {
		if p, ok := m.(*part); ok && slices.Contains([]string{"H1", "H2"}, p.tag) && i+1 < len(d.marks) {
			if r, ok := d.marks[i+1].(run); ok {
				marks = append(marks, pdfMark{title: r.s, y: r.y - r.size*point})
			}
		}
	}
	return marks
}
