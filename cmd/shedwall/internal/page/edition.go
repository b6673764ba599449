package page

import (
	"bytes"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/edition"
	"shedwall/cmd/shedwall/internal/plan"
)

// keep enters a band into the ledger, if one is kept: the dates once, from the pages in
// the guide's own language, the sheets of every language.
func (b *builder) keep(m *bandPage, part Part) {
	if b.Ledger == nil {
		return
	}
	var sheets []catalog.EditionSheet
	add := func(path, name, code string, rows []string) {
		sheets = append(sheets, catalog.EditionSheet{Band: m.row().ID, Path: b.Language.Folder + path, Name: name, Code: code, Rows: rows})
	}
	for _, s := range part.Sheets {
		var rows []string
		for _, r := range s.Rows {
			rows = append(rows, r.Code)
		}
		add(s.Path, s.Name, s.Code, rows)
	}
	for _, l := range part.Leaves {
		if l.Code != "" {
			add(l.Path, l.Name, l.Code, nil)
		}
	}
	if b.Language.Folder != "" {
		b.Ledger.Sheets(sheets)
		return
	}
	b.Ledger.Band(m.row(), m.in.Plans, func(p *plan.CropPlan) string { return m.wall.chosen(*p).Layers }, m.printed(), sheets)
}

// printed is where a band's sheets have each crop.
func (m *bandPage) printed() map[string]edition.Printed {
	crops := map[string]string{}
	for id, code := range m.wall.codes() {
		crops[code] = id
	}
	out := map[string]edition.Printed{}
	for _, s := range m.sheets {
		for _, r := range s.Rows {
			out[crops[r.Code]] = edition.Printed{Sheet: s.Code, Code: r.Code}
		}
	}
	return out
}

// code is the code of a sheet: made from what it tells gardeners. The number and date of
// the edition and the line about the publisher are left out, so that a sheet on which
// nothing moved keeps its code from edition to edition.
func (w Wall) code(s *Sheet) string {
	c := *s
	c.Edition, c.Dated, c.Code, c.CodeText = "", "", "", ""
	about := w.footRecords()
	c.Foot = slices.DeleteFunc(slices.Clone(s.Foot), func(line string) bool { return strings.HasPrefix(line, about) })
	if w.kept == nil || len(c.Rows) == 0 {
		return codeOf(&c)
	}
	// The same, with the rows as they were written for other sheets. Quotes within texts are
	// written with a backslash, so that what is cut at is no text.
	c.Rows = nil
	before, after, _ := bytes.Cut(written(&c), []byte(`"Rows":null`))
	all := append(w.kept.room[:0], before...)
	all = append(all, `"Rows":[`...)
	for i := range s.Rows {
		if i > 0 {
			all = append(all, ',')
		}
		all = append(all, w.writtenRow(&s.Rows[i])...)
	}
	all = append(append(all, ']'), after...)
	w.kept.room = all
	return codeFrom(all)
}

// writtenRow is a row of one of the wall's sheets as its code takes it in.
func (w Wall) writtenRow(r *SheetRow) []byte {
	key := writtenKey{r.Code, r.GroupEnd}
	data, ok := w.kept.written[key]
	if !ok {
		data = written(r)
		w.kept.written[key] = data
	}
	return data
}

// code is the code of a leaf, likewise.
func (l *Leaf) code() string {
	c := *l
	c.Edition, c.Dated, c.Code, c.Foot = "", "", "", nil
	return codeOf(&c)
}
