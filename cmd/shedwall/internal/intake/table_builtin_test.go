package intake

import (
	"io/fs"
	"os"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
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
	_ = catalog.Tables{}
}
