package page

import (
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Film that makes a sowing earlier by warming the soil is told wherever covers are: in the
// row of the sheet and its sentence, on the task list, in the calendar file and beside the
// days gained on the crop's page. Its line on the sheet begins before the bar.
func TestFilmIsTold(t *testing.T) {
	in := tables()
	in.Covers[1].SoilGain, in.Covers[1].Vent = known(quantity.Kelvins(3)), known(quantity.Celsius(10))
	in.Crops = append(in.Crops, catalog.Crop{ID: "bean", Name: "Bean", Group: "vegetable", Cycle: "annual", Class: "tender", Start: catalog.Outside,
		YoungDamage: known(quantity.Celsius(-3)), GrownDamage: known(quantity.Celsius(-3)), SoilMin: known(quantity.Celsius(12)), EmergeDays: known(10), DaysLow: known(40), DaysHigh: known(50)})
	g := Build(input(t, in, quantity.North, nil))
	for path, want := range map[string]string{
		SentencesPath("slopes"): "low tunnel on early, from ",
		TasksPath("slopes"):     "Covers on early, to warm the soil",
		CropPath("bean"):        " on end from ",
	} {
		if text := wordsOn(pageAt(t, g, path)) + taskWords(pageAt(t, g, path)); !strings.Contains(text, want) {
			t.Errorf("%s does not say %q: %s", path, want, text)
		}
	}
	events := 0
	for _, c := range g.Calendars {
		for _, e := range c.Events {
			if strings.Contains(e.UID, ".bean."+string(plan.TaskWarmOn)) {
				events++
			}
		}
	}
	if events == 0 {
		t.Error("no event puts the film on")
	}
	lines := 0
	for _, s := range g.Sheets {
		for _, r := range s.Rows {
			if r.Name != "Bean" || len(r.Covers) == 0 {
				continue
			}
			lines++
			if r.Covers[0].Letter != "T" || r.Covers[0].From > r.Bars[0].From-11 {
				t.Errorf("%s: cover %+v, bar %+v", s.Path, r.Covers[0], r.Bars[0])
			}
		}
	}
	says := func(s *Sheet) bool {
		return slices.ContainsFunc(s.Foot, func(line string) bool { return strings.Contains(line, "warms the soil") })
	}
	if !slices.ContainsFunc(g.Sheets, says) || slices.ContainsFunc(Build(input(t, tables(), quantity.North, nil)).Sheets, says) {
		t.Error("the foot of sheets with such a line, and of no others, says what it is")
	}
	if lines == 0 {
		t.Error("no sheet has a cover line for the bean")
	}
}

// taskWords is the names and lines of a page's work.
func taskWords(p *Page) string {
	var out []string
	for _, block := range p.Blocks {
		if ticks, ok := block.(Ticks); ok {
			for _, g := range ticks.Groups {
				out = append(out, g.Name)
			}
		}
	}
	return strings.Join(out, "\n")
}
