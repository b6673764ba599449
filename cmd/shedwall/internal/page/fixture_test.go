package page

import (
	"encoding/csv"
	"math"
	"os"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/prose"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/words"
)

// An invented guide of two stations, three bands and four crops. The records are
// made by rule, so that every run sees the same.

func known[T any](v T) figure.Of[T] {
	return figure.Is(v, diag.Position{File: "data/x.csv", Line: 2, Cell: "B2"}, "book")
}

// series is thirty years of daily minima and maxima: a cosine of the year, colder
// by cold, with noise from a linear congruential generator.
func series(station string, cold float64, south bool) *record.Daily {
	d := &record.Daily{Station: station, File: "data/records/" + station + ".csv", Start: quantity.DayOf(1995, 1, 1), Step: record.TenthC}
	seed := uint32(len(station)*7 + int(cold*10))
	noise := 0.0
	for day := d.Start; day < quantity.DayOf(2025, 1, 1); day++ {
		_, m, dd := day.Date()
		phase := float64((m-1)*30+dd-20) / 365 * 2 * math.Pi
		if south {
			phase += math.Pi
		}
		seed = seed*1664525 + 1013904223
		noise = 0.7*noise + 4*(float64(seed>>8)/float64(1<<24)-0.5)
		low := 4 - 10*math.Cos(phase) - cold + noise
		d.Min = append(d.Min, quantity.Celsius(math.Round(low*10)/10).Hundredths())
		d.Max = append(d.Max, quantity.Celsius(math.Round((low+10)*10)/10).Hundredths())
	}
	return d
}

