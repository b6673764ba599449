package render

import (
	"fmt"
	"html/template"
	"net/url"
	"path"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/prose"
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
// follows them Blocks; in Markdown everything is Blocks.
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

// viewer makes the views of one page in one format.
type viewer struct {
	from     string // the HTML file being written, from the top of its language's pages
	folder   string // of the language, from the top of the site: "" or "es/"
	markdown bool
	err      error
}

func (v *viewer) fail(format string, args ...any) {
	if v.err == nil {
		v.err = fmt.Errorf(v.from+": "+format, args...)
	}
}

// schemes are the addresses a page may lead to; see also prose, which tells the
// publisher. An address that reaches this far with another scheme is our own bug.
var schemes = map[string]bool{"https": true, "http": true, "mailto": true, "tel": true}

// href makes a target relative to the page. In Markdown a link to a page goes to
// its Markdown twin; places within a page have no name there, so that they give "".
func (v *viewer) href(target string) template.URL {
	u, err := url.Parse(target)
	if err != nil || u.Scheme != "" && !schemes[u.Scheme] || u.Scheme == "" && (u.Host != "" || strings.HasPrefix(target, "/")) {
		v.fail("the address %q cannot be written on a page", target)
		return ""
	}
	if !v.markdown || u.Scheme != "" {
		return template.URL(page.Relative(v.from, target))
	}
	file, _, _ := strings.Cut(target, "#")
	if twin, ok := page.Twin(file); ok {
		file = twin
	}
	if from, _ := page.Twin(v.from); file == "" || file == from {
		return ""
	}
	return template.URL(page.Relative(v.from, file))
}

func (v *viewer) inlines(in []page.Inline) []viewInline {
	out := make([]viewInline, 0, len(in))
	for _, t := range in {
		one := viewInline{Kind: "text", Text: v.bound(t.Text)}
		if t.Heard != "" && v.markdown {
			one.Text = t.Heard + t.Text
		}
		switch {
		case t.Soft && !v.markdown:
			one = viewInline{Kind: "soft", Children: []viewInline{one}}
		case t.Strong:
			one = viewInline{Kind: "strong", Children: []viewInline{one}}
		}
		if t.Lang != "" {
			one = viewInline{Kind: "language", Lang: t.Lang, Children: []viewInline{one}}
		}
		if t.Href != "" {
			if h := v.href(t.Href); h != "" {
				one = viewInline{Kind: "link", Href: h, Children: []viewInline{one}}
				if t.Heard != "" && !v.markdown {
					one.Children = append([]viewInline{{Kind: "heard", Text: t.Heard}}, one.Children...)
				}
			}
		}
		out = append(out, one)
	}
	return out
}

func (v *viewer) blocks(in []page.Block) []viewBlock {
	var out []viewBlock
	for _, b := range in {
		switch b := b.(type) {
		case page.Heading:
			out = append(out, viewBlock{Kind: "heading", Level: b.Level, ID: b.ID, Text: v.inlines(b.Text)})
		case page.Para:
			out = append(out, viewBlock{Kind: "para", Lead: b.Lead, Text: v.inlines(b.Text)})
		case page.List:
			l := viewBlock{Kind: "list", Ordered: b.Ordered, Start: 1}
			if b.Columns {
				l.Class = "columns"
			}
			for i, item := range b.Items {
				l.Items = append(l.Items, v.item(mark(b.Ordered, 1+i), v.inlines(item), nil))
			}
			out = append(out, l)
		case page.Table:
			out = append(out, v.table(b))
		case page.Facts:
			f := viewBlock{Kind: "facts", Label: b.Name}
			for _, x := range b.Items {
				f.Facts = append(f.Facts, viewFact{plainText(x.Name), v.inlines(x.Value), v.inlines(x.Detail)})
			}
			out = append(out, f)
		case page.Contents:
			if v.markdown {
				continue // places within a page have no name in Markdown
			}
			c := viewBlock{Kind: "contents", Label: b.Name}
			if b.Letters {
				c.Class = "letters"
			}
			for _, x := range b.Items {
				c.Links = append(c.Links, v.inlines([]page.Inline{x}))
			}
			out = append(out, c)
		case page.Code:
			out = append(out, viewBlock{Kind: "code", Code: strings.TrimRight(b.Text, "\n")})
		case page.Ticks:
			out = append(out, viewBlock{Kind: "ticks", Groups: v.ticks(b)})
		case page.Note:
			out = append(out, viewBlock{Kind: "note", Class: b.Kind, Label: b.Label, Text: v.inlines(b.Text)})
		case page.Chart:
			twin := v.table(b.Twin)
			out = append(out, viewBlock{Kind: "chart", Chart: chartView(b), Twin: &twin})
		case page.Terms:
			out = append(out, v.terms(b))
		case page.Drawing:
			out = append(out, viewBlock{Kind: "sketch", Sketch: v.sketch(b, b.Name), Text: plainText(b.Name)})
		case page.Gallery:
			out = append(out, v.gallery(b))
		case page.Prose:
			if b.Doc != nil {
				blocks := v.proseBlocks(b.Doc.Blocks, b)
				if b.Doc.Foreign != "" && !v.markdown {
					blocks = []viewBlock{{Kind: "foreign", Class: b.Doc.Foreign, Blocks: blocks}}
				}
				out = append(out, blocks...)
			}
		default:
			v.fail("there is no picture of a %T", b)
		}
	}
	return out
}

func (v *viewer) table(b page.Table) viewBlock {
	t := viewBlock{Kind: "table", ID: b.ID, Caption: plainText(b.Caption)}
	for _, h := range b.Head {
		t.Head = append(t.Head, plainText(h))
	}
	for i, row := range b.Rows {
		cells := make([][]viewInline, len(row))
		for j, c := range row {
			cells[j] = v.inlines(c)
		}
		r := v.row(t.Head, cells, b.RowHeads)
		if i < len(b.RowIDs) {
			r.ID = b.RowIDs[i]
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}

// row makes cells. A hole in a table is our own bug: words for "none" and "not
// known" are the page's to choose.
func (v *viewer) row(head [][]viewInline, cells [][]viewInline, rowHead bool) viewRow {
	if len(cells) != len(head) {
		v.fail("a row of %d cells stands under %d headings", len(cells), len(head))
	}
	var r viewRow
	for j, c := range cells {
		if len(c) == 0 || len(c) == 1 && c[0].Kind == "text" && strings.TrimSpace(c[0].Text) == "" {
			v.fail("a cell is empty in the row %s", markdownInline(cells[0]))
		}
		cell := viewCell{Head: j == 0 && rowHead, Text: c}
		if j < len(head) {
			cell.Label = head[j]
		}
		r.Cells = append(r.Cells, cell)
	}
	return r
}

func mark(ordered bool, n int) string {
	if ordered {
		return strconv.Itoa(n) + "."
	}
	return "-"
}

// item makes a list item of its words and what follows them.
func (v *viewer) item(mark string, text []viewInline, rest []viewBlock) viewItem {
	if !v.markdown {
		return viewItem{Text: text, Blocks: rest, Mark: mark}
	}
	blocks := rest
	if len(text) > 0 {
		blocks = append([]viewBlock{{Kind: "plain", Text: text}}, rest...)
	}
	return viewItem{Blocks: blocks, Mark: mark}
}

// proseBlocks shows a publisher's text, headings shifted below the page's own.
func (v *viewer) proseBlocks(in []prose.Block, p page.Prose) []viewBlock {
	var out []viewBlock
	for _, b := range in {
		switch b := b.(type) {
		case prose.Heading:
			out = append(out, viewBlock{Kind: "heading", Level: min(6, b.Level+p.Shift), ID: bareID(b.ID, p), Text: v.proseInlines(b.Text, p)})
		case prose.Para:
			out = append(out, viewBlock{Kind: "para", Text: v.proseInlines(b.Text, p)})
		case prose.Rule:
			out = append(out, viewBlock{Kind: "rule"})
		case prose.Code:
			out = append(out, viewBlock{Kind: "code", Code: strings.TrimRight(b.Text, "\n")})
		case prose.Quote:
			out = append(out, viewBlock{Kind: "quote", Blocks: v.proseBlocks(b.Blocks, p)})
		case prose.List:
			l := viewBlock{Kind: "list", Ordered: b.Ordered, Start: b.Start}
			for i, item := range b.Items {
				var text []viewInline
				if first, ok := firstPara(item); ok && b.Tight {
					text, item = v.proseInlines(first, p), item[1:]
				}
				l.Items = append(l.Items, v.item(mark(b.Ordered, b.Start+i), text, v.proseBlocks(item, p)))
			}
			out = append(out, l)
		case prose.Table:
			t := viewBlock{Kind: "table", Caption: v.proseInlines(b.Caption, p)}
			for _, h := range b.Head {
				t.Head = append(t.Head, v.proseInlines(h, p))
			}
			for _, row := range b.Rows {
				cells := make([][]viewInline, len(row))
				for j, c := range row {
					cells[j] = v.proseInlines(c, p)
				}
				t.Rows = append(t.Rows, v.row(t.Head, cells, true))
			}
			out = append(out, t)
		}
	}
	return out
}

func firstPara(item []prose.Block) ([]prose.Inline, bool) {
	if len(item) == 0 {
		return nil, false
	}
	p, ok := item[0].(prose.Para)
	return p.Text, ok
}

func (v *viewer) proseInlines(in []prose.Inline, p page.Prose) []viewInline {
	var out []viewInline
	for _, t := range in {
		switch t.Kind {
		case prose.Text:
			out = append(out, viewInline{Kind: "text", Text: v.bound(t.Text)})
		case prose.CodeSpan:
			out = append(out, viewInline{Kind: "code", Text: t.Text})
		case prose.Break:
			out = append(out, viewInline{Kind: "break"})
		case prose.Strong:
			out = append(out, viewInline{Kind: "strong", Children: v.proseInlines(t.Children, p)})
		case prose.Emphasis:
			out = append(out, viewInline{Kind: "emphasis", Children: v.proseInlines(t.Children, p)})
		case prose.Image:
			width, height := 0, 0
			if p.Size != nil {
				width, height = p.Size(t.Target.Doc)
			}
			out = append(out, viewInline{Kind: "image", Width: width, Height: height, Text: t.Text, Href: template.URL(page.Relative(v.folder+v.from, (&url.URL{Path: path.Clean(t.Target.Doc)}).String()))})
		case prose.Link:
			text := v.proseInlines(t.Children, p)
			target := t.Target.Outside
			if target == "" && p.Link != nil {
				target = p.Link(t.Target)
			}
			if target == "" {
				out = append(out, text...)
				continue
			}
			if h := v.href(target); h != "" {
				out = append(out, viewInline{Kind: "link", Href: h, Children: text})
			} else {
				out = append(out, text...)
			}
		}
	}
	return out
}
