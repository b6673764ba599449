package render

import (
	"slices"

	"shedwall/cmd/shedwall/internal/page"
)

// maxLevels is how many cover lines may lie over one another.
const maxLevels = 4

// placeCovers gives every cover line a level, its own or the next free one, and
// its letter a place: before the line, in it just after its start, or after it.
func (p *rowPlan) placeCovers(m *measures, cal calendar) error {
	covers := p.row.Covers
	p.covers = slices.Grow(p.covers[:0], len(covers))
	var taken [maxLevels][]span
	for _, c := range covers {
		if c.From < 0 || c.To >= cal.days || c.From > c.To || c.Level < 0 {
			return rowError(p.row, "cover line %s runs from day %d to day %d of %d at level %d", c.Letter, c.From, c.To, cal.days, c.Level)
		}
		if _, ok := coverStyles[c.Style]; !ok {
			return rowError(p.row, "cover line %s has the unknown style %q", c.Letter, c.Style)
		}
		pc := placedCover{CoverLine: c, level: -1}
		pc.x0, pc.x1 = cal.stretch(c.From, c.To, 0.9)
		for level := c.Level; level < maxLevels; level++ {
			if !meetsAny(span{pc.x0, pc.x1}, taken[level], 0.3) {
				pc.level = level
				break
			}
		}
		if pc.level < 0 {
			return rowError(p.row, "more than %d cover lines lie over one day", maxLevels)
		}
		taken[pc.level] = append(taken[pc.level], span{pc.x0, pc.x1})
		p.levels = max(p.levels, pc.level+1)
		p.covers = append(p.covers, pc)
	}
	for i := range p.covers {
		if !p.letterCover(i, m, cal) {
			return rowError(p.row, "the letter of cover line %s finds no room", p.covers[i].Letter)
		}
	}
	return nil
}

// sortCovers puts the cover lines of a row in the order in which they are placed.
func sortCovers(covers []page.CoverLine) {
	slices.SortStableFunc(covers, func(a, b page.CoverLine) int {
		if a.Level != b.Level {
			return a.Level - b.Level
		}
		return a.From - b.From
	})
}

// letterCover places the letter of one cover line clear of every other line and
// of the letters placed before it.
func (p *rowPlan) letterCover(i int, m *measures, cal calendar) bool {
	c := &p.covers[i]
	if c.Letter == "" {
		return true
	}
	w, half := textWidth(c.Letter, bold, m.coverLetter), m.coverLetterHeight()/2
	box := func(x float64, level int, w float64) rect {
		y := -p.coverLine(level, m)
		return rect{x, y - half, x + w, y + half}
	}
	free := func(x float64) bool {
		b := box(x, c.level, w).grow(0.12)
		if b.x0 < cal.x0 || b.x1 > cal.x1 {
			return false
		}
		for j, o := range p.covers {
			if j != i {
				y, thick := -p.coverLine(o.level, m), coverStyles[o.Style].half()
				leg := y + thick + m.coverLeg
				if b.meets(rect{o.x0, y - thick, o.x1, y + thick}) || b.meets(rect{o.x0, y, o.x0 + lineHatch, leg}) || b.meets(rect{o.x1 - lineHatch, y, o.x1, leg}) {
					return false
				}
			}
			if o.letter != (span{}) && b.meets(box(o.letter.a, o.level, o.letter.b-o.letter.a)) {
				return false
			}
		}
		return true
	}
	for _, x := range []float64{c.x0 - m.letterGap - w, c.x1 + m.letterGap} {
		if x < c.x0 && free(x) {
			c.letter = span{x, x + w}
			return true
		}
		const before, after = 0.8, 1.3 // mm of line that must be seen on either side
		for at := c.x0 + before; at+w+after <= c.x1; at += 0.3 {
			if free(at) {
				c.letter, c.inline = span{at, at + w}, true
				return true
			}
		}
		if free(x) {
			c.letter = span{x, x + w}
			return true
		}
	}
	return false
}
