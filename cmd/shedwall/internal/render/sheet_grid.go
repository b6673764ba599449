package render

import "math"

// rowDash keeps the lines between rows lighter than the month lines without grey.
var rowDash = dash{0.4, 0.8}

// draw places a plan that fits.
func (p *sheetPlan) draw() *drawing {
	d := &drawing{width: p.area.width, height: p.area.height, marks: make([]any, 0, 200+30*len(p.rows))}
	box, m := p.area.box, &p.m
	heights := p.rowHeights(box.y1 - box.y0 - p.fixed())
	y := box.y0
	p.drawNail(d)
	p.head.drawAt(d, box.x0, y)
	y += p.head.height + m.block

	top := y + p.monthBand() // the heavy rule under the month names
	first := top + p.markBand()
	var masks []rect
	for _, mk := range p.marks {
		from := top + float64(mk.row)*m.markLine()
		d.in(part{tag: "P"}, func() {
			d.text(run{x: mk.box.a, y: from + m.mark*point*1.05, size: m.mark, weight: bold, anchor: atMiddle, s: mk.Label})
		})
		masks = append(masks, rect{mk.box.a - 0.8, from, mk.box.b + 0.8, from + m.markLine()})
	}
	masks = append(masks, p.drawWarning(d, top)...)
	d.open(part{tag: "Table"})
	p.drawHeads(d, top)
	d.open(part{tag: "TBody"})
	y = first
	var thin []seg
	var heavy []float64
	for i, r := range p.rows {
		masks = append(masks, p.drawRow(d, r, y, heights[i], i == 0)...)
		y += heights[i]
		switch {
		case i == len(p.rows)-1:
		case r.row.GroupEnd:
			heavy = append(heavy, y)
		default:
			thin = append(thin, seg{box.x0, y, box.x1, y})
		}
	}
	d.shut()
	d.shut()
	bottom := y
	d.strokes(strokes{role: roleGrid, width: lineThin, dash: rowDash, decor: true, segs: thin})
	var rules []seg
	for _, at := range append([]float64{top, bottom}, heavy...) {
		rules = append(rules, seg{box.x0, at, box.x1, at})
	}
	d.strokes(strokes{role: roleRule, width: lineRule, decor: true, segs: rules})
	p.drawUprights(d, top, bottom, masks)
	p.drawTicks(d, top, bottom, heavy, masks)
	p.drawFootMonths(d, bottom)

	y = bottom + p.footBand()
	if p.key.height > 0 {
		y += m.block
		p.key.drawAt(d, box.x0, y)
		y += p.key.height
	}
	if p.foot.height > 0 {
		y += m.block
		p.foot.drawAt(d, box.x0, y)
		y += p.foot.height
	}
	if !p.area.nail {
		d.height = y
	}
	return d
}

// drawWarning sets the line of words that stands where a freeze line is missing, in
// the middle of the calendar, and returns its place.
func (p *sheetPlan) drawWarning(d *drawing, top float64) (masks []rect) {
	if len(p.warning) == 0 {
		return nil
	}
	line := p.m.markLine()
	d.in(part{tag: "P"}, func() {
		for i, s := range p.warning {
			from := top + float64(p.markRows+i)*line
			w := textWidth(s, bold, p.warnSize)
			x := (p.cal.x0 + p.cal.x1 - w) / 2
			d.text(run{x: x, y: from + p.m.mark*point*1.05, size: p.warnSize, weight: bold, anchor: atMiddle, more: i < len(p.warning)-1, s: s})
			masks = append(masks, rect{x - 0.8, from, x + w + 0.8, from + line})
		}
	})
	return masks
}

