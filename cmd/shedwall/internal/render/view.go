package render

import (
	"html/template"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// The views are what templates see: a page's blocks with every link made relative
// to the file being written. One set serves HTML and Markdown.

type viewPage struct {
	Lang, Title, Description string
	Large                    bool
	Style, Home, Twin        template.URL
	Site                     *page.Site
	Nav                      []viewNav
	Languages                []viewLanguage // the page in other languages
	Foot                     [][]viewInline
	Blocks                   []viewBlock
}

type viewNav struct {
	Href    template.URL
	Text    string
	Current bool
	Link    []viewInline
}

// viewLanguage leads to the page in another language. Markdown is its text twin.
type viewLanguage struct {
	Code, Name string
	Href       template.URL
	Markdown   template.URL
}

// Link is the name as a link to the Markdown file.
func (l viewLanguage) Link() []viewInline {
	return []viewInline{{Kind: "link", Href: l.Markdown, Children: plainText(l.Name)}}
}

// viewBlock is any block. Kind says which fields hold something.
type viewBlock struct {
	Kind    string // heading para plain list table facts contents note chart sketch gallery terms quote code rule
	ID      string
	Level   int
	Lead    bool
	Class   string
	Label   string
	Text    []viewInline
	Ordered bool
	Start   int
	Items   []viewItem
	Caption []viewInline
	Head    [][]viewInline
	Rows    []viewRow
	Facts   []viewFact
	Links   [][]viewInline
	Chart   *viewChart
	Sketch  *viewSketch
	Gallery []viewGalleryItem
	Terms   []viewTerm
	Twin    *viewBlock
	Blocks  []viewBlock
	Code    string
	Groups  []viewTicks
}

// Hashes is the mark of a heading in Markdown.
func (b viewBlock) Hashes() string { return strings.Repeat("#", b.Level) }

// LabelText is the label as inline text.
func (b viewBlock) LabelText() []viewInline { return plainText(b.Label) }

// viewItem is an item of a list. In HTML a tight item's words are Text and what
// follows them Blocks; in Markdown everything is Blocks, and Text too where an item is
// nothing but words.
type viewItem struct {
	Text   []viewInline
	Blocks []viewBlock
	Mark   string // "-" or "3."
}

// Indent is how far the lines of an item stand in.
func (i viewItem) Indent() int { return len(i.Mark) + 1 }

type viewRow struct {
	ID    string
	Cells []viewCell
}

type viewCell struct {
	Head  bool
	Label []viewInline // the column's heading
	Text  []viewInline
}

type viewFact struct{ Name, Value, Detail []viewInline }

// viewInline is a run of text.
type viewInline struct {
	Kind     string // text heard soft link strong emphasis language code image break
	Text     string
	Href     template.URL
	Lang     string
	Children []viewInline

	Width, Height int // of an image, in pixels; 0 = not known
}

func plainText(s string) []viewInline { return []viewInline{{Kind: "text", Text: s}} }
