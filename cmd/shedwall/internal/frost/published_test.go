package frost

import (
	"fmt"
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Days of the year of the last and first frost of each year 1980-2020 at a point
// in Johnson County, Kansas, from Patrignani 2024, PyNotes in Agriscience,
// chapter "First and last frost" (gridded daily minima below 0 C, years split at
// day 183). The same source publishes the medians, the fitted normals and the
// chances tested below.
var (
	johnsonLast = []float64{
		104, 79, 100, 109, 83, 99, 81, 90, 90, 101, 102, 89, 94, 92, 90, 95, 97, 104, 80, 86, 99,
		88, 96, 99, 103, 120, 99, 102, 120, 97, 81, 95, 69, 114, 105, 94, 87, 74, 106, 90, 108,
	}
	johnsonFirst = []float64{
		299, 296, 294, 314, 270, 306, 313, 294, 279, 267, 310, 279, 293, 303, 298, 266, 307, 299, 315, 297, 283,
		300, 287, 309, 317, 281, 286, 298, 301, 284, 308, 293, 281, 298, 304, 325, 317, 300, 287, 284, 299,
	}
)

func sortedCopy(v []float64) []float64 {
	out := append([]float64(nil), v...)
	for i := range out {
		for j := i; j > 0 && out[j] < out[j-1]; j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.5f, want %.5f within %g", what, got, want, tolerance)
	}
}

func TestJohnsonCountyAsPublished(t *testing.T) {
	last, first := sortedCopy(johnsonLast), sortedCopy(johnsonFirst)
	near(t, "median last", Quantile(last, 0.5, Hazen), 96, 0)
	near(t, "median first", Quantile(first, 0.5, Hazen), 298, 0)
	near(t, "latest last", last[len(last)-1], 120, 0)     // 30 April
	near(t, "earliest first", first[0], 266, 0)           // 23 September
	near(t, "span", first[0]-last[len(last)-1], 146, 0)   // first minus last, no day taken off
	population := FitNormal(last).Population(len(last))   // the source divides by n
	near(t, "mean last", population.Mean, 95.390, 0.0005) // 3911/41; the source's 95.390342 is a numerical fit
	near(t, "sd last", population.SD, 11.179, 0.0005)     // printed to 3 decimals
	fall := FitNormal(first).Population(len(first))
	near(t, "mean first", fall.Mean, 296.122, 0.002)
	near(t, "sd first", fall.SD, 13.816, 0.002)
	near(t, "chance of frost on 2 May or later", Normal{95.390342, 11.178977}.Above(122), 0.0086486, 5e-8)
	near(t, "the same by our fit", population.Above(122), 0.0086486, 1e-6)
	for _, c := range []struct {
		day  int
		date quantity.MonthDay
	}{{298, quantity.MonthDay{Month: 10, Day: 25}}, {96, quantity.MonthDay{Month: 4, Day: 6}}} {
		d := quantity.DayOf(2019, 1, 1) + quantity.Day(c.day-1) // 2019: a common year
		_, m, dd := d.Date()
		if got := (quantity.MonthDay{Month: m, Day: dd}); got != c.date {
			t.Errorf("day %d = %v, want %v", c.day, got, c.date)
		}
	}
}

// The 10 % dates of the same lists by each rule: our own arithmetic on the
// published lists, not published. By hand for Hazen: n = 41, rank 41 x 0.9 + 0.5 =
// 37.4; the 37th and 38th sorted values are 108 and 109; 108 + 0.4 = 108.4.
func TestJohnsonCountyCarefulDates(t *testing.T) {
	last, first := sortedCopy(johnsonLast), sortedCopy(johnsonFirst)
	near(t, "Weibull", Quantile(last, 0.9, Weibull), 108.8, 1e-9)
	near(t, "Hazen", Quantile(last, 0.9, Hazen), 108.4, 1e-9)
	near(t, "Cunnane", Quantile(last, 0.9, Cunnane), 108.48, 1e-9)
	near(t, "type 7", Quantile(last, 0.9, Type7), 108.0, 1e-9)
	near(t, "normal", FitNormal(last).At(0.9), 109.895, 0.0005) // kept to 3 decimals
	near(t, "normal, fall", FitNormal(first).At(0.1), 278.196, 0.0005)
}

// The same lists as season-year outcomes: the whole way from dates to the day on
// the sheet. Day 108.4 is rounded to day 109, 19 April: later is safer.
func TestJohnsonCountyThroughOutcomes(t *testing.T) {
	outcomes := func(days []float64) []Outcome {
		out := make([]Outcome, len(days))
		for i, d := range days {
			_, m, dd := (quantity.DayOf(2019, 1, 1) + quantity.Day(d) - 1).Date()
			out[i] = Outcome{State: Date, Slot: quantity.North.SlotOf(quantity.MonthDay{Month: m, Day: dd})}
		}
		return out
	}
	cases := []struct {
		name  string
		days  []float64
		event record.Event
		odds  quantity.Odds
		date  string
	}{
		{"half last", johnsonLast, record.Last, quantity.Half, "04-06"},          // day 96
		{"careful last", johnsonLast, record.Last, quantity.Careful, "04-19"},    // day 108.4, up
		{"half first", johnsonFirst, record.First, quantity.Half, "10-25"},       // day 298
		{"careful first", johnsonFirst, record.First, quantity.Careful, "10-06"}, // rank 4.6 between two years at 279
	}
	for _, c := range cases {
		a := QuantileOf(outcomes(c.days), c.event, c.odds)
		if got := quantity.North.MonthDay(a.Slot).String(); a.State != Dated || got != c.date {
			t.Errorf("%s: %v %s (%.2f), want %s", c.name, a.State, got, a.Exact, c.date)
		}
		if a.Used != 41 || a.Without != 0 || a.Unusable != 0 || a.Estimate {
			t.Errorf("%s: counts %+v", c.name, a)
		}
	}
}

// Ranks of exceedance with ties at their mean rank (Weibull 1939, rank/(n+1)), as
// worked in the documentation of the R package preMetabolizer,
// calc_exceedance_prob, printed to 4 decimals.
func TestChanceAtLeastAsDocumented(t *testing.T) {
	values := []float64{10, 5, 0, 15, 8, 0, 20}
	for v, want := range map[float64]float64{10: 0.375, 5: 0.625, 0: 0.8125, 15: 0.25, 20: 0.125} {
		near(t, "chance", ChanceAtLeast(values, v), want, 5e-5)
	}
	if !math.IsNaN(ChanceAtLeast(values, 7)) || !math.IsNaN(ChanceAtLeast(nil, 7)) {
		t.Error("a value that is not there has no rank")
	}
}

// Formulas of Thom and Shaw 1958 and Thom 1959 from memory; the number is our own
// arithmetic: 60 + 15 x 1.15035 (deviate of 1 - 0.1/0.8 = 0.875) = 77.255.
func TestLateWithOdds(t *testing.T) {
	d, ok := Normal{60, 15}.LateWithOdds(0.10, 0.8)
	near(t, "careful date", d, 77.255, 0.0005)
	if !ok {
		t.Error("0.10 of 0.8 has a date")
	}
	if _, ok := (Normal{60, 15}).LateWithOdds(0.80, 0.8); ok {
		t.Error("odds as high as the share of freezing years have no date")
	}
}

// Binomial arithmetic, e.g. 1 - 0.9^5 = 0.40951; use described in Snyder et al.
// 2005, FAO Frost Protection vol. 2 ch. 1. Kept to 4 decimals.
func TestAtLeastOnce(t *testing.T) {
	for _, c := range []struct {
		p    float64
		n    int
		want float64
	}{{0.1, 5, 0.4095}, {0.1, 10, 0.6513}, {0.2, 10, 0.8926}, {0.5, 5, 0.9688}} {
		near(t, "at least once", AtLeastOnce(c.p, c.n), c.want, 5e-5)
	}
}

// Normal theory s sqrt((1 + z^2/2)/n), z = 1.28155: 11.318 x sqrt(1.82119/30) = 2.789.
func TestStandardErrorOfQuantile(t *testing.T) {
	near(t, "standard error", Normal{0, 11.318}.StandardError(0.9, 30), 2.79, 0.005)
}

// Class limits of the USDA Plant Hardiness Zone Map, lower bound inclusive, in F.
func TestZoneLimits(t *testing.T) {
	for f, want := range map[float64]string{
		-60: "1a", -50: "2a", -45: "2b", -20: "5a", -15: "5b", -10: "6a", -5: "6b", -0.01: "6b", 0: "7a",
		5: "7b", 29.99: "9b", 30: "10a", 60: "13a", 65: "13b",
		-75: "1a", 80: "13b", // beyond the ends: the outermost half zones
	} {
		if got := Zone(quantity.FromFahrenheit(f)); got != want {
			t.Errorf("%g F = %s, want %s", f, got, want)
		}
	}
	if got := Zone(-17.78); got != "7a" { // 0 F as records keep it
		t.Errorf("-17.78 C = %s, want 7a", got)
	}
	// Every limit, by way of Celsius, opens its own half zone: counting by fives.
	for half := range 26 {
		f := float64(-60 + 5*half)
		if got, want := Zone(quantity.FromFahrenheit(f)), fmt.Sprintf("%d%c", half/2+1, 'a'+rune(half%2)); got != want {
			t.Errorf("limit %g F = %s, want %s", f, got, want)
		}
	}
}

// Zone limits in both units as printed in the 1990 table shown at
// pinetum.org/hardy.htm, to 0.1 C.
func TestZoneLimitsInCelsius(t *testing.T) {
	for f, want := range map[float64]float64{-50: -45.6, -40: -40, -20: -28.9, -10: -23.3, 0: -17.8, 10: -12.2, 30: -1.1, 40: 4.4} {
		near(t, "limit", float64(quantity.FromFahrenheit(f)), want, 0.05)
	}
}

// Calendar-year minima 1991-2020 at the Johnson County point, C; the mean -18.5923 C
// = -1.47 F is our own arithmetic: -557.77/30. Each minimum stands on 15 January of a series
// that is otherwise at +10 C, so that season and calendar year agree.
func TestZoneOfJohnsonCounty(t *testing.T) {
	lows := []float64{
		-14.51, -11.63, -16.83, -18.2, -17.95, -22.36, -23.41, -20.44, -17.09, -21.71, -16.11, -16.32, -17.33, -18.95, -21.04,
		-16.67, -18.96, -19.45, -18.41, -20.22, -21.97, -14.32, -16.69, -22.16, -17.59, -22.05, -17.45, -21.95, -19.55, -16.45,
	}
	s := steady(quantity.DayOf(1990, 8, 1), quantity.DayOf(2020, 8, 1), 1000)
	for i, v := range lows {
		s.Values[quantity.DayOf(1991+i, 1, 15)-s.Start] = quantity.Celsius(v).Hundredths()
	}
	mean, used := Climb(s, quantity.North).MeanExtreme(Years{1991, 2020})
	near(t, "mean extreme", float64(mean), -557.77/30, 1e-9)
	if used != 30 || Zone(mean) != "6b" {
		t.Errorf("zone %s from %d winters, want 6b from 30", Zone(mean), used)
	}
}
