package intake

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/table"
)

var (
	reISO       = regexp.MustCompile(`^([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})$`)
	reMonthDay  = regexp.MustCompile(`^([0-9]{1,2})-([0-9]{1,2})$`)
	reDayName   = regexp.MustCompile(`^([0-9]{1,2})\.?(?:st|nd|rd|th)?[ -](?:de )?(\pL{3,12})\.?(?:[ ,-]+(?:de )?([0-9]{4}))?$`)
	reNameDay   = regexp.MustCompile(`^(\pL{3,12})\.?[ -]([0-9]{1,2})(?:st|nd|rd|th)?(?:[ ,]+([0-9]{4}))?$`)
	reSlashes   = regexp.MustCompile(`^[0-9]{1,2}[/.][0-9]{1,2}(?:[/.]([0-9]{2,4})?)?$`)
	reSerial    = regexp.MustCompile(`^[0-9]{5}(\.[0-9]+)?$`)
	monthDigits = regexp.MustCompile(`[0-9]+`)
)

// date is a calendar date as written; year 0 where none is.
type date struct{ year, month, day int }

// dateOf reads a date: 2026-03-05, 5 March 2026, Mar 5 2026 and the same without
// a year; 05-03 is month-day. What is no date, is none that exists or could be
// two dates is reported. wantYear says whether a year must be there or must not.
func dateOf(c table.Cell, wantYear bool) (date, bool) {
	like := "a date without a year such as 05-18 or 18 May"
	if wantYear {
		like = "a date such as 2026-03-05 or 5 March 2026"
	}
	d, what, cure := readDate(c.Text(), wantYear)
	quoted := strconv.Quote(c.Text())
	switch {
	case what != "":
	case wantYear && d.year == 0:
		what, cure = quoted+" has no year", "write the year too"
	case !wantYear && d.year != 0:
		what, cure = quoted+" has a year, but the date stands for all years", "leave the year out: write "+d.written(false)
	default:
		return d, true
	}
	c.Fault("date-unreadable", what, like, cure)
	return date{}, false
}

// dayOfYear is a date of every year as a figure; blank and unknown are kept.
func dayOfYear(c table.Cell) figure.Of[quantity.MonthDay] {
	f := figure.Of[quantity.MonthDay]{Owner: c.Owner(), Cell: c.At(), Source: c.Source()}
	switch {
	case c.Unknown():
		f.State = figure.Unknown
	case !c.Blank():
		if d, ok := dateOf(c, false); ok {
			f = figure.Is(quantity.MonthDay{Month: d.month, Day: d.day}, c.At(), c.Source())
			f.Owner = c.Owner()
		}
	}
	return f
}

// readDate reads a date with or without a year; what is wrong with it, and the cure for
// a cell that wants a year or wants none, where it is none.
func readDate(written string, wantYear bool) (d date, what, cure string) {
	text, quoted := strings.ToLower(written), strconv.Quote(written)
	switch m := reISO.FindStringSubmatch(text); {
	case m != nil:
		d = date{atoi(m[1]), atoi(m[2]), atoi(m[3])}
	case reMonthDay.MatchString(text):
		m := reMonthDay.FindStringSubmatch(text)
		d = date{0, atoi(m[1]), atoi(m[2])}
	case reDayName.MatchString(text):
		m := reDayName.FindStringSubmatch(text)
		d = date{atoi(m[3]), monthOf(m[2]), atoi(m[1])}
	case reNameDay.MatchString(text):
		m := reNameDay.FindStringSubmatch(text)
		d = date{atoi(m[3]), monthOf(m[1]), atoi(m[2])}
	case reSlashes.MatchString(text):
		what, readings := slashes(text, quoted)
		return date{}, what, cureOf(readings, wantYear)
	case reSerial.MatchString(text):
		return date{}, serial(text, quoted), "type the date again in a column formatted as text"
	default:
		return date{}, quoted + " is not a date", "write it so"
	}
	switch {
	case d.month == 0:
		return date{}, quoted + " names no month that is known", "write the month in English or Spanish, or as a number"
	case !d.exists():
		cure = "look at the day and the month"
		if turned := (date{d.year, d.day, d.month}); turned.exists() {
			cure = cureOf([]date{turned}, wantYear)
		}
		return date{}, fmt.Sprintf("there is no %s", quoted), cure
	}
	return d, "", ""
}

