package render

import (
	"bytes"
	htmltemplate "html/template"
	"io"
	"os"
	"strings"
	"testing"
	"testing/fstest"
	"text/template/parse"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/page"
)

// TestShortcutsAreTaken: the built-in templates are those that the shortcuts were written
// for. Who changes one changes its shortcut too, and then the sum.
func TestShortcutsAreTaken(t *testing.T) {
	pages := testPages(t)
	for _, c := range []struct {
		stands  map[string][]string
		builtin map[string]string
		tree    func(string) *parse.Tree
		taken   *shortcuts
	}{{htmlStands, builtinHTML, pages.htmlTree, pages.htmlBlocks}, {markdownStands, builtinMarkdown, pages.markdownTree, pages.markdownBlocks}} {
		used := map[string]bool{"blocks": true}
		for kind, names := range c.stands {
			if !c.taken.usable[kind] {
				t.Errorf("no shortcut is taken for %q", kind)
			}
			for _, name := range names {
				used[name] = true
			}
		}
		for name := range used {
			if got := templateSum(c.tree(name)); got != c.builtin[name] {
				t.Errorf("the template %q is another one: %q", name, got)
			}
		}
		if len(used) != len(c.builtin) {
			t.Errorf("%d sums for %d templates", len(c.builtin), len(used))
		}
	}
}

// hostileBlock is a block of a kind that has shortcuts.
func hostileBlock(t *rapid.T, kind string) viewBlock {
	texts := func(name string) (out [][]viewInline) {
		for range rapid.IntRange(0, 2).Draw(t, name) {
			out = append(out, hostileInlines(t, 1))
		}
		return out
	}
	x := viewBlock{
		Kind: kind, ID: hostileText(t, "id"), Level: rapid.IntRange(1, 7).Draw(t, "level"), Lead: rapid.Bool().Draw(t, "lead"),
		Class: hostileText(t, "class"), Label: hostileText(t, "label"), Text: hostileInlines(t, 1), Ordered: rapid.Bool().Draw(t, "ordered"),
		Start: rapid.IntRange(0, 2).Draw(t, "start"), Caption: hostileInlines(t, 0), Head: texts("head"), Links: texts("links"),
	}
	for range rapid.IntRange(0, 2).Draw(t, "items") {
		item := viewItem{Mark: "-", Text: hostileInlines(t, 0)}
		item.Blocks = []viewBlock{{Kind: "plain", Text: item.Text}}
		if rapid.Bool().Draw(t, "more") {
			item.Blocks = append(item.Blocks, viewBlock{Kind: "quote", Blocks: []viewBlock{{Kind: "para", Text: item.Text}}})
			item.Text = nil
		}
		x.Items = append(x.Items, item)
	}
	for range rapid.IntRange(0, 2).Draw(t, "rows") {
		x.Rows = append(x.Rows, viewRow{hostileText(t, "row"), []viewCell{{true, nil, hostileInlines(t, 0)}, {false, hostileInlines(t, 0), hostileInlines(t, 0)}}})
	}
	for range rapid.IntRange(0, 2).Draw(t, "facts") {
		x.Facts = append(x.Facts, viewFact{hostileInlines(t, 0), hostileInlines(t, 0), hostileInlines(t, 0)})
	}
	x.Chart, x.Sketch, x.Twin = hostileChart(t), &viewSketch{Name: hostileText(t, "sketch")}, &viewBlock{Kind: "table", Caption: x.Caption, Head: x.Head, Rows: x.Rows}
	for range rapid.IntRange(0, 2).Draw(t, "paths") {
		x.Sketch.Paths = append(x.Sketch.Paths, sketchPath{hostileText(t, "width"), rapid.Bool().Draw(t, "dash"), hostileText(t, "path")})
	}
	for range rapid.IntRange(0, 2).Draw(t, "groups") {
		x.Groups = append(x.Groups, viewTicks{hostileInlines(t, 0), texts("ticks")})
	}
	return x
}

func hostileChart(t *rapid.T) *viewChart {
	some := func() string { return hostileText(t, "chart") }
	x := &viewChart{some(), some(), some(), some(), some(), some(), some(), some(), some(), nil, nil, nil, nil}
	for range rapid.IntRange(0, 2).Draw(t, "marks") {
		x.Rules = append(x.Rules, viewRule{some(), some(), some()})
		x.Months = append(x.Months, viewMonth{some(), some(), some()})
		x.Lines = append(x.Lines, viewLine{some(), some(), some()})
		x.Marks = append(x.Marks, viewMark{some(), some(), some(), some(), some()})
	}
	return x
}

// hostilePage is a page with all that stands around its blocks.
func hostilePage(t *rapid.T) *viewPage {
	some := func() string { return hostileText(t, "frame") }
	address := func() htmltemplate.URL { return htmltemplate.URL(some()) }
	x := &viewPage{
		Lang: some(), Title: some(), Description: some(), Large: rapid.Bool().Draw(t, "large"), Style: address(), Home: address(), Twin: address(),
		Site: &page.Site{Title: some(), SkipText: some(), NavName: some(), LanguageNav: some(), TwinText: some()},
	}
	for range rapid.IntRange(0, 2).Draw(t, "nav") {
		x.Nav = append(x.Nav, viewNav{address(), some(), rapid.Bool().Draw(t, "current"), hostileInlines(t, 0)})
		x.Foot = append(x.Foot, hostileInlines(t, 0))
	}
	for range rapid.IntRange(0, 2).Draw(t, "languages") {
		x.Languages = append(x.Languages, viewLanguage{some(), some(), address(), address()})
	}
	for range rapid.IntRange(0, 2).Draw(t, "blocks") {
		x.Blocks = append(x.Blocks, hostileBlock(t, rapid.SampledFrom([]string{"para", "table", "rule"}).Draw(t, "kind")))
	}
	return x
}

