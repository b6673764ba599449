package intake

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

var (
	reNormals      = regexp.MustCompile(`\b(?:ANN|DJF|MAM|JJA|SON|MLY|DLY|HLY)-(?:TMIN|TMAX|TAVG|DUTR|PRCP|SNOW|SNWD|CLDD|HTDD|GRDD|TEMP|DEWP|WIND)-`)
	reDailyNormals = regexp.MustCompile(`\b(?:DLY|HLY)-[A-Z]{4}-`)
	reFreezeColumn = regexp.MustCompile(`^ANN-TMIN-PRB(LST|FST|GSL)-T([0-9]{2,3})FP([0-9]{2})$`)
)

// isNormals recognises a by-station file of NCEI's normals by its headings.
func isNormals(head []byte) bool {
	line, _, _ := bytes.Cut(head, []byte("\n"))
	return reNormals.Match(line)
}

// publishedStation is what a normals file says of one station.
type publishedStation struct {
	id      string
	freeze  record.Freeze // without Files
	normals *record.Normals
}

// normalsFile is a by-station file while it is read.
type normalsFile struct {
	t       *teller
	file    string
	names   []string
	columns map[string]int
	vintage vintage
	list    []*normalsOf
}

// vintage is a layout of the by-station files. Figures of 1981-2010 are tenths of a
// degree F with letters in columns named _ATTRIBUTES; those of 1991-2020 (and of
// 2006-2020) are degrees F, padded, with columns meas_flag_, comp_flag_ and years_.
type vintage uint8

const (
	vintageUnsaid vintage = iota
	vintageTenths
	vintageFlags
)

// normalsOf is one station of a file while it is read.
type normalsOf struct {
	publishedStation
	months  [2][12]int32 // minima, maxima; thousandths of the unit; noReading for none
	decimal bool         // a figure was written with decimals
	warmest int32
	place   diag.Position // of its first row
}

// readNormals reads a by-station file: annual and seasonal normals with their freeze
// dates, monthly normals, or both; one station or several.
func readNormals(file string, text []byte, t *teller) []publishedStation {
	x := &normalsFile{t: t, file: file, columns: map[string]int{}}
	if line, _, _ := bytes.Cut(text, []byte("\n")); reDailyNormals.Match(line) {
		t.add(diag.Fault{
			At: diag.Position{Line: 1}, ID: "freeze-daily-normals", What: "these are daily or hourly normals, which are not used",
			Expected: "annual and seasonal normals with their freeze dates, or monthly normals", Cure: "download those of the station",
		})
		return nil
	}
	x.read(text)
	if t.failed {
		return nil
	}
	var out []publishedStation
	for _, s := range x.list {
		if x.finish(s) {
			out = append(out, s.publishedStation)
		}
	}
	if t.failed {
		return nil
	}
	return out
}

func (x *normalsFile) read(text []byte) {
	r := csv.NewReader(bytes.NewReader(text))
	r.LazyQuotes, r.FieldsPerRecord = true, -1
	for {
		fields, err := r.Read()
		if err != nil {
			return
		}
		line, _ := r.FieldPos(0)
		switch {
		case x.names == nil:
			x.headings(fields)
		case emptyRow(fields):
		case len(fields) != len(x.names):
			x.t.add(diag.Fault{
				At: diag.Position{Line: line}, ID: "freeze-row-broken", What: fmt.Sprintf("this row has %d cells under %d headings", len(fields), len(x.names)),
				Expected: "the file as it was published", Cure: "download it again; do not edit it in a spreadsheet",
			})
		default:
			x.row(fields, line)
		}
	}
}

func (x *normalsFile) headings(fields []string) {
	x.names = fields
	for i, f := range fields {
		x.names[i] = strings.TrimSpace(f)
		x.columns[x.names[i]] = i
		switch {
		case strings.HasPrefix(x.names[i], "meas_flag_"):
			x.vintage = vintageFlags
		case strings.HasSuffix(x.names[i], "_ATTRIBUTES") && x.vintage == vintageUnsaid:
			x.vintage = vintageTenths
		}
	}
}

// text is a cell by its heading, "" where there is no such column.
func (x *normalsFile) text(fields []string, name string) string {
	if i, ok := x.columns[name]; ok {
		return strings.TrimSpace(fields[i])
	}
	return ""
}

func (x *normalsFile) at(line int, name string) diag.Position {
	return diag.Position{File: x.file, Line: line, Cell: spreadsheetCell(line, x.columns[name]), Heading: name}
}

// cell is a figure with its flags, told where they are wrong; ok is false then.
func (x *normalsFile) cell(fields []string, line int, name string) (normalCell, bool) {
	c, wrong := readNormal(fields[x.columns[name]], x.text(fields, "meas_flag_"+name))
	if wrong == "" {
		wrong = readAttributes(x.text(fields, "comp_flag_"+name))
	}
	if wrong == "" {
		wrong = readAttributes(x.text(fields, name+"_ATTRIBUTES"))
	}
	if wrong != "" {
		x.wrong(line, name, "freeze-flag", wrong, "a figure and letters as the publisher explains them", "download the file again; if it is so there too, ask the publisher")
		return c, false
	}
	return c, true
}

