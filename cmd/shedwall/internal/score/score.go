// Package score sets growers' reports against what a guide printed: did the dates keep
// their odds, and did plants and covers stand what their figures say? It judges single
// reports by the guide's own rules and adds them up. A few reports prove nothing, and it
// says so; it never changes a figure.
package score

import (
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Place says where in the printed season of its crop, band and covers a report's day
// lies.
type Place uint8

// Safe: within the careful dates. Even: within the half-and-half dates alone. Outside:
// in neither. NoDates: the guide prints none to compare with.
const (
	NoDates Place = iota
	Safe
	Even
	Outside
)

// Told says what a report's low foretold by the crop's limit and the cover's gain.
type Told uint8

// NotTold: no low, no limit or no gain is known. Spared: even with the cover's low gain
// the low stays above the limit. Harmed: even with its high gain it does not. Open: it
// depends on the night.
const (
	NotTold Told = iota
	Spared
	HarmTold
	Open
)

// Judged is one report with what was printed for it.
type Judged struct {
	Report *catalog.Report
	Place  Place
	Told   Told
}

// OfFrost says whether the outcome speaks of frost at all.
func (j Judged) OfFrost() bool {
	o := j.Report.Outcome
	return o == catalog.Unhurt || j.Harmed()
}

// Harmed says whether frost harmed or killed the plants.
func (j Judged) Harmed() bool {
	return j.Report.Outcome == catalog.Harmed || j.Report.Outcome == catalog.Killed
}

// Tally counts the reports of one band, one set of covers or the whole guide.
type Tally struct {
	ID      string // of the band or the layers; "" = all, or open ground
	Reports int

	Safe, SafeHarmed       int // reports of frost within the careful dates, and those that tell harm
	Even, EvenHarmed       int
	Outside, OutsideHarmed int

	Right, Wrong int // reports whose low foretold the outcome, and those it foretold wrongly
	Heat, Crush  int // lost to heat, lost under snow or in wind: no frost date promises these
}

// Result is all reports judged and added up.
type Result struct {
	Judged []Judged // in the order of the table
	All    Tally
	Bands  []Tally // in the order of the guide, those with reports
	Covers []Tally // open ground first, then in the order of first report
	Parked int     // reports that could not be placed
}

// Dates gives the windows of a crop in a band under layers; false where the guide has no
// such band or crop.
type Dates func(band, crop, layers string) (plan.LayerPlan, bool)

// Reports judges the reports of a guide by the dates it prints and by the figures of its
// planner. It reads its arguments only.
func Reports(t *catalog.Tables, p *plan.Planner, dates Dates) Result {
	r := Result{Parked: len(t.Parked)}
	crops := map[string]*catalog.Crop{}
	for i := range t.Crops {
		crops[t.Crops[i].ID] = &t.Crops[i]
	}
	bands := make([]Tally, len(t.Bands))
	for i := range t.Reports {
		report := &t.Reports[i]
		j := Judged{Report: report}
		if lp, ok := dates(report.Band, report.Crop, report.Layers); ok {
			j.Place = placeOf(lp, t.Hemisphere.SlotOf(report.On))
		}
		if crop := crops[report.Crop]; crop != nil {
			j.Told = told(p, crop, report)
		}
		r.Judged = append(r.Judged, j)
		r.All.add(j)
		if k := slices.IndexFunc(t.Bands, func(b catalog.Band) bool { return b.ID == report.Band }); k >= 0 {
			bands[k].ID = report.Band
			bands[k].add(j)
		}
		r.cover(report.Layers).add(j)
	}
	for _, b := range bands {
		if b.Reports > 0 {
			r.Bands = append(r.Bands, b)
		}
	}
	slices.SortStableFunc(r.Covers, func(a, b Tally) int { return covered(a) - covered(b) })
	return r
}

// covered sorts open ground before the rest.
func covered(t Tally) int { return min(len(t.ID), 1) }

func (r *Result) cover(layers string) *Tally {
	for i := range r.Covers {
		if r.Covers[i].ID == layers {
			return &r.Covers[i]
		}
	}
	r.Covers = append(r.Covers, Tally{ID: layers})
	return &r.Covers[len(r.Covers)-1]
}

func (t *Tally) add(j Judged) {
	t.Reports++
	switch j.Report.Outcome {
	case catalog.Overheated:
		t.Heat++
		return
	case catalog.Crushed:
		t.Crush++
		return
	}
	count := func(all, harmed *int) {
		*all++
		if j.Harmed() {
			*harmed++
		}
	}
	switch j.Place {
	case Safe:
		count(&t.Safe, &t.SafeHarmed)
	case Even:
		count(&t.Even, &t.EvenHarmed)
	case Outside:
		count(&t.Outside, &t.OutsideHarmed)
	}
	switch {
	case j.Told == Spared && !j.Harmed(), j.Told == HarmTold && j.Harmed():
		t.Right++
	case j.Told == Spared || j.Told == HarmTold:
		t.Wrong++
	}
}

// placeOf finds a day in the printed season: from the first day on which anything of the
// crop stands outside to its last safe day.
func placeOf(lp plan.LayerPlan, on quantity.Slot) Place {
	careful, a := within(lp, quantity.Careful, on)
	half, b := within(lp, quantity.Half, on)
	switch {
	case careful:
		return Safe
	case half:
		return Even
	case a || b:
		return Outside
	}
	return NoDates
}

// within says whether a day lies in the season at odds, and whether there are dates to
// tell it by. A season may cross from one season year into the next: day and dates are
// compared a year on as well.
func within(lp plan.LayerPlan, odds quantity.Odds, on quantity.Slot) (in, known bool) {
	safe, ok := lp.Find(odds, plan.LastSafeDay)
	if !ok {
		return false, false
	}
	from := plan.Bound{State: plan.NotKnown}
	for _, a := range []plan.Action{plan.SowOutside, plan.SetOut} {
		w, ok := lp.Find(odds, a)
		if !ok || w.From.State == plan.NotKnown {
			continue
		}
		if from.State == plan.NotKnown || w.From.State == plan.Open ||
			w.From.State == plan.Dated && (from.State == plan.Never || from.State == plan.Dated && w.From.Slot < from.Slot) {
			from = w.From
		}
	}
	to := safe.To
	switch {
	case from.State == plan.Never || to.State == plan.Never:
		return false, true
	case from.State == plan.NotKnown || to.State == plan.NotKnown:
		return false, false
	}
	for _, day := range []quantity.Slot{on, on + quantity.SlotsPerYear} {
		after := from.State == plan.Open || day >= from.Slot
		before := to.State == plan.Open || day <= to.Slot
		if after && before {
			return true, true
		}
	}
	return false, to.EndKnown() // past the least that is known of an end nothing is told
}

// told compares a report's low with what its crop stands under its covers. A cover that
// lay on the leaves gave them nothing.
func told(p *plan.Planner, crop *catalog.Crop, r *catalog.Report) Told {
	low, ok := r.Outside.Get()
	if !ok || r.Outcome == catalog.Overheated || r.Outcome == catalog.Crushed {
		return NotTold
	}
	gain := cover.Gain{Known: true}
	if r.Layers != "" && !r.Touched {
		gain = p.Gain(r.Layers)
	}
	if !gain.Known {
		return NotTold
	}
	weakest, a := p.HarmedAt(crop, r.Young, gain.Low)
	strongest, b := p.HarmedAt(crop, r.Young, gain.High)
	switch {
	case !a || !b:
		return NotTold
	case low > weakest:
		return Spared
	case low <= strongest:
		return HarmTold
	}
	return Open
}

// fewest is how many reports within the careful dates it takes to say anything about
// odds of 1 in 10: with fewer even three harmed would be no rare chance.
const fewest = 10

// Verdict is what a tally says about the careful dates.
type Verdict uint8

// TooFew: fewer than ten reports within the careful dates. Kept: no more harm than 1 in
// 10 lets expect. TooMuch: so much harm that chance brings it about in less than one
// case in twenty.
const (
	TooFew Verdict = iota
	Kept
	TooMuch
)

// Verdict weighs the harm within the careful dates by the binomial chance of as much or
// more at 1 in 10. Reports of one night are not independent, and growers report harm
// more readily than calm: it is a hint to look, not a proof.
func (t Tally) Verdict() Verdict {
	if t.Safe < fewest {
		return TooFew
	}
	if atLeast(t.SafeHarmed, t.Safe, float64(quantity.Careful)) < 0.05 {
		return TooMuch
	}
	return Kept
}

// atLeast is the chance of k or more of n where each comes with odds p.
func atLeast(k, n int, p float64) float64 {
	below, term := 0.0, 1.0
	for i := 0; i < n; i++ {
		term *= 1 - p // (1-p)^n, the chance of none
	}
	for i := 0; i < k; i++ {
		below += term
		term *= float64(n-i) / float64(i+1) * p / (1 - p)
	}
	return 1 - below
}
