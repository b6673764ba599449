package edition

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// demo is the demo guide with four crops and two bands, and its region.
func demo(t *testing.T) (*catalog.Tables, *band.Region) {
	t.Helper()
	var faults diag.List
	guide := os.DirFS("../../../..")
	tables := intake.Tables(guide, guide, &faults)
	records := intake.Records(guide, tables, &faults)
	if faults.HasErrors() {
		t.Fatal(faults.Sorted())
	}
	tables.Crops = slices.DeleteFunc(tables.Crops, func(c catalog.Crop) bool {
		return !slices.Contains([]string{"kale", "tomato", "garlic", "squash_winter"}, c.ID)
	})
	tables.Bands = tables.Bands[:2]
	if len(tables.Crops) != 4 || len(tables.Bands) != 2 {
		t.Fatalf("%d crops, %d bands", len(tables.Crops), len(tables.Bands))
	}
	return tables, band.RegionOf(tables.Stations, band.Weather{Records: records}, tables.Guide.YearsFrom, tables.Guide.YearsTo, tables.Hemisphere)
}

// printed is the edition of a guide whose sheets plan with one set of covers. Bands are
// added in the order given.
func printed(tables *catalog.Tables, region *band.Region, covers string, before *catalog.Edition, order ...int) *catalog.Edition {
	l := NewLedger(tables, region, "0.1", before)
	p := plan.NewPlanner(tables)
	for _, i := range order {
		row := &tables.Bands[i]
		sheet := catalog.EditionSheet{Band: row.ID, Path: "bands/" + row.ID + "/sheet", Name: "Sheet 1", Code: "AAAA", Rows: []string{"A1"}}
		l.Band(row, p.Band(region.Climate(row)), func(*plan.CropPlan) string { return covers }, map[string]Printed{"kale": {"AAAA", "A1"}}, []catalog.EditionSheet{sheet})
		if !l.Has(row.ID) {
			panic("a band that was added is not there")
		}
	}
	l.Sheets([]catalog.EditionSheet{{Band: tables.Bands[0].ID, Path: "es/bands/x/sheet", Name: "Hoja 1", Code: "EEEE"}})
	return l.Edition()
}

func figureOf(list []catalog.EditionFigure, name string) string {
	for _, f := range list {
		if f.Name == name {
			return f.Value + " @ " + f.Cell
		}
	}
	return ""
}

