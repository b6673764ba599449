package band

import (
	"fmt"
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// cold is twelve winters with one night each, on 20 January, of -10, -11 ... -21 C.
func cold() *record.Daily {
	d := calm("s", 1990, 2002)
	for k := range 12 {
		set(d, day(1991+k, 1, 20), quantity.Hundredths(-1000-100*k))
	}
	return d
}

// By hand: the mean of -10 ... -21 is -15.5 C = 4.1 F, zone 7a (0 to 5 F); 200 m higher
// at 4.5 K for each 1,000 m it is 0.9 K colder, 2.48 F and 7a still; 800 m higher 3.6 K
// colder, -2.38 F and 6b.
func TestWinter(t *testing.T) {
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": cold()}, 1991, 2002, quantity.North)
	for _, c := range []struct {
		metres, mean, coldest float64
		zone                  string
	}{{500, -15.5, -21, "7a"}, {700, -16.4, -21.9, "7a"}, {1300, -19.1, -24.6, "6b"}} {
		w := r.Climate(bandAt(c.metres, c.metres)).Winter()
		if !w.Known || w.Years != 12 || w.Zone != c.zone || !near(float64(w.MeanExtreme), c.mean, 1e-9) || !near(float64(w.Coldest), c.coldest, 1e-9) {
			t.Errorf("at %.0f m: %+v, want mean %.1f, coldest %.1f, zone %s", c.metres, w, c.mean, c.coldest, c.zone)
		}
	}
	few := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": cold()}, 1991, 1999, quantity.North)
	if w := few.Climate(bandAt(500, 500)).Winter(); w.Known {
		t.Errorf("nine winters make no zone: %+v", w)
	}
}

// A hollow that is 1.5 K colder on still nights and no colder in winter: the winters
// of the slopes around must not be guessed the warmer for it.
func TestHollowsDoNotWarmWinters(t *testing.T) {
	var rows []catalog.Station
	records := map[string]*record.Daily{}
	for i, p := range []catalog.Position{catalog.Slope, catalog.Hollow, catalog.Slope} {
		id := fmt.Sprint(i)
		row := station(id, 500, 10*float64(i))
		row.Position = known(p)
		rows, records[id] = append(rows, row), cold()
	}
	r := NewRegion(rows, records, 1991, 2002, quantity.North)
	b := bandAt(500, 500)
	b.Latitude, b.Longitude = known(44.68), known(-38.0) // as far from all three as winters are carried
	if w := r.Climate(b).Winter(); !near(float64(w.MeanExtreme), -15.5, 1e-2) {
		t.Errorf("mean extreme %.2f, want -15.5 as everywhere", w.MeanExtreme)
	}
}

// A span of one summer by hand: 10 May to 20 September is 133 days, as frost counts.
func TestFrostFree(t *testing.T) {
	d := calm("s", 1990, 2021)
	for y := 1990; y <= 2021; y++ {
		set(d, day(y, 5, 10), -300)
		set(d, day(y, 9, 20), -300)
	}
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 1991, 2020, quantity.North)
	if days, known := r.Climate(bandAt(500, 500)).FrostFree(-2); !known || days != 133 {
		t.Errorf("%d %v, want 133", days, known)
	}
	if days, known := r.Climate(bandAt(500, 500)).FrostFree(-4); known {
		t.Errorf("it never falls to -4 C, so no span: %d", days)
	}
	want := r.Stations[0].climbs.night.FrostFree(frost.Years{From: 1991, To: 2020}, -200)
	if want.Days != 133 {
		t.Errorf("frost counts %d", want.Days)
	}
}

// By hand: the wave's steepest spring warming is 10 K x 2 pi/366 = 0.17 K a day, at
// 4.75 K for each 1,000 m 100 m are 0.475 K or about 2.8 days near the equinox; noise
// and the flatter shoulders make more of it, hardly over twice.
func TestDaysPerHundredMetres(t *testing.T) {
	c := valley(5, 1981, 2010, 0).Climate(bandAt(600, 800))
	for _, e := range []record.Event{record.Last, record.First} {
		if d := c.DaysPerHundredMetres(e); d < 1.5 || d > 6 {
			t.Errorf("%v: %.1f days for each 100 m", e, d)
		}
	}
	if c.site.low != 600 || c.site.high != 800 {
		t.Error("the band was moved for good")
	}
}

// What height does must not depend on where exactly a band lies. A quantile of thirty
// years moves in steps of up to about six days; over 400 m that is 1.5 days for each
// 100 m. Over 100 m the same bands differ by two to three.
func TestDaysPerHundredMetresIsSmooth(t *testing.T) {
	r := valley(5, 1981, 2010, 0)
	for _, e := range []record.Event{record.Last, record.First} {
		low, high := math.Inf(1), math.Inf(-1)
		for z := 500.0; z <= 920; z += 60 {
			d := r.Climate(bandAt(z, z+200)).DaysPerHundredMetres(e)
			low, high = min(low, d), max(high, d)
		}
		if high-low > 1.5 {
			t.Errorf("%v: from %.1f to %.1f days for each 100 m", e, low, high)
		}
	}
}

