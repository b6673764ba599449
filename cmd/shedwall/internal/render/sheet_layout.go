package render

import (
	"errors"
	"fmt"
	"math"
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

// errTooHigh ends the planning of a sheet as soon as it is known to be too high.
var errTooHigh = errors.New("too high")

// planSheet works out every block of a sheet at one scale. An error means that
// something is too wide, or that heading and rows alone are higher than room; whether
// all heights fit is asked later.
func planSheet(s *page.Sheet, area sheetArea, m measures, room float64) (*sheetPlan, error) {
	p := &sheetPlan{s: s, area: area, m: m}
	width := area.box.x1 - area.box.x0
	var err error
	if p.head, err = planHead(s, m, width, area); err != nil {
		return nil, err
	}
	p.codeWidth = textWidth(s.HeadCode, regular, m.head)
	for i := range s.Rows {
		p.codeWidth = max(p.codeWidth, textWidth(s.Rows[i].Code, bold, m.code))
	}
	p.codeWidth += columnGap
	p.textWidth = textColumn(s, m, width)
	p.evenSizes()
	m = p.m
	p.cal = calendar{
		x0:   area.box.x0 + p.codeWidth + p.textWidth + columnGap,
		x1:   area.box.x1 - p.codeWidth,
		days: s.Days,
	}
	if p.cal.x1-p.cal.x0 < width*0.45 {
		return nil, fmt.Errorf("the codes of the rows are too wide: %.0f mm", p.codeWidth)
	}
	if p.marks, p.markRows, err = placeMarks(s.Marks, m, p.cal); err != nil {
		return nil, err
	}
	if s.Warning != "" {
		lines, size, ok := setText(s.Warning, bold, m.mark*1.15, leastType, p.cal.x1-p.cal.x0-2*columnGap, 2)
		if !ok {
			return nil, fmt.Errorf("the line of words %q is too long for the calendar", s.Warning)
		}
		p.warning, p.warnSize = lines, size
	}
	var errs []error
	high := p.fixed()
	for i := range s.Rows {
		if high > room && errs == nil {
			return nil, errTooHigh
		}
		row, err := planRow(&s.Rows[i], m, p.cal, p.textWidth)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		row.lane = m.ownLane
		if i == 0 || s.Rows[i-1].GroupEnd {
			row.up += heavyPad
		}
		if i == len(s.Rows)-1 && !row.row.GroupEnd {
			row.down += heavyPad
		}
		p.rows = append(p.rows, row)
		high += row.need()
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	if p.key, err = planKey(s, m, width); err != nil {
		return nil, err
	}
	p.foot, err = planFoot(s, m, width)
	return p, err
}

// textColumn is the width of the column of names and dates: what the widest row
// wants, up to a third of the sheet; more only where a row would have to break
// its lines at the least sizes.
func textColumn(s *page.Sheet, m measures, width float64) float64 {
	want := textWidth(s.HeadCrop, regular, m.head) + textWidth(s.HeadCalendar, regular, m.head) + 4
	var least float64
	for i := range s.Rows {
		r := &s.Rows[i]
		if m.runIn {
			want = max(want, textWidth(r.Name, bold, m.name)+besideGap+textWidth(r.Dates, regular, m.dates))
		}
		want = max(want, textWidth(r.Name, bold, m.name), textWidth(r.Dates, regular, m.dates), textWidth(r.Covered, regular, m.dates))
		for _, one := range []float64{textWidth(r.Name, bold, leastName), textWidth(r.Dates, regular, leastType), textWidth(r.Covered, regular, leastType)} {
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
	even := func(want, least float64, w weight, text func(r *page.SheetRow) string) float64 {
		fit := want
		for i := range p.s.Rows {
			one := want * p.textWidth / textWidth(text(&p.s.Rows[i]), w, want) * 0.999
			if one >= little*want || !p.m.breaks {
				fit = min(fit, one)
			}
		}
		return max(fit, least, little*want)
	}
	p.m.name = even(p.m.name, leastName, bold, func(r *page.SheetRow) string { return r.Name })
	p.m.dates = even(p.m.dates, leastType, regular, func(r *page.SheetRow) string { return r.Dates })
	p.m.dates = even(p.m.dates, leastType, regular, func(r *page.SheetRow) string { return r.Covered })
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

// scales are tried from large to small: first with an empty lane for own dates,
// as long as the type does not have to be small for it, then without; each first
// with long names and dates broken in two lines, then on one line in smaller type.
func scales() []measures {
	var out []measures
	try := func(scale float64, own bool) {
		m := measuresAt(scale, own)
		m.breaks = true
		out = append(out, m)
		m.breaks = false
		out = append(out, m)
	}
	for s := 1.35; s > 1.07; s -= 0.03 {
		try(s, true)
	}
	for s := 1.35; s > leastScale+0.001; s -= 0.025 {
		try(s, false)
	}
	out = append(out, measuresAt(leastScale, false))
	for _, s := range []float64{1, 0.94, leastScale} { // a sheet of many rows
		m := measuresAt(s, false)
		m.breaks, m.runIn = true, true
		out = append(out, m)
	}
	return out
}

// layoutSheet is the one drawing of a sheet on a given area: the largest scale at
// which everything fits. The error names the row that is too wide, or the first
// one that goes over the end of the paper.
func layoutSheet(s *page.Sheet, area sheetArea) (*drawing, error) {
	s, err := cleanSheet(s)
	if err != nil {
		return nil, err
	}
	room := area.box.y1 - area.box.y0
	var plan *sheetPlan
	all := scales()
	for _, m := range all {
		if m.ownLane > 0 && s.OwnDates == "" {
			continue
		}
		plan, err = planSheet(s, area, m, room)
		if err == nil && plan.fixed()+plan.rowsNeed() <= room {
			return plan.draw(), nil
		}
	}
	if err == errTooHigh { // the whole plan tells what is too much
		plan, err = planSheet(s, area, all[len(all)-1], math.Inf(1))
	}
	if err != nil {
		return nil, err
	}
	return nil, plan.overflow(room)
}

// fitSheet says whether layoutSheet will find a scale, by the tightest alone: nothing
// else needs less height. Only where words are too wide for it are the others tried.
func fitSheet(s *page.Sheet, area sheetArea) error {
	clean, err := cleanSheet(s)
	if err != nil {
		return err
	}
	all := scales()
	plan, err := planSheet(clean, area, all[len(all)-1], math.Inf(1))
	if err != nil {
		_, err = layoutSheet(s, area)
		return err
	}
	if room := area.box.y1 - area.box.y0; plan.fixed()+plan.rowsNeed() > room {
		return plan.overflow(room)
	}
	return nil
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
	c := *s
	c.Lead, c.Foot = slices.Clone(s.Lead), slices.Clone(s.Foot)
	c.Months, c.Marks, c.Rows = slices.Clone(s.Months), slices.Clone(s.Marks), slices.Clone(s.Rows)
	c.Key, c.CoverKey = slices.Clone(s.Key), slices.Clone(s.CoverKey)
	var errs []error
	clean := func(where string, texts ...*string) {
		for _, t := range texts {
			v, err := printable(*t)
			if err != nil {
				errs = append(errs, fmt.Errorf("%s: %w", where, err))
			}
			*t = v
		}
	}
	clean("heading", &c.Band, &c.Where, &c.Name, &c.Edition, &c.CodeText, &c.KeyTitle, &c.CoverKeyTitle, &c.OwnDates, &c.Warning,
		&c.HeadCode, &c.HeadCrop, &c.HeadCalendar, &c.HeadSentence)
	for i := range c.Lead {
		clean("lead", &c.Lead[i])
	}
	for i := range c.Foot {
		clean("foot", &c.Foot[i])
	}
	for i := range c.Months {
		clean("months", &c.Months[i].Name)
	}
	for i := range c.Marks {
		clean("marks", &c.Marks[i].Label)
	}
	for i := range c.Key {
		clean("key", &c.Key[i].Letter, &c.Key[i].Text)
	}
	for i := range c.CoverKey {
		clean("cover key", &c.CoverKey[i].Letter, &c.CoverKey[i].Text)
	}
	for i := range c.Rows {
		r := &c.Rows[i]
		r.Bars, r.Covers = slices.Clone(r.Bars), slices.Clone(r.Covers)
		where := fmt.Sprintf("row %s (%s)", r.Code, r.Name)
		clean(where, &r.Code, &r.Name, &r.Dates, &r.Covered)
		for j := range r.Bars {
			clean(where, &r.Bars[j].Letter)
		}
		for j := range r.Covers {
			clean(where, &r.Covers[j].Letter)
		}
	}
	if c.Days <= 0 {
		errs = append(errs, errors.New("the calendar has no days"))
	}
	for _, mk := range c.Marks {
		if mk.At < 0 || mk.At >= c.Days {
			errs = append(errs, fmt.Errorf("mark %q stands at day %d of %d", mk.Label, mk.At, c.Days))
		}
	}
	return &c, errors.Join(errs...)
}
