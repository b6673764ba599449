// Package render turns pages and sheets into files: HTML, Markdown, SVG and PDF.
// It exists so that everything a reader can hold has one drawing behind it. It
// computes nothing about gardens and chooses no words: those are in the page.
package render

import (
	"bytes"
	"errors"
	"fmt"
	htmltemplate "html/template"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	texttemplate "text/template"
	"text/template/parse"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/page"
)

// Pages writes pages of text from templates. It may be used by several
// goroutines.
type Pages struct {
	html     *htmltemplate.Template
	markdown *texttemplate.Template
	style    []byte
	within   atomic.Int32 // templates begun by templates, of all pages at work

	htmlBlocks, markdownBlocks *shortcuts
}

// LoadPages reads the templates. Each layer is a templates folder with html/*.html,
// markdown/*.md and style.css; a file in an earlier layer replaces the same file
// in later ones, so that a publisher's own come first and the built-in ones last.
func LoadPages(layers ...fs.FS) (*Pages, error) {
	t := &Pages{}
	t.html = htmltemplate.New("").Option("missingkey=error").Funcs(functions(map[string]any{
		"text": inlineHTML, "each": eachHTML, "heads": headsHTML, "nav": navHTML, "rows": rowsHTML,
		"blocks": func(in []viewBlock) (htmltemplate.HTML, error) {
			s, err := t.htmlBlocks.text(in)
			return htmltemplate.HTML(s), err
		},
	}))
	html, err := layered(layers, "html", ".html")
	if err != nil {
		return nil, err
	}
	for _, f := range html {
		if _, err := t.html.New(f.name).Parse(f.text); err != nil {
			return nil, templateFault("html", err)
		}
	}
	t.markdown = texttemplate.New("").Option("missingkey=error")
	t.markdown.Funcs(functions(map[string]any{
		"md": markdownInline, "line": markdownLine, "hang": hang, "quoted": quotedLines,
		"each": markdownEach, "heads": markdownHeads, "nav": markdownNav, "rows": markdownRows,
		"include": func(name string, data any) (string, error) {
			var b strings.Builder
			err := t.begun(t.markdown.ExecuteTemplate)(&b, name, data)
			return b.String(), err
		},
		"blocks": func(in []viewBlock) (string, error) { return t.markdownBlocks.text(in) },
	}))
	markdown, err := layered(layers, "markdown", ".md")
	if err != nil {
		return nil, err
	}
	for _, f := range markdown {
		if _, err := t.markdown.New(f.name).Parse(f.text); err != nil {
			return nil, templateFault("markdown", err)
		}
	}
	t.htmlBlocks = newShortcuts(htmlShortcut, htmlStands, builtinHTML, t.htmlTree, t.begun(t.html.ExecuteTemplate))
	t.markdownBlocks = newShortcuts(markdownShortcut, markdownStands, builtinMarkdown, t.markdownTree, t.begun(t.markdown.ExecuteTemplate))
	for _, l := range layers {
		if t.style, err = fs.ReadFile(l, "style.css"); err == nil {
			break
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("templates/style.css: %w", err)
		}
	}
	if t.style == nil {
		return nil, errors.New("templates/style.css is missing")
	}
	t.style = bytes.ReplaceAll(t.style, []byte("\r\n"), []byte("\n"))
	return t, nil
}

// htmlTree is a template of HTML as it was read, nil where there is none. Once a page was
// written it is no longer that: the package html/template puts its escapes into it.
func (t *Pages) htmlTree(name string) *parse.Tree {
	if x := t.html.Lookup(name); x != nil {
		return x.Tree
	}
	return nil
}

// markdownTree is a template of Markdown, nil where there is none.
func (t *Pages) markdownTree(name string) *parse.Tree {
	if x := t.markdown.Lookup(name); x != nil {
		return x.Tree
	}
	return nil
}

var reNotDefined = regexp.MustCompile(`function "([^"]*)" not defined`)

// templateFault is an error of a template with its file and line, and the function that
// was perhaps meant.
func templateFault(folder string, err error) error {
	text := strings.TrimPrefix(err.Error(), "template: ")
	if m := reNotDefined.FindStringSubmatch(text); m != nil {
		text += " (templates may use " + strings.Join(allowed, ", ") + ")"
		if near := diag.Nearest(m[1], allowed); near != "" {
			text += fmt.Sprintf("; did you mean %q?", near)
		}
	}
	return fmt.Errorf("templates/%s/%s", folder, text)
}

type templateFile struct{ name, text string }

