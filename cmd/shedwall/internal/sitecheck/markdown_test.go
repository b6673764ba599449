package sitecheck

import (
	"fmt"
	"net/url"
	"path"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"
)

// brokenMarkdownLinks finds links of the Markdown twins that lead to no file.
func brokenMarkdownLinks(s *site) (wrong []string) {
	reader := goldmark.New(goldmark.WithExtensions(extension.GFM)).Parser()
	for _, name := range sorted(s.files) {
		if path.Ext(name) != ".md" || isInput(name) {
			continue
		}
		doc := reader.Parse(text.NewReader(s.files[name]))
		err := ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
			var target string
			switch n := n.(type) {
			case *ast.Link:
				target = string(n.Destination)
			case *ast.Image:
				target = string(n.Destination)
			default:
				return ast.WalkContinue, nil
			}
			u, err := url.Parse(target)
			if !entering || err == nil && (u.Scheme == "https" || u.Scheme == "http" || u.Scheme == "mailto" || u.Path == "" && u.Fragment != "") {
				return ast.WalkContinue, nil
			}
			if err != nil || strings.HasPrefix(u.Path, "/") || s.files[path.Join(path.Dir(name), u.Path)] == nil {
				wrong = append(wrong, fmt.Sprintf("%s: link to %q leads nowhere", name, target))
			}
			return ast.WalkContinue, nil
		})
		if err != nil {
			wrong = append(wrong, fmt.Sprintf("%s: %v", name, err))
		}
	}
	return wrong
}
