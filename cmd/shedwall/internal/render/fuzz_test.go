package render

import (
	"bytes"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"golang.org/x/net/html"

	"shedwall/cmd/shedwall/internal/page"
)

// FuzzMarkdownText holds that any text of a table, written as Markdown, is read by another
// renderer as the same text, in a paragraph, a list and a cell, and opens no element there.
func FuzzMarkdownText(f *testing.F) {
	for _, s := range []string{"2*3*4", "1986. was", "# x", "a | b", "<script>x", "&lt;", "[x](javascript:y)", "`code` ~z~", "https://example.org/a_b", "a_b@example.org", "\\", "=== x", "- x", "1) x", "x  \ny", "{{.}}", "<!-- x", "![x](y)"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if !utf8.ValidString(s) || len(s) > 500 || strings.IndexFunc(s, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == utf8.RuneError }) >= 0 {
			return // tables let none of these through
		}
		s = strings.Join(strings.Fields(s), " ")
		if s == "" {
			return
		}
		in := plainText(s)
		for _, md := range []string{markdownLine(in), "- " + markdownLine(in), "|a|\n|---|\n|" + markdownInline(in) + "|"} {
			var out bytes.Buffer
			if err := goldmark.New(goldmark.WithExtensions(extension.GFM)).Convert([]byte(md), &out); err != nil {
				t.Fatal(err)
			}
			root, err := html.Parse(&out)
			if err != nil {
				t.Fatal(err)
			}
			var text strings.Builder
			for n := range root.Descendants() {
				switch {
				case n.Type == html.TextNode:
					text.WriteString(n.Data)
				case n.Type == html.ElementNode && !strings.Contains(" html head body p ul li table thead tbody tr th td a ", " "+n.Data+" "):
					t.Errorf("%q written as %q opens <%s>", s, md, n.Data)
				case n.Type == html.ElementNode && n.Data == "a" && !strings.Contains(s, "."):
					t.Errorf("%q written as %q is a link", s, md)
				}
			}
			got := strings.Join(strings.Fields(text.String()), " ")
			if strings.HasPrefix(md, "|") {
				got = strings.TrimPrefix(got, "a ")
			}
			if got != s {
				t.Errorf("%q written as %q is read as %q", s, md, got)
			}
		}
	})
}

// FuzzCalendar holds that whatever an event's texts hold, a calendar's lines are ours and
// short enough, and the text is read back as it was, without what no text may hold.
func FuzzCalendar(f *testing.F) {
	for _, s := range []string{"Sow kale", "a;b,c\\n\nEND:VEVENT", "x\r\nATTENDEE:y", strings.Repeat("ñ", 80), strings.Repeat(`\`, 80), "\u2028"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		out := string(ICS(&page.Calendar{Lang: "en", Name: s, Events: []page.Event{{UID: "u", From: 20000, To: 20001, Summary: s, About: s}}}))
		if !strings.HasSuffix(out, "\r\n") || !utf8.ValidString(out) {
			t.Fatalf("%q", out)
		}
		unfolded := strings.ReplaceAll(out, "\r\n ", "")
		begins, summary := 0, ""
		for line := range strings.SplitSeq(strings.TrimSuffix(unfolded, "\r\n"), "\r\n") {
			name, value, ok := strings.Cut(line, ":")
			if !ok || strings.ToUpper(name) != name || strings.ContainsAny(line, "\r\n") {
				t.Errorf("the line %q", line)
			}
			if name == "BEGIN" {
				begins++
			}
			if name == "SUMMARY" {
				summary = value
			}
		}
		if begins != 2 {
			t.Errorf("%d things begin in %q", begins, out)
		}
		for line := range strings.SplitSeq(out, "\r\n") {
			if len(line) > icsWidth {
				t.Errorf("a line of %d octets", len(line))
			}
		}
		back := strings.NewReplacer(`\\`, `\`, `\n`, "\n", `\;`, ";", `\,`, ",").Replace(summary)
		want := strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n", "\u0085", "\n", "\t", " ").Replace(strings.ToValidUTF8(s, "\uFFFD"))
		want = strings.Map(func(r rune) rune {
			if r < ' ' && r != '\n' || r == 0x7f {
				return -1
			}
			return r
		}, want)
		if back != want {
			t.Errorf("%q is read back as %q", want, back)
		}
	})
}
