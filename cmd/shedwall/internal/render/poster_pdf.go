package render

import (
	"fmt"

	"shedwall/cmd/shedwall/internal/page"
)

// Places and sizes of a poster in mm and points: read at arm's length, so nothing below
// seven points, and names at the size of a wall sheet where rows are high enough.
const (
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
	d.open(&part{tag: "Table"})
	d.open(&part{tag: "THead"})
	d.open(&part{tag: "TR"})
	headTop := y
	d.in(part{tag: "TH", scope: "Column"}, func() {
		d.text(run{x: x0, y: headTop + 4, size: 9, s: clean(p.HeadCrop)})
	})
	deepest := 0.0
	for i, b := range p.Bands {
		lines, size, ok := setText(clean(b.Name), bold, 13, 10, wide, 2)
		if !ok {
			return nil, fmt.Errorf("the band %q does not fit into %.0f mm", b.Name, wide)
		}
		where, whereSize, ok := setText(clean(b.Where), regular, 8, leastType, wide, 3)
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
	var months, ends, freezes []seg
	for i, cal := range cals {
		for _, m := range p.Months {
			months = append(months, seg{cal.at(m.From), bodyTop, cal.at(m.From), bodyEnd})
			name := clean(firstLetter(m.Name))
			d.text(run{x: cal.at((m.From+m.To)/2) - textWidth(name, regular, leastType)/2, y: bodyTop - 1.2, size: leastType, decor: true, s: name})
		}
		ends = append(ends, seg{cal.x1, bodyTop, cal.x1, bodyEnd})
		for _, mk := range p.Bands[i].Marks {
			freezes = append(freezes, seg{cal.at(mk.At), bodyTop, cal.at(mk.At), bodyEnd})
		}
	}
	d.strokes(strokes{role: roleGrid, width: lineThin, dash: dash{0.3, 1.5}, decor: true, segs: append(months, ends...)})
	d.strokes(strokes{role: roleFreeze, width: lineFreeze, dash: dash{2, 1.4}, decor: true, segs: freezes})
	d.strokes(strokes{role: roleRule, width: lineRule, decor: true, segs: []seg{{x0, bodyTop, x1, bodyTop}, {x0, bodyEnd, x1, bodyEnd}}})

	d.open(&part{tag: "TBody"})
	m := measuresAt(0.9, false)
	for r, row := range p.Rows {
		top := bodyTop + rowHigh*float64(r)
		if r > 0 {
			w := lineThin
			if p.Rows[r-1].GroupEnd {
				w = lineRule
			}
			d.strokes(strokes{role: roleRule, width: w, decor: true, segs: []seg{{x0, top, x1, top}}})
		}
		d.open(&part{tag: "TR"})
		lines, size, ok := setText(clean(row.Name), bold, posterNameSize, 9, posterName, 2)
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
			dates, dateSize, ok := setText(clean(c.Dates), regular, 7.6, leastType, wide, 2)
			if !ok {
				dates, dateSize = []string{shortened(clean(c.Dates), regular, leastType, wide*1.9)}, leastType
				if two, fits := balanced(dates[0], regular, leastType, wide); fits && len(two) <= 2 {
					dates = two
				}
			}
			d.in(part{tag: "TD", actual: clean(c.Sentence)}, func() {
				barTop := top + rowHigh - float64(len(dates))*dateSize*point*1.1 - m.bar - 1.3
				for _, b := range c.Bars {
					px0, px1 := cals[i].stretch(b.From, b.To, 0.6)
					drawBar(d, placedBar{Bar: page.Bar{Kind: b.Kind, From: b.From, To: b.To}, x0: px0, x1: px1, pieces: []span{{px0, px1}}}, m, max(top+0.6, barTop), max(top+0.6, barTop)+m.bar*0.85)
				}
				at := top + rowHigh - 0.9 - float64(len(dates)-1)*dateSize*point*1.1
				for k, l := range dates {
					d.text(run{x: cals[i].x0 + 0.4, y: at, size: dateSize, more: k < len(dates)-1, s: l})
					at += dateSize * point * 1.1
				}
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
func posterKey(d *drawing, p *page.Poster, m measures, x0, y float64, clean func(string) string) (float64, error) {
	x := x0
	d.open(&part{tag: "P"})
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
