package edition

import (
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// An invented edition of one band, two crops and one station.
func invented() *catalog.Edition {
	at := func(m, d int) catalog.EditionBound {
		return catalog.EditionBound{State: catalog.EditionDated, Date: quantity.MonthDay{Month: m, Day: d}, Gate: "frost"}
	}
	row := func(crop, layers string, percent int, from, to catalog.EditionBound, sheet string) catalog.EditionRow {
		return catalog.EditionRow{EditionKey: catalog.EditionKey{Band: "low", Crop: crop, Layers: layers, Percent: percent, Action: "set-out"},
			From: from, To: to, Sheet: sheet, Code: "B1", Name: strings.ToUpper(crop[:1]) + crop[1:]}
	}
	e := &catalog.Edition{Number: 1, Date: "2025-02-01",
		Guide:    []catalog.EditionFigure{{Name: FigureVersion, Value: "0.1"}},
		Stations: []catalog.EditionPart{{ID: "mill", Name: "Mill", Figures: []catalog.EditionFigure{{Name: FigureRecord, Value: "1995-2023, checksum 11111111", Cell: "data/records/mill.csv"}, {Name: "elevation_m", Value: "300 m", Cell: "data/stations.csv:E2"}}}},
		Bands:    []catalog.EditionPart{{ID: "low", Name: "Low", Figures: []catalog.EditionFigure{{Name: "low_m", Value: "250 m", Cell: "data/bands.csv:C2"}}}},
		Plans: []catalog.EditionPlan{
			{Crop: "kale", Figures: []catalog.EditionFigure{{Name: "start", Value: "either", Cell: "data/crops.csv:A3"}, {Name: "young_damage_c", Value: "-4 C", Cell: "data/crops.csv:J3"}}},
			{Crop: "pea", Figures: []catalog.EditionFigure{{Name: "start", Value: "outside", Cell: "data/crops.csv:A4"}, {Name: "days_high", Value: "75 days", Cell: "data/crops.csv:Y4"}}},
		},
		Sheets: []catalog.EditionSheet{{Band: "low", Path: "bands/low/sheet", Name: "Sheet 1", Code: "AAAA", Rows: []string{"B1"}}, {Band: "low", Path: "es/bands/low/sheet", Name: "Hoja 1", Code: "EEEE", Rows: []string{"B1"}}},
		Rows:   []catalog.EditionRow{row("kale", "", 10, at(5, 12), at(7, 20), "AAAA"), row("kale", "", 50, at(4, 28), at(7, 30), "AAAA"), row("pea", "", 10, at(4, 10), at(6, 1), "AAAA")},
	}
	e.Sort()
	return e
}

func find(t *testing.T, m *Moved, crop string, percent int) Change {
	t.Helper()
	for _, c := range m.Changes {
		if c.Key.Crop == crop && c.Key.Percent == percent {
			return c
		}
	}
	t.Fatalf("%s at %d %% did not move: %v", crop, percent, m.Changes)
	return Change{}
}

func says(m *Moved, c Change) []string {
	var out []string
	for _, k := range c.Causes {
		out = append(out, m.Causes[k].String())
	}
	return out
}

// Nothing changed: nothing moved, and every sheet is as it was.
func TestNothingMoved(t *testing.T) {
	m := Compare(invented(), invented())
	if len(m.Changes) != 0 || len(m.Causes) != 0 || m.Kept != 3 {
		t.Errorf("changes %v, causes %v, kept %d", m.Changes, m.Causes, m.Kept)
	}
	for _, s := range m.Sheets {
		if !s.Same {
			t.Errorf("sheet %+v is not the same", s)
		}
	}
}

// A cell moves the dates of its crop and no other, by so many days, and is named with its
// value before and after even where the row has another place in its table now.
func TestACellMovesItsCrop(t *testing.T) {
	now := invented()
	now.Plans[0].Figures = []catalog.EditionFigure{{Name: "start", Value: "either", Cell: "data/crops.csv:A9"}, {Name: "young_damage_c", Value: "-3 C", Cell: "data/crops.csv:J9"}}
	now.Rows[0].From.Date = quantity.MonthDay{Month: 5, Day: 15}
	now.Rows[0].To.Date = quantity.MonthDay{Month: 7, Day: 19}
	now.Sheets[0].Code, now.Sheets[1].Code = "BBBB", "FFFF"
	m := Compare(invented(), now)
	if len(m.Changes) != 1 {
		t.Fatalf("changes %v", m.Changes)
	}
	c := find(t, m, "kale", 10)
	if c.FromDays != 3 || c.ToDays != -1 { // by hand: 12 to 15 May, 20 to 19 July
		t.Errorf("moved by %d and %d days", c.FromDays, c.ToDays)
	}
	if got := says(m, c); !slices.Equal(got, []string{"young_damage_c of kale: was -4 C, now -3 C, data/crops.csv:J9"}) {
		t.Errorf("causes %q", got)
	}
	// Both sheets printed then have one date that is wrong now, in either language.
	for i, want := range []string{"BBBB", "FFFF"} {
		if s := m.Sheets[i]; s.Same || s.Right || s.Moved != 1 || s.NowCode != want {
			t.Errorf("sheet %+v", s)
		}
	}
}

// What concerns every date is named with each: the record, the program's version, and
// both where both changed; where nothing that is kept changed, that is said.
func TestCommonCauses(t *testing.T) {
	for _, x := range []struct {
		name   string
		change func(*catalog.Edition)
		want   []string
	}{
		{"record", func(e *catalog.Edition) { e.Stations[0].Figures[0].Value = "1995-2024, checksum 22222222" },
			[]string{"the record of Mill: was 1995-2023, checksum 11111111, now 1995-2024, checksum 22222222, data/records/mill.csv"}},
		{"record and program", func(e *catalog.Edition) {
			e.Stations[0].Figures[0].Value = "1995-2024, checksum 22222222"
			e.Guide[0].Value = "0.2"
		}, []string{"the program's version: was 0.1, now 0.2", "the record of Mill: was 1995-2023, checksum 11111111, now 1995-2024, checksum 22222222, data/records/mill.csv"}},
		{"station and band", func(e *catalog.Edition) {
			e.Stations[0].Figures[1].Value = "310 m"
			e.Bands[0].Figures[0].Value = "260 m"
		}, []string{"elevation_m of the station Mill: was 300 m, now 310 m, data/stations.csv:E2", "low_m of the band Low: was 250 m, now 260 m, data/bands.csv:C2"}},
		{"new station", func(e *catalog.Edition) {
			e.Stations = append(e.Stations, catalog.EditionPart{ID: "top", Name: "Top", Figures: []catalog.EditionFigure{{Name: "elevation_m", Value: "900 m", Cell: "data/stations.csv:E3"}}})
		}, []string{"elevation_m of the station Top: was none, now 900 m, data/stations.csv:E3"}},
		{"nothing", func(*catalog.Edition) {}, []string{"the reckoning: no figure that editions keep is different"}},
	} {
		now := invented()
		now.Rows[2].From.Date.Day++
		x.change(now)
		m := Compare(invented(), now)
		if got := says(m, find(t, m, "pea", 10)); !slices.Equal(got, x.want) {
			t.Errorf("%s: causes %q", x.name, got)
		}
	}
}

// Rows that came or went say why: a new crop, a dropped one, other covers.
func TestCameAndWent(t *testing.T) {
	now := invented()
	now.Rows = now.Rows[:2] // no pea any more
	now.Plans = now.Plans[:1]
	covered := now.Rows[0]
	covered.Layers = "tunnel"
	now.Rows = append(now.Rows, covered)
	now.Plans = append(now.Plans, catalog.EditionPlan{Crop: "kale", Layers: "tunnel", Figures: now.Plans[0].Figures})
	now.Sort()
	m := Compare(invented(), now)
	gone := find(t, m, "pea", 10)
	if gone.Now != nil || !slices.Equal(says(m, gone), []string{"the crop Pea: was Pea, now none, data/crops.csv:A4"}) {
		t.Errorf("gone: %+v %q", gone, says(m, gone))
	}
	came := find(t, m, "kale", 10)
	if came.Was != nil || !slices.Equal(says(m, came), []string{"the covers that sheets plan Kale with: was open ground, now tunnel"}) {
		t.Errorf("came: %+v %q", came, says(m, came))
	}
}

// Days go the shorter way round the year, with 29 February a day of its own.
func TestDaysBetween(t *testing.T) {
	d := func(m, day int) catalog.EditionBound {
		return catalog.EditionBound{State: catalog.EditionDated, Date: quantity.MonthDay{Month: m, Day: day}}
	}
	for _, x := range []struct {
		a, b catalog.EditionBound
		want int
	}{
		{d(5, 12), d(5, 15), 3}, {d(5, 15), d(5, 12), -3}, {d(12, 30), d(1, 2), 3}, {d(1, 2), d(12, 30), -3},
		{d(2, 28), d(3, 1), 2}, {d(7, 31), d(8, 1), 1}, {d(8, 1), d(7, 31), -1}, {d(5, 5), d(5, 5), 0},
		{catalog.EditionBound{State: catalog.EditionOpen}, d(5, 5), 0},
	} {
		if got := DaysBetween(x.a, x.b); got != x.want {
			t.Errorf("%v to %v: %d, want %d", x.a, x.b, got, x.want)
		}
	}
}

// A window's sequence counts how often it moved.
func TestSequence(t *testing.T) {
	before := invented()
	before.Rows[0].Sequence = 2
	same, moved := before.Rows[0], before.Rows[0]
	moved.From.Date.Day++
	fresh := before.Rows[0]
	fresh.Crop = "leek"
	for _, x := range []struct {
		row  catalog.EditionRow
		want int
	}{{same, 2}, {moved, 3}, {fresh, 0}} {
		if got := sequence(before.Rows, &x.row); got != x.want {
			t.Errorf("%v: %d, want %d", x.row.EditionKey, got, x.want)
		}
	}
	if got := sequence(nil, &same); got != 0 {
		t.Errorf("without an edition before: %d", got)
	}
}
