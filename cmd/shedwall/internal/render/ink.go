package render

import (
	"math"
	"sync"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"shedwall/cmd/shedwall/internal/page"
)

// inkDot is a dot of a 200 dpi printer in mm: no line comes out thinner than whole dots.
const inkDot = 25.4 / 200

// SheetInk is the share of a paper that a wall sheet makes black, 0 to 1, from its own
// drawing: lines by their length and their width in whole dots, letters by the area of
// their outlines. Nothing lies under anything else, so the parts add up.
func SheetInk(s *page.Sheet, paper Paper) (float64, error) {
	d, err := layoutSheet(s, paper.area())
	if err != nil {
		return 0, err
	}
	return d.ink(), nil
}

func (d *drawing) ink() float64 {
	var area float64
	for _, m := range d.marks {
		switch m := m.(type) {
		case fill:
			area += (m.box.x1 - m.box.x0) * (m.box.y1 - m.box.y0)
		case strokes:
			width := max(1, math.Round(m.width/inkDot)) * inkDot
			solid := 1.0
			if m.dash.on > 0 {
				solid = m.dash.on / (m.dash.on + m.dash.off)
			}
			for _, l := range m.segs {
				area += math.Hypot(l.x2-l.x1, l.y2-l.y1) * width * solid
				if m.round {
					area += math.Pi * width * width / 4
				}
			}
		case run:
			em := m.size * point
			for _, r := range m.s {
				area += letterInk(m.weight, r) * em * em
			}
		}
	}
	return area / (d.width * d.height)
}

// letterAreas is the black area of letters in square ems, worked out once each.
var letterAreas sync.Map // letterKey -> float64

type letterKey struct {
	w weight
	r rune
}

// outlines are the faces as outlines; they are only read under the lock.
var outlines = sync.OnceValue(func() [2]*sfnt.Font {
	var out [2]*sfnt.Font
	for i, file := range fontFiles() {
		font, err := sfnt.Parse(file)
		if err != nil {
			panic("render: " + err.Error()) // the fonts are compiled in
		}
		out[i] = font
	}
	return out
})

// letterInk is the area inside a letter's outlines: the sum of signed areas of its
// loops, holes running the other way, with curves by their control points (exact for
// quadratic ones: two thirds of the triangle that the control point makes).
func letterInk(w weight, r rune) float64 {
	if a, ok := letterAreas.Load(letterKey{w, r}); ok {
		return a.(float64)
	}
	f := outlines()[w]
	var buf sfnt.Buffer
	area := 0.0
	em := fixed.I(int(f.UnitsPerEm()))
	if id, err := f.GlyphIndex(&buf, r); err == nil && id != 0 {
		if segs, err := f.LoadGlyph(&buf, id, em, nil); err == nil {
			area = math.Abs(outlineArea(segs)) / math.Pow(float64(em), 2)
		}
	}
	letterAreas.Store(letterKey{w, r}, area)
	return area
}

func outlineArea(segs sfnt.Segments) float64 {
	var area float64
	var at, from fixed.Point26_6
	cross := func(a, b fixed.Point26_6) float64 {
		return (float64(a.X)*float64(b.Y) - float64(b.X)*float64(a.Y)) / 2
	}
	for _, s := range segs {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			area += cross(at, from)
			at, from = s.Args[0], s.Args[0]
		case sfnt.SegmentOpLineTo:
			area += cross(at, s.Args[0])
			at = s.Args[0]
		case sfnt.SegmentOpQuadTo:
			c, to := s.Args[0], s.Args[1]
			area += cross(at, to) + 2.0/3*(cross(at, c)+cross(c, to)+cross(to, at))
			at = to
		}
	}
	return area + cross(at, from)
}
