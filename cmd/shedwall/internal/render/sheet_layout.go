package render

import (
	"errors"
	"fmt"
	"slices"

	"shedwall/cmd/shedwall/internal/page"
)

// piece is a paragraph already broken into lines, its place counted from the top
// of the block it belongs to.
type piece struct {
	tag  string
	say  string // words for it, where the drawn ones do not read well
	runs []run
	draw func(d *drawing, x, y float64) // more than text: swatches; may be nil
}

// block is a stack of pieces.
type block struct {
	pieces []piece
	height float64
}

func (b *block) drawAt(d *drawing, x, y float64) {
	for _, p := range b.pieces {
		d.in(part{tag: p.tag, actual: p.say}, func() {
			if p.draw != nil {
				p.draw(d, x, y)
			}
			for _, r := range p.runs {
				r.x, r.y = r.x+x, r.y+y
				d.text(r)
			}
		})
	}
}

// sheetPlan is a sheet worked out at one scale.
type sheetPlan struct {
	s         *page.Sheet
	t         *sheetTexts
	area      sheetArea
	m         measures
	cal       calendar
	codeWidth float64
	textWidth float64
	head      block
	marks     []placedMark
	markRows  int
	warning   []string // lines under the labels of the freeze lines
	warnSize  float64
	rows      []*rowPlan
	key, foot block
}

// Gaps within the grid, in mm.
const (
	columnGap = 1.8 // between a column's text and what stands right of it
	tickLong  = 2.2 // at the first of a month
	tickShort = 1.1 // at the 8th, 15th and 22nd
)

// planRows works out the rows, into rows; all that are too wide are told of.
func (p *sheetPlan) planRows(rows []rowPlan, room float64) error {
	var errs []error
	high := p.fixed()
	p.rows = make([]*rowPlan, 0, len(rows))
	for i := range p.s.Rows {
		if high > room && errs == nil {
			return errTooHigh
		}
		row := &rows[i]
		if err := p.planRow(row, i); err != nil {
			errs = append(errs, err)
			continue
		}
		row.lane = p.m.ownLane
		if i == 0 || p.s.Rows[i-1].GroupEnd {
			row.up += heavyPad
		}
		if i == len(p.s.Rows)-1 && !row.row.GroupEnd {
			row.down += heavyPad
		}
		p.rows = append(p.rows, row)
		high += row.need()
	}
	return errors.Join(errs...)
}

// planRow works out one row; of one that is known at the tightest scale, only how high it is.
func (p *sheetPlan) planRow(row *rowPlan, i int) error {
	x := &p.t.rows[i]
	if x.known != nil && p.m.scale == leastScale && p.m.runIn {
		return x.known.plan(row, &p.m, p.cal, p.textWidth)
	}
	row.begin()
	return row.plan(&p.s.Rows[i], x, &p.m, p.cal, p.textWidth)
}

// textColumn is the width of the column of names and dates: what the widest row
// wants, up to a third of the sheet; more only where a row would have to break
// its lines at the least sizes.
func (t *sheetTexts) textColumn(m *measures, width float64) float64 {
	want := widthOf(t.headCrop, m.head) + widthOf(t.headCalendar, m.head) + 4
	var least float64
	for i := range t.rows {
		r := &t.rows[i]
		if m.runIn {
			want = max(want, widthOf(r.name, m.name)+besideGap+widthOf(r.dates, m.dates))
		}
		want = max(want, widthOf(r.name, m.name), widthOf(r.dates, m.dates), widthOf(r.covered, m.dates))
		for _, one := range [...]float64{widthOf(r.name, leastName), widthOf(r.dates, leastType), widthOf(r.covered, leastType)} {
			if one *= 1.002; one <= 0.36*width { // what is wider breaks its lines in any case
				least = max(least, one)
			}
		}
	}
	most := 0.32
	if m.runIn {
		most = 0.42
	}
	return min(max(want, 0.22*width), max(most*width, least))
}

