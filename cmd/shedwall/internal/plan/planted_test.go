package plan

import (
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// garlic is an invented crop planted in fall: 3 to 6 weeks before the ground freezes in
// soil of 13 C, harvested 90 to 120 days after soil of 7 C in spring.
func garlic() catalog.Crop {
	return catalog.Crop{
		ID: "garlic", Name: "Garlic", Start: catalog.Planted, Season: catalog.FallPlanted,
		GrownDamage: known(quantity.Celsius(-4)), YoungDamage: known(quantity.Celsius(-4)), WinterKill: known(quantity.Celsius(-15)),
		FallWeeksLow: known(3.0), FallWeeksHigh: known(6.0), FallSoil: known(quantity.Celsius(13)),
		SoilMin: known(quantity.Celsius(7)), DaysLow: known(90), DaysHigh: known(120),
	}
}

// By hand from plainYears: soil is the mean of eleven days. September has 18 C, October
// 8, November 0. After k days of October it is 18 - 10k/11: 13 C or less from k = 6, 6
// October. After k days of November it is 8 (11 - k)/11: 0 C from k = 11, 11 November. Six
// weeks before that is 30 September, three 21 October.
func TestFallPlanting(t *testing.T) {
	p := planned(t, place(45, nil), shed(garlic()))
	if len(p.Layers) != 1 {
		t.Fatalf("%d sets of layers, want open ground alone", len(p.Layers))
	}
	w, ok := p.Layers[0].Find(quantity.Careful, SowOutside)
	if !ok {
		t.Fatal("no planting")
	}
	h := quantity.North
	if from, to := h.MonthDay(w.From.Slot).String(), h.MonthDay(w.To.Slot).String(); from != "10-06" || to != "10-21" {
		t.Errorf("planted %s to %s, by hand 10-06 to 10-21", from, to)
	}
	if w.From.Gate != Cooling || w.To.Gate != Ground {
		t.Errorf("held by %s and %s", w.From.Gate, w.To.Gate)
	}
	harvest, ok := p.Layers[0].Find(quantity.Careful, Harvest)
	// Soil stays at 7 C from 10 April on (plainYears); 90 days later is 9 July, 120 8 August.
	if from, to := h.MonthDay(harvest.From.Slot).String(), h.MonthDay(harvest.To.Slot).String(); !ok || from != "07-09" || to != "08-08" {
		t.Errorf("harvest %s to %s, by hand 07-09 to 08-08", from, to)
	}
	if harvest.From.Slot <= w.To.Slot {
		t.Error("the harvest does not come after the planting")
	}
}

// Soil of 10 C comes on 9 October (18 - 10 x 9/11 = 9.8), less than a fortnight before the
// last day, 21 October: roots come before cool soil, so from 7 October.
func TestRootsBeforeCoolSoil(t *testing.T) {
	warm := with(garlic(), func(c *catalog.Crop) { c.FallSoil = known(quantity.Celsius(10)) })
	w, _ := planned(t, place(45, nil), shed(warm)).Layers[0].Find(quantity.Careful, SowOutside)
	if from := quantity.North.MonthDay(w.From.Slot).String(); from != "10-07" {
		t.Errorf("from %s, by hand 10-07", from)
	}
}

// Where the ground never freezes nothing ends the planting.
func TestNoFrozenGround(t *testing.T) {
	mild := place(45, func(d *record.Daily) {
		for i := range d.Min {
			d.Min[i], d.Max[i] = d.Min[i]+300, d.Max[i]+300
		}
	})
	w, _ := planned(t, mild, shed(garlic())).Layers[0].Find(quantity.Careful, SowOutside)
	// September then has 21 C, October 11 and November 3: 13 C or less after k days of
	// October, 21 - 10k/11, k = 9.
	if from := quantity.North.MonthDay(w.From.Slot).String(); from != "10-09" || w.To.State != Open {
		t.Errorf("from %s, to %v; by hand from 10-09 with no end", from, w.To.State)
	}
}

// Where soil never cools so far, cloves have no day, and what is not planted is not harvested.
func TestNothingPlantedNothingHarvested(t *testing.T) {
	warm := place(30, func(d *record.Daily) {
		for i := range d.Min {
			d.Min[i], d.Max[i] = d.Min[i]+1500, d.Max[i]+1500
		}
	})
	p := planned(t, warm, shed(garlic()))
	for _, a := range []Action{SowOutside, Harvest} {
		if w, ok := p.Layers[0].Find(careful, a); !ok || w.From.State != Never || w.To.State != Never {
			t.Errorf("%s: %s, want none", a, says(w))
		}
	}
}

func TestFallFiguresMissing(t *testing.T) {
	bare := with(garlic(), func(c *catalog.Crop) { c.FallWeeksLow = figure.Of[float64]{} })
	p := planned(t, place(45, nil), shed(bare))
	w, _ := p.Layers[0].Find(quantity.Careful, SowOutside)
	if w.From.State != NotKnown || w.To.State != NotKnown || !slices.Contains(missing(p), "fall_weeks_low:") {
		t.Errorf("without weeks: %v to %v, left out %v", w.From.State, w.To.State, missing(p))
	}
}

// A plant that stays for years is planted until six weeks before the ground freezes (11
// November less 42 days is 30 September), whether or not it comes to harvest; with its
// first harvest in a later year there is none to plan.
func TestLastingPlants(t *testing.T) {
	crowns := with(bean(), func(c *catalog.Crop) {
		c.Start, c.Season, c.FirstYear, c.DaysHigh = catalog.Planted, catalog.EitherSeason, known(3), known(300)
	})
	p := planned(t, place(45, nil), shed(crowns))
	w, _ := p.Layers[0].Find(quantity.Careful, SowOutside)
	if to := quantity.North.MonthDay(w.To.Slot).String(); w.To.State != Dated || to != "09-30" || w.To.Gate != Ground {
		t.Errorf("to %s (%v, %s), by hand 09-30", to, w.To.State, w.To.Gate)
	}
	if _, ok := p.Layers[0].Find(quantity.Careful, Harvest); ok {
		t.Error("a harvest in the year of planting")
	}
	if last := p.Layers[0].LastPicked(p.Crop, SowOutside); last.State != Never {
		t.Errorf("picked in the year of planting if planted by %v", last)
	}
}

// Crowns that are planted in spring are planted in the four weeks from the first careful day
// in open ground: 20 May in plainYears, as they come up on 30 May after the last frost, so
// until 17 June, at both odds and under covers too, which let it begin sooner.
func TestPlantedInSpring(t *testing.T) {
	crowns := with(bean(), func(c *catalog.Crop) { c.Start, c.FirstYear, c.DaysHigh = catalog.Planted, known(3), known(300) })
	p := planned(t, place(45, nil), shed(crowns))
	earlier := false
	for _, l := range p.Layers {
		for _, odds := range []quantity.Odds{careful, half} {
			w, ok := l.Find(odds, SowOutside)
			if to := quantity.North.MonthDay(w.To.Slot).String(); !ok || to != "06-17" || w.To.Gate != Spring {
				t.Errorf("%q, %v: %s, by hand until 06-17", l.Layers, odds, says(w))
			}
			earlier = earlier || w.From.Slot < p.Layers[0].Careful[0].From.Slot
		}
	}
	if !earlier {
		t.Error("no cover makes the first day earlier")
	}
	// Nothing is picked that year, so no cover goes on in fall.
	if got := spans(p, "tunnel"); len(got) != 1 || !strings.Contains(got[0], " last ") {
		t.Errorf("covers %q, want one in spring", got)
	}
}

// Where the ground never freezes, or nobody knows when, spring ends it all the same.
func TestPlantedInSpringWhereItNeverFreezes(t *testing.T) {
	mild := place(45, func(d *record.Daily) {
		for i := range d.Min {
			d.Min[i], d.Max[i] = d.Min[i]+300, d.Max[i]+300
		}
	})
	crowns := with(bean(), func(c *catalog.Crop) { c.Start, c.FirstYear = catalog.Planted, known(3) })
	w, _ := planned(t, mild, shed(crowns)).Layers[0].Find(careful, SowOutside)
	if w.From.State != Dated || w.To.Slot != w.From.Slot+28 || w.To.State != Dated {
		t.Errorf("%s, want four weeks", says(w))
	}
}

// Leaves of a plant that stays for years are picked until the last safe day, 9 September, though
// the plant lives through the winter; nothing of the winter's short days is in that harvest.
func TestLeavesEndBeforeThePlant(t *testing.T) {
	herb := with(bean(), func(c *catalog.Crop) {
		c.Start, c.FirstYear, c.WinterKill = catalog.Inside, known(1), known(quantity.Celsius(-30))
		c.WeeksInsideLow, c.WeeksInsideHigh = known(8.0), known(8.0)
	})
	p := planned(t, place(45, nil), shed(herb))
	check(t, p, "", careful, Harvest, "06-21 growth, 09-09 frost") // 30 May + 50 - 28
	h, _ := p.Layers[0].Find(careful, Harvest)
	if h.Slow.Exists() || hasReason(h, ReasonLimit) {
		t.Errorf("slow %s, reasons %v", stretch2(h.Slow), h.Reasons)
	}
}

// Tubers that may be dug in their first year: from 20 May to the last safe day, 9 September,
// are 112 days. Slow kinds of 150 days are dug in the years after; quick kinds of 100 are
// ready on 28 August. Where quick kinds of 120 are not ready either nothing is planted.
func TestTubersOfAShortSeason(t *testing.T) {
	tuber := with(bean(), func(c *catalog.Crop) {
		c.Start, c.FirstYear, c.DaysLow, c.DaysHigh = catalog.Planted, known(1), known(100), known(150)
	})
	p := planned(t, place(45, nil), shed(tuber))
	check(t, p, "", careful, SowOutside, "05-20 frost, 06-17 spring")
	check(t, p, "", careful, Harvest, "08-28 growth, 09-09 frost")
	slow := with(tuber, func(c *catalog.Crop) { c.DaysLow = known(120) })
	p = planned(t, place(45, nil), shed(slow))
	check(t, p, "", careful, SowOutside, "05-20 frost, never")
	check(t, p, "", careful, Harvest, "never, never")
}

// A herb that stays for years is set out until six weeks before the ground freezes, 30
// September; sown outside it is eight weeks behind a plant set out: 5 August. Of these only
// what is ready 80 days later is picked before 9 September, the last safe day: sown by 21
// June, set out by 19 July, as half of the fewest weeks inside, 4 days for each, are spared.
func TestLastPickedOfAHerb(t *testing.T) {
	herb := with(bean(), func(c *catalog.Crop) {
		c.Start, c.FirstYear, c.DaysLow, c.DaysHigh = catalog.Either, known(1), known(60), known(80)
		c.WeeksInsideLow, c.WeeksInsideHigh = known(8.0), known(8.0)
	})
	p := planned(t, place(45, nil), shed(herb))
	l := &p.Layers[0]
	for _, x := range []struct {
		action       Action
		rooted, last string
	}{{SowOutside, "08-05", "06-21"}, {SetOut, "09-30", "07-19"}, {SowInside, "08-05", "05-24"}} {
		w, _ := l.Find(careful, x.action)
		last := l.LastPicked(p.Crop, x.action)
		h := quantity.North
		if is, picked := h.MonthDay(w.To.Slot).String(), h.MonthDay(last.Slot).String(); is != x.rooted || picked != x.last {
			t.Errorf("%s: rooted by %s, picked if begun by %s; by hand %s and %s", x.action, is, picked, x.rooted, x.last)
		}
	}
	fall := planned(t, place(45, nil), shed(garlic()))
	if last := fall.Layers[0].LastPicked(fall.Crop, SowOutside); last.State != Never {
		t.Errorf("garlic is picked before winter if planted by %v", last)
	}
}

// Colder is never later: each kelvin colder brings both ends of planting forward or keeps
// them, and careful ends come no later than those of half the years.
func TestFallPlantingProperties(t *testing.T) {
	var before [2]Bound
	for k := 0; k <= 4; k++ {
		z := 500 + 250*float64(k) // in the lowest the ground stays open in half the winters
		c := sixStations().Climate(slopeBand(z, z))
		p := NewPlanner(shed(garlic()))
		crop := garlic()
		careful, _ := p.FallPlanting(c, &crop, quantity.Careful)
		half, _ := p.FallPlanting(c, &crop, quantity.Half)
		if k == 4 && (careful.Plant.To.State != Dated || half.Plant.To.State != Dated) {
			t.Errorf("no date at %v m", z)
		}
		if lateOf(careful.Plant.To) > lateOf(half.Plant.To) {
			t.Errorf("%v m: careful %v after half %v", z, careful.Plant.To, half.Plant.To)
		}
		for i, b := range []Bound{careful.Plant.To, half.Plant.To} {
			if k > 0 && lateOf(b) > lateOf(before[i]) {
				t.Errorf("250 m higher is planted later: %v after %v", b, before[i])
			}
			before[i] = b
		}
	}
}
