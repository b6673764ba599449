package band

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Whatever stands in a hidden station's record, its own guess must not change: only
// its place and its declared position may be used.
func TestNothingLeaksFromTheHiddenStation(t *testing.T) {
	build := func(wild int) *Region {
		var rows []catalog.Station
		records := map[string]*record.Daily{}
		for i, id := range []string{"a", "b", "c", "d", "e"} {
			z := 300 + 250*float64(i)
			row := station(id, z, 6*float64(i))
			row.Position = known(catalog.Position(i % 3))
			rows = append(rows, row)
			records[id] = weather(id, 1981, 2010, 6.5-0.005*z, 10, uint64(i+1))
			if i == wild { // warmer, more changeable, with a trend and holes
				d := weather(id, 1981, 2010, 9-0.005*z, 13, 99)
				for k := range d.Min {
					d.Min[k] += quantity.Hundredths(k / 100)
					if k%400 < 15 {
						d.Min[k], d.Max[k] = quantity.Missing, quantity.Missing
					}
				}
				records[id] = d
			}
		}
		return NewRegion(rows, records, 1981, 2010, quantity.North)
	}
	guesses := func(r *Region, id string) (out []float64) {
		for _, m := range r.Misses {
			if m.Station == id {
				out = append(out, m.Guessed)
			}
		}
		return out
	}
	tame := build(-1)
	if len(tame.Misses) != 10 {
		t.Fatalf("%d guesses, want 5 stations x 2 events", len(tame.Misses))
	}
	for i, id := range []string{"a", "b", "c", "d", "e"} {
		wild := build(i)
		a, b := guesses(tame, id), guesses(wild, id)
		if len(a) != 2 || len(b) != 2 || a[0] != b[0] || a[1] != b[1] {
			t.Errorf("station %s is guessed %v, with another record of its own %v", id, a, b)
		}
		if other := "abcde"[(i+1)%5 : (i+1)%5+1]; guesses(tame, other)[0] == guesses(wild, other)[0] {
			t.Errorf("the guess for %s does not notice that %s changed", other, id)
		}
	}
}

// By hand from the guesses themselves: each miss is guess less own date, the error
// printed is their root mean square, the mean size beside it.
func TestMisses(t *testing.T) {
	r := valley(5, 1981, 2010, 0)
	for _, e := range []record.Event{record.Last, record.First} {
		sum, squares, n := 0.0, 0.0, 0
		for _, m := range r.Misses {
			if m.Event != e {
				continue
			}
			c, _ := r.Station(m.Station)
			own := c.Date(e, quantity.Half, Gate{Limit: 0})
			if !near(m.Seen, own.Exact, 1e-9) || !near(m.Days, m.Guessed-m.Seen, 1e-9) {
				t.Errorf("%+v: the station's own date is %.2f", m, own.Exact)
			}
			sum, squares, n = sum+math.Abs(m.Days), squares+m.Days*m.Days, n+1
		}
		mean, stations := r.MeanMiss(e)
		if n != 5 || stations != n || !near(mean, sum/float64(n), 1e-9) || !near(r.MissDays[e], math.Sqrt(squares/float64(n)), 1e-9) {
			t.Errorf("%v: %d stations, mean %.2f, root mean square %.2f; by hand %.2f, %.2f", e, stations, mean, r.MissDays[e], sum/float64(n), math.Sqrt(squares/float64(n)))
		}
	}
	if two := valley(2, 1981, 2010, 0); len(two.Misses) != 0 || two.MissDays != [2]float64{} {
		t.Errorf("two stations cannot be hidden: %v", two.Misses)
	}
	if _, ok := r.Station("nobody"); ok {
		t.Error("a station that does not exist")
	}
}

// A band on the spot of one of two stations takes over its date; give or take is
// never less than the sampling error of the years.
func TestPlusMinus(t *testing.T) {
	r := valley(4, 1981, 2010, 0)
	b := bandAt(300, 300)
	b.Latitude, b.Longitude = known(44.0), known(-38.0)
	near := r.Climate(b).Date(record.Last, quantity.Half, Gate{Limit: 0})
	b.Latitude = known(45.0)
	far := r.Climate(b).Date(record.Last, quantity.Half, Gate{Limit: 0})
	sampling := 0.0
	for _, p := range near.Parts {
		sampling += p.Weight * p.Sampling
	}
	if near.PlusMinus < int(sampling) || near.PlusMinus > far.PlusMinus || near.PlusMinus == 0 {
		t.Errorf("give or take %d on the spot, %d at 111 km; sampling alone %.1f", near.PlusMinus, far.PlusMinus, sampling)
	}
}
