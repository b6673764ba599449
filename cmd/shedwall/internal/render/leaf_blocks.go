package render

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// leafSetter sets the blocks of a leaf at one scale.
type leafSetter struct{ m leafMeasures }

// block sets a block; tables are those whose columns a table shares.
func (s leafSetter) block(b page.LeafBlock, width float64, tables []page.LeafTable) (leafItem, error) {
	switch b := b.(type) {
	case page.LeafHeading:
		return s.heading(b, width)
	case page.LeafText:
		return s.text(b, width)
	case page.LeafBoxes:
		if b.Across {
			return s.across(b, width)
		}
		return s.stacked(b, width)
	case page.LeafTable:
		return s.table(b, width, tables)
	}
	return leafItem{}, fmt.Errorf("a leaf holds a %T, which nobody can set", b)
}

// heading sets a heading, its corner framed at the right.
func (s leafSetter) heading(h page.LeafHeading, width float64) (leafItem, error) {
	text, err := printable(h.Text)
	if err != nil {
		return leafItem{}, err
	}
	corner, err := printable(h.Corner)
	if err != nil {
		return leafItem{}, err
	}
	size := s.m.heading
	if h.Level > 1 && corner == "" {
		size *= 0.8
	}
	var cornerBox float64
	if corner != "" {
		cornerBox = textWidth(corner, bold, size*1.1) + 4
	}
	lines, size, ok := setText(text, bold, size, size*0.75, width-cornerBox-3, 2)
	if !ok {
		return leafItem{}, fmt.Errorf("heading: %q does not fit into %.0f mm", text, width)
	}
	var b block
	tag := fmt.Sprintf("H%d", h.Level)
	b.setPiece(tag, lines, bold, size, 1.1, 0, atStart)
	item := leafItem{height: b.height, before: s.m.gap * 1.3}
	item.draw = func(d *drawing, x, y float64) { b.drawAt(d, x, y) }
	if corner == "" {
		return item, nil
	}
	cornerSize := s.m.heading * 1.1
	above, _ := inkExtent(corner, bold, cornerSize)
	high := above + 2.6
	item.height = max(item.height, high)
	item.draw = func(d *drawing, x, y float64) {
		b.drawAt(d, x, y)
		r := rect{x + width - cornerBox, y, x + width, y + high}
		d.strokes(strokes{role: roleRule, width: lineRule, decor: true, segs: frame(r, lineRule, false, false)})
		w := textWidth(corner, bold, cornerSize)
		d.in(part{tag: "P"}, func() {
			d.text(run{x: (r.x0 + r.x1 - w) / 2, y: y + 1.3 + above, size: cornerSize, weight: bold, anchor: atMiddle, s: corner})
		})
	}
	return item, nil
}

// flow breaks a bold lead and the text after it into lines of a width and counts them.
// Where rows is not nil, it also gives the runs of each, counted from the left: leaves are
// tried at dozens of scales and drawn at one.
func flow(lead, text string, size, width float64, rows *[][]run) (lines int, err error) {
	f := flowing{size: size, width: width, space: textWidth(" ", regular, size), rows: rows}
	if !f.words(lead, bold) || !f.words(text, regular) {
		return 0, fmt.Errorf("a word of %q is wider than its column", text)
	}
	return f.lines, nil
}

// flowing is the state of flow within a line.
type flowing struct {
	size, width, space float64
	lines              int
	rows               *[][]run
	begun              bool    // the line has a word
	at                 float64 // where the next word begins, but for a blank
	run                bool    // words before belong to a run
	x, ems             float64 // where it begins, and its length
	weight             weight
	from, to           int  // where it stands in its text,
	whole              bool // with one blank between any two words
}

