package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// milder is the invented guide with its records so much milder.
func milder(t *testing.T, by float64) Input {
	t.Helper()
	in := input(t, tables(), quantity.North, nil)
	in.Region = band.NewRegion(in.Tables.Stations, map[string]*record.Daily{"mill": series("mill", -by, false), "dip": series("dip", -by, false)}, 0, 0, quantity.North)
	in.Bands = nil
	planner := plan.NewPlanner(in.Tables)
	for i := range in.Tables.Bands {
		c := in.Region.Climate(&in.Tables.Bands[i])
		in.Bands = append(in.Bands, BandInput{c, planner.Band(c)})
	}
	return in
}

// TestPlaceThatNeverFroze: where the air never cooled to 0 C, pages say that it did not, that
// all the year is without frost, and draw and explain no chart. The invented winters fall to
// about -10 C, so that 20 K more leave no freeze. Where it freezes nothing of that is said,
// and the uprights of the chart are explained.
func TestPlaceThatNeverFroze(t *testing.T) {
	for _, x := range []struct {
		milder float64
		never  bool
	}{{20, true}, {0, false}} {
		g := Build(milder(t, x.milder))
		p := pageAt(t, g, BandPath("slopes"))
		text, index := pageText(p), pageText(pageAt(t, g, IndexPath))
		for _, s := range []struct {
			text, say string
			ofNever   bool
		}{
			{text, "Not once in ", true}, {index, "not once in ", true}, {text, "The whole year", true}, {index, "the whole year", true},
			{text, "It freezes too seldom here for a chart", true}, {text, "The dashed uprights", false}, {text, "For each day the chart tells", false},
		} {
			if got := strings.Contains(s.text, s.say); got != (s.ofNever == x.never) {
				t.Errorf("%v K milder: %q stands there: %v", x.milder, s.say, got)
			}
		}
		if x.never && (strings.Contains(text, "too seldom to wait for") || strings.Contains(index, "too seldom to wait for")) {
			t.Error("a cold that never came is called seldom")
		}
		for _, block := range p.Blocks {
			if ch, ok := block.(Chart); ok && x.never {
				t.Errorf("a chart of nothing: %s", ch.Name)
			}
		}
	}
}
