package render

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

// card is an invented tonight card with so many rows.
func card(unit string, rows int) []page.LeafBlock {
	box := func(n, label, note, sign string) page.LeafBox {
		return page.LeafBox{Number: n, Label: label, Note: note, Sign: sign, Unit: unit, Says: "empty box " + n + ", to write in"}
	}
	table := page.LeafTable{Whole: true, Head: []string{"Box 3", "A\nstands hard frost", "B\nstands some frost", "C\nstands light frost", "D\nstands no frost"}}
	for i := range rows {
		low := page.LeafCell{Text: strconv.Itoa(5-i) + ".5", Strong: true}
		if i == rows-1 {
			low.Text = "colder"
		}
		row := []page.LeafCell{low}
		for k := range 4 {
			c := page.LeafCell{Text: "no cover", Rule: i == 3*k}
			switch {
			case i >= 3*(4-k):
				c = page.LeafCell{Text: "pick today", Strong: true, Rule: i == 3*(4-k)}
			case i >= 3*(4-k)-1:
				c = page.LeafCell{Text: "N+F", Strong: true, Rule: true}
			}
			row = append(row, c)
		}
		table.Rows = append(table.Rows, row)
	}
	return []page.LeafBlock{
		page.LeafHeading{Level: 1, Text: "Slopes: tonight", Corner: unit},
		page.LeafBoxes{Across: true, Boxes: []page.LeafBox{
			box("1", "Forecast low at Mill", "find it: mill.example.org/the/board/by/the/gate", ""),
			box("2", "How my garden differs", "still, clear night −2; windy or cloudy −1; or line 5 of my worksheet", "and"),
			box("3", "My garden tonight", "1 and −2 make −1", "make")}},
		page.LeafText{Text: "Go down to the first row that is not warmer than box 3. Between two rows, take the colder one."},
		table,
		page.LeafText{Lead: "N+F", Text: "high tunnel over row cover", Small: true},
		page.LeafText{Lead: "Open by 10 in the morning,", Text: "or as soon as it is 50 °F outside: sun cooks plants under cover.", Small: true},
		page.LeafText{Lead: "A", Text: strings.TrimSuffix(strings.Repeat("Kale · Collards · ", 8), " · "), Small: true},
	}
}

// tenNights is an invented worksheet.
func tenNights() [][]page.LeafStrip {
	lines := page.LeafTable{Pencil: true, Head: []string{"Night", "Date", "Low at Mill", "Low in my garden", "Colder − or warmer +"}}
	for i := range 10 {
		lines.Rows = append(lines.Rows, []page.LeafCell{{Text: strconv.Itoa(i + 1)}, {}, {}, {}, {}})
	}
	boxes := page.LeafBoxes{}
	for i := range 5 {
		n := strconv.Itoa(i + 1)
		boxes.Boxes = append(boxes.Boxes, page.LeafBox{Number: n, Label: "Middle of the ten differences: cross out the largest and the smallest until two are left.", Unit: "°", Says: "empty box " + n})
	}
	dates := func(name string, rows ...string) page.LeafTable {
		t := page.LeafTable{Head: []string{name, "8 °F\n4.4 °C\ncolder", "4 °F\n2.2 °C\ncolder", "as printed"}}
		for _, r := range rows {
			t.Rows = append(t.Rows, []page.LeafCell{{Text: r}, {Text: "any month"}, {Text: "31 May"}, {Text: "19 May"}})
		}
		return t
	}
	usual := page.LeafTable{Caption: "Usual here (colder −)", Head: []string{"Spring", "usual", "Fall", "usual"}, Rows: [][]page.LeafCell{{{Text: "March"}, {Text: "−0.1 °C (0 °F)"}, {Text: "August"}, {Text: "+0.5 °C (+1 °F)"}}}}
	return [][]page.LeafStrip{{
		{Columns: [][]page.LeafBlock{{page.LeafHeading{Level: 1, Text: "Ten-night worksheet: Slopes"}, page.LeafText{Text: "Is my garden colder?"}, page.LeafText{Lead: "Hang the thermometer", Text: "1.5 m up.", Small: true}}}},
		{Columns: [][]page.LeafBlock{{lines}, {usual, boxes}}, Shares: []float64{0.5, 0.5}},
		{Columns: [][]page.LeafBlock{{dates("Spring", "last freeze, careful", "Pepper: set out from"), dates("Fall", "first freeze, half the years and a little more")}}},
	}}
}

