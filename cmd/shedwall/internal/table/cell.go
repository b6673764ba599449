package table

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
)

// Cell is one cell of a table: its text and its place. The zero Cell is a blank
// one that stands nowhere. Methods that read a cell report what is wrong with it
// to the fault list that the table was read with.
type Cell struct {
	text   string
	sheet  *sheet
	row    int32 // index in sheet.rows
	column int16 // -1: the table has no such column
	field  int16 // index in form.fields, or extra
	source string
}

// At is where the cell stands. For an absent column it is the line of the row.
func (c Cell) At() diag.Position {
	if c.sheet == nil {
		return diag.Position{}
	}
	r := &c.sheet.rows[c.row]
	if c.column < 0 {
		return diag.Position{File: c.sheet.file, Line: int(r.spot(0).line), Heading: c.Heading()}
	}
	return c.sheet.at(r, int(c.column))
}

// Heading is the canonical heading of the cell's column, "" for the zero Cell.
func (c Cell) Heading() string {
	switch {
	case c.sheet == nil:
		return ""
	case c.field < 0:
		return c.sheet.header.columns[c.column].extra
	}
	return c.sheet.form.fields[c.field].keys[0]
}

// Headings is every heading that the cell's column may have.
func (c Cell) Headings() []string {
	if c.sheet == nil || c.field < 0 {
		return []string{c.Heading()}
	}
	return c.sheet.form.fields[c.field].keys
}

// Owner says whose table the cell stands in.
func (c Cell) Owner() figure.Owner {
	if c.sheet == nil {
		return figure.BuiltIn
	}
	return c.sheet.owner
}

// From is the cell with the source that its figure rests on.
func (c Cell) From(source string) Cell {
	c.source = source
	return c
}

// Source is the id given by From.
func (c Cell) Source() string { return c.source }

// Blank says that nothing is written in the cell, or that there is no column.
func (c Cell) Blank() bool { return clean(c.text) == "" }

// unknowns are the ways to write that nobody knows.
var unknowns = []string{"unknown", "not known", "?", "??", "n/a", "na", "n.a.", "-", "--"}

// Unknown says that the cell declares its value unknown.
func (c Cell) Unknown() bool {
	return slices.Contains(unknowns, strings.ToLower(strings.Map(hyphen, plain(c.text))))
}

// Text is the cell as text: white space within it made single spaces, none
// around it, in Unicode normal form C so that equal words compare equal. A cell
// that says unknown has no text.
func (c Cell) Text() string {
	if c.Unknown() {
		return ""
	}
	return clean(c.text)
}

// Phrase is the cell's text where every text is meant as it stands, "-" too. A
// cell of nothing but a no-break space keeps it: some languages separate
// thousands by one.
func (c Cell) Phrase() string {
	t := clean(c.text)
	if t == "" && strings.Trim(c.text, " \t\n") != "" {
		return strings.Trim(c.text, " \t\n")
	}
	return t
}

// Require is Text, and reports a cell without any; what says what is expected.
func (c Cell) Require(what string) string {
	t := c.Text()
	if t == "" {
		c.Missing(what)
	}
	return t
}

// Missing reports that the cell must be filled; what says with what. Where a
// required column is absent that was said once for all rows.
func (c Cell) Missing(what string) {
	if c.saidMissing() {
		return
	}
	c.Fault("value-missing", "nothing is given for "+c.At().Heading, what, "write it into the cell")
}

// saidMissing says whether the cell is in a required column that is absent.
func (c Cell) saidMissing() bool {
	return c.column < 0 && c.field >= 0 && c.sheet.form.fields[c.field].required
}

// Fault reports something wrong with the cell.
func (c Cell) Fault(id, what, expected, cure string) { c.tell(diag.Error, id, what, expected, cure) }

// Warn reports something doubtful about the cell.
func (c Cell) Warn(id, what, expected, cure string) { c.tell(diag.Warning, id, what, expected, cure) }

// Note tells how the cell was read where that may surprise.
func (c Cell) Note(id, what string) { c.tell(diag.Notice, id, what, "", "") }

func (c Cell) tell(sev diag.Severity, id, what, expected, cure string) {
	if c.sheet == nil {
		panic("table: the zero Cell has no table to report to: " + what)
	}
	c.sheet.fault(diag.Fault{At: c.At(), ID: id, Severity: sev, What: what, Expected: expected, Cure: cure})
}

// quoted is the cell's text for a message.
func (c Cell) quoted() string { return fmt.Sprintf("%q", short(c.text)) }

// clean is the text of a cell as it is kept: every run of white space (line
// breaks, no-break and thin spaces too) one space, control characters and
// byte-order marks gone, normal form C.
func clean(s string) string {
	if settled(s) {
		return s
	}
	return cleaned(s)
}

func cleaned(s string) string {
	if strings.IndexFunc(s, hidden) >= 0 {
		s = strings.Map(func(r rune) rune {
			if hidden(r) {
				return -1
			}
			return r
		}, s)
	}
	return norm.NFC.String(strings.Join(strings.FieldsFunc(s, unicode.IsSpace), " "))
}

// settled says that clean has nothing to do, of most texts of western languages: printable
// characters of Latin-1, whose letters are in normal form C, with single spaces inside only.
func settled(s string) bool {
	const noBreak = 0xa0
	space := true
	for _, r := range s {
		if r < ' ' || r > '~' && r <= noBreak || r > 0xff || r == ' ' && space {
			return false
		}
		space = r == ' '
	}
	return !space || s == ""
}

// simple says that plain has nothing to do: printable ASCII with single spaces inside only.
func simple(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < ' ' || s[i] > '~' || s[i] == ' ' && (i == 0 || i == len(s)-1 || s[i+1] == ' ') {
			return false
		}
	}
	return true
}

// plain is clean without invisible characters (zero-width, direction marks),
// with full-width forms made ordinary: for ids, headings and numbers.
func plain(s string) string {
	if simple(s) {
		return s
	}
	return clean(norm.NFKC.String(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, s)))
}

// hyphen maps the many dashes and minus signs to "-".
func hyphen(r rune) rune {
	if r >= '\u2010' && r <= '\u2015' || r == '\u2212' || r == '\ufe63' || r == '\uff0d' {
		return '-'
	}
	return r
}
