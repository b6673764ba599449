package table

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
)

// totals are the words that begin a row of sums, which is no row of the table.
var totals = []string{"total", "totals", "sum", "subtotal", "grand total", "average", "mean", "count"}

// noteStarts are the beginnings of remarks under a table of names.
var noteStarts = []string{"#", "*", "†", "‡", "note", "source", "remark"}

// leaveOutNotes takes remarks, totals and repeated headings out of the rows and
// tells each. A row is left out only where it cannot be a row of the table; a
// doubtful one stays and draws its own faults.
func (s *sheet) leaveOutNotes() {
	key := slices.IndexFunc(s.header.columns, func(c column) bool { return c.field >= 0 && c.field == s.form.key })
	if s.form.key < 0 || key < 0 {
		return
	}
	name := s.form.fields[s.form.key].name
	s.rows = slices.DeleteFunc(s.rows, func(r row) bool {
		text := foldID(r.text(key))
		switch {
		case strings.HasPrefix(firstText(&r), "#") && !reSheetErr.MatchString(firstText(&r)):
			s.noteRow(&r, "row-note", "starts with #")
		case s.repeatsHeadings(&r):
			s.noteRow(&r, "row-note", "repeats the headings")
		case slices.Contains(totals, strings.TrimRight(text, ":")) && !(name && alone(&r, key)):
			s.noteRow(&r, "row-note", "is a row of sums")
		case reNote.MatchString(text), alone(&r, key) && isNote(text, name, r.afterGap):
			s.noteRow(&r, "row-note", "is a remark")
		case text == "" && isSentence(loneText(&r)):
			s.noteRow(&r, "row-note", "is a remark")
		default:
			return false
		}
		return true
	})
}

// reNote begins remarks even where commas split them into several cells.
var reNote = regexp.MustCompile(`^(sources?|notes?|remarks?|fuentes?|notas?) ?:`)

// isNote says whether the text of a row's only cell is a remark and no id (or,
// where rows are identified by names, no name).
func isNote(text string, name, afterGap bool) bool {
	if !name {
		return !reID.MatchString(text) && (afterGap || strings.ContainsAny(text, " :*†"))
	}
	if strings.Contains(text, ": ") {
		return true
	}
	return slices.ContainsFunc(noteStarts, func(p string) bool { return strings.HasPrefix(text, p) && (afterGap || len(p) < 4) })
}

// isSentence says whether a row's only cell, which is not its key, is a remark:
// several words and no number with its unit.
func isSentence(text string) bool {
	_, err := parseNumber(text)
	return err != nil && strings.Contains(text, " ")
}

// alone says whether a row has nothing but its key.
func alone(r *row, key int) bool {
	for i, t := range r.texts {
		if i != key && clean(t) != "" {
			return false
		}
	}
	return true
}

// loneText is the text of a row's only cell, "" for a row with several.
func loneText(r *row) string {
	lone := ""
	for _, t := range r.texts {
		if t = clean(t); t != "" && lone != "" {
			return ""
		} else if t != "" {
			lone = t
		}
	}
	return lone
}

func firstText(r *row) string {
	for _, t := range r.texts {
		if t = clean(t); t != "" {
			return t
		}
	}
	return ""
}

// repeatsHeadings says whether every cell that is not blank repeats its heading.
func (s *sheet) repeatsHeadings(r *row) bool {
	for i, t := range r.texts {
		if h := foldHeading(t); h != "" && h != foldHeading(s.header.row.text(i)) {
			return false
		}
	}
	return true
}

// noteRow tells a row that is not imported.
func (s *sheet) noteRow(r *row, id, why string) {
	s.fault(diag.Fault{
		At: diag.Position{Line: int(r.spot(0).line), Column: int(r.spot(0).column)}, ID: id, Severity: diag.Notice,
		What: fmt.Sprintf("%q %s and is not imported", short(firstText(r)), why),
	})
}
