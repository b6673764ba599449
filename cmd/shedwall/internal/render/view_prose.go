package render

import (
	"html/template"
	"net/url"
	"path"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/prose"
)

// proseBlocks shows a publisher's text, headings shifted below the page's own.
func (v *viewer) proseBlocks(in []prose.Block, p page.Prose) []viewBlock {
	out := v.store.blocks.take(len(in))[:0]
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
				cells := v.store.cells.take(len(row))
				for j, c := range row {
					cells[j].Text = v.proseInlines(c, p)
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
	out := v.store.inlines.take(len(in))[:0]
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
