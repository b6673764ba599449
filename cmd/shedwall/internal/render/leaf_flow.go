package render

import (
	"fmt"
	"strings"
)

// running is a text with a bold lead before it. Either may be empty.
type running struct{ lead, text wording }

// lineRun is a run, its x counted from the left, on a line counted from 0.
type lineRun struct {
	run
	line int
}

// rowsOf breaks lead and text into lines of a width and counts them. Where rows is not
// nil, it also gives the runs of each: leaves are tried at dozens of scales and drawn at one.
func (t *running) rowsOf(size, width float64, rows *[]lineRun) (lines int, err error) {
	space := widthOf(blankEms(regular), size)
	if rows == nil && t.lead.width(size)+space+t.text.width(size) < width-lessThan {
		return min(1, len(t.lead.words)+len(t.text.words)), nil
	}
	f := flowing{size: size, width: width, space: space, rows: rows}
	if !f.words(&t.lead) || !f.words(&t.text) {
		return 0, fmt.Errorf("a word of %q is wider than its column", strings.TrimSpace(t.lead.text+" "+t.text.text))
	}
	return f.lines, nil
}

// height is how high the lines are, the first with the room above it.
func (t *running) height(size, width, leading float64) (float64, error) {
	n, err := t.rowsOf(size, width, nil)
	if n == 0 {
		return 0, err
	}
	pitch := size * point * leading
	return headInk(bold, size) + pitch*float64(n-1) + size*point*0.22, nil
}

// draw draws the lines as a part of the document, the first line at the top.
func (t *running) draw(d *drawing, tag string, x, y, size, width, leading float64) {
	d.in(part{tag: tag}, func() { t.place(d, x, y, size, width, leading, false) })
}

// place draws the lines; those with decor belong to no part of the document.
func (t *running) place(d *drawing, x, y, size, width, leading float64, decor bool) {
	d.rows = d.rows[:0]
	if _, err := t.rowsOf(size, width, &d.rows); err != nil {
		return // it was set a moment ago
	}
	above, pitch := headInk(bold, size), size*point*leading
	for i := range d.rows {
		r := &d.rows[i]
		r.x, r.y = r.x+x, y+above+pitch*float64(r.line)
		r.more = !decor && i < len(d.rows)-1
		r.decor = decor
		d.text(r.run)
	}
}

// flowing is the state of rowsOf within a line.
type flowing struct {
	size, width, space float64
	lines              int
	rows               *[]lineRun
	begun              bool    // the line has a word
	at                 float64 // where the next word begins, but for a blank
	run                bool    // words before belong to a run
	x, ems             float64 // where it begins, and its length
	weight             weight
	from, to           int  // where it stands in its text,
	whole              bool // with one blank between any two words
}

// words sets the words of a text; false = one is too wide.
func (f *flowing) words(t *wording) bool {
	for i := range t.words {
		w := &t.words[i]
		if widthOf(w.ems, f.size) <= f.width {
			f.word(t, int(w.from), int(w.to), w.ems, false)
			continue
		}
		at := int(w.from)
		for k, piece := range broken(t.text[w.from:w.to], t.weight, f.size, f.width) {
			ems := textEms(piece, t.weight)
			if widthOf(ems, f.size) > f.width {
				return false
			}
			f.word(t, at, at+len(piece), ems, k > 0)
			at += len(piece)
		}
	}
	return true
}

// word sets text[from:to], a word or the tail of one that had to be broken.
func (f *flowing) word(t *wording, from, to int, ems float64, tail bool) {
	if f.at > 0 && (tail || f.at+f.space+widthOf(ems, f.size) > f.width) {
		f.at, f.run, f.begun = 0, false, false
	}
	if f.at > 0 {
		f.at += f.space
	}
	if !f.begun {
		f.lines++
		f.begun = true
	}
	together := f.run && f.weight == t.weight
	if together {
		f.ems += blankEms(t.weight) + ems // blanks within a run are as wide as its own weight makes them
	} else {
		f.x, f.ems, f.weight, f.run = f.at, ems, t.weight, true
		f.from, f.to, f.whole = from, from-1, true
	}
	f.at = f.x + widthOf(f.ems, f.size)
	if f.rows != nil {
		if !together {
			*f.rows = append(*f.rows, lineRun{run{x: f.x, size: f.size, weight: t.weight}, f.lines - 1})
		}
		r := &(*f.rows)[len(*f.rows)-1]
		if f.whole = f.whole && f.to+1 == from; f.whole {
			r.s = t.text[f.from:to]
		} else {
			r.s += " " + t.text[from:to]
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
