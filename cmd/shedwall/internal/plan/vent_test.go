package plan

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// By hand from countedRecord, with 18 C on 2 April of every seventh year besides: a tunnel
// opened from 25 C inside must be open from 17 C outside. Such a day comes first on 2
// April in four years of thirty, which is more than one in ten, else on 24 April; the
// week around 24 April has 3.7 such days, the one around 23 April 2.7. The last is 31
// October.
func TestVentOf(t *testing.T) {
	d := countedRecord()
	for i := range d.Max {
		if y, m, dd := (d.Start + quantity.Day(i)).Date(); y%7 == 0 && m == 4 && dd == 2 {
			d.Max[i] = 1800
		}
	}
	rows := []catalog.Station{{ID: "s", Latitude: known(44.0), Longitude: known(-38.0), Elevation: known(quantity.Metres(600)), Position: known(catalog.Slope)}}
	climate := func(from int) *band.Climate {
		return band.NewRegion(rows, map[string]*record.Daily{"s": d}, from, 2020, quantity.North).Climate(slopeBand(600, 600))
	}
	tunnel := tunnelOf(true)
	v, ok := VentOf(climate(1991), &tunnel)
	day := func(s quantity.Slot) string {
		x := quantity.North.MonthDay(s)
		return fmt.Sprintf("%d %d", x.Day, x.Month)
	}
	if !ok || v.Opens != 25 || !v.Inside || v.Outside != 17 || day(v.Early) != "2 4" || day(v.Half) != "24 4" || day(v.Daily) != "24 4" || day(v.Last) != "31 10" || v.Years != 30 {
		t.Errorf("%v %+v: %s, %s, %s, %s", ok, v, day(v.Early), day(v.Half), day(v.Daily), day(v.Last))
	}
	// Read outside, 25 C is 25 C: no such day in any year.
	tunnel.VentInside = false
	if v, ok := VentOf(climate(1991), &tunnel); !ok || v.Outside != 25 || v.Early >= 0 || v.Half >= 0 || v.Daily >= 0 {
		t.Errorf("no day is so warm: %v %+v", ok, v)
	}
	if _, ok := VentOf(climate(2012), &tunnel); ok {
		t.Error("nine years tell no day")
	}
	tunnel = tunnelOf(false)
	if _, ok := VentOf(climate(1991), &tunnel); ok {
		t.Error("nobody says when to open it")
	}
}

// Flowers open thirty days before the first picking: 6 July for 5 August. Only covers
// that keep insects out, crops that need them, and layers that make a season ask for it.
func TestUncovers(t *testing.T) {
	crop := func(id string, needs, days bool) catalog.Crop {
		c := catalog.Crop{ID: id, Name: id, NeedsInsect: known(needs)}
		if days {
			c.FruitDays = known(30)
		}
		return c
	}
	slot := func(m, d int) quantity.Slot { return quantity.North.SlotOf(quantity.MonthDay{Month: m, Day: d}) }
	crops := []catalog.Crop{crop("squash", true, true), crop("kale", false, true), crop("melon", true, false)}
	harvest := func(state BoundState) []Window {
		return []Window{{Action: Harvest, Odds: careful, From: Bound{State: Dated, Slot: slot(8, 5) + 366}, To: Bound{State: state, Slot: slot(9, 9) + 366}}}
	}
	var plans []CropPlan
	for i := range crops {
		plans = append(plans, CropPlan{Crop: &crops[i], Layers: []LayerPlan{{Careful: harvest(Dated)}, {Layers: "net", Careful: harvest(Dated)}, {Layers: "hut+net", Careful: harvest(Never)}, {Layers: "hut", Careful: harvest(Dated)}}})
	}
	p := NewPlanner(&catalog.Tables{Covers: []catalog.Cover{{ID: "net", InsectsOut: known(true)}, {ID: "hut", InsectsOut: known(false)}}})
	var got []string
	for _, u := range p.Uncovers(plans) {
		day := "no day"
		if u.Dated {
			x := quantity.North.MonthDay(u.From)
			day = fmt.Sprintf("%d %d", x.Day, x.Month)
		}
		got = append(got, u.Crop.ID+" "+u.Layers+" "+day)
	}
	if want := "[squash net 6 7 melon net no day]"; fmt.Sprint(got) != want {
		t.Errorf("%v, want %s", got, want)
	}
}

