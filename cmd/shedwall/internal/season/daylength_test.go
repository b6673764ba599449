package season

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// doy is the day of a common year, 1 = 1 January.
func doy(month, day int) float64 {
	return float64(quantity.DayOf(2023, month, day) - quantity.DayOf(2023, 1, 1) + 1)
}

// Published day lengths in hours. Each place's noon comes its longitude west / 360 of
// a day after Greenwich's, where DayLength takes its own; left out, that is up to a
// minute in spring and fall. The tolerance of 1.2 minutes is what the formula misses
// (1.06 minutes at most here), most of it the published figures' rounding.
func TestDayLengthAgainstPublishedDays(t *testing.T) {
	const tolerance = 1.2 / 60
	for _, c := range []struct {
		name       string
		latitude   float64
		west       float64
		month, day int
		hours      float64
	}{
		// USNO day lengths quoted on a web page in 2007.
		{"San Francisco, 5 March", 37.77, 122.4, 3, 5, 11.5167},
		{"San Francisco, 21 June", 37.77, 122.4, 6, 21, 14.783},
		{"San Francisco, 21 December", 37.77, 122.4, 12, 21, 9.55},
		// A weather column of Fargo and Moorhead, 2018.
		{"Fargo, 31 August", 46.88, 96.8, 8, 31, 13.4},
		{"Fargo, 30 September", 46.88, 96.8, 9, 30, 11.75},
		{"Fargo, 31 October", 46.88, 96.8, 10, 31, 10.0833},
		{"Fargo, 21 December", 46.88, 96.8, 12, 21, 8.517},
		// A radio station's page: Waterloo, Iowa, 9 h 3 min 43 s, 2021.
		{"Waterloo, 21 December", 42.49, 92.3, 12, 21, 9.0619},
	} {
		if got := DayLength(c.latitude, doy(c.month, c.day)+c.west/360); math.Abs(got-c.hours) > tolerance {
			t.Errorf("%s: %.4f h, published %.4f", c.name, got, c.hours)
		}
	}
}

// Monthly means in hours of the USNO table for Los Angeles, 34.0833 N 118.25 W, as
// kept in the tests of PyETo. Tolerance as above.
func TestDayLengthAgainstMonthlyMeans(t *testing.T) {
	published := [12]float64{10.182, 10.973, 11.985, 13.046, 13.94, 14.388, 14.163, 13.404, 12.374, 11.32, 10.401, 9.928}
	for m, want := range published {
		sum, n := 0.0, quantity.DaysIn(2023, m+1)
		for d := 1; d <= n; d++ {
			sum += DayLength(34.0833, doy(m+1, d)+118.25/360)
		}
		if got := sum / float64(n); math.Abs(got-want) > 1.2/60 {
			t.Errorf("month %d: %.4f h, published %.4f", m+1, got, want)
		}
	}
}

// Sunrise on 1 January by local mean time, from a printed table of ten latitudes
// (L. Strous, Astronomy Answers, "Time of Sunrise", 2002): 12 h less the equation of
// time (-3.61 min on that day) less half the day. Printed to the minute: 0.9 minutes.
func TestDayLengthAgainstSunrise(t *testing.T) {
	for latitude, printed := range map[float64]float64{10: 6.283, 20: 6.583, 36: 7.183, 40: 7.367, 44: 7.583, 46: 7.7, 48: 7.833} {
		if got := 12 + 3.61/60 - DayLength(latitude, 1)/2; math.Abs(got-printed) > 0.015 {
			t.Errorf("%.0f N: sunrise %.3f h, printed %.3f", latitude, got, printed)
		}
	}
}

// By hand: at the pole the sun is up in June and down in December; on the equator day
// is a little longer than night all year (refraction and the sun's radius, 2 x 0.8333
// degrees of the sky at 15 degrees an hour: 12.11 h when the sun rises straight up).
func TestDayLengthAtTheEdges(t *testing.T) {
	for _, c := range []struct{ latitude, day, want, tolerance float64 }{
		{90, doy(6, 21), 24, 0}, {90, doy(12, 21), 0, 0},
		{-90, doy(6, 21), 0, 0}, {-90, doy(12, 21), 24, 0},
		{70, doy(6, 21), 24, 0}, {70, doy(12, 21), 0, 0},
		{0, doy(3, 21), 12 + 2*0.8333/15, 0.005}, {0, doy(6, 21), 12.12, 0.02},
	} {
		if got := DayLength(c.latitude, c.day); math.IsNaN(got) || math.Abs(got-c.want) > c.tolerance {
			t.Errorf("latitude %.0f, day %.0f: %.4f h, want %.4f", c.latitude, c.day, got, c.want)
		}
	}
}

// The days of less than ten hours. No published table was seen; the dates are from
// the sun's position by Meeus's formulas at noon, in another language (40 N, longitudes
// 0 to 75 W, 2021-2023: 14-15 November to 26-27 January). The same formula as ours
// taken at the beginning of each day gives one day later throughout but at 35 N.
func TestShortDays(t *testing.T) {
	date := func(h quantity.Hemisphere, s quantity.Slot) string { return h.MonthDay(s).String() }
	for _, c := range []struct {
		latitude float64
		from, to string
	}{
		{35, "12-01", "01-12"}, {40, "11-15", "01-27"}, {44, "11-07", "02-04"}, {48, "11-01", "02-10"},
	} {
		from, to, ok := ShortDays(c.latitude, 10, quantity.North)
		if !ok || date(quantity.North, from) != c.from || date(quantity.North, to) != c.to {
			t.Errorf("%.0f N: %v from %s to %s, want %s to %s", c.latitude, ok, date(quantity.North, from), date(quantity.North, to), c.from, c.to)
		}
		if from < quantity.SlotsPerYear || to < from {
			t.Errorf("%.0f N: slots %d to %d, want the winter after the summer planned", c.latitude, from, to)
		}
	}
	for _, c := range []struct {
		name     string
		latitude float64
		h        quantity.Hemisphere
	}{
		{"30 N never has so short a day", 30, quantity.North},
		{"nor has the equator", 0, quantity.North},
		{"nor 30 S", -30, quantity.South},
	} {
		if from, to, ok := ShortDays(c.latitude, 10, c.h); ok {
			t.Errorf("%s, but got %d to %d", c.name, from, to)
		}
	}
	if _, _, ok := ShortDays(40, 25, quantity.North); ok {
		t.Error("a year that is all short days has no stretch of them")
	}
}

// The southern winter lies half a year away, and is a little longer, since the earth
// is furthest from the sun in July and slow: by hand, 40 S has ten hours where the
// sun stands as high as at 40 N on 15 November and 27 January, at a declination of
// -18.5 degrees, so here of +18.5, which almanacs give for 15 May and 29 July.
func TestShortDaysInTheSouth(t *testing.T) {
	h := quantity.South
	from, to, ok := ShortDays(-40, 10, h)
	if !ok || from < quantity.SlotsPerYear {
		t.Fatalf("%v %d %d", ok, from, to)
	}
	a, b := h.MonthDay(from), h.MonthDay(to)
	if a.Month != 5 || a.Day < 14 || a.Day > 16 || b.Month != 7 || b.Day < 28 || b.Day > 30 {
		t.Errorf("40 S: %v to %v, want about 15 May to 29 July", a, b)
	}
}
