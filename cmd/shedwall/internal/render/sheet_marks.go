package render

import "shedwall/cmd/shedwall/internal/page"

// Hatches and lines differ in kind, never in grey: dots, upright lines, solid,
// a line, slanted lines in a frame; and for covers dashed, solid, double, dotted.

// Pitches in mm; hatch lines are never nearer than 1 mm, measured across.
const (
	dotPitch    = 1.7
	dotWidth    = 0.95
	uprightStep = 1.15
	slantStep   = 1.6 // along the bar: 1.13 mm across the lines
)

// drawBar draws one bar whose lane runs from top to bottom.
func drawBar(d *drawing, b placedBar, m *measures, top, bottom float64) {
	mid := (top + bottom) / 2
	lines := func(width float64, round bool, segs []seg) {
		d.strokes(strokes{role: roleBar, width: width, round: round, segs: segs})
	}
	hole := span{b.letter.a - m.letterGap, b.letter.b + m.letterGap}
	switch b.Kind {
	case page.BarInside:
		places := spread(b.x0+dotWidth/2, b.x1-dotWidth/2, dotPitch, 1.45)
		dots := make([]seg, 0, len(places))
		for _, x := range places {
			if !b.inside || x+dotWidth/2 < hole.a+0.01 || x-dotWidth/2 > hole.b-0.01 {
				dots = append(dots, seg{x, mid, x, mid})
			}
		}
		lines(dotWidth, true, dots)
	case page.BarOutside:
		places := spread(b.x0+lineBar/2, b.x1-lineBar/2, uprightStep, 1)
		up := make([]seg, 0, len(places))
		for _, x := range places {
			if !b.inside || x < hole.a || x > hole.b {
				up = append(up, seg{x, top, x, bottom})
			}
		}
		lines(lineBar, false, up)
	case page.BarSetOut:
		holes := []span{}
		if b.inside {
			holes = append(holes, hole)
		}
		for _, s := range without(span{b.x0, b.x1}, holes, 0.01) {
			d.fill(fill{role: roleBar, box: rect{s.a, top, s.b, bottom}})
		}
	case page.BarGrowing:
		var line []seg
		for _, s := range b.pieces {
			line = append(line, seg{s.a, mid, s.b, mid})
		}
		lines(lineBar, false, line)
	case page.BarHarvest:
		box := rect{b.x0, top, b.x1, bottom}
		if b.inside { // a line at its start, the letter, then the frame
			if !b.cutLeft {
				lines(lineBar, false, []seg{{b.x0 + lineBar/2, top, b.x0 + lineBar/2, bottom}})
			}
			box.x0 = hole.b
		}
		lines(lineBar, false, appendFrame(make([]seg, 0, 4), box, lineBar, b.cutLeft && !b.inside, b.cutEnd))
		inner := rect{box.x0 + lineBar, box.y0 + lineBar, box.x1 - lineBar, box.y1 - lineBar}
		if inner.x1 > inner.x0 {
			lines(lineHatch, false, slantedHatch(inner, slantStep))
		}
	}
	if b.Letter != "" {
		d.text(run{x: b.letter.a, y: mid + m.letterHeight()/2, size: m.letter, weight: bold, more: true, s: b.Letter})
	}
}

// coverStyle is how a cover line is drawn.
type coverStyle struct {
	width  float64
	dash   bool
	double bool
	dots   bool
}

// coverStyles by the word that tables use. Nothing is thinner than a thin line.
var coverStyles = map[string]coverStyle{
	"fabric": {width: 0.5, dash: true},
	"film":   {width: 0.5},
	"glass":  {width: lineHatch, double: true},
	"mulch":  {width: 0.6, dots: true},
}

// half is how far a cover line reaches above and below its middle, in mm.
func (s coverStyle) half() float64 {
	if s.double {
		return (glassApart + s.width) / 2
	}
	return s.width / 2
}

const (
	glassApart = 0.66 // between the two lines of glass, middle to middle
	mulchPitch = 1.2
)

// drawCover draws one cover line at height y, like a roof over the bar.
func drawCover(d *drawing, c placedCover, m *measures, cal calendar, y float64) {
	st := coverStyles[c.Style]
	var holes []span
	if c.inline {
		holes = []span{{c.letter.a - 0.35, c.letter.b + 0.35}}
	}
	var segs []seg
	for _, s := range without(span{c.x0, c.x1}, holes, 0.3) {
		switch {
		case st.dash:
			for _, dash := range dashed(s.a, s.b, 1.3, 0.75) {
				segs = append(segs, seg{dash.a, y, dash.b, y})
			}
		case st.double:
			segs = append(segs, seg{s.a, y - glassApart/2, s.b, y - glassApart/2}, seg{s.a, y + glassApart/2, s.b, y + glassApart/2})
		case st.dots:
			for _, x := range spread(s.a+st.width/2, s.b-st.width/2, mulchPitch, 1) {
				segs = append(segs, seg{x, y, x, y})
			}
		default:
			segs = append(segs, seg{s.a, y, s.b, y})
		}
	}
	d.strokes(strokes{role: roleCover, width: st.width, round: st.dots, segs: segs})
	var legs []seg
	h := st.half()
	if c.From > 0 {
		legs = append(legs, seg{c.x0 + lineHatch/2, y - h, c.x0 + lineHatch/2, y + m.coverLeg + h})
	}
	if c.To < cal.days-1 {
		legs = append(legs, seg{c.x1 - lineHatch/2, y - h, c.x1 - lineHatch/2, y + m.coverLeg + h})
	}
	d.strokes(strokes{role: roleCover, width: lineHatch, segs: legs})
	if c.Letter != "" {
		d.text(run{x: c.letter.a, y: y + m.coverLetterHeight()/2, size: m.coverLetter, weight: bold, more: true, s: c.Letter})
	}
}

// drawChart draws the bars and cover lines of a row whose line lies at y, and
// gives the places that upright lines must leave free.
func (p *rowPlan) drawChart(d *drawing, m *measures, cal calendar, y float64) []rect {
	var masks []rect
	const clear, beside = 0.45, 0.9 // mm; an upright close to a letter would look like one
	for _, c := range p.covers {
		cy := y - p.coverLine(c.level, m)
		drawCover(d, c, m, cal, cy)
		h := coverStyles[c.Style].half()
		masks = append(masks, rect{c.x0, cy - h, c.x1, cy + h + m.coverLeg}.grow(clear))
		if c.letter != (span{}) {
			half := m.coverLetterHeight() / 2
			masks = append(masks, rect{c.letter.a - beside, cy - half - clear, c.letter.b + beside, cy + half + clear})
		}
	}
	for _, b := range p.bars {
		top, bottom := y-p.laneTop(b.lane, m), y-p.laneBottom(b.lane, m)
		drawBar(d, b, m, top, bottom)
		if b.Kind != page.BarGrowing {
			masks = append(masks, rect{b.x0, top, b.x1, bottom}.grow(clear))
		}
		if b.letter != (span{}) {
			masks = append(masks, rect{b.letter.a - beside, top - clear, b.letter.b + beside, bottom + clear})
		}
	}
	return masks
}
