package plan

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// By hand from plainYears: the careful season runs from 30 May to 9 September, and frost
// never strikes it. One more night of -1 C on 5 June of 1996 and one on 5 September of 1997
// leave both ends where they are (4 and 5 of 30 years sort the same) and strike in two
// years of thirty; both in one year, in one. Under the tunnel neither harms.
func TestRisk(t *testing.T) {
	night := func(d *record.Daily, y, m, day int) {
		i := quantity.DayOf(y, m, day) - d.Start
		d.Max[i] += d.Min[i] + 100
		d.Min[i] = -100
	}
	for _, c := range []struct {
		name   string
		change func(d *record.Daily)
		share  float64
	}{
		{"as it is", nil, 0},
		{"two years", func(d *record.Daily) { night(d, 1996, 6, 5); night(d, 1997, 9, 5) }, 2.0 / 30},
		{"one year twice", func(d *record.Daily) { night(d, 1996, 6, 5); night(d, 1996, 9, 5) }, 1.0 / 30},
	} {
		for _, crop := range []catalog.Crop{tomato(), bean()} { // the bean is up on 30 May
			p := planned(t, place(44, c.change), shed(crop))
			open := p.Layers[0].Risk
			if !open.Known || open.Years != 30 || math.Abs(open.Share-c.share) > 1e-9 {
				t.Errorf("%s, %s: %+v, want %.4f", crop.ID, c.name, open, c.share)
			}
			for _, l := range p.Layers[1:] {
				if l.Layers == "tunnel" && (!l.Risk.Known || l.Risk.Share != 0) {
					t.Errorf("%s, %s, tunnel: %+v", crop.ID, c.name, l.Risk)
				}
			}
		}
	}
	blind := with(tomato(), func(c *catalog.Crop) { c.GrownDamage = figure.NotKnown[quantity.Celsius](figure.Cell{}) })
	if r := planned(t, place(44, nil), shed(blind)).Layers[0].Risk; r.Known {
		t.Errorf("no limit, no risk: %+v", r)
	}
	late := with(tomato(), func(c *catalog.Crop) { c.DaysLow, c.DaysHigh = known(200), known(220) })
	if r := planned(t, place(44, nil), shed(late)).Layers[0].Risk; r.Known {
		t.Errorf("never ripe, so never started: %+v", r)
	}
}
