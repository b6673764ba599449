package table

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/diag"
)

// row is one record of the file: its cells as text and where each starts.
type row struct {
	number int // row of the spreadsheet, from 1: empty lines count, lines within a cell do not
	texts  []string
	places []spot

	afterGap bool // an empty line or row stands between this row and the one above
}

// spot is where a cell starts: line and character column from 1.
type spot struct{ line, column int32 }

// blank says whether a row holds nothing but white space.
func (r *row) blank() bool {
	for _, t := range r.texts {
		if clean(t) != "" {
			return false
		}
	}
	return true
}

// text is the cell in a column, "" beyond the row's end.
func (r *row) text(column int) string {
	if column < 0 || column >= len(r.texts) {
		return ""
	}
	return r.texts[column]
}

// spot is where the cell in a column starts; for a cell beyond the row's end it
// is the place of the row's last cell.
func (r *row) spot(column int) spot {
	if len(r.places) == 0 {
		return spot{}
	}
	return r.places[max(0, min(column, len(r.places)-1))]
}

// headRows is how many rows from the top may hold the headings.
const headRows = 30

// maxBrokenRows is how many rows with broken quotes are reported before reading
// stops; each may cost a look at the rest of the file.
const maxBrokenRows = 20

// scan finds what separates the columns and where the headings are, and reads
// the rows below them. It is false when there is no table to go on with.
func (s *sheet) scan(text string, open func(string) bool) bool {
	starts := lineStarts(text)
	best := header{known: -1}
	for _, comma := range []rune{',', ';', '\t'} {
		rec := &records{text: text, starts: starts, comma: comma}
		h := s.findHeader(rec)
		if h.known > best.known {
			best, s.comma = h, comma
		}
	}
	if best.known <= 0 {
		s.fault(diag.Fault{
			At: diag.Position{Line: 1}, ID: "heading-row-missing",
			What:     fmt.Sprintf("none of the first %d rows holds the headings of this table", headRows),
			Expected: "a row with the headings " + strings.Join(s.form.canonical(8), ", "),
			Cure:     "write the headings above the rows; separate columns by comma, semicolon or tab",
		})
		return false
	}
	s.header = best
	if s.comma != ',' {
		s.fault(diag.Fault{
			At: best.position(), ID: "delimiter-read", Severity: diag.Notice,
			What: fmt.Sprintf("read as a table whose columns are separated by %s", map[rune]string{';': "semicolons", '\t': "tabs"}[s.comma]),
		})
	}
	if !s.resolveHeader(open) {
		return false
	}
	s.readRows(&records{text: text, starts: starts, comma: s.comma, sheet: s})
	return true
}

