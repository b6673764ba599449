package publish

import "shedwall/cmd/shedwall/internal/catalog"

// markOf is the mark of values: the same for the same contents, another as soon as anything
// in them differs. Values without a fingerprint are a mistake of the program.
func markOf(values ...any) mark {
	print, ok := fingerprint(values...)
	if !ok {
		panic("publish: what a step is made from has no fingerprint")
	}
	return mark(print)
}

// tell takes the marks of the parts of tables that steps are made from.
func (t *readTables) tell() {
	g := &t.Guide
	t.stations = markOf(t.Stations, g.YearsFrom, g.YearsTo, g.PlainYears, g.EditionDate, t.Hemisphere)
	for i := range t.Crops {
		t.crops = append(t.crops, markOf(t.Crops[i]))
	}
	lean := t.forPlans()
	lean.Crops = nil
	t.planned = markOf(lean)
	all := *t.Tables
	all.Words, all.Spoken = nil, nil
	t.all = markOf(all)
}

// forPlans is the tables without those that plans have nothing to do with: a planner that
// is given these cannot look at the others.
func (t *readTables) forPlans() *catalog.Tables {
	lean := *t.Tables
	lean.Stations, lean.Bands, lean.Places, lean.Reports, lean.Parked = nil, nil, nil, nil, nil
	lean.Sources, lean.Words, lean.Spoken, lean.OwnText = nil, nil, nil, nil
	return &lean
}
