package band

import (
	"math"
	"reflect"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// By hand: trials 1, 0 in one year and 1, 1 in another: share 3/4; sums of what is off are
// -1/2 and 1/2; se^2 = 2/1 x (1/4 + 1/4)/16 = 1/16.
func TestClustered(t *testing.T) {
	trials := []trial{{cluster: 1, passed: [3]float64{1, 0, 0}}, {cluster: 1}, {cluster: 2, passed: [3]float64{1, 0, 0}}, {cluster: 2, passed: [3]float64{1, 0, 0}}}
	if share, se := clustered(trials, PlainYears); share != 0.75 || !near(se, 0.25, 1e-12) {
		t.Errorf("share %.3f, se %.3f; want 0.75, 0.25", share, se)
	}
	if _, se := clustered(trials[:2], PlainYears); !math.IsNaN(se) {
		t.Errorf("one year tells no error: %.3f", se)
	}
}

// Ten years are left to try where that leaves twenty or more to make dates from.
func TestTrain(t *testing.T) {
	for _, c := range []struct{ years, want int }{{20, 0}, {21, 20}, {30, 20}, {36, 26}, {40, 30}, {70, 30}} {
		r := alone(calm("s", 1951, 1950+c.years), quantity.North)
		if b := r.BackTest(nil); b.Train != c.want || c.want > 0 && (b.First != 1951+c.want || b.Last != 1950+c.years) {
			t.Errorf("%d years: dates from %d, tried %d to %d; want from %d", c.years, b.Train, b.First, b.Last, c.want)
		}
	}
}

// alternating is forty springs 1971-2010 whose last frost of -3 C comes on 1 May in the
// first thirty, then by turns on 10 May and 20 April.
func alternating() *record.Daily {
	d := calm("s", 1970, 2010)
	for k := range 41 {
		on := day(1970+k, 5, 1)
		switch {
		case k > 30 && k%2 == 1:
			on = day(1970+k, 5, 10)
		case k > 30:
			on = day(1970+k, 4, 20)
		}
		set(d, on, -300)
	}
	return d
}

// By hand: the careful date stands at the 27th to 28th of thirty springs (Hazen 27.5). It
// is 1 May while at most two of them ended on 10 May, between the two with three, 10 May
// with four: so of the springs of 2001, 2003, 2005, 2007 and 2009, with 0, 1, 2, 3 and 4 before
// them, all but the last pass it. The middle date is 1 May throughout and passed by all
// five. It never falls to -4.4 C: nothing to try.
func TestBackTestByHand(t *testing.T) {
	d := alternating()
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 0, 0, quantity.North)
	own := bandAt(500, 500)
	own.Latitude, own.Longitude = known(44.0), known(-38.0)
	b := r.BackTest([]catalog.Band{*own})
	if b.Train != 30 || b.First != 2000 || len(b.Places) != 2 || b.Places[0].ID != "s" || !b.Places[1].IsBand {
		t.Fatalf("%+v", b)
	}
	for _, w := range Ways {
		for _, limit := range TriedLimits[:2] {
			careful, ok := Find(b.Stations, record.Last, limit, quantity.Careful, w)
			if !ok || careful.Tried != 11 || !near(careful.Passed, 4.0/11, 1e-9) { // 2000 is tried too, and kept
				t.Errorf("careful, %v, %.1f C: %+v, want 4 of 11", w, float64(limit), careful)
			}
			half, ok := Find(b.Stations, record.Last, limit, quantity.Half, w)
			if !ok || half.Tried != 11 || !near(half.Passed, 5.0/11, 1e-9) {
				t.Errorf("half, %v, %.1f C: %+v, want 5 of 11", w, float64(limit), half)
			}
		}
	}
	for _, s := range b.Stations {
		if s.Limit == -4.4 {
			t.Errorf("nothing to try, but %+v", s)
		}
	}
	// The band is its station, so both fare alike.
	if !reflect.DeepEqual(b.Stations, b.Bands) || !reflect.DeepEqual(b.Places[0].Scores, b.Places[1].Scores) {
		t.Errorf("station %+v\nband %+v", b.Stations, b.Bands)
	}
}

// A year with holes is not tried; stretches with too many such years neither.
func TestBackTestSkipsWhatItCannotTell(t *testing.T) {
	d := alternating()
	blind := func(year int) {
		for k := range 40 {
			d.Min[day(year, 5, 20)-d.Start+quantity.Day(k)] = quantity.Missing
		}
	}
	try := func() []Score {
		return NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 0, 0, quantity.North).BackTest(nil).Stations
	}
	blind(2003)
	if s, _ := Find(try(), record.Last, 0, quantity.Half, Printed); s.Tried != 10 {
		t.Errorf("%d years tried, want 10: 2003 cannot be told", s.Tried)
	}
	for y := 1980; y < 1987; y++ { // seven of thirty: over a fifth
		blind(y)
	}
	if s, _ := Find(try(), record.Last, 0, quantity.Half, Printed); s.Tried != 0 {
		t.Errorf("%d years tried from stretches with seven blind years", s.Tried)
	}
}

// What happens after a tried year must not be known to the dates of that year.
func TestBackTestKnowsNoFuture(t *testing.T) {
	build := func(warmer quantity.Hundredths) ([][]trial, int) {
		d := weather("s", 1961, 2010, 5, 10, 7)
		for i := day(2001, 8, 1) - d.Start; int(i) < len(d.Min); i++ {
			d.Min[i] += warmer
		}
		other := weather("o", 1961, 2010, 4, 10, 8)
		rows := []catalog.Station{station("s", 500, 0), station("o", 700, 10)}
		r := NewRegion(rows, map[string]*record.Daily{"s": d, "o": other}, 0, 0, quantity.North)
		_, trials := r.tryAll([]catalog.Band{*bandAt(500, 800)})
		return trials, len(rows)
	}
	tame, _ := build(0)
	wild, _ := build(600)
	differ := false
	for place := range tame {
		k := 0
		for _, x := range tame[place] {
			if x.cluster > 2000 || x.event == record.First && x.cluster == 2000 { // a fall may end after New Year
				break
			}
			if k++; wild[place][k-1] != x {
				t.Fatalf("place %d, %d: %+v became %+v", place, x.cluster, x, wild[place][k-1])
			}
		}
		if k == 0 {
			t.Errorf("place %d: nothing compared", place)
		}
		differ = differ || !reflect.DeepEqual(tame[place], wild[place])
	}
	if !differ {
		t.Error("six degrees more changed nothing")
	}
}

// A station with a published table has no years to try: the others are tried as if it
// were not there, and a region of tables tries nothing.
func TestBackTestLeavesTablesOut(t *testing.T) {
	d := alternating()
	rows := []catalog.Station{station("t", 500, 3), station("s", 500, 0)}
	w := Weather{Records: map[string]*record.Daily{"s": d}, Tables: map[string]*record.Freeze{"t": publishedTable()}}
	mixed := RegionOf(rows, w, 0, 0, quantity.North).BackTest(nil)
	alone := RegionOf(rows[1:], w, 0, 0, quantity.North).BackTest(nil)
	if !reflect.DeepEqual(mixed, alone) || len(alone.Stations) == 0 {
		t.Errorf("with a table\n%+v\nwithout\n%+v", mixed, alone)
	}
	if b := tableRegion(quantity.North, publishedTable()).BackTest([]catalog.Band{*bandAt(500, 500)}); b.Train != 0 {
		t.Errorf("a table was tried: %+v", b)
	}
}
