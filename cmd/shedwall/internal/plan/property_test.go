package plan

import (
	"fmt"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// everyGate is invented crops of many kinds: cool and tender, sown, raised and either,
// with and without cold weeks, soil, bolting, heat and degree days.
func everyGate(n int) []catalog.Crop {
	crops := manyCrops(n)
	for i := range crops {
		c := &crops[i]
		c.Class = []string{"hardy", "half_hardy", "tender", "very_tender"}[i%4]
		c.Start = []catalog.Start{catalog.Outside, catalog.Inside, catalog.Either}[i%3]
		if i%2 == 0 {
			c.HeatMean = known(quantity.Celsius(14 + float64(i%8)))
		}
		if i%5 == 0 {
			c.Heat = known(quantity.Celsius(20 + float64(i%10)))
		}
		if i%3 == 0 {
			c.Base, c.Ceiling = known(quantity.Celsius(4+float64(i%7))), known(quantity.Celsius(30))
		}
		if i%4 < 2 {
			c.Bolt, c.BoltDays = known(quantity.Celsius(8+float64(i%3))), known(10+i%20)
			c.Chill = figure.Of[quantity.Celsius]{}
		}
	}
	return crops
}

// everyCover is covers from none to much, one of them warming the soil.
func everyCover() *catalog.Tables {
	t := &catalog.Tables{Crops: everyGate(36), Covers: manyCovers(4)}
	t.Covers[1].SoilGain = known(quantity.Kelvins(2.5))
	t.Covers[3].SoilGain = known(quantity.Kelvins(4))
	return t
}

// warmedStations is stations like sixStations with every reading so much warmer; in the
// south the same days lie half a year later. The weather repeats itself after 28 years, a
// whole number of leap years, so that any 28 of its springs, or falls, are the same ones.
func warmedStations(warmer quantity.Hundredths, h quantity.Hemisphere) *band.Region {
	var rows []catalog.Station
	records := map[string]*record.Daily{}
	for i := range 6 {
		id := fmt.Sprintf("s%d", i)
		z := 400 + 200*float64(i)
		latitude := 44.0 + 0.05*float64(i)
		d := weather(id, 1981, 2008, 7-0.005*z, 10, 10, uint64(i+1))
		d.Min, d.Max, d.Lines = append(d.Min, d.Min...), append(d.Max, d.Max...), nil
		for k := range d.Min {
			d.Min[k], d.Max[k] = d.Min[k]+warmer, d.Max[k]+warmer
		}
		if h == quantity.South {
			latitude, d.Start = -latitude, d.Start+184
		}
		rows = append(rows, catalog.Station{ID: id, Name: id, Latitude: known(latitude), Longitude: known(-38.0 + 0.03*float64(i)),
			Elevation: known(quantity.Metres(z)), Position: known(catalog.Slope)})
		records[id] = d
	}
	r := band.NewRegion(rows, records, 1991, 2018, h)
	r.UsePlainYears()
	return r
}

// start is a bound as a number: nothing holds it back is before all dates, never after.
func start(b Bound) int {
	switch b.State {
	case Open:
		return -1000
	case Dated:
		return int(b.Slot)
	}
	return 10_000
}

// end is the same of a last day: open is after all dates, never before.
func end(b Bound) int {
	switch b.State {
	case Open:
		return 10_000
	case Dated:
		return int(b.Slot)
	}
	return -1000
}

// pairs calls f with the same window of two plans of the same crops.
func pairs(a, b []CropPlan, f func(name string, x, y Window)) {
	byID := map[string]CropPlan{}
	for _, p := range b {
		byID[p.Crop.ID] = p
	}
	for _, p := range a {
		q := byID[p.Crop.ID]
		for i := range p.Layers {
			l, m := p.Layers[i], q.Layers[i]
			for k, ws := range [][]Window{l.Careful, l.Half} {
				for j, w := range ws {
					other := m.Careful
					if k == 1 {
						other = m.Half
					}
					f(fmt.Sprintf("%s (%s), %q, odds %.1f, %s", p.Crop.ID, p.Crop.Class, l.Layers, w.Odds, w.Action), w, other[j])
				}
			}
		}
	}
}

var outside = map[Action]bool{SowOutside: true, SetOut: true}

// A higher band of the same slope is colder, so nothing is started earlier and nothing
// stands longer: but for heat, which lets go sooner there.
func TestColderBandIsNeverEarlier(t *testing.T) {
	r := warmedStations(0, quantity.North)
	p := NewPlanner(everyCover())
	low, high := p.Band(r.Climate(slopeBand(500, 600))), p.Band(r.Climate(slopeBand(900, 1000)))
	n := 0
	pairs(low, high, func(name string, a, b Window) {
		if outside[a.Action] && a.From.Gate != Heat && b.From.Gate != Heat {
			n++
			if start(b.From) < start(a.From) {
				t.Errorf("%s: %v in the low band, %v in the high one", name, a.From, b.From)
			}
		}
		if a.Action == LastSafeDay && end(b.To) > end(a.To) {
			t.Errorf("%s: %v in the low band, %v in the high one", name, a.To, b.To)
		}
	})
	if n < 300 {
		t.Errorf("only %d starts compared", n)
	}
}

// Layers never make a window shorter, but by heat.
func TestLayersNeverShorten(t *testing.T) {
	r := warmedStations(0, quantity.North)
	n := 0
	for _, plan := range NewPlanner(everyCover()).Band(r.Climate(slopeBand(700, 900))) {
		for _, l := range plan.Layers[1:] {
			for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
				for _, a := range []Action{SowOutside, SetOut, LastSafeDay} {
					open, ok := plan.Layers[0].Find(odds, a)
					w, _ := l.Find(odds, a)
					if !ok {
						continue
					}
					n++
					if outside[a] && w.From.Gate != Heat && start(w.From) > start(open.From) || w.To.Gate != Heat && end(w.To) < end(open.To) {
						t.Errorf("%s, %q, %.1f, %s: %s, in open ground %s", plan.Crop.ID, l.Layers, odds, a, says(w), says(open))
					}
				}
			}
		}
	}
	if n < 300 {
		t.Errorf("only %d windows compared", n)
	}
}

