package render

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"shedwall/cmd/shedwall/internal/page"
)

// A leaf that may take several pages is laid out at the largest scale at which it takes no
// more of them than at the least one. Its strips stand whole; after them its flow runs on
// column by column, a heading never alone at a column's foot.

// pagesScales are tried from large to small: lists are read at arm's length.
var pagesScales = []float64{1.24, 1.2, 1.16, 1.12, 1.08, 1.04, 1, 0.97, 0.94, 0.91, 0.88}

// flowScale is the most for a leaf with a flow, so that a line holds a day and a name.
const flowScale = 1.0

// runningSize is the type of the line at the foot of each page, in points.
const runningSize = 7.5

// runningLead is how far its lines are apart, in its own size.
const runningLead = 1.2

// flowItem is a leafItem in columns. Keep binds it to the one after it; again stands over it
// where a column begins with it, without a block where nothing does.
type flowItem struct {
	leafItem
	keep  bool
	again leafItem
}

// over is how much the item is lower down as the first of a column.
func (it *flowItem) over() float64 {
	if it.again.block == nil {
		return 0
	}
	return it.again.height + it.before
}

// scalesOf are the scales that a leaf is tried at.
func scalesOf(l *page.Leaf) []float64 {
	scales := pagesScales
	if len(l.Flow) > 0 {
		for scales[0] > flowScale {
			scales = scales[1:]
		}
	}
	return scales
}

// leastPages sets a leaf at its least scale.
func (l *Leaf) leastPages(area sheetArea) (*leafPages, error) {
	scales := scalesOf(l.leaf)
	p := leafRooms.Get().(*leafPages)
	p.leaf, p.area = l, area
	return p, p.set(scales[len(scales)-1], math.MaxInt)
}

// layoutPages sets a leaf's pages on a paper.
func (l *Leaf) layoutPages(area sheetArea) (*leafPages, error) {
	p, err := l.leastPages(area)
	if err != nil {
		return nil, err
	}
	least := len(p.pages)
	for _, s := range scalesOf(l.leaf) { // the last of them takes as many
		if err = p.set(s, least); err == nil {
			return p, nil
		}
	}
	return nil, err
}

// placed is an item at its place on a page.
type placed struct {
	item *leafItem
	x, y float64
}

// leafPages is a leaf of several pages, worked out at one scale. Setting it at another
// uses the same room.
type leafPages struct {
	leaf  *Leaf
	area  sheetArea
	sizes leafMeasures
	items []flowItem // of the flow
	pages []leafPage
}

// leafRooms are pages that were drawn, with their room.
var leafRooms = sync.Pool{New: func() any { return &leafPages{} }}

// leafPage is what stands on a page.
type leafPage struct {
	items []placed
	cuts  []seg
	edges []seg // thin lines between columns
}

// errPages says that a leaf takes more pages than it may.
var errPages = errors.New("too many pages")

// set places everything at one scale, on so many pages at the most. An error: something is
// too wide, too high for any page, or there are more of them.
func (p *leafPages) set(scale float64, most int) error {
	p.sizes = leafMeasuresAt(scale)
	m, l, area := &p.sizes, p.leaf, p.area
	plan, err := l.plan(area, m)
	if err != nil {
		return err
	}
	p.pages = p.pages[:0]
	foot := area.box.y1 - (0.4+runningLead*float64(len(l.running(99, 99, area))))*runningSize*point
	y := area.box.y0
	p.turn()
	for i, s := range plan.strips {
		need := s.height
		if s.above && y > area.box.y0 {
			need += m.strip
		}
		for k := i; plan.strips[k].keep && k+1 < len(plan.strips); k++ {
			need += m.strip/2 + plan.strips[k+1].height
		}
		if y+need > foot && y > area.box.y0 && (i == 0 || !plan.strips[i-1].keep) {
			p.turn()
			y = area.box.y0
		}
		if y+s.height > foot {
			return fmt.Errorf("no room on the %s: a part is %.0f mm high", area.name, need)
		}
		if s.above && y > area.box.y0 {
			p.cut(seg{area.box.x0, y, area.box.x1, y})
			y += m.strip
		}
		for k := range s.columns {
			p.column(&s.columns[k], y)
		}
		for _, x := range s.cuts {
			p.cut(seg{x, y, x, y + s.height})
		}
		y += s.height + m.strip
		if s.keep {
			y -= m.strip / 2
		}
	}
	if y, err = p.flow(y, foot, most); err != nil {
		return err
	}
	if y+plan.foot.height() > foot {
		p.turn()
	}
	if len(p.pages) > most {
		return errPages
	}
	p.column(&plan.foot, foot-plan.foot.height())
	return nil
}

