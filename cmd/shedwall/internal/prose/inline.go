package prose

import (
	"bufio"
	"bytes"
	"fmt"
	"html"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	goldhtml "github.com/yuin/goldmark/renderer/html"

	"shedwall/cmd/shedwall/internal/diag"
)

func (r *reader) inlines(parent ast.Node) []Inline {
	var out []Inline
	plain := func(s string) {
		if s == "" {
			return
		}
		if n := len(out); n > 0 && out[n-1].Kind == Text {
			out[n-1].Text += s
			return
		}
		out = append(out, Inline{Text: s})
	}
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		switch n := n.(type) {
		case *ast.Text:
			plain(r.plainText(n))
			switch {
			case n.HardLineBreak():
				out = append(out, Inline{Kind: Break})
			case n.SoftLineBreak():
				plain(" ")
			}
		case *ast.String:
			plain(string(n.Value))
		case *ast.CodeSpan:
			out = append(out, Inline{Kind: CodeSpan, Text: r.codeText(n)})
		case *ast.Emphasis:
			r.checkEmphasis(n)
			kind := Emphasis
			if n.Level == 2 {
				kind = Strong
			}
			out = append(out, Inline{Kind: kind, Children: r.inlines(n)})
		case *ast.Link:
			out = append(out, r.link(n)...)
		case *ast.AutoLink:
			out = append(out, r.autoLink(n)...)
		case *ast.Image:
			out = append(out, r.image(n)...)
		case *ast.RawHTML:
			if n.Segments.Len() > 0 {
				s := n.Segments.At(0)
				r.rawHTML(r.atOffset(s.Start), string(s.Value(r.src)))
			}
		}
	}
	return out
}

// plainText is the text of a node with escapes and entities resolved. The
// parser's own writer resolves them while it escapes for HTML; undoing that
// escaping leaves the plain characters.
func (r *reader) plainText(n *ast.Text) string {
	raw := n.Segment.Value(r.src)
	if n.IsRaw() {
		return string(raw)
	}
	return resolve(raw)
}

func resolve(raw []byte) string {
	var b bytes.Buffer
	w := bufio.NewWriterSize(&b, 2*len(raw)) // most texts are short, and there are many
	goldhtml.DefaultWriter.Write(w, raw)
	w.Flush()
	return html.UnescapeString(b.String())
}

func (r *reader) codeText(n *ast.CodeSpan) string {
	var b strings.Builder
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		if t, ok := c.(*ast.Text); ok {
			b.WriteString(strings.ReplaceAll(string(t.Segment.Value(r.src)), "\n", " "))
		}
	}
	return b.String()
}

// checkEmphasis warns where a sign between figures, as in 2*3*4, was read as a
// mark: the signs vanish from the page and the reader sees 234.
func (r *reader) checkEmphasis(n *ast.Emphasis) {
	at := n.Pos()
	if at <= 0 || at+n.Level >= len(r.src) {
		return
	}
	before, _ := utf8.DecodeLastRune(r.src[:at])
	after, _ := utf8.DecodeRune(r.src[at+n.Level:])
	if unicode.IsDigit(before) && unicode.IsDigit(after) {
		r.fault(r.atOffset(at), diag.Warning, "prose-emphasis", fmt.Sprintf("the * after %q makes the following text slanted and is not shown", string(before)), "", `write \* or × where a sign is meant`)
	}
}
