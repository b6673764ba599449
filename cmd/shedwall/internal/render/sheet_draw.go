package render

import (
	"cmp"
	"math"
	"slices"
)

// A sheet is laid out once, as a list of marks in mm from the top left corner of
// the paper, and then played to a canvas: SVG or PDF. Everything is black and
// nothing lies under anything else, so that a mark never depends on the order of
// drawing, and a copy in two tones loses nothing.

// canvas is what a sheet can be drawn on. Parts open and shut like brackets and
// carry the logical structure; marks with decor set belong to no part.
type canvas interface {
	open(p part)
	shut()
	strokes(s strokes)
	fill(f fill)
	text(t run)
	finish() ([]byte, error)
}

// part is one element of the document's structure.
type part struct {
	tag    string // "H1", "P", "Table", "THead", "TBody", "TR", "TH", "TD", "Figure"
	scope  string // of a TH: "Column" or "Row"
	alt    string // of a Figure: what it shows
	actual string // words that stand for the drawn ones
	box    rect   // of a Figure
}

// rect is a rectangle; x1 > x0 and y1 > y0, y downwards.
type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) grow(d float64) rect { return rect{r.x0 - d, r.y0 - d, r.x1 + d, r.y1 + d} }

func (r rect) meets(o rect) bool {
	return r.x0 < o.x1 && o.x0 < r.x1 && r.y0 < o.y1 && o.y0 < r.y1
}

// seg is a straight line.
type seg struct{ x1, y1, x2, y2 float64 }

// role tells what a mark is for; tests hold the roles apart.
type role uint8

const (
	roleGrid   role = iota // month lines, ticks, thin rules
	roleRule               // heavy rules
	roleFreeze             // careful last and first freeze
	roleBar                // bars and their hatches
	roleCover              // cover lines
	roleNail               // where the nail goes
)

// strokes are lines of one width. Round ends turn a line without length into a
// dot. Dash, where not 0, breaks the lines into dashes of that length.
type strokes struct {
	role  role
	width float64
	dash  dash
	round bool
	decor bool
	box   bool // segs are all four sides of a box, as appendFrame has them
	segs  []seg
}

// dash is the length of dashes and of the gaps between them, in mm.
type dash struct{ on, off float64 }

// fill is a black rectangle.
type fill struct {
	role  role
	decor bool
	box   rect
}

// anchor is the end of a text that stays put where a reader's machine has
// another font.
type anchor uint8

const (
	atStart anchor = iota
	atMiddle
	atEnd
)

// run is a text on one line. x is its left end, y its line; size in points.
type run struct {
	x, y   float64
	size   float64
	weight weight
	anchor anchor
	decor  bool
	more   bool // another word follows in the same part
	s      string
}

func (t run) width() float64 { return textWidth(t.s, t.weight, t.size) }

// ink is the rectangle that the text's letters fill.
func (t run) ink() rect {
	above, below := inkExtent(t.s, t.weight, t.size)
	return rect{t.x, t.y - above, t.x + t.width(), t.y + below}
}

// drawing records a layout, or hands its marks on to a canvas at once where it has one.
type drawing struct {
	width, height float64
	marks         []any  // *part, shut{}, strokes, fill, run
	to            canvas // where marks go; nil = they are recorded

	rows []lineRun // room for the lines of a text
	side []seg     // ... and for the sides of a frame, where they are not kept
}

type shut struct{}

func (d *drawing) open(p part) {
	if d.to != nil {
		d.to.open(p)
		return
	}
	kept := p // so that p is moved off the stack only where it is kept
	d.marks = append(d.marks, &kept)
}

func (d *drawing) shut() {
	if d.to != nil {
		d.to.shut()
		return
	}
	d.marks = append(d.marks, shut{})
}

func (d *drawing) fill(f fill) {
	if d.to != nil {
		d.to.fill(f)
		return
	}
	d.marks = append(d.marks, f)
}

func (d *drawing) text(t run) {
	if d.to != nil {
		d.to.text(t)
		return
	}
	d.marks = append(d.marks, t)
}

func (d *drawing) strokes(s strokes) {
	switch {
	case len(s.segs) == 0:
	case d.to != nil:
		d.to.strokes(s)
	default:
		d.marks = append(d.marks, s)
	}
}

