package render

import (
	"math"
	"strconv"
	"strings"
)

// A sketch is a plain line drawing of a cover or structure: lines only, no fill and
// no colour, so that it is as good in dark, in forced colours and on a copier. It is
// sketchWidth by sketchHeight, y counted down, and drawn from a few shapes below.
type sketch struct {
	lines   []sketchLine
	strokes []sketchPath // all lines as paths, once it is drawn
}

type sketchLine struct {
	pts  []spot
	w    float64 // heavy, plain or fine
	dash bool
}

type spot struct{ x, y float64 }

const (
	sketchWidth, sketchHeight = 480, 300

	heavy = 6.0
	plain = 4.0
	fine  = 2.5

	ground = 262.0 // where things stand
)

func (s *sketch) line(w float64, pts ...spot) { s.lines = append(s.lines, sketchLine{pts: pts, w: w}) }

func (s *sketch) dashed(w float64, pts ...spot) {
	s.lines = append(s.lines, sketchLine{pts: pts, w: w, dash: true})
}

// arc is part of an ellipse, degrees from the right upwards.
func arc(cx, cy, rx, ry, from, to float64) []spot {
	n := max(4, int(math.Abs(to-from)/15))
	out := make([]spot, 0, n+1)
	for i := 0; i <= n; i++ {
		a := (from + (to-from)*float64(i)/float64(n)) * math.Pi / 180
		out = append(out, spot{cx + rx*math.Cos(a), cy - ry*math.Sin(a)})
	}
	return out
}

// bend is a curve from a to b pulled towards c.
func bend(a, c, b spot) []spot {
	const n = 6
	out := make([]spot, 0, n+1)
	for i := 0; i <= n; i++ {
		t := float64(i) / n
		u := 1 - t
		out = append(out, spot{u*u*a.x + 2*u*t*c.x + t*t*b.x, u*u*a.y + 2*u*t*c.y + t*t*b.y})
	}
	return out
}

func moved(pts []spot, dx, dy float64) []spot {
	out := make([]spot, len(pts))
	for i, p := range pts {
		out[i] = spot{p.x + dx, p.y + dy}
	}
	return out
}

// soil is the line of the ground with a few strokes of earth under it.
func (s *sketch) soil(x0, x1 float64) {
	s.line(heavy, spot{x0, ground}, spot{x1, ground})
	for x := x0 + 18; x < x1-22; x += 46 {
		s.line(fine, spot{x, ground + 13}, spot{x + 14, ground + 13})
	}
}

// plant is a leafy plant of height h.
func (s *sketch) plant(x, y, h float64) {
	s.line(plain, spot{x, y}, spot{x, y - h*0.8})
	for _, l := range []struct{ at, dx, up float64 }{{0.25, -0.42, 0.2}, {0.25, 0.42, 0.2}, {0.55, -0.34, 0.24}, {0.55, 0.34, 0.24}, {0.8, 0.06, 0.3}} {
		a := spot{x, y - h*l.at}
		b := spot{x + h*l.dx, a.y - h*l.up}
		mid := spot{(a.x + b.x) / 2, (a.y + b.y) / 2}
		leaf := append(bend(a, spot{mid.x, mid.y - h*0.16}, b), bend(b, spot{mid.x, mid.y + h*0.14}, a)...)
		if l.at > 0.7 {
			leaf = append(bend(a, spot{mid.x - h*0.14, mid.y}, b), bend(b, spot{mid.x + h*0.14, mid.y}, a)...)
		}
		s.line(fine, leaf...)
	}
}

// arch is the front of a tunnel from its left foot to its right foot.
func arch(cx, base, w, h float64) []spot { return arc(cx, base, w/2, h, 180, 0) }

// walled is an arch on upright walls.
func walled(cx, base, w, wall, h float64) []spot {
	out := []spot{{cx - w/2, base}}
	return append(append(out, arc(cx, base-wall, w/2, h-wall, 180, 0)...), spot{cx + w/2, base})
}