// evenSizes gives all rows one size of name and one of dates. Type is made smaller
// only a little to save a break: large names over tiny dates would serve nobody. A
// row that has to break its lines in any case does not make the others smaller.
func (p *sheetPlan) evenSizes() {
	const little = 0.86
	even := func(want, least float64, ems func(r *rowTexts) float64) float64 {
		fit := want
		for i := range p.t.rows {
			one := want * p.textWidth / widthOf(ems(&p.t.rows[i]), want) * 0.999
			if one >= little*want || !p.m.breaks {
				fit = min(fit, one)
			}
		}
		return max(fit, least, little*want)
	}
	p.m.name = even(p.m.name, leastName, func(r *rowTexts) float64 { return r.name })
	p.m.dates = even(p.m.dates, leastType, func(r *rowTexts) float64 { return r.dates })
	p.m.dates = even(p.m.dates, leastType, func(r *rowTexts) float64 { return r.covered })
}

// monthBand and footBand are the heights of the strips of month names.
func (p *sheetPlan) monthBand() float64 { return p.m.month*point*0.95 + tickLong + 0.8 }
func (p *sheetPlan) footBand() float64  { return p.m.month*point*0.80 + tickLong + 0.9 }
func (p *sheetPlan) markBand() float64  { return float64(p.markRows+len(p.warning)) * p.m.markLine() }

// fixed is the height of everything but the rows.
func (p *sheetPlan) fixed() float64 {
	h := p.head.height + p.m.block + p.monthBand() + p.markBand() + p.footBand()
	if p.key.height > 0 {
		h += p.m.block + p.key.height
	}
	if p.foot.height > 0 {
		h += p.m.block + p.foot.height
	}
	return h
}

func (p *sheetPlan) rowsNeed() float64 {
	var h float64
	for _, r := range p.rows {
		h += r.need()
	}
	return h
}

// Rows grow into free height up to so much more than they need.
const mostExtra = 9.0

// rowHeights shares the height out: rows that need little are raised to a common
// height, so that a sheet looks even, and none is raised beyond a limit.
func (p *sheetPlan) rowHeights(room float64) []float64 {
	heights := make([]float64, len(p.rows))
	if len(p.rows) == 0 {
		return heights
	}
	needs := make([]float64, len(p.rows))
	for i, r := range p.rows {
		needs[i] = r.need()
	}
	sorted := slices.Sorted(slices.Values(needs))
	level, spent, n := sorted[0], 0.0, float64(len(sorted))
	for i := range sorted {
		// With the i tallest-but rows below the level, all of them share what is left.
		var taller float64
		for _, v := range sorted[i+1:] {
			taller += v
		}
		if l := (room - taller) / float64(i+1); l >= sorted[i] {
			level = l
		}
	}
	level = min(level, sorted[int(n)/2]+mostExtra)
	for i, need := range needs {
		heights[i] = max(need, level)
		spent += heights[i]
	}
	return heights
}

// FitError says that a sheet is too high for a paper even at its least sizes.
type FitError struct {
	Paper string  // "Letter", "A4", "print page"
	Row   int     // the first row without room, from 0: so many rows fit
	Code  string  // of that row
	Name  string  // of that row
	After int     // rows that follow it
	Over  float64 // how much too high the sheet is, in mm
}

func (e *FitError) Error() string {
	return fmt.Sprintf("row %s (%s): no room on the %s for this row and the %d after it: %.0f mm too high at the least sizes",
		e.Code, e.Name, e.Paper, e.After, e.Over)
}

// overflow tells which row is the first that finds no room at the least sizes.
func (p *sheetPlan) overflow(room float64) error {
	left := room - p.fixed()
	for i, r := range p.rows {
		if left -= r.need(); left < 0 {
			return &FitError{
				Paper: p.area.name, Row: i, Code: r.row.Code, Name: r.row.Name,
				After: len(p.rows) - 1 - i, Over: p.fixed() + p.rowsNeed() - room,
			}
		}
	}
	return fmt.Errorf("no room on the %s: heading, keys and foot alone need %.0f mm of %.0f", p.area.name, p.fixed(), room)
}

