package table

import (
	"fmt"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
)

// header is the row of headings and what each means.
type header struct {
	row     row
	known   int // headings of it that are known
	columns []column
}

// column is what one column of the file means.
type column struct {
	field int    // index in form.fields, or skip or extra
	unit  Unit   // from the heading; NoUnit where it names none
	extra string // the heading, for a column that Spec.Open accepted
	needs bool   // the heading lacks its unit: each cell must carry one
}

const (
	skip  = -1
	extra = -2
)

// position is the line of the headings.
func (h header) position() diag.Position {
	return diag.Position{Line: int(h.row.spot(0).line), Column: int(h.row.spot(0).column)}
}

// foldHeading makes headings comparable: small letters, one underscore for each
// run of spaces and hyphens.
func foldHeading(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(plain(s)), func(r rune) bool {
		return r == ' ' || r == '-' || r == '_'
	}), "_")
}

// findHeader is the row among the first headRows that holds the most known
// headings.
func (s *sheet) findHeader(rec *records) header {
	best := header{}
	for range headRows {
		r, ok := rec.next()
		if !ok {
			break
		}
		known := 0
		for _, t := range r.texts {
			if f, _ := s.form.find(foldHeading(t)); f >= 0 {
				known++
			}
		}
		if known > best.known {
			best = header{row: r, known: known}
		}
	}
	return best
}

// resolveHeader gives each column its meaning and reports headings that are
// unknown, repeated, missing or without their unit. A mistyped heading is read
// as the nearest known one, so that the cells below it are checked too.
func (s *sheet) resolveHeader(open func(string) bool) bool {
	if n := len(s.header.row.texts); n > MaxColumns {
		s.fault(diag.Fault{
			At: s.header.position(), ID: "table-too-wide", What: fmt.Sprintf("the table has %d columns", n),
			Expected: fmt.Sprintf("at most %d columns", MaxColumns), Cure: "delete the columns that do not belong to this table",
		})
		return false
	}
	s.header.columns = make([]column, len(s.header.row.texts))
	taken := map[int]int{} // field -> its column
	var guesses []int
	for i, raw := range s.header.row.texts {
		h := foldHeading(raw)
		s.header.columns[i].field = skip
		if h == "" {
			continue // a fault only if there is something under it
		}
		f, needs := s.form.find(h)
		if f < 0 && open != nil && open(h) {
			s.header.columns[i] = column{field: extra, extra: h}
			continue
		}
		if f < 0 {
			guesses = append(guesses, i)
			continue
		}
		s.take(i, f, h, needs, taken)
	}
	for _, i := range guesses {
		s.unknownHeading(i, taken)
	}
	s.missingHeadings(taken)
	return true
}

// take gives column i to field f, unless the field has a column already.
func (s *sheet) take(i, f int, heading string, needs bool, taken map[int]int) {
	at := s.at(&s.header.row, i)
	if first, twice := taken[f]; twice {
		s.fault(diag.Fault{
			At: at, ID: "heading-repeated",
			What:     fmt.Sprintf("%q and %q (column %s) are the same figure", clean(s.header.row.texts[i]), clean(s.header.row.texts[first]), columnName(first)),
			Expected: "one column for each figure", Cure: "delete one of the two columns; only the first was read",
		})
		return
	}
	taken[f] = i
	c := column{field: f, needs: needs}
	if !needs && s.form.fields[f].number {
		_, c.unit = splitUnit(heading)
	}
	s.header.columns[i] = c
	if written := clean(s.header.row.texts[i]); written != heading && !needs {
		s.fault(diag.Fault{
			At: at, ID: "heading-read", Severity: diag.Notice, What: fmt.Sprintf("heading %q read as %s", written, heading),
		})
	}
}

// unknownHeading reports a heading nobody knows and proposes the nearest one.
func (s *sheet) unknownHeading(i int, taken map[int]int) {
	h := foldHeading(s.header.row.texts[i])
	near := diag.Nearest(h, s.form.headings())
	f := diag.Fault{
		At: s.at(&s.header.row, i), ID: "heading-unknown", What: fmt.Sprintf("unknown heading %q", clean(s.header.row.texts[i])),
		Expected: "one of " + strings.Join(s.form.canonical(100), ", "),
	}
	if near == "" {
		f.Cure = "rename the column or delete it"
	} else {
		f.Expected = ""
		f.Cure = fmt.Sprintf("did you mean %q?", near)
		n, _ := s.form.find(near)
		if _, twice := taken[n]; !twice {
			taken[n] = i
			_, unit := splitUnit(near)
			s.header.columns[i] = column{field: n, unit: unit}
		}
	}
	s.fault(f)
}

// missingHeadings reports required columns that are not there.
func (s *sheet) missingHeadings(taken map[int]int) {
	for n, f := range s.form.fields {
		if _, there := taken[n]; there || !f.required {
			continue
		}
		s.fault(diag.Fault{
			At: s.header.position(), ID: "heading-missing", What: fmt.Sprintf("the table has no column %q", f.keys[0]),
			Expected: "a column with the heading " + strings.Join(f.keys, " or "), Cure: "add the column",
		})
	}
}

// checkBlankHeadings reports cells under a column without a heading, once for
// each column.
func (s *sheet) checkBlankHeadings() {
	for i, c := range s.header.columns {
		if c.field != skip || foldHeading(s.header.row.texts[i]) != "" {
			continue
		}
		n := slices.IndexFunc(s.rows, func(r row) bool { return clean(r.text(i)) != "" })
		if n < 0 {
			continue
		}
		r := &s.rows[n]
		s.fault(diag.Fault{
			At: s.at(r, i), ID: "heading-blank", What: fmt.Sprintf("%q stands in column %s, which has no heading", short(r.text(i)), columnName(i)),
			Expected: "a heading above each column that is used", Cure: "write the heading, or empty the column",
		})
	}
}

// checkUnits reports number columns whose heading lacks its unit. Where cells
// carry units of their own the column is read, and each bare number is reported
// when it is asked for.
func (s *sheet) checkUnits() {
	for i := range s.header.columns {
		c := &s.header.columns[i]
		if !c.needs {
			continue
		}
		units := 0
		for n := range s.rows {
			if num, err := parseNumber(s.rows[n].text(i)); err == nil && num.unit != NoUnit {
				units++
			}
		}
		if units > 0 {
			continue
		}
		f := s.form.fields[c.field]
		s.fault(diag.Fault{
			At: s.at(&s.header.row, i), ID: "heading-without-unit", What: fmt.Sprintf("heading %q does not say the unit", clean(s.header.row.texts[i])),
			Expected: strings.Join(f.keys, " or "), Cure: "rename the column so that it ends in its unit",
		})
		c.field = skip
	}
}
