package sitecheck

import (
	"fmt"
	"net/url"
	"path"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// place is where an address on a page leads, from the top of the site; an outside
// address stays as it is.
func place(page, href string) string {
	u, err := url.Parse(href)
	if err != nil || u.Scheme != "" {
		return href
	}
	at := page
	if u.Path != "" {
		at = path.Join(path.Dir(page), u.Path)
	}
	if u.Fragment != "" {
		at += "#" + u.Fragment
	}
	return at
}

// under is the first element of a name below another, nil where there is none.
func under(n *html.Node, name string) *html.Node {
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && d.Data == name {
			return d
		}
	}
	return nil
}

// linksOf is the links below an element, in order.
func linksOf(n *html.Node) (links []*html.Node) {
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && d.Data == "a" {
			links = append(links, d)
		}
	}
	return links
}

// frameOf is what a page shares with all others: the links of its navigation, as where
// they lead and what they say, and the addresses of its foot to which people write.
type frameOf struct {
	nav     []string // "place: words", in order
	leads   []string // the places alone, from the top of the language
	current []string // those marked as where the reader is
	contact []string
}

func readFrame(p *sitePage, lang string) frameOf {
	var f frameOf
	if header := under(p.root, "header"); header != nil {
		if nav := under(header, "nav"); nav != nil {
			for _, a := range linksOf(nav) {
				href, _ := attr(a, "href")
				to, inside := strings.CutPrefix(place(p.path, href), lang)
				if !inside {
					to = "of another language: " + to
				}
				f.leads = append(f.leads, to)
				f.nav = append(f.nav, to+": "+wordsOf(a))
				if mark, ok := attr(a, "aria-current"); ok {
					f.current = append(f.current, to+" "+mark)
				}
			}
		}
	}
	if foot := under(p.root, "footer"); foot != nil {
		for _, a := range linksOf(foot) {
			if href, _ := attr(a, "href"); strings.HasPrefix(href, "mailto:") {
				f.contact = append(f.contact, href)
			}
		}
	}
	return f
}

// whereOf is the link of the navigation that stands for a page: the one that leads to it,
// or the list that it is one of. Other pages have none.
func whereOf(page string, leads []string) []string {
	for _, to := range leads {
		section := strings.SplitN(page, "/", 2)[0]
		if to == page || section != page && (to == "index.html#"+section || to == section+"/index.html") {
			return []string{to + " page"}
		}
	}
	return nil
}

// strayFrames finds pages whose navigation or contact is not that of the start page in
// their language, languages whose navigation leads to other places than that of the
// first, marks of where the reader is on a wrong link, and wall sheets that do not lead to
// their band.
func strayFrames(s *site) (wrong []string) {
	first := readFrame(s.page("index.html"), "")
	whole := map[string]frameOf{}
	for _, p := range s.pages {
		lang := ""
		if strings.HasPrefix(p.path, "es/") {
			lang = "es/"
		}
		if band := path.Dir(p.path) + "/index.html"; isSheet(p.path) && !slices.ContainsFunc(references(p), func(r reference) bool { return place(p.path, r.target) == band }) {
			wrong = append(wrong, fmt.Sprintf("%s: no link to %s", p.path, band))
		}
		if _, ok := whole[lang]; !ok {
			whole[lang] = readFrame(s.page(lang+"index.html"), lang)
		}
		want, got := whole[lang], readFrame(p, lang)
		if !slices.Equal(got.nav, want.nav) || len(got.nav) == 0 {
			wrong = append(wrong, fmt.Sprintf("%s: navigation %q, on the start page %q", p.path, got.nav, want.nav))
		}
		if !slices.Equal(got.leads, first.leads) {
			wrong = append(wrong, fmt.Sprintf("%s: leads to %q, in the first language to %q", p.path, got.leads, first.leads))
		}
		if len(got.contact) != 1 || !slices.Equal(got.contact, first.contact) {
			wrong = append(wrong, fmt.Sprintf("%s: contact %q in the foot, on the start page %q", p.path, got.contact, first.contact))
		}
		if where := whereOf(strings.TrimPrefix(p.path, lang), got.leads); !slices.Equal(got.current, where) {
			wrong = append(wrong, fmt.Sprintf("%s: %q marked as where the reader is, want %q", p.path, got.current, where))
		}
	}
	return wrong
}

// TestStrayFramesAreSeen spoils one page of two languages in each way.
func TestStrayFramesAreSeen(t *testing.T) {
	const frame = `<html><header><nav><a href="UPfind.html">Find</a> <a href="UPindex.html#crops"MARK>Crops</a></nav></header><footer><a href="mailto:shed@valley.example">Ask</a></footer></html>`
	for _, c := range []struct{ old, new, want string }{
		{"", "", ""},
		{`../find.html">Find`, `../find.html">Look`, "navigation"},
		{`<a href="../find.html">Find</a> `, "", "leads to"},
		{`../find.html`, `../../find.html`, "leads to"},
		{"shed@", "barn@", "contact"},
		{"<footer>", "<div>", "contact"},
		{` aria-current="page"`, "", "where the reader is"},
		{`../find.html"`, `../find.html" aria-current="page"`, "where the reader is"},
	} {
		s := &site{}
		for _, name := range []string{"crops/kale.html", "es/crops/kale.html", "es/find.html", "es/index.html", "find.html", "index.html"} {
			up, mark, text := "", "", frame
			if strings.HasSuffix(name, "kale.html") {
				up, mark = "../", ` aria-current="page"`
			}
			if strings.HasSuffix(name, "find.html") {
				text = strings.Replace(text, `find.html"`, `find.html" aria-current="page"`, 1)
			}
			text = strings.ReplaceAll(strings.ReplaceAll(text, "UP", up), "MARK", mark)
			if name == "es/crops/kale.html" {
				text = strings.Replace(text, c.old, c.new, 1)
			}
			root, err := html.Parse(strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			s.pages = append(s.pages, &sitePage{path: name, root: root})
		}
		wrong := strings.Join(strayFrames(s), "\n")
		if c.want == "" && wrong != "" || !strings.Contains(wrong, c.want) || strings.Contains(wrong, "\nfind") {
			t.Errorf("%q for %q: said %q, want %q", c.new, c.old, wrong, c.want)
		}
	}
}
