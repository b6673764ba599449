package quantity

import (
	"math"
	"testing"
)

// The two scales meet at -40; 0 C is 32 F and 100 C is 212 F by definition. A difference
// of 5 F is 2.8 K and not -15. 1,000 ft are 304.8 m exactly.
func TestConversions(t *testing.T) {
	for c, f := range map[Celsius]float64{-40: -40, 0: 32, 100: 212, -17.5: 0.5} {
		if got := c.Fahrenheit(); math.Abs(got-f) > 1e-9 {
			t.Errorf("%v C is %v F, want %v", c, got, f)
		}
	}
	if d := Kelvins(5.0 / 1.8); math.Abs(d.Fahrenheit()-5) > 1e-9 {
		t.Errorf("2.8 K are %v F", d.Fahrenheit())
	}
	if m := FromFeet(1000); m != 304.8 || math.Abs(m.Feet()-1000) > 1e-9 {
		t.Errorf("1,000 ft are %v m, and those %v ft", m, m.Feet())
	}
	if c := Celsius(-2).Plus(-1.5); c != -3.5 || c.Minus(-2) != -1.5 || Celsius(1).Minus(-2) != 3 {
		t.Errorf("-2 C cooled by 1.5 K is %v", c)
	}
}

// South begins below the equator; on it, as everywhere that does not say, it is north.
func TestHemisphereOf(t *testing.T) {
	for latitude, want := range map[float64]Hemisphere{44.2: North, 0: North, -0.01: South, -44.2: South} {
		if got := HemisphereOf(latitude); got != want {
			t.Errorf("%v: %v", latitude, got)
		}
	}
}

// Months have their days in every kind of year, and none besides.
func TestDaysOfMonths(t *testing.T) {
	year := func(y int) (n int) {
		for m := 1; m <= 12; m++ {
			n += DaysIn(y, m)
		}
		return n
	}
	for y, want := range map[int]int{2023: 365, 2024: 366, 1900: 365, 2000: 366} {
		if got := year(y); got != want {
			t.Errorf("%d has %d days", y, got)
		}
	}
	if DaysIn(2023, 4) != 30 || DaysIn(2023, 8) != 31 || DaysIn(2024, 2) != 29 {
		t.Error("April, August or February has other days")
	}
	if got := (MonthDay{5, 6}).String(); got != "05-06" {
		t.Errorf("6 May is written %s", got)
	}
}

// Days before the calendar's year 0 count on backwards: 400 years are 146,097 days, and
// the calendar is the same in each.
func TestDaysBeforeTheFirstYear(t *testing.T) {
	y, m, d := (DayOf(1969, 12, 31) - 5*146097).Date()
	if y != 1969-2000 || m != 12 || d != 31 {
		t.Errorf("2,000 years before 31 December 1969 is %d-%d-%d", y, m, d)
	}
	if got := DayOf(-31, 12, 31); got != DayOf(1969, 12, 31)-5*146097 {
		t.Errorf("31 December of the year -31 is day %d", got)
	}
}
