package plan

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/record"
)

// The same windows as in a whole plan, and a garden that reads colder starts no earlier.
func TestFirstStarts(t *testing.T) {
	tables := shed(bean(), tomato())
	p := NewPlanner(tables)
	c := place(44, nil)
	crops := []*catalog.Crop{&tables.Crops[0], &tables.Crops[1]}
	got := p.FirstStarts(c, crops)
	for i, crop := range crops {
		plan := p.Crop(c, crop, nil)
		if want, _ := plan.Layers[0].Find(careful, StartOutside(crop)); says(got[i]) != says(want) || got[i].Action != want.Action {
			t.Errorf("%s: %s %s, in the plan %s", crop.ID, got[i].Action, says(got[i]), says(want))
		}
	}
	// By hand, from the nights of plainYears: a garden 1 K colder meets its last freeze
	// on the 1 C of 8 June instead of the -1 C of 30 May.
	for i, w := range p.FirstStarts(c.Warmer(record.Last, -1), crops) {
		if w.From.Slot <= got[i].From.Slot && w.From.State == Dated {
			t.Errorf("%s starts on %s, 1 K colder on %s", crops[i].ID, says(got[i]), says(w))
		}
	}
}
