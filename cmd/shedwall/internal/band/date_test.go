package band

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// tenYears is a record of 1991-2001 with a night of -3 C on 1 April + 3 days for each
// year since 1991, and soil that comes to 6 C on 28 April - 3 days for each: by
// hand, the daily mean leaps from 1 to 12 C on a day X, and the mean of eleven days
// is 1 + k on the k-th day of them, 6 on X + 4.
//
//	year   1991   92   93   94   95   96   97   98   99  2000
//	frost  4-01 4-04 4-07 4-10 4-13 4-16 4-19 4-22 4-25 4-28
//	soil   4-28 4-25 4-22 4-19 4-16 4-13 4-10 4-07 4-04 4-01
func tenYears() *record.Daily {
	d := calm("s", 1990, 2000)
	for k := range 10 {
		y := 1991 + k
		for on := day(y, 4, 24) - quantity.Day(3*k); on < day(y, 9, 1); on++ {
			d.Max[on-d.Start] = 2300
		}
		set(d, day(y, 4, 1)+quantity.Day(3*k), -300)
	}
	return d
}

func north(t *testing.T, got quantity.Slot, want string) {
	t.Helper()
	if date := quantity.North.MonthDay(got).String(); date != want {
		t.Errorf("%s, want %s", date, want)
	}
}

// The worst gate of each year: by hand from the table above the later of the two is
// 4-16, 4-16, 4-19, 4-19, 4-22, 4-22, 4-25, 4-25, 4-28, 4-28 in order. Ten years:
// Weibull rank 11 x 0.5 = 5.5 is 4-22; 11 x 0.9 = 9.9 is 4-28. Each gate alone has
// 4-14.5 and 4-27.7, so that the later of separate quantiles would be a week early.
func TestWorstGateOfEachYear(t *testing.T) {
	d := tenYears()
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 1991, 2000, quantity.North)
	c := r.Climate(bandAt(500, 500))
	night, soil := Gate{Series: Night, Limit: -2}, Gate{Series: Soil, Limit: 6}
	for _, x := range []struct {
		name  string
		odds  quantity.Odds
		gates []Gate
		want  string
		exact float64 // days after 1 April
	}{
		{"frost alone, half", quantity.Half, []Gate{night}, "04-15", 13.5},
		{"soil alone, half", quantity.Half, []Gate{soil}, "04-15", 13.5},
		{"both, half", quantity.Half, []Gate{night, soil}, "04-22", 21},
		{"frost alone, careful", quantity.Careful, []Gate{night}, "04-28", 26.7},
		{"both, careful", quantity.Careful, []Gate{night, soil}, "04-28", 27},
	} {
		a := c.Date(record.Last, x.odds, x.gates...)
		april := float64(quantity.North.SlotOf(quantity.MonthDay{Month: 4, Day: 1}))
		if a.State != Dated || !near(a.Exact-april, x.exact, 1e-9) || !a.Estimate || a.Used != 10 || a.Without != 0 {
			t.Errorf("%s: %+v, want %.1f days after 1 April", x.name, a, x.exact)
		}
		north(t, a.Slot, x.want)
	}
	// Frost decides in the five years from 1996, soil in the five before: a tie, the first named.
	if a := c.Date(record.Last, quantity.Half, soil, night); a.Decides != 0 {
		t.Errorf("decided by gate %d", a.Decides)
	}
	// Twenty days from sowing to emergence: the frost gate opens twenty days earlier.
	night.Days = NewDays(20, nil)
	a := c.Date(record.Last, quantity.Half, night, soil)
	north(t, a.Slot, "04-15") // soil is now the later but in 1999 (4-05) and 2000 (4-08): 4-05 4-07 4-08 4-10 4-13 | 4-16 ..., halfway
	if a.Decides != 1 {
		t.Errorf("decided by gate %d, want the soil", a.Decides)
	}
	night.Days = NewDays(0, []quantity.Slot{NoSlot})
	if a := c.Date(record.Last, quantity.Half, night, soil); a.State != Never {
		t.Errorf("no slot will do: %+v", a)
	}
}

// By hand: one night of -3 C among six of 1 C makes a week of 3/7 = 0.43 C, the last
// on the seventh day from that night on.
func TestWeekGate(t *testing.T) {
	d := tenYears()
	c := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 1991, 2000, quantity.North).Climate(bandAt(500, 500))
	night := c.Date(record.Last, quantity.Half, Gate{Series: Night, Limit: -2})
	week := c.Date(record.Last, quantity.Half, Gate{Series: Week, Limit: 0.43})
	if week.Exact != night.Exact+6 {
		t.Errorf("a week at 0.43 C ends on %.1f, the night is %.1f: want 6 days later", week.Exact, night.Exact)
	}
	if a := c.Date(record.Last, quantity.Half, Gate{Series: Week, Limit: 0.42}); a.State != NoneNeeded || a.Without != 10 {
		t.Errorf("no week is as cold as 0.42 C: %+v", a)
	}
}