// An edition names the figures behind its dates with the cells they stand in, whatever
// order its bands came in.
func TestLedgerOfTheDemo(t *testing.T) {
	tables, region := demo(t)
	e := printed(tables, region, "tunnel+fabric", nil, 0, 1)
	if other := printed(tables, region, "tunnel+fabric", nil, 1, 0); !bytes.Equal(Write(e), Write(other)) {
		t.Error("the order of bands changes the file")
	}
	g := tables.Guide
	if e.Number != g.Edition || e.Date != isoDate(g.EditionDate) || figureOf(e.Guide, "years") == "" {
		t.Errorf("edition %d of %s, %v", e.Number, e.Date, e.Guide)
	}
	for _, s := range tables.Stations {
		part, ok := catalog.PartOf(e.Stations, s.ID)
		height, _ := s.Elevation.Get()
		if want := fmt.Sprintf("%v m @ %s", float64(height), catalog.CellName(s.Elevation.Cell)); !ok || figureOf(part.Figures, "elevation_m") != want {
			t.Errorf("station %s: %v, want a height of %s", s.ID, part.Figures, want)
		}
		if record := figureOf(part.Figures, FigureRecord); !strings.Contains(record, "checksum") || !strings.HasSuffix(record, "data/records/"+s.ID+".csv") {
			t.Errorf("station %s: record %q", s.ID, record)
		}
	}
	for _, b := range tables.Bands {
		part, ok := catalog.PartOf(e.Bands, b.ID)
		low, _ := b.Low.Get()
		position, _ := b.Position.Get()
		if !ok || !strings.HasPrefix(figureOf(part.Figures, "low_m"), fmt.Sprintf("%v m @ data/bands.csv:", float64(low))) || !strings.HasPrefix(figureOf(part.Figures, "position"), position.String()) {
			t.Errorf("band %s: %v", b.ID, part.Figures)
		}
	}
	for _, c := range tables.Crops {
		figures := e.FiguresOf(catalog.EditionKey{Band: tables.Bands[0].ID, Crop: c.ID, Layers: "tunnel+fabric"})
		if c.Season == catalog.FallPlanted && figures == nil { // it stands out through the winter
			figures = e.FiguresOf(catalog.EditionKey{Band: tables.Bands[0].ID, Crop: c.ID})
		} else if !slices.ContainsFunc(figures, func(f catalog.EditionFigure) bool {
			return strings.HasPrefix(f.Name, "gain_low_k of ") && strings.Contains(f.Cell, ".csv:")
		}) {
			t.Errorf("%s under covers has no gain: %v", c.ID, figures)
		}
		if start := figureOf(figures, "start"); !strings.HasPrefix(start, c.Start.String()+" @ data/builtin/crops.csv:") {
			t.Errorf("%s starts %q", c.ID, start)
		}
		if limit, ok := c.YoungDamage.Get(); ok {
			if want := fmt.Sprintf("%v C @ %s", float64(limit), catalog.CellName(c.YoungDamage.Cell)); figureOf(figures, "young_damage_c") != want {
				t.Errorf("%s: harmed at %q, want %s", c.ID, figureOf(figures, "young_damage_c"), want)
			}
		}
		for _, f := range e.FiguresOf(catalog.EditionKey{Band: tables.Bands[0].ID, Crop: c.ID}) {
			if strings.Contains(f.Name, " of ") {
				t.Errorf("%s in open ground rests on %s", c.ID, f.Name)
			}
		}
	}
	r, ok := e.Find(KeyOf(tables.Bands[0].ID, "kale", "", quantity.Careful, plan.SetOut))
	if !ok || r.From.State != catalog.EditionDated || r.From.Gate == "" || r.Code != "A1" || r.Sheet != "AAAA" || r.Sequence != 0 {
		t.Errorf("kale set out in open ground: %+v, %v", r, ok)
	}
	if r, _ := e.Find(KeyOf(tables.Bands[0].ID, "tomato", "", quantity.Careful, plan.SetOut)); r.Sheet != "" || r.Code != "" {
		t.Errorf("a crop of no sheet stands on %q %q", r.Sheet, r.Code)
	}
}

// shift makes a figure greater, in its place.
func shift[T ~float64](f *figure.Of[T], by T) {
	*f = figure.With(*f, func(v T) T { return v + by })
}

// A cell that changes moves the dates that rest on it, is named as the cause, and counts
// them on; dates of others stay.
func TestLedgerMoves(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*catalog.Tables)
		cause  string // what every changed date has among its causes
		moved  func(catalog.EditionKey) bool
	}{
		{"a crop's limit", func(t *catalog.Tables) {
			for i := range t.Crops {
				if t.Crops[i].ID == "tomato" {
					shift(&t.Crops[i].YoungDamage, 3)
				}
			}
		}, "young_damage_c", func(k catalog.EditionKey) bool { return k.Crop == "tomato" }},
		{"a cover's gain", func(t *catalog.Tables) {
			for i := range t.Layers {
				if t.Layers[i].ID == "tunnel+fabric" {
					shift(&t.Layers[i].Gain.Low, 1)
					shift(&t.Layers[i].Gain.Typical, 1)
				}
			}
			for i := range t.Covers {
				if t.Covers[i].ID == "tunnel" {
					shift(&t.Covers[i].Gain.Low, 1)
					shift(&t.Covers[i].Gain.Typical, 1)
				}
			}
		}, "gain_", func(k catalog.EditionKey) bool { return k.Layers == "tunnel+fabric" }},
		{"a band's height", func(t *catalog.Tables) {
			shift(&t.Bands[0].Low, 60)
			shift(&t.Bands[0].High, 60)
		}, "_m", func(k catalog.EditionKey) bool { return true }},
	} {
		tables, region := demo(t)
		before := printed(tables, region, "tunnel+fabric", nil, 0, 1)
		first := tables.Bands[0].ID
		c.change(tables)
		now := printed(tables, region, "tunnel+fabric", before, 0, 1)
		m := Compare(before, now)
		if len(m.Changes) == 0 || m.Kept == 0 {
			t.Fatalf("%s: %d moved, %d stayed", c.name, len(m.Changes), m.Kept)
		}
		for _, x := range m.Changes {
			if !c.moved(x.Key) || c.name == "a band's height" && x.Key.Band != first {
				t.Errorf("%s moved %+v", c.name, x.Key)
			}
			if causes := strings.Join(says(m, x), "; "); !strings.Contains(causes, c.cause) {
				t.Errorf("%s: %+v moved by %q", c.name, x.Key, causes)
			}
			if x.Now != nil && x.Was != nil && x.Now.Sequence != x.Was.Sequence+1 {
				t.Errorf("%s: %+v counts %d after %d", c.name, x.Key, x.Now.Sequence, x.Was.Sequence)
			}
		}
	}
}

