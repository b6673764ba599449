package band

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"sync"
	"sync/atomic"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// What bands learn of a station from one another is what each would have worked out alone:
// dates, curves and brief answers of bands asked one after another and at once, as of the
// only band of a region. Steps are those that bands share thresholds at, and one that they
// do not.
func TestHeardOfOtherBands(t *testing.T) {
	for _, step := range []record.StepKind{record.TenthC, record.WholeF, record.HundredthC} {
		region := func() *Region {
			rows := []catalog.Station{station("a", 300, 0), station("b", 900, 10), station("c", 600, 20)}
			records := map[string]*record.Daily{}
			for i, years := range []int{29, 14, 22} { // not used alike
				d := weather(rows[i].ID, 1991, 1991+years, 7, 10, uint64(i+1))
				d.Step = step
				for k := range d.Min { // warming, so that shifted dates differ from plain ones
					d.Min[k] += quantity.Hundredths(k / 100)
				}
				records[rows[i].ID] = d
			}
			return NewRegion(rows, records, 0, 0, quantity.North)
		}
		say := func(r *Region, low float64) any {
			c := r.Climate(bandAt(low, low+100))
			out := []any{drawn(t, c.Curves())}
			brief := c.Remembering()
			for _, e := range events {
				for _, odds := range levels {
					for _, limit := range []quantity.Celsius{-4, -2.2, 0, 1.3} {
						plain, shifted := c.DateBothWays(e, odds, Gate{Limit: limit})
						night := Gate{Limit: limit}
						out = append(out, fmt.Sprintf("%+v %+v %+v", plain, shifted, brief.BriefOf([]*Question{brief.Question(e, odds, &night)}, []Gate{night})))
					}
				}
			}
			return out
		}
		heights := []float64{200, 210, 450, 210}
		want := make([]any, len(heights))
		for i, z := range heights {
			want[i] = say(region(), z)
		}
		r := region()
		for i, z := range heights {
			if !reflect.DeepEqual(say(r, z), want[i]) {
				t.Errorf("step %v: a band at %v m says something else after others", step, z)
			}
		}
		r = region()
		var wait sync.WaitGroup
		for _, i := range rand.Perm(len(heights)) {
			wait.Go(func() {
				if !reflect.DeepEqual(say(r, heights[i]), want[i]) {
					t.Errorf("step %v: a band at %v m says something else while others ask", step, heights[i])
				}
			})
		}
		wait.Wait()
	}
}

// What is kept of a station is bounded, and what is beyond that is answered all the same.
func TestHeardIsBounded(t *testing.T) {
	d := weather("s", 1991, 2020, 6, 10, 3)
	d.Step = record.HundredthC
	for k := range d.Min {
		d.Min[k] += quantity.Hundredths(k / 100)
	}
	r := alone(d, quantity.North)
	c := r.Climate(bandAt(600, 700))
	s := r.Stations[0]
	for k := range 10 {
		at := quantity.Hundredths(100 * k)
		for _, e := range events {
			for _, shifted := range []bool{false, true} {
				for y, got := range c.night(s, e, shifted, at).list() {
					if want := c.yearAt(s, e, s.First+y, shifted, &Gate{}, at); fmt.Sprint(got) != fmt.Sprint(want) {
						t.Fatalf("%v, %v, shifted %t, year %d: %v, worked out %v", at, e, shifted, y, got, want)
					}
				}
			}
		}
	}
	for k := range mostNights + 10 {
		at := quantity.Hundredths(k - mostNights/2)
		v := c.night(s, record.Last, false, at)
		for y, got := range v.list() {
			if want := s.year(record.Last, s.First+y, Night, at, r.Hemisphere); fmt.Sprint(got) != fmt.Sprint(want) {
				t.Fatalf("%v, year %d: %v, worked out %v", at, y, got, want)
			}
		}
	}
	if n := len(s.heard.nights); n != mostNights {
		t.Errorf("%d nights are kept, %d meant", n, mostNights)
	}
}

// A station that is cut to other years has heard nothing yet.
func TestHeardIsOfTheStationsYears(t *testing.T) {
	r := alone(weather("s", 1981, 2020, 6, 10, 3), quantity.North)
	s := r.Stations[0]
	r.Climate(bandAt(600, 700)).Curves().At(record.Last, quantity.Half, Gate{})
	if len(s.heard.nights) == 0 {
		t.Fatal("nothing was asked")
	}
	if k := s.during(s.First, s.First+9, r.first); k.heard == s.heard || len(k.heard.nights)+len(k.heard.things) > 0 {
		t.Error("a station keeps what it said of other years")
	}
	for _, k := range r.whole().Stations {
		if k.heard != nil {
			t.Error("a station with all its years keeps what it said of thirty")
		}
	}
}

// What is kept with a station is made once for all bands and all who ask at once, so far as
// there is room.
func TestStationKeep(t *testing.T) {
	s := alone(weather("s", 1991, 2010, 6, 10, 3), quantity.North).Stations[0]
	type key struct{ n int }
	var made atomic.Int32
	var asking sync.WaitGroup
	for range 8 {
		asking.Go(func() {
			for n := range 3 {
				if got := s.Keep(key{n}, func() any { made.Add(1); return n }); got != n {
					t.Errorf("%v for %d", got, n)
				}
			}
		})
	}
	asking.Wait()
	if made.Load() != 3 {
		t.Errorf("made %d times", made.Load())
	}
	for n := range 2 * mostThings {
		if got := s.Keep(key{n}, func() any { return n }); got != n {
			t.Errorf("%v for %d", got, n)
		}
	}
	if n := len(s.heard.things); n != mostThings {
		t.Errorf("%d things kept", n)
	}
	none := &Station{}
	if none.Keep(key{1}, func() any { return 7 }) != 7 {
		t.Error("a station that keeps nothing does not answer")
	}
}