// Half dates at the band's middle, careful ones at its colder edge, which is the lower
// one where it gets warmer with height.
func TestElevation(t *testing.T) {
	r := valley(5, 1981, 2010, 0)
	c := r.Climate(bandAt(600, 800))
	if a, b := c.Elevation(record.Last, quantity.Half), c.Elevation(record.Last, quantity.Careful); a != 700 || b != 800 {
		t.Errorf("half at %.0f m, careful at %.0f; want 700, 800", float64(a), float64(b))
	}
	r.Lapse[record.Last] = -0.001
	if got := c.Elevation(record.Last, quantity.Careful); got != 600 {
		t.Errorf("warmer with height: careful at %.0f m, want 600", float64(got))
	}
	for _, x := range []struct {
		name string
		b    *catalog.Band
		low  float64
	}{
		{"only the lower end", &catalog.Band{Low: known(quantity.Metres(400))}, 400},
		{"only the upper end", &catalog.Band{High: known(quantity.Metres(900))}, 900},
		{"neither: the stations' mean", &catalog.Band{}, 800},
	} {
		if c := r.Climate(x.b); float64(c.site.low) != x.low || c.site.low != c.site.high {
			t.Errorf("%s: %.0f to %.0f m, want %.0f", x.name, float64(c.site.low), float64(c.site.high), x.low)
		}
	}
}

func TestLatitude(t *testing.T) {
	r := valley(3, 1991, 2000, 0) // 44 N, 8 and 16 km further north
	b := bandAt(2500, 2600)
	if lat, ok := r.Climate(b).Latitude(); !ok || !near(lat, 44+8/111.195, 1e-9) {
		t.Errorf("%.4f %v, want the stations' mean", lat, ok)
	}
	b.Latitude, b.Longitude = known(-33.0), known(18.0)
	if lat, _ := r.Climate(b).Latitude(); lat != -33 {
		t.Errorf("%.4f, want the band's own", lat)
	}
	if _, ok := (&Region{first: 0, last: -1}).Climate(bandAt(1, 2)).Latitude(); ok {
		t.Error("nobody gave a latitude")
	}
}

// By hand: eleven days' running mean, four fifths of them (nine) needed; a constant
// record has a constant soil, which a band 1,000 m higher has (4.5 + 6.5)/2 K colder.
func TestSoil(t *testing.T) {
	v := []quantity.Hundredths{110, 220, 330}
	for range 8 {
		v = append(v, 0)
	}
	if got := frost.Trailing(frost.Series{Values: v}, soilDays, soilDaysKnown).Values; got[8] != 73 || got[7].Known() || got[10] != 60 { // 660/9 = 73.3, 660/11
		t.Errorf("running means %v", got)
	}
	if got := []int{roundDiv(7, 2), roundDiv(-7, 2), roundDiv(-6, 4), roundDiv(5, 4)}; fmt.Sprint(got) != "[4 -4 -2 1]" {
		t.Errorf("rounded halves %v", got)
	}
	c := alone(calm("s", 1991, 2000), quantity.North)
	for slot, got := range c.Climate(bandAt(1500, 1500)).Soil(quantity.Half) {
		if !near(got, 1-5.5, 1e-9) {
			t.Fatalf("slot %d: %.3f C, want -4.5", slot, got)
		}
	}
	wave := alone(weather("s", 1991, 2020, 5, 10, 3), quantity.North).Climate(bandAt(500, 500)).Soil(quantity.Half)
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range wave {
		low, high = min(low, v), max(high, v)
	}
	if !near(low, 5+5-10, 1) || !near(high, 5+5+10, 1) { // the wave of means, a little flattened
		t.Errorf("soil from %.1f to %.1f C, want about 0 to 20", low, high)
	}
}

