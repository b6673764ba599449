package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// TestFreezeLineOrWords: a sheet without one of its freeze lines says why, unless a
// freeze is too seldom to wait for.
func TestFreezeLineOrWords(t *testing.T) {
	for _, cold := range []float64{0, 8} { // 8 K colder: frost in every month
		tb := tables()
		for i := range tb.Bands {
			tb.Bands[i].Offset = known(quantity.Kelvins(-cold))
		}
		in := input(t, tb, quantity.North, nil)
		for i := range in.Bands {
			c := in.Bands[i].Climate
			w := Wall{Tables: in.Tables, Book: in.Book, Climate: c, Plans: in.Bands[i].Plans}
			any := 0
			for _, e := range []record.Event{record.Last, record.First} {
				if c.Date(e, quantity.Careful, band.Gate{}).State == band.AnyMonth {
					any++
				}
			}
			if got := w.warning(); (any > 0) != strings.Contains(got, "any month") {
				t.Errorf("%s, offset %g: %d events in any month, but the sheet says %q", c.Band.Name, -cold, any, got)
			}
			if cold == 8 && any == 0 {
				t.Errorf("%s is not cold enough to test with", c.Band.Name)
			}
		}
	}
}

// TestFootNamesTheStation: the general rule carries 2 C at the band over to the station.
// By hand: a band 1 K colder is at 2 C when its station is at 3 C (37.4 F, printed 38).
func TestFootNamesTheStation(t *testing.T) {
	tb := tables()
	tb.Stations = tb.Stations[:1] // one station: no lapse to fit, offsets as declared
	tb.Stations[0].WhereToRead = "board at the gate"
	tb.Stations[0].Offset = known(quantity.Kelvins(0))
	tb.Bands = tb.Bands[:1]
	tb.Bands[0].Low, tb.Bands[0].High = known(quantity.Metres(700)), known(quantity.Metres(700))
	tb.Bands[0].Offset = known(quantity.Kelvins(-1))
	in := input(t, tb, quantity.North, nil)
	w := Wall{Tables: in.Tables, Book: in.Book, Climate: in.Bands[0].Climate, Plans: in.Bands[0].Plans}
	foot := strings.ReplaceAll(w.footTonight(), "\u00a0", " ")
	for _, want := range []string{"Mill (board at the gate)", "3 °C (38 °F) or less", "1 °C (2 °F) colder"} {
		if !strings.Contains(foot, want) {
			t.Errorf("%q is not in the foot: %s", want, foot)
		}
	}
}
