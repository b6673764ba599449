package page

import "strings"

// Leaf is one page of paper to be filled in with a pencil, complete: every word on
// it, every box and every empty line. Render lays it out for each paper; there is no
// drawing of it on the web, where a page of text says the same.
type Leaf struct {
	Path    string // of the page of text: "bands/slopes/tonight"
	Lang    string
	Band    string // "Thessock Slopes"
	Name    string // "Tonight card"
	Subject string // for the PDF's own properties
	Edition string // "Thessock Valley growing guide, edition 3 · card code K7QF"
	Dated   string // date of the edition, "2026-02-01"; "" = none
	Code    string // from the content, as a sheet's
	Strips  []LeafStrip
	Foot    []string // publisher, edition and code, required statement

	// A leaf with Pages may take several; Flow then runs on in Columns after the strips,
	// and Running stands at the foot of each page, {n} of {all}. Continued is how the {heading}
	// of a list is repeated over a column in which it goes on; "" = it is not.
	Pages     bool
	Flow      []LeafBlock
	Columns   int
	Running   string
	Continued string
}

// Title names the leaf among all documents of a guide.
func (l *Leaf) Title() string {
	var parts []string
	for _, p := range []string{l.Band, l.Name, l.Edition} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, " · ")
}

// LeafStrip is a part of a leaf from its left to its right edge. Columns stand side by
// side and are read one after the other; Shares are their widths (nil = equal). Cut
// draws a line between them along which the leaf may be cut or folded.
type LeafStrip struct {
	Columns [][]LeafBlock
	Shares  []float64
	Cut     bool

	// Of a leaf of several pages: CutAbove draws a line to cut along over the strip, Keep
	// holds it on one page with the next.
	CutAbove, Keep bool
}

// LeafBlock is one part of a column.
type LeafBlock interface{ leafBlock() }

// LeafHeading is a heading; level 1 once a leaf. Corner, where given, is framed at the
// right: the unit of a card.
type LeafHeading struct {
	Level  int
	Text   string
	Corner string
}

// LeafText is a paragraph; Lead is printed bold before it. Small is for what is read
// once and not every evening. Part, in a flow, is for one that belongs to the heading before
// it.
type LeafText struct {
	Lead, Text string
	Small      bool
	Part       bool
}

// LeafBoxes are empty boxes to write a number in: side by side like a sum, or one under
// the other with their words to the left.
type LeafBoxes struct {
	Across bool
	Boxes  []LeafBox
}

// LeafBox is one of them. Sign stands before it ("+", "="; may be empty), Unit in it.
// Says is what reading programs say of the empty box.
type LeafBox struct {
	Number, Label, Note string
	Sign, Unit          string
	Says                string
}

// LeafTable is a table with one heading row and one heading column. A cell without text
// is to be written in; Pencil makes the rows high enough for that. Heads may break
// their lines with "\n". Whole asks for cells of one line each, in smaller type if
// need be. Tables that follow each other with as many columns get equal columns.
type LeafTable struct {
	Caption string
	Head    []string
	Rows    [][]LeafCell
	Pencil  bool
	Whole   bool
}

// LeafCell is a cell. Rule draws a heavier line above it: what is to be done changes
// here.
type LeafCell struct {
	Text   string
	Strong bool
	Rule   bool
}

func (LeafHeading) leafBlock() {}
func (LeafText) leafBlock()    {}
func (LeafBoxes) leafBlock()   {}
func (LeafTable) leafBlock()   {}
