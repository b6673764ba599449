package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// TestTaskListHoldsEveryDate looks at each careful start of the invented guide: it is a
// line of its week, with the day of the plan.
func TestTaskListHoldsEveryDate(t *testing.T) {
	_, m := calendarOf(t, func(*catalog.Tables) {}, nil)
	lines := map[string]bool{}
	for _, w := range m.work.weeks {
		for _, g := range w.groups {
			for _, x := range g.items {
				d := m.in.Climate.Region.Hemisphere.MonthDay(x.task.From)
				if !w.holds(d) {
					t.Errorf("%s of %v stands in the week of %v", x.text, d, w.from)
				}
				lines[string(g.kind)+" "+d.String()+" "+x.text] = true
			}
		}
	}
	n := 0
	for i := range m.in.Plans {
		p := &m.in.Plans[i]
		open := &p.Layers[0]
		for _, a := range []plan.Action{plan.SowInside, plan.SowOutside, plan.SetOut} {
			w, ok := open.Find(quantity.Careful, a)
			if !ok || w.From.State != plan.Dated || w.To.State == plan.Never || !m.wall.shown(*p) {
				continue
			}
			n++
			if key := string(a) + " " + m.wall.date(w.From.Slot).String() + " " + p.Crop.Name; !lines[key] {
				t.Errorf("no line %q", key)
			}
			if w.To.State == plan.Dated && !hasLast(lines, m.wall.date(w.To.Slot).String(), p.Crop.Name) {
				t.Errorf("no last chance of %s on %s", p.Crop.Name, m.wall.date(w.To.Slot))
			}
		}
	}
	if n < 4 {
		t.Errorf("only %d starts", n)
	}
}

func hasLast(lines map[string]bool, day, crop string) bool {
	for l := range lines {
		if strings.HasPrefix(l, "last-chance "+day+" "+crop) {
			return true
		}
	}
	return false
}

// TestCoversGoOnBeforeTheCold: a night dated D begins on the evening of D-1, so no cover
// goes on later than the evening before the first day it is needed for.
func TestCoversGoOnBeforeTheCold(t *testing.T) {
	_, m := calendarOf(t, func(*catalog.Tables) {}, nil)
	on := 0
	for _, x := range m.work.tasks {
		if x.Kind != plan.TaskCoverOn {
			continue
		}
		on++
		for i := range m.in.Plans {
			p := &m.in.Plans[i]
			if p.Crop != x.Crop {
				continue
			}
			found := false
			for _, s := range m.wall.chosen(*p).Covers {
				found = found || s.Cover == x.Cover && s.From == x.From && s.To == x.Until
			}
			if !found {
				t.Errorf("%s: %s goes on at %d without a span of the plan", x.Crop.ID, x.Cover, x.From)
			}
		}
	}
	if on == 0 {
		t.Error("no cover goes on")
	}
}

// TestTermKeepsWhatFits: with a school's term every start and every first picking lies
// within it, and what does not fit is named.
func TestTermKeepsWhatFits(t *testing.T) {
	term := catalog.Schedule{StartMonth: 9, TermFrom: quantity.MonthDay{Month: 9, Day: 1}, TermTo: quantity.MonthDay{Month: 6, Day: 15}}
	_, m := calendarOf(t, func(x *catalog.Tables) { x.Guide.Schedule = term }, nil)
	if len(m.work.away) == 0 || len(m.work.tasks) == 0 {
		t.Fatalf("%d crops are left out, %d tasks: the fixture has both", len(m.work.away), len(m.work.tasks))
	}
	for _, x := range m.work.tasks {
		d := m.wall.date(x.From)
		if d.Month > 6 && d.Month < 9 || d.Month == 6 && d.Day > 15 {
			t.Errorf("%s of %v on %v, outside of the term", x.Kind, nameOfCrop(x.Crop), d)
		}
	}
	if first := m.work.weeks[0].from.Month; first < 9 && len(m.work.weeks) > 1 && m.work.weeks[len(m.work.weeks)-1].from.Month >= 9 {
		t.Errorf("the list begins with month %d", first)
	}
}

func nameOfCrop(c *catalog.Crop) string {
	if c == nil {
		return "the band"
	}
	return c.Name
}

// TestChoiceOfTheSheet: the publisher's covers and crops are those of sheets and tasks.
func TestChoiceOfTheSheet(t *testing.T) {
	_, m := calendarOf(t, func(x *catalog.Tables) {
		x.Sheets = catalog.Choices{{Layers: "tunnel+fabric", Planned: true}, {Crop: "kale", Shown: catalog.ShownNo}, {Crop: "pea", Layers: "", Planned: true}}
	}, nil)
	for _, p := range m.in.Plans {
		want := map[string]string{"pea": "", "tomato": "tunnel+fabric"}
		if w, ok := want[p.Crop.ID]; ok && m.wall.chosen(p).Layers != w {
			t.Errorf("%s is planned with %q, want %q", p.Crop.ID, m.wall.chosen(p).Layers, w)
		}
	}
	for _, s := range m.sheets {
		for _, r := range s.Rows {
			if r.Name == "Kale" {
				t.Error("kale stands on a sheet")
			}
		}
	}
	for _, x := range m.work.tasks {
		if x.Crop != nil && (x.Crop.ID == "kale" || x.Crop.ID == "pea" && x.Layers != "") {
			t.Errorf("%s of %s under %q", x.Kind, x.Crop.ID, x.Layers)
		}
	}
}
