// Package page decides what stands on every page of a guide, in words and
// numbers but without a format, and owns every output path and link. It asks the
// science rooms for figures and words for language; render turns the result into
// HTML, Markdown, SVG and PDF.
package page

import "shedwall/cmd/shedwall/internal/prose"

// Page is one page of text. Path has no extension ("bands/slopes/index"):
// render writes Path.html and Path.md. Links are given as paths from the top of
// the site and made relative by render.
type Page struct {
	Path        string
	Lang        string
	Title       string // for the title element; unique in the site
	Description string
	Large       bool   // large print: 18 pt on paper
	Nav         string // which entry of the navigation is this page, by path; may be empty
	Blocks      []Block
}

// Block is one part of a page, in reading order.
type Block interface{ block() }

// Inline is a run of text within a block.
type Inline struct {
	Text   string
	Href   string // path from the top of the site with extension and fragment, or an absolute https:// or mailto: address; "" = plain text
	Heard  string // words before Text for those who hear the page or read the Markdown, so that no two links are alike; not shown on the page
	Strong bool
	Soft   bool   // an answer that says there is nothing to do ("not done"): set back, so that the dates stand out
	Lang   string // language of the run where it is not the page's (botanical Latin: "la")
}

// Heading is a heading; level 1 once a page. ID is its anchor, made from table
// ids and never from the text, so that it survives translation.
type Heading struct {
	Level int
	ID    string
	Text  []Inline
}

// Para is a paragraph. Lead marks the one under the title that says what the page is about.
type Para struct {
	Text []Inline
	Lead bool
}

// List is a list of one-paragraph items. Columns sets many short items side by side.
type List struct {
	Ordered bool
	Columns bool
	Items   [][]Inline
}

// Table is a data table with one heading row and, where RowHeads, one heading
// column. No cell is empty: "not known" is a word. On narrow screens rows stack.
// RowIDs, where given, are anchors of the rows ("" = none).
type Table struct {
	ID       string
	Caption  string
	Head     []string
	RowHeads bool
	Rows     [][][]Inline
	RowIDs   []string
}

// Facts is a short list of figures that a reader came for, each with its name and
// one line that says how to take it.
type Facts struct {
	Name  string // for screen readers: "At a glance"
	Items []Fact
}

// Fact is one figure of Facts. Detail may be empty.
type Fact struct {
	Name   string
	Value  []Inline
	Detail []Inline
}

// Contents leads to the headings of a long page.
type Contents struct {
	Name    string
	Items   []Inline // with Href "#id", or of places on one other page
	Letters bool     // single letters, large enough to be hit with a thumb
}

// Note is a boxed remark. Kind is "caution", "estimate" or "hint"; Label is
// the word printed first ("Caution").
type Note struct {
	Kind  string
	Label string
	Text  []Inline
}

// Prose is Markdown written by the publisher, already parsed; its headings are
// shown Shift levels deeper. Link gives the path of a page from the top of the
// site for a link to another text, "" where there is no such page.
type Prose struct {
	Doc   *prose.Doc
	Shift int
	Link  func(prose.Target) string
	Size  func(picture string) (width, height int) // in pixels, 0 = not known
	Bare  bool                                     // headings without anchors: the text stands on a page of many
}

// Chart is the season chart of a band: odds of a night at or below a
// threshold through the year, or any set of lines over calendar days.
type Chart struct {
	ID     string
	Name   string // short name for screen readers; the table twin follows it
	Months []Month
	Days   int // length of the axis in days
	YLabel string
	YMin   float64
	YMax   float64
	YTicks []Tick
	Lines  []ChartLine
	Marks  []SheetMark
	Twin   Table // the same figures as a table
}

// Tick is one mark of an axis.
type Tick struct {
	At   float64
	Text string
}

// ChartLine is one curve: Y per day of the axis (NaN = no value).
type ChartLine struct {
	Name string
	Dash string // "solid", "dashed", "dotted"
	Side string // "left" or "right": where on the curve its name is written
	Y    []float64
}

// Code is text shown as typed.
type Code struct{ Text string }

func (Code) block()     {}
func (Heading) block()  {}
func (Para) block()     {}
func (List) block()     {}
func (Table) block()    {}
func (Note) block()     {}
func (Prose) block()    {}
func (Chart) block()    {}
func (Facts) block()    {}
func (Contents) block() {}
