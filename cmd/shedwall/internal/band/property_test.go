package band

import (
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// rank puts answers in order of caution: later in spring is more cautious, earlier
// in fall; no date is the least where none is needed and the most where there is none.
func rank(a Answer, e record.Event) float64 {
	sign := 1.0
	if e == record.First {
		sign = -1
	}
	switch a.State {
	case NoneNeeded:
		return -1e6
	case Dated:
		return sign * a.Exact
	case Never, AnyMonth:
		return 1e6
	}
	panic("not known")
}

// noLess fails unless answer b is at least as cautious as a, but for the rounding of
// weighted sums.
func noLess(t *rapid.T, what string, e record.Event, a, b Answer) {
	t.Helper()
	if rank(b, e) < rank(a, e)-1e-6 {
		t.Fatalf("%s, %v: %+v, against %+v", what, e, b, a)
	}
	if a.State == Dated && b.State == Dated && (e == record.Last && b.Slot < a.Slot || e == record.First && b.Slot > a.Slot) {
		t.Fatalf("%s, %v: slot %d against %d", what, e, b.Slot, a.Slot)
	}
}

var (
	events = []record.Event{record.Last, record.First}
	levels = []quantity.Odds{quantity.Careful, quantity.Half}
)

// Records without gaps of four stations, where midwinter is cold enough for the
// limits drawn at every one of them: what frost shows for one record must hold for
// the blend. (Where a station has dates of its own before midwinter, from a threshold
// it hardly ever reaches, the blend may move by a day or two the other way.)
func TestDatesKeepTheirOrder(t *testing.T) {
	mild, warmer := valley(4, 1991, 2010, 0), valley(4, 1991, 2010, 100)
	rapid.Check(t, func(t *rapid.T) {
		mild.Plain = rapid.Bool().Draw(t, "plain")
		warmer.Plain = mild.Plain
		low := rapid.Float64Range(200, 900).Draw(t, "low")
		b := bandAt(low, low+rapid.Float64Range(0, 300).Draw(t, "height"))
		b.Position = known(catalog.Position(rapid.IntRange(0, 3).Draw(t, "position")))
		if rapid.Bool().Draw(t, "placed") {
			b.Latitude, b.Longitude = known(44+rapid.Float64Range(-0.3, 0.5).Draw(t, "north")), known(-38.0)
		}
		c := mild.Climate(b)
		limit := quantity.Celsius(rapid.Float64Range(-5, 4).Draw(t, "limit"))
		night := Gate{Limit: limit}
		week := Gate{Series: Week, Limit: quantity.Celsius(rapid.Float64Range(0, 8).Draw(t, "week"))}
		soil := Gate{Series: Soil, Limit: quantity.Celsius(rapid.Float64Range(4, 12).Draw(t, "soil"))}
		up := quantity.Celsius(rapid.Float64Range(0, 3).Draw(t, "warmer by"))
		for _, e := range events {
			for _, odds := range levels {
				a := c.Date(e, odds, night)
				noLess(t, "a warmer limit", e, a, c.Date(e, odds, Gate{Limit: limit + up}))
				noLess(t, "an allowance", e, a, c.Date(e, odds, Gate{Limit: limit, Allowance: quantity.Kelvins(up)}))
				noLess(t, "no gain", e, c.Date(e, odds, Gate{Limit: limit, Gain: quantity.Kelvins(up)}), a)
				noLess(t, "a second gate", e, a, c.Date(e, odds, night, week))
				noLess(t, "a record 1 K colder", e, warmer.Climate(b).Date(e, odds, night), a)
			}
			noLess(t, "careful", e, c.Date(e, quantity.Half, night), c.Date(e, quantity.Careful, night))
			noLess(t, "careful, two gates", e, c.Date(e, quantity.Half, night, week), c.Date(e, quantity.Careful, night, week))
		}
		noLess(t, "careful, with soil", record.Last, c.Date(record.Last, quantity.Half, night, soil), c.Date(record.Last, quantity.Careful, night, soil))
		noLess(t, "a soil gate", record.Last, c.Date(record.Last, quantity.Half, night), c.Date(record.Last, quantity.Half, night, soil))
		noLess(t, "warmer soil asked for", record.Last, c.Date(record.Last, quantity.Half, soil), c.Date(record.Last, quantity.Half, Gate{Series: Soil, Limit: soil.Limit + up}))
		noLess(t, "a record 1 K colder, soil", record.Last, warmer.Climate(b).Date(record.Last, quantity.Half, soil), c.Date(record.Last, quantity.Half, soil))
	})
}

// Where the lapse is positive and nothing else changes with height (no station near,
// the offset given), a higher band is never earlier in spring nor later in fall.
func TestHigherIsLater(t *testing.T) {
	r := valley(4, 1991, 2010, 0)
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(100, 900).Draw(t, "low")
		up := rapid.Float64Range(0, 400).Draw(t, "higher by")
		at := func(metres float64) *Climate {
			b := bandAt(metres, metres+150)
			b.Position, b.Offset = known(catalog.Ridge), known(quantity.Kelvins(0))
			return r.Climate(b)
		}
		gate := Gate{Limit: quantity.Celsius(rapid.Float64Range(-4, 3).Draw(t, "limit"))}
		for _, e := range events {
			for _, odds := range levels {
				noLess(t, "higher", e, at(low).Date(e, odds, gate), at(low+up).Date(e, odds, gate))
			}
		}
	})
}

