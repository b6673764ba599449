package band

import (
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// By hand, one station at 400 m and a band at 1,000 m, default lapses: a night of -2 C
// in the band is one of 0.7 C at the station (4.5 K/km), a leaf's 2 K more 2.7 C; a day
// of 17 C one of 20.9 C (6.5 K/km). Springs of 1991 and 1992 end the season years 1990
// and 1991, falls begin their own.
func TestCountThresholds(t *testing.T) {
	r := NewRegion([]catalog.Station{station("s", 400, 0)}, map[string]*record.Daily{"s": calm("s", 1990, 2000)}, 1991, 1992, quantity.North)
	c := r.Climate(bandAt(1000, 1000))
	if got := c.CountSeasons(record.Last, 0); !slices.Equal(got, []int{1990, 1991}) {
		t.Errorf("springs %v", got)
	}
	if got := c.CountSeasons(record.First, 0); !slices.Equal(got, []int{1991, 1992}) {
		t.Errorf("falls %v", got)
	}
	for _, x := range []struct {
		allowance quantity.Kelvins
		want      quantity.Hundredths
	}{{0, 70}, {2, 270}} {
		if got := c.NightThresholds(record.Last, quantity.Half, 0, -2, x.allowance); !slices.Equal(got, []quantity.Hundredths{x.want, x.want}) {
			t.Errorf("allowance %v: nights %v, want %v twice", x.allowance, got, x.want)
		}
	}
	if got := c.DayThreshold(record.Last, quantity.Half, 0, 17); got != 2090 {
		t.Errorf("day %v, want 2090", got)
	}
}

// In a climate that warms, past nights count as they would fall at present; with plain
// years they do not.
func TestCountThresholdsAtPresent(t *testing.T) {
	d := weather("s", 1990, 2020, 3, 9, 4)
	for i := range d.Min {
		y, _, _ := (d.Start + quantity.Day(i)).Date()
		d.Min[i] += quantity.Hundredths(10 * (y - 1990)) // 1 K in ten years
	}
	r := NewRegion([]catalog.Station{station("s", 400, 0)}, map[string]*record.Daily{"s": d}, 1991, 2020, quantity.North)
	c := r.Climate(bandAt(400, 400))
	got := c.NightThresholds(record.Last, quantity.Half, 0, 0, 0)
	if first, last := got[0], got[len(got)-1]; last != 0 || first >= -50 || first < -100 {
		t.Errorf("thirty years ago %v, now %v; want about half of 3 K, at most 1 K, and 0", first, last)
	}
	r.UsePlainYears()
	if got = c.NightThresholds(record.Last, quantity.Half, 0, 0, 0); got[0] != 0 {
		t.Errorf("plain: %v", got[0])
	}
}
