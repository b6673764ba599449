package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// TestEndNotKnownIsSaid: a season whose end no date tells is drawn as far as it is known,
// its first day alone where nothing is, and every place says that the end is not known; one
// that is open is drawn to the end of the axis and says "on".
func TestEndNotKnownIsSaid(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	w := Wall{Tables: in.Tables, Book: in.Book, Climate: in.Bands[0].Climate, Plans: in.Bands[0].Plans}
	b := &builder{Input: in, words: in.Book}
	pea := in.Bands[0].Plans[0]
	for _, p := range in.Bands[0].Plans {
		if p.Crop.ID == "pea" {
			pea = p
		}
	}
	for _, x := range []struct {
		name     string
		change   func(to *plan.Bound)
		unknown  bool
		end      func(h plan.Window) quantity.Slot
		csvBlank bool
	}{
		{"dated", func(*plan.Bound) {}, false, func(h plan.Window) quantity.Slot { return h.To.Slot }, false},
		{"at least", func(to *plan.Bound) { to.AtLeast = true }, true, func(h plan.Window) quantity.Slot { return h.To.Slot }, true},
		{"not known", func(to *plan.Bound) { *to = plan.Bound{} }, true, func(h plan.Window) quantity.Slot { return h.From.Slot }, true},
		{"open", func(to *plan.Bound) { *to = plan.Bound{State: plan.Open} }, false, func(plan.Window) quantity.Slot { return w.axisEnd() }, true},
	} {
		l := pea.Layers[0]
		l.Careful = append([]plan.Window(nil), l.Careful...)
		for i := range l.Careful {
			x.change(&l.Careful[i].To)
		}
		p := pea
		p.Layers = []plan.LayerPlan{l}
		h, to, ok := w.harvest(l)
		if !ok || to != x.end(h) {
			t.Errorf("%s: the harvest is drawn to %d, want %d", x.name, to, x.end(h))
		}
		r, _ := w.row(p)
		starts := w.starts(p, l)
		sow, _ := l.Find(quantity.Careful, plan.SowOutside)
		for what, text := range map[string]string{"type": r.Dates, "sentence": r.Sentence, "table": b.window(h), "sowing": b.window(sow), "last day": b.bound(h.To), "row": w.rangeLong(starts[0])} {
			if x.name != "not known" || what != "last day" {
				if strings.Contains(text, "end not known") != x.unknown {
					t.Errorf("%s, %s: %q", x.name, what, text)
				}
			}
			if x.unknown && strings.HasSuffix(strings.TrimSuffix(text, "."), " on") {
				t.Errorf("%s, %s: an unknown end as an open one: %q", x.name, what, text)
			}
		}
		if (b.csvDate(h.To) == "") != x.csvBlank || x.unknown != (heldBy(h.To) == "not-known") {
			t.Errorf("%s: in the table for spreadsheets %q, %q", x.name, b.csvDate(h.To), heldBy(h.To))
		}
	}
}
