package quantity

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// A difference of 5 F is 2.8 K; a temperature of 5 F is -15 C. By hand: 5/1.8 and
// (5-32)/1.8.
func TestTemperatureIsNoDifference(t *testing.T) {
	if got := FromFahrenheitDifference(5); math.Abs(float64(got)-2.7778) > 0.0001 {
		t.Errorf("a difference of 5 F is %.4f K", float64(got))
	}
	if got := FromFahrenheit(5); math.Abs(float64(got)+15) > 1e-9 {
		t.Errorf("5 F is %.4f C", float64(got))
	}
	for _, f := range []float64{-40, 0, 28, 32, 86} {
		if got := FromFahrenheit(f).Fahrenheit(); math.Abs(got-f) > 1e-9 {
			t.Errorf("%v F there and back is %v", f, got)
		}
	}
	if got := FromFeet(3000); math.Abs(float64(got)-914.4) > 1e-9 {
		t.Errorf("3000 ft is %v m", got)
	}
}

func TestHundredthsKeepReadings(t *testing.T) {
	for _, c := range []Celsius{-2.2, 0, 0.1, -17.78, 35.6} {
		if got := c.Hundredths().Celsius(); math.Abs(float64(got-c)) > 1e-9 {
			t.Errorf("%v comes back as %v", c, got)
		}
	}
	if Missing.Known() || !Hundredths(0).Known() {
		t.Error("0 is a temperature, Missing is none")
	}
}

// Civil days against the standard library, leap days and century years included.
func TestDaysAgainstStandardLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := Day(rapid.IntRange(-250_000, 250_000).Draw(t, "day"))
		y, m, d := n.Date()
		want := time.Unix(int64(n)*86400, 0).UTC()
		if y != want.Year() || m != int(want.Month()) || d != want.Day() {
			t.Fatalf("day %d is %d-%d-%d, want %v", n, y, m, d, want)
		}
		if back := DayOf(y, m, d); back != n {
			t.Fatalf("%d-%d-%d is day %d, want %d", y, m, d, back, n)
		}
		if got := n.ISO(); y >= 0 && y <= 9999 && got != want.Format(time.DateOnly) {
			t.Fatalf("day %d is written %s, want %s", n, got, want.Format(time.DateOnly))
		}
		if !ValidDate(y, m, d) || ValidDate(y, m, DaysIn(y, m)+1) {
			t.Fatalf("%d-%d: last day %d", y, m, DaysIn(y, m))
		}
	})
}

// Every calendar date has one slot and comes back from it, in both hemispheres;
// the season year begins with slot 0 on 1 August or 1 February.
func TestSlotsAreDates(t *testing.T) {
	for _, h := range []Hemisphere{North, South} {
		first := MonthDay{8, 1}
		if h == South {
			first = MonthDay{2, 1}
		}
		if h.SlotOf(first) != 0 {
			t.Errorf("hemisphere %d: %v is slot %d", h, first, h.SlotOf(first))
		}
		seen := map[MonthDay]bool{}
		for s := range Slot(SlotsPerYear) {
			md := h.MonthDay(s)
			if seen[md] || h.SlotOf(md) != s {
				t.Errorf("hemisphere %d: slot %d is %v, slot %d", h, s, md, h.SlotOf(md))
			}
			seen[md] = true
			if h.MonthDay(s+SlotsPerYear) != md || h.MonthDay(s-SlotsPerYear) != md {
				t.Errorf("slot %d a year on or back is another date", s)
			}
		}
		if !seen[MonthDay{2, 29}] {
			t.Error("29 February has no slot")
		}
	}
}

// Edge cases of the season year, by hand.
func TestSeasonYears(t *testing.T) {
	for _, x := range []struct {
		h       Hemisphere
		y, m, d int
		season  int
		slot    Slot
	}{
		{North, 2016, 7, 31, 2015, 365},
		{North, 2016, 8, 1, 2016, 0},
		{North, 2016, 1, 9, 2015, 161},  // a first freeze in January belongs to the fall before
		{North, 2015, 3, 1, 2014, 213},  // no 29 February in 2015: its slot is skipped
		{North, 2016, 2, 29, 2015, 212}, // a leap day
		{South, 2016, 1, 31, 2015, 365},
		{South, 2016, 2, 1, 2016, 0},
	} {
		season, slot := x.h.SeasonOf(DayOf(x.y, x.m, x.d))
		if season != x.season || slot != x.slot {
			t.Errorf("%d-%02d-%02d: season %d slot %d, want %d and %d", x.y, x.m, x.d, season, slot, x.season, x.slot)
		}
		if got := x.h.DayAt(season, slot); got != DayOf(x.y, x.m, x.d) {
			t.Errorf("%d-%02d-%02d: slot %d of season %d is another day", x.y, x.m, x.d, slot, season)
		}
	}
}
