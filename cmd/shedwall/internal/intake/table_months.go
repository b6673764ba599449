package intake

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/table"
)

var (
	reMonthBetween = regexp.MustCompile(`\s*(?:-|–|—|−|\bto\b|\ba\b)\s*`)
	reMonthApart   = regexp.MustCompile(`[\s,;/&]+|\band\b|\by\b`)
)

// months reads a set of months: 4-6, "4 5 6", "April to June", "Nov-Feb, 5", all, none.
// None is declared none; a blank is not known. A word that is no month is reported
// and the whole cell is unknown: half a set would be read as the rest being free.
func months(c table.Cell) figure.Of[catalog.Months] {
	f := figure.Of[catalog.Months]{Owner: c.Owner(), Cell: c.At(), Source: c.Source()}
	set, bad := catalog.Months(0), ""
	switch text := strings.ToLower(c.Text()); {
	case c.Unknown():
		f.State = figure.Unknown
		return f
	case text == "":
		return f
	case text == "none" || text == "no":
	case text == "all":
		set = catalog.MonthRange(1, 12)
	default:
		for _, part := range reMonthApart.Split(reMonthBetween.ReplaceAllString(text, "-"), -1) {
			if part == "" {
				continue
			}
			from, to, isRange := strings.Cut(part, "-")
			a := monthWord(from)
			b := a
			if isRange {
				b = monthWord(to)
			}
			if a == 0 || b == 0 {
				bad = part
				break
			}
			set |= catalog.MonthRange(a, b)
		}
	}
	if bad != "" {
		c.Fault("months-unreadable", fmt.Sprintf("%q in %q is no month", bad, c.Text()), "months such as 4-6, 4 5 6 or Apr-Jun; none where there are none",
			"write the numbers or the names of the months; a spreadsheet may have made a date of 4-6: format the column as text")
		f.State = figure.Unknown
		return f
	}
	g := figure.Is(set, f.Cell, f.Source)
	g.Owner = f.Owner
	return g
}

// monthWord is the number of a month by its number or name, 0 for anything else. Names
// may be cut short from three letters on.
func monthWord(word string) int {
	word = strings.TrimSuffix(word, ".")
	switch {
	case word == "":
		return 0
	case word[0] >= '0' && word[0] <= '9':
		if n, err := strconv.Atoi(word); err == nil && n >= 1 && n <= 12 {
			return n
		}
		return 0
	case len(word) < 3:
		return 0
	case word == "set":
		return 9
	}
	return monthOf(word)
}