func (x *normalsFile) wrong(line int, name, id, what, expected, cure string) {
	x.t.add(diag.Fault{At: x.at(line, name), ID: id, What: what, Expected: expected, Cure: cure})
}

// row reads a row: of annual normals, or of one month.
func (x *normalsFile) row(fields []string, line int) {
	id := x.text(fields, "STATION")
	if id == "" {
		id = stem(x.file)
	}
	s := x.station(id, line)
	for _, name := range x.names {
		if m := reFreezeColumn.FindStringSubmatch(name); m != nil {
			x.freeze(s, fields, line, name, m[1], atoi(m[2]), atoi(m[3]))
		}
	}
	for side, name := range []string{"MLY-TMIN-NORMAL", "MLY-TMAX-NORMAL"} {
		if _, ok := x.columns[name]; ok {
			x.month(s, fields, line, name, side)
		}
	}
}

func (x *normalsFile) station(id string, line int) *normalsOf {
	for _, s := range x.list {
		if s.id == id {
			return s
		}
	}
	s := &normalsOf{publishedStation: publishedStation{id: id}, place: diag.Position{Line: line}}
	for side := range s.months {
		for m := range s.months[side] {
			s.months[side][m] = noReading
		}
	}
	x.list = append(x.list, s)
	return s
}

// freeze reads a cell of freeze dates or season lengths.
func (x *normalsFile) freeze(s *normalsOf, fields []string, line int, name, element string, thresholdF, percent int) {
	c, ok := x.cell(fields, line, name)
	if !ok {
		return
	}
	below, odds := quantity.FromFahrenheit(float64(thresholdF)), percentOf(element, percent)
	var known bool
	var wrong string
	if c.bare && c.text == codeTooFew && !x.tooFew(fields, thresholdF, percent) {
		return // too few values, not too few freezes
	}
	if element == "GSL" {
		var days int
		if days, known, wrong = c.days(); known {
			s.freeze.Spans = append(s.freeze.Spans, record.SpanRow{Below: below, Odds: odds, Days: days, At: x.at(line, name)})
		}
	} else {
		r := record.FreezeRow{Event: elementEvent[element], Below: below, Odds: odds, At: x.at(line, name)}
		if r.State, r.Date, known, wrong = c.freeze(); known {
			s.freeze.Rows = append(s.freeze.Rows, r)
		}
	}
	if wrong != "" {
		x.wrong(line, name, "freeze-date", wrong, "a figure of that kind, or one of the publisher's codes", "download the file again; do not edit it in a spreadsheet")
	}
	if known {
		if years, ok := digits([]byte(x.text(fields, "years_"+name))); ok {
			s.freeze.Years = fewestYears(s.freeze.Years, years)
		}
	}
}

// tooFew says whether the year's odds of such a cold night, in percent (tenths of it in
// 1981-2010), are below percent: a flag alone can also mean too few readings.
func (x *normalsFile) tooFew(fields []string, thresholdF, percent int) bool {
	name := fmt.Sprintf("ANN-TMIN-PRBOCC-LSTH%03d", thresholdF)
	if _, there := x.columns[name]; !there {
		return false
	}
	c, wrong := readNormal(fields[x.columns[name]], x.text(fields, "meas_flag_"+name))
	v, known, odd := c.number()
	if x.vintage == vintageTenths {
		v /= 10
	}
	return wrong == "" && odd == "" && known && v < int32(percent)*1000
}

// month reads a monthly mean of minima (side 0) or maxima.
func (x *normalsFile) month(s *normalsOf, fields []string, line int, name string, side int) {
	c, ok := x.cell(fields, line, name)
	if !ok {
		return
	}
	v, known, wrong := c.number()
	if wrong != "" {
		x.wrong(line, name, "freeze-number", wrong, "a mean temperature in F", "download the file again; do not edit it in a spreadsheet")
	}
	if !known {
		return
	}
	month, heading := x.text(fields, "month"), "month"
	if month == "" {
		month, heading = x.text(fields, "DATE"), "DATE"
	}
	m, isNumber := digits([]byte(month))
	if !isNumber || m < 1 || m > 12 || s.months[side][m-1] != noReading {
		x.wrong(line, heading, "freeze-month", fmt.Sprintf("%q is no month, or one that stands in the file already", month), "a row for each month, 01 to 12", "download the file again")
		return
	}
	s.months[side][m-1] = v
	s.decimal = s.decimal || strings.Contains(c.text, ".")
	s.warmest = max(s.warmest, v)
}

