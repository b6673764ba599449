package band

import (
	"fmt"
	"reflect"
	"sync"
	"sync/atomic"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// What a climate kept is what it says anew: asked twice, by a copy, after Forget, and by a
// climate that was never asked before. Each question is told apart from its like.
func TestKeptAnswers(t *testing.T) {
	r := alone(weather("s", 1981, 2010, 6, 10, 3), quantity.North)
	c := r.Climate(bandAt(650, 750))
	gates := []Gate{{}, {Limit: -2.2}, {Limit: -2.2, Allowance: 1}, {Limit: -2.2, Gain: 1}, {Limit: -2.2, Series: Week}, {Limit: -2.2, Series: Cold, Count: 2}, {Limit: -2.2, Series: Cold, Count: 9}}
	for _, plain := range []bool{false, true} {
		r.Plain = plain
		for _, e := range events {
			for _, odds := range levels {
				for _, g := range gates {
					ask := func(c *Climate) Answer { return c.Date(e, odds, g) }
					want := fmt.Sprintf("%+v", ask(r.Climate(bandAt(650, 750))))
					for i := range 4 {
						if i == 3 {
							c.Forget()
						}
						copied := *c
						if got := fmt.Sprintf("%+v", ask(&copied)); got != want {
							t.Errorf("%v %.1f %+v, plain %t, asked %d times: %s, asked once %s", e, float64(odds), g, plain, i+1, got, want)
						}
					}
				}
			}
			if got, want := c.DaysPerHundredMetres(e), r.Climate(bandAt(650, 750)).DaysPerHundredMetres(e); got != want {
				t.Errorf("%v: %v days for each 100 m, of a new climate %v", e, got, want)
			}
		}
	}
}

// A garden's own climate and its band's keep their answers apart.
func TestKeptApart(t *testing.T) {
	r := alone(weather("s", 1981, 2010, 6, 10, 3), quantity.North)
	c := r.Climate(bandAt(650, 750))
	before := c.Date(record.Last, quantity.Half, Gate{})
	colder := c.Warmer(record.Last, -2)
	if got := colder.Date(record.Last, quantity.Half, Gate{}); got.Exact <= before.Exact {
		t.Errorf("2 K colder: %.1f, the band %.1f", got.Exact, before.Exact)
	}
	if again := c.Date(record.Last, quantity.Half, Gate{}); again.Exact != before.Exact {
		t.Errorf("the band after a colder garden: %.1f, before %.1f", again.Exact, before.Exact)
	}
}

func TestKeep(t *testing.T) {
	c := alone(weather("s", 1981, 2010, 6, 10, 3), quantity.North).Climate(bandAt(650, 750))
	type key struct{ n int }
	made := 0
	ask := func(n int) int {
		return c.Keep(key{n}, func() any { made++; return made }).(int)
	}
	if a, b, again := ask(1), ask(2), ask(1); a != 1 || b != 2 || again != 1 {
		t.Errorf("made %d, %d and %d again; want 1, 2, 1", a, b, again)
	}
	if c.Forget(); ask(1) != 3 {
		t.Error("not forgotten")
	}
	for i := range 2 * mostAnswers {
		c.Date(record.Last, quantity.Half, Gate{Limit: quantity.Celsius(i)})
	}
	if n := len(c.kept.answers); n > mostAnswers {
		t.Errorf("%d answers kept", n)
	}
}

// Of a night NightDate says what Date says, but for the parts, before Forget and after;
// what is held stays, and is made once however many ask at the same time.
func TestHeld(t *testing.T) {
	c := alone(weather("s", 1981, 2010, 6, 10, 3), quantity.North).Climate(bandAt(650, 750))
	for range 2 {
		for _, e := range events {
			for _, odds := range levels {
				for _, gain := range []quantity.Kelvins{0, 2} {
					want := c.Date(e, odds, Gate{Limit: -1, Gain: gain})
					want.Parts = nil
					if got := c.NightDate(e, odds, -1, gain); !reflect.DeepEqual(got, want) {
						t.Errorf("%v %.1f, gain %.0f: %+v, Date says %+v", e, float64(odds), float64(gain), got, want)
					}
				}
			}
		}
		c.Forget()
	}
	var made atomic.Int32
	var asking sync.WaitGroup
	for range 8 {
		asking.Go(func() {
			if c.Hold("key", func() any { return made.Add(1) }).(int32) != 1 {
				t.Error("made again")
			}
		})
	}
	asking.Wait()
	if c.Forget(); c.Hold("key", func() any { return made.Add(1) }).(int32) != 1 {
		t.Error("forgotten")
	}
}
