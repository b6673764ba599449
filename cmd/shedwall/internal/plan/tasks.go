package plan

import (
	"cmp"
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// TaskKind is a piece of work in a garden. What has a window in a plan is called as its
// action.
type TaskKind string

// The kinds of work.
const (
	TaskSowInside  TaskKind = "sow-inside"
	TaskHarden     TaskKind = "harden" // young plants get used to the outside
	TaskSowOutside TaskKind = "sow-outside"
	TaskPlant      TaskKind = "plant" // tubers, sets, cloves, crowns, slips
	TaskSetOut     TaskKind = "set-out"
	TaskLastChance TaskKind = "last-chance" // the last day of a start; Action says of which
	TaskHarvest    TaskKind = "harvest"
	TaskWarmOn     TaskKind = "warm-on"   // before a sowing, to warm the soil
	TaskCoverOn    TaskKind = "cover-on"  // in the evening: the cold comes with the next morning
	TaskVent       TaskKind = "vent"      // from now on open by day what is shut by night
	TaskCoverOff   TaskKind = "cover-off" // the nights need it no more
	TaskInsects    TaskKind = "insects"   // off by day, so that insects reach the flowers
	TaskSweep      TaskKind = "sweep"     // snow off a cover that bears it
	TaskTakeDown   TaskKind = "take-down" // a cover that does not bear snow
	TaskHailOn     TaskKind = "hail-on"
	TaskHailOff    TaskKind = "hail-off"
	TaskColdWeek   TaskKind = "cold-week"    // the first cold week of fall may come
	TaskAfter      TaskKind = "after-freeze" // what to save and what to throw away
)

// TaskKinds is every kind in the order in which a week lists them.
var TaskKinds = []TaskKind{TaskColdWeek, TaskAfter, TaskWarmOn, TaskCoverOn, TaskVent, TaskInsects, TaskCoverOff, TaskHailOn, TaskHailOff, TaskSweep, TaskTakeDown,
	TaskSowInside, TaskHarden, TaskSowOutside, TaskPlant, TaskSetOut, TaskLastChance, TaskHarvest}

// Task is one piece of work of a band: data, never a sentence.
type Task struct {
	Kind   TaskKind
	Crop   *catalog.Crop // nil: of the whole band
	Layers string        // covers that the crop is planned with; "" = open ground
	Cover  string        // the cover that goes on, is opened, swept or taken off; "" = none
	Action Action        // the window whose end this is; "" = none

	// From and To are whole days, both included; one day has From = To. Until is the
	// last day on which a start is still right, or a harvest stands; 0 = none known.
	From, To, Until quantity.Slot

	EndNotKnown bool // something ends it, on a day that is not known; Until is the last known within it
}

// Chosen is a crop with the covers that a sheet plans it with. Open is the plan without
// any, where the crop has a season so too.
type Chosen struct {
	Plan    *CropPlan
	Layers  LayerPlan
	Open    LayerPlan
	HasOpen bool // there is a season in open ground beside that under Layers
}

// hardening is how long plants raised inside are put out by day before they stay out.
// Handbooks say a week to ten days.
const hardening = 7

// tasksOfCrop is about how many tasks a crop makes.
const tasksOfCrop = 14

// Tasks is the work of a band for the crops chosen, by careful dates: by first day, then
// by kind, then by crop. Slots run from one winter over the summer into the next, as in
// plans.
//
// A crop that has a season in open ground too is begun twice, on the days of each; where
// covers change nothing about a day, it is the open ground's. With a term, starts are
// kept to its days, see Term.Within.
func Tasks(t *catalog.Tables, c *band.Climate, chosen []Chosen, term *Term) []Task {
	w := tasker{tables: t, climate: c, list: make([]Task, 0, tasksOfCrop*len(chosen))}
	var spans []CoverSpan
	for i := range chosen {
		x := &chosen[i]
		for _, l := range term.Within(x.Plan.Crop, x.Layers) {
			w.crop(x.Plan.Crop, l, true)
			spans = append(spans, l.Covers...)
		}
		if x.HasOpen {
			for _, l := range term.Within(x.Plan.Crop, x.Open) {
				w.crop(x.Plan.Crop, l, false)
			}
		}
	}
	w.list = withoutTwice(w.list)
	w.covers(spans)
	w.cold(term)
	return slices.Compact(inOrder(w.list))
}

// inOrder is tasks by first day, then by kind, then by crop. A band has a thousand, and each
// is long: their places are sorted, most by day and kind alone.
func inOrder(tasks []Task) []Task {
	type place struct {
		from     quantity.Slot
		kind, at int // among TaskKinds, and among tasks
	}
	order := make([]place, len(tasks))
	for i := range tasks {
		order[i] = place{tasks[i].From, slices.Index(TaskKinds, tasks[i].Kind), i}
	}
	slices.SortFunc(order, func(x, y place) int {
		if c := cmp.Or(cmp.Compare(x.from, y.from), cmp.Compare(x.kind, y.kind)); c != 0 {
			return c
		}
		a, b := &tasks[x.at], &tasks[y.at]
		return cmp.Or(cmp.Compare(nameOf(a.Crop), nameOf(b.Crop)), cmp.Compare(a.Layers, b.Layers), cmp.Compare(a.Cover, b.Cover), cmp.Compare(a.Action, b.Action),
			x.at-y.at)
	})
	out := make([]Task, len(tasks))
	for i, p := range order {
		out[i] = tasks[p.at]
	}
	return out
}

// withoutTwice leaves out work under covers that open ground has on the same day.
func withoutTwice(list []Task) []Task {
	type day struct {
		kind   TaskKind
		crop   *catalog.Crop
		action Action
		from   quantity.Slot
	}
	open := map[day]bool{}
	for _, t := range list {
		if t.Layers == "" {
			open[day{t.Kind, t.Crop, t.Action, t.From}] = true
		}
	}
	return slices.DeleteFunc(list, func(t Task) bool {
		return t.Layers != "" && t.Action != "" && open[day{t.Kind, t.Crop, t.Action, t.From}]
	})
}

func nameOf(c *catalog.Crop) string {
	if c == nil {
		return ""
	}
	return c.Name
}

type tasker struct {
	tables  *catalog.Tables
	climate *band.Climate
	list    []Task
}

func (w *tasker) add(t Task) {
	if t.To < t.From {
		t.To = t.From
	}
	w.list = append(w.list, t)
}

// crop adds the work of one crop under one set of layers; whole says with its harvest and
// its covers, else only what begins it.
func (w *tasker) crop(c *catalog.Crop, l LayerPlan, whole bool) {
	for _, a := range []Action{SowInside, SowOutside, SetOut} {
		win, ok := l.Find(quantity.Careful, a)
		if !ok || win.From.State == Never || win.To.State == Never || win.From.State == NotKnown || backwards(win) {
			continue
		}
		for _, part := range win.Parts() {
			w.start(c, part)
		}
	}
	if !whole {
		return
	}
	end := quantity.Slot(0)
	if h, ok := l.Find(quantity.Careful, Harvest); ok && h.From.State == Dated && h.To.State != Never && !backwards(h) {
		t := Task{Kind: TaskHarvest, Crop: c, Layers: l.Layers, Action: Harvest, From: h.From.Slot}
		t.until(h.To)
		w.add(t)
		if h.To.State == Dated && h.To.EndKnown() && h.To.Slot > h.From.Slot {
			w.add(Task{Kind: TaskLastChance, Crop: c, Layers: l.Layers, Action: Harvest, From: h.To.Slot})
		}
	}
	if safe, ok := l.Find(quantity.Careful, LastSafeDay); ok && safe.To.State == Dated {
		end = safe.To.Slot
	}
	for _, s := range l.Covers {
		on := TaskCoverOn
		if s.Warms {
			on = TaskWarmOn
		}
		w.add(Task{Kind: on, Crop: c, Layers: l.Layers, Cover: s.Cover, From: s.From, Until: s.To})
		if s.Event == record.Last && (end == 0 || s.To < end) {
			w.add(Task{Kind: TaskCoverOff, Crop: c, Layers: l.Layers, Cover: s.Cover, From: s.To + 1})
		}
	}
	w.insects(c, l)
}

// until notes the last day of a task's window, as far as it is known.
func (t *Task) until(end Bound) {
	t.EndNotKnown = !end.EndKnown()
	if end.State == Dated {
		t.Until = end.Slot
	}
}

// start adds the beginning and the end of one way to start a crop.
func (w *tasker) start(c *catalog.Crop, win Window) {
	t := Task{Kind: TaskKind(win.Action), Crop: c, Layers: win.Layers, Action: win.Action, From: win.From.Slot}
	if win.Action == SowOutside && c.Start == catalog.Planted {
		t.Kind = TaskPlant
	}
	t.until(win.To)
	if win.From.State == Dated {
		w.add(t)
		if win.Action == SetOut {
			h := t
			h.Kind, h.From, h.To, h.Until, h.EndNotKnown = TaskHarden, win.From.Slot-hardening, win.From.Slot-1, 0, false
			w.add(h)
		}
	}
	if win.To.State == Dated && win.To.EndKnown() && (win.From.State != Dated || win.To.Slot > win.From.Slot) {
		t.Kind, t.From, t.Until = TaskLastChance, win.To.Slot, 0
		w.add(t)
	}
}

// insects adds the day from which covers that keep insects out come off by day, where one
// is still on by then.
func (w *tasker) insects(c *catalog.Crop, l LayerPlan) {
	if needs, said := c.NeedsInsect.Get(); !said || !needs {
		return
	}
	u := UncoverOf(c, &l)
	if !u.Dated {
		return
	}
	for _, s := range l.Covers {
		out := slices.ContainsFunc(w.tables.Covers, func(cv catalog.Cover) bool {
			keeps, said := cv.InsectsOut.Get()
			return cv.ID == s.Cover && said && keeps
		})
		if out && s.From <= u.From && u.From <= s.To {
			w.add(Task{Kind: TaskInsects, Crop: c, Layers: l.Layers, Cover: s.Cover, From: u.From, Until: s.To})
		}
	}
}

func backwards(w Window) bool {
	return w.From.State == Dated && w.To.State == Dated && w.To.Slot < w.From.Slot
}

// covers adds the work on covers of the whole band: opening them by day, snow, hail.
func (w *tasker) covers(spans []CoverSpan) {
	h := w.climate.Region.Hemisphere
	for i := range w.tables.Covers {
		cv := &w.tables.Covers[i]
		for _, e := range []record.Event{record.Last, record.First} {
			if from, to, ok := stands(spans, cv.ID, e); ok {
				w.vent(cv, e, from+1, to+1)
			}
		}
		rule, _ := cv.Snow.Get()
		kind := map[catalog.SnowRule]TaskKind{catalog.SnowSweep: TaskSweep, catalog.SnowTakeDown: TaskTakeDown}[rule]
		if snow, known := w.climate.Band.SnowMonths.Get(); known && kind != "" {
			if from, to, ok := together(spans, cv.ID, snow, h); ok {
				w.add(Task{Kind: kind, Cover: cv.ID, From: from, Until: to})
			}
		}
		if hail, known := w.climate.Band.HailMonths.Get(); known {
			if holds, said := cv.Hail.Get(); said && holds == catalog.HailHolds && onlyForHail(cv) {
				for _, run := range hail.Spans() {
					from, to := monthSlots(h, run)
					w.add(Task{Kind: TaskHailOn, Cover: cv.ID, From: from, Until: to})
					w.add(Task{Kind: TaskHailOff, Cover: cv.ID, From: to + 1})
				}
			}
		}
	}
}

// vent adds the day from which a cover that stands from one day to another is opened by
// day: the first, or in spring the day by which such warm days have come in 1 year in 10;
// in fall only as long as they come in half the years.
func (w *tasker) vent(cv *catalog.Cover, e record.Event, from, to quantity.Slot) {
	v, ok := VentOf(w.climate, cv)
	if !ok {
		return
	}
	if e == record.Last && v.Early > 0 {
		from = max(from, v.Early)
	}
	if e == record.First && v.Last > 0 {
		to = min(to, v.Last)
	}
	if from <= to {
		w.add(Task{Kind: TaskVent, Cover: cv.ID, From: from, Until: to})
	}
}

// onlyForHail says whether a cover is there for hail: it is planned nowhere, neither alone
// nor in layers, as its gain at night is not known.
func onlyForHail(c *catalog.Cover) bool { return !c.Gain.Low.Known() && !c.Gain.Typical.Known() }

// stands is the first and the last evening of a season on which a cover is on any crop.
func stands(spans []CoverSpan, cover string, e record.Event) (from, to quantity.Slot, ok bool) {
	for _, s := range spans {
		if s.Cover != cover || s.Event != e {
			continue
		}
		if !ok {
			from, to, ok = s.From, s.To, true
		}
		from, to = min(from, s.From), max(to, s.To)
	}
	return from, to, ok
}

// together is the first and the last day of months on which a cover stands.
func together(spans []CoverSpan, cover string, months catalog.Months, h quantity.Hemisphere) (from, to quantity.Slot, ok bool) {
	for _, s := range spans {
		if s.Cover != cover {
			continue
		}
		for d := s.From; d <= s.To; d++ {
			if !months.Has(h.MonthDay(d).Month) {
				continue
			}
			if !ok {
				from, to, ok = d, d, true
			}
			from, to = min(from, d), max(to, d)
		}
	}
	return from, to, ok
}

// monthSlots is the first and last day of a run of months, in the season year in which
// the run begins.
func monthSlots(h quantity.Hemisphere, run [2]int) (from, to quantity.Slot) {
	from = h.SlotOf(quantity.MonthDay{Month: run[0], Day: 1})
	to = h.SlotOf(quantity.MonthDay{Month: run[1], Day: quantity.DaysIn(2024, run[1])})
	if to < from {
		to += quantity.SlotsPerYear
	}
	return from, to
}

// cold adds the first freezes of fall: from the careful date on the first cold week may
// come, which harms what has not been hardened by cooler weather; from the half-and-half
// date on it is likelier than not that something froze.
func (w *tasker) cold(term *Term) {
	first := func(odds quantity.Odds) (quantity.Slot, bool) {
		a := w.climate.NightDate(record.First, odds, 0, 0)
		return a.Slot, a.State == band.Dated
	}
	careful, ok := first(quantity.Careful)
	if !ok {
		return
	}
	half, known := first(quantity.Half)
	t := Task{Kind: TaskColdWeek, From: careful}
	if known && half > careful {
		t.Until = half
	}
	if term.has(careful) {
		w.add(t)
	}
	if known && term.has(half) {
		w.add(Task{Kind: TaskAfter, From: half})
	}
}
