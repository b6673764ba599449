package plan

import (
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// averagesOnly is a climate of one station with two typed average dates of 0 C, 24 May and
// 22 September: nothing is assumed of anything colder than -9 C.
func averagesOnly() *band.Climate {
	row := catalog.Station{ID: "s", Name: "s", Elevation: known(quantity.Metres(500)), Position: known(catalog.Slope), Latitude: known(46.3), Longitude: known(7.9)}
	f := &record.Freeze{Typed: true, Rows: []record.FreezeRow{
		{Event: record.Last, Odds: 0.5, Date: quantity.MonthDay{Month: 5, Day: 24}}, {Event: record.First, Odds: 0.5, Date: quantity.MonthDay{Month: 9, Day: 22}},
	}}
	r := band.RegionOf([]catalog.Station{row}, band.Weather{Tables: map[string]*record.Freeze{"s": f}}, 0, 0, quantity.North)
	return r.Climate(slopeBand(500, 500))
}

// hardy is a crop whose grown plants stand more than any date tells of.
func hardy() catalog.Crop {
	return catalog.Crop{ID: "hardy", Name: "Hardy", Start: catalog.Either, YoungDamage: known(quantity.Celsius(-4)), GrownDamage: known(quantity.Celsius(-14)),
		WeeksInsideLow: known(4.0), WeeksInsideHigh: known(6.0), DaysLow: known(50), DaysHigh: known(60), DaysFromSetOut: true}
}

// TestEndNotKnown: an end that no date tells is no open end. It is at least the end at the
// coldest limit with a date (-9 C: 41 days after the careful one of 0 C, at 4.5 days a
// kelvin), and all that is reckoned from it is at least that: starts, sowing inside, harvest.
func TestEndNotKnown(t *testing.T) {
	p := planned(t, averagesOnly(), shed(hardy()))
	cold := planned(t, averagesOnly(), shed(with(hardy(), func(c *catalog.Crop) { c.GrownDamage = known(quantity.Celsius(-9)) })))
	for _, a := range Actions {
		w, ok := p.Layers[0].Find(quantity.Careful, a)
		least, _ := cold.Layers[0].Find(quantity.Careful, a)
		if !ok || w.To.State != Dated || w.To.EndKnown() {
			t.Errorf("%s ends %+v, of which the least alone is known", a, w.To)
		}
		if w.To.Slot != least.To.Slot {
			t.Errorf("%s: at least until %v, want %v as at -9 C", a, quantity.North.MonthDay(w.To.Slot), quantity.North.MonthDay(least.To.Slot))
		}
		if !least.To.EndKnown() {
			t.Errorf("%s at -9 C has a date", a)
		}
	}
	if p.Layers[0].Risk.Known {
		t.Error("the risk of a season without a known end is told")
	}
	for _, l := range p.Layers[1:] {
		if l.FallKnown {
			t.Errorf("%s: days gained in fall at an end that is not known", l.Layers)
		}
	}
	c := hardy()
	for _, x := range Tasks(shed(hardy()), averagesOnly(), []Chosen{{Plan: &p, Layers: p.Layers[0]}}, nil) {
		if x.Crop == nil {
			continue
		}
		if x.Kind == TaskLastChance {
			t.Errorf("a last chance on a day that is not the last: %v", x)
		}
		if x.Kind == TaskHarvest && (x.Until == 0 || !x.EndNotKnown) {
			t.Errorf("the harvest of %s: %+v", c.ID, x)
		}
	}
}

// TestNothingKnownOfAnEnd: without any date for the end there is a first day and no last
// one, inside either; a crop too slow for the least that is known may still have time.
func TestNothingKnownOfAnEnd(t *testing.T) {
	unknown := with(hardy(), func(c *catalog.Crop) { c.DaysLow, c.DaysHigh = figure.Of[int]{}, figure.Of[int]{} })
	slow := with(hardy(), func(c *catalog.Crop) { c.DaysLow, c.DaysHigh = known(170), known(190) })
	for _, c := range []catalog.Crop{unknown, slow} {
		p := planned(t, averagesOnly(), shed(c))
		for _, a := range []Action{SowInside, SowOutside, SetOut} {
			w, ok := p.Layers[0].Find(quantity.Careful, a)
			if !ok || w.From.State != Dated || w.To.State != NotKnown {
				t.Errorf("%s: %s", a, says(w))
			}
		}
	}
}

// TestTooShort: 8 June to 31 August is 84 days of plainYears; slow kinds of 90 decide that
// there is no start, and quick ones of 70 may fit, of 86 do not.
func TestTooShort(t *testing.T) {
	for _, x := range []struct {
		low, high int
		want      TooShort
		short     bool
	}{{70, 90, TooShort{90, 70, true}, true}, {84, 90, TooShort{90, 84, true}, true}, {85, 90, TooShort{90, 85, false}, true}, {70, 84, TooShort{}, false}} {
		c := with(tomato(), func(c *catalog.Crop) {
			c.YoungDamage, c.GrownDamage, c.Chill = known(quantity.Celsius(1)), known(quantity.Celsius(1)), figure.Of[quantity.Celsius]{}
			c.DaysLow, c.DaysHigh = known(x.low), known(x.high)
		})
		w, _ := planned(t, place(10, nil), shed(c)).Layers[0].Find(quantity.Careful, SetOut)
		if got, short := w.TooShort(&c); short != x.short || got != x.want {
			t.Errorf("%d to %d days, set out %s: %+v %v, want %+v", x.low, x.high, says(w), got, short, x.want)
		}
	}
}
