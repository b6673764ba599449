package page

import "testing"

func TestRelative(t *testing.T) {
	for _, c := range []struct{ from, target, want string }{
		{"index.html", "crops/kale.html", "crops/kale.html"},
		{"crops/kale.html", "index.html", "../index.html"},
		{"crops/kale.html", "crops/beet.html", "beet.html"},
		{"bands/slopes/index.html", "bands/slopes/sheet.html", "sheet.html"},
		{"bands/slopes/index.html", "bands/ridge/index.html", "../ridge/index.html"},
		{"bands/slopes/index.html", "style.css", "../../style.css"},
		{"bands/slopes/index.html", "bands/slopes/index.html#odds", "#odds"},
		{"bands/slopes/index.html", "index.html#bands", "../../index.html#bands"},
		{"index.html", "index.html", "index.html"},
		{"crops/kale.html", "#sow", "#sow"},
		{"crops/kale.html", "https://example.org/a", "https://example.org/a"},
		{"crops/kale.html", "mailto:a@example.org", "mailto:a@example.org"},
		{"es/crops/kale.html", "crops/kale.html", "../../crops/kale.html"},
	} {
		if got := Relative(c.from, c.target); got != c.want {
			t.Errorf("from %s to %s: %q, want %q", c.from, c.target, got, c.want)
		}
	}
}

func TestPaths(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{SheetPath("slopes", 1), "bands/slopes/sheet"},
		{SheetPath("slopes", 12), "bands/slopes/sheet-12"},
		{SheetPDF(SheetPath("slopes", 2), "a4"), "bands/slopes/sheet-2-a4.pdf"},
		{CalendarPath("slopes"), "bands/slopes/calendar.csv"},
		{HTML(BandPath("slopes")), "bands/slopes/index.html"},
	} {
		if c.got != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
	if twin, ok := Twin("bands/slopes/index.html"); !ok || twin != "bands/slopes/index.md" {
		t.Errorf("twin %q %v", twin, ok)
	}
	for _, f := range []string{"bands/slopes/sheet.html", "bands/slopes/sheet-2.html", "bands/slopes/sheet-a4.pdf", "style.css"} {
		if _, ok := Twin(f); ok {
			t.Errorf("%s has no twin", f)
		}
	}
}
