package intake

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
)

// maxPreamble is how many lines of title and remarks may stand above the headings.
const maxPreamble = 60

// sheetRow is a row whose numbers are read but not yet understood: the unit of its
// readings and the order of day and month may only be known when all rows are in.
type sheetRow struct {
	line     int32
	station  int32 // index into the stations gathered
	day      quantity.Day
	open     openDate
	min, max int32 // thousandths of the unit not yet known; noReading for none
}

// recordTable is a CSV file while it is read.
type recordTable struct {
	m        Mapping
	t        *teller
	comma    rune
	columns  recordColumns
	head     headingRow
	stations *recordStations
	rows     []sheetRow
	missing  missingTexts
	flagged  []int // per station
	sentinel []int
	watches  []*watch
}

// readCSV reads a table of one row a day.
func readCSV(text []byte, m Mapping, t *teller) []readings {
	x := &recordTable{m: m, t: t, missing: missingTextsOf(m.Missing)}
	body, line, ok := x.findHeadings(text)
	if !ok {
		return nil
	}
	only := m.Station
	if x.columns.station < 0 {
		only = "" // the file holds one station; a name given is its name
	}
	x.stations = newRecordStations(only)
	x.scan(body, line)
	if t.failed {
		return nil
	}
	low, high, ok := x.units()
	if !ok || !x.orderDates() {
		return nil
	}
	if len(x.columns.guessed) > 0 {
		x.tellColumns(low)
	}
	return x.convert(low, high)
}

// findHeadings looks for the row of headings and the separator with which it makes
// sense: the first row, within maxPreamble lines, that has dates and minima. It
// gives the text below it and the number of its first line.
func (x *recordTable) findHeadings(text []byte) ([]byte, int, bool) {
	body, line, best, ok := searchHeadings(text, func(h headingRow, comma rune) bool {
		c, ok := x.m.resolve(h)
		if ok {
			x.comma, x.columns, x.head = comma, c, h
		}
		return ok
	})
	if ok {
		return body, line, true
	}
	if len(best.names) == 0 {
		first, _, _ := bytes.Cut(bytes.TrimSpace(text), []byte("\n"))
		x.t.add(diag.Fault{
			At: diag.Position{Line: 1}, ID: "record-layout-unknown", What: "the file begins with " + quoteStart(first) + ", which is no row of headings",
			Expected: "a GHCN-Daily file (.dly), or a table with headings over its columns",
			Cure:     "check that this is a record of daily temperatures; add a row of headings if it has none",
		})
		return nil, 0, false
	}
	x.m.unresolved(best, line, x.t)
	return nil, 0, false
}

// searchHeadings looks for the first row, within maxPreamble lines, that makes sense as
// headings with some separator: accept says so. It gives the text below that row and the
// number of its first line; without such a row the one most like headings, and its line.
func searchHeadings(text []byte, accept func(h headingRow, comma rune) bool) (body []byte, line int, best headingRow, ok bool) {
	line = 1
	rest := text
	for n := 1; n <= maxPreamble && len(rest) > 0; n++ {
		var l []byte
		l, rest, _ = bytes.Cut(rest, []byte("\n"))
		for _, comma := range []rune{',', ';', '\t', '|'} {
			fields := splitLine(l, comma)
			if len(fields) < 2 {
				continue
			}
			h := headingsOf(fields)
			if accept(h, comma) {
				return rest, n + 1, h, true
			}
			if looksLikeHeadings(fields) && len(fields) > len(best.names) {
				best, line = h, n
			}
		}
	}
	return nil, line, best, false
}

func splitLine(l []byte, comma rune) []string {
	r := csv.NewReader(bytes.NewReader(l))
	r.Comma, r.LazyQuotes = comma, true
	fields, err := r.Read()
	if err != nil {
		return nil
	}
	return fields
}

// looksLikeHeadings: every cell has something in it, and none is a number.
func looksLikeHeadings(fields []string) bool {
	return !slices.ContainsFunc(fields, func(f string) bool {
		f = strings.TrimSpace(f)
		return f == "" || strings.Trim(f, "0123456789.,-+ ") == ""
	})
}

