package cover

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Known perimeters: a circle; 2 to 1 and 3 to 2 by tables of complete elliptic
// integrals (4 E(k): E(0.75) = 1.2110560275684594 for half axes 1 and 1/2); a flat one.
func TestEllipsePerimeter(t *testing.T) {
	for _, c := range []struct{ a, b, want float64 }{
		{1, 1, 2 * math.Pi},
		{1, 0.5, 4 * 1.2110560275684594},
		{0.5, 1, 4 * 1.2110560275684594},
		{3, 2, 15.865439589290589}, // Gauss and Kummer's series, twelve terms by hand and by machine below
		{1, 0, 4},
		{0, 0, 0},
	} {
		if got := EllipsePerimeter(c.a, c.b); math.Abs(got-c.want) > 1e-12*max(1, c.want) {
			t.Errorf("%g, %g: %.15f, want %.15f", c.a, c.b, got, c.want)
		}
	}
	if !math.IsNaN(EllipsePerimeter(-1, 1)) {
		t.Error("a half axis below 0")
	}
}

// Gauss and Kummer's series is another way to the same number: pi (a + b) times the
// sum of the squared binomials of 1/2 with h^n, h = ((a - b)/(a + b))^2.
func TestEllipseBySeries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(0.1, 5).Draw(t, "a"), rapid.Float64Range(0.1, 5).Draw(t, "b")
		h := math.Pow((a-b)/(a+b), 2)
		sum, term := 0.0, 1.0
		for n := 0; n < 20000 && term > 1e-18; n++ {
			sum += term
			k := (0.5 - float64(n)) / float64(n+1)
			term *= k * k * h
		}
		if want := math.Pi * (a + b) * sum; math.Abs(EllipsePerimeter(a, b)-want) > 1e-9*want {
			t.Fatalf("%.12f, by the series %.12f", EllipsePerimeter(a, b), want)
		}
	})
}

// A half circle over a bed, by hand: 1.2 m wide and 0.6 m high has an arc of pi x 0.6
// = 1.88496 m, an end of pi 0.36 / 2 = 0.56549 m2. 6 m with hoops at most 1.25 m apart
// are five gaps of 1.2 m and six hoops; the cover is 1.88496 + 0.6 wide and 6 + 2 x 0.9
// long; 14.4 m of edge ask for 15 weights.
func TestCut(t *testing.T) {
	bed := Bed{Length: 6, Width: 1.2, HoopHeight: 0.6, Spacing: 1.25, Skirt: 0.3}
	c, ok := bed.Cut()
	want := CutList{Arc: 1.88496, Hoop: 2.18496, Hoops: 6, Spacing: 1.2, CoverWide: 2.48496, CoverLong: 7.8, Clips: 18, Weights: 15,
		Air: 3.39292, Surface: 12.44071, MeanHeight: 0.47124}
	if !ok || c.Hoops != want.Hoops || c.Clips != want.Clips || c.Weights != want.Weights {
		t.Errorf("%+v, want %+v", c, want)
	}
	for name, pair := range map[string][2]float64{
		"arc": {c.Arc, want.Arc}, "hoop": {c.Hoop, want.Hoop}, "spacing": {c.Spacing, want.Spacing}, "wide": {c.CoverWide, want.CoverWide}, "long": {c.CoverLong, want.CoverLong},
		"air": {c.Air, want.Air}, "surface": {c.Surface, want.Surface}, "mean height": {c.MeanHeight, want.MeanHeight},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-5 {
			t.Errorf("%s: %.5f, want %.5f", name, pair[0], pair[1])
		}
	}
	bed.Spacing = 1.2 // exactly five gaps, not six for a rounding error
	if c, _ = bed.Cut(); c.Hoops != 6 {
		t.Errorf("%d hoops at 1.2 m", c.Hoops)
	}
	bed.Spacing = 10
	if c, _ = bed.Cut(); c.Hoops != 2 || c.Spacing != 6 {
		t.Errorf("a short bed has its two ends: %+v", c)
	}
	for _, bad := range []Bed{{}, {6, 1.2, 0, 1, 0}, {6, -1, 0.6, 1, 0}, {6, 1.2, 0.6, 1, -0.1}, {math.NaN(), 1, 1, 1, 0}} {
		if _, ok := bad.Cut(); ok {
			t.Errorf("%+v makes no cut list", bad)
		}
	}
	for _, bed := range CommonBeds {
		if c, ok := bed.Cut(); !ok || c.Hoops < 3 {
			t.Errorf("%+v: %+v", bed, c)
		}
	}
}

// A bed's own air and cover make its heat balance: more cover a floor, less gain.
func TestBedHouse(t *testing.T) {
	like := bedTunnel()
	low, _ := Bed{Length: 10, Width: 1.2, HoopHeight: 0.45, Spacing: 1.2, Skirt: 0.3}.House(like)
	high, _ := Bed{Length: 10, Width: 1.2, HoopHeight: 1.2, Spacing: 1.2, Skirt: 0.3}.House(like)
	a, b := low.Report(lateSpring()).Gain[HalfSun], high.Report(lateSpring()).Gain[HalfSun]
	if a <= b || a < 1 || a > 4 {
		t.Errorf("low hoops gain %.2f K, high ones %.2f", a, b)
	}
	if ratio := low.Glazing / 12; ratio < 1.2 || ratio > 1.7 {
		t.Errorf("%.2f m2 of cover a m2 of bed", ratio)
	}
	if _, ok := (Bed{}).House(like); ok {
		t.Error("no bed makes no house")
	}
}
