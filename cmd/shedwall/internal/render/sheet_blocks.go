package render

import (
	"fmt"
	"slices"

	"shedwall/cmd/shedwall/internal/page"
)

// setPiece sets a paragraph below what the block holds, by the line above its
// first line. Lines start at x, or end there when the anchor says so.
func (b *block) setPiece(tag string, lines []string, w weight, size, leading, x float64, a anchor) {
	if len(lines) == 0 {
		return
	}
	p := piece{tag: tag, runs: make([]run, 0, len(lines))}
	for i, line := range lines {
		above := headInk(w, size)
		if i == 0 {
			b.height += above
		} else {
			b.height += size * point * leading
		}
		left := x
		if a == atEnd {
			left = x - textWidth(line, w, size)
		}
		p.runs = append(p.runs, run{x: left, y: b.height, size: size, weight: w, anchor: a, more: i < len(lines)-1, s: line})
	}
	b.height += size * point * 0.22 // below the line
	b.pieces = append(b.pieces, p)
}

// planHead sets the heading: the band large, beside it the name of the sheet;
// then where the band lies, beside it edition and code; then what the dates promise.
// uncoded: the second of these waits for the code, and is only as high as it is at the least.
func planHead(s *page.Sheet, m *measures, width float64, uncoded bool) (block, error) {
	var b block
	pair := func(tag string, left string, lw weight, lSize, lFloor float64, right string, rw weight, rSize, rFloor float64) error {
		gap := 6.0
		rLines, rSet, ok := setText(right, rw, rSize, rFloor, width*0.48, 2)
		if !ok {
			return &headingError{right, width * 0.48}
		}
		var rWidth float64
		for _, l := range rLines {
			rWidth = max(rWidth, textWidth(l, rw, rSet))
		}
		lLines, lSet, ok := setText(left, lw, lSize, lFloor, width-rWidth-gap, 2)
		if !ok {
			return fmt.Errorf("heading: %q does not fit into %.0f mm", left, width-rWidth-gap)
		}
		from := b.height
		b.setPiece(tag, lLines, lw, lSet, 1.1, 0, atStart)
		if right == "" {
			return nil
		}
		first, to := b.pieces[len(b.pieces)-1].runs[0].y, b.height
		above := headInk(rw, rSet)
		b.height = max(from, first-above)
		b.setPiece("P", rLines, rw, rSet, m.leading, width, atEnd)
		b.height = max(b.height, to)
		return nil
	}
	if err := pair("H1", s.Band, bold, m.title, leastTitle, s.Name, bold, m.sheet, 9); err != nil {
		return b, err
	}
	b.height += 0.4
	edition := s.Edition
	if s.CodeText != "" {
		if edition != "" {
			edition += " · "
		}
		edition += s.CodeText
	}
	if uncoded {
		b.height += leastPiece(1, regular, leastWhere, 1)
	} else if err := pair("P", s.Where, regular, m.where, leastWhere, edition, regular, m.edition, leastType); err != nil {
		return b, err
	}
	b.height += m.block * 0.5
	for _, para := range s.Lead {
		lines, ok := evenedOnce(para, regular, m.lead, width, width/2)
		if !ok {
			return b, fmt.Errorf("lead: a word of %q is wider than the sheet", para)
		}
		b.setPiece("P", lines, regular, m.lead, m.leading, 0, atStart)
	}
	return b, nil
}

// headingError is a text on the right of the heading that is too long for two lines at its
// least size, which is the same at all scales.
type headingError struct {
	text  string
	width float64
}

func (e *headingError) Error() string {
	return fmt.Sprintf("heading: %q does not fit into %.0f mm", e.text, e.width)
}

// planFoot sets the lines under the keys.
func planFoot(s *page.Sheet, m *measures, width float64) (block, error) {
	var b block
	for _, para := range s.Foot {
		lines, ok := filled(para, regular, m.foot, width)
		if !ok {
			return b, fmt.Errorf("foot: a word of %q is wider than the sheet", para)
		}
		b.setPiece("P", lines, regular, m.foot, m.leading, 0, atStart)
	}
	return b, nil
}

// placedMark is a heavy dashed upright with its label above its upper end.
type placedMark struct {
	page.SheetMark
	x   float64
	box span // of the label
	row int
}

// placeMarks puts each label over the upper end of its line, in the middle where
// it can, in as few rows as keep labels off each other and off the other lines.
func placeMarks(marks []page.SheetMark, m *measures, cal calendar) ([]placedMark, int, error) {
	for rows := 1; rows <= len(marks); rows++ {
		if placed, ok := settleMarks(marks, rows, m, cal, nil); ok {
			return placed, rows, nil
		}
	}
	if placed, ok := stackMarks(marks, m, cal); ok {
		return placed, len(marks), nil
	}
	if len(marks) > 0 {
		return nil, 0, fmt.Errorf("the labels of the freeze lines find no room in the calendar, %q among them", marks[0].Label)
	}
	return nil, 0, nil
}

// labelShifts is how much of a label may stand left of its line, best first.
var labelShifts = []float64{0.5, 0.3, 0.7, 0.03, 0.97}

// settleMarks places the marks that are not placed yet, going back where one
// finds no place.
func settleMarks(marks []page.SheetMark, rows int, m *measures, cal calendar, placed []placedMark) ([]placedMark, bool) {
	if len(placed) == len(marks) {
		return placed, true
	}
	const edge, beside = 0.8, 1.0 // mm
	mk := marks[len(placed)]
	w := textWidth(mk.Label, bold, m.mark)
	x := cal.at(mk.At)
	for row := range rows {
		for _, share := range labelShifts {
			left := min(max(x-share*w, cal.x0+edge), cal.x1-edge-w)
			p := placedMark{SheetMark: mk, x: x, box: span{left, left + w}, row: row}
			if left < cal.x0 || x < left-beside || x > left+w+beside || clash(placed, p) {
				continue
			}
			if all, ok := settleMarks(marks, rows, m, cal, append(slices.Clone(placed), p)); ok {
				return all, true
			}
		}
	}
	return nil, false
}

// clash says whether a label would meet a label of its row or the line under a
// label of a higher row, or its own line a label of a lower one.
func clash(placed []placedMark, p placedMark) bool {
	const labels, line = 4.0, 0.9 // mm to keep free
	for _, o := range placed {
		switch {
		case o.row == p.row && p.box.a < o.box.b+labels && o.box.a < p.box.b+labels,
			o.row < p.row && o.x > p.box.a-line && o.x < p.box.b+line,
			o.row > p.row && p.x > o.box.a-line && p.x < o.box.b+line:
			return true
		}
	}
	return false
}