// scan reads the rows below the headings.
func (x *recordTable) scan(body []byte, firstLine int) {
	r := csv.NewReader(bytes.NewReader(body))
	r.Comma, r.LazyQuotes, r.ReuseRecord, r.FieldsPerRecord = x.comma, true, true, -1
	c := &x.columns
	last := max(c.year, c.month, c.day, c.dayOfYear, c.tmin)
	places := placesOf(x.head)
	// A station's rows usually follow each other: its place is looked up when it changes.
	stationCell, station := "\x00", int32(0)
	x.rows = make([]sheetRow, 0, bytes.Count(body, []byte("\n")))
	for {
		fields, err := r.Read()
		if err != nil {
			return // LazyQuotes and a free number of fields leave the end of the file alone
		}
		at, _ := r.FieldPos(0)
		line := at + firstLine - 1
		if emptyRow(fields) || strings.HasPrefix(fields[0], "#") {
			continue
		}
		if len(fields) <= last {
			x.t.add(diag.Fault{
				At: diag.Position{Line: line}, ID: "record-row-short", What: fmt.Sprintf("this row has %d cells; dates and minima need %d", len(fields), last+1),
				Expected: "a row like the others", Cure: "mend or delete the row",
			})
			continue
		}
		if fields[c.tmin] == x.head.names[c.tmin] {
			continue // the headings again, as in files strung together
		}
		if overlong(fields, len(x.head.names)) {
			x.t.add(rowLong(line, fields, len(x.head.names), x.comma))
			continue
		}
		row := sheetRow{line: int32(line)}
		if c.station >= 0 && fields[c.station] != stationCell {
			stationCell = strings.Clone(fields[c.station])
			station = x.place(strings.TrimSpace(stationCell), line)
		} else if c.station < 0 && stationCell == "\x00" {
			stationCell = ""
			station = x.place("", line)
		}
		if station < 0 {
			continue
		}
		row.station = station
		if !x.readDate(fields, line, &row) {
			continue
		}
		if row.open.year == 0 {
			x.watches[station].see(fields, places, c.tminFlags, row.day)
		}
		row.min = x.reading(fields, c.tmin, c.tminFlags, line, station)
		row.max = x.reading(fields, c.tmax, c.tmaxFlags, line, station)
		if row.min != noReading || row.max != noReading {
			x.rows = append(x.rows, row)
		}
	}
}

// overlong says that something stands in a cell beyond the headings. Empty cells there
// are what spreadsheet programs leave behind.
func overlong(fields []string, headings int) bool {
	return len(fields) > headings && !emptyRow(fields[headings:])
}

// rowLong reports a row with cells beyond its headings. Which of its cells is whose
// nobody can tell then: of 2019-08-01,26,5,13,5 the 5 of 26,5 would be the minimum.
func rowLong(line int, fields []string, headings int, comma rune) diag.Fault {
	f := diag.Fault{
		At: diag.Position{Line: line, Cell: spreadsheetCell(line, headings)}, ID: "record-row-long",
		What:     fmt.Sprintf("this row has %d cells under %d headings", len(fields), headings),
		Expected: "a heading over each cell",
		Cure:     "give each column its heading, or mend the row",
	}
	if comma == ',' {
		f.What += fmt.Sprintf(" (%s)", shorten(strings.Join(fields, ",")))
		f.Cure = "likely its numbers have decimal commas: save the file with semicolons between the cells, or with decimal points; else give each column its heading, or mend the row"
	}
	return f
}

// place is the index of a station's readings, -1 where it is not wanted.
func (x *recordTable) place(id string, line int) int32 {
	if id == "" && x.columns.station >= 0 {
		x.t.add(diag.Fault{
			At: x.at(line, x.columns.station), ID: "record-station-blank", What: "this row does not say its station",
			Expected: "a station in every row", Cure: "fill in the station or delete the row",
		})
		return -1
	}
	if x.stations.of(id) == nil {
		return -1
	}
	i := x.stations.index[id]
	for len(x.flagged) <= i {
		x.flagged, x.sentinel, x.watches = append(x.flagged, 0), append(x.sentinel, 0), append(x.watches, newWatch())
	}
	return int32(i)
}

