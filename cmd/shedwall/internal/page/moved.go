package page

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/edition"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// moved is what became of the edition that readers hold; nil where none was kept or the
// bands are not all made.
func (b *builder) moved() *edition.Moved {
	if b.Ledger == nil {
		return nil
	}
	for i := range b.Tables.Bands {
		if !b.Ledger.Has(b.Tables.Bands[i].ID) {
			return nil
		}
	}
	return b.Ledger.Moved(b.Previous, b.Kept, b.Keeping)
}

// movedKept says whether there is a page of moved dates: an edition was kept, or is now.
func (b *builder) movedKept() bool {
	return b.Ledger != nil && (b.Previous != nil || b.Kept != nil || b.Keeping)
}

// movedText says what the pages about moved dates, the careful ones, have in common; moved.csv
// has the half-and-half dates too.
type movedText struct {
	*edition.Moved
	careful []*edition.Change // of careful dates, by band, crop and covers, in the order of the year
	dates   []int             // per cause: careful dates that it moved
	span    [][2]int          // per cause: most days earlier (0 or below) and later
}

func movedTextOf(m *edition.Moved) *movedText {
	t := &movedText{Moved: m, dates: make([]int, len(m.Causes)), span: make([][2]int, len(m.Causes))}
	for i := range m.Changes {
		c := &m.Changes[i]
		if c.Key.Percent != edition.CarefulPercent {
			continue
		}
		t.careful = append(t.careful, c)
		for _, k := range c.Causes {
			t.dates[k]++
			for _, d := range []int{c.FromDays, c.ToDays} {
				t.span[k][0], t.span[k][1] = min(t.span[k][0], d), max(t.span[k][1], d)
			}
		}
	}
	year := func(c *edition.Change) int { return slices.Index(plan.Actions, plan.Action(c.Key.Action)) }
	slices.SortStableFunc(t.careful, func(a, c *edition.Change) int {
		return cmp.Or(cmp.Compare(a.Key.Band, c.Key.Band), cmp.Compare(a.Key.Crop, c.Key.Crop), cmp.Compare(a.Key.Layers, c.Key.Layers), cmp.Compare(year(a), year(c)))
	})
	return t
}

// movedPart is the pages, slips and table about what moved since an earlier edition;
// nothing where none was kept.
func (b *builder) movedPart() Part {
	m := b.moved()
	if m == nil {
		return Part{}
	}
	t := movedTextOf(m)
	slips := b.corrections(t)
	part := Part{Pages: []*Page{b.movedPage(t, slips)}, Files: []File{b.movedFile(m)}}
	for i := range b.Tables.Bands {
		if p := b.bandMoved(t, &b.Tables.Bands[i], slips); p != nil {
			part.Pages = append(part.Pages, p)
		}
	}
	for i := range b.Tables.Bands {
		part.Leaves = append(part.Leaves, slips.leaves[b.Tables.Bands[i].ID]...)
	}
	return part
}

// since is "edition 2 (1 February 2025)".
func (b *builder) since(e *catalog.Edition) string {
	date := e.Date
	if len(date) == 10 {
		y, err1 := strconv.Atoi(date[:4])
		m, err2 := strconv.Atoi(date[5:7])
		d, err3 := strconv.Atoi(date[8:])
		if err1 == nil && err2 == nil && err3 == nil && quantity.ValidDate(y, m, d) {
			date = b.words.DateFull(quantity.DayOf(y, m, d))
		}
	}
	return b.t("moved.edition", "n", strconv.Itoa(e.Number), "date", date)
}

func (b *builder) movedPage(t *movedText, slips *corrections) *Page {
	since := b.since(t.Before)
	p := b.newPage(MovedPath, "", b.t("moved.title", "n", strconv.Itoa(t.Before.Number)), b.t("moved.description", "edition", since))
	key := "moved.lead"
	if t.Before.Number == t.Now.Number {
		key = "moved.lead.correction"
	}
	p.add(Para{Lead: true, Text: b.say(key, "edition", since, "moved", b.words.N("moved.careful", len(t.careful)))})
	p.add(Contents{Name: b.t("frame.contents"), Items: []Inline{link(b.t("moved.h.sheets"), "#sheets"), link(b.t("moved.h.causes"), "#causes"), link(b.t("moved.h.bands"), "#bands")}})
	p.add(b.heading(2, "sheets", "moved.h.sheets"), para(Inline{Text: b.t("moved.sheets.intro")}), b.movedSheets(t, slips))
	p.add(b.heading(2, "causes", "moved.h.causes"))
	if len(t.careful) == 0 {
		p.add(para(Inline{Text: b.t("moved.nothing")}))
	} else {
		p.add(para(Inline{Text: b.t("moved.causes.intro")}), b.causeTable(t, nil))
	}
	p.add(b.heading(2, "bands", "moved.h.bands"), b.movedBands(t),
		para(Inline{Text: b.t("moved.file") + " "}, link(b.t("moved.file.link"), MovedFile)))
	return p
}

