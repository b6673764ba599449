package render

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

// sheetCase is a sheet and the papers it must fit on.
type sheetCase struct {
	name  string
	sheet *page.Sheet
	areas []sheetArea
}

func small() []sheetArea { return []sheetArea{printArea(), Letter.area(), A4.area()} }

// with is the fixture sheet with other rows.
func with(first int, rows []fixtureRow, change func(s *page.Sheet)) *page.Sheet {
	s := slopes()
	s.Months = axis(first, monthNames)
	s.Marks = []page.SheetMark{{At: day(first, "17 May"), Label: "careful last freeze 17 May"}, {At: day(first, "28 Sep"), Label: "careful first freeze 28 Sep"}}
	s.Rows = rowsOf(first, rows)
	if change != nil {
		change(s)
	}
	return s
}

// sheetCases crowd a sheet in the ways a guide might.
func sheetCases() []sheetCase {
	long := []fixtureRow{}
	for i, r := range slopeRows {
		r.name = []string{"Cabbage, Chinese, heading", "Beetroot, golden globe", "Squash, winter, big kinds", "Onion from seed, keeping"}[i%4]
		r.dates = "in 10 Feb–10 Mar · out 20 Apr–10 May · dig 6 Sep on"
		long = append(long, r)
	}
	edges := []fixtureRow{
		{"A1", "Both ends", "any time", "H 1 Jan-31 Dec", "F0 1 Jan-31 Dec; T1 1 Jan-31 Dec"},
		{"A2", "Sown all year", "sow any time", "O 1 Jan-31 Dec; H 1 Jan-31 Dec", ""},
		{"A3", "Set out all year", "out any time", "S 1 Jan-31 Dec", "C0 1 Jan-31 Dec"},
		{"A4", "Inside all year", "in any time", "I 1 Jan-31 Dec; O 1 Jan-31 Dec; S 1 Jan-31 Dec; H 1 Jan-31 Dec", ""},
		{"A5", "First and last day", "sow 1 Jan · pick 31 Dec", "O 1 Jan-1 Jan; H 31 Dec-31 Dec", "F0 1 Jan-1 Jan; F0 31 Dec-31 Dec"},
		{"A6", "One day each", "sow 5 Apr · out 6 Apr · pick 7 Apr", "I 4 Apr-4 Apr; O 5 Apr-5 Apr; S 6 Apr-6 Apr; H 7 Apr-7 Apr", "F0 4 Apr-4 Apr; T1 4 Apr-4 Apr; C2 4 Apr-4 Apr"},
		{"A7", "End to end", "in, out, pick without a gap", "I 1 Mar-20 Mar; S 21 Mar-10 Apr; H 11 Apr-20 May", "F0 21 Mar-10 Apr; T1 21 Mar-10 Apr"},
		{"A8", "Letters on the lines", "sow 17 May · pick 28 Sep on", "O 20 May-25 May; H 1 Oct-9 Oct", "F0 19 May-27 May; F0 30 Sep-8 Oct"},
		{"A9", "Two ways to start", "in 1 Mar–1 May · sow 1 Apr–1 Jul · out 15 Apr–1 Jul · pick 1 Jun on", "I 1 Mar-1 May; O 1 Apr-1 Jul; S 15 Apr-1 Jul; H 1 Jun-31 Oct", "F0 1 Apr-1 May; T1 1 Apr-20 Apr"},
	}
	covers := []fixtureRow{
		{"A1", "Three from one day", "sow 1 Mar–1 Apr", "O 1 Mar-1 Apr", "F0 1 Mar-30 Apr; T1 1 Mar-10 Apr; C2 1 Mar-20 Mar"},
		{"A2", "Three, a week each", "sow 1 Mar–1 Apr", "O 1 Mar-1 Apr", "F0 1 Mar-7 Mar; T1 1 Mar-7 Mar; C2 1 Mar-7 Mar"},
		{"A3", "Three, in steps", "sow 1 Mar–1 Apr", "O 1 Mar-1 Apr", "F0 1 Mar-7 May; T1 5 Mar-3 May; C2 9 Mar-28 Apr"},
		{"A4", "One level twice", "sow 1 Mar–1 Apr", "O 1 Mar-1 Apr", "F0 1 Mar-7 May; M0 10 Mar-3 May"},
		{"A5", "At the first day", "sow 1 Jan–1 Apr", "O 1 Jan-1 Apr", "M0 1 Jan-7 Jan; F1 1 Jan-10 Jan; T2 1 Jan-13 Jan"},
		{"A7", "Off for two nights", "sow 1 Mar–1 Apr", "O 1 Mar-1 Apr", "F0 1 Mar-7 Mar; F0 10 Mar-20 Mar; T1 1 Mar-4 Mar; T1 7 Mar-30 Mar"},
		{"A6", "Spring and fall", "sow 1 Mar–1 Apr", "O 1 Mar-1 Apr; H 1 Aug-30 Nov", "F0 1 Mar-7 May; T1 1 Mar-7 May; C2 1 Mar-7 May; F0 1 Oct-30 Nov; T1 1 Oct-30 Nov; C2 1 Oct-30 Nov"},
	}
	spanishNames := []string{"ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sept", "oct", "nov", "dic"}
	spanish := []fixtureRow{
		{"A1", "Ñame", "siembra 6 mar–8 abr · cosecha desde 10 may", "O 6 Mar-8 Apr; H 10 May-18 Jun", "F0 6 Mar-8 Apr"},
		{"A2", "Ápio y brócoli", "en almácigo 1–24 mar · trasplante 8–20 abr · cosecha 30 may", "I 1 Mar-24 Mar; S 8 Apr-20 Apr; H 30 May-14 Dec", "F0 8 Apr-2 May"},
		{"B1", "Calabacín", "siembra 20 may–12 jun · cosecha desde 5 jul", "O 20 May-12 Jun; H 5 Jul-20 Sep", ""},
		{"B2", "Haba", "siembra 24 feb–20 mar", "O 24 Feb-20 Mar", ""},
	}
	return []sheetCase{
		{"24 rows", slopes(), small()},
		{"24 long names", with(0, long, nil), small()},
		{"12 rows", with(0, slopeRows[:12], nil), small()},
		{"1 row", with(0, slopeRows[1:2], nil), small()},
		{"no rows", with(0, nil, nil), small()},
		{"both ends", with(0, edges, nil), small()},
		{"covers", with(0, covers, nil), small()},
		{"southern", with(6, slopeRows, nil), small()},
		{"accents", with(0, spanish, func(s *page.Sheet) {
			s.Lang, s.Band, s.Where = "es", "Laderas de Ñandú", "680–880 m · ladera · zona 6a"
			s.Name, s.Edition, s.CodeText = "Hoja 1: hortalizas que soportan algo de helada", "Guía de cultivo del valle, edición 3", "código de hoja K7QF"
			s.Months = axis(0, spanishNames)
			s.HeadCode, s.HeadCrop, s.HeadCalendar, s.HeadSentence = "Código", "Cultivo", "Calendario", "En palabras"
			s.Marks[0].Label, s.Marks[1].Label = "última helada prudente 17 may", "primera helada prudente 28 sept"
			s.Foot = append(s.Foot, "Año tras año: ¿cuánto?, «según» el peor de los casos, ½ °C más — o menos.")
		}), small()},
		{"short season", with(0, slopeRows[:8], func(s *page.Sheet) {
			s.Marks = []page.SheetMark{{At: day(0, "19 Jun"), Label: "careful last freeze 19 Jun"}, {At: day(0, "2 Jul"), Label: "careful first freeze 2 Jul"}}
		}), small()},
		{"marks at the ends", with(0, slopeRows[:8], func(s *page.Sheet) {
			s.Marks = []page.SheetMark{{At: 0, Label: "careful last freeze 1 Jan"}, {At: 365, Label: "careful first freeze 31 Dec"}}
		}), small()},
		{"bare", with(0, slopeRows[:8], func(s *page.Sheet) {
			s.Marks, s.Lead, s.Foot, s.Key, s.CoverKey = nil, nil, nil, nil, nil
			s.KeyTitle, s.CoverKeyTitle, s.OwnDates, s.Where, s.Edition, s.CodeText, s.Name = "", "", "", "", "", "", ""
			s.HeadCode, s.HeadCrop, s.HeadCalendar = "", "", ""
		}), small()},
		{"long heading", with(0, slopeRows[:8], func(s *page.Sheet) {
			s.Band = "Upper Thessock Slopes above the old mill and the school"
			s.Name = "Sheet 12: vegetables that stand little or no frost, Basil to Watermelon"
		}), small()},
		{"45 rows", with(0, append(append([]fixtureRow{}, slopeRows...), slopeRows[:21]...), nil), []sheetArea{A3.area(), Tabloid.area()}},
	}
}