// thirty is thirty falls and springs, 1991-2020, with a spring night of -3 C on 10 May
// in the first n years, and summers with a night of -3 C on 30 July in the first m.
func thirty(id string, n, m int) *record.Daily {
	d := calm(id, 1990, 2021)
	for k := range n {
		set(d, day(1991+k, 5, 10), -300)
	}
	for k := range m {
		set(d, day(1991+k, 7, 30), -300)
	}
	return d
}

func TestDateStates(t *testing.T) {
	for _, x := range []struct {
		name          string
		d             *record.Daily
		careful, half State
	}{
		{"never so cold", thirty("s", 0, 0), NoneNeeded, NoneNeeded},
		{"2 of 30 years", thirty("s", 2, 0), NoneNeeded, NoneNeeded},
		{"3 of 30: rank 27.5 lies between a year without and a date", thirty("s", 3, 0), Dated, NoneNeeded},
		{"14 of 30", thirty("s", 14, 0), Dated, NoneNeeded},
		{"15 of 30", thirty("s", 15, 0), Dated, Dated},
		{"all", thirty("s", 30, 0), Dated, Dated},
		{"3 of 30 summers", thirty("s", 30, 3), Dated, Dated},
		{"4 of 30 summers", thirty("s", 30, 4), AnyMonth, Dated},
		{"15 of 30 summers", thirty("s", 30, 15), AnyMonth, Dated},
		{"16 of 30 summers", thirty("s", 30, 16), AnyMonth, AnyMonth},
	} {
		r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": x.d}, 1991, 2020, quantity.North)
		c := r.Climate(bandAt(500, 500))
		g := Gate{Series: Night, Limit: 0}
		if a, b := c.Date(record.Last, quantity.Careful, g), c.Date(record.Last, quantity.Half, g); a.State != x.careful || b.State != x.half {
			t.Errorf("%s: careful %d, half %d; want %d, %d", x.name, a.State, b.State, x.careful, x.half)
		}
	}
}

// Two stations at one height, 20 km apart, with a band halfway: each counts half. A
// night at midsummer in 6 of 30 years at one is 10 % of the blend, in 7 it is more.
func TestAnyMonthOnTheBlend(t *testing.T) {
	for _, x := range []struct {
		summers int
		want    State
	}{{6, Dated}, {7, AnyMonth}} {
		rows := []catalog.Station{station("a", 500, -10), station("b", 500, 10)}
		records := map[string]*record.Daily{"a": thirty("a", 30, x.summers), "b": thirty("b", 30, 0)}
		r := NewRegion(rows, records, 1991, 2020, quantity.North)
		b := bandAt(500, 500)
		b.Latitude, b.Longitude = known(44.0), known(-38.0)
		a := r.Climate(b).Date(record.Last, quantity.Careful, Gate{Limit: -2})
		if a.State != x.want {
			t.Errorf("%d summers of 30 at one of two: state %d, want %d", x.summers, a.State, x.want)
		}
		for _, p := range a.Parts {
			if !near(p.Weight, 0.5, 1e-6) {
				t.Errorf("station %d counts %.4f, want half", p.Station, p.Weight)
			}
		}
	}
}

// Soil that never gets there: a date while it does in most years, then none.
func TestNever(t *testing.T) {
	for _, x := range []struct {
		warm int
		want State
	}{{30, Dated}, {16, Dated}, {15, Dated}, {14, Never}, {0, Never}} {
		d := calm("s", 1990, 2021)
		for k := range x.warm {
			for on := day(1991+k, 5, 1); on < day(1991+k, 8, 1); on++ {
				d.Max[on-d.Start] = 3900 // a mean of 20 C
			}
		}
		r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 1991, 2020, quantity.North)
		a := r.Climate(bandAt(500, 500)).Date(record.Last, quantity.Half, Gate{Series: Soil, Limit: 15})
		if a.State != x.want {
			t.Errorf("warm in %d of 30 years: %+v, want state %d", x.warm, a, x.want)
		}
	}
}

