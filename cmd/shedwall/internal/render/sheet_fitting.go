package render

import (
	"errors"
	"fmt"
	"slices"

	"shedwall/cmd/shedwall/internal/page"
)

// Fitting says whether the sheets of one wall fit on their papers. Packing crops into sheets
// tries the same rows again and again in other company, so it keeps what it measured of each
// row and how high the row is in each column that it stood in. It must stay with one
// goroutine.
type Fitting struct {
	rows    map[fittingKey]*fittingRow
	feet    []keptFoot
	keys    []keptKey
	cleaner cleaner

	// Room for the sheet that is tried.
	clean []page.SheetRow
	texts []rowTexts
	plans []rowPlan
}

// fittingKey is where a row is looked for: a code is one crop's on all sheets of a wall.
type fittingKey struct {
	code string
	end  bool // of a group
}

// fittingRow is a row as it was handed in, with what is known of it.
type fittingRow struct {
	given page.SheetRow
	clean page.SheetRow
	texts rowTexts
	err   error
	plans []columnPlan
}

// columnPlan is how high a row is, worked out for a column of text and a calendar beside it
// at the tightest scale.
type columnPlan struct {
	cal      calendar
	width    float64
	up, down float64 // as in rowPlan
	err      error
}

type keptFoot struct {
	width float64
	of    []string
	block block
	err   error
}

type keptKey struct {
	width              float64
	title, coverTitle  string
	entries, ofCovered []page.KeyEntry
	block              block
	err                error
}

// NewFitting has nothing measured yet.
func NewFitting() *Fitting { return &Fitting{rows: map[fittingKey]*fittingRow{}} }

// Fits proves that a sheet fits the print page and the PDFs for Letter and
// A4 without drawing anything. Its error names the row to shorten, drop or move on the first
// of them that it does not fit; where heights are the trouble, it is a *FitError that says how
// many rows fit.
func (f *Fitting) Fits(s *page.Sheet) error {
	t, err := f.measure(s)
	if err != nil {
		return fmt.Errorf("%s: %w", s.Band, err)
	}
	// What fits on the print page fits on A4: it is as wide, and 31 mm lower.
	for _, a := range []sheetArea{printArea(), Letter.area()} {
		if err := fitSheet(t, a); err != nil {
			return fmt.Errorf("%s, %s: %w", s.Band, a.name, err)
		}
	}
	return nil
}

// TooMuch says that a sheet does not fit, whatever its code turns out to be; false says
// nothing. It asks the print page, on which most is too much.
func (f *Fitting) TooMuch(s *page.Sheet) bool {
	t, err := f.measure(s)
	if err != nil {
		return false
	}
	t.uncoded = true
	trial := trialOf(t, printArea())
	plan, err := trial.plan(tightest())
	if err != nil {
		wide := (*headingError)(nil)
		return errors.As(err, &wide)
	}
	return plan.fixed()+plan.rowsNeed() > trial.room+lessThan
}

// measure is MeasureSheet with the rows that are known. What it gives holds until the next.
func (f *Fitting) measure(s *page.Sheet) (*sheetTexts, error) {
	c, err := cleanFrame(s, &f.cleaner)
	if err != nil {
		return nil, err
	}
	t := headTexts(c) // what is asked at the tightest scale wants no least height
	t.fitting = f
	f.clean, f.texts = f.clean[:0], f.texts[:0]
	for i := range s.Rows {
		r := f.row(&s.Rows[i])
		if r.err != nil {
			return nil, r.err
		}
		f.clean, f.texts = append(f.clean, r.clean), append(f.texts, r.texts)
	}
	c.Rows, t.rows = f.clean, f.texts
	return t, nil
}

// row is what is known of a row: that of its code, if it is the same in all that is drawn.
func (f *Fitting) row(r *page.SheetRow) *fittingRow {
	key := fittingKey{r.Code, r.GroupEnd}
	k := f.rows[key]
	if k != nil && k.given.Name == r.Name && k.given.Dates == r.Dates && k.given.Covered == r.Covered &&
		slices.Equal(k.given.Bars, r.Bars) && slices.Equal(k.given.Covers, r.Covers) {
		return k
	}
	k = &fittingRow{given: *r}
	k.clean, k.err = cleanRow(r)
	k.texts, _ = textsOfRow(&k.clean, nil)
	k.texts.known = k
	f.rows[key] = k
	return k
}

// plan is rowPlan.plan at the tightest scale. Of what it works out nobody asks but how high the
// row is, so that is all it gives for a row known in the column.
func (k *fittingRow) plan(row *rowPlan, m *measures, cal calendar, width float64) error {
	for i := range k.plans {
		if p := &k.plans[i]; p.width == width && p.cal == cal {
			row.row, row.up, row.down, row.lane = &k.clean, p.up, p.down, 0
			return p.err
		}
	}
	row.begin()
	err := row.plan(&k.clean, &k.texts, m, cal, width)
	k.plans = append(k.plans, columnPlan{cal, width, row.up, row.down, err})
	return err
}

// foot is planFoot at the tightest scale.
func (f *Fitting) foot(s *page.Sheet, m *measures, width float64) (block, error) {
	for i := range f.feet {
		if k := &f.feet[i]; k.width == width && slices.Equal(k.of, s.Foot) {
			return k.block, k.err
		}
	}
	b, err := planFoot(s, m, width)
	f.feet = append(f.feet, keptFoot{width, s.Foot, b, err})
	return b, err
}

// key is planKey at the tightest scale.
func (f *Fitting) key(s *page.Sheet, m *measures, width float64) (block, error) {
	for i := range f.keys {
		k := &f.keys[i]
		if k.width == width && k.title == s.KeyTitle && k.coverTitle == s.CoverKeyTitle &&
			slices.Equal(k.entries, s.Key) && slices.Equal(k.ofCovered, s.CoverKey) {
			return k.block, k.err
		}
	}
	b, err := planKey(s, m, width)
	f.keys = append(f.keys, keptKey{width, s.KeyTitle, s.CoverKeyTitle, s.Key, s.CoverKey, b, err})
	return b, err
}
