package page

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// calendarOf is the calendar of the first band of the invented guide, and its band.
func calendarOf(t *testing.T, change func(*catalog.Tables), before *catalog.Edition) (*Calendar, *bandPage) {
	t.Helper()
	tables := tables()
	change(tables)
	in := input(t, tables, quantity.North, nil)
	in.Previous = before
	b := NewBuilder(in).b
	m := b.planned(b.made[0], in.Bands[0].Plans)
	return b.calendarFor(m), m
}

// kept is what an edition printed of a band, as rows of the ledger: open ground and the
// covers that its sheets plan with.
func kept(m *bandPage) *catalog.Edition {
	e := &catalog.Edition{Number: 2}
	bound := func(x plan.Bound) catalog.EditionBound {
		if x.State != plan.Dated {
			return catalog.EditionBound{State: catalog.EditionOpen}
		}
		return catalog.EditionBound{State: catalog.EditionDated, Date: m.in.Climate.Region.Hemisphere.MonthDay(x.Slot)}
	}
	for i := range m.in.Plans {
		p := &m.in.Plans[i]
		chosen := m.wall.chosen(*p).Layers
		for _, l := range p.Layers {
			if l.Layers != "" && l.Layers != chosen || !m.wall.shown(*p) {
				continue
			}
			for _, w := range l.Careful {
				if w.From.State == plan.Never || w.From.State == plan.NotKnown {
					continue
				}
				e.Rows = append(e.Rows, catalog.EditionRow{EditionKey: catalog.EditionKey{Band: m.row().ID, Crop: p.Crop.ID, Layers: l.Layers, Percent: 10, Action: string(w.Action)},
					From: bound(w.From), To: bound(w.To), Sheet: "ABCD", Code: "A1", Name: p.Crop.Name})
			}
		}
	}
	e.Sort()
	return e
}

func byUID(t *testing.T, c *Calendar) map[string]Event {
	t.Helper()
	out := map[string]Event{}
	for _, e := range c.Events {
		if _, twice := out[e.UID]; twice {
			t.Errorf("%s stands twice", e.UID)
		}
		out[e.UID] = e
	}
	return out
}

// TestReadAgainDoublesNothing holds what a program does with a second edition: an event
// has the UID it had, so that it is moved and not added, a moved day comes with a higher
// sequence, and what is gone is cancelled for one edition.
func TestReadAgainDoublesNothing(t *testing.T) {
	first, m := calendarOf(t, func(*catalog.Tables) {}, nil)
	before := byUID(t, first)
	second, _ := calendarOf(t, func(x *catalog.Tables) {
		x.Guide.Edition, x.Guide.EditionDate = 3, quantity.DayOf(2027, 2, 1)
		x.Crops[1].SoilMin = known(quantity.Celsius(11)) // pea waits for warmer soil
		x.Crops = append(x.Crops[:2:2], x.Crops[3:]...)  // no tomato any more
	}, kept(m))
	now := byUID(t, second)
	if second.Sequence <= first.Sequence {
		t.Errorf("sequence %d after %d", second.Sequence, first.Sequence)
	}
	moved, gone := 0, 0
	for id, was := range before {
		is, ok := now[id]
		switch {
		case !ok && was.Kind != "" && (was.From == was.To) && containsAny(id, ".tomato.sow-inside", ".tomato.set-out", ".tomato.harvest"):
			t.Errorf("%s is gone without being cancelled", id)
		case ok && is.Cancelled:
			gone++
		case ok && dayOfYear(is.From) != dayOfYear(was.From):
			moved++
		}
	}
	if gone == 0 || moved == 0 {
		t.Errorf("%d cancelled, %d moved: both are expected", gone, moved)
	}
	for id, e := range now {
		if _, was := before[id]; e.Cancelled && !was {
			t.Errorf("%s is cancelled and never was", id)
		}
		if e.Cancelled && !containsAny(id, ".tomato.") && e.Kind == "" {
			t.Errorf("%s is cancelled without a kind", id)
		}
	}
	// The edition after that has forgotten it.
	third, _ := calendarOf(t, func(x *catalog.Tables) { x.Crops = append(x.Crops[:2:2], x.Crops[3:]...) }, nil)
	for _, e := range third.Events {
		if e.Cancelled {
			t.Errorf("%s is cancelled for a second edition", e.UID)
		}
	}
	// The same guide again cancels nothing.
	same, _ := calendarOf(t, func(*catalog.Tables) {}, kept(m))
	if len(same.Events) != len(first.Events) {
		t.Errorf("the same guide has %d events after %d", len(same.Events), len(first.Events))
	}
	for _, e := range same.Events {
		if e.Cancelled {
			t.Errorf("%s is cancelled and is still there", e.UID)
		}
	}
}

func containsAny(s string, parts ...string) bool {
	for _, p := range parts {
		for i := 0; i+len(p) <= len(s); i++ {
			if s[i:i+len(p)] == p {
				return true
			}
		}
	}
	return false
}

func dayOfYear(d quantity.Day) quantity.MonthDay {
	_, m, day := d.Date()
	return quantity.MonthDay{Month: m, Day: day}
}

// TestEventsLieAfterTheEdition: no window that was over on the day of the edition is in
// the calendar, and both ends of one lie side by side.
func TestEventsLieAfterTheEdition(t *testing.T) {
	for _, stamp := range []quantity.Day{quantity.DayOf(2026, 2, 1), quantity.DayOf(2026, 7, 20), quantity.DayOf(2027, 12, 31)} {
		c, m := calendarOf(t, func(x *catalog.Tables) { x.Guide.EditionDate = stamp }, nil)
		if len(c.Events) == 0 {
			t.Fatal("no events")
		}
		ends := byUID(t, c)
		for i := range m.work.tasks {
			x := m.work.tasks[i]
			if x.Kind != plan.TaskSowOutside || x.Until == 0 {
				continue
			}
			layers := x.Layers
			if layers == "" {
				layers = "open"
			}
			key := m.row().ID + "." + x.Crop.ID + ".sow-outside"
			from, a := ends[key+".10."+layers+"@example.org"]
			to, b := ends[key+"-last.10."+layers+"@example.org"]
			if !a || !b {
				continue // the same day in open ground
			}
			if to.From < stamp || int(to.From-from.From) != m.span(x) {
				t.Errorf("%s %s: from %v to %v with an edition of %v", x.Crop.ID, layers, from.From, to.From, stamp)
			}
		}
	}
}

// span is how many days a task is right, 29 February left out where it lies between and
// the year has none; the windows of the fixture lie after it.
func (m *bandPage) span(t plan.Task) int { return int(t.Until - t.From) }
