package render

import (
	"fmt"
	htmltemplate "html/template"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Runs of text and rows of tables are nine tenths of what stands on pages. Templates call
// the two functions of this file for them: the package html/template would find out at run
// time, word by word, what is known here beforehand. Every text passes through appendHTML
// and every address through appendAddress, which write what that package writes; a test
// compares them.

// inlineHTML is text as HTML; templates know it as "text".
func inlineHTML(in []viewInline) htmltemplate.HTML {
	if len(in) == 1 && in[0].Kind == "text" && isPlainHTML(in[0].Text) {
		return htmltemplate.HTML(in[0].Text)
	}
	return htmltemplate.HTML(written(func(b []byte) []byte { return appendInlines(b, in) }))
}

// eachHTML is an element for each text, a line each; templates know it as "each".
func eachHTML(element string, texts [][]viewInline) (htmltemplate.HTML, error) {
	if strings.Trim(element, "abcdefghijklmnopqrstuvwxyz") != "" {
		return "", fmt.Errorf("each: %q is no element", element)
	}
	return htmltemplate.HTML(written(func(b []byte) []byte { return appendEach(b, element, texts) })), nil
}

func appendEach(b []byte, element string, texts [][]viewInline) []byte {
	for _, t := range texts {
		b = append(append(append(b, "\n<"...), element...), '>')
		b = append(append(append(appendInlines(b, t), "</"...), element...), '>')
	}
	return b
}

// navHTML is the places of the guide as items of a list; templates know it as "nav".
func navHTML(nav []viewNav) htmltemplate.HTML {
	return htmltemplate.HTML(written(func(b []byte) []byte { return appendNav(b, nav) }))
}

func appendNav(b []byte, nav []viewNav) []byte {
	for i := range nav {
		b = append(appendAddress(append(b, "\n<li><a href=\""...), string(nav[i].Href)), '"')
		if nav[i].Current {
			b = append(b, ` aria-current="page"`...)
		}
		b = append(appendHTML(append(b, '>'), nav[i].Text), "</a></li>"...)
	}
	return b
}

// headsHTML is the headings of a table's columns; templates know it as "heads".
func headsHTML(heads [][]viewInline) htmltemplate.HTML {
	return htmltemplate.HTML(written(func(b []byte) []byte { return appendHeads(b, heads) }))
}

func appendHeads(b []byte, heads [][]viewInline) []byte {
	for _, h := range heads {
		b = append(appendInlines(append(b, `<th scope="col">`...), h), "</th>"...)
	}
	return b
}

func appendInlines(b []byte, in []viewInline) []byte {
	around := func(before string, children []viewInline, after string) {
		b = append(appendInlines(append(b, before...), children), after...)
	}
	for i := range in {
		t := &in[i]
		switch t.Kind {
		case "link":
			b = appendAddress(append(b, `<a href="`...), string(t.Href))
			around(`">`, t.Children, "</a>")
		case "heard":
			b = append(appendHTML(append(b, `<span class="heard">`...), t.Text), "</span>"...)
		case "soft":
			around("<small>", t.Children, "</small>")
		case "strong":
			around("<strong>", t.Children, "</strong>")
		case "emphasis":
			around("<em>", t.Children, "</em>")
		case "language":
			if t.Lang == "la" {
				around(`<i lang="la">`, t.Children, "</i>")
				continue
			}
			b = appendHTML(append(b, `<span lang="`...), t.Lang)
			around(`">`, t.Children, "</span>")
		case "code":
			b = append(appendHTML(append(b, "<code>"...), t.Text), "</code>"...)
		case "image":
			b = appendAddress(append(b, `<img src="`...), string(t.Href))
			b = appendHTML(append(b, `" alt="`...), t.Text)
			if t.Width != 0 {
				b = strconv.AppendInt(append(b, `" width="`...), int64(t.Width), 10)
				b = strconv.AppendInt(append(b, `" height="`...), int64(t.Height), 10)
			}
			b = append(b, `">`...)
		case "break":
			b = append(b, "<br>"...)
		default:
			b = appendHTML(b, t.Text)
		}
	}
	return b
}

// rowsHTML is the rows of a table's body; templates know it as "rows". On narrow screens
// rows stack, and each cell begins with its column's heading.
func rowsHTML(rows []viewRow) htmltemplate.HTML {
	return htmltemplate.HTML(written(func(b []byte) []byte { return appendRows(b, rows) }))
}

func appendRows(b []byte, rows []viewRow) []byte {
	for i := range rows {
		b = append(appendID(append(b, "\n<tr"...), rows[i].ID), '>')
		for k := range rows[i].Cells {
			c := &rows[i].Cells[k]
			if c.Head {
				b = append(appendInlines(append(b, `<th scope="row">`...), c.Text), "</th>"...)
				continue
			}
			b = append(b, "<td>"...)
			if len(c.Label) > 0 {
				b = append(appendInlines(append(b, "<b>"...), c.Label), ":</b> "...)
			}
			b = append(appendInlines(b, c.Text), "</td>"...)
		}
		b = append(b, "</tr>"...)
	}
	return b
}

// htmlSigns is how the signs are written that a text or a quoted attribute cannot hold as
// they are.
var htmlSigns = [256]string{0: string(utf8.RuneError), '"': "&#34;", '&': "&amp;", '\'': "&#39;", '+': "&#43;", '<': "&lt;", '>': "&gt;"}

// appendHTML appends a text, safe between tags and in a quoted attribute.
func appendHTML(b []byte, s string) []byte {
	from := 0
	for i := 0; i < len(s); i++ {
		if sign := htmlSigns[s[i]]; sign != "" {
			b = append(append(b, s[from:i]...), sign...)
			from = i + 1
		}
	}
	return append(b, s[from:]...)
}

// isPlainHTML says that appendHTML changes nothing of a text.
func isPlainHTML(s string) bool {
	for i := 0; i < len(s); i++ {
		if htmlSigns[s[i]] != "" {
			return false
		}
	}
	return true
}

// appendAddress appends an address that viewer.href has let pass, safe in a quoted
// attribute: signs that have no place in an address become their codes in per cent.
func appendAddress(b []byte, s string) []byte {
	const digits = "0123456789abcdef"
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch {
		case c == '&':
			b = append(b, "&amp;"...)
		case c == '+':
			b = append(b, "&#43;"...)
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', strings.IndexByte("-._~!#$*,/:;=?@[]", c) >= 0,
			c == '%' && i+2 < len(s) && isHex(s[i+1]) && isHex(s[i+2]):
			b = append(b, c)
		default:
			b = append(b, '%', digits[c>>4], digits[c&15])
		}
	}
	return b
}

func isHex(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'f' || c >= 'A' && c <= 'F'
}
