package render

import (
	"fmt"
	"slices"

	"shedwall/cmd/shedwall/internal/page"
)

// calendar is the part of a sheet that is divided by days.
type calendar struct {
	x0, x1 float64
	days   int
}

// at is where a day begins.
func (c calendar) at(day int) float64 {
	return c.x0 + (c.x1-c.x0)*float64(day)/float64(c.days)
}

// stretch is the place of days from to to, both inclusive, at least least mm wide
// so that a single day can be seen.
func (c calendar) stretch(from, to int, least float64) (x0, x1 float64) {
	x0, x1 = c.at(from), c.at(to+1)
	if x1-x0 < least {
		x1 = min(x0+least, c.x1)
		x0 = x1 - least
	}
	return x0, x1
}

// rowPlan is one row, worked out but not yet placed on the sheet. Heights are
// counted from the row's own line, on which its dates stand.
type rowPlan struct {
	row                *page.SheetRow
	texts              *rowTexts
	name, dates        []string
	room               [1 + mostDateLines]string // for most names and all dates
	nameSize, dateSize float64
	beside             float64 // how far right of the name the first line of dates begins; 0 = under it
	lanes              int     // of bars, 0 at the top
	levels             int     // of cover lines, 0 nearest the bars
	bars               []placedBar
	covers             []placedCover
	up, down           float64 // room needed above and below the row's line
	lane               float64 // height of the empty lane for own dates, 0 = none

	taken [maxLanes][]span // of each lane of bars
}

// begin empties a plan; its bars and covers go where those of the last were.
func (r *rowPlan) begin() { *r = rowPlan{bars: r.bars[:0], covers: r.covers[:0], taken: r.taken} }

func (r *rowPlan) need() float64 { return r.up + r.down + r.lane }

// placedBar is a bar with its lane and its letter. Pieces is what is drawn of a
// growing line, which gives way to everything else.
type placedBar struct {
	page.Bar
	lane    int
	x0, x1  float64
	letter  span // empty where there is no letter
	inside  bool // the letter stands in a gap of the bar's own hatch
	pieces  []span
	cutLeft bool // goes on beyond the first or the last day of the axis
	cutEnd  bool
}

// placedCover is a cover line with its level and its letter.
type placedCover struct {
	page.CoverLine
	level  int
	x0, x1 float64
	letter span
	inline bool // the letter interrupts the line
}

// rowError names the row that cannot be drawn.
func rowError(r *page.SheetRow, format string, args ...any) error {
	return fmt.Errorf("row %s (%s): %s", r.Code, r.Name, fmt.Sprintf(format, args...))
}

// heavyPad is what a heavy rule takes of a row more than a thin line.
const heavyPad = (lineRule - lineThin) / 2

// plan works out one row at the given measures.
func (p *rowPlan) plan(r *page.SheetRow, x *rowTexts, m *measures, cal calendar, width float64) error {
	p.row, p.texts = r, x
	p.room[0] = r.Name
	p.name, p.nameSize = p.room[:1:1], m.name
	if widthOf(x.name, m.name) > width {
		var ok bool
		if p.name, p.nameSize, ok = setText(r.Name, bold, m.name, m.name, width, 2); !ok {
			return rowError(r, "its name does not fit into %.0f mm at %.0f points on three lines", width, m.name)
		}
	}
	if !p.runIn(m, width) {
		p.dates = p.room[1:1]
		for _, text := range [...]string{r.Dates, r.Covered} { // what covers change begins a line of its own
			if text == "" {
				continue
			}
			lines, size, ok := setPhrases(text, m.dates, width)
			if !ok {
				return rowError(r, "its dates (%s) do not fit into %.0f mm at %.0f points on two lines", text, width, m.dates)
			}
			p.dates, p.dateSize = append(p.dates, lines...), size
		}
	}
	if err := p.placeBars(m, cal); err != nil {
		return err
	}
	if err := p.placeCovers(m, cal); err != nil {
		return err
	}
	text, below := p.textExtent(m)
	chart := p.coverTop(m)
	p.up = m.rowPad + max(text, chart)
	p.down = max(below, m.barDrop) + m.rowPad
	if r.GroupEnd {
		p.down += heavyPad
	}
	return nil
}

// mostDateLines is the most lines of dates in a row, two of them for what covers change.
const mostDateLines = 4