// Weights are shares; whatever stations have coordinates.
func TestWeights(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := &Region{}
		for range rapid.IntRange(1, 6).Draw(t, "stations") {
			r.Stations = append(r.Stations, &Station{Row: &catalog.Station{}, site: drawSite(t)})
		}
		r.first, r.last = 0, -1
		for e := range r.offsets {
			r.offsets[e] = make([]quantity.Kelvins, len(r.Stations))
		}
		r.winters = make([]quantity.Kelvins, len(r.Stations))
		b := bandAt(100, 300)
		if rapid.Bool().Draw(t, "placed") {
			b.Latitude, b.Longitude = known(44.2), known(-38.0)
		}
		c := r.Climate(b)
		sum := 0.0
		for i := range r.Stations {
			if w := c.Weight(i); w < 0 || w > 1+1e-9 {
				t.Fatalf("station %d counts %.4f", i, w)
			}
			sum += c.Weight(i)
		}
		if !near(sum, 1, 1e-9) || c.ownShare < 0 || c.ownShare > 1+1e-9 {
			t.Fatalf("weights sum to %.6f, own share %.4f", sum, c.ownShare)
		}
	})
}

// By hand: exp(-30/30) against exp(0); one without coordinates counts as one 30 km
// off. A station on the spot takes 49/58, and its share of the rest.
func TestWeightsByHand(t *testing.T) {
	e := 0.36787944
	rows := []catalog.Station{station("near", 2000, 0), station("off", 2000, 30), {ID: "unplaced", Elevation: known(quantity.Metres(2000)), Position: known(catalog.Slope)}}
	records := map[string]*record.Daily{}
	for _, s := range rows {
		records[s.ID] = weather(s.ID, 1991, 2000, 6, 10, 1)
	}
	r := NewRegion(rows, records, 0, 0, quantity.North)
	b := bandAt(500, 700)
	b.Latitude, b.Longitude = known(44.0), known(-38.0)
	c := r.Climate(b)
	for i, want := range []float64{1 / (1 + 2*e), e / (1 + 2*e), e / (1 + 2*e)} {
		if !near(c.Weight(i), want, 1e-4) || c.OwnStation(i) {
			t.Errorf("station %d counts %.4f, own %v; want %.4f", i, c.Weight(i), c.OwnStation(i), want)
		}
	}
	b = bandAt(1900, 2100)
	b.Latitude, b.Longitude = known(44.0), known(-38.0)
	c = r.Climate(b)
	if want := 49.0/58 + 9.0/58/(1+2*e); !near(c.Weight(0), want, 1e-4) || !c.OwnStation(0) {
		t.Errorf("the band's own station counts %.4f, own %v; want %.4f", c.Weight(0), c.OwnStation(0), want)
	}
}
