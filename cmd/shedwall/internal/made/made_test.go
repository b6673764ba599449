package made_test

import (
	"bytes"
	"maps"
	"os"
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/made"
	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/publish"
)

// A made guide has what was asked for, and nothing is wrong with it.
func TestMadeGuide(t *testing.T) {
	program := os.DirFS(proof.Root(t))
	for _, s := range []made.Size{
		{Bands: 1, Stations: 1, Crops: 1, Layers: 1, Years: 25},
		{Bands: 23, Stations: 5, Crops: 80, Layers: 15, Years: 25, Also: []string{"es"}, Seed: 7},
		{Bands: 2, Stations: 3, Crops: 120, Layers: made.MostLayers, Years: 25, Settings: []string{"pdf,first_sheet"}, Seed: 9},
	} {
		dir := t.TempDir()
		if err := s.Write(dir, program); err != nil {
			t.Fatal(err)
		}
		g, err := publish.Load(os.DirFS(dir), program)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range g.Faults.Sorted() {
			if f.ID != "words-unreviewed" { // Spanish as it comes with the program
				t.Errorf("%+v: %v", s, f)
			}
		}
		if g.Planner == nil {
			continue
		}
		got := s
		got.Bands, got.Stations, got.Crops, got.Layers = len(g.Tables.Bands), len(g.Tables.Stations), len(g.Tables.Crops), len(g.Planner.Offered())
		if got.Bands != s.Bands || got.Stations != s.Stations || got.Crops != s.Crops || got.Layers != s.Layers || len(g.Records) != s.Stations || len(g.BandIDs()) != s.Bands {
			t.Errorf("asked for %+v, read %+v with %d records", s, got, len(g.Records))
		}
	}
	if _, err := (made.Size{Bands: 1}).Files(program); err == nil {
		t.Error("a guide without stations is made")
	}
}

// The same size and seed is the same bytes; another seed is another region.
func TestMadeTwice(t *testing.T) {
	program := os.DirFS(proof.Root(t))
	s := made.Size{Bands: 12, Stations: 3, Crops: 95, Layers: 4, Years: 10, Seed: 3}
	files := func(s made.Size) map[string][]byte {
		out, err := s.Files(program)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	once := files(s)
	if !maps.EqualFunc(once, files(s), bytes.Equal) {
		t.Error("two makings differ")
	}
	s.Seed++
	other := files(s)
	if maps.EqualFunc(once, other, bytes.Equal) || slices.Equal(slices.Sorted(maps.Keys(once)), slices.Sorted(maps.Keys(other))) {
		t.Error("another seed makes the same region")
	}
}