// A station that does not get so cold counts as midwinter: by hand, half of 10 May
// (slot 283) and half of 16 January (slot 168) is slot 225.5, rounded later.
func TestStationWithoutADateCountsAsMidwinter(t *testing.T) {
	rows := []catalog.Station{station("a", 500, -10), station("b", 500, 10)}
	records := map[string]*record.Daily{"a": thirty("a", 30, 0), "b": thirty("b", 0, 0)}
	b := bandAt(500, 500)
	b.Latitude, b.Longitude = known(44.0), known(-38.0)
	c := NewRegion(rows, records, 1991, 2020, quantity.North).Climate(b)
	a := c.Date(record.Last, quantity.Half, Gate{Limit: -2})
	if a.State != Dated || !near(a.Exact, 225.5, 1e-3) || a.Slot != 226 {
		t.Errorf("%+v, want slot 225.5", a)
	}
	if got := []float64{a.Parts[0].Counts, a.Parts[1].Counts}; !reflect.DeepEqual(got, []float64{283, 168}) {
		t.Errorf("the parts count %v, want 283 and 168", got)
	}
	b.Latitude = known(44 + 5/111.195) // nearer to the one without
	if a := NewRegion(rows, records, 1991, 2020, quantity.North).Climate(b).Date(record.Last, quantity.Half, Gate{Limit: -2}); a.State != NoneNeeded {
		t.Errorf("with more than half the weight at the other: %+v", a)
	}
}

// A station whose soil never gets there counts as the end of the season year: by hand,
// soil of 15 C on the 9th of 11 days of 20 C (1 + 19 x 9/11 = 16.5; 14.8 on the 8th)
// from 1 May, 9 May or slot 282, and 31 July or slot 365, by weights of 3 km against 17
// of 30: exp(-0.1) to exp(-0.5667) is 0.6146 to 0.3854. Where it has half the weight
// there is no date.
func TestStationThatNeverComesFree(t *testing.T) {
	warm := calm("a", 1990, 2021)
	for k := range 30 {
		for on := day(1991+k, 5, 1); on < day(1991+k, 8, 1); on++ {
			warm.Max[on-warm.Start] = 3900
		}
	}
	r := NewRegion([]catalog.Station{station("a", 900, -10), station("b", 900, 10)}, map[string]*record.Daily{"a": warm, "b": calm("b", 1990, 2021)}, 1991, 2020, quantity.North)
	b := bandAt(900, 900)
	b.Position, b.Offset = known(catalog.Ridge), known(quantity.Kelvins(0)) // on other ground, so no own station
	for e := range r.offsets {                                              // the stations' own temperatures aside
		r.offsets[e] = make([]quantity.Kelvins, 2)
	}
	soil := Gate{Series: Soil, Limit: 15}
	b.Latitude, b.Longitude = known(44-7/111.195), known(-38.0)
	a := r.Climate(b).Date(record.Last, quantity.Half, soil)
	if want := 0.6146*282 + 0.3854*365; a.State != Dated || !near(a.Exact, want, 0.02) {
		t.Errorf("%+v, want slot %.2f", a, want)
	}
	b.Latitude = known(44.0)
	if a := r.Climate(b).Date(record.Last, quantity.Half, soil); a.State != Never {
		t.Errorf("with half the weight: %+v", a)
	}
}

// Missing days: by frost's rule 10 of the stretch that matters may be missing.
func TestMissingYears(t *testing.T) {
	d := thirty("s", 30, 0)
	for k := range 5 {
		for i := range 11 {
			d.Min[day(1991+k, 6, 1)-d.Start+quantity.Day(i)] = quantity.Missing
		}
	}
	c := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 1991, 2020, quantity.North).Climate(bandAt(500, 500))
	a := c.Date(record.Last, quantity.Careful, Gate{Limit: 0})
	if a.State != Dated || a.Used != 25 || a.Unusable != 5 || a.Estimate {
		t.Errorf("%+v, want 25 used and 5 unusable", a)
	}
	// A year that another station saw is not lost.
	rows := []catalog.Station{station("s", 500, 0), station("o", 500, 5)}
	c = NewRegion(rows, map[string]*record.Daily{"s": d, "o": thirty("o", 30, 0)}, 1991, 2020, quantity.North).Climate(bandAt(500, 500))
	if a := c.Date(record.Last, quantity.Careful, Gate{Limit: 0}); a.Used != 30 || a.Unusable != 0 || a.Parts[0].Used != 25 || a.Parts[1].Used != 30 {
		t.Errorf("%+v, want 30 used", a)
	}
	// Station years that are too few are not heard, nor counted.
	few := thirty("o", 30, 0)
	for i := range few.Min {
		if on := few.Start + quantity.Day(i); on >= day(1999, 8, 1) {
			few.Min[i] = quantity.Missing
		}
	}
	c = NewRegion(rows, map[string]*record.Daily{"s": d, "o": few}, 1991, 2020, quantity.North).Climate(bandAt(500, 500))
	if a := c.Date(record.Last, quantity.Careful, Gate{Limit: 0}); a.Used != 25 || len(a.Parts) != 1 || a.Estimate || !near(a.Parts[0].Weight, 1, 1e-9) {
		t.Errorf("%+v, want 25 used from one station", a)
	}
}