// words sets the words of a text; false = one is too wide.
func (f *flowing) words(text string, w weight) bool {
	for at := 0; at < len(text); {
		end := at + strings.IndexByte(text[at:], ' ')
		if end < at {
			end = len(text)
		}
		word := text[at:end]
		if ems := textEms(word, w); widthOf(ems, f.size) <= f.width {
			if word != "" {
				f.word(text, at, end, w, ems, false)
			}
			at = end + 1
			continue
		}
		for i, piece := range broken(word, w, f.size, f.width) {
			ems := textEms(piece, w)
			if widthOf(ems, f.size) > f.width {
				return false
			}
			f.word(text, at, at+len(piece), w, ems, i > 0)
			at += len(piece)
		}
		at++
	}
	return true
}

// word sets text[from:to], a word or the tail of one that had to be broken.
func (f *flowing) word(text string, from, to int, w weight, ems float64, tail bool) {
	if f.at > 0 && (tail || f.at+f.space+widthOf(ems, f.size) > f.width) {
		f.at, f.run, f.begun = 0, false, false
	}
	if f.at > 0 {
		f.at += f.space
	}
	if !f.begun {
		f.lines++
		f.begun = true
		if f.rows != nil {
			*f.rows = append(*f.rows, nil)
		}
	}
	together := f.run && f.weight == w
	if together {
		// Blanks within a run are as wide as its own weight makes them.
		f.ems = addEms(addEms(f.ems, " ", w), text[from:to], w)
	} else {
		f.x, f.ems, f.weight, f.run = f.at, ems, w, true
		f.from, f.to, f.whole = from, from-1, true
	}
	f.at = f.x + widthOf(f.ems, f.size)
	if f.rows != nil {
		line := &(*f.rows)[f.lines-1]
		if !together {
			*line = append(*line, run{x: f.x, size: f.size, weight: w})
		}
		r := &(*line)[len(*line)-1]
		if f.whole = f.whole && f.to+1 == from; f.whole {
			r.s = text[f.from:to]
		} else {
			r.s += " " + text[from:to]
		}
	}
	f.to = to
}

// broken cuts a word that is wider than a line, after a sign at which addresses may be
// broken where there is one. A word of ordinary length stays whole.
func broken(s string, w weight, size, width float64) []string {
	if textWidth(s, w, size) <= width {
		return []string{s}
	}
	cut := 0
	for i := range s {
		if i > 0 && textWidth(s[:i], w, size) > width {
			break
		}
		if i > 0 && strings.ContainsRune("/.-@_", rune(s[i-1])) {
			cut = i
		}
	}
	if cut == 0 {
		return []string{s}
	}
	return append([]string{s[:cut]}, broken(s[cut:], w, size, width)...)
}

// flowed is the lines of flow as a part of the document, the first line at the top.
func (s leafSetter) flowed(tag, lead, text string, size, width float64) (leafItem, error) {
	lead, err := printable(lead)
	if err != nil {
		return leafItem{}, err
	}
	if text, err = printable(text); err != nil {
		return leafItem{}, err
	}
	n, err := flow(lead, text, size, width, nil)
	if err != nil {
		return leafItem{}, err
	}
	above := headInk(bold, size)
	pitch := size * point * s.m.leading
	item := leafItem{height: above + pitch*float64(n-1) + size*point*0.22}
	if n == 0 {
		item.height = 0
	}
	item.draw = func(d *drawing, x, y float64) {
		var lines [][]run
		if _, err := flow(lead, text, size, width, &lines); err != nil {
			return // it was set a moment ago
		}
		d.in(part{tag: tag}, func() {
			for i, line := range lines {
				for k, r := range line {
					r.x, r.y = r.x+x, y+above+pitch*float64(i)
					r.more = i < len(lines)-1 || k < len(line)-1
					d.text(r)
				}
			}
		})
	}
	return item, nil
}

func (s leafSetter) text(t page.LeafText, width float64) (leafItem, error) {
	size, before := s.m.text, s.m.gap*0.7
	if t.Small {
		size, before = s.m.small, s.m.gap*0.3
	}
	item, err := s.flowed("P", t.Lead, t.Text, size, width)
	item.before = before
	return item, err
}

