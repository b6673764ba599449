package page

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/words"
)

// evenings is how many nights a worksheet asks for. It compares with one station, so
// half of what is left counts: see band.ReadingShare.
const evenings = 10

// keepBelow is what is left of the middle difference that is not worth moving a date
// for: ten nights tell a garden's difference to about a degree.
const (
	keepBelowC = 1.0 // C
	keepBelowF = 2.0 // F
)

// shifts are the columns of a worksheet's dates on each scale; the first is the
// coldest garden.
var shifts = map[plan.Degrees][]float64{
	plan.InCelsius:    {-4, -3, -2, -1, 0, 1, 2},
	plan.InFahrenheit: {-8, -6, -4, -2, 0, 2, 4},
}

// mostMain is how many crops of groups C and D a worksheet has room for.
var mostMain = map[byte]int{'C': 2, 'D': 4}

// gardenDates is what a worksheet prints: how the band usually differs from its station,
// and the dates of gardens that differ from the band.
type gardenDates struct {
	scale  plan.Degrees
	usual  []usualMonth
	spring datesOf
	fall   datesOf
}

// usualMonth is how much warmer the band is than its station in a month (1-12).
type usualMonth struct {
	month int
	by    quantity.Kelvins
}

// datesOf is a table of dates: a row a date, a column a shift.
type datesOf struct {
	names []string
	dates [][]string
}

// readingMonths are the months whose readings serve spring and fall dates.
func (b *builder) readingMonths(e record.Event) []int {
	first := 3
	if e == record.First {
		first = 8
	}
	if b.Region.Hemisphere == quantity.South {
		first += 6
	}
	var out []int
	for i := range 4 {
		out = append(out, (first+i-1)%12+1)
	}
	return out
}

// gardenDates works a worksheet's figures out.
func (b *builder) gardenDates(m *bandPage) gardenDates {
	c := m.in.Climate
	g := gardenDates{scale: b.scales()[0]}
	for _, e := range []record.Event{record.Last, record.First} {
		for _, month := range b.readingMonths(e) {
			g.usual = append(g.usual, usualMonth{month, c.AgainstStation(c.Nearest(), month)})
		}
	}
	crops := b.mainCrops(m)
	g.spring.names = []string{b.t("worksheet.row.last.careful"), b.t("worksheet.row.last.half")}
	for _, crop := range crops {
		g.spring.names = append(g.spring.names, b.t("worksheet.row."+string(plan.StartOutside(crop))+startWord(crop), "crop", crop.Name))
	}
	g.fall.names = []string{b.t("worksheet.row.first.half"), b.t("worksheet.row.first.careful")}
	for _, shift := range shifts[g.scale] {
		by := kelvins(g.scale, shift)
		spring, fall := warmer(c, record.Last, by), warmer(c, record.First, by)
		column := []string{b.shortAnswer(freeze(spring, record.Last, quantity.Careful, 0)), b.shortAnswer(freeze(spring, record.Last, quantity.Half, 0))}
		for _, w := range b.firstStarts(spring, crops) {
			column = append(column, b.shortStart(w))
		}
		g.spring.dates = append(g.spring.dates, column)
		g.fall.dates = append(g.fall.dates, []string{
			b.shortAnswer(freeze(fall, record.First, quantity.Half, 0)), b.shortAnswer(freeze(fall, record.First, quantity.Careful, 0))})
	}
	return g
}

// warmer is Climate.Warmer, the same climate for every language.
func warmer(c *band.Climate, e record.Event, by quantity.Kelvins) *band.Climate {
	type key struct {
		event record.Event
		by    quantity.Kelvins
	}
	return c.Keep(key{e, by}, func() any { return c.Warmer(e, by) }).(*band.Climate)
}

// firstStarts is Planner.FirstStarts, worked out once for every language.
func (b *builder) firstStarts(c *band.Climate, crops []*catalog.Crop) []plan.Window {
	type key struct{ crops string }
	ids := make([]string, len(crops))
	for i, crop := range crops {
		ids[i] = crop.ID
	}
	return c.Keep(key{strings.Join(ids, " ")}, func() any { return b.planner.FirstStarts(c, crops) }).([]plan.Window)
}

// startWord sets planting apart from sowing.
func startWord(c *catalog.Crop) string {
	if c.Start == catalog.Planted {
		return ".planted"
	}
	return ""
}

// kelvins is a difference given on a scale.
func kelvins(d plan.Degrees, n float64) quantity.Kelvins {
	if d == plan.InFahrenheit {
		return quantity.FromFahrenheitDifference(n)
	}
	return quantity.Kelvins(n)
}