func TestPoorRecords(t *testing.T) {
	gone := calm("s", 2000, 2005)
	for i := range gone.Min {
		gone.Min[i], gone.Max[i] = quantity.Missing, quantity.Missing
	}
	for _, x := range []struct {
		name     string
		d        *record.Daily
		from, to int
		stations int
	}{
		{"no record", nil, 0, 0, 0},
		{"an empty record", &record.Daily{Start: day(2000, 1, 1)}, 0, 0, 0},
		{"no reading", gone, 0, 0, 0},
		{"years that the record does not touch", calm("s", 1950, 1960), 1991, 2020, 0},
		{"one year", weather("s", 2001, 2001, 6, 10, 1), 0, 0, 1},
		{"one day", &record.Daily{Start: day(2000, 1, 1), Min: []quantity.Hundredths{0}, Max: []quantity.Hundredths{0}}, 0, 0, 1},
	} {
		records := map[string]*record.Daily{}
		if x.d != nil {
			records["s"] = x.d
		}
		r := NewRegion([]catalog.Station{station("s", 500, 0)}, records, x.from, x.to, quantity.North)
		if len(r.Stations) != x.stations || len(r.Left) != 1-x.stations {
			t.Errorf("%s: %d stations, left out %v", x.name, len(r.Stations), r.Left)
		}
		c := r.Climate(bandAt(400, 600))
		for _, e := range []record.Event{record.Last, record.First} {
			for _, g := range []Gate{{Series: Night}, {Series: Week}, {Series: Soil, Limit: 5}} {
				if a := c.Date(e, quantity.Half, g); a.State != NotKnown || a.Used != 0 {
					t.Errorf("%s: %+v, want nothing known", x.name, a)
				}
			}
		}
		if days, known := c.FrostFree(0); known {
			t.Errorf("%s: %d frost-free days", x.name, days)
		}
		if w := c.Winter(); w.Known {
			t.Errorf("%s: winter %+v", x.name, w)
		}
		if d := c.DaysPerHundredMetres(record.Last); d != 0 {
			t.Errorf("%s: %.1f days for 100 m", x.name, d)
		}
		c.Soil(quantity.Half)
		c.Latitude()
	}
	rows := []catalog.Station{{ID: "nowhere", Name: "no elevation"}}
	if r := NewRegion(rows, map[string]*record.Daily{"nowhere": weather("nowhere", 1991, 2000, 6, 10, 1)}, 0, 0, quantity.North); len(r.Left) != 1 {
		t.Errorf("a station without elevation: left out %v", r.Left)
	}
}

// A record without maxima has no soil; its frost dates stand.
func TestNoMaxima(t *testing.T) {
	d := weather("s", 1991, 2020, 6, 10, 1)
	for i := range d.Max {
		d.Max[i] = quantity.Missing
	}
	c := alone(d, quantity.North).Climate(bandAt(500, 500))
	if c.Soil(quantity.Half) != nil {
		t.Error("soil without maxima")
	}
	if a := c.Date(record.Last, quantity.Half, Gate{Series: Soil, Limit: 5}); a.State != NotKnown {
		t.Errorf("soil date %+v", a)
	}
	if a := c.Date(record.Last, quantity.Half, Gate{Limit: 0}); a.State != Dated || a.Used != 30 {
		t.Errorf("frost date %+v", a)
	}
}

// Two runs say the same, Date changes nothing, and remembering changes no answer.
func TestDateIsPure(t *testing.T) {
	ask := func(c *Climate) string {
		out := ""
		for _, e := range []record.Event{record.Last, record.First} {
			for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
				for limit := quantity.Celsius(-4); limit < 3; limit++ {
					out += fmt.Sprintf("%+v\n", c.Date(e, odds, Gate{Limit: limit}, Gate{Series: Week, Limit: limit + 4}))
				}
				out += fmt.Sprintf("%+v\n", c.Date(e, odds, Gate{Series: Soil, Limit: 8}))
			}
		}
		return out + fmt.Sprint(c.Winter(), c.Soil(quantity.Half))
	}
	r := valley(4, 1991, 2010, 0)
	before := fmt.Sprintf("%+v", r.Stations[0].Record.Min)
	c := r.Climate(bandAt(500, 800))
	first := ask(c)
	if ask(c) != first || ask(valley(4, 1991, 2010, 0).Climate(bandAt(500, 800))) != first {
		t.Error("two runs differ")
	}
	remembering := c.Remembering()
	for range 2 { // the second time from memory
		if ask(remembering) != first {
			t.Error("a climate that remembers says something else")
		}
	}
	if fmt.Sprintf("%+v", r.Stations[0].Record.Min) != before {
		t.Error("the record was changed")
	}
	if math.IsNaN(c.ownShare) {
		t.Error("share of own stations is no number")
	}
}