// movedBands leads to each band's page with the number of its dates that moved.
func (b *builder) movedBands(t *movedText) Table {
	out := Table{ID: "moved-bands", Caption: b.t("moved.bands.caption"), RowHeads: true,
		Head: []string{b.t("head.band"), b.t("moved.head.later"), b.t("moved.head.earlier"), b.t("moved.head.other")}}
	for i := range b.Tables.Bands {
		row := &b.Tables.Bands[i]
		later, earlier, other := 0, 0, 0
		for _, c := range t.careful {
			switch {
			case c.Key.Band != row.ID:
			case c.FromDays+c.ToDays > 0:
				later++
			case c.FromDays+c.ToDays < 0:
				earlier++
			default:
				other++
			}
		}
		name := []Inline{{Text: row.Name}}
		if later+earlier+other > 0 {
			name = []Inline{link(row.Name, HTML(BandMovedPath(row.ID)))}
		}
		out.Rows = append(out.Rows, [][]Inline{name, plain(b.dateCount(later)), plain(b.dateCount(earlier)), plain(b.dateCount(other))})
	}
	return out
}

func (b *builder) dateCount(n int) string {
	if n == 0 {
		return b.t("moved.none")
	}
	return b.words.N("moved.dates", n)
}

// causeTable is what changed; only, where given, limits it to some causes.
func (b *builder) causeTable(t *movedText, only map[int]bool) Table {
	out := Table{ID: "cause-table", Caption: b.t("moved.causes.caption"), RowHeads: true,
		Head: []string{b.t("moved.head.number"), b.t("moved.head.what"), b.t("moved.head.was"), b.t("moved.head.now"), b.t("moved.head.cell"), b.t("moved.head.dates")}}
	for i, c := range t.Causes {
		if t.dates[i] == 0 || only != nil && !only[i] {
			continue
		}
		was, now := b.causeValue(c, c.Was), b.causeValue(c, c.Now)
		cell := c.Cell
		if cell == "" {
			cell = b.t("moved.no_cell")
		}
		out.Rows = append(out.Rows, [][]Inline{plain(b.words.Int(i + 1)), plain(firstUpper(b.causeName(c))), plain(was), plain(now), plain(cell), plain(b.causeSpan(t, i))})
		out.RowIDs = append(out.RowIDs, "cause-"+strconv.Itoa(i+1))
	}
	return out
}

// causeSpan is "120 dates, 3 days earlier to 5 days later".
func (b *builder) causeSpan(t *movedText, i int) string {
	text := b.words.N("moved.dates", t.dates[i])
	early, late := t.span[i][0], t.span[i][1]
	switch {
	case early < 0 && late > 0:
		return b.t("moved.span.both", "dates", text, "early", b.words.Days(-early), "late", b.words.Days(late))
	case late > 0:
		return b.t("moved.span.late", "dates", text, "late", b.words.Days(late))
	case early < 0:
		return b.t("moved.span.early", "dates", text, "early", b.words.Days(-early))
	}
	return text
}

// causeName says what a cause is, beginning small.
func (b *builder) causeName(c edition.Cause) string {
	switch c.Kind {
	case edition.ByFigure:
		if c.Of == "" {
			return b.t("moved.cause.class", "figure", b.figureName(c.Figure))
		}
		return b.t("moved.cause.figure", "figure", b.figureName(c.Figure), "of", b.nameOf(c.Of))
	case edition.ByRecord, edition.ByStation, edition.ByBand:
		return b.t("moved.cause."+string(c.Kind), "figure", b.figureName(c.Figure), "of", b.ownName(c))
	case edition.ByGuide:
		return b.t("moved.cause.guide", "figure", c.Figure)
	case edition.ByCovers:
		return b.t("moved.cause.covers", "of", b.ownName(c))
	case edition.ByCrop, edition.ByNewBand:
		end := "new"
		if c.Now == "" {
			end = "gone"
		}
		return b.t("moved.cause."+end, "of", b.ownName(c))
	}
	return b.t("moved.cause." + string(c.Kind))
}

