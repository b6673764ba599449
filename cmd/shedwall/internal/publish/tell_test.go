package publish

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"shedwall/cmd/shedwall/internal/made"
	"shedwall/cmd/shedwall/internal/proof"
)

// A publish tells how far it is: every stage, from nothing done to all of it.
func TestPublishTells(t *testing.T) {
	program := os.DirFS(proof.Root(t))
	dir := t.TempDir()
	size := made.Size{Bands: 3, Stations: 1, Crops: 4, Layers: 1, Years: 25, Settings: []string{"pdf,first_sheet"}}
	if err := size.Write(dir, program); err != nil {
		t.Fatal(err)
	}
	g, err := Load(os.DirFS(dir), program)
	if err != nil || g.Faults.HasErrors() {
		t.Fatal(err, g.Faults.Sorted())
	}
	var mutex sync.Mutex
	var told []string
	g.Tell = func(what string, done, all int) {
		mutex.Lock()
		defer mutex.Unlock()
		told = append(told, fmt.Sprintf("%s %d/%d", what, done, all))
	}
	if _, err := g.Publish(filepath.Join(t.TempDir(), "site"), nil); err != nil {
		t.Fatal(err)
	}
	// Two goroutines may tell in either order; each says what it did.
	slices.Sort(told)
	want := []string{"bands 0/3", "bands 1/3", "bands 2/3", "bands 3/3",
		"pages of crops 0/4", "pages of crops 1/4", "pages of crops 2/4", "pages of crops 3/4", "pages of crops 4/4",
		"pages of the whole guide 0/0"}
	if !slices.Equal(told, want) {
		t.Errorf("told %q, want %q", told, want)
	}
}
