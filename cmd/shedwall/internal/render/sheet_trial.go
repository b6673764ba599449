package render

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"shedwall/cmd/shedwall/internal/page"
)

// errTooHigh ends the planning of a sheet as soon as it is known to be too high.
var errTooHigh = errors.New("too high")

// scales are tried from large to small: first with an empty lane for own dates,
// as long as the type does not have to be small for it, then without; each first
// with long names and dates broken in two lines, then on one line in smaller type.
var scales = sync.OnceValue(func() []measures {
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
})

// layoutSheet is the one drawing of a sheet on a given area: the largest scale at
// which everything fits. The error names the row that is too wide, or the first
// one that goes over the end of the paper.
func layoutSheet(s *page.Sheet, area sheetArea) (*drawing, error) {
	s, err := cleanSheet(s)
	if err != nil {
		return nil, err
	}
	return layoutTexts(textsOf(s), area)
}

func layoutTexts(t *sheetTexts, area sheetArea) (*drawing, error) {
	trial := trialOf(t, area)
	defer trial.close()
	room := trial.room
	var err error
	var plan *sheetPlan
	all := scales()
	for _, m := range all {
		if m.ownLane > 0 && t.OwnDates == "" {
			continue
		}
		plan, err = trial.plan(m, room)
		if err == nil && plan.fixed()+plan.rowsNeed() <= room {
			return plan.draw(), nil
		}
	}
	if err == errTooHigh { // the whole plan tells what is too much
		plan, err = trial.plan(tightest())
	}
	if err != nil {
		return nil, err
	}
	return nil, plan.overflow(room)
}

// tightest is the last of the scales, with all the room in the world.
func tightest() (m measures, room float64) {
	all := scales()
	return all[len(all)-1], math.Inf(1)
}

// fitSheet says whether layoutSheet will find a scale, by the tightest alone: nothing
// else needs less height. Only where words are too wide for it are the others tried, if
// they are not too wide for all.
func fitSheet(t *sheetTexts, area sheetArea) error {
	trial := trialOf(t, area)
	plan, err := trial.plan(tightest())
	if err != nil {
		if wide := (*headingError)(nil); errors.As(err, &wide) {
			return err
		}
		_, err = layoutTexts(t, area)
		return err
	}
	if plan.fixed()+plan.rowsNeed() > trial.room {
		return plan.overflow(trial.room)
	}
	return nil
}

// sheetTrial is a sheet being tried at scale after scale on one area.
type sheetTrial struct {
	*sheetTexts
	area    sheetArea
	room    float64  // height of the area
	last    measures // of the scale tried last, sizes of rows evened
	side    sideBlocks
	made    sheetPlan  // room of the plan that is tried
	rowRoom []rowPlan  // and of its rows
	lent    *[]rowPlan // where that is from; nil = from those that try a wall
}

// rowRooms are plans of rows that were drawn, with their room.
var rowRooms = sync.Pool{New: func() any { return new([]rowPlan) }}

// openRows makes room for the plans of so many rows.
func (t *sheetTrial) openRows(rows int) {
	if t.fitting != nil {
		t.rowRoom = t.roomFor(rows)
		return
	}
	t.lent = rowRooms.Get().(*[]rowPlan)
	*t.lent = slices.Grow((*t.lent)[:0], rows)
	t.rowRoom = (*t.lent)[:rows]
}

// close hands the room of rows back. No plan of the trial may be used afterwards.
func (t *sheetTrial) close() {
	if t.lent != nil {
		rowRooms.Put(t.lent)
		t.lent, t.rowRoom = nil, nil
	}
}

func trialOf(t *sheetTexts, area sheetArea) *sheetTrial {
	return &sheetTrial{sheetTexts: t, area: area, room: area.box.y1 - area.box.y0}
}

// sideBlocks is what stands above and below the calendar. It depends on the scale alone,
// not on the rows, and is kept from one trial to the next.
type sideBlocks struct {
	scale                    float64
	head, key, foot          block
	headErr, keyErr, footErr error
}

func (t *sheetTrial) sideAt(m *measures, width float64) *sideBlocks {
	if b := &t.side; b.scale != m.scale {
		b.scale = m.scale
		b.head, b.headErr = planHead(t.Sheet, m, width, t.uncoded)
		planKey, planFoot := planKey, planFoot
		if t.fitting != nil && m.scale == leastScale {
			planKey, planFoot = t.fitting.key, t.fitting.foot
		}
		b.key, b.keyErr = planKey(t.Sheet, m, width)
		b.foot, b.footErr = planFoot(t.Sheet, m, width)
	}
	return &t.side
}

// plan works out every block of a sheet at one scale. It holds until the next is asked
// for. An error means that something is
// too wide, or that the sheet is known to be higher than room; whether all heights fit is
// asked later.
func (t *sheetTrial) plan(m measures, room float64) (*sheetPlan, error) {
	s := t.Sheet
	p := &t.made
	*p = sheetPlan{s: s, t: t.sheetTexts, area: t.area, m: m}
	width := t.area.box.x1 - t.area.box.x0
	p.codeWidth = widthOf(t.headCode, m.head)
	for i := range t.rows {
		p.codeWidth = max(p.codeWidth, widthOf(t.rows[i].code, m.code))
	}
	p.codeWidth += columnGap
	p.textWidth = t.textColumn(&p.m, width)
	p.evenSizes()
	m = p.m
	again := t.last
	if t.last = m; again.breaks != m.breaks {
		again.breaks = m.breaks
		if again == m && !math.IsInf(room, 1) {
			return nil, errTooHigh // the same sizes as just before, which did not fit
		}
	}
	if p.tooHigh(p.leastFixed(), room) {
		return nil, errTooHigh
	}
	side := t.sideAt(&p.m, width)
	if side.headErr != nil {
		return nil, side.headErr
	}
	p.head = side.head
	p.cal = calendar{
		x0:   t.area.box.x0 + p.codeWidth + p.textWidth + columnGap,
		x1:   t.area.box.x1 - p.codeWidth,
		days: s.Days,
	}
	if p.cal.x1-p.cal.x0 < width*0.45 {
		return nil, fmt.Errorf("the codes of the rows are too wide: %.0f mm", p.codeWidth)
	}
	var err error
	if p.marks, p.markRows, err = placeMarks(s.Marks, &p.m, p.cal); err != nil {
		return nil, err
	}
	if s.Warning != "" {
		lines, size, ok := setText(s.Warning, bold, m.mark*1.15, leastType, p.cal.x1-p.cal.x0-2*columnGap, 2)
		if !ok {
			return nil, fmt.Errorf("the line of words %q is too long for the calendar", s.Warning)
		}
		p.warning, p.warnSize = lines, size
	}
	p.key, p.foot = side.key, side.foot
	if p.tooHigh(p.fixed(), room) {
		return nil, errTooHigh
	}
	if t.rowRoom == nil {
		t.openRows(len(s.Rows))
	}
	if err := p.planRows(t.rowRoom, room); err != nil {
		return nil, err
	}
	if side.keyErr != nil {
		return nil, side.keyErr
	}
	return p, side.footErr
}
