package score

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

func known[T any](v T) figure.Of[T] { return figure.Is(v, diag.Position{}, "") }

// by hand: P(X >= k) of n at 1/10. n 10: 1 - .9^10 = .65132; k 3: 1 - .34868 - .38742 -
// .19371 = .07019; k 4: .07019 - .05740 = .01280.
func TestBinomialByHand(t *testing.T) {
	for _, c := range []struct {
		k, n int
		want float64
	}{{0, 10, 1}, {1, 10, .65132}, {3, 10, .07019}, {4, 10, .01280}, {1, 1, .1}} {
		if got := atLeast(c.k, c.n, .1); math.Abs(got-c.want) > 1e-5 { // the hand sum has five places
			t.Errorf("%d of %d: %.5f, want %.5f", c.k, c.n, got, c.want)
		}
	}
	for _, c := range []struct {
		safe, harmed int
		want         Verdict
	}{{9, 9, TooFew}, {10, 3, Kept}, {10, 4, TooMuch}, {40, 4, Kept}} {
		if got := (Tally{Safe: c.safe, SafeHarmed: c.harmed}).Verdict(); got != c.want {
			t.Errorf("%d harmed of %d: verdict %d, want %d", c.harmed, c.safe, got, c.want)
		}
	}
}

// Every report is judged by the day it names and by its low; heat and snow are counted
// apart.
func TestReports(t *testing.T) {
	day := func(m, d int) quantity.MonthDay { return quantity.MonthDay{Month: m, Day: d} }
	slot := func(m, d int) plan.Bound {
		return plan.Bound{State: plan.Dated, Slot: quantity.North.SlotOf(day(m, d))}
	}
	// Set out from 10 May at half, 25 May careful; safe to 10 October and 20 September, of
	// the next season year.
	year := quantity.Slot(quantity.SlotsPerYear)
	lp := plan.LayerPlan{}
	for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
		from, to := slot(5, 25), slot(9, 20)
		if odds == quantity.Half {
			from, to = slot(5, 10), slot(10, 10)
		}
		to.Slot += year
		ws := []plan.Window{{Action: plan.SetOut, Odds: odds, From: from, To: to}, {Action: plan.LastSafeDay, Odds: odds, From: to, To: to}}
		if odds == quantity.Half {
			lp.Half = ws
		} else {
			lp.Careful = ws
		}
	}
	tables := &catalog.Tables{
		Bands:  []catalog.Band{{ID: "slopes"}, {ID: "hollow"}},
		Crops:  []catalog.Crop{{ID: "tomato", GrownDamage: known(quantity.Celsius(0)), YoungDamage: known(quantity.Celsius(0))}},
		Covers: []catalog.Cover{{ID: "fabric", Gain: catalog.Gain{Low: known(quantity.Kelvins(0)), Typical: known(quantity.Kelvins(1.5)), High: known(quantity.Kelvins(2))}}},
		Parked: []catalog.Parked{{}},
	}
	low := func(v quantity.Celsius) figure.Of[quantity.Celsius] { return known(v) }
	for _, c := range []struct {
		report catalog.Report
		place  Place
		told   Told
	}{
		{catalog.Report{Band: "slopes", On: day(6, 1), Outcome: catalog.Unhurt, Outside: low(0.5)}, Safe, Spared},
		{catalog.Report{Band: "slopes", On: day(9, 20), Outcome: catalog.Harmed, Outside: low(-1)}, Safe, HarmTold},
		{catalog.Report{Band: "slopes", On: day(9, 21), Outcome: catalog.Unhurt, Outside: low(-1)}, Even, HarmTold},
		{catalog.Report{Band: "hollow", On: day(5, 12), Outcome: catalog.Unhurt, Outside: low(-1), Layers: "fabric"}, Even, Open},
		{catalog.Report{Band: "hollow", On: day(5, 9), Outcome: catalog.Killed, Outside: low(-1), Layers: "fabric", Touched: true}, Outside, HarmTold},
		{catalog.Report{Band: "slopes", On: day(6, 2), Outcome: catalog.Overheated, Outside: low(3), Layers: "fabric"}, Safe, NotTold},
		{catalog.Report{Band: "slopes", On: day(4, 28), Outcome: catalog.Crushed}, Outside, NotTold},
	} {
		c.report.Crop = "tomato"
		tables.Reports = append(tables.Reports, c.report)
		r := Reports(tables, plan.NewPlanner(tables), func(string, string, string) (plan.LayerPlan, bool) { return lp, true })
		if j := r.Judged[len(r.Judged)-1]; j.Place != c.place || j.Told != c.told {
			t.Errorf("%+v: place %d told %d, want %d %d", c.report, j.Place, j.Told, c.place, c.told)
		}
	}
	r := Reports(tables, plan.NewPlanner(tables), func(string, string, string) (plan.LayerPlan, bool) { return lp, true })
	want := Tally{Reports: 7, Safe: 2, SafeHarmed: 1, Even: 2, Outside: 1, OutsideHarmed: 1, Right: 3, Wrong: 1, Heat: 1, Crush: 1}
	if r.All != want {
		t.Errorf("%+v\nwant %+v", r.All, want)
	}
	if len(r.Bands) != 2 || r.Bands[1].ID != "hollow" || r.Bands[1].Reports != 2 || len(r.Covers) != 2 || r.Covers[0].ID != "" || r.Covers[1].Reports != 3 || r.Parked != 1 {
		t.Errorf("%+v", r)
	}
}
