package render

import (
	"bytes"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// markdownInline writes inline text as Markdown that every renderer reads alike; templates
// know it as "md".
func markdownInline(in []viewInline) string {
	if len(in) == 1 && in[0].Kind == "text" && isPlainMarkdown(in[0].Text) {
		return in[0].Text
	}
	return written(func(b []byte) []byte { return appendMarkdown(b, in) })
}

func appendMarkdown(b []byte, in []viewInline) []byte {
	for i := range in {
		t := &in[i]
		switch t.Kind {
		case "link":
			b = append(b, '[')
			from := len(b)
			b = appendMarkdown(b, t.Children)
			if bytes.IndexByte(b[from:], '\\') >= 0 {
				// Within a link no address is made a link of its own, so none is escaped.
				b = append(b[:from], plainAddress.Replace(string(b[from:]))...)
			}
			b = append(appendMarkdownAddress(append(b, "]("...), string(t.Href)), ')')
		case "image":
			b = appendMarkdownText(append(b, "!["...), t.Text)
			b = append(appendMarkdownAddress(append(b, "]("...), string(t.Href)), ')')
		case "strong":
			b = appendMarked(b, "**", t.Children)
		case "language":
			if t.Lang == "la" {
				b = appendMarked(b, "*", t.Children)
			} else {
				b = appendMarkdown(b, t.Children)
			}
		case "emphasis":
			b = appendMarked(b, "*", t.Children)
		case "code":
			b = appendCode(b, t.Text)
		case "break":
			b = append(b, ' ')
		default:
			b = appendMarkdownText(b, t.Text)
		}
	}
	return b
}

// markdownRows is the rows of a table, a line each; templates know it as "rows".
func markdownRows(rows []viewRow) string {
	return written(func(b []byte) []byte { return appendMarkdownRows(b, rows) })
}

func appendMarkdownRows(b []byte, rows []viewRow) []byte {
	for i := range rows {
		b = append(b, '|')
		for k := range rows[i].Cells {
			b = append(appendMarkdown(append(b, ' '), rows[i].Cells[k].Text), " |"...)
		}
		b = append(b, '\n')
	}
	return b
}

// markdownHeads is the headings of a table's columns and the line under them; templates
// know it as "heads".
func markdownHeads(heads [][]viewInline) string {
	return written(func(b []byte) []byte { return appendMarkdownHeads(b, heads) })
}

func appendMarkdownHeads(b []byte, heads [][]viewInline) []byte {
	b = append(b, '|')
	for _, h := range heads {
		b = append(appendMarkdown(append(b, ' '), h), " |"...)
	}
	b = append(b, "\n|"...)
	for range heads {
		b = append(b, " --- |"...)
	}
	return append(b, '\n')
}

// markdownNav is the places of the guide, a line each; templates know it as "nav".
func markdownNav(nav []viewNav) string {
	return written(func(b []byte) []byte { return appendMarkdownNav(b, nav) })
}

func appendMarkdownNav(b []byte, nav []viewNav) []byte {
	for i := range nav {
		b = append(appendMarkdown(append(b, "- "...), nav[i].Link), '\n')
	}
	return b
}

// markdownEach is a line for each text, behind a mark; templates know it as "each".
func markdownEach(mark string, texts [][]viewInline) string {
	return written(func(b []byte) []byte { return appendMarkdownEach(b, mark, texts) })
}

func appendMarkdownEach(b []byte, mark string, texts [][]viewInline) []byte {
	for _, t := range texts {
		b = append(appendMarkdown(append(append(b, mark...), ' '), t), '\n')
	}
	return b
}

// appendMarked puts a mark around text. Blanks at the ends stay outside: a mark that
// touches one from within is not read as a mark.
func appendMarked(b []byte, mark string, in []viewInline) []byte {
	from := len(b)
	b = appendMarkdown(append(b, mark...), in)
	text := b[from+len(mark):]
	inner := string(bytes.TrimSpace(text))
	if len(inner) == len(text) && inner != "" {
		return append(b, mark...)
	}
	before, after, _ := strings.Cut(string(text), inner)
	if inner == "" {
		return append(b[:from], after...)
	}
	return append(b[:from], before+mark+inner+mark+after...)
}

// appendCode quotes text as typed. Strokes are escaped because tables split there
// even inside code; outside tables the escape would show, so that such text is
// written as plain text.
func appendCode(b []byte, s string) []byte {
	if strings.ContainsAny(s, "`|") {
		return appendMarkdownText(b, s)
	}
	return append(append(append(b, '`'), s...), '`')
}

// markdownSigns are the bytes that appendMarkdownText looks at: marks, table strokes, HTML,
// entities, the braces that some site builders run, the signs of addresses, control
// characters, and every letter beyond ASCII, which may be one.
var markdownSigns = func() (signs [256]bool) {
	for c := range signs {
		signs[c] = c < ' ' || c >= 0x7f || strings.IndexByte(markdownMarks+"@./", byte(c)) >= 0
	}
	return signs
}()

const markdownMarks = "\\`*_[]<>|~&{}$"

// appendMarkdownText keeps every sign of a text as it is, in any renderer. Some renderers make
// links of bare addresses and read no escapes within them, so that what addresses begin
// with is escaped too: "://", "www." and "@".
func appendMarkdownText(b []byte, s string) []byte {
	from, done := len(b), 0 // s[:done] is written
	for i := 0; i < len(s); {
		if !markdownSigns[s[i]] {
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(s[i:])
		valid := r != utf8.RuneError || size > 1
		if r >= utf8.RuneSelf && valid && !unicode.IsControl(r) {
			i += size
			continue
		}
		b = append(b, s[done:i]...)
		switch {
		case r == '@':
			b = append(b, `\@`...)
		case r == '.' && bytes.HasSuffix(b[from:], []byte("www")):
			b = append(b, `\.`...)
		case r == '/' && bytes.HasSuffix(b[from:], []byte(":/")):
			b = append(b[:len(b)-len(":/")], `\://`...)
		case r == '.', r == '/':
			b = append(b, s[i])
		case strings.IndexByte(markdownMarks, s[i]) >= 0:
			b = append(b, '\\', s[i])
		case r == '\n', r == '\r', r == '\t':
			b = append(b, ' ')
		case !valid:
			b = utf8.AppendRune(b, utf8.RuneError)
		}
		i += size
		done = i
	}
	return append(b, s[done:]...)
}

// isPlainMarkdown says that nothing in a text needs escaping, as nothing does in most: a
// text with a letter beyond ASCII is looked at more closely.
func isPlainMarkdown(s string) bool {
	for i := 0; i < len(s); i++ {
		if markdownSigns[s[i]] {
			return false
		}
	}
	return true
}

// plainAddress takes back what appendMarkdownText does to addresses.
var plainAddress = strings.NewReplacer(`\://`, "://", `www\.`, "www.", `\@`, "@")

// markdownLine is inline text at the beginning of a line, where some signs begin
// a heading, a list, a quotation or a rule; templates know it as "line".
func markdownLine(in []viewInline) string {
	return written(func(b []byte) []byte { return appendMarkdownLine(b, in) })
}

func appendMarkdownLine(b []byte, in []viewInline) []byte {
	from := len(b)
	b = appendMarkdown(b, in)
	for len(b) > from && b[from] == ' ' {
		b = slices.Delete(b, from, from+1)
	}
	text := b[from:]
	if len(text) == 0 {
		return b
	}
	switch text[0] {
	case '#', '+', '-', '=', ':':
		return slices.Insert(b, from, '\\')
	}
	digits := 0
	for digits < len(text) && text[digits] >= '0' && text[digits] <= '9' {
		digits++
	}
	if digits > 0 && digits < len(text) && (text[digits] == '.' || text[digits] == ')') {
		return slices.Insert(b, from+digits, '\\')
	}
	return b
}

// appendMarkdownAddress keeps an address from ending its brackets early.
func appendMarkdownAddress(b []byte, s string) []byte {
	if !strings.ContainsAny(s, `() <>|\`) {
		return append(b, s...)
	}
	return append(b, inBrackets.Replace(s)...)
}

var inBrackets = strings.NewReplacer("(", "%28", ")", "%29", " ", "%20", "<", "%3C", ">", "%3E", "|", "%7C", `\`, "%5C")

// hang moves every line but the first n places to the right and drops blank lines
// at the end.
func hang(n int, s string) string {
	lines := strings.Split(strings.TrimRight(s, "\n"), "\n")
	for i := 1; i < len(lines); i++ {
		if lines[i] != "" {
			lines[i] = strings.Repeat(" ", n) + lines[i]
		}
	}
	return strings.Join(lines, "\n")
}

// quotedLines marks every line but the first as quoted.
func quotedLines(s string) string {
	lines := strings.Split(strings.TrimRight(s, "\n"), "\n")
	for i := 1; i < len(lines); i++ {
		lines[i] = strings.TrimRight("> "+lines[i], " ")
	}
	return strings.Join(lines, "\n")
}