// Careful dates are never before half-and-half ones in spring nor after them in fall.
func TestCarefulIsNeverBolder(t *testing.T) {
	for _, r := range []*band.Region{warmedStations(0, quantity.North), sixStations()} {
		for _, plan := range NewPlanner(everyCover()).Band(r.Climate(slopeBand(700, 900))) {
			for _, l := range plan.Layers {
				for _, a := range []Action{SowOutside, SetOut, LastSafeDay} {
					c, ok := l.Find(quantity.Careful, a)
					h, _ := l.Find(quantity.Half, a)
					if !ok {
						continue
					}
					if outside[a] && c.From.Gate != Heat && h.From.Gate != Heat && start(c.From) < start(h.From) {
						t.Errorf("%s, %q, %s: careful %s, half %s", plan.Crop.ID, l.Layers, a, says(c), says(h))
					}
					if c.To.Gate != Heat && h.To.Gate != Heat && c.To.Gate != Warmth && h.To.Gate != Warmth && end(c.To) > end(h.To) {
						t.Errorf("%s, %q, %s: careful until %s, half until %s", plan.Crop.ID, l.Layers, a, says(c), says(h))
					}
				}
			}
		}
	}
}

// All records a degree warmer: frost, cold weeks, soil and early cold never hold a start
// longer, the last safe day is never earlier, hot weather never begins later nor ends
// earlier, and the days too short to grow stay.
func TestADegreeWarmer(t *testing.T) {
	cold, warm := warmedStations(0, quantity.North), warmedStations(100, quantity.North)
	b := slopeBand(700, 900)
	p := NewPlanner(everyCover())
	cc, wc := cold.Climate(b), warm.Climate(b)
	starts := map[Gate]int{}
	pairs(p.Band(cc), p.Band(wc), func(name string, x, y Window) {
		if outside[x.Action] && x.From.Gate != Heat && y.From.Gate != Heat {
			starts[x.From.Gate]++
			if start(y.From) > start(x.From) {
				t.Errorf("%s: from %v, a degree warmer %v", name, x.From, y.From)
			}
		}
		if x.Action == LastSafeDay && end(y.To) < end(x.To) {
			t.Errorf("%s: until %v, a degree warmer %v", name, x.To, y.To)
		}
		if x.Action == Harvest && x.From == y.From && x.To == y.To && x.Hot.Exists() && (y.Hot.From > x.Hot.From || y.Hot.To < x.Hot.To) {
			t.Errorf("%s: hot %v, a degree warmer %v", name, x.Hot, y.Hot)
		}
	})
	for _, g := range []Gate{Frost, Chill, Soil, Bolt} {
		if starts[g] == 0 {
			t.Errorf("no start is held by %s: %v", g, starts)
		}
	}
	for _, s := range []band.Series{band.Hot, band.Month} {
		for limit := quantity.Celsius(14); limit <= 28; limit++ {
			a, z := cc.Heat(s, quantity.Half, limit)
			b, y := wc.Heat(s, quantity.Half, limit)
			if a.State == band.Dated && (b.State != band.Dated || b.Exact > a.Exact || y.Exact < z.Exact) {
				t.Errorf("hot weather of %v C: %.1f to %.1f, a degree warmer %.1f to %.1f", limit, a.Exact, z.Exact, b.Exact, y.Exact)
			}
		}
	}
	was, _ := SlowDays(cc)
	if is, _ := SlowDays(wc); is != was {
		t.Errorf("short days %v, a degree warmer %v", was, is)
	}
}

