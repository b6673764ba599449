package publish

import (
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/render"
)

// SheetInk is how black a wall sheet comes out on Letter: the share of the paper, 0 to 1.
type SheetInk struct {
	Path  string // of the sheet, from the top of the site, without extension
	Share float64
}

// ink notes how black a sheet is.
func (p *press) ink(l language, x *page.Sheet) error {
	share, err := render.SheetInk(x, render.Letter)
	if err != nil {
		return err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.sum.Ink = append(p.sum.Ink, SheetInk{l.at(x.Path), share})
	return nil
}

// sortInk brings sheets into the order of their paths.
func sortInk(ink []SheetInk) {
	slices.SortFunc(ink, func(a, b SheetInk) int { return strings.Compare(a.Path, b.Path) })
}