// layoutFaults is everything about a drawing that would spoil it on paper.
func layoutFaults(d *drawing, a sheetArea) []string {
	var wrong []string
	say := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	type inked struct {
		run
		box rect
	}
	var texts []inked
	inside := func(r rect) bool {
		const rounding = 0.02 // mm
		return r.x0 >= a.box.x0-rounding && r.y0 >= a.box.y0-rounding && r.x1 <= a.box.x1+rounding && r.y1 <= a.box.y1+rounding
	}
	for _, m := range d.marks {
		if t, ok := m.(run); ok && t.s != "" {
			texts = append(texts, inked{t, t.ink()})
			if t.size < 7-1e-9 {
				say("%q is set in %.2f points", t.s, t.size)
			}
			if !inside(t.ink()) {
				say("%q stands outside the margins: %v", t.s, t.ink())
			}
		}
	}
	for i, t := range texts {
		for _, o := range texts[:i] {
			if t.box.meets(o.box) {
				say("%q and %q lie on each other", t.s, o.s)
			}
		}
	}
	head := ""
	for _, m := range d.marks {
		switch m := m.(type) {
		case *part:
			head = m.tag + m.scope
		case run:
			if head == "THRow" && m.weight == bold && !m.decor && m.size < 12 {
				say("the name %q is set in %.2f points", m.s, m.size)
			}
		case fill:
			if !inside(m.box) {
				say("a solid bar lies outside the margins")
			}
			for _, t := range texts {
				if t.box.meets(m.box) {
					say("%q lies on a solid bar", t.s)
				}
			}
		case strokes:
			if m.width < 0.25-1e-9 {
				say("a line of role %d is %.2f mm wide", m.role, m.width)
			}
			for _, s := range m.segs {
				if m.role != roleNail && !inside(rect{min(s.x1, s.x2), min(s.y1, s.y2), max(s.x1, s.x2), max(s.y1, s.y2)}) {
					say("a line of role %d runs outside the margins: %v", m.role, s)
				}
				for _, t := range texts {
					if crosses(s, m.width/2, t.box) {
						say("a line of role %d runs through %q", m.role, t.s)
					}
				}
			}
			if m.role == roleBar && !m.round {
				for i, s := range m.segs[:max(0, len(m.segs)-1)] {
					if gap := apart(s, m.segs[i+1]); gap > 0 && gap < 1-1e-6 {
						say("hatch lines %.2f mm apart", gap)
					}
				}
			}
		}
	}
	return wrong
}

