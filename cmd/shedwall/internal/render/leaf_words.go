package render

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/page"
)

// Leaf is a leaf with all its texts measured, ready to be laid out on any paper. A leaf is
// tried at dozens of scales: each then only multiplies lengths.
type Leaf struct {
	leaf   *page.Leaf
	strips [][][]leafBlock // by strip and column
	foot   []leafBlock
	flow   []flowBlock
}

// leafBlock is a block of a leaf, its texts measured.
type leafBlock interface {
	// set works out how high the block is at a width in mm.
	set(m *leafMeasures, width float64) (leafItem, error)
	// draw draws a block that was set at that width from its top left corner.
	draw(m *leafMeasures, d *drawing, x, y, width float64)
}

// flowBlock is a block of the part that runs on in columns. Keep binds it to the next;
// again stands over it where a column begins with it, nil = nothing does.
type flowBlock struct {
	leafBlock
	keep  bool
	again leafBlock
}

// leafItem is a block that has been set: so high at that width.
type leafItem struct {
	height float64
	before float64 // blank above it unless it is the first
	width  float64
	block  leafBlock
}

func (it *leafItem) draw(m *leafMeasures, d *drawing, x, y float64) {
	it.block.draw(m, d, x, y, it.width)
}

// MeasureLeaf measures the texts of a leaf. The error is a sign that the type lacks, or a
// table that is none.
func MeasureLeaf(l *page.Leaf) (*Leaf, error) {
	out := &Leaf{leaf: l, strips: make([][][]leafBlock, len(l.Strips))}
	var s leafMeasurer
	for i, strip := range l.Strips {
		if n := len(strip.Columns); strip.Shares != nil && len(strip.Shares) != n {
			return nil, fmt.Errorf("a strip of %d columns has %d shares", n, len(strip.Shares))
		}
		out.strips[i] = make([][]leafBlock, len(strip.Columns))
		for k, blocks := range strip.Columns {
			column := make([]leafBlock, len(blocks))
			for j, b := range blocks {
				column[j] = s.block(b)
			}
			alike(column)
			out.strips[i][k] = column
		}
	}
	for _, text := range l.Foot {
		out.foot = append(out.foot, s.block(page.LeafText{Text: text, Small: true}))
	}
	out.flow = make([]flowBlock, 0, flowBlocks(l))
	under := "" // the heading of what comes, where it goes on
	for _, b := range l.Flow {
		switch x := b.(type) {
		case page.LeafHeading:
			under = strings.ReplaceAll(l.Continued, "{heading}", x.Text)
			out.flow = append(out.flow, flowBlock{s.block(b), true, nil})
		case page.LeafTicks:
			out.flow = s.ticks(out.flow, x, under)
		case page.LeafText:
			if !x.Part {
				under = ""
			}
			out.flow = append(out.flow, flowBlock{s.block(b), false, s.again(under, "")})
		default:
			out.flow = append(out.flow, flowBlock{s.block(b), false, nil})
		}
	}
	return out, s.err
}

// leafMeasurer measures texts. It keeps the first error.
type leafMeasurer struct {
	room wordRoom
	err  error
}

func (s *leafMeasurer) fail(err error) {
	if s.err == nil {
		s.err = err
	}
}

func (s *leafMeasurer) text(text string, w weight) wording {
	text, err := printable(text)
	if err != nil {
		s.fail(err)
	}
	return measure(text, w, &s.room)
}

func (s *leafMeasurer) running(lead, text string) running {
	return running{s.text(lead, bold), s.text(text, regular)}
}

func (s *leafMeasurer) block(b page.LeafBlock) leafBlock {
	switch b := b.(type) {
	case page.LeafHeading:
		return &leafHeading{b.Level, s.text(b.Text, bold), s.text(b.Corner, bold)}
	case page.LeafText:
		return &leafText{s.running(b.Lead, b.Text), b.Small}
	case page.LeafBoxes:
		if b.Across {
			return s.across(b)
		}
		return s.stacked(b)
	case page.LeafTable:
		return s.table(b)
	}
	s.fail(fmt.Errorf("a leaf holds a %T, which nobody can set", b))
	return nil
}

