package render

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
)

// svgCanvas draws a sheet as an SVG element in whole hundredths of a millimetre:
// no decimal points, and sizes of type far above any browser's least size.
// Structure is left to the page around it, which says everything in words.
type svgCanvas struct {
	id     string // of the title element
	title  string
	width  float64
	height float64
	body   strings.Builder
	styles []svgStyle
}

// svgStyle is one pair of weight and size, a class in the page's style sheet.
type svgStyle struct {
	weight weight
	size   int
}

func newSVG(id, title string, d *drawing) *svgCanvas {
	return &svgCanvas{id: id, title: title, width: d.width, height: d.height}
}

func hundredths(mm float64) int { return int(math.Round(mm * 100)) }

func (c *svgCanvas) open(*part) {}
func (c *svgCanvas) shut()      {}

func (c *svgCanvas) strokes(s strokes) {
	fmt.Fprintf(&c.body, `<path stroke-width="%d"`, hundredths(s.width))
	if s.round {
		c.body.WriteString(` stroke-linecap="round"`)
	}
	if s.dash.on > 0 {
		fmt.Fprintf(&c.body, ` stroke-dasharray="%d %d"`, hundredths(s.dash.on), hundredths(s.dash.off))
	}
	c.body.WriteString(` d="`)
	for _, l := range s.segs {
		x1, y1, x2, y2 := hundredths(l.x1), hundredths(l.y1), hundredths(l.x2), hundredths(l.y2)
		fmt.Fprintf(&c.body, "M%d %d", x1, y1)
		switch {
		case y1 == y2 && x1 == x2:
			c.body.WriteString("h0")
		case y1 == y2:
			fmt.Fprintf(&c.body, "h%d", x2-x1)
		case x1 == x2:
			fmt.Fprintf(&c.body, "v%d", y2-y1)
		default:
			c.body.WriteString("l" + strconv.Itoa(x2-x1))
			if y2 >= y1 {
				c.body.WriteByte(' ')
			}
			c.body.WriteString(strconv.Itoa(y2 - y1))
		}
	}
	c.body.WriteString("\"/>\n")
}

func (c *svgCanvas) fill(f fill) {
	x, y := hundredths(f.box.x0), hundredths(f.box.y0)
	fmt.Fprintf(&c.body, `<path class="f" d="M%d %dh%dv%dh%dz"/>`+"\n", x, y, hundredths(f.box.x1)-x, hundredths(f.box.y1)-y, x-hundredths(f.box.x1))
}

func (c *svgCanvas) text(t run) {
	st := svgStyle{t.weight, hundredths(t.size * point)}
	n := -1
	for i, o := range c.styles {
		if o == st {
			n = i
		}
	}
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
	fmt.Fprintf(&c.body, `<text class="s%d" x="%d" y="%d"%s>%s</text>`+"\n", n, hundredths(x), hundredths(t.y), place, html.EscapeString(t.s))
}

func (c *svgCanvas) finish() ([]byte, error) {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="sheet" role="img" aria-labelledby="%s" viewBox="0 0 %d %d">`+"\n",
		c.id, hundredths(c.width), hundredths(c.height))
	fmt.Fprintf(&b, `<title id="%s">%s</title>`+"\n", c.id, html.EscapeString(c.title))
	b.WriteString(c.body.String())
	b.WriteString("</svg>")
	return []byte(b.String()), nil
}

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