// The row of years behind an answer: sorted, none first in spring and last in fall,
// unusable at the end, each date with the day of its reading.
func TestYears(t *testing.T) {
	d := calm("s", 1990, 2012)
	for k := range 20 {
		switch {
		case k < 17:
			set(d, day(1991+k, 5, 20)-quantity.Day(k), -300)
			set(d, day(1991+k, 10, 1)+quantity.Day(k), -300)
		case k == 17:
			for i := range 11 {
				d.Min[day(1991+k, 6, 1)-d.Start+quantity.Day(i)] = quantity.Missing
				d.Min[day(1991+k, 2, 1)-d.Start+quantity.Day(i)] = quantity.Missing
			}
		}
	}
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 1991, 2010, quantity.North)
	r.Plain = true
	c := r.Climate(bandAt(500, 500))
	years := c.Years(record.Last, quantity.Half, 0, false, Gate{Limit: -2})
	got := ""
	for _, y := range years {
		text := fmt.Sprintf("%d %v", y.Year, y.State)
		if y.State == frost.Date {
			_, m, dd := y.Day.Date()
			text += fmt.Sprintf(" %02d-%02d", m, dd)
			if md := quantity.North.MonthDay(y.Slot); md != (quantity.MonthDay{Month: m, Day: dd}) {
				t.Errorf("%d: slot of %v, day of %02d-%02d", y.Year, md, m, dd)
			}
		}
		got += text + "; "
	}
	want := "2009 no freeze; 2010 no freeze; "
	for k := 16; k >= 0; k-- {
		want += fmt.Sprintf("%d date 05-%02d; ", 1991+k, 20-k)
	}
	want += "2008 unusable; "
	if got != want {
		t.Errorf("spring\n%s\nwant\n%s", got, want)
	}
	falls := c.Years(record.First, quantity.Half, 0, false, Gate{Limit: -2})
	if falls[0].Year != 1991 || falls[17].State != frost.NoFreeze || falls[19].State == frost.Date {
		t.Errorf("fall %+v", falls)
	}
	// The answer is a quantile of that row: 19 years, Weibull 20 x 0.5 = rank 10.
	a := c.Date(record.Last, quantity.Half, Gate{Limit: -2})
	if lower, upper, _ := Positions(a.Used, record.Last, quantity.Half); lower != 10 || upper != 10 || float64(years[9].Slot) != a.Exact {
		t.Errorf("rank %d-%d is slot %d, the answer %.1f", lower, upper, years[9].Slot, a.Exact)
	}
}

// By hand: a station at 44 N, 500 m, whose coldest winter nights are -15.5 C on average. A
// degree of latitude is 111.2 km: 0.71 of one is 79 km, 0.73 is 81.
func TestWintersAreNotCarriedTooFar(t *testing.T) {
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": cold()}, 1991, 2002, quantity.North)
	for _, x := range []struct {
		name      string
		north     float64
		low, high float64
		known     bool
	}{
		{"79 km away", 0.71, 500, 500, true}, {"81 km away", 0.73, 500, 500, false},
		{"1,790 m higher", 0, 2290, 2400, true}, {"1,810 m higher", 0, 2310, 2400, false},
	} {
		b := bandAt(x.low, x.high)
		b.Latitude, b.Longitude = known(44+x.north), known(-38.0)
		c := r.Climate(b)
		w, odds := c.Winter(), c.Wintering(-30, 0)
		if w.Known != x.known || odds.Known != x.known || !x.known && w.Why != OutOfReach {
			t.Errorf("%s: %+v, odds %+v", x.name, w, odds)
		}
	}
	if w := r.Climate(bandAt(500, 500)).Winter(); !w.Known {
		t.Errorf("a band without a place of its own has that of the station: %+v", w)
	}
}

// A band whose own station typed that it freezes in half the years after 20 April and before 20
// October, 50 km from a record that never gets colder than 1 C, and from one that does.
func TestWintersThatDatesContradict(t *testing.T) {
	mild := calm("s", 1990, 2002) // never below 1 C
	typed := func(last, first quantity.MonthDay) *record.Freeze {
		return &record.Freeze{Typed: true, Rows: []record.FreezeRow{{Event: record.Last, Odds: 0.5, Date: last}, {Event: record.First, Odds: 0.5, Date: first}}}
	}
	for _, x := range []struct {
		name   string
		record *record.Daily
		table  *record.Freeze
		known  bool
	}{
		{"freezes half the year", mild, typed(quantity.MonthDay{Month: 4, Day: 20}, quantity.MonthDay{Month: 10, Day: 20}), false},
		{"freezes half the year beside cold winters", cold(), typed(quantity.MonthDay{Month: 4, Day: 20}, quantity.MonthDay{Month: 10, Day: 20}), true},
	} {
		w := Weather{Records: map[string]*record.Daily{"s": x.record}, Tables: map[string]*record.Freeze{"typed": x.table}}
		r := RegionOf([]catalog.Station{station("s", 500, 0), station("typed", 500, 50)}, w, 1991, 2002, quantity.North)
		b := bandAt(500, 500)
		b.Latitude, b.Longitude = r.Stations[1].Row.Latitude, r.Stations[1].Row.Longitude
		got := r.Climate(b).Winter()
		if got.Known != x.known || !x.known && got.Why != Contradicted {
			t.Errorf("%s: %+v", x.name, got)
		}
	}
}
