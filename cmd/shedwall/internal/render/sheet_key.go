package render

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// planKey sets the two keys. A key stays on one line as long as its type can be
// made small enough; the entries of both start at one place where that costs no line.
func planKey(s *page.Sheet, m *measures, width float64) (block, error) {
	lists := []keyList{keyListOf(s.KeyTitle, s.Key, false), keyListOf(s.CoverKeyTitle, s.CoverKey, true)}
	shared := max(lists[0].indent(m), lists[1].indent(m))
	small := *m
	for size := m.key; size >= leastType; size -= 0.25 {
		small.key = size
		for _, common := range []float64{max(lists[0].indent(&small), lists[1].indent(&small)), 0} {
			if keysOnLines(lists, &small, width, common) {
				return setKeys(lists, &small, width, common)
			}
		}
	}
	return setKeys(lists, m, width, min(shared, width*0.3))
}

// keyList is one key: its title and its entries, with the widths of their texts in ems,
// since a key is tried at many sizes.
type keyList struct {
	title   string
	entries []page.KeyEntry
	cover   bool
	ems     []float64
}

func keyListOf(title string, entries []page.KeyEntry, cover bool) keyList {
	l := keyList{title: title, entries: entries, cover: cover, ems: make([]float64, len(entries))}
	for i, e := range entries {
		l.ems[i] = textEms(e.Text, regular)
	}
	return l
}

func (l keyList) indent(m *measures) float64 {
	if l.title == "" {
		return 0
	}
	return textWidth(l.title, bold, m.key) + 4
}

// Blanks in mm: between a sample and its words, and between two entries.
const keyGap, keyApart = 1.5, 4.5

// start is where the entries of a key begin: at common, or just after its title where
// that is 0.
func (l keyList) start(m *measures, common float64) float64 {
	if common > 0 {
		return common
	}
	return l.indent(m)
}

// keysOnLines says whether the keys take no more lines than there are keys.
func keysOnLines(lists []keyList, m *measures, width, common float64) bool {
	lines := 0
	for _, l := range lists {
		if l.title == "" && len(l.entries) == 0 {
			continue
		}
		lines++
		start := l.start(m, common)
		x := start
		for i, e := range l.entries {
			w := swatchWidth(e, l.cover, m) + keyGap + l.ems[i]*m.key*point
			if x > start && x+w > width {
				x = start
				lines++
			}
			if x+w > width || lines > len(lists) {
				return false
			}
			x += w + keyApart
		}
	}
	return true
}

// setKeys sets the keys with their entries starting at common, or just after
// each title where that is 0.
func setKeys(lists []keyList, m *measures, width, common float64) (b block, err error) {
	b.pieces = make([]piece, 0, len(lists[0].entries)+len(lists[1].entries)+len(lists))
	above, below := inkExtent("Álg", bold, m.key)
	line := max(above+below, m.bar+m.coverLeg) + 0.6
	for _, l := range lists {
		if l.title == "" && len(l.entries) == 0 {
			continue
		}
		if b.height > 0 {
			b.height += 0.8
		}
		indent := l.start(m, common)
		title, size, ok := setText(l.title, bold, m.key, leastType, max(indent-2, 10), 3)
		if !ok {
			return b, fmt.Errorf("key: the title %q is too wide", l.title)
		}
		top := b.height
		b.setPiece("P", title, bold, size, 1.1, 0, atStart)
		titleEnd := b.height
		x, y := indent, top+above
		for i, e := range l.entries {
			long := swatchWidth(e, l.cover, m)
			w := long + keyGap + l.ems[i]*m.key*point
			if x > indent && x+w > width {
				x, y = indent, y+line
			}
			if x+w > width {
				return b, fmt.Errorf("key: %q is wider than the sheet", e.Text)
			}
			swatchX, baseline := x, y
			b.pieces = append(b.pieces, piece{
				tag:  "P",
				say:  strings.TrimSpace(e.Letter + " " + e.Text),
				runs: []run{{x: x + long + keyGap, y: y, size: m.key, s: e.Text}},
				draw: func(d *drawing, ox, oy float64) { drawSwatch(d, e, l.cover, m, ox+swatchX, oy+baseline) },
			})
			x += w + keyApart
		}
		b.height = max(titleEnd, y+below)
	}
	return b, nil
}

// Lengths of the samples of bars and cover lines in mm.
const (
	swatchCover  = 9.5
	swatchBar    = 8.5
	swatchSetOut = 5.0
)

// swatchWidth is the width of a small sample of a bar or a cover line with its letter.
func swatchWidth(e page.KeyEntry, cover bool, m *measures) float64 {
	if cover {
		return swatchCover
	}
	return swatchLead(e, m) + swatchBarLength(e)
}

func swatchBarLength(e page.KeyEntry) float64 {
	if e.Kind == page.BarSetOut {
		return swatchSetOut
	}
	return swatchBar
}

// swatchLead is the room of the letter before a bar.
func swatchLead(e page.KeyEntry, m *measures) float64 {
	if e.Letter == "" {
		return 0
	}
	return textWidth(e.Letter, bold, m.letter) + m.letterGap
}

// drawSwatch draws a sample; y is the line of the text beside it.
func drawSwatch(d *drawing, e page.KeyEntry, cover bool, m *measures, x, y float64) {
	w := textWidth(e.Letter, bold, m.letter)
	mid := capHeight * m.key * point / 2
	if cover {
		c := placedCover{CoverLine: page.CoverLine{Style: e.Style, Letter: e.Letter, From: 1, To: 1}, x0: x, x1: x + swatchCover}
		if e.Letter != "" {
			c.letter, c.inline = span{x + 1.2, x + 1.2 + textWidth(e.Letter, bold, m.coverLetter)}, true
		}
		drawCover(d, c, m, calendar{days: 3}, y-mid)
		return
	}
	lead := swatchLead(e, m)
	b := placedBar{Bar: page.Bar{Kind: e.Kind, Letter: e.Letter}, x0: x + lead, x1: x + lead + swatchBarLength(e), letter: span{x, x + w}}
	b.pieces = []span{{b.x0, b.x1}}
	drawBar(d, b, m, y-mid-m.bar/2, y-mid+m.bar/2)
}
