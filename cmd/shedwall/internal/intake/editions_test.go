package intake

import (
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/edition"
	"shedwall/cmd/shedwall/internal/quantity"
)

func inventedEdition() *catalog.Edition {
	dated := func(m, d int) catalog.EditionBound {
		return catalog.EditionBound{State: catalog.EditionDated, Date: quantity.MonthDay{Month: m, Day: d}, Gate: "frost"}
	}
	e := &catalog.Edition{Number: 2, Date: "2025-02-01", File: "data/editions/2.csv",
		Guide:    []catalog.EditionFigure{{Name: "version", Value: "0.1"}, {Name: "years", Value: "1995-2024", Cell: "data/guide.csv:B9"}},
		Stations: []catalog.EditionPart{{ID: "mill", Name: `The "old" Mill, upper`, Figures: []catalog.EditionFigure{{Name: "elevation_m", Value: "612 m", Cell: "data/stations.csv:E2"}}}},
		Bands:    []catalog.EditionPart{{ID: "low", Name: "=Low"}},
		Sheets:   []catalog.EditionSheet{{Band: "low", Path: "bands/low/sheet", Name: "Sheet 1: spring", Code: "K7QF", Rows: []string{"A1", "B12"}}},
		Plans:    []catalog.EditionPlan{{Crop: "kale", Layers: "tunnel+fabric", Figures: []catalog.EditionFigure{{Name: "gain_low_k of tunnel", Value: "1.1 K", Cell: "data/builtin/covers.csv:H4"}}}},
		Rows: []catalog.EditionRow{
			{EditionKey: catalog.EditionKey{Band: "low", Crop: "kale", Percent: 10, Action: "set-out"}, From: dated(2, 29), To: catalog.EditionBound{State: catalog.EditionOpen}, Sheet: "K7QF", Code: "A1", Name: "Kale", Sequence: 3},
			{EditionKey: catalog.EditionKey{Band: "low", Crop: "kale", Percent: 50, Action: "set-out"}, From: catalog.EditionBound{State: catalog.EditionNever, Gate: "soil"}, To: catalog.EditionBound{State: catalog.EditionNotKnown}, Name: "Kale"},
		},
	}
	e.Sort()
	return e
}

// What the program wrote it reads back, whole.
func TestEditionRoundTrip(t *testing.T) {
	want := inventedEdition()
	var faults diag.List
	got := Edition(fstest.MapFS{"data/editions/2.csv": {Data: edition.Write(want)}}, 2, &faults)
	if faults.Len() > 0 || !reflect.DeepEqual(got, want) {
		t.Errorf("read %+v\nwant %+v\nfaults %v", got, want, faults.Sorted())
	}
}

// Each mistake in a kept edition is told in its place, and the edition is not used.
func TestEditionFaults(t *testing.T) {
	good := string(edition.Write(inventedEdition()))
	for name, x := range map[string]struct{ text, want string }{
		"headings":   {strings.Replace(good, "kind,band", "kind,bandd", 1), "data/editions/2.csv:1: these are not the headings"},
		"kind":       {strings.Replace(good, "\nband,", "\nbend,", 1), `:4:1, cell A4 (kind): "bend" is no kind of row`},
		"date":       {strings.Replace(good, "02-29", "02-30", 1), `cell G7 (from): "02-30" is not a date`},
		"state":      {strings.Replace(good, "not-known", "unknown", 1), `(to_held_by): there is no date, and "unknown" does not say why`},
		"number":     {strings.Replace(good, ",50,", ",fifty,", 1), `(odds_percent): "fifty" is not a whole number`},
		"figure":     {strings.Replace(good, "elevation_m = ", "elevation_m ", 1), `(figures): "elevation_m 612 m @ data/stations.csv:E2" is no figure`},
		"cells":      {good + "date,low\n", "the row has 2 cells"},
		"quotes":     {good + "\"date,low\n", "the row cannot be read"},
		"its number": {strings.Replace(good, ",2,,,version", ",3,,,version", 1), "the file says it is edition 3"},
		"empty":      {"", "these are not the headings"},
	} {
		var faults diag.List
		got := Edition(fstest.MapFS{"data/editions/2.csv": {Data: []byte(x.text)}}, 2, &faults)
		told := ""
		for _, f := range faults.Sorted() {
			told += f.String() + "\n"
		}
		if got != nil || !strings.Contains(told, x.want) {
			t.Errorf("%s: read %v, told %q, want %q", name, got != nil, told, x.want)
		}
	}
}

// Only files named by a number are editions; other tables beside them are told.
func TestEditionNumbers(t *testing.T) {
	var faults diag.List
	got := EditionNumbers(fstest.MapFS{"data/editions/10.csv": {}, "data/editions/2.csv": {}, "data/editions/spring.csv": {}, "data/editions/03.csv": {}, "data/editions/notes.txt": {}, "data/editions/.4.csv": {}}, &faults)
	if !reflect.DeepEqual(got, []int{2, 10}) || faults.Len() != 2 {
		t.Errorf("%v, %v", got, faults.Sorted())
	}
}
