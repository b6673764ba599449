package render

import (
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

// The functions that write Markdown append and look at each byte once. These say the same
// rule by rule, a text at a time.

var addressMarks = strings.NewReplacer("://", `\://`, "www.", `www\.`, "@", `\@`)

func plainlyEscaped(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case strings.ContainsRune("\\`*_[]<>|~&{}$", r):
			b.WriteString(`\` + string(r))
		case strings.ContainsRune("\n\r\t", r):
			b.WriteByte(' ')
		case !unicode.IsControl(r):
			b.WriteRune(r)
		}
	}
	return addressMarks.Replace(b.String())
}

func plainlyMarked(mark, s string) string {
	inner := strings.TrimSpace(s)
	if inner == "" {
		return s
	}
	at := strings.Index(s, inner)
	return s[:at] + mark + inner + mark + s[at+len(inner):]
}

func plainlyMarkdown(in []viewInline) (out string) {
	for _, t := range in {
		children := plainlyMarkdown(t.Children)
		address := strings.NewReplacer("(", "%28", ")", "%29", " ", "%20", "<", "%3C", ">", "%3E", "|", "%7C", `\`, "%5C").Replace(string(t.Href))
		switch t.Kind {
		case "link":
			out += "[" + strings.NewReplacer(`\://`, "://", `www\.`, "www.", `\@`, "@").Replace(children) + "](" + address + ")"
		case "image":
			out += "![" + plainlyEscaped(t.Text) + "](" + address + ")"
		case "strong":
			out += plainlyMarked("**", children)
		case "emphasis":
			out += plainlyMarked("*", children)
		case "language":
			if t.Lang == "la" {
				children = plainlyMarked("*", children)
			}
			out += children
		case "code":
			if strings.ContainsAny(t.Text, "`|") {
				out += plainlyEscaped(t.Text)
			} else {
				out += "`" + t.Text + "`"
			}
		case "break":
			out += " "
		default:
			out += plainlyEscaped(t.Text)
		}
	}
	return out
}

// TestMarkdownText: texts, rows, headings and lines come out as the plain rules write them,
// addresses in pieces and marks around blanks among them.
func TestMarkdownText(t *testing.T) {
	piece := rapid.SampledFrom([]string{"www", "www", "w", ".", "://", ":/", ":/", "/", "/", ":", "@", `\`, " ", "\u00a0", "\x01", "\u0085", "\xff", "\ufffd", "\n", "kale", "*", "a_b", "é"})
	rapid.Check(t, func(t *rapid.T) {
		text := hostileInlines(t, 2)
		for range rapid.IntRange(0, 2).Draw(t, "addresses") {
			run := viewInline{Kind: "text", Text: strings.Join(rapid.SliceOfN(piece, 0, 6).Draw(t, "pieces"), "")}
			text = append(text, run, run, viewInline{Kind: rapid.SampledFrom([]string{"strong", "link"}).Draw(t, "around"), Href: "a(b).md", Children: []viewInline{run}})
		}
		want := plainlyMarkdown(text)
		for _, c := range []struct{ name, got, want string }{
			{"md", markdownInline(text), want},
			{"each", markdownEach("- [ ]", [][]viewInline{text, text}), "- [ ] " + want + "\n- [ ] " + want + "\n"},
			{"rows", markdownRows([]viewRow{{Cells: []viewCell{{Text: text}, {Text: text}}}}), "| " + want + " | " + want + " |\n"},
			{"nav", markdownNav([]viewNav{{Link: text}}), "- " + want + "\n"},
			{"heads", markdownHeads([][]viewInline{text, text}), "| " + want + " | " + want + " |\n| --- | --- |\n"},
		} {
			if c.got != c.want {
				t.Errorf("%s writes %+v as %q, want %q", c.name, text, c.got, c.want)
			}
		}
	})
}
