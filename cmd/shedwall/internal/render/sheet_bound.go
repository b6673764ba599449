package render

import (
	"math"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// A sheet is tried at some sixty scales, and most are far too large for it. What follows
// tells so from the lengths of its texts alone, which are measured once: a height that the
// sheet cannot be lower than, a hundred times cheaper than working it out. The scale that is
// chosen stays the same.

// sheetTexts is a clean sheet with the lengths of its texts.
type sheetTexts struct {
	*page.Sheet
	rows         []rowTexts
	headCode     float64 // ems, as all
	headCrop     float64
	headCalendar float64
	lead, foot   []float64 // none where the least height is not asked for
	space        float64

	fitting *Fitting // knows what stands on other sheets of the wall; nil = nobody does
	uncoded bool     // the code is not known yet: the heading is at the least so high
}

// rowTexts is the lengths of a row's texts in ems, and how far their ink reaches.
type rowTexts struct {
	code, name, dates, covered float64
	above, firstAbove          float64 // of the name; of its first word
	below                      float64 // of the last of the dates
	levels                     int     // of cover lines, at the least

	dated   string // dates and covered as they run on beside a name
	phrases []wordAt

	known *fittingRow // the row as it is on other sheets of the wall; nil = not known
}

// phrased takes what stands beside a name apart into its phrases, which go into room.
func (x *rowTexts) phrased(r *page.SheetRow, room []wordAt) []wordAt {
	x.dated = r.Dates
	if x.dated != "" && r.Covered != "" {
		x.dated += phraseMark
	}
	x.dated += r.Covered
	first := len(room)
	for at := 0; at < len(x.dated); {
		end := strings.Index(x.dated[at:], phraseMark)
		if end < 0 {
			end = len(x.dated) - at
		}
		room = append(room, wordAt{int32(at), int32(at + end), textEms(x.dated[at:at+end], regular)})
		at += end + len(phraseMark)
	}
	x.phrases = room[first:]
	return room
}

// textsOf measures a clean sheet, and brings its bars and covers into the order in which
// they are placed.
func textsOf(s *page.Sheet) *sheetTexts {
	t := headTexts(s)
	t.rows = make([]rowTexts, len(s.Rows))
	phrases := make([]wordAt, 0, 4*len(s.Rows))
	for i := range s.Rows {
		t.rows[i], phrases = textsOfRow(&s.Rows[i], phrases)
	}
	for _, text := range s.Lead {
		t.lead = append(t.lead, textEms(text, regular))
	}
	for _, text := range s.Foot {
		t.foot = append(t.foot, textEms(text, regular))
	}
	return t
}

// headTexts is textsOf but for the rows and for lead and foot.
func headTexts(s *page.Sheet) *sheetTexts {
	return &sheetTexts{
		Sheet:    s,
		headCode: textEms(s.HeadCode, regular), headCrop: textEms(s.HeadCrop, regular), headCalendar: textEms(s.HeadCalendar, regular),
		space: textEms(" ", regular),
	}
}

// textsOfRow measures a clean row, and orders its bars and covers. Its phrases go into room.
func textsOfRow(r *page.SheetRow, room []wordAt) (out rowTexts, _ []wordAt) {
	room = out.phrased(r, room)
	sortBars(r.Bars)
	sortCovers(r.Covers)
	out.code, out.name = textEms(r.Code, bold), textEms(r.Name, bold)
	out.dates, out.covered = textEms(r.Dates, regular), textEms(r.Covered, regular)
	out.above, _ = inkEms(r.Name, bold)
	first, _, _ := strings.Cut(r.Name, " ")
	out.firstAbove, _ = inkEms(first, bold)
	last := r.Covered
	if last == "" {
		last = r.Dates
	}
	_, out.below = inkEms(last, regular)
	for _, c := range r.Covers {
		out.levels = max(out.levels, c.Level+1)
	}
	return out, room
}

// roomFor is room for the plans of so many rows of a wall that is tried.
func (t *sheetTexts) roomFor(rows int) []rowPlan {
	if cap(t.fitting.plans) < rows {
		t.fitting.plans = make([]rowPlan, rows)
	}
	return t.fitting.plans[:rows]
}

// widthOf is textWidth of a text whose length is known.
func widthOf(ems, size float64) float64 { return ems * size * point }

// lessThan keeps rounding from turning a height that just fits into one that does not.
const lessThan = 1e-6 // mm

// tooHigh says that a plan with its columns and sizes set is higher than room, whatever
// its rows turn out to be, where all the rest is fixed mm high at the least. False says
// nothing.
func (p *sheetPlan) tooHigh(fixed, room float64) bool {
	if p.m.runIn { // dates may stand beside names: few scales, no rule
		return false
	}
	return fixed+p.leastRows() > room+lessThan
}

// leastFixed is the least height of everything but the rows.
func (p *sheetPlan) leastFixed() float64 {
	m, t := &p.m, p.t
	width := p.area.box.x1 - p.area.box.x0
	h := leastPiece(1, bold, min(m.title, leastTitle), 1) + leastPiece(1, regular, min(m.where, leastWhere), 1) + m.block*0.5
	for _, ems := range t.lead {
		h += t.leastPara(ems, m.lead, width, m)
	}
	h += m.block + p.monthBand() + p.footBand()
	if len(p.s.Marks) > 0 {
		h += m.markLine()
	}
	if p.s.Warning != "" {
		h += m.markLine()
	}
	if p.s.KeyTitle != "" || p.s.CoverKeyTitle != "" {
		h += m.block + leastPiece(1, bold, leastType, 1)
	}
	for i, ems := range t.foot {
		if i == 0 && ems > 0 {
			h += m.block
		}
		h += t.leastPara(ems, m.foot, width, m)
	}
	return h
}

// leastPara is the least height of a paragraph: that of the fewest lines it can take.
func (t *sheetTexts) leastPara(ems, size, width float64, m *measures) float64 {
	if ems == 0 {
		return 0
	}
	space := widthOf(t.space, size)
	lines := math.Ceil((widthOf(ems, size)+space)/(width+space) - lessThan)
	return leastPiece(max(1, int(lines)), regular, size, m.leading)
}

// leastPiece is what block.setPiece adds for so many lines.
func leastPiece(lines int, w weight, size, leading float64) float64 {
	return headInk(w, size) + float64(lines-1)*size*point*leading + size*point*0.22
}

// leastRows is the least height of all rows.
func (p *sheetPlan) leastRows() float64 {
	m := &p.m
	h := 0.0
	for i := range p.t.rows {
		r, x := &p.s.Rows[i], &p.t.rows[i]
		plan := rowPlan{row: r, nameSize: m.name, dateSize: m.dates, lanes: 1, levels: x.levels}
		names, above := 1, x.above
		if widthOf(x.name, m.name) > p.textWidth+lessThan {
			names, above = 2, x.firstAbove
		}
		dates := 0
		below := x.below * m.dates * point
		for _, text := range []struct {
			has bool
			ems float64
		}{{r.Dates != "", x.dates}, {r.Covered != "", x.covered}} {
			if !text.has {
				continue
			}
			dates++
			if widthOf(text.ems, m.dates) > p.textWidth+lessThan {
				dates++
				below = 0 // which words stand on the last line is not known
			}
		}
		if dates == 0 {
			below = 0
		}
		text := plan.nameUp(names, dates, m) + above*m.name*point
		h += m.rowPad + max(text, plan.coverTop(m)) + max(below, m.barDrop) + m.rowPad + m.ownLane
		if r.GroupEnd {
			h += heavyPad
		}
		if i == 0 || p.s.Rows[i-1].GroupEnd {
			h += heavyPad
		}
	}
	return h
}
