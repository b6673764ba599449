package frost

import (
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// What a year says holds for every threshold up to until, and there it changes.
func TestYearUntil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Series{Start: quantity.DayOf(2000, rapid.IntRange(1, 12).Draw(t, "month"), 1)}
		for range rapid.IntRange(0, 500).Draw(t, "days") {
			v := quantity.Hundredths(rapid.IntRange(-4, 5).Draw(t, "value"))
			if v == 5 {
				v = quantity.Missing
			}
			s.Values = append(s.Values, v)
		}
		c := Climb(s, quantity.Hemisphere(rapid.IntRange(0, 1).Draw(t, "hemisphere")))
		season := rapid.IntRange(1998, 2002).Draw(t, "season")
		for _, e := range []record.Event{record.Last, record.First} {
			for at := quantity.Hundredths(-6); at <= 6; at++ {
				o, until := c.YearUntil(season, e, at)
				if until <= at || o != c.Year(season, e, at) {
					t.Fatalf("%v at %d: %+v until %d", e, at, o, until)
				}
				for x := at; x < min(until, 8); x++ {
					if c.Year(season, e, x) != o {
						t.Fatalf("%v: %+v at %d changes at %d, before %d", e, o, at, x, until)
					}
				}
			}
		}
	})
}
