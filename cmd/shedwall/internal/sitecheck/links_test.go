package sitecheck

import (
	"fmt"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/net/html"
)

// reference is one address in a page: where a link goes, or what a browser loads.
type reference struct {
	page   string
	tag    string
	target string
	loads  bool // the browser asks for it by itself; a link waits for a reader
}

// references lists every address of a page, in order.
func references(p *sitePage) []reference {
	var found []reference
	for n := range p.root.Descendants() {
		add := func(key string, loads bool) {
			if target, ok := attr(n, key); ok {
				found = append(found, reference{p.path, n.Data, target, loads})
			}
		}
		switch {
		case n.Type != html.ElementNode:
			continue
		case n.Data == "a" || n.Data == "area":
			add("href", false)
			add("xlink:href", false)
			add("ping", true)
		case n.Data == "link":
			rel, _ := attr(n, "rel")
			waits := slices.Contains([]string{"canonical", "alternate", "license", "author", "help", "next", "prev"}, rel)
			add("href", !waits)
		default:
			for _, key := range []string{"href", "xlink:href", "src", "poster", "data", "action", "formaction", "background"} {
				add(key, true)
			}
		}
		if set, ok := attr(n, "srcset"); ok {
			for one := range strings.SplitSeq(set, ",") {
				if fields := strings.Fields(one); len(fields) > 0 {
					found = append(found, reference{p.path, n.Data, fields[0], true})
				}
			}
		}
		if style, ok := attr(n, "style"); ok {
			found = append(found, styleReferences(p.path, style)...)
		}
		if n.Data == "style" {
			found = append(found, styleReferences(p.path, wordsOf(n))...)
		}
	}
	return found
}

var styleAddress = regexp.MustCompile(`(?:url\(\s*|@import\s+)["']?([^"')\s;]+)`)

// styleReferences lists what a style sheet loads.
func styleReferences(file, style string) []reference {
	var found []reference
	for _, m := range styleAddress.FindAllStringSubmatch(style, -1) {
		found = append(found, reference{file, "style", m[1], true})
	}
	return found
}

// allReferences lists the addresses of all pages and style sheets.
func allReferences(s *site) []reference {
	var found []reference
	for _, p := range s.pages {
		found = append(found, references(p)...)
	}
	for _, name := range sorted(s.files) {
		if path.Ext(name) == ".css" {
			found = append(found, styleReferences(name, string(s.files[name]))...)
		}
	}
	return found
}

// outsideLoads finds what a browser would ask another host for.
func outsideLoads(s *site) (wrong []string) {
	for _, r := range allReferences(s) {
		u, err := url.Parse(r.target)
		if err == nil && r.loads && (u.Host != "" || u.Scheme != "" && u.Scheme != "data") {
			wrong = append(wrong, fmt.Sprintf("%s: <%s> loads %s", r.page, r.tag, r.target))
		}
	}
	for _, p := range s.pages {
		for _, n := range p.elements("script", "iframe", "base") {
			wrong = append(wrong, fmt.Sprintf("%s: holds a <%s>", p.path, n.Data))
		}
		for _, n := range p.elements("meta") {
			if kind, _ := attr(n, "http-equiv"); strings.EqualFold(kind, "refresh") {
				wrong = append(wrong, p.path+": sends the reader elsewhere by itself")
			}
		}
	}
	return wrong
}

// brokenLinks finds addresses within the site that lead nowhere, or that would not
// work by double click from a folder: no leading slash, no folder as a target.
func brokenLinks(s *site) (wrong []string) {
	for _, r := range allReferences(s) {
		if why := whyBroken(s, r); why != "" {
			wrong = append(wrong, fmt.Sprintf("%s: <%s> to %q: %s", r.page, r.tag, r.target, why))
		}
	}
	return wrong
}

func whyBroken(s *site, r reference) string {
	u, err := url.Parse(r.target)
	switch {
	case err != nil:
		return "not an address"
	case r.target == "":
		return "empty"
	case u.Scheme == "" && u.Host == "":
	case r.loads || slices.Contains([]string{"http", "https", "mailto", "tel"}, u.Scheme) && (u.Host != "" || u.Opaque != ""):
		return "" // what is loaded is judged by outsideLoads
	default:
		return "neither within the site nor an outside page"
	}
	target := r.page
	if u.Path != "" {
		if strings.HasPrefix(u.Path, "/") {
			return "starts at the top of a host"
		}
		target = path.Join(path.Dir(r.page), u.Path)
		if _, ok := s.files[target]; !ok {
			return "no such file"
		}
	}
	if u.Fragment == "" || path.Ext(target) == ".css" {
		return ""
	}
	p := s.page(target)
	if p == nil || p.ids[u.Fragment] == 0 {
		return "no such place in the page"
	}
	return ""
}

// brokenIDs finds references by id, such as a label's, that no element answers.
func brokenIDs(s *site) (wrong []string) {
	for _, p := range s.pages {
		for n := range p.root.Descendants() {
			for _, key := range []string{"for", "headers", "list", "aria-labelledby", "aria-describedby", "aria-controls", "aria-details", "aria-owns"} {
				ids, _ := attr(n, key)
				for _, id := range strings.Fields(ids) {
					if p.ids[id] == 0 {
						wrong = append(wrong, fmt.Sprintf("%s: <%s %s> names %q, which is not on the page", p.path, n.Data, key, id))
					}
				}
			}
		}
	}
	return wrong
}

// lostPages finds pages that no chain of links from index.html reaches.
func lostPages(s *site) (wrong []string) {
	reached := map[string]bool{"index.html": true}
	for queue := []string{"index.html"}; len(queue) > 0; queue = queue[1:] {
		p := s.page(queue[0])
		if p == nil {
			continue
		}
		for _, r := range references(p) {
			u, err := url.Parse(r.target)
			if err != nil || r.loads || u.Scheme != "" || u.Path == "" {
				continue
			}
			if target := path.Join(path.Dir(p.path), u.Path); !reached[target] {
				reached[target] = true
				queue = append(queue, target)
			}
		}
	}
	for _, name := range sorted(s.files) {
		if strings.HasSuffix(name, ".html") || strings.HasSuffix(name, ".pdf") || strings.HasSuffix(name, ".csv") {
			if !reached[name] {
				wrong = append(wrong, name+": no link leads here")
			}
		}
	}
	return wrong
}
