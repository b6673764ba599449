package intake

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// NCEI's normals put numbers and letters where a figure could not be worked out.
// Numbers stand in the figure's own cell: in the files of 1981-2010 as they are, in
// those of 1991-2020 with decimals. Letters stand in the measurement flag of 1991-2020
// (section "Measurement Flags" of the publisher's description).
const (
	codeAnyMonth     = "-4444" // freezes can come all year round
	codeInconsistent = "-5555" // contradicts another figure
	codeTooFew       = "-6666" // too few freezes: it never or hardly ever freezes
	codeZero         = "-7777" // not zero, but rounded to it
	codeNoDay        = "-8888" // no day of the calendar
	codeMissing      = "-9999"
)

// codeOfFlag is the number that says the same as a measurement flag.
var codeOfFlag = map[string]string{"V": codeAnyMonth, "Z": codeInconsistent, "Y": codeTooFew, "X": codeZero, "M": codeMissing}

// Completeness letters: complete, standard, representative, provisional, quasi and
// estimated. All are figures to be used; the years behind them are counted apart.
const completeness = "CSRPQE"

// normalCell is one figure of a normals file with its flags.
type normalCell struct {
	text string // the figure, or the code that stands for it
	code bool
	bare bool // the flag alone says it
}

// readNormal joins a figure with its measurement flag. A flag and a figure that say
// different things are refused, and so is a flag that nobody explains.
func readNormal(value, flag string) (c normalCell, wrong string) {
	value, flag = strings.TrimSpace(value), strings.TrimSpace(flag)
	c.text = value
	for _, code := range []string{codeAnyMonth, codeInconsistent, codeTooFew, codeZero, codeNoDay, codeMissing} {
		if value == code || strings.TrimRight(value, "0") == code+"." {
			c = normalCell{text: code, code: true}
		}
	}
	meaning, known := codeOfFlag[flag]
	switch {
	case flag == "":
		if value == "" {
			return normalCell{text: codeMissing, code: true}, ""
		}
		return c, ""
	case !known:
		return c, fmt.Sprintf("the flag %q is none that is known", flag)
	case value == "" || c.code && c.text == codeMissing:
		return normalCell{text: meaning, code: true, bare: true}, ""
	case c.code && c.text == meaning:
		return c, ""
	case !c.code && meaning == codeZero:
		return c, "" // the figure is there, and is the rounded one
	}
	return c, fmt.Sprintf("the figure %q and its flag %q do not agree", value, flag)
}

// readAttributes reads the letters beside a figure of 1981-2010: its completeness.
func readAttributes(letters string) (wrong string) {
	letters = strings.TrimSpace(letters)
	if i := strings.IndexFunc(letters, func(r rune) bool { return !strings.ContainsRune(completeness+", ", r) }); i >= 0 {
		return fmt.Sprintf("the letter %q is none that is known", letters[i:i+1])
	}
	return ""
}

// freeze turns a cell of a freeze table into a row's state and date. known is false
// where the publisher has no figure.
func (c normalCell) freeze() (state record.FreezeState, date quantity.MonthDay, known bool, wrong string) {
	switch {
	case c.code && c.text == codeAnyMonth:
		return record.FreezeAnyMonth, date, true, ""
	case c.code && c.text == codeTooFew:
		return record.FreezeNever, date, true, ""
	case c.code && c.text == codeZero:
		return 0, date, false, "a date cannot be rounded to zero"
	case c.code:
		return 0, date, false, ""
	}
	if m, d, ok := strings.Cut(c.text, "/"); ok && len(m) == 2 && len(d) == 2 {
		month, okMonth := digits([]byte(m))
		day, okDay := digits([]byte(d))
		if okMonth && okDay && quantity.ValidDate(2000, month, day) {
			return record.FreezeDate, quantity.MonthDay{Month: month, Day: day}, true, ""
		}
	}
	return 0, date, false, fmt.Sprintf("%q is no date such as 05/24", c.text)
}

// days turns a cell of season lengths into whole days, 0 to 366.
func (c normalCell) days() (days int, known bool, wrong string) {
	switch {
	case c.code && c.text == codeZero:
		return 0, true, ""
	case c.code:
		return 0, false, ""
	}
	v, ok := thousandths(c.text, false)
	if !ok || v%1000 != 0 || v < 0 || v > 366_000 {
		return 0, false, fmt.Sprintf("%q is no number of days of a year", c.text)
	}
	return int(v / 1000), true, ""
}

// number turns a cell into thousandths of its unit.
func (c normalCell) number() (v int32, known bool, wrong string) {
	switch {
	case c.code && c.text == codeZero:
		return 0, true, ""
	case c.code:
		return 0, false, ""
	}
	v, ok := thousandths(c.text, false)
	if !ok {
		return 0, false, fmt.Sprintf("%q is no number", c.text)
	}
	return v, true, ""
}

// percentOf is a percentage of a freeze column as the chance of harm. Of a last freeze
// P is the chance that it comes on the date or later, of a first freeze that it comes
// on the date or earlier: both are the harm itself. Of a season's length P is the
// chance that it is so long or longer: harm is the rest.
func percentOf(element string, p int) quantity.Odds {
	if element == "GSL" {
		p = 100 - p
	}
	return quantity.Odds(p) / 100
}

// elementEvent is the event of PRBLST and PRBFST.
var elementEvent = map[string]record.Event{"LST": record.Last, "FST": record.First}

// fewestYears is the smallest number of years above 0, 0 where there is none.
func fewestYears(a, b int) int {
	if a == 0 || b == 0 {
		return max(a, b)
	}
	return min(a, b)
}

// periodOf is the years FROM-TO that stand in a file's name; 0, 0 where none do.
func periodOf(file string) (from, to int) {
	words := strings.FieldsFunc(stem(file), func(r rune) bool { return r != '-' && (r < '0' || r > '9') })
	for _, w := range slices.Backward(words) {
		a, b, ok := strings.Cut(w, "-")
		x, errA := strconv.Atoi(a)
		y, errB := strconv.Atoi(b)
		if ok && errA == nil && errB == nil && plausibleYear(x) && plausibleYear(y) && x < y {
			return x, y
		}
	}
	return 0, 0
}
