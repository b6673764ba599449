package plan

import (
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/season"
)

// Sowing is one of several sowings (or settings out) of a crop.
type Sowing struct {
	Start    quantity.Slot
	From, To quantity.Slot // picked from - to
	Grown    float64       // share of its growth that the sowing before it has made by Start; 0 for the first
}

// Succession is a crop started again and again, so that the next planting comes to
// harvest when the last is picked out.
type Succession struct {
	Crop    *catalog.Crop
	Action  Action
	Sowings []Sowing
	Last    Bound   // last useful start: the end of the careful window
	Base    float64 // of the degree days (C)
	ByClass bool    // the base is that of the class
	Missing []Missing

	// Hot is the stretch of the window in which soil is on average too warm for the seed
	// to come up; equal ends where there is none.
	Hot [2]quantity.Slot
}

// Interval is the days between sowings: the first, the shortest and the last interval.
// false with fewer than two sowings.
func (s Succession) Interval() (first, shortest, last int, ok bool) {
	n := len(s.Sowings)
	if n < 2 {
		return 0, 0, 0, false
	}
	first = int(s.Sowings[1].Start - s.Sowings[0].Start)
	last = int(s.Sowings[n-1].Start - s.Sowings[n-2].Start)
	shortest = first
	for i := 1; i < n; i++ {
		shortest = min(shortest, int(s.Sowings[i].Start-s.Sowings[i-1].Start))
	}
	return first, shortest, last, true
}

// What a succession keeps to (common practice): no sowing within a week of the last;
// crops picked for longer than five weeks, and those that take three months to the first
// harvest, are not sown again for the sake of it.
const (
	leastInterval = 7
	longestPick   = 35
	longestGrowth = 89
)

// Successions is the crops of a band that are worth starting more than once in open
// ground, in the order of plans.
//
// A planting grows by degree days of the band's own season, at its middle: it needs what
// the slow kinds' days amount to when counted from the first careful start, the coldest
// of the year, and never fewer days than the quick kinds'. So plantings made in warmer
// weather catch up with earlier ones, those of fall fall behind, and the interval follows
// the season. A crop without a base temperature takes its class's; without either the
// days of the row count all season.
func (p *Planner) Successions(c *band.Climate, plans []CropPlan) []Succession {
	var out []Succession
	course := courseOf(c)
	course.heat = map[heatOfKey][]float64{}
	for i := range plans {
		if s, ok := p.succession(&plans[i], course); ok {
			out = append(out, s)
		}
	}
	return out
}

// courseKey is the key of a band's course, which the pages of crops ask for one by one.
type courseKey struct{}

// course is the middle course of a band's year, as Climate.Days and Climate.Soil tell it.
type course struct {
	low, high, soil []float64
	heat            map[heatOfKey][]float64 // degree days of each slot, while several crops ask for them
}

// heatOfKey is what the degree days of a course depend on.
type heatOfKey struct {
	base, ceiling quantity.Celsius
	capped        bool // by the ceiling
}

func courseOf(c *band.Climate) course {
	return c.Hold(courseKey{}, func() any {
		low, high := c.Days(quantity.Half)
		return course{low: low, high: high, soil: c.Soil(quantity.Half)}
	}).(course)
}

func (p *Planner) succession(pl *CropPlan, year course) (Succession, bool) {
	c := pl.Crop
	s := Succession{Crop: c, Action: StartOutside(c)}
	pick, known := c.PickDays.Get()
	w, ok := pl.Layers[0].Find(quantity.Careful, s.Action)
	days := fromSowing(c)
	if s.Action == SetOut {
		days = fromSetOut(c)
	}
	if !known || pick > longestPick || days.low > longestGrowth || !ok || !w.Exists() || !days.known || c.Start == catalog.Planted || Lasting(c) {
		return s, false
	}
	if w.From.State != Dated || w.To.State != Dated {
		return s, false
	}
	s.Last = w.To
	g := pace{low: days.low, high: days.high}
	if base, own := p.base(c); year.low != nil && base.Known() {
		b, _ := base.Get()
		s.Base, s.ByClass = float64(b), !own
		g.heat = year.heatOf(b, c)
		g.needs = g.sum(w.From.Slot, days.high)
		if full, ok := p.growthOf(c); ok { // days from an early start are not all full ones
			g.needs = max(g.needs, float64(days.high)*full.daily)
		}
	} else {
		s.Missing = append(s.Missing, Missing{Figure: "base_c"})
	}
	s.Hot = tooWarm(c, s.Action, year.soil, w.From.Slot, w.To.Slot)
	s.Sowings = again(g, max(pick, leastInterval), w.From.Slot, w.To.Slot, s.Hot)
	return s, len(s.Sowings) > 1
}

