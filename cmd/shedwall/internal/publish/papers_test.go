//go:build unix

package publish

import (
	"os"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/render"
)

// BenchmarkPapers lays out and writes what the demo guide prints: every sheet as a page
// and on both papers, every leaf on both papers; and asks of each whether it fits.
func BenchmarkPapers(b *testing.B) {
	guide := os.DirFS(proof.Root(b))
	g, err := Load(guide, guide)
	if err != nil || g.Faults.HasErrors() {
		b.Fatal(err, g.Faults.Sorted())
	}
	p := newPress(g, nil)
	var sheets []*page.Sheet
	var frames []page.SheetFrame
	var leaves []*page.Leaf
	for i := range p.in.Bands {
		plans := g.Planner.Band(p.in.Bands[i].Climate)
		for _, l := range p.languages {
			part := l.Band(i, plans)
			for _, x := range part.Sheets {
				frames = append(frames, page.FrameOf(x, l.Book(), l.frame))
			}
			sheets, leaves = append(sheets, part.Sheets...), append(leaves, part.Leaves...)
		}
	}
	run := func(name string, do func() error) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			began := cpu(b)
			for b.Loop() {
				if err := do(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64((cpu(b)-began).Milliseconds())/float64(b.N), "CPU-ms/op")
		})
	}
	each := func(do func(i int, s *page.Sheet) error) func() error {
		return func() error {
			for i, s := range sheets {
				if err := do(i, s); err != nil {
					return err
				}
			}
			return nil
		}
	}
	run("fit", each(func(_ int, s *page.Sheet) error { return render.NewFitting().Fits(s) }))
	run("html", each(func(i int, s *page.Sheet) error { _, err := render.SheetHTML(s, frames[i]); return err }))
	run("sheets", each(func(_ int, s *page.Sheet) error {
		for _, paper := range papers {
			if s.NoPDF {
				continue
			}
			measured, err := render.MeasureSheet(s)
			if err != nil {
				return err
			}
			if err := measured.WithPDF(paper, func([]byte) error { return nil }); err != nil {
				return err
			}
		}
		return nil
	}))
	run("leaves", func() error {
		for _, x := range leaves {
			measured, err := render.MeasureLeaf(x)
			if err != nil {
				return err
			}
			for _, paper := range papers {
				if err := measured.WithPDF(paper, func([]byte) error { return nil }); err != nil {
					return err
				}
			}
		}
		return nil
	})
}
