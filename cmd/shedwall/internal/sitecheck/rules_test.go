package sitecheck

import (
	"bytes"
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/net/html"
)

func sorted[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// mostBytes is the most a page may weigh: readers are on a phone at the end of a field.
const mostBytes = 100_000

// wholeGuide is the one page that may weigh more: the whole guide, to be printed.
const wholeGuide = "guide.html"

// heavyPages finds pages over mostBytes.
func heavyPages(s *site) (wrong []string) {
	for _, p := range s.pages {
		if n := len(s.files[p.path]); n > mostBytes && path.Base(p.path) != wholeGuide {
			wrong = append(wrong, fmt.Sprintf("%s: %d bytes, over %d", p.path, n, mostBytes))
		}
	}
	return wrong
}

// emptyCells finds table cells without a word: an empty cell says "nothing" to one
// reader and "not known" to another.
func emptyCells(s *site) (wrong []string) {
	for _, p := range s.pages {
		for _, cell := range p.elements("td", "th", "caption") {
			if !says(cell) {
				wrong = append(wrong, fmt.Sprintf("%s: empty <%s> in the row %q", p.path, cell.Data, wordsOf(cell.Parent)))
			}
		}
	}
	return wrong
}

// says tells whether a node holds words, or a picture or chart that has a name.
func says(n *html.Node) bool {
	if wordsOf(n) != "" {
		return true
	}
	for d := range n.Descendants() {
		alt, _ := attr(d, "alt")
		label, _ := attr(d, "aria-label")
		if alt+label != "" {
			return true
		}
	}
	return false
}

// repeatedIDs finds ids that stand twice on a page.
func repeatedIDs(s *site) (wrong []string) {
	for _, p := range s.pages {
		for _, id := range sorted(p.ids) {
			if p.ids[id] > 1 {
				wrong = append(wrong, fmt.Sprintf("%s: id %q stands %d times", p.path, id, p.ids[id]))
			}
		}
	}
	return wrong
}

// headFaults finds pages without a language, with no title or another page's, or
// without exactly one main heading.
func headFaults(s *site) (wrong []string) {
	owner := map[string]string{}
	for _, p := range s.pages {
		if lang, _ := attr(p.elements("html")[0], "lang"); lang == "" {
			wrong = append(wrong, p.path+": no language")
		}
		titles := slices.DeleteFunc(p.elements("title"), func(n *html.Node) bool { return n.Parent.Data != "head" })
		switch {
		case len(titles) != 1 || wordsOf(titles[0]) == "":
			wrong = append(wrong, p.path+": no title")
		case owner[wordsOf(titles[0])] != "":
			wrong = append(wrong, fmt.Sprintf("%s: the title %q is that of %s", p.path, wordsOf(titles[0]), owner[wordsOf(titles[0])]))
		default:
			owner[wordsOf(titles[0])] = p.path
		}
		if n := len(p.elements("h1")); n != 1 {
			wrong = append(wrong, fmt.Sprintf("%s: %d main headings", p.path, n))
		}
	}
	return wrong
}

// leftovers are what template and formatting mistakes leave in a page.
var leftovers = regexp.MustCompile(`ZgotmplZ|<no value>|&lt;no value&gt;|%!\w*\(|\bNaN\b|[+-]Inf\b|\{\{|<nil>|&lt;nil&gt;`)

// leftoverHints stand in every such mark: they are found much faster.
var leftoverHints = []string{"ZgotmplZ", "no value", "%!", "NaN", "Inf", "{{", "nil"}

// leftoverMarks finds such marks in every text file of the site.
func leftoverMarks(s *site) (wrong []string) {
	for _, name := range sorted(s.files) {
		if isInput(name) || !slices.Contains([]string{".html", ".md", ".css", ".csv", ".ics", ".svg"}, path.Ext(name)) {
			continue
		}
		if !slices.ContainsFunc(leftoverHints, func(h string) bool { return bytes.Contains(s.files[name], []byte(h)) }) {
			continue
		}
		for _, m := range leftovers.FindAll(s.files[name], 3) {
			wrong = append(wrong, fmt.Sprintf("%s: holds %q", name, m))
		}
	}
	return wrong
}

var plainName = regexp.MustCompile(`^[a-z0-9][a-z0-9._-]*$`)

// oddFiles finds names that some host or disk would not keep, and text that is not
// UTF-8 with plain line ends (calendars end lines with CR LF, as their standard asks).
func oddFiles(s *site) (wrong []string) {
	for _, name := range sorted(s.files) {
		for part := range strings.SplitSeq(name, "/") {
			if !plainName.MatchString(part) {
				wrong = append(wrong, fmt.Sprintf("%s: %q is not a plain lower-case name", name, part))
			}
		}
		content := s.files[name]
		switch path.Ext(name) {
		case ".pdf", ".png", ".jpg", ".jpeg", ".webp":
			continue
		case ".ics", ".csv":
		default:
			if bytes.ContainsRune(content, '\r') {
				wrong = append(wrong, name+": holds a carriage return")
			}
		}
		if !utf8.Valid(content) {
			wrong = append(wrong, name+": not UTF-8")
		}
		if len(content) == 0 {
			wrong = append(wrong, name+": empty")
		}
	}
	return wrong
}

// missingTwins finds pages of text without the same page as Markdown beside them,
// and wall sheets without their two PDFs.
func missingTwins(s *site) (wrong []string) {
	for _, p := range s.pages {
		stem := strings.TrimSuffix(p.path, ".html")
		if isSheet(p.path) {
			for _, paper := range []string{"-letter.pdf", "-a4.pdf"} {
				if _, ok := s.files[stem+paper]; !ok {
					wrong = append(wrong, fmt.Sprintf("%s: no %s beside it", p.path, path.Base(stem)+paper))
				}
			}
			continue
		}
		twin, ok := s.files[stem+".md"]
		if !ok {
			wrong = append(wrong, fmt.Sprintf("%s: no %s beside it", p.path, path.Base(stem)+".md"))
			continue
		}
		first, _, _ := strings.Cut(string(twin), "\n")
		headings := p.elements("h1")
		if len(headings) == 0 {
			continue
		}
		if want := "# " + wordsOf(headings[0]); plainWords(first) != plainWords(want) {
			wrong = append(wrong, fmt.Sprintf("%s.md: starts with %q, the page with %q", stem, first, want))
		}
	}
	return wrong
}

var notWord = regexp.MustCompile(`[^\pL\pN]+`)

// plainWords is a text without marks, so that Markdown and HTML can be compared.
func plainWords(s string) string { return strings.TrimSpace(notWord.ReplaceAllString(s, " ")) }
