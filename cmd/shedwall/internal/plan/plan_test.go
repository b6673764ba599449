package plan

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// dump prints plans with their crops by id, so that two runs can be compared.
func dump(plans []CropPlan) string {
	var b strings.Builder
	for _, p := range plans {
		fmt.Fprintf(&b, "%s %c %v %+v\n", p.Crop.ID, p.Group, p.LeftOut, p.Layers)
	}
	return b.String()
}

func fullTables() *catalog.Tables {
	t := &catalog.Tables{Crops: manyCrops(24), Covers: manyCovers(3)}
	t.Layers = []catalog.Layers{{ID: "v2+v0", Offered: true}}
	return t
}

// Two runs, and two regions made of the same records, give the same plans; the tables
// stay as they were.
func TestPlanIsPure(t *testing.T) {
	tables := fullTables()
	before := fmt.Sprintf("%+v", *tables)
	p := NewPlanner(tables)
	c := sixStations().Climate(slopeBand(700, 900))
	first := dump(p.Band(c))
	if dump(p.Band(c)) != first {
		t.Error("a second run differs")
	}
	if dump(NewPlanner(fullTables()).Band(sixStations().Climate(slopeBand(700, 900)))) != first {
		t.Error("the same guide read again differs")
	}
	if fmt.Sprintf("%+v", *tables) != before {
		t.Error("the tables were changed")
	}
	for i := range tables.Crops { // a crop alone, as in the middle of its band
		alone := dump([]CropPlan{p.Crop(c, &tables.Crops[i], p.Offered())})
		if !strings.Contains(first, alone) {
			t.Errorf("planned alone: %s", alone)
		}
	}
}

// Bands planned at once, by one planner over one region, are those planned in turn.
func TestBandsAtOnce(t *testing.T) {
	region, p := sixStations(), NewPlanner(fullTables())
	lows := []float64{400, 700, 1000, 1200}
	got := make([]string, len(lows))
	var wait sync.WaitGroup
	for i, low := range lows {
		wait.Go(func() { got[i] = dump(p.Band(region.Climate(slopeBand(low, low+200)))) })
	}
	wait.Wait()
	for i, low := range lows {
		if got[i] != dump(p.Band(region.Climate(slopeBand(low, low+200)))) {
			t.Errorf("%.0f m: another plan at once than in turn", low)
		}
	}
}

// By group, then by name.
func TestOrderOfCrops(t *testing.T) {
	plans := NewPlanner(fullTables()).Band(sixStations().Climate(slopeBand(700, 900)))
	key := func(p CropPlan) string { return string(p.Group) + p.Crop.Name }
	if !slices.IsSortedFunc(plans, func(a, b CropPlan) int { return strings.Compare(key(a), key(b)) }) {
		t.Errorf("%s", dump(plans))
	}
	for _, p := range plans {
		if p.Layers[0].Layers != "" || len(p.Layers) != 5 {
			t.Errorf("%s: open ground first, then four sets of layers; got %d", p.Crop.ID, len(p.Layers))
		}
	}
}

// early puts beginnings in order: nothing held back first, no such date last.
func early(b Bound) float64 {
	switch b.State {
	case Open:
		return -1e6
	case Never:
		return 1e6
	}
	return float64(b.Slot)
}

// late does the same for ends.
func late(b Bound) float64 {
	switch b.State {
	case Open:
		return 1e6
	case Never:
		return -1e6
	}
	return float64(b.Slot)
}

