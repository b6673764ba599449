package page

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// TestEveryCoverIsDescribed: each built-in cover and structure has words for its
// drawing, and each such phrase belongs to one.
func TestEveryCoverIsDescribed(t *testing.T) {
	read := func(name string) [][]string {
		f, err := os.Open(filepath.Join(proof.Root(t), "data", "builtin", name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		rows, err := csv.NewReader(f).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		return rows[1:]
	}
	drawn := map[string]bool{}
	for _, row := range read("words.csv") {
		if id, ok := strings.CutPrefix(row[0], "drawing."); ok && !strings.HasPrefix(id, "kind.") {
			drawn[id] = true
		}
	}
	for _, table := range []string{"covers.csv", "structures.csv"} {
		for _, row := range read(table) {
			if !drawn[row[0]] {
				t.Errorf("%s: nobody says what the drawing of %s shows", table, row[0])
			}
			delete(drawn, row[0])
		}
	}
	for id := range drawn {
		t.Errorf("drawing.%s: there is no such cover", id)
	}
}