func leaf(strips ...page.LeafStrip) *page.Leaf {
	return &page.Leaf{
		Path: "bands/slopes/tonight", Lang: "en", Band: "Slopes", Name: "Tonight card", Subject: "680–880 m", Edition: "Invented guide, edition 2", Dated: "2026-02-01", Code: "K7QF",
		Strips: strips, Foot: []string{"Sheet code K7QF · Invented guide, edition 2", "Everyone is welcome, whoever they are."},
	}
}

func twoCards(rows int) page.LeafStrip {
	return page.LeafStrip{Columns: [][]page.LeafBlock{card("°C", rows), card("°F", rows)}, Cut: true}
}

func layoutLeaf(l *page.Leaf, area sheetArea) (*drawing, error) {
	set, err := MeasureLeaf(l)
	if err != nil {
		return nil, err
	}
	plan, err := set.layout(area)
	if err != nil {
		return nil, err
	}
	d := &drawing{width: area.width, height: area.height}
	plan.draw(d)
	return d, nil
}

type leafCase struct {
	name string
	leaf *page.Leaf
}

// leafCases crowd leaves in the ways a guide might.
func leafCases() []leafCase {
	crowd := twoCards(16)
	for i := range crowd.Columns {
		for k, b := range crowd.Columns[i] {
			if t, ok := b.(page.LeafText); ok && t.Lead == "A" {
				t.Text = strings.TrimSuffix(strings.Repeat("Mache (corn salad) · Beans, scarlet runner · ", 20), " · ")
				crowd.Columns[i][k] = t
			}
		}
	}
	spanish := twoCards(9)
	spanish.Columns[0][0] = page.LeafHeading{Level: 1, Text: "Laderas de Ñandú y del Cañón: ¿qué cubierta esta noche?", Corner: "°C"}
	return []leafCase{
		{"two cards", leaf(twoCards(12))},
		{"one card", leaf(page.LeafStrip{Columns: [][]page.LeafBlock{card("°F", 12)}})},
		{"short cards", leaf(twoCards(2))},
		{"crowded cards", leaf(crowd)},
		{"accents", leaf(spanish)},
		{"worksheet", leaf(tenNights()[0]...)},
		{"bare", &page.Leaf{Strips: []page.LeafStrip{{Columns: [][]page.LeafBlock{{page.LeafText{Text: "Only this."}}}}}}},
	}
}

// TestLeafLayout holds every leaf to what paper asks: nothing outside the margins, no
// letter on another or under a line, no line under 0.25 mm; tables in 9 points at least,
// anything in 7.5.
func TestLeafLayout(t *testing.T) {
	for _, c := range leafCases() {
		for _, p := range []Paper{Letter, A4} {
			t.Run(c.name+"/"+p.Name, func(t *testing.T) {
				d, err := layoutLeaf(c.leaf, p.leafArea())
				if err != nil {
					t.Fatal(err)
				}
				for _, w := range leafFaults(d, p.leafArea()) {
					t.Error(w)
				}
				if err := LeafFits(c.leaf); err != nil {
					t.Errorf("laid out, but said not to fit: %v", err)
				}
			})
		}
	}
}

func leafFaults(d *drawing, a sheetArea) []string {
	var wrong []string
	for _, w := range layoutFaults(d, a) {
		if !strings.HasPrefix(w, "the name ") { // names of crops on wall sheets are another matter
			wrong = append(wrong, w)
		}
	}
	tag := ""
	for _, m := range d.marks {
		switch m := m.(type) {
		case *part:
			tag = m.tag + m.scope
		case run:
			if least := map[string]float64{"TD": leastTable, "THRow": leastTable}[tag]; m.size < max(least, leastSmall)-1e-9 {
				wrong = append(wrong, fmt.Sprintf("%q (%s) is set in %.2f points", m.s, tag, m.size))
			}
		}
	}
	return wrong
}

// TestLeafFaultsSeesFaults spoils a good drawing in each way.
func TestLeafFaultsSeesFaults(t *testing.T) {
	for want, change := range map[string]func(r run) run{
		`"pick today" (TD) is set in 8.90 points`: func(r run) run { r.size = 8.9; return r },
		"lie on each other":                       func(r run) run { r.x -= 20; return r },
		"outside the margins":                     func(r run) run { r.y += 300; return r },
		"runs through":                            func(r run) run { r.y += 2.5; return r },
	} {
		d, err := layoutLeaf(leaf(twoCards(12)), A4.leafArea())
		if err != nil {
			t.Fatal(err)
		}
		for i, m := range d.marks {
			if r, ok := m.(run); ok && r.s == "pick today" {
				d.marks[i] = change(r)
				break
			}
		}
		if got := strings.Join(leafFaults(d, A4.leafArea()), "\n"); !strings.Contains(got, want) {
			t.Errorf("%q not seen; said: %s", want, got)
		}
	}
}

