package render

import (
	"math"

	"shedwall/cmd/shedwall/internal/page"
)

// chart draws a season chart: curves over the months, with the words of its axis.
func (b *book) chart(c page.Chart) {
	const plot, top, months = 42.0, 11.0, 5.0
	high := top + plot + months + 6
	span := c.YMax - c.YMin
	at := func(day float64) float64 { return b.x + b.w*day/float64(c.Days) }
	b.add(bookItem{height: high, before: 3, draw: func(d *drawing, y float64) {
		y0 := y + top
		level := func(v float64) float64 { return y0 + plot*(1-(v-c.YMin)/span) }
		var rules, uprights []seg
		for _, t := range c.YTicks {
			rules = append(rules, seg{b.x, level(t.At), b.x + b.w, level(t.At)})
			d.text(run{x: b.x + 0.6, y: level(t.At) - 0.8, size: leastType, decor: true, s: b.clean(t.Text)})
		}
		for _, m := range c.Months {
			uprights = append(uprights, seg{at(float64(m.From)), y0, at(float64(m.From)), y0 + plot})
			name := b.clean(m.Name)
			d.text(run{x: at(float64(m.From+m.To)/2) - textWidth(name, regular, bookSmall)/2, y: y0 + plot + 3.6, size: bookSmall, decor: true, s: name})
		}
		d.strokes(strokes{role: roleGrid, width: lineThin, decor: true, segs: rules})
		d.strokes(strokes{role: roleGrid, width: lineThin, dash: dash{0.4, 1.2}, decor: true, segs: uprights})
		d.text(run{x: b.x, y: y + 3, size: bookSmall, decor: true, s: b.clean(c.YLabel)})
		d.in(part{tag: "Figure", alt: c.Name, box: rect{b.x, y, b.x + b.w, y + high}}, func() {
			for _, l := range c.Lines {
				st := strokes{role: roleBar, width: 0.5, dash: map[string]dash{"dashed": {2, 1.2}, "dotted": {0.5, 0.9}}[l.Dash]}
				for i := 1; i < len(l.Y); i++ {
					if !math.IsNaN(l.Y[i-1]) && !math.IsNaN(l.Y[i]) {
						st.segs = append(st.segs, seg{at(float64(i - 1)), level(l.Y[i-1]), at(float64(i)), level(l.Y[i])})
					}
				}
				d.strokes(joined(st))
			}
		})
		for i, m := range c.Marks {
			x := at(float64(m.At))
			d.strokes(strokes{role: roleFreeze, width: lineBar, dash: dash{1.6, 1}, decor: true, segs: []seg{{x, y0 - 1, x, y0 + plot}}})
			label := b.clean(m.Label)
			left := x + 0.8
			if 2*m.At > c.Days {
				left = x - 0.8 - textWidth(label, bold, bookSmall)
			}
			d.text(run{x: left, y: y0 - 1.4 - 3.4*float64(i%2), size: bookSmall, weight: bold, decor: true, s: label})
		}
		x := b.x
		for _, l := range c.Lines {
			name := b.clean(l.Name)
			d.strokes(strokes{role: roleBar, width: 0.5, dash: map[string]dash{"dashed": {2, 1.2}, "dotted": {0.5, 0.9}}[l.Dash], decor: true, segs: []seg{{x, y + high - 2, x + 9, y + high - 2}}})
			d.text(run{x: x + 10.5, y: y + high - 1, size: bookSmall, decor: true, s: name})
			x += 14.5 + textWidth(name, regular, bookSmall)
		}
	}})
}

// joined makes runs of level or straight steps one line, so that dashes are seen.
func joined(st strokes) strokes {
	var out []seg
	for _, s := range st.segs {
		if n := len(out); n > 0 && out[n-1].x2 == s.x1 && out[n-1].y2 == s.y1 {
			p := &out[n-1]
			a, c := (p.y2-p.y1)*(s.x2-s.x1), (s.y2-s.y1)*(p.x2-p.x1)
			if math.Abs(a-c) < 1e-6 {
				p.x2, p.y2 = s.x2, s.y2
				continue
			}
		}
		out = append(out, s)
	}
	st.segs = out
	return st
}
