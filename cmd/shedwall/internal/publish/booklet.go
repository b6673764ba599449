package publish

import (
	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/render"
)

// bookletPDF is the whole guide to be bound, beside guide.html.
const bookletPDF = page.WholePath + ".pdf"

// booklet writes the bound guide and the posters of one language. A guide with too many
// bands to be one page has neither.
func (p *press) booklet(w *work, l language) {
	b := l.Booklet()
	if b.Whole == nil {
		return
	}
	w.do(func() error {
		pdf, err := render.BookPDF(b.Facts, b.Whole)
		if err != nil {
			return err
		}
		return p.put(l.at(bookletPDF), pdf)
	})
	p.part(w, l, page.Part{Pages: b.PosterPages})
	for _, x := range b.Posters {
		for _, paper := range []render.Paper{render.A3, render.Tabloid} {
			w.do(func() error {
				pdf, err := render.PosterPDF(x, paper)
				if err != nil {
					return err
				}
				return p.put(l.at(page.SheetPDF(x.Path, paper.Name)), pdf)
			})
		}
	}
}