func builtinWords(t testing.TB) []words.Entry {
	t.Helper()
	f, err := os.Open("../../../../data/builtin/words.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []words.Entry
	for _, r := range rows[1:] {
		if catalog.IsTextKey(r[0]) {
			continue // a text of a table, in other languages
		}
		out = append(out, words.Entry{Key: r[0], Text: map[string]string{"en": r[1]}})
	}
	return out
}

func tables() *catalog.Tables {
	c := func(v float64) figure.Of[quantity.Celsius] { return known(quantity.Celsius(v)) }
	k := func(v float64) figure.Of[quantity.Kelvins] { return known(quantity.Kelvins(v)) }
	m := func(v float64) figure.Of[quantity.Metres] { return known(quantity.Metres(v)) }
	return &catalog.Tables{
		Guide: catalog.Guide{Title: "Invented guide", Publisher: "Seed circle", Contact: "post@example.org", Edition: 2,
			EditionDate: quantity.DayOf(2026, 2, 1), Language: "en", Statement: "Everyone is welcome.", UseUntil: "2029"},
		Stations: []catalog.Station{
			{ID: "mill", Name: "Mill", Latitude: known(44.0), Longitude: known(-38.0), Elevation: m(700), Position: known(catalog.Slope), ObservedAt: "8"},
			{ID: "dip", Name: "Dip", Latitude: known(44.05), Longitude: known(-38.0), Elevation: m(900), Position: known(catalog.Hollow)},
		},
		Bands: []catalog.Band{
			{ID: "slopes", Name: "Slopes", Low: m(680), High: m(880), Position: known(catalog.Slope), DeclaredZone: known("6a")},
			{ID: "hollow", Name: "Hollow", Low: m(850), High: m(1050), Position: known(catalog.Hollow)},
			{ID: "top", Name: "Top", Low: m(1050), Position: known(catalog.Ridge)},
		},
		Places: []catalog.Place{
			{Name: "Nether Dip", Elevation: m(860), Position: known(catalog.Hollow)},
			{Name: "Midway", Elevation: m(770), Position: known(catalog.Slope)},
			{Name: "Nowhere"},
		},
		Crops: []catalog.Crop{
			{ID: "kale", Name: "Kale", Latin: "Brassica oleracea", Family: "Brassicaceae", Group: "vegetable", Cycle: "biennial", Class: "hardy", Start: catalog.Either,
				YoungDamage: c(-4), GrownDamage: c(-9), SoilMin: c(4.4), EmergeDays: known(8), WeeksInsideLow: known(4.0), WeeksInsideHigh: known(6.0), DaysLow: known(50), DaysHigh: known(70), DaysFromSetOut: true},
			{ID: "pea", Name: "Pea", Group: "vegetable", Cycle: "annual", Class: "hardy", Start: catalog.Outside,
				YoungDamage: c(-4), GrownDamage: c(-2), SoilMin: c(6), EmergeDays: known(10), DaysLow: known(55), DaysHigh: known(75)},
			{ID: "tomato", Name: "Tomato", Group: "vegetable", Cycle: "annual", Class: "tender", Start: catalog.Inside,
				YoungDamage: c(0), GrownDamage: c(0), Chill: c(5), WeeksInsideLow: known(6.0), WeeksInsideHigh: known(8.0), DaysLow: known(60), DaysHigh: known(85), DaysFromSetOut: true, NeedsInsect: known(true)},
			{ID: "mystery", Name: "=Mystery | <root>", Group: "herb", Cycle: "annual", Start: catalog.Outside},
		},
		Classes: []catalog.Class{
			{ID: "hardy", Name: "hardy", YoungDamage: c(-3.3), GrownDamage: c(-4)},
			{ID: "tender", Name: "tender", YoungDamage: c(0), GrownDamage: c(0), SoilMin: c(10)},
		},
		Covers: []catalog.Cover{
			{ID: "fabric", Name: "row cover on hoops", Kind: catalog.Fabric, Letter: "F", Weight: 2, Offered: true, Vent: c(15.6),
				Gain: catalog.Gain{Low: k(-1), Typical: k(1), High: k(2)}},
			{ID: "tunnel", Name: "low tunnel", Kind: catalog.Film, Letter: "T", Weight: 3, Offered: true,
				Gain: catalog.Gain{Low: k(1), Typical: k(1.5), High: k(2.2), Stated: true}},
			{ID: "sheet", Name: "old sheet", Kind: catalog.Fabric, Letter: "S", Weight: 1, Touches: true},
		},
		Layers: []catalog.Layers{{ID: "tunnel+fabric", Covers: []string{"tunnel", "fabric"}, Offered: true,
			Gain: catalog.Gain{Low: k(3), Typical: k(4), High: k(5)}, Measured: true, Note: "Measured once."}},
		Hazards: []catalog.Hazard{
			{ID: "label", On: []string{"all"}, Caution: "Read the label.", Defer: "the label", Source: "book"},
			{ID: "cook", On: []string{"tunnel"}, Caution: "Sun cooks.", Source: "nothing"},
			{ID: "power", On: []string{"heat"}, Caution: "Power kills.", Source: "talk"},
		},
		Sources: []catalog.Source{
			{ID: "book", Kind: "handbook", Organisation: "A house", Title: "A book", Year: "1999", Address: "https://example.org/book", Read: "in full"},
			{ID: "talk", Kind: "memory", Address: "javascript:alert(1)"},
		},
	}
}

// input plans the tables with records by rule.
func input(t testing.TB, tables *catalog.Tables, h quantity.Hemisphere, texts *prose.Library) Input {
	t.Helper()
	var faults diag.List
	tables.Hemisphere = h
	records := map[string]*record.Daily{"mill": series("mill", 0, h == quantity.South), "dip": series("dip", 4, h == quantity.South)}
	in := Input{Tables: tables, Texts: texts, Book: words.NewBook(builtinWords(t), "en", words.Both, &faults)}
	in.Region = band.NewRegion(tables.Stations, records, 0, 0, h)
	planner := plan.NewPlanner(tables)
	for i := range tables.Bands {
		c := in.Region.Climate(&tables.Bands[i])
		in.Bands = append(in.Bands, BandInput{c, planner.Band(c)})
	}
	if faults.Len() > 0 {
		t.Fatal(faults.Sorted())
	}
	return in
}
