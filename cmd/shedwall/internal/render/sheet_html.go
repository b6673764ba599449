package render

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
)

// maxSheetHTML is the most a sheet's page may weigh, in bytes.
const maxSheetHTML = 100_000

// SheetHTML is Sheet.HTML for a sheet that is wanted as a page alone.
func SheetHTML(s *page.Sheet, f page.SheetFrame) ([]byte, error) {
	set, err := MeasureSheet(s)
	if err != nil {
		return nil, err
	}
	return set.HTML(f)
}

// HTML is a wall sheet as a page to print: the drawing at its real size, and
// below it, on the screen and for reading programs, everything on it in words.
// Printed, it is the drawing alone on one page of Letter or A4, upright. The same
// sheet gives the same bytes. The error names the row that does not fit.
func (s *Sheet) HTML(f page.SheetFrame) ([]byte, error) {
	d, err := layoutTexts(s.texts, printArea())
	if err != nil {
		return nil, fmt.Errorf("print page: %w", err)
	}
	x := s.sheet
	svg := newSVG("drawing", x.Band+": "+x.Name, d)
	picture, err := d.play(svg)
	if err != nil {
		return nil, err
	}
	defer closePicture(picture)
	fonts, err := fontFaces(d.letters())
	if err != nil {
		return nil, err
	}
	style := append([]string{"\n", sheetStyle, svg.css(webFamily)}, fonts...)
	sum := sha256.New()
	for _, rules := range style {
		sum.Write([]byte(rules))
	}
	view := sheetView{
		Sheet: x, Title: x.Title(), Frame: f,
		StyleHash:  "sha256-" + base64.StdEncoding.EncodeToString(sum.Sum(nil)),
		References: make([]sheetLink, 0, len(f.Links)),
	}
	store := openStore()
	defer store.close()
	v := &viewer{store: store, from: page.HTML(x.Path)}
	if f.Site != nil {
		v.folder = f.Site.Language.Folder
		view.around(v, f.Site)
	}
	for _, l := range f.Links {
		view.References = append(view.References, sheetLink{v.href(l.Href), l.Text, ""})
	}
	for _, t := range x.Twins {
		view.References = append(view.References, sheetLink{v.shared(t.Language.Folder + t.Path), t.Language.Name, t.Language.Code})
	}
	if v.err != nil {
		return nil, v.err
	}
	view.Parts = view.parts()
	b := openBuffer()
	defer buffers.Put(b)
	if err := sheetTemplate.ExecuteTemplate(b, "head", view); err != nil {
		return nil, err
	}
	b.WriteString("<style>")
	for _, rules := range style {
		b.WriteString(rules)
	}
	b.WriteString("</style>")
	if err := sheetTemplate.ExecuteTemplate(b, "links", view); err != nil {
		return nil, err
	}
	b.Write(picture)
	if err := sheetTemplate.ExecuteTemplate(b, "parts", view); err != nil {
		return nil, err
	}
	if b.Len() > maxSheetHTML {
		return nil, fmt.Errorf("print page: %d bytes, more than %d", b.Len(), maxSheetHTML)
	}
	return bytes.Clone(b.Bytes()), nil
}

// letters is the rare letters the drawing uses of each face, in order of use; used tells
// which faces it uses at all.
func (d *drawing) letters() (rare [2][]rune, used [2]bool) {
	for _, m := range d.marks {
		t, ok := m.(run)
		if !ok || t.s == "" {
			continue
		}
		used[t.weight] = true
		for _, r := range t.s {
			if !isCommon(r) && !slices.Contains(rare[t.weight], r) {
				rare[t.weight] = append(rare[t.weight], r)
			}
		}
	}
	return rare, used
}

type sheetView struct {
	*page.Sheet
	Title      string
	Frame      page.SheetFrame
	Home       template.URL
	Nav        []viewNav
	SiteFoot   []template.HTML
	Parts      []sheetWords
	References []sheetLink
	StyleHash  string
}