// in records marks inside a part.
func (d *drawing) in(p part, draw func()) {
	d.open(p)
	draw()
	d.shut()
}

// play draws everything on a canvas and ends the document.
func (d *drawing) play(c canvas) ([]byte, error) {
	d.marksTo(c)
	return c.finish()
}

// frame draws the outline of r, inside it.
func (d *drawing) frame(r rect, s strokes) {
	if d.to == nil {
		d.side = make([]seg, 0, 4)
	}
	d.side = appendFrame(d.side[:0], r, s.width, false, false)
	s.box, s.segs = true, d.side
	d.strokes(s)
}

// appendFrame appends the outline of r, drawn inside it with lines of the given width. An
// open side shows that the thing goes on beyond the edge of the calendar.
func appendFrame(segs []seg, r rect, width float64, openLeft, openRight bool) []seg {
	h := width / 2
	segs = append(segs, seg{r.x0, r.y0 + h, r.x1, r.y0 + h}, seg{r.x0, r.y1 - h, r.x1, r.y1 - h})
	if !openLeft {
		segs = append(segs, seg{r.x0 + h, r.y0, r.x0 + h, r.y1})
	}
	if !openRight {
		segs = append(segs, seg{r.x1 - h, r.y0, r.x1 - h, r.y1})
	}
	return segs
}

// slantedHatch fills r with lines rising to the right at 45 degrees, pitch mm
// apart along the bar, each cut at the rectangle's sides.
func slantedHatch(r rect, pitch float64) []seg {
	h := r.y1 - r.y0
	segs := make([]seg, 0, max(0, int((r.x1-r.x0+h)/pitch)+2))
	for c := r.x0 - h + pitch/2; c < r.x1; c += pitch {
		a, b := max(c, r.x0), min(c+h, r.x1)
		if b-a < 0.15 {
			continue
		}
		segs = append(segs, seg{a, r.y1 - (a - c), b, r.y1 - (b - c)})
	}
	return segs
}

// spread gives n >= 1 places from a to b, as near to pitch apart as an even
// division allows and never closer than least.
func spread(a, b, pitch, least float64) []float64 {
	n := max(1, int(math.Round((b-a)/pitch)))
	for n > 1 && (b-a)/float64(n) < least {
		n--
	}
	if b-a < least {
		return []float64{(a + b) / 2}
	}
	out := make([]float64, n+1)
	for i := range out {
		out[i] = a + (b-a)*float64(i)/float64(n)
	}
	return out
}

// span is a stretch of a line.
type span struct{ a, b float64 }

// dashed cuts the stretch a-b into dashes so that one stands at each end.
func dashed(a, b, on, off float64) []span {
	n := max(1, int(math.Round((b-a+off)/(on+off))))
	if n == 1 {
		return []span{{a, b}}
	}
	f := (b - a) / (float64(n)*on + float64(n-1)*off)
	out := make([]span, n)
	for i := range out {
		out[i] = span{a + float64(i)*(on+off)*f, a + (float64(i)*(on+off)+on)*f}
	}
	return out
}

// without is what is left of s outside the holes, pieces of at least least mm.
func without(s span, holes []span, least float64) []span {
	if len(holes) > 1 {
		holes = sorted(slices.Clone(holes))
	}
	return withoutSorted(nil, s, holes, least)
}

// sorted puts spans in the order of their beginnings.
func sorted(s []span) []span {
	slices.SortFunc(s, func(p, q span) int { return cmp.Compare(p.a, q.a) })
	return s
}

// withoutSorted appends the same to out, for holes in the order of their beginnings.
func withoutSorted(out []span, s span, holes []span, least float64) []span {
	at := s.a
	for _, h := range holes {
		if h.b <= at || h.a >= s.b {
			continue
		}
		if h.a-at >= least {
			out = append(out, span{at, h.a})
		}
		at = max(at, h.b)
	}
	if s.b-at >= least {
		out = append(out, span{at, s.b})
	}
	return out
}

// marksTo plays a drawing without ending the document.
func (d *drawing) marksTo(c canvas) {
	for _, m := range d.marks {
		switch m := m.(type) {
		case *part:
			c.open(*m)
		case shut:
			c.shut()
		case strokes:
			c.strokes(m)
		case fill:
			c.fill(m)
		case run:
			c.text(m)
		}
	}
}
