package table

import (
	"fmt"
	"regexp"
	"unicode"

	"shedwall/cmd/shedwall/internal/diag"
)

// reFormula is a text that a spreadsheet would run: any that begins with an equals sign,
// and those that begin with another sign and call something.
var reFormula = regexp.MustCompile(`^[=＝]|^[+@-]+[A-Za-z_][A-Za-z0-9_.]*\(|^[+@-].*\|.*!`)

// weighTexts looks at the cells that are no numbers: a formula, or an error of the
// spreadsheet, is a fault as it is in a column of numbers; signs that nobody sees are told,
// since clean leaves them out.
func (s *sheet) weighTexts(formulas bool) {
	for i := range s.rows {
		r := &s.rows[i]
		for column, text := range r.texts {
			if column >= len(s.header.columns) {
				break
			}
			if c := s.header.columns[column]; c.field >= 0 && s.form.fields[c.field].number {
				continue // told where the number is read
			}
			if formulas {
				s.weighFormula(r, column, text)
			}
			if !simple(text) {
				s.tellHidden(r, column, text)
			}
		}
	}
}

func (s *sheet) weighFormula(r *row, column int, text string) {
	if text == "" || text[0] > '@' && text[0] < 0x80 {
		return // nearly all cells
	}
	text = clean(text)
	what, cure := "is a formula", "save the table with values in place of formulas; if the text is meant, begin it with a word"
	switch {
	case reSheetErr.MatchString(text):
		what, cure = "is an error of the spreadsheet", "mend the formula and save the table again"
	case !reFormula.MatchString(text):
		return
	}
	s.fault(diag.Fault{At: s.at(r, column), ID: "cell-formula", What: fmt.Sprintf("%q %s", short(text), what), Expected: "a text", Cure: cure})
}

// hidden says whether a character has no shape of its own and changes how others are shown
// or compared: controls, zero-width blanks, and marks that turn the direction of a line
// for longer than one letter. The joiners and the two small direction marks stay, since
// Persian, Indian and Hebrew spelling needs them.
func hidden(r rune) bool {
	switch {
	case r == '\t' || r == '\n' || r == '\r' || r == '\u0085':
		return false // blanks
	case r >= '\u202a' && r <= '\u202e', r >= '\u2066' && r <= '\u2069', r == '\u200b', r == '\u2060', r == '\ufeff':
		return true
	case r >= '\U000e0000' && r <= '\U000e007f': // tags
		return true
	}
	return unicode.IsControl(r)
}

func (s *sheet) tellHidden(r *row, column int, text string) {
	first, count := rune(0), 0
	for _, c := range text {
		if hidden(c) {
			if count++; count == 1 {
				first = c
			}
		}
	}
	if count == 0 {
		return
	}
	s.fault(diag.Fault{
		At: s.at(r, column), ID: "character-hidden", Severity: diag.Notice,
		What: fmt.Sprintf("%s that cannot be seen left out, the first %U", plural(count, "character"), first), Expected: "letters and signs",
		Cure: "retype the cell, if it came from a web page or a message",
	})
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