// around is the navigation and foot of a guide's other pages. A sheet is of a band, as the
// pages beside it are.
func (view *sheetView) around(v *viewer, site *page.Site) {
	view.Home = v.relative(page.HTML(page.IndexPath))
	for _, n := range site.Nav {
		view.Nav = append(view.Nav, viewNav{Href: v.href(n.Path), Text: n.Text, Current: n.Path == page.BandsPlace})
	}
	for _, f := range site.Foot {
		view.SiteFoot = append(view.SiteFoot, template.HTML(appendInlines(nil, v.inlines(f))))
	}
}

// sheetWords is a sheet in words in one language; a sheet in two has two of them.
type sheetWords struct {
	*page.Sheet
	WordsTitle  string
	ForeignLang string // of the words, where it is not the page's
	codeText    string
}

// Edited is edition and code in one line.
func (w sheetWords) Edited() string {
	var parts []string
	for _, p := range []string{w.Edition, w.codeText} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, " · ")
}

// RowsHTML is the rows of the table of words: some twenty on each of hundreds of sheets,
// written as rowsHTML writes those of pages.
func (w sheetWords) RowsHTML() template.HTML {
	b := make([]byte, 0, 1<<14)
	cell := func(before, text, after string) { b = append(appendHTML(append(b, before...), text), after...) }
	for i := range w.Rows {
		r := &w.Rows[i]
		cell("\n<tr><td><span aria-hidden=\"true\">", w.HeadCode, " </span>")
		cell("", r.Code, "</td>")
		cell("<th scope=\"row\">", r.Name, "</th>")
		cell("<td><span aria-hidden=\"true\">", w.HeadCalendar, " </span>")
		cell("", r.Dates, "")
		if r.Covered != "" {
			cell("; ", r.Covered, "")
		}
		cell("</td><td>", r.Sentence, "</td></tr>")
	}
	return template.HTML(b)
}

// parts is the words of a sheet, a part for each of its languages.
func (v sheetView) parts() []sheetWords {
	if len(v.Versions) == 0 {
		return []sheetWords{{v.Sheet, v.Frame.WordsTitle, "", v.CodeText}}
	}
	var out []sheetWords
	for _, x := range v.Versions {
		w := sheetWords{x.Sheet, x.WordsTitle, x.Sheet.Lang, v.CodeText}
		if w.ForeignLang == v.Lang {
			w.ForeignLang = ""
		}
		out = append(out, w)
	}
	return out
}

type sheetLink struct {
	Href template.URL
	Text string
	Lang string // of a link to the sheet in another language
}

// sheetStyle: a white leaf on the screen, as wide as on paper; in print the
// drawing and nothing else. It never grows beyond the printable width, so that a
// browser with margins of its own makes it smaller rather than cut it off.
const sheetStyle = `@page{margin:12.7mm 16mm;size:portrait}
:root{color-scheme:light}
body{margin:0;background:#fff;color:#000;font:1rem/1.5 system-ui,Arial,sans-serif}
svg{display:block;overflow:visible;max-width:100%;height:auto;margin:0 auto}
@media print{.screen{display:none}}
@media screen{
body{background:#f3f1ec}
main,header,footer{max-width:60rem;margin:0 auto;padding:1rem;box-sizing:border-box}
main:focus{outline:none}
header{padding-bottom:0}
header p{margin:.2rem 1.5rem .2rem 0}
header ul{display:flex;flex-wrap:wrap;gap:.2rem 1.5rem;padding:0;margin:0;list-style:none}
header .links{border-top:1px solid #777;margin-top:.5rem;padding-top:.5rem}
footer p{margin:.2rem 0}
a{color:#0b4a2f;display:inline-block;padding:.25rem 0}
a[aria-current]{font-weight:bold}
.skip{position:absolute;left:.5rem;top:-6rem;padding:.6rem 1rem;background:#fff}
.skip:focus{top:.5rem}
a:focus-visible{outline:3px solid #000;outline-offset:2px}
.leaf{background:#fff;padding:6% 4%;margin:0 0 2rem;border:1px solid #777;box-sizing:border-box}
h1{font-size:1.6rem;line-height:1.25;margin:.5rem 0 1rem}
h2{font-size:1.25rem;margin:1.5rem 0 .5rem}
table{border-collapse:collapse;width:100%;background:#fff}
caption{text-align:left;font-weight:bold;padding:.5rem 0}
th,td{text-align:left;vertical-align:top;padding:.45rem .6rem;border-top:1px solid #777;overflow-wrap:break-word}
td>span{display:none}
@media (max-width:46rem){
table,caption,tbody,tr,th,td{display:block}
thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
tr{border-top:2px solid #000;padding:.5rem 0}
th,td{border:0;padding:.1rem .6rem}
td>span{display:inline;font-weight:bold}
}}
`