// cleanSheet is the sheet with every text brought to signs the type has.
func cleanSheet(s *page.Sheet) (*page.Sheet, error) {
	c, err := cleanFrame(s, &cleaner{})
	errs := []error{err}
	c.Rows = slices.Clone(s.Rows)
	for i := range c.Rows {
		c.Rows[i], err = cleanRow(&s.Rows[i])
		errs = append(errs, err)
	}
	return c, errors.Join(errs...)
}

// cleaner brings texts to signs the type has and keeps what is wrong with them.
type cleaner struct {
	errs  []error
	known []paragraphs   // without fault
	row   *page.SheetRow // whose texts are cleaned; nil = those around the rows
}

// paragraphs are texts as they were handed in, and clean.
type paragraphs struct{ given, clean []string }

// all cleans paragraphs, or takes them as they were cleaned before.
func (k *cleaner) all(where string, given []string) []string {
	for i := range k.known {
		if slices.Equal(k.known[i].given, given) {
			return k.known[i].clean
		}
	}
	wrong, clean := len(k.errs), slices.Clone(given)
	for i := range clean {
		k.clean(where, &clean[i])
	}
	if len(k.errs) == wrong {
		k.known = append(k.known, paragraphs{given, clean})
	}
	return clean
}

func (k *cleaner) clean(where string, texts ...*string) {
	for _, t := range texts {
		v, err := printable(*t)
		if err != nil && k.row != nil {
			where = fmt.Sprintf("row %s (%s)", k.row.Code, k.row.Name)
		}
		if err != nil {
			k.errs = append(k.errs, fmt.Errorf("%s: %w", where, err))
		}
		*t = v
	}
}

// cleanFrame is cleanSheet but for the rows. Its cleaner may know texts of other sheets.
func cleanFrame(s *page.Sheet, k *cleaner) (*page.Sheet, error) {
	k.errs = nil
	c := *s
	c.Months, c.Marks = slices.Clone(s.Months), slices.Clone(s.Marks)
	c.Key, c.CoverKey = slices.Clone(s.Key), slices.Clone(s.CoverKey)
	k.clean("heading", &c.Band, &c.Where, &c.Name, &c.Edition, &c.CodeText, &c.KeyTitle, &c.CoverKeyTitle, &c.OwnDates, &c.Warning,
		&c.HeadCode, &c.HeadCrop, &c.HeadCalendar, &c.HeadSentence)
	c.Lead, c.Foot = k.all("lead", s.Lead), k.all("foot", s.Foot)
	for i := range c.Months {
		k.clean("months", &c.Months[i].Name)
	}
	for i := range c.Marks {
		k.clean("marks", &c.Marks[i].Label)
	}
	for i := range c.Key {
		k.clean("key", &c.Key[i].Letter, &c.Key[i].Text)
	}
	for i := range c.CoverKey {
		k.clean("cover key", &c.CoverKey[i].Letter, &c.CoverKey[i].Text)
	}
	if c.Days <= 0 {
		k.errs = append(k.errs, errors.New("the calendar has no days"))
	}
	for _, mk := range c.Marks {
		if mk.At < 0 || mk.At >= c.Days {
			k.errs = append(k.errs, fmt.Errorf("mark %q stands at day %d of %d", mk.Label, mk.At, c.Days))
		}
	}
	return &c, errors.Join(k.errs...)
}

// cleanRow is a row with every text brought to signs the type has.
func cleanRow(r *page.SheetRow) (page.SheetRow, error) {
	c := *r
	c.Bars, c.Covers = slices.Clone(r.Bars), slices.Clone(r.Covers)
	k := cleaner{row: r}
	k.clean("", &c.Code, &c.Name, &c.Dates, &c.Covered)
	for i := range c.Bars {
		k.clean("", &c.Bars[i].Letter)
	}
	for i := range c.Covers {
		k.clean("", &c.Covers[i].Letter)
	}
	return c, errors.Join(k.errs...)
}
