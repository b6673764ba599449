package band

import (
	"strconv"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// plainMisses hides each station once more, with the years taken as they were.
func plainMisses(stations []catalog.Station, records map[string]*record.Daily) (r *Region, last, first float64) {
	r = NewRegion(stations, records, 1975, 2004, quantity.North)
	r.UsePlainYears()
	last, _ = r.MeanMiss(record.Last)
	first, _ = r.MeanMiss(record.First)
	return r, last, first
}

// Each of the 17 stations hidden and guessed from the others, Corvara's hollow
// included: medians at 0 C of 1975-2004 may be 8 days off on average with nothing
// declared, where the nearest station by altitude is 13 off and one's own mean
// temperature, if it were known, would still leave 3. Declared positions must help.
func TestTrentinoStationsGuessEachOther(t *testing.T) {
	stations, records := trentino(t)
	r, last, first := plainMisses(stations, records)
	t.Logf("nothing declared: last freeze %.1f days off, first %.1f; lapse %.1f, %.1f, winter %.1f, maxima %.1f K for each 1,000 m",
		last, first, 1000*r.Lapse[record.Last], 1000*r.Lapse[record.First], 1000*r.WinterLapse, 1000*r.MaxLapse)
	if len(r.Misses) != 34 {
		t.Errorf("%d guesses, want 17 stations x 2", len(r.Misses))
	}
	if last > 8 || first > 8 {
		t.Errorf("nothing declared: last freeze %.2f days off, first %.2f; want at most 8", last, first)
	}
	_, lastDeclared, firstDeclared := plainMisses(declared(stations), records)
	t.Logf("positions declared: last freeze %.1f days off, first %.1f", lastDeclared, firstDeclared)
	if lastDeclared >= last || firstDeclared >= first {
		t.Errorf("declared positions should help: last %.2f to %.2f, first %.2f to %.2f", last, lastDeclared, first, firstDeclared)
	}
	present := NewRegion(declared(stations), records, 1975, 2004, quantity.North)
	if miss, n := present.MeanMiss(record.Last); n != 17 || miss > 8 {
		t.Errorf("in the present climate: %.2f days off over %d stations; want at most 8 over 17", miss, n)
	}
}

// Over the slope bands frost-free days fall with altitude; the hollow has under three
// quarters of those of the slope at its height, though their zones are within one
// full zone: what a hardiness zone alone does not tell.
func TestTrentinoBands(t *testing.T) {
	stations, records := trentino(t)
	r := NewRegion(declared(stations), records, 1975, 2004, quantity.North)
	climate := func(low, high float64, p catalog.Position, at string) *Climate {
		b := bandAt(low, high)
		b.Position = known(p)
		for _, s := range stations {
			if s.ID == at {
				b.Latitude, b.Longitude = s.Latitude, s.Longitude
			}
		}
		return r.Climate(b)
	}
	const bondone, corvara = "T0327", "B6130"
	bands := []*Climate{
		climate(0, 500, catalog.Slope, ""), climate(500, 1000, catalog.Slope, ""), climate(1000, 1500, catalog.Slope, ""),
		climate(1500, 1700, catalog.Slope, bondone), climate(1700, 2200, catalog.Slope, ""),
		climate(1500, 1700, catalog.Hollow, corvara),
	}
	var free []int
	for _, c := range bands {
		days, ok := c.FrostFree(0)
		if !ok {
			t.Fatalf("%v: no frost-free days", c.Band)
		}
		free = append(free, days)
	}
	slope, hollow := bands[3].Winter(), bands[5].Winter()
	t.Logf("frost-free days up the slopes %v, in the hollow %d; zones at 1,500-1,700 m %s and %s", free[:5], free[5], slope.Zone, hollow.Zone)
	for i := 1; i < 5; i++ {
		if free[i] >= free[i-1] {
			t.Errorf("frost-free days %v do not fall with altitude", free[:5])
		}
	}
	if 4*free[5] >= 3*free[3] {
		t.Errorf("%d frost-free days in the hollow, %d on the slope: want under three quarters", free[5], free[3])
	}
	if d := halfZones(t, slope.Zone) - halfZones(t, hollow.Zone); d < -2 || d > 2 {
		t.Errorf("zones %s and %s: more than one full zone apart", slope.Zone, hollow.Zone)
	}
}

// halfZones counts half zones from 1a = 0.
func halfZones(t *testing.T, zone string) int {
	t.Helper()
	n, err := strconv.Atoi(zone[:len(zone)-1])
	if err != nil {
		t.Fatalf("zone %q", zone)
	}
	return 2*(n-1) + int(zone[len(zone)-1]-'a')
}

// A band on a real station's spot, of its height and position, leans on that station
// more than on all others, and its date lies nearer the station's own than the
// leave-one-out guess does, over all stations.
func TestTrentinoOwnStation(t *testing.T) {
	stations, records := trentino(t)
	r := NewRegion(stations, records, 1975, 2004, quantity.North)
	var own float64
	for i, s := range r.Stations {
		b := bandAt(float64(s.site.low), float64(s.site.low))
		b.Latitude, b.Longitude = s.Row.Latitude, s.Row.Longitude
		c := r.Climate(b)
		if c.Weight(i) <= 0.5 || !c.OwnStation(i) {
			t.Errorf("%s counts %.2f on its own spot", s.Row.ID, c.Weight(i))
		}
		self, _ := r.Station(s.Row.ID)
		d := c.Date(record.Last, quantity.Half, Gate{}).Exact - self.Date(record.Last, quantity.Half, Gate{}).Exact
		own += max(d, -d) / float64(len(r.Stations))
	}
	miss, _ := r.MeanMiss(record.Last)
	t.Logf("on the spot %.1f days from the station's own date, hidden %.1f", own, miss)
	if own > miss/2 {
		t.Errorf("on the spot %.2f days from the station's own date, hidden %.2f", own, miss)
	}
}

// The median last freeze of a lone real station is what frost reads from its record.
func TestTrentinoStationAlone(t *testing.T) {
	stations, records := trentino(t)
	r := NewRegion(stations, records, 1975, 2004, quantity.North)
	r.Plain = true
	for _, s := range r.Stations {
		c, _ := r.Station(s.Row.ID)
		for _, e := range events {
			got := c.Date(e, quantity.Half, Gate{})
			want := frost.Climb(frost.Minima(s.Record), quantity.North).Odds(frost.Years{From: 1975, To: 2004}, e, 0, quantity.Half)
			shift := quantity.Slot(0)
			if e == record.First {
				shift = quantity.SlotsPerYear
			}
			if got.Slot != want.Slot+shift || got.Used != want.Used {
				t.Errorf("%s %v: slot %d from %d years, frost says %d from %d", s.Row.ID, e, got.Slot, got.Used, want.Slot+shift, want.Used)
			}
		}
	}
}