// mainCrops are the crops of groups C and D whose start a worksheet gives: those that
// grow here in open ground, the ones that the guide has a text about first, then by name.
func (b *builder) mainCrops(m *bandPage) []*catalog.Crop {
	var out []*catalog.Crop
	for _, group := range []byte{'C', 'D'} {
		var told, rest []*catalog.Crop
		for i := range m.in.Plans {
			p := &m.in.Plans[i]
			if w, ok := p.Layers[0].Find(quantity.Careful, plan.StartOutside(p.Crop)); p.Group != group || !ok || !startable(&w) {
				continue
			}
			if b.Texts.Doc("crops/"+p.Crop.ID) != nil {
				told = append(told, p.Crop)
			} else {
				rest = append(rest, p.Crop)
			}
		}
		all := append(told, rest...)
		out = append(out, all[:min(len(all), mostMain[group])]...)
	}
	return out
}

// shortAnswer words a freeze date for a narrow column.
func (b *builder) shortAnswer(a band.Answer) string {
	switch a.State {
	case band.Dated:
		return b.words.DateShort(b.date(a.Slot))
	case band.NoneNeeded:
		return b.t("worksheet.no_freeze")
	case band.AnyMonth, band.Never:
		return b.t("worksheet.any_month")
	}
	return b.t("not_known")
}

// shortStart words the first day of a window likewise.
func (b *builder) shortStart(w plan.Window) string {
	switch {
	case w.From.State == plan.Never || w.To.State == plan.Never:
		return b.t("worksheet.not_in_open")
	case w.From.State == plan.Dated:
		return b.words.DateShort(b.date(w.From.Slot))
	case w.From.State == plan.Open:
		return b.t("any_time")
	}
	return b.t("not_known")
}

// shiftHead heads a column of dates: "2 °C (3.6 °F) colder", with its parts on lines of
// their own where broken is "\n".
func (b *builder) shiftHead(d plan.Degrees, n float64, broken string) string {
	if n == 0 {
		return b.t("worksheet.as_printed")
	}
	key := "worksheet.colder"
	if n > 0 {
		key = "worksheet.warmer"
	}
	size := b.words.Number(math.Abs(n), 1) + "\u00a0" + b.unit(d)
	if b.Tables.Guide.Units == catalog.UnitsBoth {
		other := b.words.Number(math.Abs(kelvins(d, n).Fahrenheit()), 1) + "\u00a0" + b.unit(plan.InFahrenheit)
		if broken != "\n" {
			other = "(" + other + ")"
		}
		size += broken + other
	}
	return b.t(key, "size", size, "break", broken)
}

// usual is a difference in the guide's units, with its sign. Fahrenheit degrees are those of
// the Celsius figure as it is printed, so that equal figures stay equal.
func (b *builder) usual(k quantity.Kelvins) string {
	k = printed(k)
	metric := b.signed(rounded(float64(k), 0.1)) + "\u00a0" + b.unit(plan.InCelsius)
	american := b.signed(rounded(k.Fahrenheit(), 0.5)) + "\u00a0" + b.unit(plan.InFahrenheit)
	return b.either(metric, american)
}

// worked is an example with the band's own figures: a garden whose middle difference is
// 3 C or 6 F colder than usual in a month of spring; less where nothing is known of the
// dates of one so cold. "" where nothing is known of any colder garden's.
func (b *builder) worked(m *bandPage) string {
	g := &m.hand.garden
	d, month := g.scale, g.usual[1]
	tries, step := []float64{-3, -2, -1}, 0.1
	if d == plan.InFahrenheit {
		tries, step = []float64{-6, -4, -2}, 0.5
	}
	usual := rounded(d.Difference(printed(month.by)), step)
	asPrinted := slices.Index(shifts[d], 0)
	on := func(n float64) string { return b.signed(n) + "\u00a0" + b.unit(d) }
	for _, more := range tries {
		half := more * band.ReadingShare(evenings, 1, 1)
		column := 0
		for i, n := range shifts[d] {
			if n <= half {
				column = i
			}
		}
		row, ok := b.movedRow(g.spring.dates[column], g.spring.dates[asPrinted])
		if !ok {
			continue
		}
		return b.t("worksheet.example", "month", b.words.Month(month.month), "middle", on(usual+more), "usual", on(usual), "rest", on(more), "half", on(half),
			"column", b.shiftHead(d, shifts[d][column], " "), "row", g.spring.names[row], "date", g.spring.dates[column][row], "printed", g.spring.dates[asPrinted][row], "tonight", on(usual+half))
	}
	return ""
}

// movedRow is the first row known in two columns whose dates differ, else the last known
// in both; false where none is.
func (b *builder) movedRow(column, printed []string) (int, bool) {
	row, ok := 0, false
	for i := range column {
		if column[i] == b.t("not_known") || printed[i] == b.t("not_known") {
			continue
		}
		if row, ok = i, true; column[i] != printed[i] {
			break
		}
	}
	return row, ok
}

