//go:build unix

package publish

import (
	"os"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/render"
)

// BenchmarkText is the pages of the demo guide, in its own language, from what they say
// to HTML and to Markdown, and its calendars. Nothing is planned or written meanwhile.
func BenchmarkText(b *testing.B) {
	program := os.DirFS(proof.Root(b))
	g, err := Load(program, program)
	if err != nil || g.Faults.HasErrors() {
		b.Fatal(err, g.Faults.Sorted())
	}
	templates, err := g.templates()
	if err != nil {
		b.Fatal(err)
	}
	p := newPress(g, nil)
	site := p.everything()
	frame := p.languages[0].frame
	run := func(name string, do func() (int, error)) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			began, size := cpu(b), 0
			for b.Loop() {
				size, err = do()
				if err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64((cpu(b)-began).Microseconds())/1000/float64(b.N), "CPU-ms/op")
			b.ReportMetric(float64(size)/1e6, "MB")
		})
	}
	run("html", func() (size int, err error) {
		for _, x := range site.Pages {
			err := templates.WithHTML(frame, x, func(html []byte) error { size += len(html); return nil })
			if err != nil {
				return 0, err
			}
		}
		return size, nil
	})
	run("markdown", func() (size int, err error) {
		for _, x := range site.Pages {
			err := templates.WithMarkdown(frame, x, func(text []byte) error { size += len(text); return nil })
			if err != nil {
				return 0, err
			}
		}
		return size, nil
	})
	run("ics", func() (size int, err error) {
		for _, x := range site.Calendars {
			size += len(render.ICS(x))
		}
		return size, nil
	})
}