// sinceStart is days since the season year began, 29 February left out.
func sinceStart(s quantity.Slot, leap quantity.Slot) int {
	d := int(s)
	for ; s >= leap; s -= quantity.SlotsPerYear {
		d--
	}
	return d
}

// The same weather half a year later at the negated latitude: dates of frost, soil, cold
// and warmth stand within a day half a year on, those of light within six (the southern
// winter is longer by some days, since the earth is furthest from the sun in July).
func TestSouthernCopy(t *testing.T) {
	b := slopeBand(700, 900)
	p := NewPlanner(everyCover())
	north, south := p.Band(warmedStations(0, quantity.North).Climate(b)), p.Band(warmedStations(0, quantity.South).Climate(b))
	n := map[Gate]int{}
	pairs(north, south, func(name string, x, y Window) {
		for _, e := range [][2]Bound{{x.From, y.From}, {x.To, y.To}} {
			within := 1
			if e[0].Gate == Light || e[1].Gate == Light || e[0].Gate == Raising {
				within = 6 // plants are raised for the last setting out, which light may hold
			}
			n[e[0].Gate]++
			d := 0
			if e[0].State == Dated && e[1].State == Dated {
				d = sinceStart(e[0].Slot, 212) - sinceStart(e[1].Slot, 28) // 29 February, north and south
			}
			if e[0].State != e[1].State || d > within || d < -within {
				t.Errorf("%s: %v in the north, %v in the south", name, e[0], e[1])
			}
		}
	})
	for _, g := range []Gate{Frost, Chill, Soil, Bolt, Light, Maturity} {
		if n[g] == 0 {
			t.Errorf("no date is held by %s: %v", g, n)
		}
	}
}

// A cover that makes no start earlier than in open ground has no line in spring: the plant is
// as safe without it. Nor has any a line before the first plant needs it: before it is set
// out, or a week before its seed should be up, but for film that warms the soil.
func TestNoIdleCovers(t *testing.T) {
	invented := everyCover()
	r := warmedStations(0, quantity.North)
	idle, lines := 0, 0
	look := func(plans []CropPlan) {
		for i := range plans {
			open := &plans[i].Layers[0]
			for k := range plans[i].Layers[1:] {
				l := &plans[i].Layers[1+k]
				earlier, first := false, quantity.Slot(-1)
				for _, a := range []Action{SowOutside, SetOut} {
					o, w := open.Window(quantity.Careful, a), l.Window(quantity.Careful, a)
					if o == nil || w == nil || w.To.State == Never {
						continue
					}
					earlier = earlier || start(w.From) < start(o.From) || o.To.State == Never
					if w.From.State == Dated && (first < 0 || w.From.Slot < first) {
						first = w.From.Slot
					}
				}
				for _, s := range l.Covers {
					if s.Event != record.Last {
						continue
					}
					lines++
					if !earlier {
						t.Errorf("%s, %q: %+v, though open ground is as early", plans[i].Crop.ID, l.Layers, s)
					}
					if !s.Warms && first >= 0 && s.From < first {
						t.Errorf("%s, %q: %+v, before the first start on %d", plans[i].Crop.ID, l.Layers, s, first)
					}
				}
				if !earlier {
					idle++
				}
			}
		}
	}
	for _, id := range []string{"thessock_slopes", "sumpney_hollow"} {
		p, c := demoBand(t, id)
		look(p.Band(c))
	}
	for _, z := range []float64{400, 800, 1200} {
		look(NewPlanner(invented).Band(r.Climate(slopeBand(z, z+100))))
	}
	if idle < 100 || lines < 100 {
		t.Errorf("%d covers that change nothing, %d lines in spring: too few to tell", idle, lines)
	}
}
