package render

import (
	"errors"
	"fmt"
	"slices"
	"sort"
	"sync"

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
var leafScales = sync.OnceValue(func() []leafMeasures {
	var out []leafMeasures
	for _, whole := range []bool{true, false} {
		for s := 1.3; s > leastLeafScale; s -= 0.02 {
			m := leafMeasuresAt(s)
			m.whole = whole
			out = append(out, m)
		}
	}
	return append(out, leafMeasuresAt(leastLeafScale))
})

// leafColumn is the items of a column at its place.
type leafColumn struct {
	x     float64
	items []leafItem
}

func (c leafColumn) height() float64 {
	var h float64
	for i := range c.items {
		h += c.items[i].height
		if i > 0 {
			h += c.items[i].before
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
	m      *leafMeasures
	strips []leafStrip
	foot   leafColumn
}

// plan sets every block of a leaf at one scale. An error means that something is too
// wide; whether the heights fit is asked later.
func (l *Leaf) plan(area sheetArea, m *leafMeasures) (*leafPlan, error) {
	p := &leafPlan{area: area, m: m, strips: make([]leafStrip, len(l.strips))}
	width := area.box.x1 - area.box.x0
	for s := range l.leaf.Strips {
		strip, out := &l.leaf.Strips[s], &p.strips[s]
		out.above, out.keep = strip.CutAbove, strip.Keep
		gap := m.column
		if strip.Cut {
			gap = m.cut
		}
		n := len(strip.Columns)
		out.columns = make([]leafColumn, n)
		x := area.box.x0
		for i, blocks := range l.strips[s] {
			share := 1 / float64(n)
			if strip.Shares != nil {
				share = strip.Shares[i]
			}
			wide := (width - gap*float64(n-1)) * share
			c := &out.columns[i]
			var err error
			if *c, err = columnOf(blocks, m, x, wide); err != nil {
				return nil, err
			}
			x += wide
			if i < n-1 && strip.Cut {
				out.cuts = append(out.cuts, x+gap/2)
			}
			x += gap
			out.height = max(out.height, c.height())
		}
	}
	var err error
	p.foot, err = columnOf(l.foot, m, area.box.x0, width)
	return p, err
}

// columnOf sets blocks one under the other.
func columnOf(blocks []leafBlock, m *leafMeasures, x, wide float64) (leafColumn, error) {
	c := leafColumn{x: x, items: make([]leafItem, len(blocks))}
	for i, b := range blocks {
		var err error
		if c.items[i], err = b.set(m, wide); err != nil {
			return c, err
		}
	}
	return c, nil
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
func (p *leafPlan) draw(d *drawing) {
	y := p.area.box.y0
	place := func(c *leafColumn, y float64) {
		for i := range c.items {
			it := &c.items[i]
			if i > 0 {
				y += it.before
			}
			it.draw(p.m, d, c.x, y)
			y += it.height
		}
	}
	for _, s := range p.strips {
		for i := range s.columns {
			place(&s.columns[i], y)
		}
		var cuts []seg
		for _, x := range s.cuts {
			cuts = append(cuts, seg{x, y, x, y + s.height})
		}
		d.strokes(strokes{role: roleGrid, width: lineThin, dash: dash{2, 2}, decor: true, segs: cuts})
		y += s.height + p.m.strip
	}
	place(&p.foot, p.area.box.y1-p.foot.height())
}

// layout plans a leaf of one page on a paper: at the largest scale at which everything fits.
func (l *Leaf) layout(area sheetArea) (*leafPlan, error) {
	var err error
	var tooHigh []float64 // scales at which it is so with whole cells
	for _, m := range leafScales() {
		if !m.whole && slices.Contains(tooHigh, m.scale) {
			continue // the same heights again
		}
		var plan *leafPlan
		if plan, err = l.fit(area, &m); err == nil {
			return l.roomier(area, plan), nil
		}
		if _, ok := err.(noRoom); ok && m.whole {
			tooHigh = append(tooHigh, m.scale)
		}
	}
	return nil, err
}

// roomier gives height that is left over to the rows of tables: as much as fits, which is
// found by halves, since more room makes nothing lower.
func (l *Leaf) roomier(area sheetArea, plan *leafPlan) *leafPlan {
	var pads []float64
	for more := 1.4; more > 0.05; more -= 0.1 {
		pads = append(pads, more)
	}
	best := plan
	sort.Search(len(pads), func(i int) bool {
		m := *plan.m
		m.rowPad += pads[i]
		p, err := l.fit(area, &m)
		if err == nil {
			best = p // with more room than the one before
		}
		return err == nil
	})
	return best
}

// fit plans a leaf at one scale; too high is an error too.
func (l *Leaf) fit(area sheetArea, m *leafMeasures) (*leafPlan, error) {
	plan, err := l.plan(area, m)
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
	set, err := MeasureLeaf(l)
	if err != nil {
		return fmt.Errorf("%s: %w", l.Title(), err)
	}
	least := leafMeasuresAt(leastLeafScale)
	var errs []error
	for _, p := range []Paper{Letter, A4} {
		if l.Pages {
			_, err = set.leastPages(p.leafArea())
		} else {
			_, err = set.fit(p.leafArea(), &least)
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("%s: %w", l.Title(), err))
		}
	}
	return errors.Join(errs...)
}

// LeafPDF is the PDF of a leaf that is wanted on one paper.
func LeafPDF(l *page.Leaf, paper Paper) ([]byte, error) {
	set, err := MeasureLeaf(l)
	if err != nil {
		return nil, err
	}
	return keptPDF(func(use func(pdf []byte) error) error { return set.WithPDF(paper, use) })
}

// WithPDF draws a leaf as a tagged PDF of one page, or of several where the leaf may, and
// hands the file to use, which may keep nothing of it. The same leaf gives the same bytes.
// The error says what does not fit, or is that of use.
func (l *Leaf) WithPDF(paper Paper, use func(pdf []byte) error) error {
	var plan *leafPlan // of a leaf of one page
	var pages *leafPages
	var err error
	if l.leaf.Pages {
		pages, err = l.layoutPages(paper.leafArea())
	} else {
		plan, err = l.layout(paper.leafArea())
	}
	if err != nil {
		return fmt.Errorf("%s: %w", paper.Title, err)
	}
	facts, err := l.facts()
	if err != nil {
		return err
	}
	c := &outlined{pdfCanvas: newPDF(paper, facts)}
	d := &drawing{width: paper.Width, height: paper.Height, to: c}
	if plan != nil {
		plan.draw(d)
		return c.with(use)
	}
	for i := range pages.pages {
		if i > 0 {
			c.turn()
		}
		pages.draw(d, i)
	}
	leafRooms.Put(pages)
	return c.with(use)
}

// facts is the properties of the document.
func (l *Leaf) facts() (pdfFacts, error) {
	x := l.leaf
	if x.Dated != "" && !isoDate.MatchString(x.Dated) {
		return pdfFacts{}, fmt.Errorf("the leaf is dated %q, not year-month-day", x.Dated)
	}
	return pdfFacts{title: x.Title(), lang: x.Lang, subject: x.Subject, dated: x.Dated,
		outline: []pdfMark{{title: x.Band + ": " + x.Name}}}, nil
}

// outlined is a PDF with each heading in its outline.
type outlined struct {
	*pdfCanvas
	heading bool // one was opened, and its words come
}

func (c *outlined) open(p part) {
	c.heading = p.tag == "H1" || p.tag == "H2"
	c.pdfCanvas.open(p)
}

func (c *outlined) text(t run) {
	if c.heading {
		c.facts.outline = append(c.facts.outline, pdfMark{title: t.s, y: t.y - t.size*point, page: len(c.done)})
		c.heading = false
	}
	c.pdfCanvas.text(t)
}