// base is the temperature that degree days are counted from, and whether it is the crop's
// own.
func (p *Planner) base(c *catalog.Crop) (base figure.Of[quantity.Celsius], own bool) {
	if c.Base.State != figure.Blank {
		return c.Base, true
	}
	if class := p.classes[c.Class]; class != nil {
		return class.Base, false
	}
	return c.Base, true
}

// again is the starts from the first to the last useful one.
func again(g pace, pick int, first, last quantity.Slot, hot [2]quantity.Slot) []Sowing {
	at := func(s quantity.Slot) Sowing {
		from := s + quantity.Slot(g.days(s))
		return Sowing{Start: s, From: from, To: from + quantity.Slot(pick) - 1}
	}
	out := []Sowing{at(first)}
	for {
		before := out[len(out)-1]
		next := before.Start + leastInterval
		for next <= last && (next+quantity.Slot(g.days(next)) <= before.To || next >= hot[0] && next < hot[1]) {
			next++
		}
		if next > last {
			// What is left of the window is worth one more start where it prolongs the harvest
			// by half a picking.
			if end := at(last); end.Start >= before.Start+leastInterval && end.From >= before.From+quantity.Slot(pick+1)/2 && (last < hot[0] || last >= hot[1]) {
				end.Grown = g.grown(before.Start, end.Start)
				out = append(out, end)
			}
			return out
		}
		s := at(next)
		s.Grown = g.grown(before.Start, s.Start)
		out = append(out, s)
	}
}

// pace is how fast a crop grows in a band.
type pace struct {
	low, high int       // days of the quick and of the slow kinds
	heat      []float64 // degree days of each slot of the season year; nil = not counted
	needs     float64   // degree days to the first harvest
}

// days from a start to the first harvest.
func (g pace) days(start quantity.Slot) int {
	if g.heat == nil || g.needs <= 0 {
		return g.high
	}
	sum := 0.0
	for n := range quantity.SlotsPerYear {
		sum += g.heat[int(start+quantity.Slot(n))%len(g.heat)]
		if sum >= g.needs {
			return max(g.low, n+1)
		}
	}
	return quantity.SlotsPerYear // it does not come to harvest within a year
}

// sum of degree days over so many days from a start.
func (g pace) sum(start quantity.Slot, days int) float64 {
	sum := 0.0
	for n := range days {
		sum += g.heat[int(start+quantity.Slot(n))%len(g.heat)]
	}
	return sum
}

// grown is the share of its growth that a planting made on one slot has made by another.
func (g pace) grown(start, by quantity.Slot) float64 {
	if g.heat == nil || g.needs <= 0 {
		return min(1, float64(by-start)/float64(g.high))
	}
	return min(1, g.sum(start, int(by-start))/g.needs)
}

// heatOf is heatOfDays of a crop, for as many crops as have its base and ceiling.
func (y course) heatOf(base quantity.Celsius, c *catalog.Crop) []float64 {
	key := heatOfKey{base: base}
	key.ceiling, key.capped = c.Ceiling.Get()
	heat, ok := y.heat[key]
	if !ok {
		heat = heatOfDays(y.low, y.high, base, c)
		y.heat[key] = heat
	}
	return heat
}

// heatOfDays is the degree days of each slot, by the single sine.
func heatOfDays(low, high []float64, base quantity.Celsius, c *catalog.Crop) []float64 {
	ceiling, capped := c.Ceiling.Get()
	out := make([]float64, len(low))
	for i := range low {
		a, b := quantity.Celsius(low[i]), quantity.Celsius(high[i])
		top := ceiling
		if !capped {
			top = max(a, b) // the day's own maximum: nothing is cut off
		}
		out[i] = season.DegreeDaysSine(a, b, base, max(base, top))
	}
	return out
}

// tooWarm is the first stretch between two slots in which soil is on average warmer than
// the seed stands.
func tooWarm(c *catalog.Crop, a Action, soil []float64, from, to quantity.Slot) (hot [2]quantity.Slot) {
	most, ok := c.SoilMax.Get()
	if !ok || soil == nil || a != SowOutside {
		return hot
	}
	for s := from; s <= to; s++ {
		warm := soil[int(s)%len(soil)] > float64(most)
		switch {
		case warm && hot[1] == 0:
			hot = [2]quantity.Slot{s, s + 1}
		case warm && hot[1] == s:
			hot[1] = s + 1
		}
	}
	return hot
}

