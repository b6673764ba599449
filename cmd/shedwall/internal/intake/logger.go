package intake

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// LoggerMapping says where a logger's file keeps what, by column headings. What is
// left empty is taken from headings that can be read in one way only.
type LoggerMapping struct {
	Time        string // column of date and time together
	Temperature string
	Unit        Unit // UnitUnsaid: the heading must say it
}

// Logger reads a file of temperatures with date and time of day. The columns time and
// temperature_c or temperature_f need no mapping; a date and a time column are put
// together; other headings are taken where only one can be meant, and that is told.
// Lines of title above the headings, commas, semicolons and tabs, day or month first
// (the whole column must tell which) are all right. Readings that are blank or no
// temperature on earth are left out. ok is false where a fault of severity Error was
// added.
func Logger(file string, data []byte, m LoggerMapping, faults *diag.List) (l record.Logger, ok bool) {
	t := &teller{file: file}
	defer t.flush(faults)
	text, ok := unpack(data, t)
	if !ok {
		return l, false
	}
	x := &loggerTable{m: m, t: t, missing: missingTextsOf(nil)}
	body, line, ok := x.findHeadings(text)
	if !ok {
		return l, false
	}
	x.scan(body, line)
	if t.failed {
		return l, false
	}
	if len(x.rows) > 0 && !x.orderDates() {
		return l, false
	}
	if len(x.rows) > 0 {
		unit, ok := x.unit()
		if !ok {
			return l, false
		}
		l = x.logger(unit)
	}
	l.File = file
	if len(l.Readings) == 0 && !t.failed {
		t.add(diag.Fault{ID: "logger-empty", What: "no reading is in the file", Expected: "rows of a time and a temperature", Cure: "read the logger out again"})
	}
	return l, !t.failed
}

// loggerTable is a logger's file while it is read.
type loggerTable struct {
	m            LoggerMapping
	t            *teller
	comma        rune
	names        []string
	date, time   int // date -1: both stand in time
	temperature  int
	missing      missingTexts
	rows         []loggerRow
	zoned, plain int // rows with and without a zone
}

type loggerRow struct {
	line   int32
	day    quantity.Day
	open   openDate
	minute int32
	zone   int32 // minutes
	value  int32 // thousandths of the unit not yet known
}

var (
	loggerTimes        = []string{"time", "datetime", "date_time", "timestamp", "date/time", "local_time", "time_local"}
	loggerTemperatures = []string{"temperature_c", "temperature_f", "temp_c", "temp_f", "temperature", "temp"}
)

// findHeadings looks for the row of headings; see searchHeadings.
func (x *loggerTable) findHeadings(text []byte) ([]byte, int, bool) {
	body, line, best, ok := searchHeadings(text, func(h headingRow, comma rune) bool {
		if !x.resolve(h) {
			return false
		}
		x.comma, x.names = comma, h.names
		return true
	})
	if ok {
		return body, line, true
	}
	x.unresolved(best, line)
	return nil, 0, false
}

func (x *loggerTable) resolve(h headingRow) bool {
	var c recordColumns
	x.date = -1
	x.time = c.find(h, x.m.Time, isMoment, loggerTimes...)
	if date := slices.Index(h.plain, "date"); x.m.Time == "" && date >= 0 {
		if x.time >= 0 && x.time != date {
			x.date = date
		} else {
			x.time = date
		}
	}
	x.temperature = c.find(h, x.m.Temperature, isAirTemperature, loggerTemperatures...)
	return x.time >= 0 && x.temperature >= 0 && x.time != x.temperature
}

// isMoment accepts a heading of date and time together: "Date Time, GMT-05:00".
func isMoment(heading string) bool {
	w := headingWords(heading)
	return slices.Contains(w, "date") && slices.Contains(w, "time") || slices.Contains(w, "timestamp") || slices.Contains(w, "datetime")
}

// isAirTemperature accepts a heading of temperature that speaks of nothing else.
func isAirTemperature(heading string) bool {
	w := headingWords(heading)
	if slices.ContainsFunc(w, func(s string) bool { return slices.Contains(otherThings, s) }) {
		return false
	}
	return slices.ContainsFunc(w, func(s string) bool {
		return strings.HasPrefix(s, "temperature") || s == "temp" || s == "tempc" || s == "tempf"
	})
}

func (x *loggerTable) unresolved(h headingRow, line int) {
	if len(h.names) == 0 {
		x.t.add(diag.Fault{
			At: diag.Position{Line: 1}, ID: "logger-layout-unknown", What: "no row of headings was found",
			Expected: "a table with headings, such as time,temperature_c", Cure: "save the logger's readings as CSV with headings",
		})
		return
	}
	told := false
	for _, name := range []string{x.m.Time, x.m.Temperature} {
		if name == "" || h.named(name) >= 0 {
			continue
		}
		told = true
		f := diag.Fault{At: diag.Position{Line: line}, ID: "logger-column-unknown", What: fmt.Sprintf("there is no column %q", name),
			Expected: "one of " + columnList(h.names), Cure: "name a column as the headings do"}
		if near := diag.Nearest(plainHeading(name), h.plain); near != "" {
			f.Cure = fmt.Sprintf("did you mean %q?", h.names[slices.Index(h.plain, near)])
		}
		x.t.add(f)
	}
	if told {
		return
	}
	x.t.add(diag.Fault{
		At: diag.Position{Line: line}, ID: "logger-layout-unknown", What: "it cannot be told which columns hold time and temperature; the columns are " + columnList(h.names),
		Expected: "time and temperature_c or temperature_f", Cure: "rename two headings so, or name the columns",
	})
}

