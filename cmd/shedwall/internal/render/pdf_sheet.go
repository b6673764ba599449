package render

import (
	"fmt"
	"regexp"

	"shedwall/cmd/shedwall/internal/page"
)

var isoDate = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)

// Sheet is a wall sheet with its texts measured, ready to be laid out on any paper.
type Sheet struct {
	sheet *page.Sheet
	texts *sheetTexts
}

// MeasureSheet measures the texts of a sheet. The error names the row that has a sign
// which the type lacks.
func MeasureSheet(s *page.Sheet) (*Sheet, error) {
	clean, err := cleanSheet(s)
	if err != nil {
		return nil, err
	}
	return &Sheet{s, textsOf(clean)}, nil
}

// SheetPDF is the PDF of a sheet that is wanted on one paper.
func SheetPDF(s *page.Sheet, paper Paper) ([]byte, error) {
	set, err := MeasureSheet(s)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", paper.Title, err)
	}
	return keptPDF(func(use func(pdf []byte) error) error { return set.WithPDF(paper, use) })
}

// WithPDF draws a wall sheet as a tagged PDF of one page and hands the file to use, which
// may keep nothing of it. The same sheet gives the same bytes. The error names the row that
// does not fit, or is that of use.
func (x *Sheet) WithPDF(paper Paper, use func(pdf []byte) error) error {
	s := x.sheet
	d, err := layoutTexts(x.texts, paper.area())
	if err != nil {
		return fmt.Errorf("%s: %w", paper.Title, err)
	}
	if s.Dated != "" && !isoDate.MatchString(s.Dated) {
		return fmt.Errorf("the sheet is dated %q, not year-month-day", s.Dated)
	}
	facts := pdfFacts{title: s.Title(), lang: s.Lang, subject: s.Where, dated: s.Dated}
	facts.outline = append(facts.outline, pdfMark{title: s.Band})
	for _, m := range d.marks {
		if p, ok := m.(*part); ok && p.tag == "Figure" {
			i := len(facts.outline) - 1
			facts.outline = append(facts.outline, pdfMark{title: s.Rows[i].Code + " " + s.Rows[i].Name, y: p.box.y0})
		}
	}
	c := newPDF(paper, facts)
	d.marksTo(c)
	return c.with(use)
}
