package page

import (
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// workYear is the work of a band through a year, and what is made of it on paper.
type workYear struct {
	chosen []plan.Chosen
	tasks  []plan.Task
	weeks  []workWeek // in the order of the year, those with nothing to do left out
	term   *plan.Term
	away   []string // crops that do not fit into the term
	anyDay []string // crops without a first day: nothing holds them back

	awayIDs []string

	sown   []sowSlip
	inFall []fallRow

	list, slips, fall *Leaf // nil where there is nothing to print
}

// workWeek is a quarter of a month: from its 1st, 8th, 15th or 22nd day, where the wall
// sheets have their ticks. So a list holds for every year.
type workWeek struct {
	from, to quantity.MonthDay
	groups   []workGroup
}

// workGroup is one kind of work in a week.
type workGroup struct {
	kind  plan.TaskKind
	items []workItem
}

// workItem is one line: a task, or several of the same cover on the same day.
type workItem struct {
	task  plan.Task
	text  string // without its day
	paper string // the same with covers by their letters
}

// weekStarts are the days with which weeks begin.
var weekStarts = [...]int{1, 8, 15, 22}

// listWork makes the task list of a band and its leaves.
func (b *builder) listWork(m *bandPage) *workYear {
	y := &workYear{term: plan.TermOf(b.Tables.Guide.Schedule, b.Region.Hemisphere)}
	for i := range m.in.Plans {
		p := &m.in.Plans[i]
		if !m.wall.shown(*p) {
			continue
		}
		x := plan.Chosen{Plan: p, Layers: m.wall.chosen(*p), Open: p.Layers[0]}
		x.HasOpen = x.Layers.Layers != "" && grownUnder(&p.Layers[0])
		if len(y.term.Within(p.Crop, x.Layers)) == 0 {
			y.away, y.awayIDs = append(y.away, p.Crop.Name), append(y.awayIDs, p.Crop.ID)
			continue
		}
		y.chosen = append(y.chosen, x)
		if y.term == nil && timeless(&x.Layers) {
			y.anyDay = append(y.anyDay, p.Crop.Name)
		}
	}
	y.tasks = plan.Tasks(b.Tables, m.in.Climate, y.chosen, y.term)
	y.weeks = b.weeks(y.tasks)
	y.sown, y.inFall = b.sowSlips(m, y), y.fallRows()
	if len(y.weeks) > 0 {
		y.list, y.slips = b.taskLeaf(m, y), b.sowLeaf(m, y)
	}
	y.fall = b.fallLeaf(m, y)
	return y
}

// timeless says whether a crop is begun outside on any day, as far as frost goes.
func timeless(l *plan.LayerPlan) bool {
	for _, a := range []plan.Action{plan.SowOutside, plan.SetOut} {
		if w, ok := l.Find(quantity.Careful, a); ok && w.From.State == plan.Open && w.To.State != plan.Never {
			return true
		}
	}
	return false
}

// firstTaskMonth is the month with which task lists begin.
func (b *builder) firstTaskMonth() int {
	if m := b.Tables.Guide.Schedule.StartMonth; m > 0 {
		return m
	}
	if b.Region.Hemisphere == quantity.South {
		return 7
	}
	return 1
}

// weeks sorts tasks into the weeks of a year from the first month on.
func (b *builder) weeks(tasks []plan.Task) []workWeek {
	onDay := map[quantity.MonthDay][]*plan.Task{}
	for i := range tasks {
		day := b.date(tasks[i].From)
		onDay[day] = append(onDay[day], &tasks[i])
	}
	var all []*plan.Task  // in one week
	var mine []*plan.Task // of one kind in one week
	var out []workWeek
	for i := range 12 {
		month := (b.firstTaskMonth()-1+i)%12 + 1
		for k, day := range weekStarts {
			w := workWeek{from: quantity.MonthDay{Month: month, Day: day}, to: quantity.MonthDay{Month: month, Day: quantity.DaysIn(2024, month)}}
			if k+1 < len(weekStarts) {
				w.to.Day = weekStarts[k+1] - 1
			}
			all = all[:0]
			for d := w.from; d.Day <= w.to.Day; d.Day++ {
				all = append(all, onDay[d]...)
			}
			for _, kind := range plan.TaskKinds {
				mine = mine[:0]
				for _, t := range all {
					if t.Kind == kind {
						mine = append(mine, t)
					}
				}
				if items := b.weekItems(mine); len(items) > 0 {
					w.groups = append(w.groups, workGroup{kind, items})
				}
			}
			if len(w.groups) > 0 {
				out = append(out, w)
			}
		}
	}
	return out
}

// holds says whether a date lies in the week.
func (w workWeek) holds(d quantity.MonthDay) bool {
	return d.Month == w.from.Month && d.Day >= w.from.Day && d.Day <= w.to.Day
}

// weekItems is the lines of one kind of work in a week, by their days, mine. Crops that a
// cover goes on or comes off on one day stand on one line.
func (b *builder) weekItems(mine []*plan.Task) []workItem {
	var out []workItem
	for i := 0; i < len(mine); i++ {
		t := *mine[i]
		if t.Cover == "" || t.Crop == nil {
			x := workItem{task: t, text: b.taskText(t, b.layersName)}
			if x.paper = x.text; t.Layers != "" { // nothing else is named by letters
				x.paper = b.taskText(t, b.layersCode)
			}
			out = append(out, x)
			continue
		}
		if i > 0 && b.joins(mine[:i], t) {
			continue
		}
		var crops []string
		for _, o := range mine {
			if o.Cover == t.Cover && b.date(o.From) == b.date(t.From) {
				crops = append(crops, o.Crop.Name)
			}
		}
		for _, names := range taskLines(crops) {
			out = append(out, workItem{t, b.t("tasks.cover", "cover", b.layersName(t.Cover), "crops", names), b.t("tasks.cover", "cover", b.layersCode(t.Cover), "crops", names)})
		}
	}
	return out
}

// taskLetters is the most letters of crops on one line of work: half a column on paper.
const taskLetters = 1200

// taskLines is the names of crops joined, on one line unless they are very many.
func taskLines(crops []string) (lines []string) {
	for len(crops) > 0 {
		n, letters := 0, 0
		for n < len(crops) && (n == 0 || letters+len(crops[n]) <= taskLetters) {
			letters += len(crops[n])
			n++
		}
		lines = append(lines, strings.Join(crops[:n], " · "))
		crops = crops[n:]
	}
	return lines
}

// joins says whether a task stands on the line of one before it.
func (b *builder) joins(before []*plan.Task, t plan.Task) bool {
	for _, o := range before {
		if o.Cover == t.Cover && b.date(o.From) == b.date(t.From) {
			return true
		}
	}
	return false
}

// taskText is a task without its day; covers gives the name of covers together.
func (b *builder) taskText(t plan.Task, covers func(string) string) string {
	switch t.Kind {
	case plan.TaskSowInside, plan.TaskHarden:
		return b.taskUnder(t, "tasks.for", covers)
	case plan.TaskSowOutside, plan.TaskPlant, plan.TaskSetOut, plan.TaskHarvest:
		return b.taskUnder(t, "tasks.under", covers)
	case plan.TaskLastChance:
		action := string(t.Action)
		if t.Action == plan.SowOutside && t.Crop.Start == catalog.Planted {
			action = "plant"
		}
		return b.t("tasks.last."+action, "what", b.taskUnder(t, "tasks.under", covers))
	case plan.TaskVent:
		return b.ventText(t)
	case plan.TaskColdWeek, plan.TaskAfter:
		return b.t("tasks." + string(t.Kind) + ".text")
	case plan.TaskInsects:
		return b.t("tasks.cover", "cover", covers(t.Cover), "crops", t.Crop.Name)
	}
	return firstUpper(b.layersName(t.Cover))
}

// taskUnder names the crop, and the covers it is planned with where there are any.
func (b *builder) taskUnder(t plan.Task, key string, covers func(string) string) string {
	if t.Layers == "" {
		return t.Crop.Name
	}
	return b.t(key, "crop", t.Crop.Name, "covers", covers(t.Layers))
}

func (b *builder) ventText(t plan.Task) string {
	cv := b.covers.Cover(t.Cover)
	vent, _ := cv.Vent.Get()
	key := "tasks.vent.outside"
	if cv.VentInside {
		key = "tasks.vent.inside"
	}
	return b.t(key, "cover", firstUpper(cv.Name), "temp", b.words.Temp(vent, words.Down))
}

// taskLine is a task with its day and, where it has one, the last day on which it is
// still right.
func (b *builder) taskLine(x workItem) string {
	day := b.words.DateRange(b.date(x.task.From), b.date(x.task.To))
	text := x.text
	switch t := &x.task; {
	case !saysUntil(t.Kind):
	case t.EndNotKnown && t.Until > 0:
		text = b.t("tasks.until_least", "what", text, "date", b.words.Date(b.date(t.Until)))
	case t.EndNotKnown:
		text = b.t("tasks.until_not_known", "what", text)
	case t.Until > 0:
		text = b.t("tasks.until", "what", text, "date", b.words.Date(b.date(x.task.Until)))
	}
	return b.t("tasks.line", "date", day, "what", text)
}

// saysUntil: the others are plain without, or end with a task of their own.
func saysUntil(k plan.TaskKind) bool {
	switch k {
	case plan.TaskSowInside, plan.TaskSowOutside, plan.TaskPlant, plan.TaskSetOut, plan.TaskHarvest, plan.TaskVent, plan.TaskSweep, plan.TaskTakeDown, plan.TaskHailOn:
		return true
	}
	return false
}

// tasksPage is the task list of a band as a page of text.
func (b *builder) tasksPage(m *bandPage) *Page {
	name, y := m.row().Name, m.work
	p := b.newPage(TasksPath(m.row().ID), BandsPlace, b.t("tasks.title", "band", name), b.t("tasks.description", "band", name))
	p.add(Para{Lead: true, Text: b.say("tasks.lead", "band", name, "odds", b.words.Odds(quantity.Careful))})
	p.add(b.workLinks(m, y.list, TasksPath(m.row().ID)))
	if y.term != nil {
		g := b.Tables.Guide.Schedule
		p.add(Note{Kind: "hint", Label: b.t("tasks.term.label"), Text: b.say("tasks.term", "from", b.words.Date(g.TermFrom), "to", b.words.Date(g.TermTo))})
	}
	p.add(b.estimateNotes(m)...)
	if len(y.weeks) == 0 {
		p.add(para(Inline{Text: b.t("tasks.none")}))
	} else {
		p.add(b.monthContents(y), para(Inline{Text: b.t("tasks.how")}))
	}
	month := 0
	for _, w := range y.weeks {
		if w.from.Month != month {
			month = w.from.Month
			p.add(Heading{Level: 2, ID: "month-" + strconv.Itoa(month), Text: plain(firstUpper(b.words.Month(month)))})
		}
		p.add(Heading{Level: 3, ID: w.id(), Text: plain(b.words.DateRange(w.from, w.to))}, b.weekTicks(w))
	}
	if len(y.anyDay) > 0 {
		p.add(para(Inline{Text: b.t("tasks.any_day") + " ", Strong: true}, Inline{Text: namesOf(y.anyDay)}))
	}
	if len(y.away) > 0 {
		p.add(para(Inline{Text: b.t("tasks.away") + " ", Strong: true}, Inline{Text: namesOf(y.away)}))
	}
	p.add(b.heading(2, "after", "tasks.h.after"), para(Inline{Text: b.t("tasks.after.intro")}))
	p.add(b.cautions("food")...)
	p.add(Note{Kind: "hint", Label: b.t("note.forecast"), Text: b.say("band.forecast")})
	return p
}

// id is the anchor of a week.
func (w workWeek) id() string { return "week-" + w.from.String() }

func (b *builder) monthContents(y *workYear) Contents {
	c := Contents{Name: b.t("frame.contents")}
	month := 0
	for _, w := range y.weeks {
		if w.from.Month != month {
			month = w.from.Month
			c.Items = append(c.Items, link(firstUpper(b.words.Month(month)), "#month-"+strconv.Itoa(month)))
		}
	}
	c.Items = append(c.Items, link(b.t("tasks.h.after"), "#after"))
	return c
}

func (b *builder) weekTicks(w workWeek) Ticks {
	var out Ticks
	for _, g := range w.groups {
		t := TickGroup{Name: b.t("tasks.kind." + string(g.kind))}
		for _, x := range g.items {
			line := plain(b.taskLine(x))
			if g.kind == plan.TaskAfter {
				line = append(line, Inline{Text: " "}, link(b.t("tasks.h.after"), "#after"))
			}
			t.Items = append(t.Items, line)
		}
		out.Groups = append(out.Groups, t)
	}
	return out
}

// workLinks leads from one of a band's lists to its leaf and to the others.
func (b *builder) workLinks(m *bandPage, l *Leaf, here string) Para {
	out := b.leafLinks(m, l)
	id := m.row().ID
	for _, x := range []struct{ key, path string }{{"tasks", TasksPath(id)}, {"slips", SlipsPath(id)}, {"fall", FallPath(id)}} {
		if x.path != here {
			out.Text = append(out.Text, Inline{Text: " · "}, link(b.t(x.key+".title", "band", m.row().Name), HTML(x.path)))
		}
	}
	out.Text = append(out.Text, Inline{Text: " · "}, link(b.t("ics.link", "band", m.row().Name), ICSPath(id)))
	return out
}

// workLine leads from a band's page to its lists and calendar files, on one line.
func (b *builder) workLine(m *bandPage) Block {
	return para(append([]Inline{{Text: b.t("tasks.also") + " "}}, b.workOf(m)...)...)
}

// workList is the same for every band, a line each; nothing without bands.
func (b *builder) workList() []Block {
	if len(b.made) == 0 {
		return nil
	}
	kinds := []struct {
		key  string
		path func(id string) string
	}{
		{"tasks", func(id string) string { return HTML(TasksPath(id)) }},
		{"slips", func(id string) string { return HTML(SlipsPath(id)) }},
		{"fall", func(id string) string { return HTML(FallPath(id)) }},
		{"ics", ICSPath}, {"csv", CalendarPath}}
	t := Table{ID: "work-table", Caption: b.t("index.lists.caption"), RowHeads: true, Head: []string{b.t("head.band")}}
	for _, k := range kinds {
		t.Head = append(t.Head, b.t("index.lists.head."+k.key))
	}
	for _, m := range b.made {
		row := [][]Inline{{link(m.row().Name, m.href())}}
		for _, k := range kinds {
			row = append(row, []Inline{heardLink(m.row().Name, b.t("index.lists."+k.key), k.path(m.row().ID))})
		}
		t.Rows = append(t.Rows, row)
	}
	return []Block{b.heading(3, "lists", "index.h.lists"), t}
}

// workOf is the links to a band's lists and to its calendar.
func (b *builder) workOf(m *bandPage) []Inline {
	id := m.row().ID
	var out []Inline
	for i, x := range []struct{ key, path string }{{"tasks", HTML(TasksPath(id))}, {"slips", HTML(SlipsPath(id))}, {"fall", HTML(FallPath(id))}, {"ics", ICSPath(id)}} {
		if i > 0 {
			out = append(out, Inline{Text: " · "})
		}
		key := x.key + ".title"
		if x.key == "ics" {
			key = "ics.link"
		}
		out = append(out, link(b.t(key, "band", m.row().Name), x.path))
	}
	return out
}
