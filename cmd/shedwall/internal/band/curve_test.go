package band

import (
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Curves say what Date says in brief at every point of the grid, whatever the records are like:
// coarse steps, holes, few years, summers with frost, trends, the south, plain years.
func TestCurvesAreDates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var rows []catalog.Station
		records := map[string]*record.Daily{}
		from := rapid.IntRange(1975, 1985).Draw(t, "from")
		for i := range rapid.IntRange(0, 4).Draw(t, "stations") {
			id, z := fmt.Sprint(i), rapid.Float64Range(100, 1500).Draw(t, "height")
			row := station(id, z, 10*float64(i))
			row.Position = known(catalog.Position(rapid.IntRange(0, 3).Draw(t, "position")))
			a := from + rapid.IntRange(0, 10).Draw(t, "begins")
			d := weather(id, a, a+rapid.IntRange(0, 33).Draw(t, "years"), rapid.Float64Range(-5, 14).Draw(t, "mean"), rapid.Float64Range(3, 14).Draw(t, "swing"), rapid.Uint64().Draw(t, "seed"))
			d.Step = rapid.SampledFrom([]record.StepKind{record.TenthC, record.HundredthC, record.WholeF, record.HalfC}).Draw(t, "step")
			warming := rapid.IntRange(-3, 3).Draw(t, "warming")
			for k := range d.Min {
				d.Min[k] += quantity.Hundredths(warming * k / 365 * 3)
			}
			for range rapid.IntRange(0, 4).Draw(t, "holes") {
				at := rapid.IntRange(0, len(d.Min)-1).Draw(t, "hole")
				for k := at; k < min(at+40, len(d.Min)); k++ {
					d.Min[k] = quantity.Missing
				}
			}
			rows, records[id] = append(rows, row), d
		}
		r := NewRegion(rows, records, 0, 0, quantity.Hemisphere(rapid.IntRange(0, 1).Draw(t, "hemisphere")))
		r.Plain = rapid.Bool().Draw(t, "plain")
		low := rapid.Float64Range(0, 1500).Draw(t, "low")
		c := r.Climate(bandAt(low, low+rapid.Float64Range(0, 300).Draw(t, "high")))
		curves := c.Curves()
		for _, e := range events {
			for _, odds := range levels {
				for i := range int(curveLen) {
					want := summary(c.Date(e, odds, Gate{Limit: limitAt(i)}))
					if got, ok := curves.At(e, odds, Gate{Limit: limitAt(i)}); !ok || !reflect.DeepEqual(*got, want) {
						t.Fatalf("%v %.1f at %.1f C: %+v, Date says %+v", e, odds, float64(limitAt(i)), got, want)
					}
				}
			}
		}
	})
}

func TestCurvesOffTheGrid(t *testing.T) {
	k := valley(3, 1991, 2010, 0).Climate(bandAt(400, 600)).Curves()
	for _, c := range []struct {
		g    Gate
		odds quantity.Odds
		ok   bool
	}{
		{Gate{Limit: -30}, quantity.Half, true},
		{Gate{Limit: 15}, quantity.Careful, true},
		{Gate{Limit: -30.1}, quantity.Half, false},
		{Gate{Limit: 15.1}, quantity.Half, false},
		{Gate{Limit: -2.2, Allowance: 4, Gain: 1.3}, quantity.Careful, true},
		{Gate{Limit: -2.22}, quantity.Half, false},
		{Gate{Limit: 0, Gain: 1.11}, quantity.Half, false},
		{Gate{Limit: 0}, 0.3, false},
		{Gate{Series: Week, Limit: 7}, quantity.Half, false},
		{Gate{Days: NewDays(0, nil)}, quantity.Half, false},
	} {
		if _, ok := k.At(record.Last, c.odds, c.g); ok != c.ok {
			t.Errorf("%+v at %.2f: on the grid %v, want %v", c.g, float64(c.odds), ok, c.ok)
		}
	}
	c := valley(3, 1991, 2010, 0).Climate(bandAt(400, 600))
	g := Gate{Limit: -2.2, Allowance: 4, Gain: 1.3}
	if a, _ := k.At(record.Last, quantity.Careful, g); a.Exact != c.Date(record.Last, quantity.Careful, g).Exact || a.Exact == c.Date(record.Last, quantity.Careful, Gate{Limit: -2.2}).Exact {
		t.Errorf("%+v: %.2f", g, a.Exact)
	}
	tables := tableRegion(quantity.North, publishedTable())
	climate := tables.Climate(bandAt(500, 500))
	got, _ := climate.Curves().At(record.Last, quantity.Half, Gate{})
	if want := climate.Date(record.Last, quantity.Half, Gate{}); got.State != Dated || got.Exact != want.Exact {
		t.Errorf("from a table: %+v, Date says %+v", got, want)
	}
}

// A date that was asked for before is looked up, which makes nothing.
func TestLookingUpMakesNothing(t *testing.T) {
	k := valley(3, 1991, 2010, 0).Climate(bandAt(400, 600)).Curves()
	drawn(t, k)
	if n := testing.AllocsPerRun(100, func() { k.At(record.First, quantity.Careful, Gate{Limit: -2.2}) }); n != 0 {
		t.Errorf("%.0f allocations", n)
	}
}

// tenStations is a region of ten stations of thirty years.
func tenStations() *Region { return valley(10, 1981, 2010, 0) }

// All dates of a band: both events, both odds, every tenth of a degree from -30 to 15 C.
func BenchmarkCurves(b *testing.B) {
	r := tenStations()
	b.ReportAllocs()
	for b.Loop() {
		drawn(b, r.Climate(bandAt(600, 800)).Curves())
	}
}

// drawn is every point of curves.
func drawn(t testing.TB, k *Curves) (out []Answer) {
	for _, e := range events {
		for _, odds := range levels {
			for i := range int(curveLen) {
				a, ok := k.At(e, odds, Gate{Limit: limitAt(i)})
				if !ok {
					t.Fatal("off the grid")
				}
				out = append(out, *a)
			}
		}
	}
	return out
}

// One date looked up, and one worked out from the records.
func BenchmarkDate(b *testing.B) {
	c := tenStations().Climate(bandAt(600, 800))
	k := c.Curves()
	drawn(b, k)
	b.Run("looked up", func(b *testing.B) {
		b.ReportAllocs()
		i := 0
		for b.Loop() {
			i++
			if _, ok := k.At(record.Last, quantity.Half, Gate{Limit: limitAt(i % int(curveLen))}); !ok {
				b.Fatal("off the grid")
			}
		}
	})
	b.Run("worked out", func(b *testing.B) {
		b.ReportAllocs()
		i := 0
		for b.Loop() {
			i++
			c.Date(record.Last, quantity.Half, Gate{Limit: limitAt(i % int(curveLen))})
		}
	})
}
