package render

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

// TestMarkdownLinks: neighbours of the frame that lead to one page are one link, and an
// address within a link is written as people type it.
func TestMarkdownLinks(t *testing.T) {
	site := &page.Site{Title: "Guide", Nav: []page.NavEntry{
		{Path: "find.html", Text: "Find"}, {Path: "index.html#bands", Text: "Bands"}, {Path: "index.html#crops", Text: "Crops"}}}
	v, err := viewOf(new(viewStore), site, &page.Page{Path: "safety", Title: "Safety"}, true)
	if err != nil {
		t.Fatal(err)
	}
	var nav []string
	for _, n := range v.Nav {
		nav = append(nav, markdownInline(n.Link))
	}
	if got := strings.Join(nav, "|"); got != "[Find](find.md)|[Bands · Crops](index.md)" {
		t.Errorf("the frame links %s", got)
	}
	in := []viewInline{{Kind: "link", Href: "mailto:a@b.org", Children: plainText("write to a@b.org")}, {Kind: "text", Text: " or a@b.org"}}
	if got := markdownInline(in); got != `[write to a@b.org](mailto:a@b.org) or a\@b.org` {
		t.Errorf("addresses are written %s", got)
	}
}
