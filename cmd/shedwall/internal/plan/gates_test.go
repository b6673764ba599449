package plan

import (
	"fmt"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// radish is an invented cool crop: harmed at -3 C, soil of 7 C, ten days to come up, 20
// to 30 to harvest.
func radish() catalog.Crop {
	return catalog.Crop{
		ID: "radish", Name: "Radish", Class: "hardy", Start: catalog.Outside, YoungDamage: known(quantity.Celsius(-3)), GrownDamage: known(quantity.Celsius(-3)),
		SoilMin: known(quantity.Celsius(7)), EmergeDays: known(10), DaysLow: known(20), DaysHigh: known(30),
	}
}

func stretch2(s Stretch) string {
	if !s.Exists() {
		return "none"
	}
	return fmt.Sprintf("%v to %v %s", quantity.North.MonthDay(s.From), quantity.North.MonthDay(s.To), s.Gate)
}

func find(p CropPlan, odds quantity.Odds, a Action) Window {
	w, _ := p.Layers[0].Find(odds, a)
	return w
}

// By hand from plainYears: maxima are 25 C from May to September, but 37 C on 20 May and
// 20 September and 35 C on 8 June and 1 September, so that a month's mean maximum is 25.1 C
// or more from 15 May (1-30 May: 25.4; with one day of April, 13 C, 25.0) to 15 September
// (1-30 September: 25.7; with one of October 25.0). The last night of -3 C is 31 March, the soil
// has 7 C on 10 April; the first night of -3 C comes on 1 November.
func TestHeatClosesCoolCrops(t *testing.T) {
	c := place(44, nil)
	heat := func(crop catalog.Crop, limit, month quantity.Celsius) catalog.Crop {
		if limit != 0 {
			crop.Heat = known(limit)
		}
		if month != 0 {
			crop.HeatMean = known(month)
		}
		return crop
	}
	// Sown by 14 April its slow kinds are ready by 14 May; sown from 27 August its quick
	// ones are from 16 September on. The last start: 31 October less 30 days.
	p := planned(t, c, shed(heat(radish(), 25.1, 0)))
	check(t, p, "", half, SowOutside, "04-10 soil, 10-01 maturity")
	if w := find(p, half, SowOutside); stretch2(w.Gap) != "04-15 to 08-26 heat" {
		t.Errorf("gap %s", stretch2(w.Gap))
	}
	// First picking 10 April + 20.
	if w := find(p, half, Harvest); says(w) != "04-30 growth, 10-31 frost" || stretch2(w.Hot) != "05-15 to 09-15 heat" {
		t.Errorf("harvest %s, hot %s", says(w), stretch2(w.Hot))
	}
	// A month's mean is 17 C where 27 of its days are from May to September: from 12 May (28
	// April to 27 May) to 18 September (4 September to 3 October).
	p = planned(t, c, shed(heat(radish(), 0, 17)))
	if w := find(p, half, SowOutside); stretch2(w.Gap) != "04-12 to 08-29 heat" {
		t.Errorf("by the month: gap %s", stretch2(w.Gap))
	}
	// Of both figures the longer stretch.
	p = planned(t, c, shed(heat(radish(), 25.1, 17)))
	if w := find(p, half, SowOutside); stretch2(w.Gap) != "04-12 to 08-29 heat" {
		t.Errorf("by both: gap %s", stretch2(w.Gap))
	}
	// With 50 to 60 days no start in spring is ready before 15 May: fall alone, from 15
	// September less 50 days, the day after.
	slow := with(radish(), func(c *catalog.Crop) { c.DaysLow, c.DaysHigh = known(50), known(60) })
	p = planned(t, c, shed(heat(slow, 25.1, 0)))
	check(t, p, "", half, SowOutside, "07-28 heat, 09-01 maturity")
	// With 30 to 60 the quick kinds are: until 15 May less 30 days, the day before.
	mixed := with(radish(), func(c *catalog.Crop) { c.DaysLow, c.DaysHigh = known(30), known(60) })
	p = planned(t, c, shed(heat(mixed, 25.1, 0)))
	if w := find(p, half, SowOutside); stretch2(w.Gap) != "04-15 to 08-16 heat" {
		t.Errorf("quick kinds: gap %s, %s", stretch2(w.Gap), says(w))
	}
	// With 110 to 160 a start would have to wait for 29 May, which is too late for slow
	// kinds: no start avoids it, and nothing is moved.
	long := with(radish(), func(c *catalog.Crop) { c.DaysLow, c.DaysHigh = known(110), known(160) })
	p = planned(t, c, shed(heat(long, 25.1, 0)))
	check(t, p, "", half, SowOutside, "04-10 soil, 05-24 maturity")
	// A tender crop is not moved; the hot days of its harvest are told.
	p = planned(t, c, shed(heat(with(radish(), func(c *catalog.Crop) { c.Class = "tender" }), 25.1, 0)))
	if w, h := find(p, half, SowOutside), find(p, half, Harvest); w.Gap.Exists() || !h.Hot.Exists() || says(w) != "04-10 soil, 10-01 maturity" {
		t.Errorf("tender: gap %s, %s; harvest hot %s", stretch2(w.Gap), says(w), stretch2(h.Hot))
	}
}

// By hand: sown inside 6 to 8 weeks before, a gap in setting out from 15 April to 26
// August leaves one in sowing from 15 April - 42 days = 4 March to 26 August - 56 days = 1
// July: sown on 4 March it may be set out on 15 April at the earliest.
func TestGapOfSowingInside(t *testing.T) {
	crop := with(radish(), func(c *catalog.Crop) {
		c.Start, c.DaysFromSetOut, c.Heat = catalog.Inside, true, known(quantity.Celsius(25.1))
		c.WeeksInsideLow, c.WeeksInsideHigh = known(6.0), known(8.0)
	})
	p := planned(t, place(44, nil), shed(crop))
	if w := find(p, half, SetOut); stretch2(w.Gap) != "04-15 to 08-26 heat" {
		t.Errorf("set out: %s, %s", says(w), stretch2(w.Gap))
	}
	if w := find(p, half, SowInside); stretch2(w.Gap) != "03-04 to 07-01 heat" {
		t.Errorf("sown inside: %s, %s", says(w), stretch2(w.Gap))
	}
}

// By hand: April's mean is 8 C, May's 18 C, so the third cold day at 8 C, counted back, is
// 28 April. A plant set out must not be grown (28 days on) before 29 April: from 1 April;
// one sown comes up on 1 April at the earliest: from 22 March.
func TestBolting(t *testing.T) {
	bolts := func(c *catalog.Crop) {
		c.Bolt, c.BoltDays, c.DaysHigh, c.SoilMin = known(quantity.Celsius(8)), known(3), known(40), figure.Of[quantity.Celsius]{}
	}
	p := planned(t, place(44, nil), shed(with(radish(), bolts)))
	check(t, p, "", half, SowOutside, "03-22 bolt, 09-21 maturity")
	check(t, p, "", careful, SowOutside, "03-22 bolt, 09-21 maturity")
	set := with(radish(), func(c *catalog.Crop) {
		bolts(c)
		c.Start, c.DaysFromSetOut, c.WeeksInsideLow, c.WeeksInsideHigh = catalog.Inside, true, known(6.0), known(8.0)
	})
	p = planned(t, place(44, nil), shed(set))
	check(t, p, "", half, SetOut, "04-01 bolt, 09-21 maturity")
	// Picked within 30 days it has 2 at most in which it is grown, too few for three cold
	// ones: frost alone holds it.
	quick := with(radish(), func(c *catalog.Crop) { bolts(c); c.DaysHigh = known(30) })
	p = planned(t, place(44, nil), shed(quick))
	check(t, p, "", half, SowOutside, "03-21 frost, 10-01 maturity")
}

// By hand: soil of 15 C under film that warms it by 3 K is soil of 12 C without: 8 C and
// five of eleven days at 18 C make 12.5, on 5 May instead of 8 May.
func TestSoilUnderFilm(t *testing.T) {
	tables := shed(bean())
	tables.Covers[0].SoilGain = known(quantity.Kelvins(3))
	p := planned(t, place(44, nil), tables)
	check(t, p, "tunnel", careful, SowOutside, "05-05 soil, 09-01 maturity")
	check(t, p, "tunnel+fabric", careful, SowOutside, "05-05 soil, 09-01 maturity")
	check(t, p, "", careful, SowOutside, "05-20 frost, 07-11 maturity")
}

// The days inside a ridge's shade count as winter, and harvest goes on in it.
func TestSunLost(t *testing.T) {
	c := place(44, nil)
	crop := with(radish(), func(c *catalog.Crop) { c.WinterKill = known(quantity.Celsius(-20)) })
	p := planned(t, c, shed(crop))
	// Ten hours end on 6 November at 44 N, after the last safe day, 31 October; below 10
	// hours from 7 November to 4 February (TestShortDays of the season room).
	if w := find(p, half, Harvest); stretch2(w.Slow) != "11-07 to 02-04 light" || w.To.State != Open {
		t.Errorf("%s slow %s", says(w), stretch2(w.Slow))
	}
	c.Band.SunLostFrom, c.Band.SunLostTo = known(quantity.MonthDay{Month: 10, Day: 11}), known(quantity.MonthDay{Month: 2, Day: 10})
	p = planned(t, c, shed(crop))
	check(t, p, "", half, SowOutside, "04-10 soil, 09-10 light") // 10 October less 30 days
	w := find(p, half, SowOutside)
	if !hasReason(w, ReasonSun) || hasReason(w, ReasonLight) {
		t.Errorf("reasons %+v", w.Reasons)
	}
	if w := find(p, half, Harvest); stretch2(w.Slow) != "10-11 to 02-10 light" {
		t.Errorf("slow %s", stretch2(w.Slow))
	}
}

func hasReason(w Window, k ReasonKind) bool {
	for _, r := range w.Reasons {
		if r.Kind == k {
			return true
		}
	}
	return false
}

// By hand: above 17 C nothing warms before May or after September (April's and October's
// maxima are 13 C). Eighty days from 20 May have all the same warmth, so that many days of
// May to September are needed: by the tunnel's last safe day, 31 October, the last start is
// 80 days before the end of September, 13 July; the course is smoothed over two weeks about
// that end: within 3 days. By days alone it would be 31 October less 80: 12 August.
func TestWarmthDecides(t *testing.T) {
	crop := with(tomato(), func(c *catalog.Crop) { c.Base, c.Chill = known(quantity.Celsius(17)), figure.Of[quantity.Celsius]{} })
	p := planned(t, place(44, nil), shed(crop))
	check(t, p, "", half, SetOut, "05-20 frost, 07-01 maturity") // 19 September less 80: warm to the end
	for _, l := range p.Layers {
		if l.Layers != "tunnel" {
			continue
		}
		w, _ := l.Find(half, SetOut)
		want := quantity.North.SlotOf(quantity.MonthDay{Month: 7, Day: 13})
		if d := w.To.Slot - want; w.To.Gate != Warmth || d < -3 || d > 3 || !hasReason(w, ReasonBase) {
			t.Errorf("%s, want warmth to hold it to about 13 July", says(w))
		}
	}
}

// Where no station has maxima, soil holds nothing back, and the plan says what for.
func TestSoilNobodyTells(t *testing.T) {
	p := planned(t, place(44, func(d *record.Daily) {
		for i := range d.Max {
			d.Max[i] = quantity.Missing
		}
	}), shed(bean()))
	if len(p.LeftOut) != 1 || p.LeftOut[0].Figure != "soil_min_c" || p.LeftOut[0].Want != "tmax" {
		t.Errorf("left out %+v", p.LeftOut)
	}
	check(t, p, "", half, SowOutside, "05-10 frost, 07-21 maturity")
}

// By hand: set out from 20 May, so hardened off from 13 May; the last to be set out on 1
// July, to 30 June.
func TestHardenOff(t *testing.T) {
	p := planned(t, place(44, nil), shed(with(tomato(), func(c *catalog.Crop) { c.Chill = figure.Of[quantity.Celsius]{} })))
	from, to, ok := HardenOff(find(p, half, SetOut))
	if got := fmt.Sprint(quantity.North.MonthDay(from), " ", quantity.North.MonthDay(to), ok); got != "05-13 06-30 true" {
		t.Error(got)
	}
	if _, _, ok := HardenOff(find(p, half, SowInside)); ok {
		t.Error("only plants set out are hardened off")
	}
}

// Snow on the ground in the month in which soil would be warm enough is told, and moves
// no date: when it melts nobody knows. Where frost decides in that month it says nothing.
func TestSoilAfterSnow(t *testing.T) {
	c := place(44, nil)
	bare := find(planned(t, c, shed(radish())), half, SowOutside)
	c.Band.SnowMonths = known(catalog.MonthRange(12, 4))
	p := planned(t, c, shed(radish()))
	if w := find(p, half, SowOutside); !hasReason(w, ReasonSnow) || w.From != bare.From {
		t.Errorf("%s: %+v, without snow %s", says(w), w.Reasons, says(bare))
	}
	slow := with(radish(), func(c *catalog.Crop) { c.SoilMin, c.EmergeDays = known(quantity.Celsius(-1)), known(0) })
	if w := find(planned(t, c, shed(slow)), half, SowOutside); w.From.Gate != Frost || hasReason(w, ReasonSnow) {
		t.Errorf("frost decides: %s: %+v", says(w), w.Reasons)
	}
	c.Band.SnowMonths = known(catalog.MonthRange(12, 3))
	if w := find(planned(t, c, shed(radish())), half, SowOutside); hasReason(w, ReasonSnow) {
		t.Error("no snow in April")
	}
}