func (p *leafPages) turn() {
	n := len(p.pages)
	if n == cap(p.pages) {
		p.pages = append(p.pages, leafPage{})
		return
	}
	p.pages = p.pages[:n+1]
	x := &p.pages[n]
	*x = leafPage{x.items[:0], x.cuts[:0], x.edges[:0]}
}

// last is the page that is being filled.
func (p *leafPages) last() *leafPage { return &p.pages[len(p.pages)-1] }

func (p *leafPages) put(it *leafItem, x, y float64) {
	p.last().items = append(p.last().items, placed{it, x, y})
}

func (p *leafPages) cut(s seg) { p.last().cuts = append(p.last().cuts, s) }

func (p *leafPages) column(c *leafColumn, y float64) {
	for i := range c.items {
		it := &c.items[i]
		if i > 0 {
			y += it.before
		}
		p.put(it, c.x, y)
		y += it.height
	}
}

// flow places the running part in columns from y down and returns where the page is free
// below all of them.
func (p *leafPages) flow(y, foot float64, most int) (float64, error) {
	if len(p.leaf.flow) == 0 {
		return y, nil
	}
	n, box := max(1, p.leaf.leaf.Columns), p.area.box
	wide := (box.x1 - box.x0 - p.sizes.column*float64(n-1)) / float64(n)
	p.items = slices.Grow(p.items[:0], len(p.leaf.flow))
	items := p.items[:len(p.leaf.flow)]
	for i, b := range p.leaf.flow {
		item, err := b.set(&p.sizes, wide)
		if err != nil {
			return 0, err
		}
		items[i] = flowItem{leafItem: item, keep: b.keep}
		if b.again != nil {
			if items[i].again, err = b.again.set(&p.sizes, wide); err != nil {
				return 0, err
			}
		}
	}
	// The text at the end of the leaf gets a place below the last columns, which are made
	// equally long.
	for len(items) > 0 {
		room := foot - y
		taken := fill3(items, n, room)
		if taken == len(items) {
			room = shortest(items, n, room)
		}
		if taken == 0 && y > box.y0 { // what stands above leaves too little of the page
			if p.turn(); len(p.pages) > most {
				return 0, errPages
			}
			y = box.y0
			continue
		}
		if taken == 0 {
			return 0, fmt.Errorf("no room on the %s for %d columns", p.area.name, n)
		}
		p.columns(items[:taken], n, wide, y, room)
		items = items[taken:]
		if len(items) > 0 {
			if p.turn(); len(p.pages) > most {
				return 0, errPages
			}
			y = box.y0
			continue
		}
		y += room + p.sizes.strip
	}
	return y, nil
}

// columns places items that fit into n columns.
func (p *leafPages) columns(items []flowItem, n int, wide, y, room float64) {
	x := p.area.box.x0
	for k := 0; k < n && len(items) > 0; k++ {
		if k > 0 {
			edge := x - p.sizes.column/2
			p.last().edges = append(p.last().edges, seg{edge, y, edge, y + room})
		}
		m := fits(items, room)
		at := y
		for i := range items[:m] {
			it := &items[i].leafItem
			if i > 0 {
				at += it.before
			} else if over := items[0].over(); over > 0 {
				p.put(&items[0].again, x, at)
				at += over
			}
			p.put(it, x, at)
			at += it.height
		}
		items, x = items[m:], x+wide+p.sizes.column
	}
}

// fits is how many items stand in a column of a height without parting what belongs
// together.
func fits(items []flowItem, room float64) int {
	n, at := 0, 0.0
	for i := range items {
		it := &items[i]
		if i > 0 {
			at += it.before
		} else {
			at += it.over()
		}
		if at += it.height; at > room+1e-9 {
			break
		}
		if !it.keep || i == len(items)-1 {
			n = i + 1
		}
	}
	return n
}