// Of ten crops under fabric the last is done with it on 20 May and nine in ten by 18 May;
// a cover that is on through the whole year has no last use.
func TestLastUses(t *testing.T) {
	slot := func(m, d int) quantity.Slot { return quantity.North.SlotOf(quantity.MonthDay{Month: m, Day: d}) }
	crops := make([]catalog.Crop, 10)
	var plans []CropPlan
	for i := range crops {
		crops[i] = catalog.Crop{ID: fmt.Sprint(i), Name: fmt.Sprintf("crop %d", 9-i)}
		day := 10 + i
		if i == 9 {
			day = 20
		}
		plans = append(plans, CropPlan{Crop: &crops[i], Layers: []LayerPlan{{},
			{Layers: "fabric", Covers: []CoverSpan{{Cover: "fabric", Event: record.Last, From: slot(4, 1), To: slot(5, day)}, {Cover: "fabric", Event: record.First, From: 420, To: 440}}},
			{Layers: "hut", Covers: []CoverSpan{{Cover: "hut", Event: record.Last, From: slot(2, 1), To: quantity.SlotsPerYear - 1}}},
		}})
	}
	p := NewPlanner(shed(crops...))
	got := p.LastUses(place(44, nil), plans)
	if len(got) != 1 || got[0].Layers != "fabric" || got[0].Last != slot(5, 20) || got[0].Most != slot(5, 18) || got[0].Crop.ID != "9" || got[0].Crops != 10 {
		t.Errorf("%+v", got)
	}
}

// By hand: 24 for three years is 8 a year; 14 days a year are two weeks: 4 a week. What
// nobody gave is not for nothing.
func TestWeekPrice(t *testing.T) {
	var blank figure.Of[float64]
	for _, x := range []struct {
		price, years figure.Of[float64]
		days         int
		want         float64
		ok           bool
	}{
		{known(24.0), known(3.0), 14, 4, true},
		{known(24.0), known(3.0), 7, 8, true},
		{blank, known(3.0), 14, 0, false},
		{known(24.0), blank, 14, 0, false},
		{known(24.0), known(3.0), 0, 0, false},
		{known(24.0), known(0.0), 14, 0, false},
	} {
		if got, ok := WeekPrice(&catalog.Cover{Price: x.price, Years: x.years}, x.days); got != x.want || ok != x.ok {
			t.Errorf("%v for %v years, %d days: %v %v, want %v %v", x.price, x.years, x.days, got, ok, x.want, x.ok)
		}
	}
}

// Bands of one region, warm and cold, whose covers open at several temperatures: when each
// is opened is the same as in a region of its own, whoever was asked before.
func TestVentsOfOtherBands(t *testing.T) {
	rows := []catalog.Station{
		{ID: "s", Latitude: known(44.0), Longitude: known(-38.0), Elevation: known(quantity.Metres(600)), Position: known(catalog.Slope)},
		{ID: "t", Latitude: known(44.1), Longitude: known(-38.0), Elevation: known(quantity.Metres(300)), Position: known(catalog.Slope)},
	}
	warmer := *countedRecord()
	warmer.Station, warmer.Max = "t", slices.Clone(warmer.Max)
	for i := range warmer.Max {
		warmer.Max[i] += quantity.Hundredths(i % 400)
	}
	region := func() *band.Region {
		return band.NewRegion(rows, map[string]*record.Daily{"s": countedRecord(), "t": &warmer}, 1991, 2020, quantity.North)
	}
	shared, said := region(), map[string]bool{}
	for _, z := range []float64{600, 350, 900, 600} {
		for _, opens := range []quantity.Celsius{18, 22, 25} {
			cv := tunnelOf(true)
			cv.Vent = known(opens)
			want, _ := VentOf(region().Climate(slopeBand(z, z)), &cv)
			got, _ := VentOf(shared.Climate(slopeBand(z, z)), &cv)
			if got != want {
				t.Errorf("%.0f m, %v: %+v, in a region of its own %+v", z, opens, got, want)
			}
			said[fmt.Sprint(want.Early, want.Half, want.Daily, want.Last)] = true
		}
	}
	if len(said) < 5 {
		t.Errorf("%d different answers: too alike to be mixed up", len(said))
	}
}

// A station's years of spring and of fall are laid out apart: they are other season years.
func TestLaidYears(t *testing.T) {
	d := countedRecord()
	for i := range d.Min {
		d.Min[i] -= quantity.Hundredths(i / 365) // no two years alike
	}
	rows := []catalog.Station{{ID: "s", Latitude: known(44.0), Longitude: known(-38.0), Elevation: known(quantity.Metres(600)), Position: known(catalog.Slope)}}
	r := band.NewRegion(rows, map[string]*record.Daily{"s": d}, 1991, 2020, quantity.North)
	for range 2 { // bands, each with a memory of its own
		c, n := r.Climate(slopeBand(600, 600)), counting{}
		for _, e := range []record.Event{record.Last, record.First} {
			if want := cover.Lay(d, quantity.North, c.CountSeasons(e, 0)); !reflect.DeepEqual(n.years(c, e, 0), want) {
				t.Errorf("%v: other years are laid out", e)
			}
		}
	}
}
