package render

import (
	"fmt"

	"shedwall/cmd/shedwall/internal/page"
)

// leafHeading is a heading, its corner framed at the right.
type leafHeading struct {
	level        int
	text, corner wording
}

// piece is the lines of a heading, and the width of its corner.
func (h *leafHeading) piece(m *leafMeasures, width float64) (b block, corner float64, err error) {
	size := m.heading
	if h.level > 1 && h.corner.text == "" {
		size *= 0.8
	}
	if h.corner.text != "" {
		corner = h.corner.width(size*1.1) + 4
	}
	lines, size, ok := h.text.set(size, size*0.75, width-corner-3, 2)
	if !ok {
		return b, 0, fmt.Errorf("heading: %q does not fit into %.0f mm", h.text.text, width)
	}
	b.setPiece(fmt.Sprintf("H%d", h.level), lines, bold, size, 1.1, 0, atStart)
	return b, corner, nil
}

// cornerHeight is the height of the frame of a corner, and how far its text reaches above
// its line.
func (h *leafHeading) cornerHeight(m *leafMeasures) (high, above float64) {
	if h.corner.text == "" {
		return 0, 0
	}
	above, _ = inkExtent(h.corner.text, bold, m.heading*1.1)
	return above + 2.6, above
}

func (h *leafHeading) set(m *leafMeasures, width float64) (leafItem, error) {
	b, _, err := h.piece(m, width)
	high, _ := h.cornerHeight(m)
	return leafItem{height: max(b.height, high), before: m.gap * 1.3, width: width, block: h}, err
}

func (h *leafHeading) draw(m *leafMeasures, d *drawing, x, y, width float64) {
	b, corner, _ := h.piece(m, width)
	b.drawAt(d, x, y)
	if h.corner.text == "" {
		return
	}
	size := m.heading * 1.1
	high, above := h.cornerHeight(m)
	r := rect{x + width - corner, y, x + width, y + high}
	d.frame(r, strokes{role: roleRule, width: lineRule, decor: true})
	d.in(part{tag: "P"}, func() {
		d.text(run{x: (r.x0 + r.x1 - h.corner.width(size)) / 2, y: y + 1.3 + above, size: size, weight: bold, anchor: atMiddle, s: h.corner.text})
	})
}

// leafText is a paragraph.
type leafText struct {
	words running
	small bool
}

func (t *leafText) size(m *leafMeasures) (size, before float64) {
	if t.small {
		return m.small, m.gap * 0.3
	}
	return m.text, m.gap * 0.7
}

func (t *leafText) set(m *leafMeasures, width float64) (leafItem, error) {
	size, before := t.size(m)
	h, err := t.words.height(size, width, m.leading)
	return leafItem{height: h, before: before, width: width, block: t}, err
}

func (t *leafText) draw(m *leafMeasures, d *drawing, x, y, width float64) {
	size, _ := t.size(m)
	t.words.draw(d, "P", x, y, size, width, m.leading)
}

// emptyBox draws a box to write in, its number at the top left and its unit at the
// lower right.
func emptyBox(m *leafMeasures, d *drawing, r rect, b *page.LeafBox, numbered bool) {
	d.in(part{tag: "Figure", alt: b.Says, box: r}, func() {
		d.frame(r, strokes{role: roleGrid, width: lineBar})
	})
	const pad = 1.2
	if numbered {
		above, _ := inkExtent(b.Number, bold, m.label)
		d.text(run{x: r.x0 + pad, y: r.y0 + pad + above, size: m.label, weight: bold, decor: true, s: b.Number})
	}
	if b.Unit != "" {
		w := textWidth(b.Unit, regular, m.label)
		d.text(run{x: r.x1 - pad - w, y: r.y1 - pad - 0.4, size: m.label, anchor: atEnd, decor: true, s: b.Unit})
	}
}

// leafAcross is boxes side by side like a sum, each with its words under it.
type leafAcross struct{ boxes []acrossBox }

