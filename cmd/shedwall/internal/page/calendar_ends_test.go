package page

import (
	"bytes"
	"testing"

	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// TestRowsEndAlike: ends of rows that are taken from a row before say what they would say
// worked out anew, for windows that differ in one thing alone.
func TestRowsEndAlike(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	b := NewBuilder(in).b
	m := b.planned(b.made[0], in.Bands[0].Plans)
	day := func(s quantity.Slot) plan.Bound { return plan.Bound{State: plan.Dated, Slot: s, Gate: plan.Frost} }
	var windows []plan.Window
	for _, a := range plan.Actions {
		for range 2 {
			windows = append(windows,
				plan.Window{Action: a, From: day(200), To: day(230)},
				plan.Window{Action: a, From: day(201), To: day(230)},
				plan.Window{Action: a, From: day(200), To: day(231)},
				plan.Window{Action: a, From: day(200), To: day(230), Gap: plan.Stretch{From: 210, To: 220}},
				plan.Window{Action: a, From: day(200), To: day(230), Gap: plan.Stretch{From: 210, To: 221}},
				plan.Window{Action: a, From: plan.Bound{State: plan.Open}, To: day(230)},
				plan.Window{Action: a, From: day(200), To: plan.Bound{State: plan.Dated, Slot: 230, Gate: plan.Frost, AtLeast: true}},
				plan.Window{Action: a, From: day(200), To: plan.Bound{State: plan.Dated, Slot: 230, Gate: plan.Frost, PlusMinus: 4}},
				plan.Window{Action: a, From: day(200), To: plan.Bound{State: plan.Dated, Slot: 230, Gate: plan.Soil}},
			)
		}
	}
	p := m.in.Plans[0]
	p.Layers = nil
	for _, w := range windows {
		p.Layers = append(p.Layers, plan.LayerPlan{Careful: []plan.Window{w}})
	}
	m.in.Plans = []plan.CropPlan{p}
	rows := bytes.SplitAfter(b.calendarFile(m).Content(nil), []byte("\r\n"))[1:]
	if len(rows) != len(windows)+1 {
		t.Fatalf("%d rows of %d windows", len(rows)-1, len(windows))
	}
	for i, w := range windows {
		if want := b.appendDays([]byte(","), w.Action, w, b.estimated(m, b.estimateOf(m) != "", w)); !bytes.HasSuffix(rows[i], want) {
			t.Errorf("%+v: %s, want %s at the end", w, rows[i], want)
		}
	}
}