// besideGap is the blank between a name and dates on its line, in mm.
const besideGap = 2.2

// runIn sets the phrases of a row one after the other, beginning right of a name of one
// line where the first fits there, and says whether it could: no phrase is broken.
func (p *rowPlan) runIn(m *measures, width float64) bool {
	x := p.texts
	if !m.runIn || len(p.name) != 1 || len(x.phrases) == 0 {
		return false
	}
	const tail = " ·" // at the end of a line but the last
	line := func(first, after int) string {
		end := int(x.phrases[after-1].to)
		if after < len(x.phrases) {
			end += len(tail)
		}
		return x.dated[x.phrases[first].from:end]
	}
	from := widthOf(x.name, p.nameSize) + besideGap
	lines := p.room[1:1]
	first, left := 0, from // phrase that begins the line, and where
	ems := 0.0             // of the line
	for i := range x.phrases {
		own := x.phrases[i].ems
		if i < len(x.phrases)-1 {
			own += textEms(tail, regular)
		}
		joined := own
		if i > first {
			joined += ems + blankEms(regular)
		}
		switch {
		case left+widthOf(joined, m.dates) <= width:
			ems = joined
			continue
		case widthOf(own, m.dates) > width:
			return false
		case i > first:
			lines = append(lines, line(first, i))
		default:
			from = 0 // nothing fits beside the name
		}
		first, left, ems = i, 0, own
	}
	if lines = append(lines, line(first, len(x.phrases))); len(lines) > mostDateLines {
		return false
	}
	p.dates, p.dateSize, p.beside = lines, m.dates, from
	return true
}

// textExtent is how far name and dates reach above and below the row's line.
func (p *rowPlan) textExtent(m *measures) (above, below float64) {
	nameAbove := p.texts.above
	if len(p.name) > 1 {
		nameAbove, _ = inkEms(p.name[0], bold)
	}
	above = p.nameLine(0, m) + nameAbove*p.nameSize*point
	if len(p.dates) > 0 {
		_, below = inkExtent(p.dates[len(p.dates)-1], regular, p.dateSize)
	}
	return above, below
}

// nameLine is the height of a line of the name above the row's line.
func (p *rowPlan) nameLine(i int, m *measures) float64 {
	return p.nameUp(len(p.name)-i, len(p.dates), m)
}

// nameUp is the height of a line of the name, counted from the last one, above the row's
// line where there are so many lines of dates.
func (p *rowPlan) nameUp(name, dates int, m *measures) float64 {
	up := float64(max(0, dates-1)) * p.dateSize * point * m.leading
	if dates > 0 && p.beside == 0 {
		up += (p.nameSize*0.215 + p.dateSize*0.76) * point
	}
	return up + float64(name-1)*p.nameSize*point*1.05
}

// laneTop and laneBottom are heights above the row's line.
func (p *rowPlan) laneTop(lane int, m *measures) float64 {
	return p.laneBottom(lane, m) + m.bar
}

func (p *rowPlan) laneBottom(lane int, m *measures) float64 {
	return float64(p.lanes-1-lane)*(m.bar+m.laneGap) - m.barDrop
}

// coverLine is the height of a cover line above the row's line.
func (p *rowPlan) coverLine(level int, m *measures) float64 {
	return p.laneTop(0, m) + m.coverGap + float64(level)*m.coverPitch
}

// coverTop is the highest point of the row's drawing.
func (p *rowPlan) coverTop(m *measures) float64 {
	if p.levels == 0 {
		return p.laneTop(0, m)
	}
	return p.coverLine(p.levels-1, m) + m.coverLetterHeight()/2 + 0.05
}

// maxLanes is how many bars may stand over the same day.
const maxLanes = 4