// A house has no gain of its own in a table: the edition keeps the gain that was worked
// out for the band's nights, with the house's row.
func TestLedgerOfAHouse(t *testing.T) {
	tables, region := demo(t)
	const house = "water_shed" // offered in the demo's structures.csv
	e := printed(tables, region, house, nil, 0, 1)
	var gains []string
	for _, b := range tables.Bands {
		gains = append(gains, figureOf(e.FiguresOf(catalog.EditionKey{Band: b.ID, Crop: "tomato", Layers: house}), "gain_low_k of "+house))
	}
	for i, gain := range gains {
		if !strings.HasSuffix(gain, " K @ data/structures.csv:A2") {
			t.Errorf("the gain of %s in %s is %q", house, tables.Bands[i].ID, gain)
		}
	}
}

// Where a station has typed dates each is a figure with its cell; a published table of many
// dates is known by its checksum, which any date changes.
func TestLedgerOfTypedDates(t *testing.T) {
	tables, _ := demo(t)
	tables.Bands[1].Name = ""
	at := func(line int) figure.Cell {
		return figure.Cell{File: "data/freeze.csv", Line: line, Cell: fmt.Sprint("E", line)}
	}
	typed := func(last quantity.MonthDay, thresholds int) *record.Freeze {
		f := &record.Freeze{Typed: true, Station: "any", Files: []string{"data/freeze.csv"}, From: 1991, To: 2020}
		for k := range thresholds {
			f.Rows = append(f.Rows, record.FreezeRow{Event: record.Last, Below: quantity.Celsius(-k), Odds: 0.5, Date: last, At: at(2 + k)},
				record.FreezeRow{Event: record.First, Below: quantity.Celsius(-k), Odds: 0.5, Date: quantity.MonthDay{Month: 9, Day: 28}, At: at(40 + k)})
		}
		return f
	}
	edition := func(f *record.Freeze) *catalog.Edition {
		weather := band.Weather{Tables: map[string]*record.Freeze{}}
		for _, s := range tables.Stations {
			weather.Tables[s.ID] = f
		}
		return printed(tables, band.RegionOf(tables.Stations, weather, 0, 0, tables.Hemisphere), "tunnel", nil, 0, 1)
	}
	first := tables.Stations[0].ID
	station := func(e *catalog.Edition) []catalog.EditionFigure {
		part, _ := catalog.PartOf(e.Stations, first)
		return part.Figures
	}
	e := edition(typed(quantity.MonthDay{Month: 5, Day: 18}, 1))
	if got := figureOf(station(e), "last at 0 C in 50 %"); got != "05-18 @ data/freeze.csv:E2" {
		t.Errorf("the typed date is %q of %v", got, station(e))
	}
	if part, _ := catalog.PartOf(e.Bands, tables.Bands[1].ID); part.Name != tables.Bands[1].ID {
		t.Errorf("a band without a name is called %q", part.Name)
	}
	many := figureOf(station(edition(typed(quantity.MonthDay{Month: 5, Day: 18}, 13))), FigureRecord)
	later := figureOf(station(edition(typed(quantity.MonthDay{Month: 5, Day: 19}, 13))), FigureRecord)
	if !strings.HasPrefix(many, "1991-2020, checksum ") || !strings.HasSuffix(many, " @ data/freeze.csv") || many == later {
		t.Errorf("many dates are %q, a day later %q", many, later)
	}
}

// What a spreadsheet would run as a formula is written as a text.
func TestWrittenNamesAreSafe(t *testing.T) {
	e := invented()
	e.Bands[0].Name, e.Stations[0].Name = `=HYPERLINK("x")`, "@mill"
	text := string(Write(e))
	for _, want := range []string{`"'=HYPERLINK(""x"")"`, "'@mill"} {
		if !strings.Contains(text, want) {
			t.Errorf("not written as %s:\n%.600s", want, text)
		}
	}
}
