package plan

import (
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/season"
)

// garden pea as a row of a table: 50 days, degree days above 4.4 C, best growth from a
// monthly mean of 15.6 C on.
func peaRow() catalog.Crop {
	return catalog.Crop{
		ID: "pea", Name: "Pea", Class: "hardy", Start: catalog.Outside, YoungDamage: known(quantity.Celsius(-3.3)), GrownDamage: known(quantity.Celsius(-2.2)),
		EmergeDays: known(9), DaysLow: known(50), DaysHigh: known(70),
		Base: known(quantity.Celsius(4.4)), BestMeanLow: known(quantity.Celsius(15.6)), BestMeanHigh: known(quantity.Celsius(18.3)),
	}
}

func planOne(t *testing.T, c catalog.Crop, low, high float64) (*band.Climate, *CropPlan) {
	t.Helper()
	covers := manyCovers(2)
	climate := sixStations().Climate(slopeBand(low, high))
	plans := NewPlanner(&catalog.Tables{Crops: []catalog.Crop{c}, Covers: covers}).Band(climate)
	return climate, &plans[0]
}

func startAndHarvest(t *testing.T, l *LayerPlan) (start, harvest Bound) {
	t.Helper()
	s, ok := l.Find(quantity.Careful, SowOutside)
	h, found := l.Find(quantity.Careful, Harvest)
	if !ok || !found || s.From.State != Dated {
		t.Fatalf("no start or harvest: %+v", l)
	}
	return s.From, h.From
}

// TestHarvestWaitsForWarmth adds the degree days up again, day by day from the first sowing:
// the harvest begins on the first day by which fifty days at 15.6 C are collected, which
// in a cool spring is long after fifty days.
func TestHarvestWaitsForWarmth(t *testing.T) {
	climate, p := planOne(t, peaRow(), 700, 900)
	start, harvest := startAndHarvest(t, &p.Layers[0])
	low, high := climate.Days(quantity.Careful)
	sum, need, days := 0.0, 50*(15.6-4.4), 0
	for ; sum < need-1e-9; days++ {
		s := (int(start.Slot) + days) % quantity.SlotsPerYear
		sum += season.DegreeDaysSine(quantity.Celsius(low[s]), quantity.Celsius(high[s]), 4.4, noCeiling)
	}
	if got := int(harvest.Slot - start.Slot); got != days || days <= 55 {
		t.Errorf("harvest %d days after sowing; %.0f degree days are collected after %d", got, need, days)
	}
	if want := (int(harvest.Slot - start.Slot)); len(p.Layers) < 2 {
		t.Fatal("no covers")
	} else if under, picked := startAndHarvest(t, &p.Layers[1]); int(picked.Slot-under.Slot) != want || under.Slot >= start.Slot {
		t.Errorf("under covers harvest %d days after %v, in the open %d after %v", picked.Slot-under.Slot, under.Slot, want, start.Slot)
	}
}

// TestHarvestByDaysAlone: where base or best mean are not known, or lie too near to each
// other, days are days.
func TestHarvestByDaysAlone(t *testing.T) {
	for name, change := range map[string]func(*catalog.Crop){
		"no best mean": func(c *catalog.Crop) { c.BestMeanLow = figure.Of[quantity.Celsius]{} },
		"no base":      func(c *catalog.Crop) { c.Base, c.Class = figure.Of[quantity.Celsius]{}, "" },
		"too near":     func(c *catalog.Crop) { c.Base = known(quantity.Celsius(11)) },
		"a warm band":  func(c *catalog.Crop) { c.Base = known(quantity.Celsius(0)); c.BestMeanLow = known(quantity.Celsius(5)) },
	} {
		c := peaRow()
		change(&c)
		_, p := planOne(t, c, 700, 900)
		if start, harvest := startAndHarvest(t, &p.Layers[0]); harvest.Slot-start.Slot != 50 {
			t.Errorf("%s: harvest %d days after sowing, want 50", name, harvest.Slot-start.Slot)
		}
	}
}

// TestTooCoolToRipen: where not enough warmth is left before the cold, the harvest is not
// known; the sowing stands.
func TestTooCoolToRipen(t *testing.T) {
	c := peaRow()
	c.Base, c.BestMeanLow = known(quantity.Celsius(10)), known(quantity.Celsius(22))
	_, p := planOne(t, c, 1500, 1600)
	if _, harvest := startAndHarvest(t, &p.Layers[0]); harvest.State != NotKnown || harvest.Gate != Warmth {
		t.Errorf("harvest %+v, want not known for want of warmth", harvest)
	}
}
