package render

import (
	"crypto/sha256"
	"encoding/base64"
	"html/template"

	"shedwall/cmd/shedwall/internal/page"
)

// sheetView is what stands on the page of a sheet.
type sheetView struct {
	*page.Sheet
	frame      page.SheetFrame
	home       template.URL
	nav        []viewNav
	foot       [][]viewInline // of the guide's pages
	references []sheetLink
	style      []string // rules, one behind the other
	picture    []byte
}

type sheetLink struct {
	href template.URL
	text string
	lang string // of a link to the sheet in another language
}

// around is the navigation and foot of a guide's other pages. A sheet is of a band, as the
// pages beside it are.
func (v *sheetView) around(in *viewer, site *page.Site) {
	v.home = in.relative(page.HTML(page.IndexPath))
	for _, n := range site.Nav {
		v.nav = append(v.nav, viewNav{Href: in.href(n.Path), Text: n.Text, Current: n.Path == page.BandsPlace})
	}
	for _, f := range site.Foot {
		v.foot = append(v.foot, in.inlines(f))
	}
}

// append appends the page.
func (v *sheetView) append(b []byte) []byte {
	sum := sha256.New()
	for _, rules := range v.style {
		sum.Write([]byte(rules))
	}
	b = appendParts(b, "<!DOCTYPE html>\n<html lang=\"", v.Lang, `">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'sha256-`,
		base64.StdEncoding.EncodeToString(sum.Sum(nil)), `'; font-src data:; base-uri 'none'; form-action 'none'">
<meta name="referrer" content="no-referrer">
<title>`, v.Title(), "</title>")
	for _, r := range v.references {
		if r.lang != "" {
			b = appendParts(b, "\n<link rel=\"alternate\" hreflang=\"", r.lang, `" href="`)
			b = append(appendAddress(b, string(r.href)), `">`...)
		}
	}
	b = append(b, "\n<style>"...)
	for _, rules := range v.style {
		b = append(b, rules...)
	}
	b = v.header(append(b, "</style>\n</head>\n<body>"...))
	b = appendParts(b, "\n<main id=\"text\" tabindex=\"-1\">\n<h1 class=\"screen\">", v.Band, ": ", v.Name, "</h1>\n<div class=\"leaf\">\n")
	b = append(append(b, v.picture...), "\n</div>"...)
	if len(v.Versions) == 0 {
		b = append(b, "\n<div class=\"screen\">\n"...)
		b = append(sheetWords(b, v.Sheet, v.frame.WordsTitle, v.CodeText), "\n</div>"...)
	}
	for _, x := range v.Versions { // the words of a sheet in two languages stand there in each
		b = append(b, "\n<div class=\"screen\""...)
		if lang := x.Sheet.Lang; lang != v.Lang && lang != "" {
			b = appendParts(b, ` lang="`, lang, `"`)
		}
		b = append(sheetWords(append(b, ">\n"...), x.Sheet, x.WordsTitle, v.CodeText), "\n</div>"...)
	}
	b = append(b, "\n</main>"...)
	if len(v.foot) > 0 {
		b = append(appendEach(append(b, "\n<footer class=\"screen\">"...), "p", v.foot), "\n</footer>"...)
	}
	return append(b, "\n</body>\n</html>\n"...)
}

// header appends what stands above the sheet on a screen.
func (v *sheetView) header(b []byte) []byte {
	site := v.frame.Site
	if site != nil {
		b = appendParts(b, "\n<a class=\"skip screen\" href=\"#text\">", site.SkipText, "</a>")
	}
	if len(v.nav)+len(v.references) == 0 && v.frame.Hint == "" {
		return b
	}
	b = append(b, "\n<header class=\"screen\">"...)
	if len(v.nav) > 0 {
		b = appendAddress(append(b, "\n<p><a href=\""...), string(v.home))
		b = appendParts(b, `"><strong>`, site.Title, "</strong></a></p>\n<nav aria-label=\"", site.NavName, "\">\n<ul>")
		b = append(appendNav(b, v.nav), "\n</ul>\n</nav>"...)
	}
	if len(v.references) > 0 {
		b = append(b, "\n<ul class=\"links\">"...)
		for _, r := range v.references {
			b = append(appendAddress(append(b, "\n<li><a href=\""...), string(r.href)), '"')
			if r.lang != "" {
				b = appendParts(b, ` lang="`, r.lang, `" hreflang="`, r.lang, `" rel="alternate"`)
			}
			b = appendParts(b, ">", r.text, "</a></li>")
		}
		b = append(b, "\n</ul>"...)
	}
	if v.frame.Hint != "" {
		b = appendParts(b, "\n<p>", v.frame.Hint, "</p>")
	}
	return append(b, "\n</header>"...)
}

// sheetWords appends a sheet in words.
func sheetWords(b []byte, s *page.Sheet, title, codeText string) []byte {
	if s.Where != "" {
		b = appendParts(b, "\n<p>", s.Where, "</p>")
	}
	for _, l := range s.Lead {
		b = appendParts(b, "\n<p>", l, "</p>")
	}
	if len(s.Marks) > 0 || s.Warning != "" {
		b = append(b, "\n<p>"...)
		for i := range s.Marks {
			if i > 0 {
				b = append(b, " · "...)
			}
			b = appendHTML(b, s.Marks[i].Label)
		}
		if s.Warning != "" {
			if len(s.Marks) > 0 {
				b = append(b, " · "...)
			}
			b = appendParts(b, "<strong>", s.Warning, "</strong>")
		}
		b = append(b, "</p>"...)
	}
	b = appendParts(b, "\n<h2>", title, "</h2>\n<table>\n<caption>", s.Band, ": ", s.Name, "</caption>\n<thead>\n<tr><th scope=\"col\">",
		s.HeadCode, `</th><th scope="col">`, s.HeadCrop, `</th><th scope="col">`, s.HeadCalendar, `</th><th scope="col">`, s.HeadSentence, "</th></tr>\n</thead>\n<tbody>")
	for i := range s.Rows {
		r := &s.Rows[i]
		b = appendParts(b, "\n<tr><td><span aria-hidden=\"true\">", s.HeadCode, " </span>", r.Code, `</td><th scope="row">`, r.Name,
			`</th><td><span aria-hidden="true">`, s.HeadCalendar, " </span>", r.Dates)
		if r.Covered != "" {
			b = appendParts(b, "; ", r.Covered)
		}
		b = appendParts(b, "</td><td>", r.Sentence, "</td></tr>")
	}
	b = append(b, "\n</tbody>\n</table>"...)
	b = appendKey(b, s.KeyTitle, s.Key)
	b = appendKey(b, s.CoverKeyTitle, s.CoverKey)
	for _, f := range s.Foot {
		b = appendParts(b, "\n<p>", f, "</p>")
	}
	switch {
	case s.Edition != "" && codeText != "":
		b = appendParts(b, "\n<p>", s.Edition, " · ", codeText, "</p>")
	case s.Edition+codeText != "":
		b = appendParts(b, "\n<p>", s.Edition+codeText, "</p>")
	}
	return b
}

func appendKey(b []byte, title string, key []page.KeyEntry) []byte {
	if len(key) == 0 {
		return b
	}
	b = appendParts(b, "\n<h2>", title, "</h2>\n<ul>")
	for i := range key {
		b = append(b, "\n<li>"...)
		if key[i].Letter != "" {
			b = append(appendHTML(b, key[i].Letter), ' ')
		}
		b = append(appendHTML(b, key[i].Text), "</li>"...)
	}
	return append(b, "\n</ul>"...)
}