// crosses says whether a line of half width h passes through a box.
func crosses(s seg, h float64, r rect) bool {
	r = r.grow(h - 0.01) // lines that only touch are let pass
	// Liang and Barsky's clipping: the part of the line inside each side.
	t0, t1 := 0.0, 1.0
	dx, dy := s.x2-s.x1, s.y2-s.y1
	for _, c := range [][2]float64{{-dx, s.x1 - r.x0}, {dx, r.x1 - s.x1}, {-dy, s.y1 - r.y0}, {dy, r.y1 - s.y1}} {
		switch p, q := c[0], c[1]; {
		case p == 0 && q < 0:
			return false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	return t0 <= t1
}

// apart is the distance between two parallel hatch lines that lie beside each
// other, else 0.
func apart(s, o seg) float64 {
	dx, dy := s.x2-s.x1, s.y2-s.y1
	l := math.Hypot(dx, dy)
	ox, oy := o.x2-o.x1, o.y2-o.y1
	if l == 0 || math.Abs(dx*oy-dy*ox) > 1e-6 || dy == 0 {
		return 0
	}
	return math.Abs((o.x1-s.x1)*dy-(o.y1-s.y1)*dx) / l
}

// TestLayout holds every sheet to what a sheet promises on paper: nothing outside
// the margins, no type under 7 points (names 12), no line under 0.25 mm, no hatch
// closer than 1 mm, and no letter on anything else.
func TestLayout(t *testing.T) {
	for _, c := range sheetCases() {
		for _, a := range c.areas {
			t.Run(c.name+"/"+a.name, func(t *testing.T) {
				d := mustLayout(t, c.sheet, a)
				for _, w := range layoutFaults(d, a) {
					t.Error(w)
				}
				if d.height > a.height+1e-9 {
					t.Errorf("%.1f mm high, the paper %.1f", d.height, a.height)
				}
				bars := 0
				for i := range c.sheet.Rows {
					bars += len(c.sheet.Rows[i].Covers)
					for _, b := range c.sheet.Rows[i].Bars {
						if b.Letter != "" {
							bars++
						}
					}
				}
				for _, k := range append(append([]page.KeyEntry{}, c.sheet.Key...), c.sheet.CoverKey...) {
					if k.Letter != "" {
						bars++
					}
				}
				letters := 0
				for _, m := range d.marks {
					if r, ok := m.(run); ok && len(r.s) == 1 && strings.Contains("IOSHFTCM", r.s) {
						letters++
					}
				}
				if letters != bars {
					t.Errorf("%d letters at bars and covers, want %d", letters, bars)
				}
			})
		}
	}
}

// TestLayoutFaultsSeesFaults spoils a good drawing in each way.
func TestLayoutFaultsSeesFaults(t *testing.T) {
	a := A4.area()
	spoil := map[string]func(m any) any{
		"points": func(m any) any {
			if r, ok := m.(run); ok && r.s == "Kale" {
				r.size = 6.9
				return r
			}
			return m
		},
		"the name": func(m any) any {
			if r, ok := m.(run); ok && r.s == "Kale" {
				r.size = 11.5
				return r
			}
			return m
		},
		"lie on each other": func(m any) any {
			if r, ok := m.(run); ok && r.s == "Kale" {
				r.y += 2
				return r
			}
			return m
		},
		"outside the margins": func(m any) any {
			if r, ok := m.(run); ok && r.s == "A2" {
				r.x -= 0.1
				return r
			}
			return m
		},
		"mm wide": func(m any) any {
			if s, ok := m.(strokes); ok && s.role == roleGrid {
				s.width = 0.24
				return s
			}
			return m
		},
		"mm apart": func(m any) any {
			if s, ok := m.(strokes); ok && s.role == roleBar && s.width == lineHatch {
				s.segs[1] = seg{s.segs[0].x1 + 0.5, s.segs[0].y1, s.segs[0].x2 + 0.5, s.segs[0].y2}
				return s
			}
			return m
		},
		"lies on a solid bar": func(m any) any {
			if r, ok := m.(run); ok && r.s == "S" {
				r.x += 2
				return r
			}
			return m
		},
		"runs through": func(m any) any {
			if r, ok := m.(run); ok && r.s == "H" {
				r.x += 2
				return r
			}
			return m
		},
	}
	for want, change := range spoil {
		d := mustLayout(t, slopes(), a)
		for i, m := range d.marks {
			d.marks[i] = change(m)
		}
		if got := strings.Join(layoutFaults(d, a), "\n"); !strings.Contains(got, want) {
			t.Errorf("%q not seen; said: %s", want, got)
		}
	}
}

// TestWarningInPlaceOfFreezeLines: the line of words stands in bold between the month
// names and the first row, and nothing crosses it.
func TestWarningInPlaceOfFreezeLines(t *testing.T) {
	s := slopes()
	s.Marks, s.Warning = nil, "Frost may come in any month: no careful freeze dates here"
	for _, a := range []sheetArea{printArea(), Letter.area()} {
		d := mustLayout(t, s, a)
		var found *run
		firstRow := 1e9
		for _, m := range d.marks {
			r, ok := m.(run)
			switch {
			case ok && r.s == s.Warning:
				found = &r
			case ok && r.s == s.Rows[0].Name:
				firstRow = min(firstRow, r.y)
			}
		}
		if found == nil {
			t.Fatalf("%s: the words are not drawn", a.name)
		}
		if found.weight != bold || found.y > firstRow || found.size < leastType {
			t.Errorf("%s: drawn at %+v, the first row at %.1f", a.name, *found, firstRow)
		}
		ink := found.ink()
		for _, m := range d.marks {
			if st, ok := m.(strokes); ok && st.role == roleGrid {
				for _, g := range st.segs {
					if (rect{g.x1 - 0.1, g.y1, g.x2 + 0.1, g.y2}).meets(ink) {
						t.Errorf("%s: a line crosses the words: %+v", a.name, g)
					}
				}
			}
		}
	}
}
