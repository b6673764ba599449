package plan

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// The same windows as in a whole plan, and a garden that reads colder starts no earlier.
func TestFirstStarts(t *testing.T) {
	either := with(bean(), func(c *catalog.Crop) {
		c.ID, c.Start, c.Class, c.WinterKill = "either", catalog.Either, "hardy", known(quantity.Celsius(-4))
	})
	tables := shed(bean(), tomato(), either)
	p := NewPlanner(tables)
	c := place(44, nil)
	crops := []*catalog.Crop{&tables.Crops[0], &tables.Crops[1], &tables.Crops[2]}
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

// Set out on 30 May a hardy crop of 110 days is ready on 17 September, after the last safe day,
// 9 September. Hardened by then it ripens, where it stands until 31 October: started on the
// first day or not at all. One of 160 days is not ready by 31 October, one that is killed as
// soon as it is harmed, or that is not hardy, stands no longer.
func TestRipensHardened(t *testing.T) {
	leek := with(tomato(), func(c *catalog.Crop) {
		c.Class, c.Chill, c.WinterKill, c.DaysLow, c.DaysHigh = "hardy", figure.Of[quantity.Celsius]{}, known(quantity.Celsius(-4)), known(60), known(110)
	})
	for _, x := range []struct {
		change         func(c *catalog.Crop)
		start, harvest string
	}{
		{func(*catalog.Crop) {}, "05-30 frost, 05-30 hardened", "07-29 growth, 10-31 frost"},
		{func(c *catalog.Crop) { c.DaysHigh = known(160) }, "05-30 frost, never", "never, never"},
		{func(c *catalog.Crop) { c.WinterKill = known(quantity.Celsius(0)) }, "05-30 frost, never", "never, never"},
		{func(c *catalog.Crop) { c.Class = "half_hardy" }, "05-30 frost, never", "never, never"},
		{func(c *catalog.Crop) { c.DaysHigh = known(80) }, "05-30 frost, 06-21 maturity", "07-29 growth, 10-31 frost"},
	} {
		p := planned(t, place(44, nil), shed(with(leek, x.change)))
		check(t, p, "", careful, SetOut, x.start)
		check(t, p, "", careful, Harvest, x.harvest)
	}
}
