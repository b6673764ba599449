package table

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// number is a cell taken apart: about -1.250,5 °C * is a qualifier, a sign, the
// digits with their separators, a unit and a footnote mark.
type number struct {
	qualifier string // "<", "<=", ">", ">=", "about" or ""
	negative  bool
	body      string // digits and separators . , ' and space, from the first digit to the last
	unit      Unit
	mark      string // footnote mark: *, †, (1)
	form      separators
}

// separators says what the points and commas of a number can mean.
type separators uint8

const (
	wholeNumber  separators = iota // no point, no comma
	pointDecimal                   // 0.5, 12.75, 1,250.5
	commaDecimal                   // 0,5, 12,75, 1.250,5
	pointGroups                    // 1.250.000
	commaGroups                    // 1,250,000
	pointEither                    // 1.250 is 1.25 or 1250
	commaEither                    // 1,250 is 1.25 or 1250
)

// notANumber explains why a cell is no number.
type notANumber struct{ id, what, cure string }

func (e *notANumber) Error() string { return e.what }

var (
	reNumber = regexp.MustCompile(`^(<=|>=|[<>≤≥~≈])? ?([+-])? ?([0-9][0-9.,' ’]*|[.,][0-9]+)(.*)$`)
	reAbout  = regexp.MustCompile(`^(?i:about|approx\.?|circa|ca\.?|c\.) ?`)
	reMark   = regexp.MustCompile(`^(.*?) ?(\*+|[†‡§¶]+|[¹²³⁴⁵⁶⁷⁸⁹]|\([0-9a-z]\)|\[[0-9a-z]\])$`)
	reRange  = regexp.MustCompile(`^([+-]?[0-9][0-9.,]*[^0-9.,]{0,3}?) ?(?:-|to|\.\.+|…) ?([+-]?[0-9][0-9.,]*.{0,12})$`)
	reGroups = regexp.MustCompile(`^[0-9]{1,3}([ '.,][0-9]{3})+$`)
	rePlain  = regexp.MustCompile(`^[0-9]+$`)
)

// visible is the text of a number cell with one kind of minus, one kind of
// space and no invisible characters. Superscripts stay what they are: they mark
// footnotes.
func visible(s string) string {
	if simple(s) {
		return s
	}
	return clean(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Cf, r) {
			return -1
		}
		return hyphen(r)
	}, s))
}

// parseNumber takes a cell's text apart. It decides nothing that depends on the
// rest of the file. The error is a *notANumber.
func parseNumber(text string) (number, error) {
	s := visible(text)
	if n, ok := simpleNumber(s); ok {
		return n, nil
	}
	var n number
	rest := s
	if a := reAbout.FindString(s); a != "" {
		n.qualifier, rest = "about", s[len(a):]
	}
	m := reNumber.FindStringSubmatch(rest)
	if m == nil || n.qualifier != "" && m[1] != "" {
		return n, diagnose(s)
	}
	if m[1] != "" {
		n.qualifier = map[string]string{"~": "about", "≈": "about", "≤": "<=", "≥": ">="}[m[1]]
		if n.qualifier == "" {
			n.qualifier = m[1]
		}
	}
	n.negative = m[2] == "-"
	n.body = strings.TrimRight(m[3], " ,'’")
	tail := m[3][len(n.body):] + m[4]
	if strings.HasSuffix(n.body, ".") {
		return n, diagnose(s)
	}
	n.body = strings.ReplaceAll(n.body, "’", "'")
	if mark := reMark.FindStringSubmatch(tail); mark != nil {
		tail, n.mark = mark[1], mark[2]
	}
	if tail == "+" && n.qualifier == "" {
		n.qualifier, tail = ">=", ""
	}
	unit, ok := unitOf(tail)
	if !ok || strings.ContainsAny(tail, ",'") || len(n.body) > 20 {
		return n, diagnose(s)
	}
	n.unit = unit
	if n.form, ok = separatorsOf(n.body); !ok {
		return n, diagnose(s)
	}
	return n, nil
}

