package intake

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
)

// openDate is a date written as two numbers and a year, 3/4/2001, whose order is
// not known before all rows are seen. year is 0 for a date that is not open.
type openDate struct {
	year int16
	a, b int8
}

// readDate reads the date of a row, from one, two or three columns. Faults are told;
// false where there is no date.
func (x *recordTable) readDate(fields []string, line int, row *sheetRow) bool {
	c := &x.columns
	switch {
	case c.dayOfYear >= 0:
		year, ok := x.part(fields, c.year, line)
		doy, ok2 := x.part(fields, c.dayOfYear, line)
		if !ok || !ok2 {
			return false
		}
		days := 365
		if quantity.Leap(year) {
			days = 366
		}
		if !plausibleYear(year) || doy < 1 || doy > days {
			x.impossible(line, c.dayOfYear, fmt.Sprintf("day %d of %d", doy, year))
			return false
		}
		row.day = quantity.DayOf(year, 1, 1) + quantity.Day(doy-1)
		return true
	case c.month >= 0:
		year, ok := x.part(fields, c.year, line)
		month, ok2 := x.part(fields, c.month, line)
		day, ok3 := x.part(fields, c.day, line)
		if !ok || !ok2 || !ok3 {
			return false
		}
		if !plausibleYear(year) || !quantity.ValidDate(year, month, day) {
			x.impossible(line, c.day, fmt.Sprintf("%d-%02d-%02d", year, month, day))
			return false
		}
		row.day = quantity.DayOf(year, month, day)
		return true
	}
	cell := strings.TrimSpace(fields[c.day])
	year, a, b, form := splitDate(cell)
	switch form {
	case yearFirst:
		if !plausibleYear(year) || !quantity.ValidDate(year, a, b) {
			x.impossible(line, c.day, cell)
			return false
		}
		row.day = quantity.DayOf(year, a, b)
	case dayFirst:
		if !plausibleYear(year) || !quantity.ValidDate(year, b, a) {
			x.impossible(line, c.day, cell)
			return false
		}
		row.day = quantity.DayOf(year, b, a)
	case orderOpen:
		if !plausibleYear(year) || a > 31 || b > 31 {
			x.impossible(line, c.day, cell)
			return false
		}
		row.open = openDate{int16(year), int8(a), int8(b)}
	default:
		x.unreadable(line, c.day, cell)
		return false
	}
	return true
}

// part reads a whole number of a date that stands in several columns.
func (x *recordTable) part(fields []string, column, line int) (int, bool) {
	cell := strings.TrimSpace(fields[column])
	n, ok := digits([]byte(cell))
	if !ok || len(cell) > 4 {
		x.unreadable(line, column, cell)
		return 0, false
	}
	return n, true
}

func (x *recordTable) unreadable(line, column int, cell string) {
	x.t.add(diag.Fault{
		At: x.at(line, column), ID: "record-date-unreadable", What: fmt.Sprintf("%q is no date", shorten(cell)),
		Expected: "a date such as 2001-04-07 or 20010407, with four digits of the year",
		Cure:     "mend the cell; delete the row if it is a remark",
	})
}

func (x *recordTable) impossible(line, column int, date string) {
	x.t.add(diag.Fault{
		At: x.at(line, column), ID: "record-date-impossible", What: date + " is not a day of the calendar, or of no year from 1700 to 2199",
		Expected: "a date that exists", Cure: "mend the cell or delete the row",
	})
}

// dateForm says how a date is written.
type dateForm uint8

const (
	noDate    dateForm = iota
	yearFirst          // 2001-04-07, 2001/4/7, 20010407
	dayFirst           // 7.4.2001: with full stops the day always comes first
	orderOpen          // 7/4/2001, 7-4-2001
)

// splitDate takes a date apart. A time of day after it is cut off. For yearFirst a
// and b are month and day, else the two numbers in the order written.
func splitDate(s string) (year, a, b int, form dateForm) {
	if len(s) == 10 && s[4] == '-' && s[7] == '-' { // 2001-04-07, as nearly all records have it
		y, okY := digits([]byte(s[:4]))
		m, okM := digits([]byte(s[5:7]))
		d, okD := digits([]byte(s[8:]))
		if okY && okM && okD {
			return y, m, d, yearFirst
		}
	}
	if i := strings.IndexAny(s, "T "); i > 0 {
		s = s[:i]
	}
	if len(s) == 8 {
		if n, ok := digits([]byte(s)); ok {
			return n / 10000, n / 100 % 100, n % 100, yearFirst
		}
	}
	sep := strings.IndexAny(s, "-/.")
	if sep < 0 {
		return 0, 0, 0, noDate
	}
	first, rest := s[:sep], s[sep+1:]
	second, third, ok := strings.Cut(rest, s[sep:sep+1])
	x, okX := digits([]byte(first))
	y, okY := digits([]byte(second))
	z, okZ := digits([]byte(third))
	switch {
	case !ok || !okX || !okY || !okZ || len(second) > 2:
		return 0, 0, 0, noDate
	case len(first) == 4 && len(third) <= 2:
		return x, y, z, yearFirst
	case len(first) > 2 || len(third) != 4:
		return 0, 0, 0, noDate // two digits of a year: 68 is 1968 or 2068
	case s[sep] == '.':
		return z, x, y, dayFirst
	}
	return z, x, y, orderOpen
}

// orderDates settles the order of dates such as 7/4/2001, for the whole column at
// once: a number above 12 in the first place proves day first, in the second month
// first. A column that proves neither, or both, is a fault.
func (x *recordTable) orderDates() bool {
	dayFirstRow, monthFirstRow, openRow := -1, -1, -1
	for i, r := range x.rows {
		switch {
		case r.open.year == 0:
		case r.open.a > 12:
			dayFirstRow, openRow = max(dayFirstRow, i), i
		case r.open.b > 12:
			monthFirstRow, openRow = max(monthFirstRow, i), i
		default:
			openRow = i
		}
	}
	if openRow < 0 {
		return true
	}
	if (dayFirstRow < 0) == (monthFirstRow < 0) {
		r := x.rows[openRow]
		what := fmt.Sprintf("%d/%d/%d can be two dates, and no row of the column proves which", r.open.a, r.open.b, r.open.year)
		if dayFirstRow >= 0 {
			r = x.rows[dayFirstRow]
			what = fmt.Sprintf("line %d has the month first, line %d the day", x.rows[monthFirstRow].line, r.line)
		}
		x.t.add(diag.Fault{
			At: x.at(int(r.line), x.columns.day), ID: "record-date-ambiguous", What: what,
			Expected: "dates that can be read in one way, such as 2001-04-07", Cure: "format the column as year-month-day and save it again",
		})
		return false
	}
	for i := range x.rows {
		o := x.rows[i].open
		if o.year == 0 {
			continue
		}
		month, day := int(o.a), int(o.b)
		if dayFirstRow >= 0 {
			month, day = day, month
		}
		if !quantity.ValidDate(int(o.year), month, day) {
			x.impossible(int(x.rows[i].line), x.columns.day, fmt.Sprintf("%d/%d/%d", o.a, o.b, o.year))
			continue
		}
		x.rows[i].day = quantity.DayOf(int(o.year), month, day)
	}
	return !x.t.failed
}
