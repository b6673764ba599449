package season

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Days to emerge at a constant soil temperature, from the table of Harrington and
// Minges (1954) as printed in Knott's Handbook (1997); only figures seen there.
var tables = map[string][]Point{
	"lettuce": {{5, 15}, {10, 7}, {15, 4}, {20, 3}},
	"tomato":  {{10, 43}, {15, 14}, {20, 8}},
	"spinach": {{5, 23}, {15, 7}, {20, 6}},
	"onion":   {{5, 31}, {10, 13}, {15, 7}, {20, 5}},
	"radish":  {{5, 29}, {10, 11}, {15, 6}},
	"pea":     {{5, 36}, {10, 14}, {15, 9}, {20, 8}},
	"carrot":  {{10, 17}, {20, 7}},
}

// constant is a year of soil at one temperature.
func constant(t float64) []float64 {
	soil := make([]float64, quantity.SlotsPerYear)
	for i := range soil {
		soil[i] = t
	}
	return soil
}

func TestEmergenceReproducesTheTable(t *testing.T) {
	for seed, table := range tables {
		for _, p := range table {
			up := Emergence(table, constant(float64(p.Soil)))
			for _, sown := range []quantity.Slot{0, 100, 365, 366, 600} {
				if got := up[sown] - sown; float64(got) != p.Days {
					t.Errorf("%s at %.0f C sown on slot %d: up after %d days, the table has %.0f", seed, p.Soil, sown, got, p.Days)
				}
			}
		}
	}
}

// By hand, lettuce: halfway between 5 C (15 days) and 10 C (7 days) the rate is
// (1/15 + 1/7)/2 = 0.10476, so 9.5 days; the days themselves would give 11.
func TestRateIsInterpolatedNotDays(t *testing.T) {
	want := (1.0/15 + 1.0/7) / 2
	if got := Rate(tables["lettuce"], 7.5); math.Abs(got-want) > 1e-12 {
		t.Errorf("rate %.6f, want %.6f", got, want)
	}
	if got := Emergence(tables["lettuce"], constant(7.5))[10]; got != 20 {
		t.Errorf("sown on slot 10, up on %d, want 20 (10 days of 0.10476 pass 1)", got)
	}
	for _, soil := range []quantity.Celsius{-3, 4.99, 20.01, quantity.Celsius(math.NaN())} {
		if got := Rate(tables["lettuce"], soil); got != 0 {
			t.Errorf("rate %.4f at %.2f C, outside the table", got, soil)
		}
	}
}

// By hand, with none at 5 C, 20 days at 10 C and 5 days at 15 C: soil of 7.5 C gives
// half of 1/20 = 1/40 a day, of 12.5 C (1/20 + 1/5)/2 = 1/8 a day. Twenty days of the
// first make half the way, the next four days of the second the other half.
func TestEmergenceSumsDailyRates(t *testing.T) {
	table := []Point{{5, 0}, {10, 20}, {15, 5}}
	soil := constant(12.5)
	for s := range 120 {
		soil[s] = 7.5
	}
	up := Emergence(table, soil)
	for sown, want := range map[quantity.Slot]quantity.Slot{100: 124, 0: 40, 120: 128, 119: 128} { // 119: 1/40 + 8/8 > 1 after the 8th day of 1/8
		if up[sown] != want {
			t.Errorf("sown on slot %d, up on %d, want %d", sown, up[sown], want)
		}
	}
}

func TestEmergenceThatNeverComes(t *testing.T) {
	for name, up := range map[string][]quantity.Slot{
		"too cold all year": Emergence(tables["tomato"], constant(4)),
		"too hot all year":  Emergence(tables["tomato"], constant(40)),
		"an empty table":    Emergence(nil, constant(15)),
		"no soil known":     Emergence(tables["tomato"], constant(math.NaN())),
	} {
		for s, got := range up {
			if got != NotEmerged {
				t.Fatalf("%s: slot %d is up on %d", name, s, got)
			}
		}
	}
	up := Emergence(tables["lettuce"], constant(20))
	if n := quantity.Slot(len(up)); up[n-4] != n-1 || up[n-3] != NotEmerged {
		t.Errorf("three days before the end of the plan nothing emerges any more: %v", up[n-5:])
	}
	if got := Emergence(tables["lettuce"], nil); len(got) != 0 {
		t.Errorf("no soil at all: %v", got)
	}
}

// A later sowing is never up before an earlier one, and warmer soil (up to the
// table's warmest column) never delays it.
func TestEmergenceIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := tables[rapid.SampledFrom([]string{"lettuce", "tomato", "spinach", "onion", "radish", "pea", "carrot"}).Draw(t, "seed")]
		top := float64(table[len(table)-1].Soil)
		cold, warm := constant(0), constant(0)
		mid, swing := rapid.Float64Range(0, 15).Draw(t, "mean"), rapid.Float64Range(0, 15).Draw(t, "swing")
		more := rapid.Float64Range(0, 6).Draw(t, "warmer by")
		for s := range cold {
			cold[s] = min(top, mid-swing*math.Cos(2*math.Pi*float64(s-168)/quantity.SlotsPerYear))
			warm[s] = min(top, cold[s]+more)
		}
		a, b := Emergence(table, cold), Emergence(table, warm)
		for s := range a {
			if s > 0 && a[s] < a[s-1] {
				t.Fatalf("sown on %d up on %d, sown on %d up on %d", s-1, a[s-1], s, a[s])
			}
			if b[s] > a[s] {
				t.Fatalf("sown on %d: up on %d in soil warmer by %.1f, else on %d", s, b[s], more, a[s])
			}
			if int(a[s]) <= s {
				t.Fatalf("sown on %d, up on %d", s, a[s])
			}
		}
	})
}