// fill3 is how many items stand in n columns of a height.
func fill3(items []flowItem, n int, room float64) int {
	taken := 0
	for range n {
		taken += fits(items[taken:], room)
	}
	return taken
}

// shortest is the least height of n columns that hold all items.
func shortest(items []flowItem, n int, room float64) float64 {
	low, high := 0.0, room
	for high-low > 0.5 {
		if mid := (low + high) / 2; fill3(items, n, mid) == len(items) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// leafGroup is the name of a group of things to do.
type leafGroup struct{ words running }

func (g *leafGroup) set(m *leafMeasures, width float64) (leafItem, error) {
	h, err := g.words.height(m.small, width, m.leading)
	return leafItem{height: h, before: m.gap * 0.55, width: width, block: g}, err
}

func (g *leafGroup) draw(m *leafMeasures, d *drawing, x, y, width float64) {
	g.words.draw(d, "P", x, y, m.small, width, m.leading)
}

// leafAgain is a heading that is repeated over what goes on in the next column. Programs that
// read a document aloud read no columns: to them it is not said again.
type leafAgain struct{ words running }

func (a *leafAgain) set(m *leafMeasures, width float64) (leafItem, error) {
	h, err := a.words.height(m.small, width, m.leading)
	return leafItem{height: h, width: width, block: a}, err
}

func (a *leafAgain) draw(m *leafMeasures, d *drawing, x, y, width float64) {
	a.words.place(d, x, y, m.small, width, m.leading, true)
}

// leafTick is a thing to do with a box before it: the day, then the words, which hang
// under themselves where they take more lines.
type leafTick struct {
	words       running
	first, last bool // of its group
}

// sizes is the sides of the box, where the words begin, and their type.
func (t *leafTick) sizes(m *leafMeasures) (box, left, size float64) {
	box = m.text * point * 0.82
	return box, box + 1.5, m.text * 0.95
}

func (t *leafTick) set(m *leafMeasures, width float64) (leafItem, error) {
	box, left, size := t.sizes(m)
	h, err := t.words.height(size, width-left, m.leading)
	return leafItem{height: max(h, box) + 0.25, before: 0.75, width: width, block: t}, err
}

func (t *leafTick) draw(m *leafMeasures, d *drawing, x, y, width float64) {
	box, left, size := t.sizes(m)
	if t.first {
		d.open(part{tag: "L"})
	}
	d.in(part{tag: "LI"}, func() {
		r := rect{x + 0.1, y, x + 0.1 + box, y + box}
		d.frame(r, strokes{role: roleGrid, width: lineBar, decor: true})
		t.words.draw(d, "LBody", x+left, y, size, width-left, m.leading)
	})
	if t.last {
		d.shut()
	}
}

// draw draws page i with its running line.
func (p *leafPages) draw(d *drawing, i int) {
	on := &p.pages[i]
	for _, it := range on.items {
		it.item.draw(&p.sizes, d, it.x, it.y)
	}
	d.strokes(strokes{role: roleGrid, width: lineThin, dash: dash{2, 2}, decor: true, segs: on.cuts})
	d.strokes(strokes{role: roleGrid, width: lineThin, decor: true, segs: on.edges})
	lines := p.leaf.running(i+1, len(p.pages), p.area)
	for k, text := range lines {
		up := runningLead * float64(len(lines)-1-k) * runningSize * point
		d.text(run{x: p.area.box.x0, y: p.area.box.y1 - up, size: runningSize, decor: true, s: text})
	}
}

// running is the line at the foot of page n of all; two where the band's name and the
// statement are too long for one.
func (l *Leaf) running(n, all int, area sheetArea) []string {
	text, err := printable(strings.NewReplacer("{n}", strconv.Itoa(n), "{all}", strconv.Itoa(all)).Replace(l.leaf.Running))
	if err != nil {
		return nil
	}
	wide := area.box.x1 - area.box.x0
	if lines, _, ok := setText(text, regular, runningSize, runningSize, wide, 2); ok {
		return lines
	}
	return []string{text}
}
