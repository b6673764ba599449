package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// TestHeightsWithoutABand: the page that leads to bands says which heights have none.
// By hand: bands at 680-880 and 850-1,050 m overlap; one from 1,200 to 1,300 m leaves
// 1,050-1,200 m, and nothing lies below 680 or above 1,300 m.
func TestHeightsWithoutABand(t *testing.T) {
	tb := tables()
	tb.Bands[2].Low, tb.Bands[2].High = known(quantity.Metres(1200)), known(quantity.Metres(1300))
	in := input(t, tb, quantity.North, nil)
	b := &builder{Input: in, words: in.Book}
	text := func() string {
		b.made = nil
		for i := range in.Bands {
			b.made = append(b.made, &bandPage{in: &in.Bands[i]})
		}
		s := ""
		for _, x := range b.bandless() {
			s += textOf(x.(Para).Text)
		}
		return strings.ReplaceAll(s, "\u00a0", " ")
	}
	got := text()
	for _, want := range []string{"below 680 m", "1,050–1,200 m", "above 1,300 m"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in %q", want, got)
		}
	}
	tb.Bands[0].Low, tb.Bands[2].High = figure.Of[quantity.Metres]{}, figure.Of[quantity.Metres]{}
	if got := text(); strings.Contains(got, "below 680") || strings.Contains(got, "above 1") {
		t.Errorf("bands without an outer limit, but %q", got)
	}
}