// placeBars gives every bar a lane and its letter a place: before the bar, within
// its hatch, or after it; where none is free, the bar moves to the next lane. What
// is begun stands in the upper lanes, harvests below, so that a row reads
// downwards when it overlaps in time.
func (p *rowPlan) placeBars(m *measures, cal calendar) error {
	bars := p.row.Bars
	for i := range bars {
		if b := &bars[i]; b.From < 0 || b.To >= cal.days || b.From > b.To {
			return rowError(p.row, "a bar runs from day %d to day %d of %d", b.From, b.To, cal.days)
		}
	}
	p.lanes = 1
	p.bars = slices.Grow(p.bars[:0], len(bars))
	taken := &p.taken
	for lane := range taken {
		taken[lane] = taken[lane][:0]
	}
	var growing []placedBar
	for _, b := range bars {
		pb := placedBar{Bar: b, cutLeft: b.From == 0, cutEnd: b.To == cal.days-1}
		least := 0.6
		if b.Kind == page.BarHarvest {
			least = lineBar + 1 // its two sides are as far apart as hatch lines
		}
		pb.x0, pb.x1 = cal.stretch(b.From, b.To, least)
		if b.Kind == page.BarGrowing {
			growing = append(growing, pb)
			continue
		}
		if !pb.settle(m, cal, taken) {
			return rowError(p.row, "more than %d bars stand over one day, or a letter finds no room", maxLanes)
		}
		p.lanes = max(p.lanes, pb.lane+1)
		p.bars = append(p.bars, pb)
	}
	for _, g := range growing {
		best := -1.0
		for lane := range p.lanes {
			pieces := withoutSorted(nil, span{g.x0, g.x1}, sorted(grown(taken[lane], m.letterGap)), 1.6)
			if l := total(pieces); l > best {
				best, g.lane, g.pieces = l, lane, pieces
			}
		}
		p.bars = append(p.bars, g)
	}
	return nil
}

// sortBars puts the bars of a row in the order in which they are placed.
func sortBars(bars []page.Bar) {
	slices.SortStableFunc(bars, func(a, b page.Bar) int {
		if (a.Kind == page.BarHarvest) != (b.Kind == page.BarHarvest) {
			return int(a.Kind) - int(b.Kind)
		}
		return a.From - b.From
	})
}

// settle finds lane and letter of a bar and books them.
func (b *placedBar) settle(m *measures, cal calendar, taken *[maxLanes][]span) bool {
	w := textWidth(b.Letter, bold, m.letter)
	type place struct {
		letter span
		inside bool
	}
	free := func(lane int, pl place) bool {
		all := span{b.x0, b.x1}
		if b.Letter != "" {
			all = span{min(all.a, pl.letter.a), max(all.b, pl.letter.b)}
		}
		const edge = 0.2 // mm that a letter keeps from the edge of the calendar
		if all.a < b.x0 && all.a < cal.x0+edge || all.b > b.x1 && all.b > cal.x1-edge || meetsAny(all, taken[lane], m.letterGap*0.6) {
			return false
		}
		b.lane, b.letter, b.inside = lane, pl.letter, pl.inside
		taken[lane] = append(taken[lane], all)
		return true
	}
	if b.Letter == "" { // the second part of a bar cut at the end of the axis
		for lane := range maxLanes {
			if free(lane, place{}) {
				return true
			}
		}
		return false
	}
	before := place{letter: span{b.x0 - m.letterGap - w, b.x0 - m.letterGap}}
	if free(0, before) || free(1, before) { // a second lane costs most rows no height
		return true
	}
	after := place{letter: span{b.x1 + m.letterGap, b.x1 + m.letterGap + w}}
	lead := m.insideLead(b.Kind)
	within := place{span{b.x0 + lead, b.x0 + lead + w}, true}
	places := []place{before, after, within} // dots and solid bars are better left whole
	switch {
	case b.x1-b.x0 < 2*lead+w+2*m.letterGap:
		places = places[:2]
	case b.Kind == page.BarHarvest || b.Kind == page.BarOutside, before.letter.a < cal.x0:
		// A bar from the edge of the calendar on has its letter where it begins, as all have.
		places = []place{before, within, after}
	}
	for lane := range maxLanes {
		for _, pl := range places {
			if free(lane, pl) {
				return true
			}
		}
	}
	return false
}

func meetsAny(s span, others []span, gap float64) bool {
	for _, o := range others {
		if s.a < o.b+gap && o.a < s.b+gap {
			return true
		}
	}
	return false
}

func grown(s []span, d float64) []span {
	out := make([]span, len(s))
	for i, v := range s {
		out[i] = span{v.a - d, v.b + d}
	}
	return out
}

func total(s []span) float64 {
	var l float64
	for _, v := range s {
		l += v.b - v.a
	}
	return l
}
