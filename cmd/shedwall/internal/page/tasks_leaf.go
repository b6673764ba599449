package page

import (
	"slices"
	"strings"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// taskColumns is how many columns a page of tasks has: a line of each holds a day and the
// name of a crop.
const taskColumns = 3

// taskLeaf is the task list on paper.
func (b *builder) taskLeaf(m *bandPage, y *workYear) *Leaf {
	l := b.newLeaf(m, TasksPath(m.row().ID), "tasks.name")
	l.Pages, l.Columns = true, taskColumns
	l.Running, l.Continued = b.running(m, "tasks.running"), b.t("leaf.continued", "heading", "{heading}")
	intro := b.t("tasks.paper", "odds", b.words.Odds(quantity.Careful))
	if y.term != nil {
		g := b.Tables.Guide.Schedule
		intro += " " + b.t("tasks.term", "from", b.words.Date(g.TermFrom), "to", b.words.Date(g.TermTo))
	}
	head := []LeafBlock{LeafHeading{Level: 1, Text: b.t("tasks.title", "band", m.row().Name)}, LeafText{Text: intro}}
	if line := b.estimateLine(m); line != "" {
		head = append(head, LeafText{Text: line})
	}
	if key := b.coverKey(y.tasks); key != "" {
		head = append(head, LeafText{Lead: b.t("sheet.cover_key"), Text: key, Small: true})
	}
	l.Strips = []LeafStrip{{Columns: [][]LeafBlock{head}}}
	for _, w := range y.weeks {
		l.Flow = append(l.Flow, LeafHeading{Level: 2, Text: b.words.DateRange(w.from, w.to)})
		for _, g := range w.groups {
			t := LeafTicks{Name: b.t("tasks.kind." + string(g.kind))}
			for _, x := range g.items {
				t.Items = append(t.Items, LeafTick{Day: b.words.DateRangeShort(b.date(x.task.From), b.date(x.task.To)), Text: x.paper})
			}
			l.Flow = append(l.Flow, t)
		}
	}
	if after := b.afterFreeze(); len(after) > 0 {
		l.Flow = append(l.Flow, LeafHeading{Level: 2, Text: b.t("tasks.h.after")}, LeafText{Text: b.t("tasks.after.intro"), Small: true, Part: true})
		l.Flow = append(l.Flow, after...)
	}
	for _, x := range []struct {
		key   string
		crops []string
	}{{"tasks.any_day", y.anyDay}, {"tasks.away", y.away}} {
		if len(x.crops) > 0 {
			l.Flow = append(l.Flow, LeafText{Lead: b.t(x.key), Text: namesOf(x.crops), Small: true})
		}
	}
	return b.closed(l)
}

// afterFreeze is what to save and what to throw away, each with its source.
func (b *builder) afterFreeze() []LeafBlock {
	var out []LeafBlock
	for i := range b.Tables.Hazards {
		h := &b.Tables.Hazards[i]
		if !slices.Contains(h.On, "food") {
			continue
		}
		var text strings.Builder
		for _, x := range b.caution(h) {
			text.WriteString(x.Text)
		}
		out = append(out, LeafText{Text: text.String(), Small: true, Part: true})
	}
	return out
}

// fallRow is a crop on the June sheet: the last days of its starts and its harvest.
type fallRow struct {
	crop          string
	open, covered [4]quantity.Slot // sow inside, sow or plant outside, set out, harvest; 0 = none
	least         [2][4]bool       // of open and covered: the true last day is not known and may be later
	layers        string           // of the covered days; "" = none that are later
	first         quantity.Slot    // the first of all these days, by which rows are sorted
}

// fallFrom is the slot of 15 June in the north, 15 December in the south: what can still
// be begun from then on stands on the June sheet.
const fallFrom quantity.Slot = 319

// fallRows is every crop that can still be begun in summer for fall, by its last days.
func (y *workYear) fallRows() []fallRow {
	var out []fallRow
	for i := range y.chosen {
		x := &y.chosen[i]
		r := fallRow{crop: x.Plan.Crop.Name}
		plans := y.term.Within(x.Plan.Crop, x.Layers)
		for k := range plans {
			r.take(x.Plan.Crop, &plans[k], x.Layers.Layers != "")
		}
		if x.HasOpen {
			plans = y.term.Within(x.Plan.Crop, x.Open)
			for k := range plans {
				r.take(x.Plan.Crop, &plans[k], false)
			}
		}
		for k := range r.covered {
			if r.covered[k] <= r.open[k] {
				r.covered[k] = 0
			}
			for _, s := range []quantity.Slot{r.open[k], r.covered[k]} {
				if k < 3 && s > 0 && (r.first == 0 || s < r.first) {
					r.first = s
				}
			}
			if r.covered[k] > 0 {
				r.layers = x.Layers.Layers
			}
		}
		if r.first > 0 {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, c fallRow) int { return int(a.first - c.first) })
	return out
}

// take notes the last days of a plan: of its starts those that are still picked before
// winter.
func (r *fallRow) take(c *catalog.Crop, l *plan.LayerPlan, covered bool) {
	into, least := &r.open, &r.least[0]
	if covered {
		into, least = &r.covered, &r.least[1]
	}
	for k, a := range []plan.Action{plan.SowInside, plan.SowOutside, plan.SetOut, plan.Harvest} {
		w, ok := l.Find(quantity.Careful, a)
		if ok && a != plan.Harvest {
			w.To = l.LastPicked(c, a)
		}
		if ok && w.To.State == plan.Dated && w.To.Slot >= fallFrom && w.From.State != plan.Never && !(w.From.State == plan.Dated && w.From.Slot > w.To.Slot) {
			if w.To.Slot > into[k] {
				into[k], least[k] = w.To.Slot, w.To.AtLeast
			}
		}
	}
}

// fallHeads are the columns of the June sheet.
func (b *builder) fallHeads() []string {
	return []string{b.t("head.crop"), b.t("fall.inside"), b.t("fall.outside"), b.t("fall.set_out"), b.t("fall.harvest")}
}

// fallPage is the June sheet as a page of text.
func (b *builder) fallPage(m *bandPage) *Page {
	name := m.row().Name
	p := b.newPage(FallPath(m.row().ID), BandsPlace, b.t("fall.title", "band", name), b.t("fall.description", "band", name))
	p.add(Para{Lead: true, Text: b.say("fall.lead", "odds", b.words.Odds(quantity.Careful))}, b.workLinks(m, m.work.fall, FallPath(m.row().ID)))
	p.add(b.estimateNotes(m)...)
	rows := m.work.inFall
	if len(rows) == 0 {
		p.add(para(Inline{Text: b.t("fall.none")}))
		return p
	}
	t := Table{ID: "fall-table", Caption: b.t("fall.caption", "band", name), RowHeads: true, Head: b.fallHeads()}
	for _, r := range rows {
		row := [][]Inline{plain(r.crop)}
		for k := range r.open {
			row = append(row, plain(b.fallCell(r, k, b.words.Date, b.layersName(r.layers), b.t("window.not_done"))))
		}
		t.Rows = append(t.Rows, row)
	}
	p.add(t, para(Inline{Text: b.t("fall.how")}))
	if later := b.nextSummer(m.work); later != "" {
		p.add(para(Inline{Text: later}))
	}
	return p
}

// nextSummer is what is planted in fall for the summer after, with its last day: begun as
// late as what the June sheet lists, but not picked before winter. "" where there is none.
func (b *builder) nextSummer(y *workYear) string {
	var out []string
	for i := range y.chosen {
		x := &y.chosen[i]
		w, ok := x.Layers.Find(quantity.Careful, plan.SowOutside)
		if !ok || !plan.PlantedInFall(x.Plan.Crop) || !startable(&w) || w.To.State != plan.Dated {
			continue
		}
		out = append(out, b.t("fall.next", "crop", x.Plan.Crop.Name, "date", b.words.Date(b.date(w.To.Slot))))
	}
	return strings.Join(out, " ")
}

// fallCell is the last day in open ground, then that under covers where it is later.
func (b *builder) fallCell(r fallRow, k int, date func(quantity.MonthDay) string, covers, none string) string {
	open, covered := r.open[k], r.covered[k]
	last := func(s quantity.Slot, least bool) string {
		if least {
			return b.t("bound.at_least", "date", date(b.date(s)))
		}
		return date(b.date(s))
	}
	switch {
	case open == 0 && covered == 0:
		return none
	case covered == 0:
		return last(open, r.least[0][k])
	case open == 0:
		return b.t("fall.only", "covers", covers, "date", last(covered, r.least[1][k]))
	}
	return b.t("fall.both", "date", last(open, r.least[0][k]), "covers", covers, "later", last(covered, r.least[1][k]))
}

// fallLinesAPage is how many lines of names stand under one heading row of the June sheet,
// fallNameWidth how many letters of a name stand in the first of them and fallNameMore in
// each further one, whatever the letters.
const (
	fallLinesAPage = 40
	fallNameWidth  = 26
	fallNameMore   = 10
)

// fallTables shares the rows of the June sheet out evenly among tables that fit a page.
func fallTables(rows []fallRow) [][]fallRow {
	lines := func(r fallRow) int {
		return 1 + (max(0, utf8.RuneCountInString(r.crop)-fallNameWidth)+fallNameMore-1)/fallNameMore
	}
	total := 0
	for _, r := range rows {
		total += lines(r)
	}
	tables := (total + fallLinesAPage - 1) / fallLinesAPage
	var out [][]fallRow
	room := 0
	for _, r := range rows {
		if room < lines(r) {
			out = append(out, nil)
			room = (total + tables - 1) / tables
		}
		room -= lines(r)
		out[len(out)-1] = append(out[len(out)-1], r)
	}
	return out
}

// fallLeaf is the June sheet on paper; nil where nothing is begun for fall.
func (b *builder) fallLeaf(m *bandPage, y *workYear) *Leaf {
	rows := y.inFall
	if len(rows) == 0 {
		return nil
	}
	l := b.newLeaf(m, FallPath(m.row().ID), "fall.name")
	l.Pages = true
	l.Running = b.running(m, "fall.running")
	head := []LeafBlock{LeafHeading{Level: 1, Text: b.t("fall.title", "band", m.row().Name)}, LeafText{Text: b.t("fall.lead", "odds", b.words.Odds(quantity.Careful)) + " " + b.t("fall.how")}}
	if line := b.estimateLine(m); line != "" {
		head = append(head, LeafText{Text: line})
	}
	l.Strips = []LeafStrip{{Columns: [][]LeafBlock{head}}}
	used := map[string]bool{}
	for _, rows := range fallTables(rows) {
		t := LeafTable{Head: b.fallHeads()}
		for _, r := range rows {
			row := []LeafCell{{Text: r.crop, Strong: true}}
			for k := range r.open {
				row = append(row, LeafCell{Text: b.fallCell(r, k, b.words.DateShort, m.wall.layerLetters(r.layers), "–")})
				if r.covered[k] > 0 {
					used[r.layers] = true
				}
			}
			t.Rows = append(t.Rows, row)
		}
		l.Strips = append(l.Strips, LeafStrip{Columns: [][]LeafBlock{{t}}})
	}
	if key := b.letterKey(used); key != "" {
		l.Strips = append(l.Strips, LeafStrip{Columns: [][]LeafBlock{{LeafText{Text: key, Small: true}}}})
	}
	if later := b.nextSummer(y); later != "" {
		l.Strips = append(l.Strips, LeafStrip{Columns: [][]LeafBlock{{LeafText{Text: later}}}})
	}
	return b.closed(l)
}

// coverKey explains the letters of every cover that tasks name, in the order of the table.
func (b *builder) coverKey(tasks []plan.Task) string {
	used, seen := map[string]bool{}, map[string]bool{} // covers, and covers together
	for i := range tasks {
		t := &tasks[i]
		used[t.Cover] = true
		if !seen[t.Layers] {
			seen[t.Layers] = true
			for _, id := range catalog.SplitLayers(t.Layers) {
				used[id] = true
			}
		}
	}
	var out []string
	for i := range b.Tables.Covers {
		if c := &b.Tables.Covers[i]; used[c.ID] && c.Letter != "" {
			out = append(out, c.Letter+" "+c.Name)
		}
	}
	return strings.Join(out, " · ")
}

// letterKey explains the letters of covers: "F row cover · T+F low tunnel over row cover".
func (b *builder) letterKey(used map[string]bool) string {
	var out []string
	for _, id := range append([]string{""}, b.offered...) {
		if used[id] && id != "" {
			out = append(out, b.layersCode(id)+" "+b.layersName(id))
		}
	}
	return strings.Join(out, " · ")
}
