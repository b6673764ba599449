package band

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// halfYear is 1 August to 1 February: a record moved by so much has its season years
// where the south has them.
const halfYear = 184

// The same weather half a year later at the opposite latitude: spring dates of a
// calendar year become those of the same year's September, fall dates those of the
// next year's autumn, and all lie on the same slots, within the day that 29 February
// takes. The gates of a week and of soil move along.
func TestSouth(t *testing.T) {
	d := weather("s", 1985, 2022, 5, 10, 7)
	row := station("s", 500, 0)
	south := row
	south.Latitude = known(-44.0)
	n := NewRegion([]catalog.Station{row}, map[string]*record.Daily{"s": d}, 1991, 2010, quantity.North)
	records := map[string]*record.Daily{"s": moved(d, halfYear, 0)}
	springs := NewRegion([]catalog.Station{south}, records, 1991, 2010, quantity.South)
	falls := NewRegion([]catalog.Station{south}, records, 1992, 2011, quantity.South)
	for _, r := range []*Region{n, springs, falls} {
		r.Plain = true
	}
	for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
		for limit := quantity.Celsius(-6); limit <= 4; limit += 2 {
			for _, gates := range [][]Gate{{{Limit: limit}}, {{Series: Week, Limit: limit + 3}}, {{Series: Soil, Limit: limit + 10}}} {
				a := n.Climate(bandAt(600, 700)).Date(record.Last, odds, gates...)
				b := springs.Climate(bandAt(600, 700)).Date(record.Last, odds, gates...)
				if a.State != Dated || b.State != Dated || !near(a.Exact, b.Exact, 1) {
					t.Errorf("spring %.1f %+v: slot %.1f in the north, %.1f in the south (%d, %d)", odds, gates, a.Exact, b.Exact, a.State, b.State)
				}
			}
			g := Gate{Limit: limit}
			a, b := n.Climate(bandAt(600, 700)).Date(record.First, odds, g), falls.Climate(bandAt(600, 700)).Date(record.First, odds, g)
			if a.State != Dated || b.State != Dated || !near(a.Exact, b.Exact, 1) {
				t.Errorf("fall %.1f at %.0f C: slot %.1f in the north, %.1f in the south", odds, limit, a.Exact, b.Exact)
			}
		}
	}
	a, _ := n.Climate(bandAt(600, 700)).FrostFree(0)
	b, known := springs.Climate(bandAt(600, 700)).FrostFree(0)
	if !known || !near(float64(a), float64(b), 1) {
		t.Errorf("%d frost-free days in the north, %d in the south", a, b)
	}
	w, v := n.Climate(bandAt(600, 700)).Winter(), springs.Climate(bandAt(600, 700)).Winter()
	if !near(float64(w.MeanExtreme), float64(v.MeanExtreme), 1e-9) || w.Zone != v.Zone {
		t.Errorf("winters %+v in the north, %+v in the south", w, v)
	}
}

// The summer of a southern plan follows its spring: a freeze of 20 October 1995 and
// one of 20 April 1996 have 183 days between them, by hand 11 + 30 + 31 + 31 + 29 + 31 + 20.
func TestSouthernSummer(t *testing.T) {
	d := calm("s", 1990, 2003)
	for y := 1991; y <= 2002; y++ {
		set(d, day(y, 10, 20), -300)
		set(d, day(y, 4, 20), -300)
		if y != 1996 {
			set(d, day(y, 4, 10), -300) // other falls ten days earlier
		}
	}
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 1991, 2000, quantity.South)
	got := r.Stations[0].spans([2]quantity.Celsius{-2, -2}, false, quantity.South)
	want := []float64{173, 172, 172, 172, 183, 172, 172, 172, 173, 172} // from the springs of 1991 to 2000; 29 February in 1992, 1996 and 2000
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("spring of %d: %.0f days, want %.0f", 1991+i, got[i], want[i])
		}
	}
}