// simpleNumber reads what nearly all cells hold, -12 or 0.5, quickly.
func simpleNumber(s string) (number, bool) {
	n := number{body: s}
	if strings.HasPrefix(s, "-") {
		n.negative, n.body = true, s[1:]
	}
	point := -1
	for i := 0; i < len(n.body); i++ {
		switch {
		case n.body[i] >= '0' && n.body[i] <= '9':
		case n.body[i] == '.' && point < 0 && i > 0:
			point = i
		default:
			return n, false
		}
	}
	if len(n.body) == 0 || len(n.body) > 12 || point == len(n.body)-1 {
		return n, false
	}
	if point >= 0 {
		n.form, _ = separatorsOf(n.body)
	}
	return n, true
}

// separatorsOf tells what the separators of a number can mean; it is false where
// they make no number, as in 1,2,3 or 12 5.
func separatorsOf(body string) (separators, bool) {
	points, commas := strings.Count(body, "."), strings.Count(body, ",")
	spaced := strings.ContainsAny(body, " '")
	switch {
	case points == 0 && commas == 0:
		return wholeNumber, !spaced || grouped(body)
	case points > 0 && commas > 0:
		p, c := strings.LastIndexByte(body, '.'), strings.LastIndexByte(body, ',')
		if p > c {
			return pointDecimal, points == 1 && grouped(body[:p]) && rePlain.MatchString(body[p+1:])
		}
		return commaDecimal, commas == 1 && grouped(body[:c]) && rePlain.MatchString(body[c+1:])
	case points > 1:
		return pointGroups, !spaced && grouped(body)
	case commas > 1:
		return commaGroups, !spaced && grouped(body)
	}
	i := strings.IndexAny(body, ".,")
	before, after := body[:i], body[i+1:]
	if !rePlain.MatchString(after) || before != "" && !rePlain.MatchString(before) && !grouped(before) {
		return 0, false
	}
	either := len(after) == 3 && rePlain.MatchString(before) && len(before) <= 3 && before[0] != '0'
	switch {
	case points == 1 && either:
		return pointEither, true
	case points == 1:
		return pointDecimal, true
	case either:
		return commaEither, true
	}
	return commaDecimal, true
}

// grouped says whether digits stand in threes behind one kind of separator, or
// without any.
func grouped(s string) bool {
	if rePlain.MatchString(s) {
		return true
	}
	if !reGroups.MatchString(s) {
		return false
	}
	sep := s[strings.IndexAny(s, " '.,")]
	return strings.Count(s, string(sep)) == strings.Count(s, " ")+strings.Count(s, "'")+strings.Count(s, ".")+strings.Count(s, ",")
}

// value is the number when decimal is its decimal separator ('.' or ',') and all
// others separate thousands.
func (n number) value(decimal byte) float64 {
	var b strings.Builder
	if n.negative {
		b.WriteByte('-')
	}
	for i := 0; i < len(n.body); i++ {
		switch ch := n.body[i]; {
		case ch >= '0' && ch <= '9':
			b.WriteByte(ch)
		case ch == decimal:
			b.WriteByte('.')
		}
	}
	v, err := strconv.ParseFloat(b.String(), 64)
	if err != nil && !errors.Is(err, strconv.ErrRange) {
		panic("table: number taken apart wrongly: " + b.String())
	}
	if v == 0 {
		return 0 // no negative zero
	}
	return v
}

const months = `(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|ene|abr|ago|dic)`