// Lines to write on are at least 6.8 mm high, boxes 9.5 mm high and 18 mm wide: room for
// a pencil's figures.
func TestRoomForAPencil(t *testing.T) {
	for _, c := range leafCases() {
		for _, p := range []Paper{Letter, A4} {
			d, err := layoutLeaf(c.leaf, p.leafArea())
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range d.marks {
				if f, ok := m.(*part); ok && f.tag == "Figure" && (f.box.y1-f.box.y0 < 9.5-1e-9 || f.box.x1-f.box.x0 < 18) {
					t.Errorf("%s, %s: a box of %.1f by %.1f mm", c.name, p.Name, f.box.x1-f.box.x0, f.box.y1-f.box.y0)
				}
			}
		}
	}
	if m := leafMeasuresAt(leastLeafScale); m.pencil < 6.8 || m.box < 9.5 {
		t.Errorf("lines of %.1f mm, boxes of %.1f", m.pencil, m.box)
	}
}

func TestLeafFits(t *testing.T) {
	for _, c := range []struct {
		name, want string
		leaf       *page.Leaf
	}{
		{"too much", "no room on the Letter", leaf(page.LeafStrip{Columns: [][]page.LeafBlock{{page.LeafText{Text: strings.Repeat("covers fail in wind ", 900)}}}})},
		{"a long word", "wider than its column", leaf(page.LeafStrip{Columns: [][]page.LeafBlock{{page.LeafText{Text: strings.Repeat("pea", 80)}}}})},
		{"a cell", "wider than its column", leaf(page.LeafStrip{Columns: [][]page.LeafBlock{{page.LeafTable{Head: []string{"a", "b"}, Rows: [][]page.LeafCell{{{Text: "x"}, {Text: strings.Repeat("pea", 80)}}}}}}})},
		{"no sign in the type", "no sign for '小'", leaf(page.LeafStrip{Columns: [][]page.LeafBlock{{page.LeafText{Text: "小松菜"}}}})},
		{"a row short of cells", "has 1 cells, its heading row 2", leaf(page.LeafStrip{Columns: [][]page.LeafBlock{{page.LeafTable{Head: []string{"a", "b"}, Rows: [][]page.LeafCell{{{Text: "x"}}}}}}})},
		{"shares", "has 1 shares", leaf(page.LeafStrip{Columns: [][]page.LeafBlock{{}, {}}, Shares: []float64{1}})},
	} {
		if err := LeafFits(c.leaf); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q in it", c.name, err, c.want)
		}
		if _, err := LeafPDF(c.leaf, A4); err == nil {
			t.Errorf("%s: drawn all the same", c.name)
		}
	}
	undated := leaf(twoCards(3))
	undated.Dated = "1 February 2026"
	if _, err := LeafPDF(undated, A4); err == nil {
		t.Error("a date that is not year-month-day was taken")
	}
}

// byLine is the runs of each line, which are told line by line.
func byLine(runs []lineRun) (lines [][]run) {
	for i, r := range runs {
		if i == 0 || r.line != runs[i-1].line {
			lines = append(lines, nil)
		}
		lines[len(lines)-1] = append(lines[len(lines)-1], r.run)
	}
	return lines
}

// By hand: words of 10, 10 and 25 ems do not go on a line of 30; an address breaks after
// its stroke.
func TestFlow(t *testing.T) {
	var runs []lineRun
	var m leafMeasurer
	words := m.running("Find it:", "mill.example.org/board today")
	n, err := words.rowsOf(9, 24, &runs)
	lines := byLine(runs)
	if counted, _ := words.rowsOf(9, 24, nil); counted != n || n != len(lines) {
		t.Errorf("%d lines of %d, counted %d", n, len(lines), counted)
	}
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, l := range lines {
		var s []string
		for _, r := range l {
			s = append(s, r.s)
			if end := r.x + r.width(); end > 24+1e-9 {
				t.Errorf("%q ends at %.1f mm of 24", r.s, end)
			}
		}
		got = append(got, strings.Join(s, "|"))
	}
	if s := strings.Join(got, " / "); s != "Find it: / mill.example. / org/board today" {
		t.Errorf("broken as %s", s)
	}
	if lines[0][0].weight != bold || lines[1][0].weight != regular {
		t.Error("the lead is not bold, or the text is")
	}
}