// finish turns what was read of a station into its table; false where there is
// nothing to use.
func (x *normalsFile) finish(s *normalsOf) bool {
	s.freeze.Station = s.id
	s.freeze.From, s.freeze.To = periodOf(x.file)
	switch {
	case s.freeze.From != 0:
	case x.vintage == vintageTenths:
		s.freeze.From, s.freeze.To = 1981, 2010
	case x.vintage == vintageFlags && s.freeze.Years > 15: // those of 2006-2020 have 15 at most
		s.freeze.From, s.freeze.To = 1991, 2020
	}
	told := x.finishMonths(s)
	if x.t.failed || told && len(s.freeze.Rows) == 0 {
		return false
	}
	if len(s.freeze.Rows) == 0 && s.normals == nil {
		x.t.add(diag.Fault{
			At: s.place, ID: "freeze-nothing", What: "these normals have neither freeze dates nor monthly minima of station " + s.id,
			Expected: "columns such as ANN-TMIN-PRBLST-T32FP10 or MLY-TMIN-NORMAL with figures in them",
			Cure:     "download the station's annual and seasonal normals; if it has none, use the daily record of a station near by",
		})
		return false
	}
	if r, wrong := misordered(s.freeze.Rows); wrong != "" {
		f := diag.Fault{At: r.At, ID: "freeze-order", What: wrong, Expected: "rarer harm later in spring and earlier in fall", Cure: "download the file again; do not edit it in a spreadsheet"}
		x.t.add(f)
		return false
	}
	return true
}

// finishMonths turns monthly figures into normals. All twelve minima must be there;
// told says that something is wrong with them.
func (x *normalsFile) finishMonths(s *normalsOf) (told bool) {
	known := func(side int) bool { return !slices.Contains(s.months[side][:], noReading) }
	if !slices.ContainsFunc(s.months[0][:], func(v int32) bool { return v != noReading }) {
		return false
	}
	if !known(0) {
		x.t.add(diag.Fault{
			At: s.place, ID: "freeze-months-missing", Severity: diag.Warning, What: "mean minima of some months are missing, so none are used",
			Expected: "all twelve months", Cure: "download the file again; if the publisher has no more, nothing is lost but soil temperatures",
		})
		return true
	}
	scale := 1000.0 // thousandths of a degree F
	switch {
	case x.vintage == vintageTenths && s.decimal:
		x.t.add(diag.Fault{
			At: s.place, ID: "freeze-unit", What: "the columns are those of 1981-2010, where figures are tenths of a degree F, but these have decimals",
			Expected: "whole numbers, or the columns of 1991-2020", Cure: "download the file again; do not edit it in a spreadsheet",
		})
		return true
	case x.vintage == vintageTenths, x.vintage == vintageUnsaid && !s.decimal && s.warmest > 140_000:
		scale = 10_000
	case x.vintage == vintageUnsaid && !s.decimal:
		x.t.add(diag.Fault{
			At: s.place, ID: "freeze-unit", What: "nothing says whether these means are degrees F or tenths of them",
			Expected: "the columns of flags that the publisher's file has", Cure: "download the whole file with all its columns",
		})
		return true
	}
	n := &record.Normals{HasMax: known(1), From: s.freeze.From, To: s.freeze.To, File: x.file}
	for m := range 12 {
		n.Min[m] = quantity.FromFahrenheit(float64(s.months[0][m]) / scale)
		if n.HasMax {
			n.Max[m] = quantity.FromFahrenheit(float64(s.months[1][m]) / scale)
		}
		if n.Min[m] < -60 || n.Min[m] > 50 || n.HasMax && n.Max[m] < n.Min[m] {
			x.t.add(diag.Fault{
				At: s.place, ID: "freeze-unit", What: fmt.Sprintf("month %d has a mean minimum of %.1f C that is no air temperature, or one above its maximum", m+1, float64(n.Min[m])),
				Expected: "mean temperatures of a place on earth", Cure: "download the file again; do not edit it in a spreadsheet",
			})
			return true
		}
	}
	s.normals = n
	return false
}

// misordered finds a threshold whose dates go the wrong way from likely to rare harm:
// then the percentages mean something else than is thought, or were edited. Single
// steps back, as smoothing leaves them, are let pass.
func misordered(rows []record.FreezeRow) (record.FreezeRow, string) {
	type key struct {
		event record.Event
		below quantity.Celsius
	}
	ends := map[key][2]record.FreezeRow{} // likeliest, rarest
	for _, r := range rows {
		if r.State != record.FreezeDate {
			continue
		}
		k := key{r.Event, r.Below}
		e, ok := ends[k]
		if !ok {
			e = [2]record.FreezeRow{r, r}
		}
		if r.Odds > e[0].Odds {
			e[0] = r
		}
		if r.Odds < e[1].Odds {
			e[1] = r
		}
		ends[k] = e
	}
	keys := slices.SortedFunc(maps.Keys(ends), func(a, b key) int { return ends[a][1].At.Compare(ends[b][1].At) })
	for _, k := range keys {
		likely, rare := ends[k][0], ends[k][1]
		if daysOn(likely, rare) < 0 {
			return rare, fmt.Sprintf("the %s date for %.0f%% of years, %v, lies on the wrong side of that for %.0f%%, %v", k.event, 100*rare.Odds, rare.Date, 100*likely.Odds, likely.Date)
		}
	}
	return record.FreezeRow{}, ""
}
