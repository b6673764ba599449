package render

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

func TestSheetFits(t *testing.T) {
	if err := NewFitting().Fits(slopes()); err != nil {
		t.Error(err)
	}
	allWide := func(s *page.Sheet) {
		for i := range s.Rows {
			s.Rows[i].Dates = "in 10 Feb–10 Mar · sow 1 Mar–20 Apr · out 20 Apr–10 May · dig 6 Sep on"
		}
	}
	for _, c := range []struct {
		name   string
		change func(s *page.Sheet)
		want   string
	}{
		{"name too long", func(s *page.Sheet) { s.Rows[3].Name = strings.Repeat("Pea, ", 30) }, "row A4 (Pea, "},
		{"word too long", func(s *page.Sheet) { s.Rows[3].Name = strings.Repeat("Pea", 20) }, "row A4 (PeaPea"},
		{"dates too long", func(s *page.Sheet) { s.Rows[3].Dates = strings.Repeat("sow 6 Mar · ", 20) }, "row A4 (Pea): its dates (sow 6 Mar"},
		{"every row on three lines", allWide, "no room on the print page for this row"},
		{"no sign in the type", func(s *page.Sheet) { s.Rows[3].Name = "小松菜" }, `row A4 (小松菜): the sheet's type has no sign for '小'`},
		{"bar beyond the year", func(s *page.Sheet) { s.Rows[3].Bars[0].To = 366 }, "row A4 (Pea): a bar runs from day 87 to day 366 of 366"},
		{"bar backwards", func(s *page.Sheet) { s.Rows[3].Bars[0].To = 3 }, "row A4 (Pea): a bar runs from day 87 to day 3 of 366"},
		{"cover beyond the year", func(s *page.Sheet) { s.Rows[3].Covers[0].From = -1 }, "row A4 (Pea): cover line F runs from day -1"},
		{"unknown cover", func(s *page.Sheet) { s.Rows[3].Covers[0].Style = "straw" }, `row A4 (Pea): cover line F has the unknown style "straw"`},
		{"five bars at once", func(s *page.Sheet) {
			for range 4 {
				s.Rows[3].Bars = append(s.Rows[3].Bars, s.Rows[3].Bars[0])
			}
		}, "row A4 (Pea): more than 4 bars stand over one day"},
		{"five covers at once", func(s *page.Sheet) {
			for range 4 {
				s.Rows[3].Covers = append(s.Rows[3].Covers, s.Rows[3].Covers[0])
			}
		}, "row A4 (Pea): more than 4 cover lines lie over one day"},
		{"mark beyond the year", func(s *page.Sheet) { s.Marks[0].At = 400 }, `mark "careful last freeze 17 May" stands at day 400 of 366`},
		{"heading too long", func(s *page.Sheet) { s.Band = strings.Repeat("Thessock ", 30) }, `heading: "Thessock`},
		{"foot too long", func(s *page.Sheet) { s.Foot = append(s.Foot, strings.Repeat("covers fail in wind ", 200)) }, "no room on the print page for this row"},
		{"no days", func(s *page.Sheet) { s.Days = 0 }, "the calendar has no days"},
	} {
		s := slopes()
		c.change(s)
		err := NewFitting().Fits(s)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q in it", c.name, err, c.want)
		}
	}

	// The number of rows that are said to fit does fit, and one more does not.
	s := slopes()
	allWide(s)
	var fit *FitError
	if !errors.As(NewFitting().Fits(s), &fit) {
		t.Fatal("no FitError")
	}
	all := s.Rows
	s.Rows = all[:fit.Row]
	if _, err := layoutSheet(s, printArea()); err != nil {
		t.Errorf("%d rows were said to fit: %v", fit.Row, err)
	}
	s.Rows = all[:fit.Row+1]
	if _, err := layoutSheet(s, printArea()); err == nil {
		t.Errorf("%d rows were said not to fit, but do", fit.Row+1)
	}
}

// TestLayoutKeepsSheet: a sheet handed in comes back as it was.
func TestLayoutKeepsSheet(t *testing.T) {
	s := slopes()
	s.Rows[0].Name = "  Pin\u0303a\u202fdos  " // blanks, a loose accent and a narrow blank, which the layout replaces
	before := fmt.Sprintf("%+v", *s)
	if err := NewFitting().Fits(s); err != nil {
		t.Fatal(err)
	}
	if after := fmt.Sprintf("%+v", *s); after != before {
		t.Error("the layout changed the sheet it was given")
	}
	d := mustLayout(t, s, A4.area())
	found := false
	for _, m := range d.marks {
		r, ok := m.(run)
		found = found || ok && r.s == "Piña\u00a0dos"
	}
	if !found {
		t.Error("the name was not brought to the signs of the type")
	}
}

// TestRowHeights: rows are raised to a common height, no row loses any, and what is
// shared out is all there is. By hand: needs 2, 4 and 9 with 18 to share: 9 stays,
// the other two share 9 and get 4.5 each.
func TestRowHeights(t *testing.T) {
	p := &sheetPlan{}
	for _, need := range []float64{2, 9, 4} {
		p.rows = append(p.rows, &rowPlan{up: need})
	}
	if got, want := fmt.Sprint(p.rowHeights(18)), "[4.5 9 4.5]"; got != want {
		t.Errorf("%v, want %v", got, want)
	}
	// 15 is just what is needed; 100 raises each to the middle need plus mostExtra.
	if got, want := fmt.Sprint(p.rowHeights(15)), "[2 9 4]"; got != want {
		t.Errorf("%v, want %v", got, want)
	}
	if got, want := fmt.Sprint(p.rowHeights(100)), "[13 13 13]"; got != want {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestCalendar: days lie where the axis says. By hand: 366 days on 183 mm are half a
// millimetre each.
func TestCalendar(t *testing.T) {
	c := calendar{x0: 10, x1: 193, days: 366}
	for _, w := range []struct {
		day int
		x   float64
	}{{0, 10}, {1, 10.5}, {366, 193}, {60, 40}} {
		if got := c.at(w.day); got != w.x {
			t.Errorf("day %d at %v, want %v", w.day, got, w.x)
		}
	}
	if a, b := c.stretch(10, 13, 0.6); a != 15 || b != 17 {
		t.Errorf("days 10 to 13 reach from %v to %v, want 15 to 17", a, b)
	}
	if a, b := c.stretch(365, 365, 0.6); a != 192.4 || b != 193 {
		t.Errorf("the last day reaches from %v to %v, want 192.4 to 193", a, b)
	}
}

func TestWithout(t *testing.T) {
	got := without(span{0, 10}, []span{{7, 8}, {-1, 1}, {2, 4}, {3, 5}, {9.8, 12}}, 0.5)
	if want := "[{1 2} {5 7} {8 9.8}]"; fmt.Sprint(got) != want {
		t.Errorf("%v, want %v", got, want)
	}
}
