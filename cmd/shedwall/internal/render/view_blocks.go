package render

import (
	"fmt"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// viewer makes the views of one page in one format.
type viewer struct {
	store    *viewStore
	from     string // the HTML file being written, from the top of its language's pages
	folder   string // of the language, from the top of the site: "" or "es/"
	twin     string // the Markdown file beside it
	markdown bool
	err      error
}

func newViewer(store *viewStore, p *page.Page) *viewer {
	v := &viewer{store: store, from: page.HTML(p.Path)}
	v.twin, _ = page.Twin(v.from)
	return v
}

// plain is a text of one run as it is.
func (v *viewer) plain(s string) []viewInline { return v.run(viewInline{Kind: "text", Text: s}) }

// run is a text of one run.
func (v *viewer) run(t viewInline) []viewInline {
	out := v.store.inlines.take(1)
	out[0] = t
	return out
}

func (v *viewer) fail(format string, args ...any) {
	if v.err == nil {
		v.err = fmt.Errorf(v.from+": "+format, args...)
	}
}

func (v *viewer) inlines(in []page.Inline) []viewInline {
	out := v.store.inlines.take(len(in))
	for i := range in {
		t, one := &in[i], viewInline{Kind: "text"}
		if t.Heard != "" && v.markdown {
			one.Text = t.Heard + t.Text
		} else {
			one.Text = v.bound(t.Text)
		}
		switch {
		case t.Soft && !v.markdown:
			one = viewInline{Kind: "soft", Children: v.run(one)}
		case t.Strong:
			one = viewInline{Kind: "strong", Children: v.run(one)}
		}
		if t.Lang != "" {
			one = viewInline{Kind: "language", Lang: t.Lang, Children: v.run(one)}
		}
		if t.Href != "" {
			if h := v.href(t.Href); h != "" {
				if t.Heard != "" && !v.markdown {
					heard := v.store.inlines.take(2)
					heard[0], heard[1] = viewInline{Kind: "heard", Text: t.Heard}, one
					one = viewInline{Kind: "link", Href: h, Children: heard}
				} else {
					one = viewInline{Kind: "link", Href: h, Children: v.run(one)}
				}
			}
		}
		out[i] = one
	}
	return out
}

func (v *viewer) blocks(in []page.Block) []viewBlock {
	n := len(in)
	for _, b := range in {
		if p, ok := b.(page.Prose); ok && p.Doc != nil {
			n += len(p.Doc.Blocks)
		}
	}
	out := v.store.blocks.take(n)[:0]
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
			l.Items = v.store.items.take(len(b.Items))
			for i, item := range b.Items {
				l.Items[i] = v.item(mark(b.Ordered, 1+i), v.inlines(item), nil)
			}
			out = append(out, l)
		case page.Table:
			out = append(out, v.table(b))
		case page.Facts:
			f := viewBlock{Kind: "facts", Label: b.Name, Facts: v.store.facts.take(len(b.Items))}
			for i, x := range b.Items {
				f.Facts[i] = viewFact{v.plain(x.Name), v.inlines(x.Value), v.inlines(x.Detail)}
			}
			out = append(out, f)
		case page.Contents:
			if v.markdown {
				continue // places within a page have no name in Markdown
			}
			c := viewBlock{Kind: "contents", Label: b.Name, Links: v.store.texts.take(len(b.Items))}
			if b.Letters {
				c.Class = "letters"
			}
			for i := range b.Items {
				c.Links[i] = v.inlines(b.Items[i : i+1])
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
			out = append(out, viewBlock{Kind: "sketch", Sketch: v.sketch(b, b.Name), Text: v.plain(b.Name)})
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
	t := viewBlock{Kind: "table", ID: b.ID, Caption: v.plain(b.Caption), Head: v.store.texts.take(len(b.Head)), Rows: v.store.rows.take(len(b.Rows))}
	for j, h := range b.Head {
		t.Head[j] = v.plain(h)
	}
	for i, row := range b.Rows {
		cells := v.store.cells.take(len(row))
		for j, c := range row {
			cells[j].Text = v.inlines(c)
		}
		t.Rows[i] = v.row(t.Head, cells, b.RowHeads)
		if i < len(b.RowIDs) {
			t.Rows[i].ID = b.RowIDs[i]
		}
	}
	return t
}

// row makes a row of cells that have their text. A hole in a table is our own bug: words
// for "none" and "not known" are the page's to choose.
func (v *viewer) row(head [][]viewInline, cells []viewCell, rowHead bool) viewRow {
	if len(cells) != len(head) {
		v.fail("a row of %d cells stands under %d headings", len(cells), len(head))
	}
	for j := range cells {
		c := &cells[j]
		if len(c.Text) == 0 || len(c.Text) == 1 && c.Text[0].Kind == "text" && strings.TrimSpace(c.Text[0].Text) == "" {
			v.fail("a cell is empty in the row %s", markdownInline(cells[0].Text))
		}
		c.Head = j == 0 && rowHead
		if j < len(head) {
			c.Label = head[j]
		}
	}
	return viewRow{Cells: cells}
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
	if len(text) == 0 {
		return viewItem{Blocks: rest, Mark: mark}
	}
	blocks := v.store.blocks.take(1 + len(rest))
	blocks[0] = viewBlock{Kind: "plain", Text: text}
	copy(blocks[1:], rest)
	if len(rest) > 0 {
		text = nil
	}
	return viewItem{Text: text, Blocks: blocks, Mark: mark}
}
