package catalog

import (
	"fmt"
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// spoken holds that every word of a table is the name of its value and no two words mean
// one value.
func spoken[T interface {
	comparable
	fmt.Stringer
}](t *testing.T, words map[string]T) {
	t.Helper()
	seen := map[T]string{}
	for word, value := range words {
		if value.String() != word {
			t.Errorf("%q is the word for %q", word, value)
		}
		if other, twice := seen[value]; twice {
			t.Errorf("%q and %q are one", word, other)
		}
		seen[value] = word
	}
	if len(words) < 2 {
		t.Errorf("%d words", len(words))
	}
}

func TestWordsOfTables(t *testing.T) {
	spoken(t, CoverKinds)
	spoken(t, LoggedWhich)
	spoken(t, LoggedSpreads)
	spoken(t, Starts)
	spoken(t, PlantSeasons)
	spoken(t, SnowRules)
	spoken(t, HailRules)
	spoken(t, PotKinds)
	spoken(t, WinterLights)
	spoken(t, Positions)
	spoken(t, Outcomes)
	spoken(t, FloorKinds)
	spoken(t, HeatKinds)
	if NoLightSaid.String() != "unknown" {
		t.Error("what is not said of light is not unknown")
	}
}

// Layers are written from the outside in; open ground is none.
func TestSplitLayers(t *testing.T) {
	if got := SplitLayers("tunnel+fabric"); !slices.Equal(got, []string{"tunnel", "fabric"}) {
		t.Errorf("%v", got)
	}
	if got := SplitLayers(""); got != nil {
		t.Errorf("open ground is %v", got)
	}
}

func TestBegunAndTerm(t *testing.T) {
	tables := &Tables{Stations: []Station{{ID: "mill"}}}
	if tables.Begun() {
		t.Error("a guide with its own station was only begun")
	}
	tables.Stations = append(tables.Stations, Station{ID: BeginStation})
	if !tables.Begun() {
		t.Error("the made-up station is not seen")
	}
	half := Schedule{TermFrom: quantity.MonthDay{Month: 9, Day: 1}}
	if half.HasTerm() || (Schedule{}).HasTerm() {
		t.Error("half a term is a term")
	}
	half.TermTo = quantity.MonthDay{Month: 6, Day: 15}
	if !half.HasTerm() {
		t.Error("a term over the New Year is none")
	}
}

// An edition finds its windows whatever order they were added in, and only those it has.
func TestEditionIsFound(t *testing.T) {
	row := func(band, crop, layers string, percent int) EditionRow {
		return EditionRow{EditionKey: EditionKey{band, crop, layers, percent, "set-out"}, Code: "A1"}
	}
	e := &Edition{
		Rows:     []EditionRow{row("low", "pea", "", 50), row("high", "kale", "", 10), row("low", "kale", "tunnel", 10), row("low", "kale", "", 10)},
		Stations: []EditionPart{{ID: "mill"}, {ID: "bench", Name: "Bench"}}, Bands: []EditionPart{{ID: "low"}, {ID: "high"}},
		Plans: []EditionPlan{
			{Crop: "kale", Layers: "tunnel", Figures: []EditionFigure{{Name: "everywhere"}}},
			{Crop: "kale", Layers: "tunnel", Band: "high", Figures: []EditionFigure{{Name: "high only"}}},
			{Crop: "kale", Figures: []EditionFigure{{Name: "open"}}},
		},
		Sheets: []EditionSheet{{Band: "low", Path: "bands/low/sheet-2"}, {Band: "low", Path: "bands/low/sheet"}, {Band: "high", Path: "z"}},
	}
	e.Sort()
	var order []string
	for _, r := range e.Rows {
		order = append(order, fmt.Sprint(r.Band, " ", r.Crop, " ", r.Layers, " ", r.Percent))
	}
	if want := []string{"high kale  10", "low kale  10", "low kale tunnel 10", "low pea  50"}; !slices.Equal(order, want) {
		t.Errorf("rows in the order %q, want %q", order, want)
	}
	if e.Stations[0].ID != "bench" || e.Bands[0].ID != "high" || e.Sheets[0].Path != "z" || e.Sheets[1].Path != "bands/low/sheet" {
		t.Errorf("parts are not in order: %v %v %v", e.Stations, e.Bands, e.Sheets)
	}
	if r, ok := e.Find(EditionKey{"low", "kale", "tunnel", 10, "set-out"}); !ok || r.Layers != "tunnel" {
		t.Errorf("found %+v, %v", r, ok)
	}
	if _, ok := e.Find(EditionKey{"low", "kale", "tunnel", 50, "set-out"}); ok {
		t.Error("found a window at odds that were not printed")
	}
	if _, ok := (*Edition)(nil).Find(EditionKey{}); ok {
		t.Error("an edition that was never kept has a window")
	}
	for band, want := range map[string]string{"high": "high only", "low": "everywhere"} {
		if f := e.FiguresOf(EditionKey{Band: band, Crop: "kale", Layers: "tunnel"}); len(f) != 1 || f[0].Name != want {
			t.Errorf("%s: figures %v, want %s", band, f, want)
		}
	}
	if f := e.FiguresOf(EditionKey{Band: "low", Crop: "oca"}); f != nil {
		t.Errorf("figures of a crop that it has not: %v", f)
	}
	if p, ok := PartOf(e.Stations, "bench"); !ok || p.Name != "Bench" {
		t.Errorf("%v, %v", p, ok)
	}
	if p, ok := PartOf(e.Stations, "gone"); ok {
		t.Errorf("%v", p)
	}
}

// A sheet prints the rows of its own band that it lists, at the odds of sheets.
func TestSheetPrints(t *testing.T) {
	s := EditionSheet{Band: "low", Rows: []string{"A1"}}
	r := EditionRow{EditionKey: EditionKey{"low", "kale", "", 10, "sow"}, Code: "A1"}
	if !s.Prints(&r) {
		t.Error("its own row is not printed")
	}
	for what, change := range map[string]func(*EditionRow){
		"another band": func(r *EditionRow) { r.Band = "high" }, "the half dates": func(r *EditionRow) { r.Percent = 50 },
		"a crop of no sheet": func(r *EditionRow) { r.Code = "" }, "another sheet's row": func(r *EditionRow) { r.Code = "B1" },
	} {
		other := r
		if change(&other); s.Prints(&other) {
			t.Errorf("%s is printed", what)
		}
	}
	if s.Prints(nil) {
		t.Error("no row is printed")
	}
}

// Cells are named by their place in a spreadsheet, else by their line, else by their file.
func TestCellNames(t *testing.T) {
	for want, c := range map[string]figure.Cell{
		"data/crops.csv:E14": {File: "data/crops.csv", Line: 15, Cell: "E14"}, "data/records/mill.csv:7": {File: "data/records/mill.csv", Line: 7},
		"data/records/mill.csv": {File: "data/records/mill.csv"}, "": {Line: 3},
	} {
		if got := CellName(c); got != want {
			t.Errorf("%+v is %q, want %q", c, got, want)
		}
	}
}