func (s *leafMeasurer) across(b page.LeafBoxes) *leafAcross {
	out := &leafAcross{make([]acrossBox, len(b.Boxes))}
	for i, x := range b.Boxes {
		out.boxes[i] = acrossBox{x, textEms(x.Sign, bold), s.running(x.Number+" "+parted(x.Label, headWord), ""), s.running("", x.Note)}
	}
	return out
}

func (s *leafMeasurer) stacked(b page.LeafBoxes) *leafStacked {
	out := &leafStacked{make([]stackedBox, len(b.Boxes))}
	for i, x := range b.Boxes {
		text := x.Label
		if x.Note != "" {
			text += " " + x.Note
		}
		out.boxes[i] = stackedBox{x, s.running(x.Number, text)}
	}
	return out
}

func (s *leafMeasurer) table(t page.LeafTable) *leafTable {
	n := len(t.Head)
	out := &leafTable{page: t, caption: s.running(t.Caption, ""), head: make([][]wording, n), rows: make([]leafRow, len(t.Rows))}
	if n == 0 {
		s.fail(fmt.Errorf("a table has no heading row"))
		return out
	}
	out.alike = []*leafTable{out}
	for i, head := range t.Head {
		lines := strings.Split(head, "\n")
		for k, line := range lines {
			out.head[i] = append(out.head[i], s.text(parted(line, headWord), headWeight(k, len(lines))))
		}
	}
	cells := make([]wording, len(t.Rows)*n)
	for r, row := range t.Rows {
		if len(row) != n {
			s.fail(fmt.Errorf("row %d of a table has %d cells, its heading row %d", r+1, len(row), n))
			return out
		}
		to := &out.rows[r]
		to.cells = cells[r*n : (r+1)*n]
		for i, c := range row {
			w := regular
			if c.Strong {
				w = bold
			}
			to.cells[i] = s.text(c.Text, w)
			if ems := to.cells[i].ems; i > 0 {
				to.longest = max(to.longest, ems)
			} else {
				out.first = max(out.first, ems)
			}
		}
	}
	return out
}

// flowBlocks is how many blocks the flow of a leaf becomes.
func flowBlocks(l *page.Leaf) int {
	n := len(l.Flow)
	for _, b := range l.Flow {
		if t, ok := b.(page.LeafTicks); ok {
			n += len(t.Items)
		}
	}
	return n
}

// ticks appends the name of a group and each thing to do with a box before it, under a heading.
func (s *leafMeasurer) ticks(out []flowBlock, t page.LeafTicks, under string) []flowBlock {
	out = append(out, flowBlock{&leafGroup{s.running(t.Name, "")}, true, s.again(under, "")})
	again := s.again(under, t.Name)
	ticks := make([]leafTick, len(t.Items))
	for i, x := range t.Items {
		ticks[i] = leafTick{s.running(x.Day, x.Text), i == 0, i == len(t.Items)-1}
		out = append(out, flowBlock{&ticks[i], false, again})
	}
	return out
}

// again is a heading that is repeated, with the name of the group that goes on; nil without one.
func (s *leafMeasurer) again(heading, group string) leafBlock {
	if heading == "" {
		return nil
	}
	return &leafAgain{s.running(heading, group)}
}

// alike tells each table of a column of the tables right above and below it with nothing
// else between that have as many columns.
func alike(column []leafBlock) {
	for k, b := range column {
		t, ok := b.(*leafTable)
		if !ok {
			continue
		}
		for _, step := range []int{-1, 1} {
			for i := k + step; i >= 0 && i < len(column); i += step {
				o, ok := column[i].(*leafTable)
				if !ok || len(o.head) != len(t.head) {
					break
				}
				t.alike = append(t.alike, o)
			}
		}
	}
}

// headWord is the most letters of a word that stay together in the heading of a column or box: a
// name from the tables may stand there.
const headWord = 16

// parted is a text with its words of more than most letters parted, into pieces of about half
// as many.
func parted(text string, most int) string {
	long := func(w string) bool { return utf8.RuneCountInString(w) > most }
	words := strings.Split(text, " ")
	if !slices.ContainsFunc(words, long) {
		return text
	}
	for i, w := range words {
		if !long(w) {
			continue
		}
		var pieces []string
		for piece := range slices.Chunk([]rune(w), (most+1)/2) {
			pieces = append(pieces, string(piece))
		}
		words[i] = strings.Join(pieces, "- ")
	}
	return strings.Join(words, " ")
}