// emptyBox draws a box to write in, its number at the top left and its unit at the
// lower right.
func (s leafSetter) emptyBox(d *drawing, r rect, b page.LeafBox, numbered bool) {
	d.in(part{tag: "Figure", alt: b.Says, box: r}, func() {
		d.strokes(strokes{role: roleGrid, width: lineBar, segs: frame(r, lineBar, false, false)})
	})
	const pad = 1.2
	if numbered {
		above, _ := inkExtent(b.Number, bold, s.m.label)
		d.text(run{x: r.x0 + pad, y: r.y0 + pad + above, size: s.m.label, weight: bold, decor: true, s: b.Number})
	}
	if b.Unit != "" {
		w := textWidth(b.Unit, regular, s.m.label)
		d.text(run{x: r.x1 - pad - w, y: r.y1 - pad - 0.4, size: s.m.label, anchor: atEnd, decor: true, s: b.Unit})
	}
}

// across sets boxes side by side like a sum, each with its words under it.
func (s leafSetter) across(b page.LeafBoxes, width float64) (leafItem, error) {
	const beside = 1.6
	signs := make([]float64, len(b.Boxes))
	room := width
	for i, x := range b.Boxes {
		if i > 0 {
			signs[i] = textWidth(x.Sign, bold, s.m.text) + 2*beside
		}
		room -= signs[i]
	}
	wide := room / float64(len(b.Boxes))
	type under struct{ label, note leafItem }
	words := make([]under, len(b.Boxes))
	var deepest float64
	for i, x := range b.Boxes {
		var err error
		if words[i].label, err = s.flowed("P", x.Number+" "+x.Label, "", s.m.label, wide); err != nil {
			return leafItem{}, err
		}
		if words[i].note, err = s.flowed("P", "", x.Note, max(s.m.small, leastSmall), wide); err != nil {
			return leafItem{}, err
		}
		deepest = max(deepest, words[i].label.height+0.5+words[i].note.height)
	}
	item := leafItem{height: s.m.box + 1.2 + deepest, before: s.m.gap}
	item.draw = func(d *drawing, x, y float64) {
		for i, box := range b.Boxes {
			if i > 0 {
				w := textWidth(box.Sign, bold, s.m.text)
				d.in(part{tag: "P"}, func() {
					d.text(run{x: x + (signs[i]-w)/2, y: y + s.m.box/2 + capHeight*s.m.text*point/2, size: s.m.text, weight: bold, anchor: atMiddle, s: box.Sign})
				})
				x += signs[i]
			}
			s.emptyBox(d, rect{x, y, x + wide, y + s.m.box}, box, true)
			words[i].label.draw(d, x, y+s.m.box+1.2)
			words[i].note.draw(d, x, y+s.m.box+1.2+words[i].label.height+0.5)
			x += wide
		}
	}
	return item, nil
}

// stacked sets boxes one under the other, words at the left.
func (s leafSetter) stacked(b page.LeafBoxes, width float64) (leafItem, error) {
	const beside = 3.0
	boxWide := 22 * min(s.m.scale, 1.1)
	var rows []leafItem
	item := leafItem{before: s.m.gap}
	for _, x := range b.Boxes {
		text := x.Label
		if x.Note != "" {
			text += " " + x.Note
		}
		words, err := s.flowed("P", x.Number, text, s.m.label, width-boxWide-beside)
		if err != nil {
			return leafItem{}, err
		}
		rows = append(rows, words)
		item.height += max(words.height, s.m.box) + s.m.gap*0.8
	}
	item.height -= s.m.gap * 0.8
	item.draw = func(d *drawing, x, y float64) {
		for i, box := range b.Boxes {
			high := max(rows[i].height, s.m.box)
			rows[i].draw(d, x, y+(high-rows[i].height)/2)
			top := y + (high-s.m.box)/2
			s.emptyBox(d, rect{x + width - boxWide, top, x + width, top + s.m.box}, box, false)
			y += high + s.m.gap*0.8
		}
	}
	return item, nil
}
