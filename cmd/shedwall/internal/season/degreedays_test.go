package season

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Single sine with a level cut-off: the UC IPM rule as the TrenchR package's tests
// print it (Celsius days, two decimals: hence the tolerance). Its value for 35/40 C
// is printed as 5 for the single and as 21 for the double sine; both ends lie above
// the ceiling 33, so the day is worth 33 - 12 = 21 by hand.
func TestSineAgainstPublishedDays(t *testing.T) {
	for _, x := range []struct{ low, high, want float64 }{
		{7, 14, 0.47}, {7, 10, 0}, {13, 14, 1.5}, {7, 40, 10.94}, {35, 40, 21},
	} {
		got := DegreeDaysSine(quantity.Celsius(x.low), quantity.Celsius(x.high), 12, 33)
		if math.Abs(got-x.want) > 0.01 {
			t.Errorf("%v to %v C: %.3f, want %.2f", x.low, x.high, got, x.want)
		}
	}
}

// Clamped to 50-86 F: worked examples of extension services, exact to the third
// decimal as printed (Waushara Argus / University of Wisconsin Extension 2018: 25.5
// and 11; Ohio State University Extension, Karhoff 2023: 24.5; Midwestern Regional
// Climate Center: 27; Iowa State University Agron 541: 10). In Fahrenheit days.
func TestClampedAgainstExtensionExamples(t *testing.T) {
	for _, x := range []struct{ high, low, want float64 }{
		{90, 65, 25.5}, {72, 46, 11}, {87, 63, 24.5}, {92, 68, 27}, {70, 50, 10},
	} {
		got := 1.8 * DegreeDaysClamped(quantity.FromFahrenheit(x.low), quantity.FromFahrenheit(x.high), quantity.FromFahrenheit(50), quantity.FromFahrenheit(86))
		if math.Abs(got-x.want) > 0.001 {
			t.Errorf("%v/%v F: %.3f, want %v", x.high, x.low, got, x.want)
		}
	}
	// UC IPM: mean 64 F less base 53 F.
	if got := 1.8 * DegreeDaysMean(quantity.FromFahrenheit(53), quantity.FromFahrenheit(75), quantity.FromFahrenheit(53)); math.Abs(got-11) > 0.001 {
		t.Errorf("mean: %.3f, want 11", got)
	}
}

// Damping depths and yearly maxima: own completion of the Oklahoma State University
// exercise (mean 15, swing 15, D 0.05 and 0.08 m2/day) and diffusivities from memory
// (Oke 1987): tolerances are the printed decimals.
func TestSoilWave(t *testing.T) {
	for _, x := range []struct{ d, z, want float64 }{
		{0.05, 1, 24.91}, {0.05, 2, 21.54}, {0.05, 3, 19.32}, {0.05, 5, 16.88},
		{0.08, 1, 25.81}, {0.08, 2, 22.78}, {0.08, 3, 20.61}, {0.08, 5, 17.91},
	} {
		s := Soil{Mean: 15, Swing: 15, Coldest: 10, Diffusion: x.d}
		if got := float64(s.Warmest(x.z)); math.Abs(got-x.want) > 0.005 {
			t.Errorf("D %v at %v m: warmest %.3f, want %.2f", x.d, x.z, got, x.want)
		}
		warmest := -99.0
		for day := range yearDays {
			warmest = math.Max(warmest, float64(s.At(x.z, float64(day))))
		}
		if math.Abs(warmest-x.want) > 0.01 { // whole days miss the peak by a hair
			t.Errorf("D %v at %v m: the wave reaches %.3f, want %.2f", x.d, x.z, warmest, x.want)
		}
	}
	for _, x := range []struct{ squareMetresPerSecond, period, want, tolerance float64 }{
		{2e-7, 365, 1.4169, 0.0005},     // exercise, annual wave, m
		{2.4e-7, 1, 0.081, 0.0006},      // dry sand, daily wave
		{7.4e-7, 1, 0.143, 0.0006},      // saturated sand
		{1.8e-7, 1, 0.070, 0.0006},      // dry clay
		{5.1e-7, 1, 0.118, 0.0006},      // saturated clay
		{1.0e-7, 1, 0.052, 0.0006},      // dry peat
		{0.203e-6, 365, 1.4275, 0.0005}, // Patrignani's soil temperature notebook, 0.203 mm2/s
	} {
		if got := DampingDepth(x.squareMetresPerSecond*86400, x.period); math.Abs(got-x.want) > x.tolerance {
			t.Errorf("D %v m2/s, %v days: %.4f m, want %.4f", x.squareMetresPerSecond, x.period, got, x.want)
		}
	}
	s := Soil{Mean: 15, Swing: 15, Coldest: 10, Diffusion: 0.05}
	if a, b := s.At(0, 10), s.At(0, 192.5); math.Abs(float64(a)) > 1e-9 || math.Abs(float64(b-30)) > 1e-9 {
		t.Errorf("surface: coldest %.3f on day 10, warmest %.3f on day 192.5; want 0 and 30", a, b)
	}
}
