package render

import (
	"fmt"
	"html"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// svgCanvas draws a sheet as an SVG element in whole hundredths of a millimetre:
// no decimal points, and sizes of type far above any browser's least size.
// Structure is left to the page around it, which says everything in words.
type svgCanvas struct {
	width  float64
	body   []byte // to be closed as operators are
	styles []svgStyle
}

// svgStyle is one pair of weight and size, a class in the page's style sheet.
type svgStyle struct {
	weight weight
	size   int
}

// pictures are where sheets are drawn: some 30 to 60 kB each.
var pictures = sync.Pool{New: func() any { b := make([]byte, 0, 1<<16); return &b }}

func openPicture() []byte { return (*pictures.Get().(*[]byte))[:0] }

// closePicture takes a drawing back that nobody reads any more.
func closePicture(b []byte) { pictures.Put(&b) }

// newSVG begins the drawing; id is that of its title.
func newSVG(id, title string, d *drawing) *svgCanvas {
	c := &svgCanvas{width: d.width, body: openPicture()}
	c.say(`<svg class="sheet" role="img" aria-labelledby="`, id, `" viewBox="0 0 `, hundredths(d.width), " ", hundredths(d.height), "\">\n",
		`<title id="`, id, `">`, html.EscapeString(title), "</title>\n")
	return c
}

func hundredths(mm float64) int { return int(math.Round(mm * 100)) }

func (c *svgCanvas) open(part) {}
func (c *svgCanvas) shut()     {}

// say appends words and whole numbers in turn.
func (c *svgCanvas) say(parts ...any) {
	for _, p := range parts {
		switch p := p.(type) {
		case string:
			c.body = append(c.body, p...)
		case int:
			c.body = strconv.AppendInt(c.body, int64(p), 10)
		}
	}
}

func (c *svgCanvas) strokes(s strokes) {
	b := append(c.body, `<path stroke-width="`...)
	number := func(words string, v int) { b = strconv.AppendInt(append(b, words...), int64(v), 10) }
	number("", hundredths(s.width))
	b = append(b, '"')
	if s.round {
		b = append(b, ` stroke-linecap="round"`...)
	}
	if s.dash.on > 0 {
		number(` stroke-dasharray="`, hundredths(s.dash.on))
		number(" ", hundredths(s.dash.off))
		b = append(b, '"')
	}
	b = append(b, ` d="`...)
	for i := range s.segs {
		l := &s.segs[i]
		x1, y1, x2, y2 := hundredths(l.x1), hundredths(l.y1), hundredths(l.x2), hundredths(l.y2)
		number("M", x1)
		number(" ", y1)
		switch {
		case y1 == y2 && x1 == x2:
			b = append(b, "h0"...)
		case y1 == y2:
			number("h", x2-x1)
		case x1 == x2:
			number("v", y2-y1)
		case y2 >= y1:
			number("l", x2-x1)
			number(" ", y2-y1)
		default:
			number("l", x2-x1)
			number("", y2-y1)
		}
	}
	c.body = append(b, "\"/>\n"...)
}

func (c *svgCanvas) fill(f fill) {
	x, y := hundredths(f.box.x0), hundredths(f.box.y0)
	c.say(`<path class="f" d="M`, x, " ", y, "h", hundredths(f.box.x1)-x, "v", hundredths(f.box.y1)-y, "h", x-hundredths(f.box.x1), "z\"/>\n")
}

func (c *svgCanvas) text(t run) {
	st := svgStyle{t.weight, hundredths(t.size * point)}
	n := slices.Index(c.styles, st)
	if n < 0 {
		n = len(c.styles)
		c.styles = append(c.styles, st)
	}
	x, place := t.x, ""
	switch t.anchor {
	case atMiddle:
		x, place = t.x+t.width()/2, ` text-anchor="middle"`
	case atEnd:
		x, place = t.x+t.width(), ` text-anchor="end"`
	}
	b := strconv.AppendInt(append(c.body, `<text class="s`...), int64(n), 10)
	b = strconv.AppendInt(append(b, `" x="`...), int64(hundredths(x)), 10)
	b = strconv.AppendInt(append(b, `" y="`...), int64(hundredths(t.y)), 10)
	b = append(append(append(b, '"'), place...), '>')
	c.body = append(append(b, html.EscapeString(t.s)...), "</text>\n"...)
}

func (c *svgCanvas) finish() ([]byte, error) { return append(c.body, "</svg>"...), nil }

// css is the style rules of the drawing; family is the name of its fonts.
func (c *svgCanvas) css(family string) string {
	var b strings.Builder
	fmt.Fprintf(&b, ".sheet{width:%.2fmm}\n", c.width)
	b.WriteString(".sheet path{stroke:#000;fill:none}.sheet .f{stroke:none;fill:#000}\n")
	for i, st := range c.styles {
		w := ""
		if st.weight == bold {
			w = "bold "
		}
		fmt.Fprintf(&b, ".s%d{font:%s%dpx %s}\n", i, w, st.size, family)
	}
	return b.String()
}
