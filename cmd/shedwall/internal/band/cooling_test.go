package band

import (
	"fmt"
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Falls are kept apart by each part of their question, and are as worked out, before
// Forget and after, of a climate afresh too.
func TestCoolingKept(t *testing.T) {
	r := alone(weather("s", 1981, 2010, 6, 14, 3), quantity.North)
	c := r.Climate(bandAt(650, 750))
	said := map[string]bool{}
	for i := range 2 {
		for _, odds := range levels {
			for _, limit := range []quantity.Celsius{0, 6} {
				for _, days := range []int{1, 14} {
					want := r.Climate(bandAt(650, 750)).coolsOf(odds, limit, days)
					want.Parts = nil
					for _, c := range []*Climate{c, c.Afresh()} {
						if got := fmt.Sprintf("%+v", c.Cools(odds, limit, days)); got != fmt.Sprintf("%+v", want) {
							t.Errorf("%.1f, %v, %d days, asked %d times: %s, want %+v", float64(odds), limit, days, i+1, got, want)
						}
					}
					said[fmt.Sprint(want.State, want.Exact)] = true
				}
			}
		}
		c.Forget()
	}
	if len(said) != 8 {
		t.Errorf("%d different dates of 8: too alike to be mixed up", len(said))
	}
	for i := range 2 * mostAnswers {
		c.Cools(quantity.Half, quantity.Celsius(i)/100, 1)
	}
	if n := len(c.kept.cooled); n > mostAnswers {
		t.Errorf("%d falls kept", n)
	}
}

// The means of a station's days, laid out, are those of each day, with holes and beyond
// the end of the record.
func TestTrailed(t *testing.T) {
	v := dailyMeans(weather("s", 1981, 1982, 6, 14, 3))
	for _, i := range []int{40, 41, 42, 100, len(v) - 3} {
		v[i] = quantity.Missing
	}
	out := trailed(v)
	for i := range len(v) + 2*soilDays {
		want, ok := trailing(v, i)
		if i >= len(out) {
			if ok {
				t.Errorf("day %d is known and not laid out", i)
			}
			continue
		}
		if known := !math.IsNaN(out[i]); known != ok || ok && out[i] != want {
			t.Errorf("day %d: %v, want %v %t", i, out[i], want, ok)
		}
	}
}
