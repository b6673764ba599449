package render

import (
	"bytes"
	htmltemplate "html/template"
	"testing"

	"pgregory.net/rapid"
)

// plainly writes texts and rows with html/template and nothing else.
var plainly = htmltemplate.Must(htmltemplate.New("").Parse(`{{define "id"}}{{with .ID}} id="{{.}}"{{end}}{{end}}
{{- define "text"}}{{range .}}
{{- if eq .Kind "link"}}<a href="{{.Href}}">{{template "text" .Children}}</a>
{{- else if eq .Kind "heard"}}<span class="heard">{{.Text}}</span>
{{- else if eq .Kind "soft"}}<small>{{template "text" .Children}}</small>
{{- else if eq .Kind "strong"}}<strong>{{template "text" .Children}}</strong>
{{- else if eq .Kind "emphasis"}}<em>{{template "text" .Children}}</em>
{{- else if eq .Kind "language"}}{{if eq .Lang "la"}}<i lang="la">{{template "text" .Children}}</i>{{else}}<span lang="{{.Lang}}">{{template "text" .Children}}</span>{{end}}
{{- else if eq .Kind "code"}}<code>{{.Text}}</code>
{{- else if eq .Kind "image"}}<img src="{{.Href}}" alt="{{.Text}}"{{if .Width}} width="{{.Width}}" height="{{.Height}}"{{end}}>
{{- else if eq .Kind "break"}}<br>
{{- else}}{{.Text}}{{end}}
{{- end}}{{end}}
{{- define "rows"}}{{range .}}
<tr{{template "id" .}}>
{{- range .Cells}}
{{- if .Head}}<th scope="row">{{template "text" .Text}}</th>
{{- else}}<td>{{if .Label}}<b>{{template "text" .Label}}:</b> {{end}}{{template "text" .Text}}</td>
{{- end}}
{{- end -}}
</tr>
{{- end}}{{end}}
{{- define "each"}}{{range .}}
<li>{{template "text" .}}</li>{{end}}{{end}}
{{- define "nav"}}{{range .}}
<li><a href="{{.Href}}"{{if .Current}} aria-current="page"{{end}}>{{.Text}}</a></li>{{end}}{{end}}
{{- define "heads"}}{{range .}}<th scope="col">{{template "text" .}}</th>{{end}}{{end}}`))

// hostile are pieces of text that mean something to a browser, and some that do not.
var hostile = rapid.SampledFrom([]string{
	"", "kale", "<script>alert(1)</script>", "</td>", "<", ">", `"`, "'", "&", "&amp;", "&#34;", "+", "`", "\x00", "\xff", "\u2028", "é 小",
	"javascript:", "data:text/html,", " onload=x", "<!--", "-->", "]]>", "{{.}}", "\n", "\t", "%", "%3c", "%3C%zz", "../../", "#a?b=c&d=e", "\\", "(x)", "*", "=HYPERLINK(\"x\")",
})

func hostileText(t *rapid.T, name string) string {
	var s string
	for range rapid.IntRange(0, 4).Draw(t, name) {
		s += hostile.Draw(t, name)
	}
	return s
}

func hostileInlines(t *rapid.T, deep int) []viewInline {
	var out []viewInline
	for range rapid.IntRange(0, 3).Draw(t, "runs") {
		i := viewInline{
			Kind:  rapid.SampledFrom([]string{"text", "link", "heard", "soft", "strong", "emphasis", "language", "code", "image", "break", "odd"}).Draw(t, "kind"),
			Text:  hostileText(t, "text"),
			Href:  htmltemplate.URL(hostileText(t, "href")),
			Lang:  rapid.SampledFrom([]string{"la", "es", `"><b>`}).Draw(t, "lang"),
			Width: rapid.IntRange(0, 2).Draw(t, "width"), Height: 7,
		}
		if deep > 0 {
			i.Children = hostileInlines(t, deep-1)
		}
		out = append(out, i)
	}
	return out
}

// TestTextIsEscaped: whatever stands in texts, addresses, languages and ids comes out as
// html/template would write it.
func TestTextIsEscaped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var rows []viewRow
		for range rapid.IntRange(1, 2).Draw(t, "rows") {
			r := viewRow{ID: hostileText(t, "id")}
			for range rapid.IntRange(1, 2).Draw(t, "cells") {
				r.Cells = append(r.Cells, viewCell{rapid.Bool().Draw(t, "head"), hostileInlines(t, 0), hostileInlines(t, 1)})
			}
			rows = append(rows, r)
		}
		text := rows[0].Cells[0].Text
		nav := []viewNav{{Href: htmltemplate.URL(hostileText(t, "href")), Text: hostileText(t, "name"), Current: rapid.Bool().Draw(t, "current")}}
		texts := [][]viewInline{text, rows[0].Cells[0].Label}
		each, err := eachHTML("li", texts)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			name string
			data any
			got  htmltemplate.HTML
		}{{"rows", rows, rowsHTML(rows)}, {"text", text, inlineHTML(text)}, {"each", texts, each}, {"heads", texts, headsHTML(texts)}, {"nav", nav, navHTML(nav)}} {
			var want bytes.Buffer
			if err := plainly.ExecuteTemplate(&want, c.name, c.data); err != nil {
				t.Fatal(err)
			}
			if got := string(c.got); got != want.String() {
				t.Errorf("%s: %q\nwant\n%q", c.name, got, want.String())
			}
		}
	})
	for _, bad := range []string{"li onclick=x", "li><b", "LI"} {
		if _, err := eachHTML(bad, nil); err == nil {
			t.Errorf("%q is an element", bad)
		}
	}
}
