package plan

import (
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// countedRecord is thirty like years, 8 C by night and 20 C by day, but for
//
//	winter    -10 C from November to March
//	April     -3 C to the 20th
//	21 April to 3 May   -1 C on 21, 24, 27, 30 April and 3 May, 1 C on 22 and 23 April
//	October   -1 C on 10, 12 and 14, -3 C on 20; 1 C on 11
//
// and in every seventh year (1995, 2002, 2009, 2016) also -1 C on 25, 26 and 28 April.
// Days are 12 K warmer than nights; 24 and 27 April and 12 October reach 18 C.
func countedRecord() *record.Daily {
	d := &record.Daily{Station: "s", Start: quantity.DayOf(1990, 1, 1), Step: record.TenthC}
	for day := d.Start; day < quantity.DayOf(2021, 1, 1); day++ {
		y, m, dd := day.Date()
		low, high := 8.0, 20.0
		set := func(v float64) { low, high = v, v+12 }
		switch {
		case m >= 11 || m <= 3:
			set(-10)
		case m == 4 && dd <= 20:
			set(-3)
		case m == 4 && (dd == 21 || dd == 24 || dd == 27 || dd == 30), m == 5 && dd == 3, m == 10 && (dd == 10 || dd == 12 || dd == 14):
			set(-1)
		case m == 4 && (dd == 22 || dd == 23), m == 10 && dd == 11:
			set(1)
		case m == 10 && dd == 20:
			set(-3)
		case y%7 == 0 && m == 4 && (dd == 25 || dd == 26 || dd == 28):
			set(-1)
		}
		if m == 4 && (dd == 24 || dd == 27) || m == 10 && dd == 12 {
			high = 18
		}
		d.Min, d.Max = append(d.Min, quantity.Celsius(low).Hundredths()), append(d.Max, quantity.Celsius(high).Hundredths())
	}
	return d
}

func countedClimate() *band.Climate {
	rows := []catalog.Station{{ID: "s", Latitude: known(44.0), Longitude: known(-38.0), Elevation: known(quantity.Metres(600)), Position: known(catalog.Slope)}}
	r := band.NewRegion(rows, map[string]*record.Daily{"s": countedRecord()}, 1991, 2020, quantity.North)
	return r.Climate(slopeBand(600, 600))
}

// tunnelOf is a film tunnel of 2 K, opened from 25 C inside: 17 C outside.
func tunnelOf(vent bool) catalog.Cover {
	c := catalog.Cover{ID: "tunnel", Weight: 1, Offered: true, Kind: catalog.Film, VentInside: true,
		Gain: catalog.Gain{Low: known[quantity.Kelvins](2), Typical: known[quantity.Kelvins](2), High: known[quantity.Kelvins](2)}}
	if vent {
		c.Vent = known[quantity.Celsius](25)
	}
	return c
}

// By hand, for a crop harmed at 0 C: the last such night is 3 May, the last at -2 C
// (under 2 K) 20 April. Of the nights 21 April to 3 May five freeze, seven come within
// 2 K, on two days of the five it gets as warm as 17 C. In the four years with three
// nights more the count is 8 and 8; four of thirty is more than one in ten. Fall: safe
// to 9 October open, to 19 October covered: of the nights 10 to 19 October three
// freeze, four come near, one of the three days is warm.
func TestWorkByHand(t *testing.T) {
	crop := catalog.Crop{ID: "c", Name: "c", Start: catalog.Inside, YoungDamage: known[quantity.Celsius](0), GrownDamage: known[quantity.Celsius](0),
		WeeksInsideLow: known(4.0), WeeksInsideHigh: known(6.0), DaysLow: known(40), DaysHigh: known(60)}
	crop.DaysFromSetOut = true
	slot := func(m, d int) quantity.Slot { return quantity.North.SlotOf(quantity.MonthDay{Month: m, Day: d}) }
	want := []Work{
		{Action: SetOut, From: slot(4, 20), To: slot(5, 2), Needed: Nights{5, 8}, Prudent: Nights{7, 10}, ShutAndOpen: Nights{2, 2}, VentKnown: true},
		{Action: LastSafeDay, From: slot(10, 9) + 366, To: slot(10, 18) + 366, Needed: Nights{3, 3}, Prudent: Nights{4, 4}, ShutAndOpen: Nights{1, 1}, VentKnown: true},
	}
	check := func(name string, got []Work, want []Work) {
		t.Helper()
		if len(got) != len(want) {
			t.Fatalf("%s: %+v, want %+v", name, got, want)
		}
		for i := range got {
			if got[i] != want[i] {
				t.Errorf("%s: %+v, want %+v", name, got[i], want[i])
			}
		}
	}
	p := NewPlanner(&catalog.Tables{Crops: []catalog.Crop{crop}, Covers: []catalog.Cover{tunnelOf(true)}})
	plan := p.Band(countedClimate())[0]
	check("tunnel", plan.Layers[1].Work, want)
	if len(plan.Layers[0].Work) != 0 {
		t.Errorf("open ground costs nothing: %+v", plan.Layers[0].Work)
	}

	p = NewPlanner(&catalog.Tables{Crops: []catalog.Crop{crop}, Covers: []catalog.Cover{tunnelOf(false)}})
	for i := range want {
		want[i].VentKnown, want[i].ShutAndOpen = false, Nights{}
	}
	check("no vent known", p.Band(countedClimate())[0].Layers[1].Work, want)

	// A leaf's limit of -2 C on the plant: half the nights it is 2 K colder than the air,
	// so the same nights count; the careful date has 4 K, 2 C in the air.
	crop.Basis, crop.YoungDamage, crop.GrownDamage = catalog.Plant, known[quantity.Celsius](-2), known[quantity.Celsius](-2)
	p = NewPlanner(&catalog.Tables{Crops: []catalog.Crop{crop}, Covers: []catalog.Cover{tunnelOf(false)}})
	got := p.Band(countedClimate())[0].Layers[1].Work
	if len(got) != 0 { // the last night at 2 C is that of 3 May, at 0 C too: the tunnel buys no day in spring
		for _, w := range got {
			if w.Action == SetOut {
				t.Errorf("a start that is no earlier has a price: %+v", w)
			}
		}
	}

	// Seeds count from the day on which they come up, ten days after sowing.
	sown := crop
	sown.Basis, sown.Start, sown.YoungDamage, sown.GrownDamage, sown.EmergeDays, sown.DaysFromSetOut = catalog.Air, catalog.Outside, known[quantity.Celsius](0), known[quantity.Celsius](0), known(10), false
	p = NewPlanner(&catalog.Tables{Crops: []catalog.Crop{sown}, Covers: []catalog.Cover{tunnelOf(false)}})
	want[0].Action = SowOutside
	check("sown", p.Band(countedClimate())[0].Layers[1].Work, want)

	// The young plant stands less than the grown one: after four weeks the grown limit
	// counts, and no night of the stretch is left.
	hardy := sown
	hardy.EmergeDays = known(0)
	hardy.GrownDamage = known[quantity.Celsius](-20)
	p = NewPlanner(&catalog.Tables{Crops: []catalog.Crop{hardy}, Covers: []catalog.Cover{tunnelOf(false)}})
	if got := p.Band(countedClimate())[0].Layers[1].Work; len(got) != 1 || got[0].Needed != (Nights{5, 8}) {
		t.Errorf("hardy when grown: %+v", got)
	}
}

// Where it may freeze in any month, open ground has no date: the stretch reaches over
// midsummer, in two parts. Fewer than ten years of record count nothing.
func TestWorkWithoutOpenDate(t *testing.T) {
	d := countedRecord()
	for i := range d.Min {
		if y, m, dd := (d.Start + quantity.Day(i)).Date(); (m == 7 && dd == 30 || m == 8 && dd == 2) && y%2 == 0 {
			d.Min[i] = -100
		}
	}
	rows := []catalog.Station{{ID: "s", Latitude: known(44.0), Longitude: known(-38.0), Elevation: known(quantity.Metres(600)), Position: known(catalog.Slope)}}
	crop := catalog.Crop{ID: "c", Name: "c", Start: catalog.Inside, YoungDamage: known[quantity.Celsius](0), GrownDamage: known[quantity.Celsius](0),
		WeeksInsideLow: known(4.0), WeeksInsideHigh: known(6.0), DaysLow: known(40), DaysHigh: known(60), DaysFromSetOut: true}
	p := NewPlanner(&catalog.Tables{Crops: []catalog.Crop{crop}, Covers: []catalog.Cover{tunnelOf(true)}})
	r := band.NewRegion(rows, map[string]*record.Daily{"s": d}, 1991, 2020, quantity.North)
	got := p.Band(r.Climate(slopeBand(600, 600)))[0].Layers[1].Work
	// By hand: 21 April to 31 July has the five nights and, in half the years, 30 July:
	// 5 or 6, 5.5 in the middle; 1 August to 19 October three and, in half, 2 August.
	if len(got) != 2 || got[0].To != 364 || got[1].From != 366 || got[0].Needed.Middling < 5 || got[0].Needed.Middling > 6 || got[1].Needed.Middling < 3 || got[1].Needed.Middling > 4 {
		t.Errorf("%+v", got)
	}
	few := band.NewRegion(rows, map[string]*record.Daily{"s": d}, 2012, 2020, quantity.North)
	if got := p.Band(few.Climate(slopeBand(600, 600)))[0].Layers[1].Work; len(got) != 0 {
		t.Errorf("nine years tell no price: %+v", got)
	}
}

// A structure of the guide is planned like any other cover, with the gain of the
// band's own nights.
func TestStructureIsPlanned(t *testing.T) {
	is := func(v float64) figure.Of[float64] { return figure.Is(v, diag.Position{Line: 2}, "") }
	house := catalog.Structure{
		Cover:  catalog.Cover{ID: "house", Name: "house", Weight: 3, Offered: true, LightPercent: is(85)},
		Length: is(10), Width: is(4), Height: is(2), Floor: catalog.PlantedFloor, Glazing: is(80), GlazingU: is(6.2), Changes: is(1.5),
	}
	crop := catalog.Crop{ID: "c", Name: "c", Start: catalog.Inside, YoungDamage: known[quantity.Celsius](0), GrownDamage: known[quantity.Celsius](0),
		WeeksInsideLow: known(4.0), WeeksInsideHigh: known(6.0), DaysLow: known(40), DaysHigh: known(60), DaysFromSetOut: true}
	p := NewPlanner(&catalog.Tables{Crops: []catalog.Crop{crop}, Covers: []catalog.Cover{house.Cover}, Structures: []catalog.Structure{house}})
	c := sixStations().Climate(slopeBand(700, 900))
	w, ok := DesignNights(c)
	if !ok || w.Min != -2 || w.Latitude < 43 || w.Latitude > 45 || w.DayOfYear < 60 || w.DayOfYear > 151 {
		t.Fatalf("%v %+v", ok, w)
	}
	plan := p.Band(c)[0]
	if len(plan.Layers) != 2 || plan.Layers[1].Layers != "house" {
		t.Fatalf("%+v", plan.Layers)
	}
	if g := p.Explain(c, &p.tables.Crops[0], "house", quantity.Careful).Gain; !g.Known || g.Low <= 0 || g.Low > 4 {
		t.Errorf("gain %+v", g)
	}
	if plan.Layers[1].SpringGain <= 0 {
		t.Errorf("the house buys %d days", plan.Layers[1].SpringGain)
	}
}

// The nights of an early start are counted also where nobody gave the days to harvest, so
// that the last start is not known: a plant that stays for years.
func TestWorkWithoutAnEnd(t *testing.T) {
	shrub := tomato()
	shrub.DaysLow, shrub.DaysHigh, shrub.Chill = figure.Of[int]{}, figure.Of[int]{}, figure.Of[quantity.Celsius]{}
	tables := shed(shrub)
	tables.Covers, tables.Layers = []catalog.Cover{tunnelOf(true)}, nil
	p := planned(t, countedClimate(), tables)
	w, _ := p.Layers[1].Find(quantity.Careful, SetOut)
	if p.Layers[1].SpringGain == 0 || w.To.State != NotKnown {
		t.Fatalf("%d days gained, set out %s", p.Layers[1].SpringGain, says(w))
	}
	for _, w := range p.Layers[1].Work {
		if w.Action == SetOut && w.Prudent.Bad > 0 {
			return
		}
	}
	t.Errorf("no nights counted: %+v", p.Layers[1].Work)
}
