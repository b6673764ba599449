package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// A harvest that goes on after "safe until" says why: what cold has hardened is picked until
// a night kills it, or all winter where none does. One that ends with it says nothing.
func TestHarvestAfterSafeUntil(t *testing.T) {
	for _, x := range []struct {
		kill float64 // 0 = not known
		want string
	}{{-10, "is still picked until "}, {-40, "it is picked all winter"}, {0, ""}} {
		in := tables()
		in.Crops[0].GrownDamage = known(quantity.Celsius(-5))
		if x.kill != 0 {
			in.Crops[0].WinterKill = known(quantity.Celsius(x.kill))
		}
		text := wordsOn(pageAt(t, Build(input(t, in, quantity.North, nil)), CropPath("kale")))
		if x.want != "" && !strings.Contains(text, x.want) || x.want == "" && strings.Contains(text, "frost may mark it") {
			t.Errorf("killed at %v: want %q in %s", x.kill, x.want, text)
		}
	}
}

// Where slow kinds have no time and quick ones have, the tables of dates say from when these
// may fit; where quick ones have none either, that the season is too short.
func TestQuickKindsMayFit(t *testing.T) {
	for _, x := range []struct {
		low        int
		want, isnt string
	}{{60, "quick kinds may fit, from ", "season too short"}, {290, "season too short", "quick kinds"}} {
		in := tables()
		in.Crops[2].DaysLow, in.Crops[2].DaysHigh = known(x.low), known(300)
		text := ""
		for _, block := range pageAt(t, Build(input(t, in, quantity.North, nil)), CropPath("tomato")).Blocks {
			if table, ok := block.(Table); ok && table.ID == "dates-careful" {
				for _, cell := range table.Rows[0] {
					text += textOf(cell) + "\n"
				}
			}
		}
		if !strings.Contains(text, x.want) || strings.Contains(text, x.isnt) {
			t.Errorf("%d to 300 days: %s", x.low, text)
		}
	}
}