// layered is every file of a folder, by name, each from the first layer that has it.
func layered(layers []fs.FS, folder, ext string) ([]templateFile, error) {
	texts := map[string]string{}
	for _, l := range layers {
		entries, err := fs.ReadDir(l, folder)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("templates/%s: %w", folder, err)
		}
		for _, e := range entries {
			name := e.Name()
			if _, have := texts[name]; have || !strings.HasSuffix(name, ext) || strings.HasPrefix(name, ".") {
				continue
			}
			b, err := fs.ReadFile(l, folder+"/"+name)
			if err != nil {
				return nil, fmt.Errorf("templates/%s/%s: %w", folder, name, err)
			}
			texts[name] = strings.ReplaceAll(string(b), "\r\n", "\n")
		}
	}
	var out []templateFile
	for name, text := range texts {
		out = append(out, templateFile{name, text})
	}
	slices.SortFunc(out, func(a, b templateFile) int { return strings.Compare(a.name, b.name) })
	return out, nil
}

// Style is the style sheet, the file page.StylePath of a site.
func (t *Pages) Style() []byte { return t.style }

// HTML is a page as an HTML file. The error is a template that fails or a page
// that breaks a promise (an empty cell, an address of a forbidden kind): both are
// bugs, the first perhaps the publisher's.
func (t *Pages) HTML(site *page.Site, p *page.Page) (out []byte, err error) {
	err = t.WithHTML(site, p, func(html []byte) error { out = bytes.Clone(html); return nil })
	return out, err
}

// WithHTML hands the HTML file to use, which must be done with it when it returns: the
// next page is written in its place.
func (t *Pages) WithHTML(site *page.Site, p *page.Page, use func(html []byte) error) error {
	store := openStore()
	defer store.close()
	view, err := viewOf(store, site, p, false)
	if err != nil {
		return err
	}
	return withFile(func(b []byte) ([]byte, error) {
		if t.htmlBlocks.usable[framed] {
			return pageHTML(b, view, t.htmlBlocks)
		}
		to := appended(b)
		err := t.html.ExecuteTemplate(&to, "page", view)
		return to, err
	}, page.HTML(p.Path), use)
}

// Markdown is the same page as a Markdown file.
func (t *Pages) Markdown(site *page.Site, p *page.Page) (out []byte, err error) {
	err = t.WithMarkdown(site, p, func(text []byte) error { out = bytes.Clone(text); return nil })
	return out, err
}

// WithMarkdown hands the Markdown file to use, as WithHTML does.
func (t *Pages) WithMarkdown(site *page.Site, p *page.Page, use func(text []byte) error) error {
	store := openStore()
	defer store.close()
	view, err := viewOf(store, site, p, true)
	if err != nil {
		return err
	}
	return withFile(func(b []byte) ([]byte, error) {
		to := appended(b)
		var err error
		if t.markdownBlocks.usable[framed] {
			to, err = pageMarkdown(b, view, t.markdownBlocks)
		} else {
			err = t.markdown.ExecuteTemplate(&to, "page", view)
		}
		return append(bytes.TrimRight(to, "\n"), '\n'), err
	}, p.Path+".md", use)
}

// files are where pages are written to before their length is known: half a megabyte where
// all is on one page.
var files = sync.Pool{New: func() any { b := make([]byte, 0, 1<<19); return &b }}

// withFile hands what write writes to use. An error of write names the file.
func withFile(write func(b []byte) ([]byte, error), name string, use func(file []byte) error) error {
	b := files.Get().(*[]byte)
	defer files.Put(b)
	var err error
	if *b, err = write((*b)[:0]); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return use(*b)
}

// viewOf is what the templates see of a page, as long as the store is open.
func viewOf(store *viewStore, site *page.Site, p *page.Page, markdown bool) (*viewPage, error) {
	v := newViewer(store, p)
	v.folder, v.markdown = site.Language.Folder, markdown
	lang := p.Lang
	if lang == "" {
		lang = site.Lang
	}
	view := &viewPage{
		Lang: lang, Title: p.Title, Description: p.Description, Large: p.Large, Site: site,
		Style:  v.shared(page.StylePath),
		Home:   v.relative(page.HTML(page.IndexPath)),
		Twin:   v.relative(v.twin),
		Blocks: v.blocks(p.Blocks),
	}
	for _, n := range site.Nav {
		h := v.href(n.Path)
		entry := viewNav{Href: h, Text: n.Text, Current: n.Path == p.Nav, Link: v.plain(n.Text)}
		if markdown {
			if h == "" {
				continue // this page, or a place within it
			}
			// Places within a page have no names: entries in a row that lead to one page
			// are one link with the words of all.
			if n := len(view.Nav); n > 0 && view.Nav[n-1].Href == h {
				entry.Text = view.Nav[n-1].Text + " · " + entry.Text
				view.Nav = view.Nav[:n-1]
			}
			entry.Link = v.run(viewInline{Kind: "link", Href: h, Children: v.plain(entry.Text)})
		}
		view.Nav = append(view.Nav, entry)
	}
	for _, l := range site.Twins() {
		view.Languages = append(view.Languages, viewLanguage{l.Code, l.Name, v.shared(l.Folder + v.from), v.shared(l.Folder + v.twin)})
	}
	for _, f := range site.Foot {
		view.Foot = append(view.Foot, v.inlines(f))
	}
	return view, v.err
}
