//go:build unix

package publish

import (
	"bytes"
	"html/template"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	text "text/template"
	"time"

	"shedwall/cmd/shedwall/internal/made"
	"shedwall/cmd/shedwall/internal/proof"
)

// BenchmarkCompared sets publishing a made region of ten bands beside what could not be
// had for less: copying the finished site, and putting the text and links of the same
// pages through templates that do nothing else (no layout, no drawings, no relative
// links, no publisher's texts; the engines are the standard library's). Between them, what
// is spent on planning and on our own templates.
func BenchmarkCompared(b *testing.B) {
	program := os.DirFS(proof.Root(b))
	dir := b.TempDir()
	if err := made.Usual(10).Write(dir, program); err != nil {
		b.Fatal(err)
	}
	load := func() *Guide {
		g, err := Load(os.DirFS(dir), program)
		if err != nil || g.Faults.HasErrors() {
			b.Fatal(err, g.Faults.Sorted())
		}
		return g
	}
	out := filepath.Join(b.TempDir(), "site")
	run := func(name string, do func() error) {
		b.Run(name, func(b *testing.B) {
			began := cpu(b)
			for b.Loop() {
				if err := do(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64((cpu(b)-began).Milliseconds())/float64(b.N), "CPU-ms/op")
		})
	}
	run("publish", func() error {
		if err := os.RemoveAll(out); err != nil { // else it would be taken over
			return err
		}
		_, err := load().Publish(out, nil)
		return err
	})
	other := filepath.Join(b.TempDir(), "copy")
	run("copy", func() error {
		if err := os.RemoveAll(other); err != nil {
			return err
		}
		return copyTree(out, other)
	})

	g := load()
	p := newPress(g, nil)
	run("plan", func() error {
		for _, in := range p.in.Bands {
			g.Planner.Band(in.Climate)
			g.Planner.Forget(in.Climate)
		}
		return nil
	})
	templates, err := g.templates()
	if err != nil {
		b.Fatal(err)
	}
	frame, pages := p.languages[0].frame, p.everyPage()
	run("templates", func() error {
		for _, x := range pages {
			if _, err := templates.HTML(frame, x); err != nil {
				return err
			}
			if _, err := templates.Markdown(frame, x); err != nil {
				return err
			}
		}
		return nil
	})
	var bare []barePage
	for _, x := range pages {
		bare = append(bare, bareOf(x))
	}
	html := template.Must(template.New("").Parse(bareHTML))
	markdown := text.Must(text.New("").Parse(bareMarkdown))
	run("bare", func() error {
		for i := range bare {
			var to bytes.Buffer
			if err := html.Execute(&to, &bare[i]); err != nil {
				return err
			}
			to.Reset()
			if err := markdown.Execute(&to, &bare[i]); err != nil {
				return err
			}
		}
		return nil
	})
}

const bareHTML = `<!doctype html><html lang="{{.Lang}}"><title>{{.Title}}</title>
{{range .Blocks}}{{if .Head}}<table><tr>{{range .Head}}<th>{{.}}</th>{{end}}</tr>
{{range .Rows}}<tr>{{range .}}<td>{{range .}}{{if .Href}}<a href="{{.Href}}">{{.Text}}</a>{{else}}{{.Text}}{{end}}{{end}}</td>{{end}}</tr>
{{end}}</table>{{else}}{{range .Rows}}{{range .}}<p>{{range .}}{{if .Href}}<a href="{{.Href}}">{{.Text}}</a>{{else}}{{.Text}}{{end}}{{end}}</p>
{{end}}{{end}}{{end}}{{end}}</html>
`

const bareMarkdown = `# {{.Title}}
{{range .Blocks}}{{if .Head}}{{range .Head}}| {{.}} {{end}}|
{{range .Rows}}{{range .}}| {{range .}}{{if .Href}}[{{.Text}}]({{.Href}}){{else}}{{.Text}}{{end}}{{end}} {{end}}|
{{end}}{{else}}{{range .Rows}}{{range .}}{{range .}}{{if .Href}}[{{.Text}}]({{.Href}}){{else}}{{.Text}}{{end}}{{end}}

{{end}}{{end}}{{end}}{{end}}`

// cpu is how long processors have worked for this process.
func cpu(t testing.TB) time.Duration {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
