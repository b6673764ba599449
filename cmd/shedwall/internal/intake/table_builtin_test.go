package intake

import (
	"io/fs"
	"os"
	"reflect"
	"slices"
	"testing"
	"testing/fstest"

	"shedwall/cmd/shedwall/internal/diag"
)

// project is the root of the project, which holds data/builtin and the demo.
func project() fs.FS { return os.DirFS("../../../..") }

// TestBuiltInTablesLoadWithoutAnyFault holds the tables that come with the
// program: not even a note may be needed about them.
func TestBuiltInTablesLoadWithoutAnyFault(t *testing.T) {
	var faults diag.List
	tables := Tables(smallGuide(nil), project(), &faults)
	for _, f := range faults.Sorted() {
		t.Error(f)
	}
	for name, n := range map[string]int{
		"crops": len(tables.Crops), "classes": len(tables.Classes), "covers": len(tables.Covers), "layers": len(tables.Layers),
		"germination": len(tables.Germination), "hazards": len(tables.Hazards), "sources": len(tables.Sources), "words": len(tables.Words),
	} {
		if n == 0 {
			t.Errorf("no %s", name)
		}
	}
}

// TestDemoTablesLoadWithoutAnyFault reads the demo as a folder without data/ does.
func TestDemoTablesLoadWithoutAnyFault(t *testing.T) {
	var faults diag.List
	tables := Tables(fstest.MapFS{}, project(), &faults)
	parked := 0
	for _, f := range faults.Sorted() {
		if f.ID == "report-parked" { // two of the demo's growers were not clear about the day, one not about the outcome either
			parked++
			continue
		}
		t.Error(f)
	}
	if parked != 3 || len(tables.Parked) != 2 {
		t.Errorf("%d reports are parked for %d cells, want 2 for 3", len(tables.Parked), parked)
	}
	if len(tables.Stations) == 0 || len(tables.Bands) == 0 || len(tables.Places) == 0 || tables.Guide.Title == "" {
		t.Errorf("the demo is not there: %+v", tables.Guide)
	}
}

// TestReadingTwiceGivesTheSame holds that nothing depends on the order of a map.
func TestReadingTwiceGivesTheSame(t *testing.T) {
	var first, second diag.List
	changed := map[string]string{
		"data/exceptions.csv": "table,row,column,source\nx,a,b,bulletin\ny,a,b,bulletin\ncrops,kael,c,paper\n",
		"data/crops.csv":      "crop,days_low\nkale,x\nbean,y\n",
	}
	a := Tables(smallGuide(changed), mapOf(builtIn), &first)
	b := Tables(smallGuide(changed), mapOf(builtIn), &second)
	if !reflect.DeepEqual(a, b) || !slices.Equal(first.Sorted(), second.Sorted()) || first.Len() == 0 {
		t.Error("two readings of the same files differ")
	}
}
