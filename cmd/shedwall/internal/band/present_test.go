package band

import (
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// A night of -3 C on 1 April in each of thirty years and one of -2 C on 20 April in the
// first fifteen, in springs that warm by 0.06 K a year: taken as they were, the careful
// date is 20 April; moved to the present, -2 C then counts as at least -1.55 C now
// (half of 0.06 K over the 15 years from 2005) and no longer reaches -2.
func TestPresentClimate(t *testing.T) {
	d := calm("s", 1990, 2021)
	for k := range 30 {
		for m := 3; m <= 5; m++ {
			for n := 1; n <= quantity.DaysIn(1991+k, m); n++ {
				d.Min[day(1991+k, m, n)-d.Start] = quantity.Hundredths(6 * k)
			}
		}
		set(d, day(1991+k, 4, 1), -300)
		if k < 15 {
			set(d, day(1991+k, 4, 20), -200)
		}
	}
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 1991, 2020, quantity.North)
	if trend, ok := r.Trend(0, record.Last); !ok || !near(float64(trend), 0.6, 0.02) { // two nights of ninety-two lean on it
		t.Errorf("trend %.2f K for each ten years, %v; want 0.6", trend, ok)
	}
	c := r.Climate(bandAt(500, 500))
	g := Gate{Limit: -2}
	plain, shifted := c.DateBothWays(record.Last, quantity.Careful, g)
	north(t, plain.Slot, "04-20")
	north(t, shifted.Slot, "04-01")
	if plain.Shifted || !shifted.Shifted {
		t.Error("which is which is not told")
	}
	careful, half := c.Date(record.Last, quantity.Careful, g), c.Date(record.Last, quantity.Half, g)
	north(t, careful.Slot, "04-20") // the later of the two
	north(t, half.Slot, "04-01")    // the present alone
	if r.Plain = true; c.Date(record.Last, quantity.Half, g).Shifted {
		t.Error("plain years were asked for")
	}
}

func TestSafer(t *testing.T) {
	dated := func(exact float64) Answer { return Answer{State: Dated, Exact: exact} }
	none, any, never := Answer{State: NoneNeeded}, Answer{State: AnyMonth}, Answer{State: Never}
	for _, c := range []struct {
		name       string
		e          record.Event
		a, b, want Answer
	}{
		{"the later in spring", record.Last, dated(250), dated(260), dated(260)},
		{"the earlier in fall", record.First, dated(400), dated(410), dated(400)},
		{"a date before none needed", record.Last, none, dated(250), dated(250)},
		{"any month before a date", record.First, dated(400), any, any},
		{"never before a date", record.Last, never, dated(250), never},
	} {
		for _, got := range []Answer{safer(c.a, c.b, c.e), safer(c.b, c.a, c.e)} {
			if got.State != c.want.State || got.Exact != c.want.Exact {
				t.Errorf("%s: %+v", c.name, got)
			}
		}
	}
}

// A careful date of the present is never less careful than the plain one, nor than
// the half-and-half one.
func TestPresentIsNeverLessCareful(t *testing.T) {
	r := valley(4, 1981, 2010, 0)
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(200, 900).Draw(t, "low")
		c := r.Climate(bandAt(low, low+100))
		g := Gate{Limit: quantity.Celsius(rapid.Float64Range(-5, 4).Draw(t, "limit"))}
		for _, e := range events {
			plain, shifted := c.DateBothWays(e, quantity.Careful, g)
			careful := c.Date(e, quantity.Careful, g)
			noLess(t, "careful against plain", e, plain, careful)
			noLess(t, "careful against shifted", e, shifted, careful)
			noLess(t, "careful against half", e, c.Date(e, quantity.Half, g), careful)
		}
	})
}
