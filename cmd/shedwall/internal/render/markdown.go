package render

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// markdownInline writes inline text as Markdown that every renderer reads alike.
func markdownInline(in []viewInline) string {
	if len(in) == 1 && in[0].Kind == "text" {
		return escapeMarkdown(in[0].Text)
	}
	var b strings.Builder
	writeMarkdown(&b, in)
	return b.String()
}

func writeMarkdown(b *strings.Builder, in []viewInline) {
	for i := range in {
		t := &in[i]
		switch t.Kind {
		case "link":
			// Within a link no address is made a link of its own, so none is escaped.
			b.WriteString("[" + plainAddress.Replace(markdownInline(t.Children)) + "](" + markdownAddress(string(t.Href)) + ")")
		case "image":
			b.WriteString("![" + escapeMarkdown(t.Text) + "](" + markdownAddress(string(t.Href)) + ")")
		case "strong":
			b.WriteString(wrapMark("**", markdownInline(t.Children)))
		case "language":
			if t.Lang == "la" {
				b.WriteString(wrapMark("*", markdownInline(t.Children)))
			} else {
				writeMarkdown(b, t.Children)
			}
		case "emphasis":
			b.WriteString(wrapMark("*", markdownInline(t.Children)))
		case "code":
			b.WriteString(codeSpan(t.Text))
		case "break":
			b.WriteString(" ")
		default:
			b.WriteString(escapeMarkdown(t.Text))
		}
	}
}

// markdownRows is the rows of a table, a line each; templates know it as "rows".
func markdownRows(rows []viewRow) string {
	var b strings.Builder
	for i := range rows {
		b.WriteByte('|')
		for k := range rows[i].Cells {
			b.WriteByte(' ')
			writeMarkdown(&b, rows[i].Cells[k].Text)
			b.WriteString(" |")
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// wrapMark puts a mark around text. Blanks at the ends stay outside: a mark that
// touches one from within is not read as a mark.
func wrapMark(mark, s string) string {
	inner := strings.TrimSpace(s)
	if inner == "" {
		return s
	}
	at := strings.Index(s, inner)
	return s[:at] + mark + inner + mark + s[at+len(inner):]
}

// codeSpan quotes text as typed. Strokes are escaped because tables split there
// even inside code; outside tables the escape would show, so that such text is
// written as plain text.
func codeSpan(s string) string {
	if strings.ContainsAny(s, "`|") {
		return escapeMarkdown(s)
	}
	return "`" + s + "`"
}

// escapeMarkdown keeps every sign of a text as it is, in any renderer: marks,
// table strokes, HTML, entities, and the braces that some site builders run.
func escapeMarkdown(s string) string {
	if isPlainMarkdown(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s) + 8)
	for _, r := range s {
		switch r {
		case '\\', '`', '*', '_', '[', ']', '<', '>', '|', '~', '&', '{', '}', '$':
			b.WriteByte('\\')
			b.WriteRune(r)
		case '\n', '\r', '\t':
			b.WriteByte(' ')
		default:
			if unicode.IsControl(r) {
				continue
			}
			b.WriteRune(r)
		}
	}
	// Some renderers make links of bare addresses and read no escapes within them.
	return bareAddress.Replace(b.String())
}

// isPlainMarkdown says that nothing in a text needs escaping, as nothing does in most.
func isPlainMarkdown(s string) bool {
	for _, r := range s {
		switch r {
		case '\\', '`', '*', '_', '[', ']', '<', '>', '|', '~', '&', '{', '}', '$', '@', ':', '.', utf8.RuneError:
			return false
		}
		if unicode.IsControl(r) {
			return false
		}
	}
	return true
}

// plainAddress takes back what bareAddress escapes.
var plainAddress = strings.NewReplacer(`\://`, "://", `www\.`, "www.", `\@`, "@")

var bareAddress = strings.NewReplacer("://", `\://`, "www.", `www\.`, "@", `\@`)

// markdownLine is inline text at the beginning of a line, where some signs begin
// a heading, a list, a quotation or a rule.
func markdownLine(in []viewInline) string {
	s := strings.TrimLeft(markdownInline(in), " ")
	if s == "" {
		return s
	}
	switch s[0] {
	case '#', '+', '-', '=', ':':
		return `\` + s
	}
	digits := len(s) - len(strings.TrimLeft(s, "0123456789"))
	if digits > 0 && digits < len(s) && (s[digits] == '.' || s[digits] == ')') {
		return s[:digits] + `\` + s[digits:]
	}
	return s
}

// markdownAddress keeps an address from ending its brackets early.
func markdownAddress(s string) string {
	return inBrackets.Replace(s)
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