// ownName is the name of the crop, station or band that a cause belongs to, in the pages'
// language where the guide still has it.
func (b *builder) ownName(c edition.Cause) string {
	if row := b.cropRow[c.Of]; row != nil {
		return row.Name
	}
	for i := range b.Tables.Stations {
		if s := &b.Tables.Stations[i]; s.ID == c.Of && s.Name != "" {
			return s.Name
		}
	}
	for i := range b.Tables.Bands {
		if r := &b.Tables.Bands[i]; r.ID == c.Of && r.Name != "" {
			return r.Name
		}
	}
	return c.Name
}

// nameOf is the name of a crop or of covers.
func (b *builder) nameOf(id string) string {
	if c := b.cropRow[id]; c != nil {
		return c.Name
	}
	return b.layersName(id)
}

// figureName is a figure in words with its column heading: "young plants harmed at
// (young_damage_c)".
func (b *builder) figureName(name string) string {
	name, _, _ = strings.Cut(name, " of ")
	stem := name
	for _, unit := range []string{"_c", "_k", "_m", "_low", "_high"} {
		stem = strings.TrimSuffix(stem, unit)
	}
	for _, key := range []string{"figure." + strings.TrimSuffix(name, "_k"), "figure." + stem, "moved.figure." + stem} {
		if b.words.Has(key) {
			return b.t("moved.figure", "words", b.t(key), "heading", name)
		}
	}
	return name
}

// causeValue words a value as the ledger writes it.
func (b *builder) causeValue(c edition.Cause, v string) string {
	switch {
	case v == "" && c.Kind == edition.ByCovers:
		return b.t("days.base")
	case v == "":
		return b.t("moved.absent")
	}
	switch c.Kind {
	case edition.ByCovers:
		return b.layersName(v)
	case edition.ByCrop, edition.ByNewBand:
		return b.t("moved.present")
	}
	number, unit, ok := strings.Cut(v, " ")
	x, err := strconv.ParseFloat(number, 64)
	switch {
	case err == nil && ok && unit == "C":
		return b.words.Temp(quantity.Celsius(x), 0)
	case err == nil && ok && unit == "K":
		return b.words.Diff(quantity.Kelvins(x), 0)
	case err == nil && ok && unit == "m":
		return b.words.Height(quantity.Metres(x))
	case err == nil && ok && unit == "days":
		return b.words.Days(int(x))
	case err == nil && ok && unit == "weeks":
		return b.t("moved.weeks", "n", b.words.Number(x, 1))
	}
	if years, sum, ok := strings.Cut(v, ", checksum "); ok {
		return b.t("moved.record", "years", years, "sum", sum)
	}
	if d, ok := monthDay(v); ok {
		return b.words.Date(d)
	}
	if b.words.Has("position." + v) {
		return b.t("position." + v)
	}
	return v
}

func monthDay(s string) (quantity.MonthDay, bool) {
	if len(s) != 5 || s[2] != '-' {
		return quantity.MonthDay{}, false
	}
	m, err1 := strconv.Atoi(s[:2])
	d, err2 := strconv.Atoi(s[3:])
	return quantity.MonthDay{Month: m, Day: d}, err1 == nil && err2 == nil && quantity.ValidDate(2024, m, d)
}

// printedWindow words a window of an edition as calendars do.
func (b *builder) printedWindow(r *catalog.EditionRow) string {
	if r == nil {
		return b.t("moved.no_row")
	}
	h := b.Region.Hemisphere
	bound := func(x catalog.EditionBound) plan.Bound {
		p := plan.Bound{Gate: plan.GateNamed(x.Gate)}
		switch x.State {
		case catalog.EditionDated:
			p.State, p.Slot = plan.Dated, h.SlotOf(x.Date)
		case catalog.EditionOpen:
			p.State = plan.Open
		case catalog.EditionNever:
			p.State = plan.Never
		}
		return p
	}
	w := plan.Window{From: bound(r.From), To: bound(r.To)}
	if r.Action == string(plan.LastSafeDay) {
		return b.bound(w.To)
	}
	if w.From.State == plan.Dated && w.To.State == plan.Dated && w.To.Slot < w.From.Slot {
		w.To.Slot += quantity.SlotsPerYear
	}
	return b.window(w)
}