// drawNail draws a ring where the nail goes, in the middle of the top margin.
func (p *sheetPlan) drawNail(d *drawing) {
	if !p.area.nail {
		return
	}
	const r, sides = 2.0, 24
	cx, cy := p.area.width/2, 9.0
	var ring []seg
	for i := range sides {
		a, b := 2*math.Pi*float64(i)/sides, 2*math.Pi*float64(i+1)/sides
		ring = append(ring, seg{cx + r*math.Cos(a), cy + r*math.Sin(a), cx + r*math.Cos(b), cy + r*math.Sin(b)})
	}
	d.strokes(strokes{role: roleNail, width: lineThin, decor: true, segs: ring})
}

// drawHeads draws the heading row: what the columns hold, and the month names.
func (p *sheetPlan) drawHeads(d *drawing, rule float64) {
	m, box, s := &p.m, p.area.box, p.s
	line := rule - 1.2
	d.open(part{tag: "THead"})
	d.open(part{tag: "TR"})
	head := func(x float64, text string, a anchor) {
		d.in(part{tag: "TH", scope: "Column"}, func() {
			if a == atEnd {
				x -= textWidth(text, regular, m.head)
			}
			d.text(run{x: x, y: line, size: m.head, anchor: a, s: text})
		})
	}
	head(box.x0, s.HeadCode, atStart)
	head(box.x0+p.codeWidth, s.HeadCrop, atStart)
	head(box.x0+p.codeWidth+p.textWidth, s.HeadCalendar, atEnd)
	d.in(part{tag: "TH", scope: "Column", actual: s.HeadSentence}, func() { p.drawMonths(d, rule-tickLong-0.7, false) })
	d.shut()
	d.shut()
}

// drawMonths writes the month names in the middle of their months.
func (p *sheetPlan) drawMonths(d *drawing, line float64, decor bool) {
	size := p.m.month
	for _, mo := range p.s.Months {
		if w, room := textWidth(mo.Name, bold, p.m.month), p.cal.at(mo.To)-p.cal.at(mo.From)-1.4; w > room {
			size = max(leastType, min(size, p.m.month*room/w))
		}
	}
	for _, mo := range p.s.Months {
		a, b := p.cal.at(mo.From), p.cal.at(mo.To)
		d.text(run{x: (a + b - textWidth(mo.Name, bold, size)) / 2, y: line, size: size, weight: bold, anchor: atMiddle, decor: decor, more: true, s: mo.Name})
	}
}

func (p *sheetPlan) drawFootMonths(d *drawing, rule float64) {
	p.drawMonths(d, rule+tickLong+0.6+capHeight*p.m.month*point, true)
}

// drawTicks marks the first of each month and, shorter, the 8th, 15th and 22nd,
// above the top rule, under the bottom rule, and above the rules between groups.
func (p *sheetPlan) drawTicks(d *drawing, top, bottom float64, groups []float64, masks []rect) {
	var segs []seg
	for i, mo := range p.s.Months {
		ends := []int{mo.From}
		if i == len(p.s.Months)-1 {
			ends = append(ends, mo.To)
		}
		for _, day := range ends {
			x := p.cal.at(day)
			segs = append(segs, seg{x, top - tickLong, x, top}, seg{x, bottom, x, bottom + tickLong})
		}
		for _, day := range []int{7, 14, 21} {
			x := p.cal.at(mo.From + day)
			segs = append(segs, seg{x, top - tickShort, x, top}, seg{x, bottom, x, bottom + tickShort})
			for _, g := range groups {
				if t := (seg{x, g - tickShort, x, g}); !covered(t, masks) {
					segs = append(segs, t)
				}
			}
		}
	}
	d.strokes(strokes{role: roleGrid, width: lineThin, decor: true, segs: segs})
}

func covered(s seg, masks []rect) bool {
	for _, k := range masks {
		if k.meets(rect{s.x1 - lineThin/2, s.y1, s.x2 + lineThin/2, s.y2}) {
			return true
		}
	}
	return false
}