// printed is a usual difference to the tenth of a degree Celsius.
func printed(k quantity.Kelvins) quantity.Kelvins { return quantity.Kelvins(rounded(float64(k), 0.1)) }

// rounded is x to the nearest step.
func rounded(x, step float64) float64 { return math.Round(x/step)*step + 0 }

// worksheetRules are how to hang the thermometer, where to read the station and which
// nights count.
func (b *builder) worksheetRules(m *bandPage) []rule {
	spring, fall := b.readingMonths(record.Last), b.readingMonths(record.First)
	months := func(list []int) string {
		return b.t("range.words", "from", b.words.Month(list[0]), "to", b.words.Month(list[len(list)-1]))
	}
	read := b.whereToRead(m) + "."
	if s := b.station(m); s != nil && s.ObservedAt != "" {
		read += " " + b.t("worksheet.observed", "hour", s.ObservedAt)
	}
	return []rule{
		{b.t("worksheet.hang"), b.t("worksheet.hang.text")},
		{b.t("worksheet.read", "station", b.stationName(m)), firstUpper(read)},
		{b.t("worksheet.nights"), b.t("worksheet.nights.text", "spring", months(spring), "fall", months(fall))},
	}
}

// worksheetSteps are the lines of the sum, each with its box.
func (b *builder) worksheetSteps(m *bandPage) []string {
	keep := b.words.Diff(keepBelowC, words.Nearest)
	if b.Tables.Guide.Units == catalog.UnitsF {
		keep = b.on(plan.InFahrenheit, keepBelowF)
	}
	var out []string
	for n := 1; n <= 5; n++ {
		out = append(out, b.t("worksheet.step."+strconv.Itoa(n), "keep", keep, "station", b.stationName(m)))
	}
	return out
}

// worksheetPage is the worksheet as a page of text.
func (b *builder) worksheetPage(m *bandPage) *Page {
	name := m.row().Name
	p := b.newPage(WorksheetPath(m.row().ID), BandsPlace, b.t("worksheet.title", "band", name), b.t("worksheet.description", "band", name))
	p.add(Para{Lead: true, Text: b.say("worksheet.lead")}, b.leafLinks(m, m.hand.worksheet))
	if m.hand.worksheet == nil {
		p.add(Note{Kind: "caution", Label: b.t("note.missing"), Text: b.say("worksheet.no_station")})
		return p
	}
	g := &m.hand.garden
	p.add(b.heading(2, "readings", "worksheet.h.readings"))
	l := List{}
	for _, r := range b.worksheetRules(m) {
		l.Items = append(l.Items, []Inline{{Text: r.lead, Strong: true}, {Text: " " + r.text}})
	}
	l.Items = append(l.Items, b.say("worksheet.write", "station", b.stationName(m)))
	p.add(l)
	p.add(b.heading(2, "sum", "worksheet.h.sum"))
	steps := List{Ordered: true}
	for _, s := range b.worksheetSteps(m) {
		steps.Items = append(steps.Items, plain(s))
	}
	p.add(steps, para(Inline{Text: b.t("worksheet.why")}))
	usual := Table{ID: "usual", RowHeads: true, Caption: b.t("worksheet.usual.caption", "band", name, "station", b.stationName(m)),
		Head: []string{b.t("worksheet.head.month"), b.t("worksheet.head.usual"), b.t("worksheet.head.serves")}}
	for i, u := range g.usual {
		serves := "worksheet.serves.spring"
		if i >= len(g.usual)/2 {
			serves = "worksheet.serves.fall"
		}
		usual.Rows = append(usual.Rows, [][]Inline{plain(b.words.Month(u.month)), plain(b.usual(u.by)), b.say(serves)})
	}
	p.add(usual)
	p.add(b.heading(2, "dates", "worksheet.h.dates"), para(Inline{Text: b.t("worksheet.dates.how.page")}))
	p.add(b.estimateNotes(m)...)
	p.add(b.leftOutNotes(m)...)
	p.add(b.shiftTable("spring", b.t("worksheet.spring.caption", "band", name), g, g.spring), b.shiftTable("fall", b.t("worksheet.fall.caption", "band", name), g, g.fall))
	if example := b.worked(m); example != "" {
		p.add(b.heading(2, "example", "worksheet.h.example"), para(Inline{Text: example}))
	}
	return p
}