// gable is the front of a house with a ridge.
func gable(cx, base, w, eave, ridge float64) []spot {
	return []spot{{cx - w/2, base}, {cx - w/2, base - eave}, {cx, base - ridge}, {cx + w/2, base - eave}, {cx + w/2, base}}
}

// seen is where, of a front that is drawn out backwards by dx and dy, its outer side
// begins to be seen: the point farthest to the left of that way.
func seen(front []spot, dx, dy float64) int {
	best, at := math.Inf(-1), 0
	for i, p := range front {
		if c := p.x*dy - p.y*dx; c > best {
			best, at = c, i
		}
	}
	return at
}

// length draws a front out backwards: the front, n ribs of which the last is the back
// end, and the edges between; what the outer side hides is left out.
func (s *sketch) length(front []spot, dx, dy float64, n int, ribs float64) {
	s.line(heavy, front...)
	from := seen(front, dx, dy)
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		w := ribs
		if i == n {
			w = heavy
		}
		s.line(w, moved(front[from:], dx*t, dy*t)...)
	}
	for _, p := range []spot{front[from], front[len(front)-1]} {
		s.line(heavy, p, spot{p.x + dx, p.y + dy})
	}
}

// weave draws dashed lines along the outer side, every step-th point of the front: cloth.
func (s *sketch) weave(front []spot, dx, dy float64, step int) {
	for i := len(front) - 1 - step; i > seen(front, dx, dy); i -= step {
		s.dashed(fine, front[i], spot{front[i].x + dx, front[i].y + dy})
	}
}

// gleam draws short strokes on the outer side: a smooth film.
func (s *sketch) gleam(front []spot, dx, dy float64) {
	n := len(front) - 1
	for i, t := range []float64{0.12, 0.56} {
		p := front[n-3-2*i]
		a := spot{p.x + dx*t, p.y + dy*t}
		s.line(fine, a, spot{a.x + dx*0.26, a.y + dy*0.26})
		q := front[n-2-2*i]
		b := spot{q.x + dx*(t+0.05), q.y + dy*(t+0.05)}
		s.line(fine, b, spot{b.x + dx*0.14, b.y + dy*0.14})
	}
}

// stone lies on the edge of a cloth.
func (s *sketch) stone(x, y float64) {
	s.line(plain, append(arc(x, y, 15, 12, 0, 180), spot{x + 15, y})...)
}

// door is a door of a person's height in a front.
func (s *sketch) door(cx, base, w, h float64) {
	s.line(plain, spot{cx - w/2, base}, spot{cx - w/2, base - h}, spot{cx + w/2, base - h}, spot{cx + w/2, base})
	s.line(plain, spot{cx + w/2 - 9, base - h*0.45}, spot{cx + w/2 - 9, base - h*0.55})
}

// Every number of a path is rounded to whole units: a fifth of a millimetre where the
// drawing is largest.
func (l sketchLine) path() string {
	var b strings.Builder
	var at [2]int
	for i, p := range l.pts {
		x, y := int(math.Round(p.x)), int(math.Round(p.y))
		switch {
		case i == 0:
			b.WriteString("M" + strconv.Itoa(x) + " " + strconv.Itoa(y))
		case x == at[0] && y == at[1]:
			continue
		default:
			b.WriteString("l" + strconv.Itoa(x-at[0]) + " " + strconv.Itoa(y-at[1]))
		}
		at = [2]int{x, y}
	}
	return b.String()
}

// sketchPath is all lines of one width and dash as one path of a picture.
type sketchPath struct {
	Width string
	Dash  bool
	D     string
}

// paths gathers the lines of a sketch, heavy ones first.
func (s *sketch) paths() []sketchPath {
	var out []sketchPath
	for _, dash := range []bool{false, true} {
		for _, w := range []float64{heavy, plain, fine} {
			var d strings.Builder
			for _, l := range s.lines {
				if l.w == w && l.dash == dash {
					d.WriteString(l.path())
				}
			}
			if d.Len() > 0 {
				out = append(out, sketchPath{strconv.FormatFloat(w, 'g', -1, 64), dash, d.String()})
			}
		}
	}
	return out
}
