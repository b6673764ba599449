package plan

import (
	"io/fs"
	"os"
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// workOf is the demo's planner and a band's climate with the plans of some crops, each as
// a sheet would choose it: under the covers given, and in open ground.
func workOf(t *testing.T, id, covers string, crops ...string) (*Planner, *band.Climate, []Chosen) {
	t.Helper()
	var faults diag.List
	var guide fs.FS = os.DirFS("../../../..")
	tables := intake.Tables(guide, guide, &faults)
	records := intake.Records(guide, tables, &faults)
	if faults.HasErrors() {
		t.Fatal(faults.Sorted())
	}
	r := band.RegionOf(tables.Stations, band.Weather{Records: records}, tables.Guide.YearsFrom, tables.Guide.YearsTo, tables.Hemisphere)
	i := slices.IndexFunc(tables.Bands, func(b catalog.Band) bool { return b.ID == id })
	p, c := NewPlanner(tables), r.Climate(&tables.Bands[i])
	var chosen []Chosen
	for _, crop := range crops {
		k := slices.IndexFunc(tables.Crops, func(c catalog.Crop) bool { return c.ID == crop })
		plan := p.Crop(c, &tables.Crops[k], []string{covers})
		x := Chosen{Plan: &plan, Open: plan.Layers[0], HasOpen: true, Layers: plan.Layers[len(plan.Layers)-1]}
		if x.Open.Layers != "" {
			t.Fatalf("%s: the first plan is under %q", crop, x.Open.Layers)
		}
		chosen = append(chosen, x)
	}
	return p, c, chosen
}

func hasTask(list []Task, match func(Task) bool) bool { return slices.ContainsFunc(list, match) }

// Every careful date of the plans is a day of work, and covers go on and off with the
// nights that need them; nothing else is asked for.
func TestTasksOfTheDemo(t *testing.T) {
	const covers = "tunnel+fabric"
	p, c, chosen := workOf(t, "thessock_slopes", covers, "kale", "tomato", "squash_winter", "pea", "potato")
	list := Tasks(p.tables, c, chosen, nil)
	if !slices.IsSortedFunc(list, func(a, b Task) int { return int(a.From - b.From) }) {
		t.Error("the work is not in the order of days")
	}
	kinds := map[TaskKind]int{}
	for _, x := range list {
		kinds[x.Kind]++
		if x.To < x.From || x.Until != 0 && x.Until < x.From {
			t.Errorf("%s of %s ends before it begins: %+v", x.Kind, nameOf(x.Crop), x)
		}
	}
	for _, x := range chosen {
		crop := x.Plan.Crop
		for _, l := range []LayerPlan{x.Open, x.Layers} {
			for _, a := range []Action{SowInside, SowOutside, SetOut} {
				w, ok := l.Find(quantity.Careful, a)
				if !ok || w.From.State != Dated || w.To.State == Never || backwards(w) {
					continue
				}
				kind := TaskKind(a)
				if a == SowOutside && crop.Start == catalog.Planted {
					kind = TaskPlant
				}
				on := func(kind TaskKind, day quantity.Slot) bool {
					return hasTask(list, func(k Task) bool { return k.Kind == kind && k.Crop == crop && k.From == day })
				}
				if !on(kind, w.From.Slot) {
					t.Errorf("%s under %q: nothing to %s on day %d", crop.ID, l.Layers, a, w.From.Slot)
				}
				if a == SetOut && !hasTask(list, func(k Task) bool {
					return k.Kind == TaskHarden && k.Crop == crop && k.From == w.From.Slot-7 && k.To == w.From.Slot-1
				}) {
					t.Errorf("%s under %q is not hardened in the week before day %d", crop.ID, l.Layers, w.From.Slot)
				}
			}
		}
		safe, limited := x.Layers.endOf(LastSafeDay)
		for _, s := range x.Layers.Covers {
			on := TaskCoverOn
			if s.Warms {
				on = TaskWarmOn
			}
			if !hasTask(list, func(k Task) bool {
				return k.Kind == on && k.Crop == crop && k.Cover == s.Cover && k.From == s.From && k.Until == s.To
			}) {
				t.Errorf("%s: %s does not go on on day %d", crop.ID, s.Cover, s.From)
			}
			off := hasTask(list, func(k Task) bool {
				return k.Kind == TaskCoverOff && k.Crop == crop && k.Cover == s.Cover && k.From == s.To+1
			})
			if want := s.Event == record.Last && (!limited || s.To < safe); off != want {
				t.Errorf("%s: %s comes off after day %d: %v, want %v", crop.ID, s.Cover, s.To, off, want)
			}
		}
	}
	careful := c.Date(record.First, quantity.Careful, band.Gate{}).Slot
	if half := c.Date(record.First, quantity.Half, band.Gate{}).Slot; !hasTask(list, func(k Task) bool { return k.Kind == TaskColdWeek && k.From == careful && k.Until == half }) ||
		!hasTask(list, func(k Task) bool { return k.Kind == TaskAfter && k.From == half }) {
		t.Errorf("the first cold week, days %d to %d, is not told", careful, half)
	}
	for _, kind := range []TaskKind{TaskSowInside, TaskHarden, TaskSowOutside, TaskPlant, TaskSetOut, TaskLastChance, TaskHarvest, TaskWarmOn, TaskCoverOn, TaskCoverOff, TaskVent, TaskColdWeek, TaskAfter} {
		if kinds[kind] == 0 {
			t.Errorf("no %s among %v", kind, kinds)
		}
	}
}

// Snow is swept in the band's snowy months while the cover stands, hail cloth hangs in its
// hail months, and insects are let in on the day that the plan names.
func TestTasksOfWeather(t *testing.T) {
	p, c, chosen := workOf(t, "thessock_slopes", "tunnel+fabric", "squash_winter", "kale")
	row := *c.Band
	row.SnowMonths = figure.Is(catalog.MonthSet(1, 2, 3, 4, 5, 10, 11, 12), diag.Position{}, "")
	row.HailMonths = figure.Is(catalog.MonthSet(6, 7), diag.Position{}, "")
	c = c.Region.Climate(&row)
	list := Tasks(p.tables, c, chosen, nil)
	h := c.Region.Hemisphere
	for _, k := range list {
		switch month := h.MonthDay(k.From).Month; k.Kind {
		case TaskSweep, TaskTakeDown:
			if !slices.Contains([]int{1, 2, 3, 4, 5, 10, 11, 12}, month) {
				t.Errorf("snow in month %d", month)
			}
		case TaskHailOn:
			if k.From != h.SlotOf(quantity.MonthDay{Month: 6, Day: 1}) || k.Until != h.SlotOf(quantity.MonthDay{Month: 7, Day: 31}) {
				t.Errorf("hail cloth from day %d to %d", k.From, k.Until)
			}
		case TaskInsects:
			u := UncoverOf(k.Crop, &chosen[0].Layers)
			if k.Crop.ID != "squash_winter" || !u.Dated || k.From != u.From {
				t.Errorf("insects let in to %s on day %d, want %+v", k.Crop.ID, k.From, u)
			}
		}
	}
	for _, kind := range []TaskKind{TaskSweep, TaskHailOn, TaskHailOff} {
		if !hasTask(list, func(k Task) bool { return k.Kind == kind }) {
			t.Errorf("no %s in a band of snow and hail", kind)
		}
	}
}

// A term cuts a plan to what can be begun and harvested within it. By hand: sown from 1
// April, harvested after 60 to 80 days, a term that ends on 15 June: the last sowing that
// is surely ripe is 80 days before, 27 March; so nothing is left unless the term runs on.
func TestTermByHand(t *testing.T) {
	day := func(m, d int) quantity.Slot { return quantity.North.SlotOf(quantity.MonthDay{Month: m, Day: d}) }
	days := func(n int) figure.Of[int] { return figure.Is(n, diag.Position{}, "") }
	crop := &catalog.Crop{ID: "pea", DaysLow: days(60), DaysHigh: days(80)}
	dated := func(s quantity.Slot) Bound { return Bound{State: Dated, Slot: s, Gate: Frost} }
	l := LayerPlan{Careful: []Window{
		{Action: SowOutside, Odds: quantity.Careful, From: dated(day(4, 1)), To: dated(day(5, 20))},
		{Action: Harvest, Odds: quantity.Careful, From: dated(day(5, 31)), To: dated(day(8, 8) + quantity.SlotsPerYear)},
	}, Covers: []CoverSpan{{Cover: "fabric", Event: record.Last, From: day(4, 1), To: day(7, 15)}, {Cover: "fabric", Event: record.Last, From: day(7, 20), To: day(7, 25)}}}
	term := func(fm, fd, tm, td int) *Term {
		return TermOf(catalog.Schedule{TermFrom: quantity.MonthDay{Month: fm, Day: fd}, TermTo: quantity.MonthDay{Month: tm, Day: td}}, quantity.North)
	}
	if got := TermOf(catalog.Schedule{}, quantity.North).Within(crop, l); len(got) != 1 || len(got[0].Careful) != 2 {
		t.Errorf("without a term the plan is %+v", got)
	}
	if got := term(9, 1, 6, 15).Within(crop, l); len(got) != 0 {
		t.Errorf("a term that ends too soon leaves %+v", got)
	}
	got := term(9, 1, 7, 10).Within(crop, l)
	if len(got) != 1 {
		t.Fatalf("%d terms", len(got))
	}
	sow, _ := got[0].Find(quantity.Careful, SowOutside)
	harvest, _ := got[0].Find(quantity.Careful, Harvest)
	// 10 July less 80 days is 21 April; 1 April and 60 days is 31 May.
	if sow.From.Slot != day(4, 1) || sow.To.Slot != day(4, 21) || harvest.From.Slot != day(5, 31) || harvest.To.Slot != day(7, 10) {
		t.Errorf("sown %v to %v, harvested %v to %v", quantity.North.MonthDay(sow.From.Slot), quantity.North.MonthDay(sow.To.Slot),
			quantity.North.MonthDay(harvest.From.Slot), quantity.North.MonthDay(harvest.To.Slot))
	}
	if c := got[0].Covers; len(c) != 1 || c[0].To != day(7, 10) {
		t.Errorf("covers after the term: %+v", c)
	}
	unknown := &catalog.Crop{ID: "pea"}
	if got := term(1, 1, 12, 31).Within(unknown, l); len(got) != 0 {
		t.Errorf("a crop of unknown days fits: %+v", got)
	}
}

// In a term no work of crops lies outside it.
func TestTasksInATerm(t *testing.T) {
	p, c, chosen := workOf(t, "thessock_slopes", "tunnel+fabric", "kale", "tomato", "pea", "lettuce_leaf", "radish")
	term := TermOf(catalog.Schedule{TermFrom: quantity.MonthDay{Month: 9, Day: 1}, TermTo: quantity.MonthDay{Month: 6, Day: 20}}, c.Region.Hemisphere)
	list, begun := Tasks(p.tables, c, chosen, term), 0
	for _, k := range list {
		if k.Crop == nil || k.Kind == TaskCoverOff || k.Kind == TaskHarden {
			continue
		}
		if k.Kind == TaskSowOutside || k.Kind == TaskSetOut {
			begun++
		}
		if !term.has(k.From) || k.Until != 0 && !term.has(k.Until) {
			t.Errorf("%s of %s from %v until %v", k.Kind, k.Crop.ID, c.Region.Hemisphere.MonthDay(k.From), c.Region.Hemisphere.MonthDay(k.Until))
		}
	}
	if begun == 0 || begun >= len(Tasks(p.tables, c, chosen, nil)) {
		t.Errorf("%d crops are begun in term", begun)
	}
}

// What a reported low is held against: the crop's limit, its class's where it has none, and
// the middling allowance of 2 K for limits of the leaf, less the gain.
func TestHarmedAt(t *testing.T) {
	limit := func(c quantity.Celsius) figure.Of[quantity.Celsius] { return figure.Is(c, diag.Position{}, "") }
	p := NewPlanner(&catalog.Tables{Classes: []catalog.Class{{ID: "tender", GrownDamage: limit(0.5)}}})
	air := &catalog.Crop{ID: "a", YoungDamage: limit(-2), GrownDamage: limit(-4)}
	leaf := &catalog.Crop{ID: "b", YoungDamage: limit(-2), Basis: catalog.Plant}
	for _, x := range []struct {
		crop  *catalog.Crop
		young bool
		gain  quantity.Kelvins
		want  quantity.Celsius
	}{{air, true, 0, -2}, {air, false, 1.5, -5.5}, {leaf, true, 1, -1}, {&catalog.Crop{Class: "tender"}, false, 0, 0.5}} {
		if got, ok := p.HarmedAt(x.crop, x.young, x.gain); !ok || got != x.want {
			t.Errorf("%s: %v, %v, want %v", x.crop.ID, got, ok, x.want)
		}
	}
	if _, ok := p.HarmedAt(&catalog.Crop{}, false, 0); ok {
		t.Error("a crop without figures is harmed at a temperature")
	}
}

// Layers that a band's weather rules out say in which months, and why; open ground never.
func TestOutMonths(t *testing.T) {
	p, c, _ := workOf(t, "thessock_slopes", "tunnel", "kale")
	row := *c.Band
	row.SnowMonths = figure.Is(catalog.MonthSet(1, 12), diag.Position{}, "")
	row.HailMonths = figure.Is(catalog.MonthSet(6), diag.Position{}, "")
	row.WindMonths = figure.Is(catalog.MonthSet(3), diag.Position{}, "")
	row.Gust = figure.Is(150.0, diag.Position{}, "")
	c = c.Region.Climate(&row)
	if got := p.OutMonths(&row, ""); got != 0 {
		t.Errorf("open ground is ruled out in %v", got.List())
	}
	if got := p.OutMonths(&row, "no_such_cover"); got != 0 {
		t.Errorf("a cover of no table is ruled out in %v", got.List())
	}
	out := p.Exposed(c)
	if len(out) == 0 {
		t.Fatal("gusts of 150 km/h, hail and snow rule nothing out")
	}
	for layers, why := range out {
		var months catalog.Months
		for _, e := range why {
			months |= e.Months
			for _, m := range e.Months.List() {
				if !slices.Contains([]int{1, 3, 6, 12}, m) {
					t.Errorf("%s is out in month %d of no weather", layers, m)
				}
			}
		}
		if got := p.OutMonths(&row, layers); got != months {
			t.Errorf("%s is out in %v, by reasons in %v", layers, got.List(), months.List())
		}
	}
	crop := &p.tables.Crops[0]
	if l := p.Under(c, crop, "fabric"); l.Layers != "fabric" {
		t.Errorf("asked for fabric, planned under %q", l.Layers)
	}
}