func emptyRow(fields []string) bool {
	return !slices.ContainsFunc(fields, func(f string) bool { return strings.TrimSpace(f) != "" })
}

// at is the position of a cell. Only its spreadsheet name is given beside the line:
// a row's characters are not counted while reading thousands of rows.
func (x *recordTable) at(line, column int) diag.Position {
	return diag.Position{Line: line, Cell: spreadsheetCell(line, column), Heading: strings.TrimSpace(x.head.names[column])}
}

func spreadsheetCell(line, column int) string {
	var name []byte
	for i := column + 1; i > 0; i = (i - 1) / 26 {
		name = append([]byte{byte('A' + (i-1)%26)}, name...)
	}
	return fmt.Sprintf("%s%d", name, line)
}

// reading reads a cell in thousandths of its unit; noReading for a gap.
func (x *recordTable) reading(fields []string, column, flags, line int, station int32) int32 {
	if column < 0 || column >= len(fields) {
		return noReading
	}
	cell := strings.TrimSpace(fields[column])
	if cell == "" || x.missing.has(cell) {
		return noReading
	}
	v, ok := thousandths(cell, x.comma != ',')
	if !ok {
		f := diag.Fault{
			At: x.at(line, column), ID: "record-number-unreadable", What: fmt.Sprintf("%q is no temperature", shorten(cell)),
			Expected: "a number such as -2.2, or an empty cell where there is no reading",
			Cure:     "if this text means that there is no reading, say so (missing)",
		}
		if strings.ContainsRune(cell, ',') {
			f.Cure = "write a decimal point, or separate the cells by semicolons"
		}
		x.t.add(f)
		return noReading
	}
	if isSentinel(v) || x.missing.hasNumber(v) {
		x.sentinel[station]++
		return noReading
	}
	if flags >= 0 && flags < len(fields) && doubtful(fields[flags]) {
		x.flagged[station]++
		return noReading
	}
	return v
}

// doubtful reads NOAA attributes, "measurement,quality,source,...": anything in the
// second place says that the value failed a check.
func doubtful(attributes string) bool {
	_, after, ok := strings.Cut(attributes, ",")
	if !ok {
		return false
	}
	quality, _, _ := strings.Cut(after, ",")
	return strings.TrimSpace(quality) != ""
}

func shorten(s string) string {
	const enough = 40
	if utf8.RuneCountInString(s) <= enough {
		return s
	}
	return string([]rune(s)[:enough]) + "..."
}

// convert turns rows into readings in hundredths of a degree C.
func (x *recordTable) convert(low, high Unit) []readings {
	list := x.stations.found(x.t)
	for i := range list {
		list[i].wholeF = low == UnitF && (high == UnitF || x.columns.tmax < 0)
		list[i].dropped.Flagged, list[i].dropped.Sentinel = x.flagged[i], x.sentinel[i]
		list[i].changes = x.watches[i].changes
	}
	for _, r := range x.rows {
		s := &list[r.station]
		s.wholeF = s.wholeF && (r.min == noReading || r.min%1000 == 0) && (r.max == noReading || r.max%1000 == 0)
		s.add(r.day, hundredths(r.min, low), hundredths(r.max, high), r.line)
	}
	return list
}

// tellColumns says which columns were taken where nobody named them and the
// headings are not those of a layout we know.
func (x *recordTable) tellColumns(u Unit) {
	what := fmt.Sprintf("minima were read from %q", strings.TrimSpace(x.columns.tminName))
	if x.columns.tmax >= 0 {
		what += fmt.Sprintf(", maxima from %q", strings.TrimSpace(x.columns.tmaxName))
	}
	if x.columns.station >= 0 {
		what += fmt.Sprintf(", stations from %q", strings.TrimSpace(x.head.names[x.columns.station]))
	}
	x.t.add(diag.Fault{
		ID: "record-read-as", Severity: diag.Notice, What: what + ", in " + u.String(),
		Expected: "", Cure: "name the columns if that is not right",
	})
}
