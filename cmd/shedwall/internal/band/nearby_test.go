package band

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// By hand, 4.5 K for each 1,000 m (one station cannot say better): the middle of a band
// of 650-750 m is 0.9 K colder than a station at 500 m, its colder edge 1.125 K. In a
// hollow (-1.5 K by default) still nights are colder by that too, windy ones are not.
func TestAgainstStation(t *testing.T) {
	r := alone(calm("s", 1991, 2000), quantity.North)
	slope, hollow := bandAt(650, 750), bandAt(650, 750)
	hollow.Position = known(catalog.Hollow)
	for _, c := range []struct {
		band                  *catalog.Band
		month, still, stirred float64
	}{{slope, -0.9, -1.125, -1.125}, {hollow, -2.4, -2.625, -1.125}} {
		k := r.Climate(c.band)
		if got := k.AgainstStation(0, 4); !near(float64(got), c.month, 1e-9) {
			t.Errorf("April %.3f, want %.3f", float64(got), c.month)
		}
		still, windy := k.NightAgainstStation(0)
		if !near(float64(still), c.still, 1e-9) || !near(float64(windy), c.stirred, 1e-9) {
			t.Errorf("still %.3f, windy %.3f, want %.3f and %.3f", float64(still), float64(windy), c.still, c.stirred)
		}
	}
}

// The colder of the two seasons counts: by hand, a garden whose fall is 2 K colder than
// its spring is 2 K colder on a still night.
func TestNightAgainstStationTakesTheColderSeason(t *testing.T) {
	k := alone(calm("s", 1991, 2000), quantity.North).Climate(bandAt(500, 500))
	for _, e := range []record.Event{record.Last, record.First} {
		if still, windy := k.Warmer(e, -2).NightAgainstStation(0); still != -2 || windy != 0 {
			t.Errorf("%v: still %v, windy %v", e, still, windy)
		}
	}
}

// A month's difference is what Nights carries a reading by: a station reading of 1 C is
// 1 C and the difference in the band.
func TestAgainstStationIsNights(t *testing.T) {
	r := valley(5, 1981, 2010, 0)
	k := r.Climate(bandAt(900, 1000))
	near1 := k.Nearest()
	for i := range r.Stations {
		if k.Weight(i) > k.Weight(near1) {
			t.Errorf("station %d counts more than %d", i, near1)
		}
		for month := 1; month <= 12; month++ {
			if got, want := k.AgainstStation(i, month), k.monthShifts(month)[i].ToBand(1).Minus(1); !near(float64(got), float64(want), 1e-9) {
				t.Errorf("station %d, month %d: %v, want %v", i, month, got, want)
			}
		}
	}
	if n := NewRegion(nil, nil, 0, 0, quantity.North).Climate(bandAt(1, 2)).Nearest(); n != -1 {
		t.Errorf("nearest of no stations: %d", n)
	}
}
