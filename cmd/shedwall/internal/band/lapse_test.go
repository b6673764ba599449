package band

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// onLine is stations exactly on a line of so many kelvins for each 1,000 m.
func onLine(perKm float64, heights ...float64) []level {
	var out []level
	for _, z := range heights {
		out = append(out, level{quantity.Metres(z), 0, quantity.Celsius(12 - perKm*z/1000)})
	}
	return out
}

func TestFitLapse(t *testing.T) {
	hollow := onLine(6, 200, 500, 800, 1100)
	hollow[3].declared, hollow[3].mean = -1.5, hollow[3].mean-1.5
	for _, c := range []struct {
		name   string
		levels []level
		want   float64
	}{
		{"an exact line of 6: half of it and half of 4.5", onLine(6, 200, 500, 800, 1100), 5.25},
		{"300 m of relief are enough", onLine(6, 500, 600, 700, 800), 5.25},
		{"299 m are not", onLine(6, 500, 600, 700, 799), 4.5},
		{"nor are three stations", onLine(6, 200, 800, 1400), 4.5},
		{"warmer with height: (-1 + 4.5)/2", onLine(-1, 200, 500, 800, 1100), 1.75},
		{"all at one height", onLine(6, 500, 500, 500, 500, 500), 4.5},
		{"a declared hollow is taken out first", hollow, 5.25},
		{"no stations", nil, 4.5},
	} {
		if got := 1000 * float64(fitLapse(c.levels, DefaultLapse)); !near(got, c.want, 1e-9) {
			t.Errorf("%s: %.4f K for each 1,000 m, want %.4f", c.name, got, c.want)
		}
	}
}

// By hand, least squares through (0, 10), (100, 8), (200, 9), (300, 5): mean height
// 150, mean 8, sum of products -150*2 + -50*0 + 50*1 + 150*-3 = -700, of squares 50,000:
// 14 K for each 1,000 m; with 4.5 halved 9.25.
func TestFitLapseThroughScatter(t *testing.T) {
	levels := []level{{0, 0, 10}, {100, 0, 8}, {200, 0, 9}, {300, 0, 5}}
	if got := 1000 * float64(fitLapse(levels, DefaultLapse)); !near(got, 9.25, 1e-9) {
		t.Errorf("%.4f, want 9.25", got)
	}
}

var nan = math.NaN()

func TestStationLevels(t *testing.T) {
	for _, c := range []struct {
		name  string
		years [][]float64
		want  []float64
	}{
		{"the same years: plain means", [][]float64{{4, 6}, {1, 5}}, []float64{5, 3}},
		// The second is 2 K colder in the shared year, the third 1 K warmer than the second
		// in theirs. Levels a, a-2, a-1; year effects by the first: 4-a, 10-a; by the second
		// 10-a; by the third 7-(a-1) = 8-a; mean effect 22/3 - a, so the first is 22/3.
		{"different years, a chain", [][]float64{{4, 10, nan}, {nan, 8, 6}, {nan, nan, 7}}, []float64{22.0 / 3, 22.0/3 - 2, 22.0/3 - 1}},
		{"no shared year: plain means side by side", [][]float64{{5, 5, nan, nan}, {nan, nan, 7, 9}}, []float64{5, 8}},
		{"one station without any year", [][]float64{{3, 5}, {nan, nan}}, []float64{4, nan}},
		{"one station", [][]float64{{3, 5, nan}}, []float64{4}},
		{"no station", nil, nil},
	} {
		got := stationLevels(c.years)
		for i, w := range c.want {
			if !near(got[i], w, 0.01) && !(math.IsNaN(got[i]) && math.IsNaN(w)) {
				t.Errorf("%s: station %d %.4f, want %.4f", c.name, i, got[i], w)
			}
		}
	}
}

// Thirty warm late years do not make a station look warm, even when only two years
// are shared: stations on one exact pattern of station + year come out in their
// differences, within the hundredth at which the averages stop.
func TestStationLevelsFindThePattern(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		level := func(name string) float64 { return rapid.Float64Range(-10, 10).Draw(t, name) }
		a, b := level("first"), level("second")
		years, shared := 32, rapid.IntRange(2, 30).Draw(t, "shared")
		split := (years - shared) / 2
		one, two := make([]float64, years), make([]float64, years)
		for k := range years {
			effect := float64(k)*0.05 + rapid.Float64Range(-1, 1).Draw(t, "year")
			one[k], two[k] = a+effect, b+effect
			if k < split {
				two[k] = nan
			}
			if k >= split+shared {
				one[k] = nan
			}
		}
		got := stationLevels([][]float64{one, two})
		if !near(got[0]-got[1], a-b, 0.01) {
			t.Fatalf("%d shared years: %.4f apart, want %.4f", shared, got[0]-got[1], a-b)
		}
	})
}

func TestSeasonMonths(t *testing.T) {
	for _, c := range []struct {
		e        record.Event
		h        quantity.Hemisphere
		from, to int
	}{{record.Last, quantity.North, 3, 6}, {record.First, quantity.North, 9, 11}, {record.Last, quantity.South, 9, 12}, {record.First, quantity.South, 3, 5}} {
		if from, to := seasonMonths(c.e, c.h); from != c.from || to != c.to {
			t.Errorf("%v %v: months %d-%d, want %d-%d", c.e, c.h, from, to, c.from, c.to)
		}
	}
}

// Stations on a line with one in a hollow: the lapse is fitted with the declared
// offset out; each station's own offset from the line is what its mean says, except
// where the publisher gave one.
func TestRegionOffsets(t *testing.T) {
	r := valley(5, 1991, 2004, 0)
	for e := range r.Lapse {
		if got := 1000 * float64(r.Lapse[e]); !near(got, (5+4.5)/2, 0.2) { // noise of 14 years' means at the ends
			t.Errorf("event %d: %.2f K for each 1,000 m, want about 4.75", e, got)
		}
		sum := 0.0
		for _, o := range r.offsets[e] {
			sum += float64(o)
		}
		if !near(sum, 0, 1e-6) {
			t.Errorf("event %d: offsets %v should sum to 0", e, r.offsets[e])
		}
	}
	if got := 1000 * float64(r.MaxLapse); !near(got, (5+6.5)/2, 0.2) {
		t.Errorf("maxima %.2f K for each 1,000 m, want about 5.75", got)
	}
}
