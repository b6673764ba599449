package sitecheck

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// site is a built site in memory: every file, and every page parsed.
type site struct {
	files map[string][]byte // by path with slashes, dot-files left out
	pages []*sitePage       // sorted by path
}

// sitePage is one HTML page.
type sitePage struct {
	path string
	root *html.Node
	ids  map[string]int // how often each id stands on the page
}

// readSite reads a built site; a folder without a page is a failure.
func readSite(t *testing.T, dir string) *site {
	t.Helper()
	s := &site{files: map[string][]byte{}}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || name == "." {
			return err
		}
		if strings.HasPrefix(d.Name(), ".") {
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if d.IsDir() {
			return nil
		}
		s.files[name], err = os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, content := range s.files {
		if path.Ext(name) != ".html" || isInput(name) {
			continue
		}
		root, err := html.Parse(bytes.NewReader(content))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		p := &sitePage{path: name, root: root, ids: map[string]int{}}
		for n := range root.Descendants() {
			if id, ok := attr(n, "id"); ok {
				p.ids[id]++
			}
		}
		s.pages = append(s.pages, p)
	}
	if len(s.pages) == 0 {
		t.Fatalf("no page in %s", dir)
	}
	slices.SortFunc(s.pages, func(a, b *sitePage) int { return strings.Compare(a.path, b.path) })
	return s
}

// page is the page of that path, nil where there is none.
func (s *site) page(path string) *sitePage {
	i, ok := slices.BinarySearchFunc(s.pages, path, func(p *sitePage, path string) int { return strings.Compare(p.path, path) })
	if !ok {
		return nil
	}
	return s.pages[i]
}

// isInput says whether a file is one of the guide's own inputs, which are published as
// they are: their templates are no pages.
func isInput(name string) bool { return strings.HasPrefix(name, "inputs/") }

// isSheet says whether a page is a wall sheet: it has PDF twins instead of a
// Markdown twin.
func isSheet(name string) bool {
	return strings.HasPrefix(path.Base(name), "sheet")
}

// isLeaf says whether a page of text is also one page of paper, to be filled in: it has
// a Markdown twin and PDFs.
func isLeaf(name string) bool {
	base := path.Base(name)
	return strings.HasPrefix(base, "tonight") || strings.HasPrefix(base, "worksheet")
}

// attr is the value of an attribute of an element, and whether it has it.
func attr(n *html.Node, key string) (string, bool) {
	if n.Type != html.ElementNode {
		return "", false
	}
	for _, a := range n.Attr {
		name := a.Key
		if a.Namespace != "" {
			name = a.Namespace + ":" + a.Key
		}
		if name == key {
			return a.Val, true
		}
	}
	return "", false
}

// wordsOf is the words of a node, blanks squeezed.
func wordsOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// elements is every element of a name in a page, in order.
func (p *sitePage) elements(names ...string) []*html.Node {
	var found []*html.Node
	for n := range p.root.Descendants() {
		if n.Type == html.ElementNode && slices.Contains(names, n.Data) {
			found = append(found, n)
		}
	}
	return found
}