// clearing is how long it takes to clear a bed and make it ready: three days (common
// practice).
const clearing = 3

// Second is what may follow an early crop in its bed.
type Second struct {
	First   *CropPlan
	Cleared quantity.Slot // last picking of its first planting, slow kinds
	Next    []Following   // by the last day of their starts
}

// Following is a crop that still comes to harvest, or is planted for the next summer.
type Following struct {
	Plan   *CropPlan
	Action Action
	From   quantity.Slot // first day once the bed is ready
	By     quantity.Slot // last careful day to start it
}

// SecondCrops is the crops that clear their bed while others may still be started in open
// ground, earliest first. A crop is not followed by one of its own family. The first crop
// is started on its first careful day, the second by its last.
func SecondCrops(plans []CropPlan) []Second {
	starts := make([]lastStarts, len(plans))
	for i := range plans {
		starts[i] = lastStartsOf(&plans[i])
	}
	var out []Second
	for i := range plans {
		cleared, ok := clearedBy(&plans[i])
		if !ok {
			continue
		}
		s := Second{First: &plans[i], Cleared: cleared}
		for j := range plans {
			if f, ok := starts[j].follows(cleared + clearing); ok && !related(plans[i].Crop, plans[j].Crop) {
				s.Next = append(s.Next, f)
			}
		}
		if !slices.ContainsFunc(s.Next, func(f Following) bool { return !PlantedInFall(f.Plan.Crop) }) {
			continue // what is planted in fall follows any bed: see IntoAnyBed
		}
		slices.SortStableFunc(s.Next, func(a, b Following) int { return int(a.By - b.By) })
		if len(s.Next) > 0 {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Second) int { return int(a.Cleared - b.Cleared) })
	return out
}

// IntoAnyBed is the crops planted in fall, which follow whatever clears its bed by their
// last day.
func IntoAnyBed(plans []CropPlan) []Following {
	var out []Following
	for i := range plans {
		if f, ok := lastStartsOf(&plans[i]).follows(0); ok && PlantedInFall(plans[i].Crop) {
			out = append(out, f)
		}
	}
	return out
}

func related(a, b *catalog.Crop) bool { return a.ID == b.ID || a.Family != "" && a.Family == b.Family }

// clearedBy is the last picking of a crop's first planting.
func clearedBy(p *CropPlan) (quantity.Slot, bool) {
	c, l := p.Crop, &p.Layers[0]
	pick, known := c.PickDays.Get()
	if !known || Lasting(c) {
		return 0, false
	}
	if PlantedInFall(c) {
		w, ok := l.Find(quantity.Careful, Harvest)
		if !ok || w.To.State != Dated {
			return 0, false
		}
		return w.To.Slot - quantity.SlotsPerYear, true // planted in the fall before
	}
	a := StartOutside(c)
	days := fromSowing(c)
	if a == SetOut {
		days = fromSetOut(c)
	}
	w, ok := l.Find(quantity.Careful, a)
	if !ok || !w.Exists() || w.From.State != Dated || !days.known {
		return 0, false
	}
	quick := w.From.Slot + quantity.Slot(days.low)
	if h, ok := l.Find(quantity.Careful, Harvest); ok && h.From.State == Dated {
		quick = max(quick, h.From.Slot) // in cold weather days are worth less
	}
	return quick + quantity.Slot(days.high-days.low+pick), true
}

// lastStarts is the ways in which a crop may be started outside until a known day; one that is
// there for years has none.
type lastStarts struct {
	plan *CropPlan
	ways [2]*Window // none after the first nil
}

func lastStartsOf(p *CropPlan) lastStarts {
	s, n := lastStarts{plan: p}, 0
	if Lasting(p.Crop) {
		return s
	}
	for _, a := range []Action{SowOutside, SetOut} {
		if w := p.Layers[0].Window(quantity.Careful, a); w != nil && w.Exists() && w.To.State == Dated {
			s.ways[n] = w
			n++
		}
	}
	return s
}

// follows says whether the crop may still be started from a slot on.
func (s lastStarts) follows(ready quantity.Slot) (Following, bool) {
	best := Following{}
	for _, w := range s.ways {
		if w == nil || w.To.Slot < ready {
			continue
		}
		f := Following{Plan: s.plan, Action: w.Action, From: ready, By: w.To.Slot}
		if w.From.State == Dated {
			f.From = max(ready, w.From.Slot)
		}
		if best.Plan == nil || f.By > best.By {
			best = f
		}
	}
	return best, best.Plan != nil
}