// Over many crops and weathers: careful windows lie within half-and-half ones; no
// cover makes a beginning later or a last safe day earlier; spans lie within the days
// that the crop stands outside; sowing inside comes before setting out.
func TestPlansKeepTheirOrder(t *testing.T) {
	region := sixStations()
	tables := fullTables()
	for i := range tables.Covers { // some are colder inside on some nights
		tables.Covers[i].Gain.Low = known(quantity.Kelvins(i-1) * 1.5)
	}
	p := NewPlanner(tables)
	for _, low := range []float64{350, 700, 1200} {
		for _, plan := range p.Band(region.Climate(slopeBand(low, low+200))) {
			open := plan.Layers[0]
			for _, l := range plan.Layers {
				for i, c := range l.Careful {
					h, o := l.Half[i], open.Careful[i]
					where := fmt.Sprintf("%.0f m, %s, %q, %s", low, plan.Crop.ID, l.Layers, c.Action)
					if c.Action != h.Action || c.Action != o.Action {
						t.Fatalf("%s: actions out of step", where)
					}
					if c.Action == LastSafeDay {
						if late(c.To) > late(h.To) || late(c.To) < late(o.To) {
							t.Errorf("%s: careful %+v, half %+v, open %+v", where, c.To, h.To, o.To)
						}
						continue
					}
					if c.Action == SowOutside || c.Action == SetOut {
						if early(c.From) < early(h.From) || early(c.From) > early(o.From) {
							t.Errorf("%s: careful from %+v, half %+v, open %+v", where, c.From, h.From, o.From)
						}
						if late(c.To) > late(h.To) {
							t.Errorf("%s: careful until %+v, half %+v", where, c.To, h.To)
						}
					}
					if c.Exists() && c.From.State == Dated && c.To.State == Dated && c.From.Slot > c.To.Slot {
						t.Errorf("%s: %+v to %+v", where, c.From, c.To)
					}
				}
				in, a := l.Find(careful, SowInside)
				out, b := l.Find(careful, SetOut)
				if a && b && in.Exists() && (in.From.Slot > in.To.Slot || in.From.Slot >= out.From.Slot || out.To.State == Dated && in.To.Slot >= out.To.Slot) {
					t.Errorf("%s: inside %+v, out %+v", plan.Crop.ID, in, out)
				}
				for _, s := range l.Covers {
					if s.From > s.To {
						t.Errorf("%s, %q: %+v", plan.Crop.ID, l.Layers, s)
					}
				}
			}
		}
	}
}

// Explain plans the same windows, and keeps the question behind each date.
func TestExplain(t *testing.T) {
	tables := shed(bean())
	p := NewPlanner(tables)
	c := place(44, nil)
	for _, l := range p.Band(c)[0].Layers {
		for odds, want := range map[quantity.Odds][]Window{careful: l.Careful, half: l.Half} {
			x := p.Explain(c, &tables.Crops[0], l.Layers, odds)
			if !reflect.DeepEqual(x.Windows, want) {
				t.Errorf("%q %.1f: explained %+v, planned %+v", l.Layers, odds, x.Windows, want)
			}
			// In fall one question; in spring frost and soil together, at careful odds frost
			// alone before it.
			var got []string
			for _, q := range x.Traced {
				got = append(got, fmt.Sprintf("%s %.1f of %d", q.For, q.Odds, len(q.Gates)))
			}
			asked := []string{"last-safe-day 0.5 of 1", "sow-outside 0.5 of 2"}
			if odds == careful {
				asked = []string{"last-safe-day 0.1 of 1", "sow-outside 0.1 of 1", "sow-outside 0.5 of 2"}
			}
			if !reflect.DeepEqual(got, asked) {
				t.Errorf("%q: asked %q, want %q", l.Layers, got, asked)
			}
			if x.Gain.Known != true || x.Layers != l.Layers {
				t.Errorf("%q: gain %+v", l.Layers, x.Gain)
			}
		}
	}
}

// The reasons of a sowing, in the order of its arithmetic.
func TestReasons(t *testing.T) {
	p := planned(t, place(44, nil), shed(with(bean(), func(c *catalog.Crop) { c.Basis = catalog.Plant })))
	for _, l := range p.Layers {
		w, _ := l.Find(careful, SowOutside)
		var got []string
		for _, r := range w.Reasons {
			got = append(got, fmt.Sprintf("%s %.1f", r.Kind, r.Number))
		}
		want := []string{"limit 0.0", "allowance 4.0", "gain 2.0", "soil 15.0", "emerge 10.0", "days 60.0"}
		if l.Layers == "" {
			want = slices.Delete(slices.Clone(want), 2, 3)
		}
		if (l.Layers == "" || l.Layers == "tunnel") && !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %v, want %v", l.Layers, got, want)
		}
	}
}
