package record

import (
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// A record answers for its own days and says that nothing is known of all others.
func TestDaily(t *testing.T) {
	start := quantity.DayOf(2024, 2, 28)
	d := &Daily{Start: start, Min: []quantity.Hundredths{-220, quantity.Missing, 310}, Max: []quantity.Hundredths{900, 1000, quantity.Missing}, Lines: []int32{2, 3, 7}}
	if d.End() != quantity.DayOf(2024, 3, 2) { // the day after 28 and 29 February and 1 March
		t.Errorf("ends on day %d", d.End()-start)
	}
	for day, want := range map[quantity.Day]struct {
		low, high quantity.Hundredths
		line      int
	}{
		start - 1: {quantity.Missing, quantity.Missing, 0}, start: {-220, 900, 2}, start + 1: {quantity.Missing, 1000, 3},
		start + 2: {310, quantity.Missing, 7}, start + 3: {quantity.Missing, quantity.Missing, 0},
	} {
		if low, high, line := d.MinOn(day), d.MaxOn(day), d.LineOf(day); low != want.low || high != want.high || line != want.line {
			t.Errorf("day %d: %v to %v on line %d, want %+v", day-start, low, high, line, want)
		}
	}
}

// A moment is a day and a minute, before 1970 too: a minute to midnight belongs to the
// day that ends.
func TestMoments(t *testing.T) {
	for _, c := range []struct {
		day    quantity.Day
		minute int
	}{{quantity.DayOf(2018, 3, 19), 370}, {0, 0}, {-1, 1439}, {quantity.DayOf(1950, 1, 1), 1}} {
		if m := MomentOf(c.day, c.minute); m.Day() != c.day || m.Minute() != c.minute {
			t.Errorf("day %d, minute %d is day %d, minute %d", c.day, c.minute, m.Day(), m.Minute())
		}
	}
	if MomentOf(-1, 1439) != -1 || MomentOf(1, 0) != 1440 {
		t.Error("moments do not count minutes from the start of 1970")
	}
}

// The words stand in tables and messages: they are those of the package's comments.
func TestWords(t *testing.T) {
	for got, want := range map[string]string{
		Last.String(): "last", First.String(): "first", FreezeDate.String(): "date", FreezeAnyMonth.String(): "any month", FreezeNever.String(): "never",
		Moved.String(): "moved", OtherHour.String(): "hour",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