// TestFramesWriteTheSame: what is written around the blocks of a page is what the templates
// write, whatever stands there.
func TestFramesWriteTheSame(t *testing.T) {
	pages := testPages(t)
	for _, format := range []struct {
		name  string
		frame func(b []byte, x *viewPage, blocks *shortcuts) ([]byte, error)
		taken *shortcuts
		plain func(to io.Writer, name string, data any) error
	}{{"HTML", pageHTML, pages.htmlBlocks, pages.html.ExecuteTemplate}, {"Markdown", pageMarkdown, pages.markdownBlocks, pages.markdown.ExecuteTemplate}} {
		rapid.Check(t, func(t *rapid.T) {
			x := hostilePage(t)
			got, err := format.frame(nil, x, format.taken)
			if err != nil {
				t.Fatal(err)
			}
			var want bytes.Buffer
			if err := format.plain(&want, "page", x); err != nil || want.String() != string(got) {
				t.Errorf("the page is written in %s as\n%s\nwant\n%s\n%v", format.name, got, want.String(), err)
			}
		})
	}
}

// TestShortcutsWriteTheSame: a shortcut writes what the templates write, whatever stands in
// the block.
func TestShortcutsWriteTheSame(t *testing.T) {
	pages := testPages(t)
	for _, format := range []struct {
		taken  *shortcuts
		stands map[string][]string
		html   bool
	}{{pages.htmlBlocks, htmlStands, true}, {pages.markdownBlocks, markdownStands, false}} {
		templates := &shortcuts{execute: format.taken.execute}
		for kind := range format.stands {
			if kind == framed {
				continue // TestFramesWriteTheSame
			}
			count := 0
			rapid.Check(t, func(t *rapid.T) {
				blocks := []viewBlock{hostileBlock(t, kind), hostileBlock(t, kind)}
				for i := range blocks {
					if kind == "list" && format.html && rapid.Bool().Draw(t, "tight") {
						for k := range blocks[i].Items {
							blocks[i].Items[k].Blocks = nil
						}
					}
					if format.taken.of(&blocks[i]) != nil {
						count++
					}
				}
				got, err := format.taken.text(blocks)
				if err != nil {
					t.Fatal(err)
				}
				want, err := templates.text(blocks)
				if err != nil || got != want {
					t.Errorf("a %s is written %q, want %q: %v", kind, got, want, err)
				}
			})
			if count == 0 {
				t.Errorf("no %s took a shortcut", kind)
			}
		}
	}
}

// TestOwnTemplatesAreNotShortCut: a publisher's template counts for every block that it has
// a part in; the page is the one that is written without any shortcut.
func TestOwnTemplatesAreNotShortCut(t *testing.T) {
	for _, c := range []struct{ file, text, mark string }{
		{"html/zz.html", `{{define "heading"}}<h2>mine</h2>{{end}}`, "<h2>mine</h2>"},
		{"html/zz.html", `{{define "id"}} id="mine"{{end}}`, `<h1 id="mine">`},
		{"html/zz.html", `{{define "table"}}<p>mine</p>{{end}}`, "<p>mine</p>"},
		{"html/zz.html", `{{define "blocks"}}{{range .}}<p>mine {{.Kind}}</p>{{end}}{{end}}`, "<p>mine para</p>"},
		{"html/zz.html", `{{define "page"}}mine {{template "blocks" .Blocks}}{{end}}`, "mine <h1>"},
		{"markdown/zz.md", `{{define "list"}}mine{{end}}`, "mine"},
		{"markdown/zz.md", `{{define "blocks"}}{{range .}}mine {{.Kind}} {{end}}{{end}}`, "mine para"},
		{"markdown/zz.md", `{{define "page"}}mine {{template "blocks" .Blocks}}{{end}}`, "mine # Low"},
	} {
		var out [2]string
		for i := range out {
			pages, err := LoadPages(fstest.MapFS{c.file: {Data: []byte(c.text)}}, os.DirFS("../../../../templates"))
			if err != nil {
				t.Fatal(err)
			}
			write := pages.HTML
			if strings.HasPrefix(c.file, "markdown/") {
				write = pages.Markdown
			}
			if i == 1 {
				pages.htmlBlocks.usable, pages.markdownBlocks.usable = nil, nil
			}
			b, err := write(testSite, everyBlock(t))
			if err != nil {
				t.Fatal(err)
			}
			out[i] = string(b)
		}
		if !strings.Contains(out[0], c.mark) || out[0] != out[1] {
			t.Errorf("%s: not taken everywhere in\n%s\nwant\n%s", c.text, out[0], out[1])
		}
	}
}