// scan reads the rows below the headings.
func (x *loggerTable) scan(body []byte, firstLine int) {
	r := csv.NewReader(bytes.NewReader(body))
	r.Comma, r.LazyQuotes, r.ReuseRecord, r.FieldsPerRecord = x.comma, true, true, -1
	last := max(x.time, x.date, x.temperature)
	for {
		fields, err := r.Read()
		if err != nil {
			return // LazyQuotes and a free number of fields leave the end of the file alone
		}
		at, _ := r.FieldPos(0)
		line := at + firstLine - 1
		if emptyRow(fields) || strings.HasPrefix(fields[0], "#") || len(fields) <= last || fields[x.temperature] == x.names[x.temperature] {
			continue // loggers write remarks of their own, such as "button pressed", in short rows
		}
		if overlong(fields, len(x.names)) {
			x.t.add(rowLong(line, fields, len(x.names), x.comma))
			continue
		}
		cell := strings.TrimSpace(fields[x.temperature])
		if cell == "" || x.missing.has(cell) {
			continue
		}
		row := loggerRow{line: int32(line)}
		var ok bool
		if row.value, ok = thousandths(cell, x.comma != ','); !ok {
			x.t.add(diag.Fault{At: x.at(line, x.temperature), ID: "record-number-unreadable", What: fmt.Sprintf("%q is no temperature", shorten(cell)),
				Expected: "a number such as -2.2, or an empty cell where there is no reading", Cure: "mend the cell or delete the row"})
			continue
		}
		if isSentinel(row.value) {
			continue
		}
		when := strings.TrimSpace(fields[x.time])
		if x.date >= 0 {
			when = strings.TrimSpace(fields[x.date]) + " " + when
		}
		if x.moment(when, line, &row) {
			x.rows = append(x.rows, row)
		}
	}
}

func (x *loggerTable) at(line, column int) diag.Position {
	return diag.Position{Line: line, Cell: spreadsheetCell(line, column), Heading: strings.TrimSpace(x.names[column])}
}

// moment reads date and time of day.
func (x *loggerTable) moment(s string, line int, row *loggerRow) bool {
	year, a, b, form := splitDate(s)
	bad := func(what, expected string) bool {
		x.t.add(diag.Fault{At: x.at(line, x.time), ID: "logger-time-unreadable", What: fmt.Sprintf("%q %s", shorten(s), what),
			Expected: expected, Cure: "mend the cell, or set the logger's program to write times so"})
		return false
	}
	valid := true
	switch form {
	case yearFirst:
		valid = plausibleYear(year) && quantity.ValidDate(year, a, b)
	case dayFirst:
		a, b = b, a
		valid = plausibleYear(year) && quantity.ValidDate(year, a, b)
	case orderOpen:
		valid = plausibleYear(year) && a >= 1 && b >= 1 && a <= 31 && b <= 31
	default:
		return bad("is no date and time", "a time such as 2018-03-19 06:10, with four digits of the year")
	}
	if !valid {
		return bad("is no day of the calendar", "a date that exists")
	}
	i := strings.IndexAny(s, "T ")
	if i < 0 {
		return bad("has no time of day", "a time such as 2018-03-19 06:10: nights cannot be told from days without it")
	}
	minute, zone, zoned, ok := clock(s[i+1:])
	if !ok {
		return bad("has no time of day that can be read", "a time such as 06:10 or 6:10 PM")
	}
	if zoned {
		x.zoned++
	} else {
		x.plain++
	}
	row.minute, row.zone = int32(minute), int32(zone)
	if form == orderOpen {
		row.open = openDate{int16(year), int8(a), int8(b)}
	} else {
		row.day = quantity.DayOf(year, a, b)
	}
	return true
}

// clock reads a time of day: 6:10, 06:10:30.5, 6:10 PM, and with a zone 06:10Z or
// 06:10-05:00. Seconds are dropped.
func clock(s string) (minute, zone int, zoned, ok bool) {
	s = strings.ToUpper(strings.TrimSpace(s))
	for _, z := range []string{"Z", "UTC", "GMT"} {
		if rest, cut := strings.CutSuffix(s, z); cut {
			s, zoned = strings.TrimSpace(rest), true
		}
	}
	if i := strings.LastIndexAny(s, "+-"); i > 0 && !zoned {
		hours, minutes, colon := strings.Cut(s[i+1:], ":")
		if !colon && len(hours) == 4 {
			hours, minutes = hours[:2], hours[2:]
		}
		h, ok1 := digits([]byte(hours))
		m, ok2 := 0, true
		if minutes != "" {
			m, ok2 = digits([]byte(minutes))
		}
		if !ok1 || !ok2 || h > 14 || m > 59 {
			return 0, 0, false, false
		}
		if zone = h*60 + m; s[i] == '-' {
			zone = -zone
		}
		s, zoned = strings.TrimSpace(s[:i]), true
	}
	noon := 0
	for _, half := range []string{"AM", "PM", "A.M.", "P.M."} {
		if rest, cut := strings.CutSuffix(s, half); cut {
			s, noon = strings.TrimSpace(rest), 1+strings.Index("AP", half[:1])
		}
	}
	hours, rest, colon := strings.Cut(s, ":")
	minutes, seconds, _ := strings.Cut(rest, ":")
	h, ok1 := digits([]byte(hours))
	m, ok2 := digits([]byte(minutes))
	if !colon || !ok1 || !ok2 || len(hours) > 2 || len(minutes) != 2 || h > 23 || m > 59 || strings.Trim(seconds, "0123456789.") != "" || noon > 0 && (h < 1 || h > 12) {
		return 0, 0, false, false
	}
	if noon > 0 {
		h = h%12 + 12*(noon-1)
	}
	return h*60 + m, zone, zoned, true
}
