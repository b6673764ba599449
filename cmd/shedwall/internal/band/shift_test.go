package band

import (
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/quantity"
)

// By hand: T* = limit + allowance - gain + L (zb - zs) - (ob - os).
func TestThreshold(t *testing.T) {
	for _, c := range []struct {
		name            string
		shift           Shift
		limit           quantity.Celsius
		allowance, gain quantity.Kelvins
		want            quantity.Celsius
	}{
		{"nothing between", Shift{}, -2, 0, 0, -2},
		{"the band 400 m higher: 4.5 x 0.4 = 1.8 K colder, so harmed at 1.8 K more", Shift{0.0045, 900, 500, 0, 0}, 0, 0, 0, 1.8},
		{"the band 400 m lower", Shift{0.0045, 500, 900, 0, 0}, 0, 0, 0, -1.8},
		{"a hollow against a slope: 1.5 K colder", Shift{0.0045, 500, 500, -1.5, 0}, 0, 0, 0, 1.5},
		{"a slope against a hollow's station", Shift{0.0045, 500, 500, 0, -1.5}, 0, 0, 0, -1.5},
		{"warmer with height: -2 x 0.1 = 0.2 K", Shift{-0.002, 600, 500, 0, 0}, 0, 0, 0, -0.2},
		{"a cover of 3 K", Shift{}, -2, 0, 3, -5},
		{"a leaf 4 K colder than the air", Shift{}, -2, 4, 0, 2},
		{"all of it: -1 + 2 - 3 + 5 x 0.2 - (-0.5 - 0.3)", Shift{0.005, 700, 500, -0.5, 0.3}, -1, 2, 3, -0.2},
	} {
		if got := c.shift.Threshold(c.limit, c.allowance, c.gain); !near(float64(got), float64(c.want), 1e-9) {
			t.Errorf("%s: %.4f, want %.4f", c.name, got, c.want)
		}
	}
}

// A band stands at its limit just when the station stands at T*, and back.
func TestShiftBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		s := Shift{
			quantity.KelvinsPerMetre(draw("lapse", -0.01, 0.01)),
			quantity.Metres(draw("band", -100, 3000)), quantity.Metres(draw("station", -100, 3000)),
			quantity.Kelvins(draw("band's offset", -5, 5)), quantity.Kelvins(draw("station's offset", -5, 5)),
		}
		limit := quantity.Celsius(draw("limit", -30, 20))
		if got := s.ToBand(s.Threshold(limit, 0, 0)); !near(float64(got), float64(limit), 1e-9) {
			t.Fatalf("limit %.6f carried to the station and back: %.6f", limit, got)
		}
		back := Shift{s.Lapse, s.StationElevation, s.BandElevation, s.StationOffset, s.BandOffset}
		if got, want := back.ToBand(limit), s.Threshold(limit, 0, 0); !near(float64(got), float64(want), 1e-9) {
			t.Fatalf("the other way round: %.6f, want %.6f", got, want)
		}
	})
}