var (
	reHex      = regexp.MustCompile(`(?i)^[+-]?0[xbo][0-9a-f.]+`)
	reExponent = regexp.MustCompile(`(?i)^[+-]?[0-9.,]+e[+-]?[0-9]+$`)
	reDate     = regexp.MustCompile(`(?i)^[0-9]{1,2}[-/. ]` + months + `[a-z]*\.?$|^` + months + `[a-z]*\.?[-/. ][0-9]{1,2}$|^[0-9]{1,2}/[0-9]{1,2}(/[0-9]{2,4})?$|^[0-9]{4}-[0-9]{2}-[0-9]{2}$|^[0-9]{1,2}-[0-9]{1,2}-[0-9]{4}$`)
	reTwoParts = regexp.MustCompile(`(?i)^([0-9]{1,2})[-/. ](` + months + `)|^(` + months + `)[a-z]*\.?[-/. ]([0-9]{1,2})|^([0-9]{1,2})/([0-9]{1,2})$`)
	reSheetErr = regexp.MustCompile(`^#(N/A|VALUE!|REF!|DIV/0!|NAME\?|NUM!|NULL!|ERROR!|SPILL!|CALC!)`)
	reWord     = regexp.MustCompile(`(?i)^[+-]?(nan|inf|infinity)$`)
	reUnitTail = regexp.MustCompile(`^[+-]?[0-9]+(?:[.,][0-9]+)? ?([^0-9.,' -]+.*)$`)
)

// diagnose says why a text that is no number is none.
func diagnose(s string) *notANumber {
	quoted := fmt.Sprintf("%q", short(s))
	e := &notANumber{id: "number-unreadable", what: quoted + " is not a number"}
	switch {
	case reSheetErr.MatchString(s):
		return &notANumber{"cell-formula", quoted + " is an error of the spreadsheet", "mend the formula and save the table again"}
	case strings.HasPrefix(s, "="):
		return &notANumber{"cell-formula", quoted + " is a formula", "save the table with values in place of formulas"}
	case reDate.MatchString(s):
		return dateInDisguise(s, quoted)
	case reRange.MatchString(s):
		return &notANumber{"number-range", quoted + " is a range", "write one number; ranges go into a low and a high column"}
	case reHex.MatchString(s), reExponent.MatchString(s), reWord.MatchString(s), strings.Contains(s, "_"):
		e.what += " as people write it"
		e.cure = "write it with digits, a minus sign and one decimal separator only"
	case strings.IndexFunc(s, func(r rune) bool { return r > unicode.MaxASCII && unicode.IsDigit(r) }) >= 0:
		e.what = quoted + " has digits other than 0 to 9"
		e.cure = "retype it with the digits 0 to 9"
	case strings.ContainsAny(s, "½¼¾⅓⅔⅛") || strings.Contains(s, "/"):
		e.what = quoted + " has a fraction"
		e.cure = "write it as a decimal number"
	case strings.HasPrefix(s, "(") && strings.HasSuffix(s, ")"):
		e.cure = "write a minus sign before the digits"
	case reUnitTail.MatchString(s):
		return &notANumber{"unit-unknown", fmt.Sprintf("%q after the number is no unit that tables use", strings.TrimSpace(reUnitTail.FindStringSubmatch(s)[1])), "write the number alone and the unit in the heading; remarks go into the note column"}
	default:
		e.cure = "write a number, leave the cell empty, or write unknown if nobody knows"
	}
	return e
}

// dateInDisguise explains a date in a column of numbers: a spreadsheet turns the
// range 2-4 into 4-Feb.
func dateInDisguise(s, quoted string) *notANumber {
	e := &notANumber{"number-date", quoted + " is a date", "type the number again in a column formatted as text"}
	m := reTwoParts.FindStringSubmatch(s)
	if m == nil {
		return e
	}
	month := func(name string) int {
		switch strings.ToLower(name)[:3] {
		case "ene":
			return 1
		case "abr":
			return 4
		case "ago":
			return 8
		case "dic":
			return 12
		}
		return strings.Index("janfebmaraprmayjunjulaugsepoctnovdec", strings.ToLower(name)[:3])/3 + 1
	}
	var was string
	switch {
	case m[1] != "":
		was = fmt.Sprintf("%d-%s", month(m[2]), m[1])
	case m[3] != "":
		was = fmt.Sprintf("%d-%s", month(m[3]), strings.TrimLeft(m[4], "0"))
	default:
		was = m[5] + "-" + m[6]
	}
	e.what = fmt.Sprintf("%s looks like %s that a spreadsheet changed into a date", quoted, was)
	return e
}