// drawUprights draws the month lines and the freeze lines, with gaps wherever a
// bar, a letter or a label stands, so that nothing is crossed out.
func (p *sheetPlan) drawUprights(d *drawing, top, bottom float64, masks []rect) {
	var room, left []span
	holes := func(x, width float64) []span {
		room = room[:0]
		for i := range masks {
			if k := &masks[i]; x+width/2 > k.x0 && x-width/2 < k.x1 {
				room = append(room, span{k.y0, k.y1})
			}
		}
		return sorted(room)
	}
	var grid []seg
	at := []float64{p.cal.x1}
	for _, mo := range p.s.Months {
		at = append(at, p.cal.at(mo.From))
	}
	for _, x := range at {
		left = withoutSorted(left[:0], span{top, bottom}, holes(x, lineThin), 0.3)
		for _, s := range left {
			grid = append(grid, seg{x, s.a, x, s.b})
		}
	}
	d.strokes(strokes{role: roleGrid, width: lineThin, decor: true, segs: grid})
	var freeze []seg
	for _, mk := range p.marks {
		gaps := holes(mk.x, lineFreeze)
		for _, dash := range dashed(top+float64(mk.row+1)*p.m.markLine(), bottom, 2.2, 1.3) {
			left = withoutSorted(left[:0], dash, gaps, 0.4)
			for _, s := range left {
				freeze = append(freeze, seg{mk.x, s.a, mk.x, s.b})
			}
		}
	}
	d.strokes(strokes{role: roleFreeze, width: lineFreeze, decor: true, segs: freeze})
}

// drawRow draws one row from y down and gives the places it wants left free.
func (p *sheetPlan) drawRow(d *drawing, r *rowPlan, y, height float64, labelled bool) []rect {
	m, box := &p.m, p.area.box
	extra := height - r.need()
	line := y + r.up + extra*0.5
	textX := box.x0 + p.codeWidth
	nameTop := line - r.nameLine(0, m)
	var masks []rect
	d.open(part{tag: "TR"})
	d.in(part{tag: "TD"}, func() {
		d.text(run{x: box.x0, y: nameTop, size: m.code, weight: bold, s: r.row.Code})
	})
	d.in(part{tag: "TH", scope: "Row"}, func() {
		for i, s := range r.name {
			d.text(run{x: textX, y: line - r.nameLine(i, m), size: r.nameSize, weight: bold, more: i < len(r.name)-1, s: s})
		}
	})
	d.in(part{tag: "TD"}, func() {
		for i, s := range r.dates {
			up := float64(len(r.dates)-1-i) * r.dateSize * point * m.leading
			x := textX
			if i == 0 {
				x += r.beside
			}
			d.text(run{x: x, y: line - up, size: r.dateSize, more: i < len(r.dates)-1, s: s})
		}
	})
	d.open(part{tag: "TD"})
	d.in(part{tag: "Figure", alt: r.row.Sentence, box: rect{p.cal.x0, y, p.cal.x1, y + height}}, func() {
		masks = r.drawChart(d, m, p.cal, line)
	})
	d.shut()
	d.shut()
	d.text(run{x: box.x1 - textWidth(r.row.Code, bold, m.code), y: nameTop, size: m.code, weight: bold, anchor: atEnd, decor: true, s: r.row.Code})
	if r.lane > 0 {
		p.drawLane(d, y+height-r.lane, y+height, labelled)
	}
	return masks
}

// drawLane marks the empty lane for own dates; the first one says so.
func (p *sheetPlan) drawLane(d *drawing, top, bottom float64, labelled bool) {
	m := &p.m
	x := p.area.box.x0 + p.codeWidth
	end := x + p.textWidth
	line := bottom - 1.1
	if labelled {
		d.text(run{x: x, y: line, size: m.head, decor: true, s: p.s.OwnDates})
		x += textWidth(p.s.OwnDates, regular, m.head) + 1
	}
	var dots []seg
	for _, at := range spread(x, end, 1.6, 1) {
		dots = append(dots, seg{at, line, at, line})
	}
	d.strokes(strokes{role: roleGrid, width: lineThin, round: true, decor: true, segs: dots})
}
