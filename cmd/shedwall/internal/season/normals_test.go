package season

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Monthly means (C) and the daily values made from them, days of a common year, from
// the first example of the mp-interp demonstration (P. J. Bartlein), which works out
// Epstein 1991 with all six harmonics; means of the days of two months likewise.
// Published to 0.01 and 0.001 C, hence the tolerances.
var demoMonths = [12]float64{-6.77, -4.33, 1.52, 8.35, 14.74, 20.29, 23.22, 22.17, 16.94, 10.35, 3.08, 4.29}

func TestCurveAgainstPublishedDays(t *testing.T) {
	c := CurveOf(demoMonths, 6)
	for _, day := range []struct {
		id   string
		doy  int
		want float64
	}{
		{"EPS-01", 1, -0.92}, {"EPS-02", 15, -7.6}, {"EPS-03", 25, -9.31}, {"EPS-04", 31, -8.78}, {"EPS-05", 45, -4.33},
		{"EPS-06", 75, 1.31}, {"EPS-08", 135, 14.49}, {"EPS-09", 165, 20.26}, {"EPS-10", 196, 23.22}, {"EPS-11", 210, 23.91},
		{"EPS-12", 240, 20.01}, {"EPS-13", 270, 15.55}, {"EPS-14", 300, 6.19}, {"EPS-15", 317, 2.13}, {"EPS-16", 344, 6.01}, {"EPS-17", 365, -0.38},
	} {
		_, month, d := (quantity.DayOf(2023, 1, 1) + quantity.Day(day.doy-1)).Date()
		if got := c.At(month, d, quantity.DaysIn(2023, month)); math.Abs(got-day.want) > 0.0051 {
			t.Errorf("%s, day %d: %.4f C, published %.2f", day.id, day.doy, got, day.want)
		}
	}
	for _, month := range []struct {
		id    string
		month int
		want  float64
	}{{"EPS-20", 1, -6.771}, {"EPS-21", 12, 4.291}} {
		if got := monthMean(c, month.month); math.Abs(got-month.want) > 0.0006 {
			t.Errorf("%s, mean of the days of month %d: %.4f C, published %.3f", month.id, month.month, got, month.want)
		}
	}
}

func monthMean(c Curve, month int) float64 {
	sum, days := 0.0, quantity.DaysIn(2023, month)
	for d := 1; d <= days; d++ {
		sum += c.At(month, d, days)
	}
	return sum / float64(days)
}

// Six waves keep every month's mean (to 0.01 C: the mean of thirty days is not quite
// that of the month's continuous course); the four of a guide keep those of a real
// year, Lebanon NH, NCEI normals 1991-2020, tmin in F, to 0.4 F (0.35 in July).
func TestCurveKeepsMeans(t *testing.T) {
	c := CurveOf(demoMonths, 6)
	for m := 1; m <= 12; m++ {
		if got := monthMean(c, m); math.Abs(got-demoMonths[m-1]) > 0.01 {
			t.Errorf("month %d: mean %.3f, want %.2f", m, got, demoMonths[m-1])
		}
	}
	lebanon := [12]float64{9.3, 11.0, 20.7, 31.9, 43.7, 52.4, 57.8, 56.2, 48.6, 37.4, 27.7, 18.1}
	c = CurveOf(lebanon, Harmonics)
	for m := 1; m <= 12; m++ {
		if got := monthMean(c, m); math.Abs(got-lebanon[m-1]) > 0.4 {
			t.Errorf("Lebanon, month %d: mean %.3f, want %.1f", m, got, lebanon[m-1])
		}
	}
}

// A flat year stays flat; slots begin on 1 August in the north, 1 February in the south.
func TestCurveSlots(t *testing.T) {
	var flat [12]float64
	for m := range flat {
		flat[m] = 7
	}
	for s, v := range CurveOf(flat, 6).Slots(quantity.North) {
		if math.Abs(v-7) > 1e-9 {
			t.Fatalf("slot %d of a flat year: %v", s, v)
		}
	}
	c := CurveOf(demoMonths, 6)
	north, south := c.Slots(quantity.North), c.Slots(quantity.South)
	if len(north) != quantity.SlotsPerYear || north[0] != c.At(8, 1, 31) || south[0] != c.At(2, 1, 29) {
		t.Errorf("%d slots from %.2f and %.2f, want 366 from %.2f and %.2f", len(north), north[0], south[0], c.At(8, 1, 31), c.At(2, 1, 29))
	}
}