// lineStarts is the byte at which each line of a text starts.
func lineStarts(text string) []int {
	starts := []int{0}
	for i := 0; i < len(text); i++ {
		if text[i] == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// readRows keeps the rows under the headings, and tells the rows above them.
func (s *sheet) readRows(rec *records) {
	gap := false
	for {
		r, ok := rec.next()
		if !ok {
			return
		}
		switch {
		case r.number < s.header.row.number:
			if t := strings.TrimSpace(strings.Join(r.texts, " ")); t != "" && !strings.HasPrefix(t, "sep=") {
				s.noteRow(&r, "row-title", "stands above the headings")
			}
			continue
		case r.number == s.header.row.number:
			continue
		case r.blank():
			gap = true
			continue
		}
		r.afterGap = gap || r.afterGap
		gap = false
		if s.tooLong(&r) {
			continue
		}
		s.rows = append(s.rows, r)
	}
}

// tooLong reports a row with something beyond the last heading. Its cells have
// probably moved to the right, so the row is left out. A remark may be as long as
// it likes.
func (s *sheet) tooLong(r *row) bool {
	if first := foldID(firstText(r)); reNote.MatchString(first) || strings.HasPrefix(first, "#") {
		return false
	}
	for i := len(s.header.row.texts); i < len(r.texts); i++ {
		if clean(r.texts[i]) == "" {
			continue
		}
		s.refused = true
		s.fault(diag.Fault{
			At: s.at(r, i), ID: "row-long",
			What:     fmt.Sprintf("%q stands beyond the last heading: the row has %d cells for %d headings", short(r.texts[i]), i+1, len(s.header.row.texts)),
			Expected: fmt.Sprintf("at most %d cells", len(s.header.row.texts)),
			Cure:     "put a cell that holds a " + string(s.comma) + " between double quotes, or give the column a heading",
		})
		return true
	}
	return false
}

// at is the position of the cell in a column (from 0) of a row.
func (s *sheet) at(r *row, column int) diag.Position {
	sp := r.spot(column)
	p := diag.Position{File: s.file, Line: int(sp.line), Column: int(sp.column)}
	p.Cell = fmt.Sprintf("%s%d", columnName(column), r.number)
	if column < len(s.header.columns) {
		p.Heading = clean(s.header.row.text(column))
	}
	return p
}

// records walks over the rows of a text with encoding/csv, knows the true line,
// character column and spreadsheet row of each cell, and goes on after a row
// with broken quotes.
type records struct {
	text   string
	starts []int // byte at which each line starts
	comma  rune
	sheet  *sheet // told about broken rows; nil while the delimiter is looked for

	csv    *csv.Reader
	base   int // byte of text at which csv started
	first  int // line (from 1) at which csv started
	line   int // line at which the next record starts looking
	number int // spreadsheet row of the last record
	broken int
}

func (c *records) restart(line int) {
	c.base, c.first, c.line = c.starts[line-1], line, line
	c.csv = csv.NewReader(strings.NewReader(c.text[c.base:]))
	c.csv.Comma = c.comma
	c.csv.FieldsPerRecord = -1
	c.csv.TrimLeadingSpace = c.comma != '\t' // it would swallow empty cells between tabs
}

// next is the next record that is not an empty line.
func (c *records) next() (row, bool) {
	if c.csv == nil {
		c.restart(1)
	}
	for {
		texts, err := c.csv.Read()
		if err == io.EOF {
			return row{}, false
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			if !c.skipBroken(bad) {
				return row{}, false
			}
			continue
		}
		if err != nil {
			panic("table: reading from memory failed: " + err.Error())
		}
		startLine, _ := c.csv.FieldPos(0)
		startLine += c.first - 1
		gap := startLine - c.line
		end := c.base + int(c.csv.InputOffset())
		start := c.starts[startLine-1]
		if end-start > MaxRowBytes || len(texts) > 4*MaxColumns {
			if !c.skipLong(startLine, end-start, len(texts)) {
				return row{}, false
			}
			continue
		}
		r := row{number: c.number + gap + 1, texts: texts, afterGap: gap > 0}
		r.places = c.spots(len(texts))
		c.number = r.number
		c.line = startLine + strings.Count(c.text[start:end], "\n")
		return r, true
	}
}

// spots turns the byte columns of the record just read into characters. Cells of
// one line are counted on from each other, so a long row costs no more than its
// length.
func (c *records) spots(n int) []spot {
	out := make([]spot, n)
	line, byteAt, chars := 0, 0, 0
	for i := range out {
		l, col := c.csv.FieldPos(i)
		l += c.first - 1
		if l != line {
			line, byteAt, chars = l, c.starts[l-1], 0
		}
		to := min(c.starts[l-1]+col-1, len(c.text))
		chars += utf8.RuneCountInString(c.text[byteAt:to])
		byteAt = to
		out[i] = spot{int32(l), int32(chars + 1)}
	}
	return out
}

// skipBroken reports a row whose quotes do not match and starts again on the
// line after the one on which the row began: a forgotten quote would otherwise
// swallow the rows below.
func (c *records) skipBroken(bad *csv.ParseError) bool {
	line := bad.StartLine + c.first - 1
	text := c.text[c.starts[line-1]:]
	text, _, _ = strings.Cut(text, "\n")
	what, at := "something follows the closing double quote of a cell", bad.Column-1
	cure := "close the quote at the cell's end; write a quote within a cell twice"
	if errors.Is(bad.Err, csv.ErrBareQuote) {
		what = "a double quote stands inside a cell that does not start with one"
		cure = "put the whole cell between double quotes and write the inner quote twice, or write \"in\" for inches"
	} else if open := openQuote(text); open >= 0 {
		what, at = "a double quote is opened here and not closed on this line", open
	}
	at = max(0, min(at, len(text)))
	return c.skip(line, diag.Fault{
		At: diag.Position{Line: line, Column: utf8.RuneCountInString(text[:at]) + 1}, ID: "quote-broken",
		What: what, Expected: "quotes in pairs around a whole cell", Cure: cure,
	})
}

// openQuote is the byte of the quote that is still open at a line's end, or -1.
func openQuote(line string) int {
	open := -1
	for i := 0; i < len(line); i++ {
		switch {
		case line[i] != '"':
		case open < 0:
			open = i
		case i+1 < len(line) && line[i+1] == '"':
			i++
		default:
			open = -1
		}
	}
	return open
}

// skipLong reports a row that is longer than any row typed on purpose.
func (c *records) skipLong(line, bytes, cells int) bool {
	return c.skip(line, diag.Fault{
		At: diag.Position{Line: line}, ID: "row-too-large",
		What: fmt.Sprintf("the row has %d bytes in %d cells", bytes, cells), Expected: fmt.Sprintf("at most %d bytes and %d cells", MaxRowBytes, MaxColumns),
		Cure: "look for a double quote that is opened here and closed far below",
	})
}

// skip reports a row that cannot be read and goes on with the line below it. It
// is false when there is no line below, or too many rows were skipped.
func (c *records) skip(line int, f diag.Fault) bool {
	if c.sheet != nil {
		c.sheet.refused = true
		c.sheet.fault(f)
	}
	c.broken++
	if c.broken > maxBrokenRows {
		if c.sheet != nil {
			c.sheet.fault(diag.Fault{
				At: f.At, ID: "faults-too-many", What: fmt.Sprintf("more than %d rows cannot be read; the rows below were not looked at", maxBrokenRows),
				Expected: "a table with a few mistakes at most", Cure: "mend the faults above and check again",
			})
		}
		return false
	}
	c.number += line - c.line + 1
	if line >= len(c.starts) {
		return false
	}
	c.restart(line + 1)
	return true
}

// short cuts a cell for a message.
func short(s string) string {
	s = clean(s)
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}
