package page

import (
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

func textOf(cell []Inline) string {
	s := ""
	for _, i := range cell {
		s += i.Text
	}
	return s
}

// TestNoGainsWithoutASeason: a row that has no start shows no days gained, and where
// open ground has no season the covers say that there is one under them only.
func TestNoGainsWithoutASeason(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	b := &builder{Input: in, words: in.Book, planner: plan.NewPlanner(in.Tables), covers: cover.NewBook(in.Tables)}
	m := b.planned(b.outline(in.Bands[0].Climate), in.Bands[0].Plans)
	i := slices.IndexFunc(in.Bands[0].Plans, func(p plan.CropPlan) bool { return p.Crop.ID == "tomato" })
	p := in.Bands[0].Plans[i]
	p.Layers = slices.Clone(p.Layers)
	p.Layers[0].Careful = nil // open ground: no season by careful dates
	p.Layers[1].Careful = nil // nor under the first cover
	table, ok := b.cropCovers(cropIn{m, &p}).(Table)
	if !ok {
		t.Fatal("no table, though half-and-half dates make a season")
	}
	for n, row := range table.Rows {
		for c := 3; c < len(row); c++ {
			got := textOf(row[c])
			switch {
			case n < 2 && got != "no season":
				t.Errorf("row %d without a start says %q in column %d", n, got, c)
			case n >= 2 && (c == 3 || c == 5) && got != "only under it":
				t.Errorf("row %d says %q in column %d beside open ground without a season", n, got, c)
			}
		}
	}
	for l := range p.Layers {
		p.Layers[l].Careful, p.Layers[l].Half = nil, nil
	}
	if _, ok := b.cropCovers(cropIn{m, &p}).(Para); !ok {
		t.Error("nothing makes a season, but there is a table of it")
	}
	if got := b.coverHint(m, &p); got != "no season even under covers" {
		t.Errorf("the calendar says %q", got)
	}
}

// TestAbsentCropsAreNamed: every crop is on a sheet or named as absent, with why.
func TestAbsentCropsAreNamed(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	for i := range in.Bands {
		w := Wall{Tables: in.Tables, Book: in.Book, Climate: in.Bands[i].Climate, Plans: in.Bands[i].Plans}
		noSeason, noFigure := w.absent()
		var drawn []string
		sheets := w.Sheets()
		for n, s := range sheets {
			for _, r := range s.Rows {
				drawn = append(drawn, r.Name)
			}
			for _, c := range noSeason {
				if n == len(sheets)-1 && !strings.Contains(strings.Join(s.Foot, "\n"), c) {
					t.Errorf("%s: the foot of the last sheet does not name %s", w.Climate.Band.Name, c)
				}
			}
		}
		for _, p := range w.Plans {
			n := 0
			for _, list := range [][]string{drawn, noSeason, noFigure} {
				if slices.Contains(list, p.Crop.Name) {
					n++
				}
			}
			if n != 1 {
				t.Errorf("%s: %s stands in %d of the lists", w.Climate.Band.Name, p.Crop.Name, n)
			}
		}
	}
}
