package check

import (
	"fmt"
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/prose"
	"shedwall/cmd/shedwall/internal/record"
)

// Begun warns of everything that is still as a new guide begins with it, once each. All
// of it is made up, and nothing else would tell: it is well-formed.
func Begun(t *catalog.Tables, freeze map[string]*record.Freeze, texts *prose.Library) diag.List {
	c := &checker{tables: t}
	c.begunSettings()
	for i := range t.Stations {
		s := &t.Stations[i]
		lat, hasLat := s.Latitude.Get()
		lon, _ := s.Longitude.Get()
		height, _ := s.Elevation.Get()
		if s.ID == catalog.BeginStation || s.Name == catalog.BeginName || hasLat && lat == 44 && lon == -38 && height == 300 {
			c.warn(s.Cell, "begun-station", "the weather station is still the made-up one that a new guide begins with", "a station near you, with its own name and place",
				"write your station here and its dates in data/freeze.csv; no date of the guide is true before")
		}
		if f := freeze[s.ID]; f != nil {
			c.begunDates(f)
		}
	}
	for i := range t.Bands {
		if b := &t.Bands[i]; slices.Contains(catalog.BeginBands, b.Name) {
			c.warn(b.Cell, "begun-band", fmt.Sprintf("the band %q is still one that a new guide begins with", b.Name), "a part of your region, by its own name", "write its name and the heights of its gardens, or delete the row")
		}
	}
	for i := range t.Places {
		if p := &t.Places[i]; slices.Contains(catalog.BeginPlaces, p.Name) {
			c.warn(p.Cell, "begun-place", fmt.Sprintf("the place %q is still one that a new guide begins with", p.Name), "a place that your readers know", "write its name, altitude and position, or delete the row")
		}
	}
	if d := texts.Doc("index"); d != nil && d.Title == catalog.BeginWelcome {
		c.warn(diag.Position{File: d.File, Line: 1}, "begun-welcome", "the front page still has the text that a new guide begins with", "your own welcome", "write it over this text")
	}
	return c.list
}

func (c *checker) begunSettings() {
	g := &c.tables.Guide
	for _, s := range []struct{ name, value, starter, id, expected, cure string }{
		{"title", g.Title, catalog.BeginTitle, "begun-title", "the name of your guide", "write your own"},
		{"publisher", g.Publisher, catalog.BeginPublisher, "begun-publisher", "who answers for the guide", "write who you are"},
		{"contact", g.Contact, catalog.BeginContact, "begun-contact", "an address at which readers reach you", "write your own; while it stands here, do not give the guide to anybody"},
		{"edition_date", g.EditionDate.ISO(), catalog.BeginDate, "begun-date", "the day of this edition", "write it; calendar files begin there"},
		{"statement", g.Statement, catalog.BeginStatement, "begun-statement", "the sentence that your printed pages must carry", "write your own, or delete the row"},
	} {
		if at, given := g.Cells[s.name]; given && s.value == s.starter {
			c.warn(at, s.id, fmt.Sprintf("the setting %s is still the one that a new guide begins with", s.name), s.expected, s.cure)
		}
	}
}

// begunDates warns of each date of the two that a new guide begins with.
func (c *checker) begunDates(f *record.Freeze) {
	for _, r := range f.Rows {
		starter := catalog.BeginLast
		if r.Event == record.First {
			starter = catalog.BeginFirst
		}
		date := fmt.Sprintf("%02d-%02d", r.Date.Month, r.Date.Day)
		if date != starter || r.Below != 0 || r.Odds != 0.5 || r.At == (figure.Cell{}) {
			continue
		}
		c.warn(r.At, "begun-freeze", fmt.Sprintf("%s is the made-up date that a new guide begins with", date), "the average date of your station",
			"write it; if it is this very day, name begun-freeze in the setting silence")
	}
}