type acrossBox struct {
	page.LeafBox
	sign        float64 // length in ems
	label, note running
}

// signWidth is the width of the sign before box i with the blanks beside it.
func (b *leafAcross) signWidth(i int, m *leafMeasures) float64 {
	const beside = 1.6
	if i == 0 {
		return 0
	}
	return widthOf(b.boxes[i].sign, m.text) + 2*beside
}

// boxWidth is the width of each box.
func (b *leafAcross) boxWidth(m *leafMeasures, width float64) float64 {
	for i := range b.boxes {
		width -= b.signWidth(i, m)
	}
	return width / float64(len(b.boxes))
}

// noteSize is the type of what stands under a box's name.
func noteSize(m *leafMeasures) float64 { return max(m.small, leastSmall) }

func (b *leafAcross) set(m *leafMeasures, width float64) (leafItem, error) {
	wide := b.boxWidth(m, width)
	var deepest float64
	for i := range b.boxes {
		label, err := b.boxes[i].label.height(m.label, wide, m.leading)
		if err != nil {
			return leafItem{}, err
		}
		note, err := b.boxes[i].note.height(noteSize(m), wide, m.leading)
		if err != nil {
			return leafItem{}, err
		}
		deepest = max(deepest, label+0.5+note)
	}
	return leafItem{height: m.box + 1.2 + deepest, before: m.gap, width: width, block: b}, nil
}

func (b *leafAcross) draw(m *leafMeasures, d *drawing, x, y, width float64) {
	wide := b.boxWidth(m, width)
	for i := range b.boxes {
		box := &b.boxes[i]
		if i > 0 {
			w, room := widthOf(box.sign, m.text), b.signWidth(i, m)
			d.in(part{tag: "P"}, func() {
				d.text(run{x: x + (room-w)/2, y: y + m.box/2 + capHeight*m.text*point/2, size: m.text, weight: bold, anchor: atMiddle, s: box.Sign})
			})
			x += room
		}
		emptyBox(m, d, rect{x, y, x + wide, y + m.box}, &box.LeafBox, true)
		label, _ := box.label.height(m.label, wide, m.leading)
		box.label.draw(d, "P", x, y+m.box+1.2, m.label, wide, m.leading)
		box.note.draw(d, "P", x, y+m.box+1.2+label+0.5, noteSize(m), wide, m.leading)
		x += wide
	}
}

// leafStacked is boxes one under the other, words at the left.
type leafStacked struct{ boxes []stackedBox }

type stackedBox struct {
	page.LeafBox
	words running
}

// sizes is the widths of the words and of the boxes.
func (b *leafStacked) sizes(m *leafMeasures, width float64) (words, box float64) {
	const beside = 3.0
	box = 22 * min(m.scale, 1.1)
	return width - box - beside, box
}

func (b *leafStacked) set(m *leafMeasures, width float64) (leafItem, error) {
	item := leafItem{before: m.gap, width: width, block: b}
	wide, _ := b.sizes(m, width)
	for i := range b.boxes {
		h, err := b.boxes[i].words.height(m.label, wide, m.leading)
		if err != nil {
			return leafItem{}, err
		}
		item.height += max(h, m.box) + m.gap*0.8
	}
	item.height -= m.gap * 0.8
	return item, nil
}

func (b *leafStacked) draw(m *leafMeasures, d *drawing, x, y, width float64) {
	wide, boxWide := b.sizes(m, width)
	for i := range b.boxes {
		box := &b.boxes[i]
		h, _ := box.words.height(m.label, wide, m.leading)
		high := max(h, m.box)
		box.words.draw(d, "P", x, y+(high-h)/2, m.label, wide, m.leading)
		top := y + (high-m.box)/2
		emptyBox(m, d, rect{x + width - boxWide, top, x + width, top + m.box}, &box.LeafBox, false)
		y += high + m.gap*0.8
	}
}
