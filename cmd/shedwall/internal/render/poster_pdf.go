package render

import (
	"fmt"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// Places and sizes of a poster in mm and points: read at arm's length, so nothing below
// seven points, and names at the size of a wall sheet where rows are high enough.
const (
	posterWord   = 12 // letters of a band's name that stay together where it is narrow
	posterMargin = 14.0
	posterName   = 41.0 // width of the column of names
	posterFoot   = 30.0
)

// PosterPDF draws bands side by side on a large paper (A3 or Tabloid) as a tagged PDF of
// one page: a row a crop, in each column its bars and its dates in type.
func PosterPDF(p *page.Poster, paper Paper) ([]byte, error) {
	d, err := layoutPoster(p, paper)
	if err != nil {
		return nil, fmt.Errorf("%s, %s: %w", p.Name, paper.Title, err)
	}
	if p.Dated != "" && !isoDate.MatchString(p.Dated) {
		return nil, fmt.Errorf("the poster is dated %q, not year-month-day", p.Dated)
	}
	facts := pdfFacts{title: p.Name + " · " + p.Edition, lang: p.Lang, subject: p.Title, dated: p.Dated,
		outline: []pdfMark{{title: p.Name}}}
	for _, m := range d.marks {
		if r, ok := m.(run); ok && r.weight == bold && r.size == posterNameSize {
			facts.outline = append(facts.outline, pdfMark{title: r.s, y: r.y - 5})
		}
	}
	return d.play(newPDF(paper, facts))
}

const posterNameSize = 11.0

func layoutPoster(p *page.Poster, paper Paper) (*drawing, error) {
	d := &drawing{width: paper.Width, height: paper.Height}
	x0, x1 := posterMargin, paper.Width-posterMargin
	var err error
	clean := func(s string) string {
		out, e := printable(s)
		if e != nil && err == nil {
			err = e
		}
		return out
	}
	para := func(tag, text string, w weight, size, least, y, width float64, lines int) (float64, error) {
		set, size, ok := setText(clean(text), w, size, least, width, lines)
		if !ok {
			return 0, fmt.Errorf("%q does not fit into %.0f mm", text, width)
		}
		d.in(part{tag: tag}, func() {
			for i, l := range set {
				y += size * point * 1.2
				d.text(run{x: x0, y: y, size: size, weight: w, more: i < len(set)-1, s: l})
			}
		})
		return y, nil
	}
	y := posterMargin + 4
	y, e := para("H1", p.Name, bold, 26, 16, y, x1-x0, 2)
	if e != nil {
		return nil, e
	}
	if y, e = para("P", p.Edition+" · "+p.CodeText, regular, 11, 8, y+1, x1-x0, 2); e != nil {
		return nil, e
	}
	if y, e = para("P", p.Lead, regular, 11, 8, y+0.5, x1-x0, 3); e != nil {
		return nil, e
	}
	y += 5

	// Columns: names, then bands of one width.
	n := float64(len(p.Bands))
	const gap = 2.5
	wide := (x1 - x0 - posterName - gap*n) / n
	cals := make([]calendar, len(p.Bands))
	for i := range cals {
		left := x0 + posterName + gap*float64(i+1) + wide*float64(i)
		cals[i] = calendar{x0: left, x1: left + wide, days: p.Days}
	}
	d.open(part{tag: "Table"})
	d.open(part{tag: "THead"})
	d.open(part{tag: "TR"})
	headTop := y
	d.in(part{tag: "TH", scope: "Column"}, func() {
		d.text(run{x: x0, y: headTop + 4, size: 9, s: clean(p.HeadCrop)})
	})
	heads, size, e := posterHeads(p.Bands, wide)
	if e != nil {
		return nil, e
	}
	deepest := 0.0
	for i, b := range p.Bands {
		lines := heads[i]
		where, whereSize, ok := setText(clean(strings.ReplaceAll(b.Where, " · ", "\u00a0· ")), regular, 8, leastType, wide, 3)
		if !ok {
			return nil, fmt.Errorf("%q does not fit into %.0f mm", b.Where, wide)
		}
		d.in(part{tag: "TH", scope: "Column"}, func() {
			at := headTop
			for _, l := range lines {
				at += size * point * 1.15
				d.text(run{x: cals[i].x0, y: at, size: size, weight: bold, more: true, s: l})
			}
			at += 0.6
			for k, l := range where {
				at += whereSize * point * 1.2
				d.text(run{x: cals[i].x0, y: at, size: whereSize, more: k < len(where)-1, s: l})
			}
			deepest = max(deepest, at-headTop)
		})
	}
	d.shut()
	d.shut()
	y = headTop + deepest + 2.2
	monthBand := 4.2
	bodyTop := y + monthBand
	bodyEnd := paper.Height - posterMargin - posterFoot
	rowHigh := min((bodyEnd-bodyTop)/float64(max(1, len(p.Rows))), 13)
	if rowHigh < 6.2 {
		return nil, fmt.Errorf("no room for %d rows", len(p.Rows))
	}
	bodyEnd = bodyTop + rowHigh*float64(len(p.Rows))

	// Month lines, their letters at head, freeze lines.
	var months, freezes []seg
	for i, cal := range cals {
		// Uprights leave the lines of dates free.
		upright := func(segs []seg, x float64) []seg {
			for r := range p.Rows {
				top := bodyTop + rowHigh*float64(r)
				segs = append(segs, seg{x, top, x, top + rowHigh - leastType*point - 1.2})
			}
			return segs
		}
		for _, m := range p.Months {
			months = upright(months, cal.at(m.From))
			name := clean(firstLetter(m.Name))
			d.text(run{x: cal.at((m.From+m.To)/2) - textWidth(name, regular, leastType)/2, y: bodyTop - 1.2, size: leastType, decor: true, s: name})
		}
		months = upright(months, cal.x1)
		for _, mk := range p.Bands[i].Marks {
			freezes = upright(freezes, cal.at(mk.At))
		}
	}
	d.strokes(strokes{role: roleGrid, width: lineThin, dash: dash{0.3, 1.5}, decor: true, segs: months})
	d.strokes(strokes{role: roleFreeze, width: lineFreeze, dash: dash{1.5, 0.8}, decor: true, segs: freezes})
	d.strokes(strokes{role: roleRule, width: lineRule, decor: true, segs: []seg{{x0, bodyTop, x1, bodyTop}, {x0, bodyEnd, x1, bodyEnd}}})

	d.open(part{tag: "TBody"})
	sizes := measuresAt(0.9, false)
	m := &sizes
	for r, row := range p.Rows {
		top := bodyTop + rowHigh*float64(r)
		if r > 0 {
			w := lineThin
			if p.Rows[r-1].GroupEnd {
				w = lineRule
			}
			d.strokes(strokes{role: roleRule, width: w, decor: true, segs: []seg{{x0, top, x1, top}}})
		}
		d.open(part{tag: "TR"})
		lines, size, ok := setText(clean(row.Name), bold, posterNameSize, 9, posterName, 2)
		if !ok {
			lines, size, ok = setText(clean(row.Name), bold, 9, leastType, posterName, 3)
		}
		if !ok {
			return nil, fmt.Errorf("the name %q does not fit into %.0f mm", row.Name, posterName)
		}
		d.in(part{tag: "TH", scope: "Row"}, func() {
			at := top + rowHigh/2 - float64(len(lines)-1)*size*point*0.55 + size*point*0.35
			for i, l := range lines {
				d.text(run{x: x0, y: at, size: size, weight: bold, more: i < len(lines)-1, s: l})
				at += size * point * 1.1
			}
		})
		for i, c := range row.Cells {
			dates := posterDates(c, clean(c.Dates), wide-0.6)
			d.in(part{tag: "TD", actual: clean(c.Sentence)}, func() {
				posterBars(d, c.Bars, cals[i], m, top+0.9, posterLane(rowHigh))
				d.text(run{x: cals[i].x0 + 0.4, y: top + rowHigh - 0.9, size: leastType, s: dates})
			})
		}
		d.shut()
	}
	d.shut()
	d.shut()
	y = bodyEnd + 3
	if y, e = posterKey(d, p, m, x0, y, clean); e != nil {
		return nil, e
	}
	for _, f := range p.Foot {
		if y, e = para("P", f, regular, 8.5, leastType, y+0.6, x1-x0, 2); e != nil {
			return nil, e
		}
	}
	if y > paper.Height-6 {
		return nil, fmt.Errorf("the foot goes %.0f mm over the end of the paper", y-paper.Height+6)
	}
	return d, err
}

// posterKey explains the bars.
func posterKey(d *drawing, p *page.Poster, m *measures, x0, y float64, clean func(string) string) (float64, error) {
	x := x0
	d.open(part{tag: "P"})
	title := clean(p.KeyTitle)
	d.text(run{x: x, y: y + 3, size: 8.5, weight: bold, more: true, s: title})
	x += textWidth(title, bold, 8.5) + 4
	for _, k := range p.Key {
		drawBar(d, placedBar{Bar: page.Bar{Kind: k.Kind}, x0: x, x1: x + 11, pieces: []span{{x, x + 11}}}, m, y+0.6, y+0.6+m.bar)
		text := clean(k.Text)
		d.text(run{x: x + 12.5, y: y + 3, size: 8.5, more: true, s: text})
		x += 12.5 + textWidth(text, regular, 8.5) + 6
	}
	d.shut()
	if x > d.width-posterMargin+6 {
		return 0, fmt.Errorf("the key of the poster is %.0f mm too wide", x-d.width)
	}
	return y + 5, nil
}

func firstLetter(s string) string {
	for _, r := range s {
		return string(r)
	}
	return ""
}

// posterLane is the height of one of the two lanes of bars in a row: what the line of
// dates leaves, shared, and never more than on a wall sheet.
func posterLane(rowHigh float64) float64 {
	return min((rowHigh-leastType*point-2.2)/2, 2.3)
}

// posterBars draws what is begun in an upper lane and what is picked in a lower one, so
// that nothing lies over anything else but two starts.
func posterBars(d *drawing, bars []page.Bar, cal calendar, m *measures, top, lane float64) {
	var taken []span
	for _, b := range bars {
		x0, x1 := cal.stretch(b.From, b.To, 0.9)
		y := top
		if b.Kind == page.BarHarvest || b.Kind == page.BarGrowing {
			y += lane + 0.35
		}
		if b.Kind == page.BarGrowing {
			continue // the gap between two bars says it on so small a calendar
		}
		pieces := []span{{x0, x1}}
		if b.Kind != page.BarHarvest {
			pieces = without(span{x0, x1}, taken, 0.5)
			taken = append(taken, span{x0 - 0.3, x1 + 0.3})
		}
		for _, s := range pieces {
			drawBar(d, placedBar{Bar: page.Bar{Kind: b.Kind, From: b.From, To: b.To}, x0: s.a, x1: s.b}, m, y, y+lane)
		}
	}
}

// posterDates is a row's starts outside, and its harvest where both fit on one line;
// the cell's words hold all of its dates. What covers it needs is said in any case.
func posterDates(c page.PosterCell, dates string, width float64) string {
	only, rest, covered := strings.Cut(dates, ": ")
	if !covered {
		only, rest = "", dates
	} else {
		only += ": "
	}
	phrases := strings.Split(rest, " · ")
	if len(phrases) > 1 && len(c.Bars) > 0 && slices.ContainsFunc(c.Bars, func(b page.Bar) bool { return b.Kind == page.BarInside }) {
		phrases = phrases[1:]
	}
	for len(phrases) > 1 && textWidth(only+strings.Join(phrases, " · "), regular, leastType) > width {
		phrases = phrases[:len(phrases)-1]
	}
	text := only + strings.Join(phrases, " · ")
	if i := strings.LastIndex(strings.TrimSpace(only), " "); i >= 0 && textWidth(text, regular, leastType) > width {
		text = text[i+1:] // the letters of the covers alone
	}
	return shortened(text, regular, leastType, width)
}

// posterHeads is the names of bands over their columns in lines, all of one size: the one at
// which the longest finds room.
func posterHeads(bands []page.PosterBand, wide float64) (heads [][]string, size float64, err error) {
	heads = make([][]string, len(bands))
	set := func(name string, want float64) ([]string, float64, error) {
		text, err := printable(name)
		if err != nil {
			return nil, 0, err
		}
		lines, size, ok := setText(text, bold, want, min(want, 10), wide, 2)
		if !ok { // long names go smaller and deeper
			lines, size, ok = setText(text, bold, min(want, 10), leastType, wide, 4)
		}
		if !ok {
			lines, size, ok = setText(parted(text, posterWord), bold, leastType, leastType, wide, 5)
		}
		if !ok {
			return nil, 0, fmt.Errorf("the band %q does not fit into %.0f mm", name, wide)
		}
		return lines, size, nil
	}
	size = 13
	for _, b := range bands {
		_, s, err := set(b.Name, size)
		if err != nil {
			return nil, 0, err
		}
		size = min(size, s)
	}
	for i, b := range bands {
		if heads[i], _, err = set(b.Name, size); err != nil {
			return nil, 0, err
		}
	}
	return heads, size, nil
}
