// Package prose reads the Markdown that a publisher writes into checked blocks
// of text. It exists so that goldmark is used here and nowhere else, and so that
// nothing unchecked can reach a page: raw HTML, links that run code, pictures
// without words and tables with holes are faults that name file, line and column.
// It knows no page and no output format.
package prose

import "shedwall/cmd/shedwall/internal/diag"

// Doc is one Markdown file.
type Doc struct {
	ID      string // path in the content folder without extension and order number: "bands/slopes"
	File    string // path as the publisher sees it: "content/bands/slopes.md"
	Order   int    // number before the name, 0 where there is none
	Foreign string // language of the text where it is not that of its Library, else ""
	Own     bool   // from the publisher's folder, not one of the defaults
	Title   string // the first heading, plain text
	Blocks  []Block

	lang string // the language folder it lies in, "" = none
}

// Block is a paragraph, heading, list, quotation, code, rule or table.
type Block interface{ block() }

// Heading is a heading below the title. Level is 2 to 6 as written. ID is made
// of the document's id and a running number, never of the words, so that it
// stays the same in every language.
type Heading struct {
	Level int
	ID    string
	Text  []Inline
}

// Para is a paragraph.
type Para struct{ Text []Inline }

// List is a list; an item holds any blocks. Tight lists show items as plain lines.
type List struct {
	Ordered bool
	Start   int
	Tight   bool
	Items   [][]Block
}

// Quote is a quotation.
type Quote struct{ Blocks []Block }

// Code is text shown as typed.
type Code struct{ Text string }

// Rule is a thematic break.
type Rule struct{}

// Table has one heading row and one heading column (the first) and no empty
// cell. Caption is the paragraph "Table: ..." above it, else the heading above it.
type Table struct {
	Caption []Inline
	Head    [][]Inline
	Rows    [][][]Inline
}

func (Heading) block() {}
func (Para) block()    {}
func (List) block()    {}
func (Quote) block()   {}
func (Code) block()    {}
func (Rule) block()    {}
func (Table) block()   {}

// Kind tells the kinds of inline text apart.
type Kind uint8

// The kinds of Inline. Text, Code and Image have no Children.
const (
	Text Kind = iota
	Strong
	Emphasis
	CodeSpan
	Link
	Image
	Break // a line break that the writer asked for
)

// Inline is a run of text. Text is plain: no entity or escape is left in it.
type Inline struct {
	Kind     Kind
	Text     string // Text, CodeSpan: the words; Image: what it shows
	Target   Target // Link, Image
	Children []Inline
}

// Target is where a link or picture leads.
type Target struct {
	// Outside is a full address (https, http, mailto or tel). Else Doc is the id of a
	// document or page ("crops/kale"; "" = this document) or, for pictures, the path
	// of a file in the content folder ("images/bed.jpg").
	Outside  string
	Doc      string
	Fragment string // without #
	At       diag.Position
}

// Plain is inline text without marks.
func Plain(text []Inline) string {
	var s string
	for _, t := range text {
		switch t.Kind {
		case Break:
			s += " "
		case Text, CodeSpan, Image:
			s += t.Text
		default:
			s += Plain(t.Children)
		}
	}
	return s
}

// Targets calls f for every link and picture of the document, in reading order.
func (d *Doc) Targets(f func(Inline)) { blockTargets(d.Blocks, f) }

func blockTargets(blocks []Block, f func(Inline)) {
	for _, b := range blocks {
		switch b := b.(type) {
		case Heading:
			inlineTargets(b.Text, f)
		case Para:
			inlineTargets(b.Text, f)
		case List:
			for _, item := range b.Items {
				blockTargets(item, f)
			}
		case Quote:
			blockTargets(b.Blocks, f)
		case Table:
			inlineTargets(b.Caption, f)
			for _, h := range b.Head {
				inlineTargets(h, f)
			}
			for _, row := range b.Rows {
				for _, cell := range row {
					inlineTargets(cell, f)
				}
			}
		}
	}
}

func inlineTargets(text []Inline, f func(Inline)) {
	for _, t := range text {
		if t.Kind == Link || t.Kind == Image {
			f(t)
		}
		inlineTargets(t.Children, f)
	}
}
