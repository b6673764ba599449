package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// By hand: 0.1 degree of latitude is 11 km. Two valley floors 0.3 degrees (33 km) apart, a
// slope beside the southern one, a hollow beside the northern one.
func TestBandsOfPlaces(t *testing.T) {
	at := func(id string, pos catalog.Position, low, high, lat float64) *catalog.Band {
		return &catalog.Band{ID: id, Name: id, Low: known(quantity.Metres(low)), High: known(quantity.Metres(high)), Position: known(pos), Latitude: known(lat), Longitude: known(-71.7)}
	}
	bands := []*catalog.Band{at("south_floor", catalog.Floor, 120, 250, 43.9), at("north_floor", catalog.Floor, 150, 250, 44.2), at("slope", catalog.Slope, 300, 600, 43.9), at("hollow", catalog.Hollow, 350, 450, 44.2)}
	unplaced := *bands[0]
	unplaced.Latitude, unplaced.Longitude = figure.Of[float64]{}, figure.Of[float64]{}
	for _, c := range []struct {
		name   string
		z      float64
		pos    catalog.Position
		lat    float64 // 0 = not given
		band   string
		inside string
		border string
		km     float64
		rows   []*catalog.Band
	}{
		{"no coordinates: both floors", 200, catalog.Floor, 0, "", "south_floor north_floor", "", 0, bands},
		{"the nearer floor alone", 200, catalog.Floor, 44.19, "", "north_floor", "", 0, bands},
		{"half way: both, the nearer first", 200, catalog.Floor, 44.06, "", "north_floor south_floor", "", 0, bands},
		{"a slope far from the only slope band, beside a hollow", 400, catalog.Slope, 44.21, "", "slope", "hollow", 34.5, bands},
		{"the same, given to the hollow", 400, catalog.Slope, 44.21, "hollow", "hollow", "", 0, bands},
		{"given to the hollow, nobody knows where it lies", 400, catalog.Slope, 0, "hollow", "hollow", "slope", 0, bands},
		{"a slope at the slope band", 400, catalog.Slope, 43.91, "", "slope", "", 0, bands},
		{"bands without coordinates", 200, catalog.Floor, 44.19, "", "south_floor", "", 0, []*catalog.Band{&unplaced}},
	} {
		pl := &catalog.Place{Elevation: known(quantity.Metres(c.z)), Position: known(c.pos), Band: c.band}
		if c.lat > 0 {
			pl.Latitude, pl.Longitude = known(c.lat), known(-71.7)
		}
		got := bandsOf(pl, c.rows)
		names := func(rs []*catalog.Band) string {
			var out []string
			for _, r := range rs {
				out = append(out, r.ID)
			}
			return strings.Join(out, " ")
		}
		if names(got.inside) != c.inside || names(got.border) != c.border || got.given != (c.band != "") || got.away < c.km-0.5 || got.away > c.km+0.5 {
			t.Errorf("%s: inside %s, also %s, given %v, %.1f km away; want %s, %s, %.1f", c.name, names(got.inside), names(got.border), got.given, got.away, c.inside, c.border, c.km)
		}
	}
}

// TestPlacesOnThePage: the page says that a place's nearest band is far, and which one the
// publisher gives it.
func TestPlacesOnThePage(t *testing.T) {
	tb := tables()
	for i := range tb.Bands {
		tb.Bands[i].Latitude, tb.Bands[i].Longitude = known(44.0), known(-38.0)
	}
	tb.Places[1].Latitude, tb.Places[1].Longitude = known(44.5), known(-38.0) // 55.6 km
	tb.Places[2].Band = "top"
	text := strings.ReplaceAll(pageText(pageAt(t, Build(input(t, tb, quantity.North, nil)), FindPath)), "\u00a0", " ")
	for _, want := range []string{"56 km (35 miles) away: its dates may not fit there", ", as the guide chose"} {
		if strings.Count(text, want) != 1 {
			t.Errorf("not said once: %q in\n%s", want, text)
		}
	}
}