// exists says whether the calendar has the date, some year where it has none.
func (d date) exists() bool {
	if d.year == 0 {
		return quantity.ValidDate(2000, d.month, d.day)
	}
	return quantity.ValidDate(d.year, d.month, d.day)
}

// written is the date in figures as a cell wants it; YEAR stands for one that is missing.
func (d date) written(wantYear bool) string {
	switch {
	case !wantYear:
		return fmt.Sprintf("%02d-%02d", d.month, d.day)
	case d.year == 0:
		return fmt.Sprintf("YEAR-%02d-%02d", d.month, d.day)
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.year, d.month, d.day)
}

// named is the day and the month as a word.
func (d date) named() string {
	return fmt.Sprintf("%d %s", d.day, [...]string{"January", "February", "March", "April", "May", "June", "July",
		"August", "September", "October", "November", "December"}[d.month-1])
}

// cureOf says how to write what a date may mean, in the form that its cell wants.
func cureOf(readings []date, wantYear bool) string {
	switch len(readings) {
	case 1:
		year := ""
		if y := readings[0].year; wantYear && y != 0 {
			year = " " + strconv.Itoa(y)
		} else if wantYear {
			year = " with the year"
		}
		return fmt.Sprintf("write %s or %s%s", readings[0].written(wantYear), readings[0].named(), year)
	case 2:
		return fmt.Sprintf("write %s for %s, %s for %s", readings[0].written(wantYear), readings[0].named(), readings[1].written(wantYear), readings[1].named())
	}
	if wantYear {
		return "write the month as a word, or year-month-day"
	}
	return "write the month as a word, or month-day"
}

// slashes explains why 5/6 is refused, and what it may mean.
func slashes(text, quoted string) (what string, readings []date) {
	parts := monthDigits.FindAllString(text, -1)
	a, b, year := atoi(parts[0]), atoi(parts[1]), 0
	if len(parts) == 3 {
		year = atoi(parts[2])
	}
	dayFirst, monthFirst := date{year, b, a}, date{year, a, b}
	short := len(parts) == 3 && len(parts[2]) != 4
	if short {
		dayFirst.year, monthFirst.year = 0, 0
	}
	if dayFirst.exists() {
		readings = append(readings, dayFirst)
	}
	if monthFirst.exists() && a != b {
		readings = append(readings, monthFirst)
	}
	switch {
	case short:
		return fmt.Sprintf("%s has a year of %s digits", quoted, [...]string{2: "two", 3: "three"}[len(parts[2])]), readings
	case len(readings) == 2:
		return fmt.Sprintf("%s can be %s or %s", quoted, readings[0].named(), readings[1].named()), readings
	case dayFirst.exists():
		return fmt.Sprintf("%s is %s only if the day comes first, which tables do not settle", quoted, dayFirst.named()), readings
	case monthFirst.exists():
		return fmt.Sprintf("%s is %s only if the month comes first, which tables do not settle", quoted, monthFirst.named()), readings
	}
	return quoted + " is not a date", nil
}

// serial explains the five-digit day number that a spreadsheet shows for a date.
// Counts begin so that day 1 is 1 January 1900 (with a 29 February that never
// was) or day 0 is 1 January 1904.
func serial(text, quoted string) string {
	n := quantity.Day(atoi(monthDigits.FindString(text)))
	return fmt.Sprintf("%s is a spreadsheet's day number: %s, or %s in a file from an old Mac",
		quoted, (quantity.DayOf(1899, 12, 30) + n).ISO(), (quantity.DayOf(1904, 1, 1) + n).ISO())
}

// monthOf is the month, 1 to 12, of a name or its beginning of three letters or
// more; 0 for any other word.
func monthOf(name string) int {
	full := []string{
		"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december",
		"enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre",
	}
	for i, m := range full {
		if strings.HasPrefix(m, name) || name == "sept" && i == 8 || name == "setiembre" && i == 20 {
			return i%12 + 1
		}
	}
	return 0
}

func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}
