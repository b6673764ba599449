package render

import (
	"bytes"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"golang.org/x/net/html"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/prose"
)

func testPages(t testing.TB) *Pages {
	t.Helper()
	p, err := LoadPages(os.DirFS("../../../../templates"))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func text(s string) []page.Inline { return []page.Inline{{Text: s}} }

var testSite = &page.Site{
	Title: "Invented guide", Lang: "en", SkipText: "Skip to the text", NavName: "Guide", FootName: "About", TwinText: "This page as Markdown",
	Nav:  []page.NavEntry{{Path: "find.html", Text: "Find your band"}, {Path: "index.html#crops", Text: "Crops"}},
	Foot: [][]page.Inline{{{Text: "Edition 3"}}},
}

// everyBlock is a page with each kind of block once.
func everyBlock(t testing.TB) *page.Page {
	var faults diag.List
	doc := prose.Parse("bands/low", "content/bands/low.md", []byte("# Low\n\n## Soil *here*\n\nA [kale link](../crops/kale.md), `a|b` and ![a bed](../images/bed.png)\n\n- one\n- two\n  - deep\n\n3. three\n\n   more\n\n> quoted\n\n    code\n\n---\n\nTable: Depths\n\n| a | b |\n|---|---|\n| c | *d* |\n"), &faults)
	if faults.Len() > 0 {
		t.Fatal(faults.Sorted())
	}
	twin := page.Table{ID: "odds-table", Caption: "Odds", Head: []string{"Date", "0 °C"}, RowHeads: true, Rows: [][][]page.Inline{{text("12 May"), text("1 year in 10")}}}
	return &page.Page{
		Path: "bands/low/index", Title: "Low - invented guide", Description: "Dates", Nav: "find.html",
		Blocks: []page.Block{
			page.Heading{Level: 1, Text: text("Low")},
			page.Para{Lead: true, Text: []page.Inline{{Text: "Kale, "}, {Text: "Brassica oleracea", Lang: "la"}, {Text: " "}, {Text: "stands", Strong: true}}},
			page.Contents{Name: "On this page", Items: []page.Inline{{Text: "Dates", Href: "#dates"}}},
			page.Facts{Name: "At a glance", Items: []page.Fact{{Name: "Last freeze", Value: text("12 May"), Detail: text("1 year in 10")}}},
			page.Heading{Level: 2, ID: "dates", Text: text("Dates")},
			page.List{Items: [][]page.Inline{{{Text: "kale", Href: "crops/kale.html"}}, text("1. no list")}},
			page.Note{Kind: "caution", Label: "Caution", Text: text("Covers cook plants.")},
			page.Chart{ID: "season", Name: "Odds of a freeze", Days: 366, YMax: 10, YLabel: "years in 10",
				Months: []page.Month{{Name: "Jan", From: 0, To: 31}}, YTicks: []page.Tick{{At: 0, Text: "0"}, {At: 10, Text: "10"}},
				Lines: []page.ChartLine{{Name: "0 °C", Dash: "solid", Y: []float64{10, 10, 9, 8, math.NaN(), 0}}},
				Marks: []page.SheetMark{{At: 100, Label: "careful"}, {At: 300, Label: "careful"}}, Twin: twin},
			page.Table{ID: "t", Caption: "Second", Head: []string{"Crop", "Sow"}, RowHeads: true, RowIDs: []string{"row-kale"},
				Rows: [][][]page.Inline{{text("kale | *=<b>_&amp;"), text("{{.}} =HYPERLINK(\"x\") javascript:")}}},
			page.Prose{Doc: doc, Shift: 1, Link: func(t prose.Target) string { return "crops/kale.html" }},
		},
	}
}

func TestHTML(t *testing.T) {
	out, err := testPages(t).HTML(testSite, everyBlock(t))
	if err != nil {
		t.Fatal(err)
	}
	s := string(out)
	for _, want := range []string{
		`<html lang="en">`,
		`<link rel="stylesheet" href="../../style.css">`,
		`<a href="../../find.html" aria-current="page">Find your band</a>`,
		`<a href="../../index.html#crops">Crops</a>`,
		`<i lang="la">Brassica oleracea</i>`,
		`<strong>stands</strong>`,
		`<h2 id="dates">Dates</h2>`,
		`<th scope="row">kale | *=&lt;b&gt;_&amp;amp;</th>`,
		`<td><b>Sow:</b> {{.}} =HYPERLINK(&#34;x&#34;) javascript:</td>`,
		`<tr id="row-kale">`,
		`<h3 id="text-bands-low-1">Soil <em>here</em></h3>`,
		`<a href="../../crops/kale.html">kale link</a>`,
		`<img src="../../images/bed.png" alt="a bed">`,
		`<caption>Depths</caption>`,
		`<svg role="img" aria-label="Odds of a freeze"`,
		`d="M0 0L1 0L3 200M5 1000"`, // 10 of 10 at the top; 9 lies on the straight run to 8
		`<ol start="3">`,
	} {
		if !strings.Contains(s, want) {
			t.Errorf("not on the page: %s", want)
		}
	}
	if t.Failed() {
		t.Log(s)
	}
	for _, bad := range []string{"ZgotmplZ", "<no value>", "<script", "style=", "http:"} {
		if strings.Contains(s, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
}

// Whatever stands in a table must come out of another Markdown renderer as the
// same words: the twin is read back with goldmark and compared with the HTML.
func TestMarkdownSaysTheSame(t *testing.T) {
	pages, p := testPages(t), everyBlock(t)
	md, err := pages.Markdown(testSite, p)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(md, []byte("# Low\n\n")) {
		t.Errorf("begins %.40q", md)
	}
	for _, want := range []string{
		"[kale](../../crops/kale.md)",
		`kale \| \*=\<b\>\_\&amp;`,
		"1\\. no list",
		"[Find your band](../../find.md)",
		"### Soil *here*",
		"3. three\n\n   more\n",
		"> quoted",
		"    code\n",
	} {
		if !bytes.Contains(md, []byte(want)) {
			t.Errorf("not in the twin: %s", want)
		}
	}
	var back bytes.Buffer
	if err := goldmark.New(goldmark.WithExtensions(extension.GFM)).Convert(md, &back); err != nil {
		t.Fatal(err)
	}
	read := readWords(t, back.Bytes())
	for _, b := range p.Blocks {
		table, ok := b.(page.Table)
		if !ok {
			continue
		}
		for _, row := range table.Rows {
			for _, cell := range row {
				if !strings.Contains(read, squeeze(cell[0].Text)) {
					t.Errorf("%q was read back otherwise", cell[0].Text)
				}
			}
		}
	}
	if t.Failed() {
		t.Logf("%s", md)
	}
}

// readWords is the text of an HTML file, blanks squeezed.
func readWords(t *testing.T, src []byte) string {
	root, err := html.Parse(bytes.NewReader(src))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.TextNode {
			b.WriteString(n.Data + " ")
		}
	}
	return squeeze(b.String())
}

func squeeze(s string) string { return strings.Join(strings.Fields(s), " ") }

// Odd signs, one text each: written as a paragraph and as a cell, read back by
// goldmark, they must be the same text.
func TestEscapesSurvive(t *testing.T) {
	for _, s := range []string{
		"2*3*4", "~5 days~", "1986. was cold", "7) no", "# no heading", "- no list", "+ no", "=== no", "a|b", `a\b`, "`code`",
		"[x](y)", "![x](y)", "<b>", "&lt;", "__init__", "*", "_", "a * b", "--- x", "> quoted", "{{.}}", "{% x %}", "https://example.org/a_b_c", "www.example.org/a_b", "a_b@example.org",
		"=HYPERLINK(\"x\")", ": x", "$x$", "-2.2", "\u200fRTL", "x\ny", "1.250,5",
	} {
		in := plainText(s)
		for _, md := range []string{markdownLine(in), "|a|\n|---|\n|" + markdownInline(in) + "|", "- " + markdownLine(in), "**" + markdownInline(in) + "**"} {
			var back bytes.Buffer
			if err := goldmark.New(goldmark.WithExtensions(extension.GFM)).Convert([]byte(md), &back); err != nil {
				t.Fatal(err)
			}
			if got := readWords(t, back.Bytes()); strings.TrimPrefix(got, "a ") != squeeze(s) && got != squeeze(s) {
				t.Errorf("%q written as %q is read as %q", s, md, got)
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	pages := testPages(t)
	for _, c := range []struct {
		name string
		b    page.Block
	}{
		{"empty cell", page.Table{Caption: "x", Head: []string{"a"}, Rows: [][][]page.Inline{{text(" ")}}}},
		{"missing cell", page.Table{Caption: "x", Head: []string{"a", "b"}, Rows: [][][]page.Inline{{text("x")}}}},
		{"script address", page.Para{Text: []page.Inline{{Text: "x", Href: "javascript:alert(1)"}}}},
		{"file address", page.Para{Text: []page.Inline{{Text: "x", Href: "file:///etc/passwd"}}}},
		{"address from the top of a host", page.Para{Text: []page.Inline{{Text: "x", Href: "/x"}}}},
	} {
		p := &page.Page{Path: "a", Blocks: []page.Block{c.b}}
		if _, err := pages.HTML(testSite, p); err == nil {
			t.Errorf("%s: HTML was written", c.name)
		}
		if _, err := pages.Markdown(testSite, p); err == nil {
			t.Errorf("%s: Markdown was written", c.name)
		}
	}
}

func TestSameBytesTwice(t *testing.T) {
	a, b := testPages(t), testPages(t)
	for _, f := range []func(*Pages) ([]byte, error){
		func(p *Pages) ([]byte, error) { return p.HTML(testSite, everyBlock(t)) },
		func(p *Pages) ([]byte, error) { return p.Markdown(testSite, everyBlock(t)) },
	} {
		x, err1 := f(a)
		y, err2 := f(b)
		if err1 != nil || err2 != nil || !bytes.Equal(x, y) {
			t.Errorf("two runs differ: %v %v", err1, err2)
		}
	}
}

// The functions that templates get, all of them: nothing that knows the
// environment, the network, the clock, chance or map order, nothing that cuts
// numbers off, nothing that grows without bound.
func TestFunctionsAllowed(t *testing.T) {
	want := []string{
		"add", "contains", "default", "dict", "empty", "first", "has", "hasKey", "hasPrefix", "hasSuffix",
		"join", "last", "list", "lower", "quote", "replace", "rest", "splitList", "sub", "ternary", "trim",
		"trimAll", "trimPrefix", "trimSuffix", "uniq", "upper",
	}
	var got []string
	for name := range functions(nil) {
		got = append(got, name)
	}
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("got %v\nwant %v", got, want)
	}
	for _, bad := range []string{"env", "expandenv", "getHostByName", "now", "ago", "date", "uuidv4", "randInt", "shuffle", "keys", "values", "genCA", "htpasswd", "max", "repeat", "until", "set", "fail"} {
		src := "{{define \"page\"}}{{" + bad + "}}{{end}}"
		_, err := LoadPages(fstest.MapFS{"html/x.html": {Data: []byte(src)}, "style.css": {Data: []byte("a{}")}})
		if err == nil || !strings.Contains(err.Error(), "not defined") {
			t.Errorf("a template may call %s: %v", bad, err)
		}
	}
}

func TestOwnTemplatesComeFirst(t *testing.T) {
	own := fstest.MapFS{"html/table.html": {Data: []byte(`{{define "table"}}<p>my table</p>{{end}}`)}}
	pages, err := LoadPages(own, os.DirFS("../../../../templates"))
	if err != nil {
		t.Fatal(err)
	}
	out, err := pages.HTML(testSite, everyBlock(t))
	if err != nil || !bytes.Contains(out, []byte("<p>my table</p>")) || bytes.Contains(out, []byte("<table")) {
		t.Errorf("the publisher's table was not used: %v", err)
	}
	_, err = LoadPages(fstest.MapFS{"html/table.html": {Data: []byte("a\n{{define}}")}}, os.DirFS("../../../../templates"))
	if err == nil || !strings.Contains(err.Error(), "templates/html/") || !strings.Contains(err.Error(), "table.html:2") {
		t.Errorf("a faulty template must be named by file and line: %v", err)
	}
}

func BenchmarkHTML(b *testing.B) {
	pages, p := testPages(b), everyBlock(b)
	rows := make([][][]page.Inline, 80)
	for i := range rows {
		rows[i] = [][]page.Inline{{{Text: "Kale", Href: "crops/kale.html"}}, text("12 May to 3 June"), text("12 May to 3 June"), text("12 May to 3 June"), text("12 May to 3 June")}
	}
	p.Blocks = append(p.Blocks, page.Table{Caption: "Calendar", Head: []string{"Crop", "Inside", "Outside", "Set out", "Harvest"}, RowHeads: true, Rows: rows})
	for b.Loop() {
		if _, err := pages.HTML(testSite, p); err != nil {
			b.Fatal(err)
		}
	}
}