// sheetTemplate is three pieces: before the style rules, before the drawing, after it.
var sheetTemplate = template.Must(template.New("sheet").Parse(`{{define "head"}}<!DOCTYPE html>
<html lang="{{.Lang}}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src '{{.StyleHash}}'; font-src data:; base-uri 'none'; form-action 'none'">
<meta name="referrer" content="no-referrer">
<title>{{.Title}}</title>
{{- range .References}}{{if .Lang}}
<link rel="alternate" hreflang="{{.Lang}}" href="{{.Href}}">
{{- end}}{{end}}
{{end}}{{define "links"}}
</head>
<body>
{{- with .Frame.Site}}
<a class="skip screen" href="#text">{{.SkipText}}</a>
{{- end}}
{{- if or .Nav .References .Frame.Hint}}
<header class="screen">
{{- if .Nav}}
<p><a href="{{.Home}}"><strong>{{.Frame.Site.Title}}</strong></a></p>
<nav aria-label="{{.Frame.Site.NavName}}">
<ul>
{{- range .Nav}}
<li><a href="{{.Href}}"{{if .Current}} aria-current="page"{{end}}>{{.Text}}</a></li>
{{- end}}
</ul>
</nav>
{{- end}}
{{- if .References}}
<ul class="links">
{{- range .References}}
<li><a href="{{.Href}}"{{with .Lang}} lang="{{.}}" hreflang="{{.}}" rel="alternate"{{end}}>{{.Text}}</a></li>
{{- end}}
</ul>
{{- end}}
{{- with .Frame.Hint}}
<p>{{.}}</p>
{{- end}}
</header>
{{- end}}
<main id="text" tabindex="-1">
<h1 class="screen">{{.Band}}: {{.Name}}</h1>
<div class="leaf">
{{end}}{{define "parts"}}
</div>
{{- range .Parts}}
<div class="screen"{{with .ForeignLang}} lang="{{.}}"{{end}}>
{{template "words" .}}
</div>
{{- end}}
</main>
{{- if .SiteFoot}}
<footer class="screen">
{{- range .SiteFoot}}
<p>{{.}}</p>
{{- end}}
</footer>
{{- end}}
</body>
</html>
{{end}}
{{define "words"}}{{- with .Where}}
<p>{{.}}</p>
{{- end}}
{{- range .Lead}}
<p>{{.}}</p>
{{- end}}
{{- if or .Marks .Warning}}
<p>{{range $i, $m := .Marks}}{{if $i}} · {{end}}{{$m.Label}}{{end}}{{if and .Marks .Warning}} · {{end}}{{with .Warning}}<strong>{{.}}</strong>{{end}}</p>
{{- end}}
<h2>{{.WordsTitle}}</h2>
<table>
<caption>{{.Band}}: {{.Name}}</caption>
<thead>
<tr><th scope="col">{{.HeadCode}}</th><th scope="col">{{.HeadCrop}}</th><th scope="col">{{.HeadCalendar}}</th><th scope="col">{{.HeadSentence}}</th></tr>
</thead>
<tbody>
{{- .RowsHTML}}
</tbody>
</table>
{{- if .Key}}
<h2>{{.KeyTitle}}</h2>
<ul>
{{- range .Key}}
<li>{{with .Letter}}{{.}} {{end}}{{.Text}}</li>
{{- end}}
</ul>
{{- end}}
{{- if .CoverKey}}
<h2>{{.CoverKeyTitle}}</h2>
<ul>
{{- range .CoverKey}}
<li>{{with .Letter}}{{.}} {{end}}{{.Text}}</li>
{{- end}}
</ul>
{{- end}}
{{- range .Foot}}
<p>{{.}}</p>
{{- end}}
{{- with .Edited}}
<p>{{.}}</p>
{{- end}}{{end}}`))
