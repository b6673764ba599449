package preview

import (
	"bytes"
	_ "embed"
	"html"
	"html/template"
	"regexp"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/publish"
)

// What the preview serves besides the site's own files. No page of a site has such a name.
const (
	changesPath = "/changes"
	scriptPath  = "/preview.js"
	stylePath   = "/preview.css"
)

//go:embed strip.js
var script []byte

//go:embed strip.css
var style []byte

// Policies of answers that are no pages, and of pages whose own template has none.
const (
	nothing  = "default-src 'none'; frame-ancestors 'none'"
	unframed = "frame-ancestors 'none'"
	plain    = "default-src 'none'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'"
)

// strip is what a preview says above a page.
type strip struct {
	version string
	alone   bool // the page itself is of faults: nothing is said again above it

	missing          bool // the page is that there is none
	good, old        bool
	faults, warnings []diag.Fault
	notes            int
}

// stripOf is what is to be said above a page of the site.
func stripOf(a publish.Asked) strip {
	x := strip{version: a.Version, missing: !a.Found, good: a.Good, old: a.Old, notes: a.Notes}
	for _, f := range a.Faults {
		if f.Severity == diag.Error {
			x.faults = append(x.faults, f)
		} else {
			x.warnings = append(x.warnings, f)
		}
	}
	return x
}

// metaPolicy is a page's own policy, which would forbid the strip's script as well.
var metaPolicy = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]*)">\n?`)

// dress puts a strip on a page, with the script by which the page loads itself again when
// the guide changed; where scripts are off, the browser loads it every few seconds. The
// page's own policy moves into the header and is widened for these two files and for the
// question whether anything changed, and for nothing else. origin is as the browser calls
// this server: "http://localhost:8420".
func dress(page []byte, x strip, origin string) (dressed []byte, policy string) {
	policy = plain
	if m := metaPolicy.FindSubmatchIndex(page); m != nil {
		policy = html.UnescapeString(string(page[m[2]:m[3]]))
		page = slices.Concat(page[:m[0]], page[m[1]:])
	}
	policy = allow(policy, "style-src", origin+stylePath)
	policy = allow(policy, "script-src", origin+scriptPath)
	policy = allow(policy, "connect-src", origin+changesPath)
	policy += "; frame-ancestors 'none'"

	var head, top bytes.Buffer
	// Both templates write to memory, and their data are ours.
	_ = stripTemplate.ExecuteTemplate(&head, "head", x.version)
	if !x.alone {
		_ = stripTemplate.ExecuteTemplate(&top, "strip", x.view())
	}
	at := bytes.Index(page, []byte("</head>"))
	if at < 0 { // a template of the publisher's that browsers mend
		return slices.Concat(head.Bytes(), top.Bytes(), page), policy
	}
	body := at
	if i := bytes.Index(page[at:], []byte("<body")); i >= 0 {
		if k := bytes.IndexByte(page[at+i:], '>'); k >= 0 {
			body = at + i + k + 1
		}
	}
	return slices.Concat(page[:at], head.Bytes(), page[at:body], top.Bytes(), page[body:]), policy
}

// allow adds a source to a directive of a policy. Where the policy has no such directive,
// its default-src was 'none' or goes on to hold for the page's own files.
func allow(policy, directive, source string) string {
	var out []string
	found := false
	for part := range strings.SplitSeq(policy, ";") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		if name, rest, _ := strings.Cut(part, " "); name == directive {
			found = true
			if part = name + " " + source; strings.TrimSpace(rest) != "'none'" {
				part = name + " " + strings.TrimSpace(rest) + " " + source
			}
		}
		out = append(out, part)
	}
	if !found {
		out = append(out, directive+" "+source)
	}
	return strings.Join(out, "; ")
}

// stripView is a strip as its template takes it.
type stripView struct {
	Class            string
	First, Then      string
	Mark             string // stays in sight however far down the page is read; "" = nothing does
	Faults, Warnings []diag.Fault
	WarningCount     string
	Kinds            []diag.Explanation
}

func (x strip) view() stripView {
	v := stripView{Class: "good", Faults: x.faults, Warnings: x.warnings, WarningCount: many(len(x.warnings), "warning")}
	ends := ""
	if x.notes > 0 {
		ends = " Besides, " + many(x.notes, "note") + ": see shedwall check."
	}
	switch count := many(len(x.faults), "fault"); {
	case len(x.faults) == 0 && x.missing:
		v.First, v.Then = "Preview: no fault.", ends
	case x.missing:
		v.Class, v.First, v.Then = "wrong", "Preview: "+count+".", "While there is a fault, nothing is published, and pages that are new cannot be shown."
	case len(x.faults) == 0:
		v.First, v.Then = "Preview: no fault.", "This page is as it would be published now."+ends
	case x.old && x.good:
		v.Class, v.First = "wrong", "Preview: "+count+"."
		v.Then = "This page cannot be made any more. Below is its last good state. Nothing is published until that is mended."
	case x.old:
		v.Class, v.First = "wrong", "Preview: "+count+"."
		v.Then = "Below is this page as it was before, in the guide's last good state. While there is a fault, nothing is published."
	default:
		v.Class, v.First, v.Then = "wrong", "Preview: "+count+".", "Nothing is published until that is mended."
	}
	if len(x.faults) > 0 {
		v.Mark = many(len(x.faults), "fault")
	}
	for _, f := range slices.Concat(x.faults, x.warnings) {
		e, ok := diag.Explain(f.ID)
		if ok && !slices.ContainsFunc(v.Kinds, func(k diag.Explanation) bool { return k.ID == e.ID }) {
			v.Kinds = append(v.Kinds, e)
		}
	}
	return v
}

var stripTemplate = template.Must(template.New("").Parse(`
{{- define "head"}}<!-- preview --><link rel="stylesheet" href="/preview.css">
<script src="/preview.js" data-version="{{.}}" defer></script>
<noscript><meta http-equiv="refresh" content="5"></noscript>
<!-- /preview -->{{end}}

{{- define "strip"}}<!-- preview -->
<aside id="preview-strip" class="{{.Class}}" lang="en" aria-label="Preview">
<p><span class="first">{{.First}}</span> {{.Then}}</p>
<p id="preview-gone" hidden>The preview has ended: this page changes no more. Start shedwall preview again.</p>
{{- with .Faults}}
<ol tabindex="0" aria-label="Faults">{{template "faults" .}}</ol>{{end}}
{{- if .Warnings}}
<details><summary>{{.WarningCount}}</summary>
<ol tabindex="0" aria-label="Warnings">{{template "faults" .Warnings}}</ol>
</details>{{end}}
{{- with .Kinds}}
<details><summary>What each kind means</summary>
<dl>{{range .}}
<dt>{{.Title}} ({{.ID}})</dt>
<dd>{{.Why}}</dd>
<dd>Wrong: <pre>{{.Wrong}}</pre></dd>
<dd>Right: <pre>{{.Right}}</pre></dd>{{end}}
</dl>
</details>{{end}}
{{- with .Mark}}
<a class="mark" href="#preview-strip">{{.}}</a>{{end}}
</aside>
<!-- /preview -->{{end}}

{{- define "faults"}}{{range .}}
<li><span class="place">{{.At}}</span> {{.What}}.
{{- with .Expected}} Expected: {{.}}.{{end}}{{with .Cure}} To do: {{.}}.{{end}} <code>[{{.ID}}]</code></li>{{end}}
{{end}}`))