// shiftTable is a table of dates on the page, a row a garden.
func (b *builder) shiftTable(id, caption string, g *gardenDates, dates datesOf) Table {
	t := Table{ID: id + "-dates", RowHeads: true, Caption: caption, Head: []string{b.t("worksheet.head.garden")}}
	for _, name := range dates.names {
		t.Head = append(t.Head, firstUpper(name))
	}
	for i, n := range shifts[g.scale] {
		row := [][]Inline{plain(firstUpper(b.shiftHead(g.scale, n, " ")))}
		for _, d := range dates.dates[i] {
			row = append(row, plain(d))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// worksheetLeaf is the worksheet on paper.
func (b *builder) worksheetLeaf(m *bandPage) *Leaf {
	var remarks []LeafBlock
	if example := b.worked(m); example != "" {
		remarks = append(remarks, LeafText{Lead: b.t("worksheet.h.example.paper"), Text: example, Small: true})
	}
	remarks = append(remarks, LeafText{Text: b.t("worksheet.why"), Small: true})
	spring := m.hand.garden.spring
	for {
		l := b.worksheetWith(m, remarks, spring)
		switch {
		case b.LeafFits == nil || b.LeafFits(l) == nil:
			return l
		case len(remarks) > 0: // they stand on the page of text as well, and so do crops
			remarks = remarks[:len(remarks)-1]
		case len(spring.names) > freezeRows:
			spring.names = spring.names[:len(spring.names)-1]
		default:
			return l
		}
	}
}

// freezeRows is how many rows of the spring dates are about freezes; crops follow.
const freezeRows = 2

// worksheetWith is the worksheet with so many remarks under its dates and so many rows of
// spring dates.
func (b *builder) worksheetWith(m *bandPage, remarks []LeafBlock, spring datesOf) *Leaf {
	l := b.newLeaf(m, WorksheetPath(m.row().ID), "worksheet.name")
	g := &m.hand.garden
	head := []LeafBlock{LeafHeading{Level: 1, Text: b.t("worksheet.title", "band", m.row().Name)}, LeafText{Text: b.t("worksheet.lead.paper")}}
	for _, r := range b.worksheetRules(m) {
		head = append(head, LeafText{Lead: r.lead, Text: r.text, Small: true})
	}
	lines := LeafTable{Pencil: true, Head: []string{b.t("worksheet.head.night"), b.t("worksheet.head.date"), b.t("worksheet.head.station", "station", b.stationName(m)), b.t("worksheet.head.mine"), b.t("worksheet.head.difference")}}
	for i := range evenings {
		lines.Rows = append(lines.Rows, []LeafCell{{Text: strconv.Itoa(i + 1)}, {}, {}, {}, {}})
	}
	sum := []LeafBlock{b.usualTable(g)}
	boxes := LeafBoxes{}
	for i, s := range b.worksheetSteps(m) {
		n := strconv.Itoa(i + 1)
		boxes.Boxes = append(boxes.Boxes, LeafBox{Number: n, Label: s, Unit: "°", Says: b.t("leaf.box", "number", n)})
	}
	sum = append(sum, boxes)
	dates := []LeafBlock{LeafText{Lead: b.t("worksheet.h.dates.paper"), Text: b.t("worksheet.dates.how")},
		b.paperDates(b.t("worksheet.spring"), g, spring), b.paperDates(b.t("worksheet.fall"), g, g.fall)}
	for _, line := range m.wall.leadEstimate(m.careful[record.Last], m.half[record.Last], m.half[record.First]) {
		dates = append(dates, LeafText{Text: line})
	}
	dates = append(dates, remarks...)
	l.Strips = []LeafStrip{{Columns: [][]LeafBlock{head}}, {Columns: [][]LeafBlock{{lines}, sum}, Shares: []float64{0.5, 0.5}}, {Columns: [][]LeafBlock{dates}}}
	return b.closed(l)
}

// usualTable is the usual differences on paper, spring and fall side by side.
func (b *builder) usualTable(g *gardenDates) LeafTable {
	usual := b.t("worksheet.head.usual.short")
	t := LeafTable{Caption: b.t("worksheet.usual.paper"), Head: []string{b.t("worksheet.spring"), usual, b.t("worksheet.fall"), usual}}
	half := len(g.usual) / 2
	for i, u := range g.usual[:half] {
		f := g.usual[half+i]
		t.Rows = append(t.Rows, []LeafCell{{Text: b.words.Month(u.month)}, {Text: b.usual(u.by)}, {Text: b.words.Month(f.month)}, {Text: b.usual(f.by)}})
	}
	return t
}

// paperDates is a table of dates on paper, a column a garden.
func (b *builder) paperDates(name string, g *gardenDates, dates datesOf) LeafTable {
	t := LeafTable{Head: []string{name}}
	for _, n := range shifts[g.scale] {
		t.Head = append(t.Head, b.shiftHead(g.scale, n, "\n"))
	}
	for i, row := range dates.names {
		cells := []LeafCell{{Text: row}}
		for k := range shifts[g.scale] {
			cells = append(cells, LeafCell{Text: dates.dates[k][i]})
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}
