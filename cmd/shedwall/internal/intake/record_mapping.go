package intake

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"shedwall/cmd/shedwall/internal/diag"
)

// Unit is the unit of a record file's readings.
type Unit uint8

// UnitUnsaid: the file, its headings or its values must say it. UnitTenthsC is
// tenths of a degree C as whole numbers, as GHCN-Daily keeps them.
const (
	UnitUnsaid Unit = iota
	UnitC
	UnitF
	UnitTenthsC
)

// RecordUnits is every unit with the word used in tables and on the command line.
var RecordUnits = map[string]Unit{"c": UnitC, "f": UnitF, "tenths_c": UnitTenthsC}

func (u Unit) String() string {
	return [...]string{"not said", "degrees C", "degrees F", "tenths of a degree C"}[u]
}

// Mapping says where a table of readings keeps what, by column headings (case,
// spaces and hyphens do not matter). What is left empty is taken from headings that
// can be read in one way only.
type Mapping struct {
	Date      []string // one column of dates, or three: year, month, day; or the year, with DayOfYear
	DayOfYear string   // column of days counted from 1 January = 1

	Tmin, Tmax string
	Unit       Unit
	Missing    []string // texts that mean "no reading", beside the usual ones

	StationColumn string // column that tells stations apart
	Station       string // the one station to read, as the file calls it
}

// recordColumns is where a table keeps what, by index; -1 where it does not.
type recordColumns struct {
	year, month, day     int // day alone: whole dates
	dayOfYear            int
	tmin, tmax, station  int
	tminFlags, tmaxFlags int // NOAA attributes: measurement, quality, source
	unitMin, unitMax     Unit
	noaa                 bool     // the headings are those of the NOAA export
	guessed              []string // headings taken without being told to and not plain, for the note
	tminName, tmaxName   string
}

// headingRow is a row that may be the heading row.
type headingRow struct {
	names []string // as written
	plain []string // lower case, words joined by _
}

func headingsOf(fields []string) headingRow {
	h := headingRow{names: slices.Clone(fields)}
	for _, f := range fields {
		h.plain = append(h.plain, plainHeading(f))
	}
	return h
}

func plainHeading(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return unicode.IsSpace(r) || r == '_' || r == '-'
	}), "_")
}

// named is the column under a heading, -1 where there is none.
func (h headingRow) named(name string) int { return slices.Index(h.plain, plainHeading(name)) }

// only is the single column that is accepted, -1 for none or several.
func (h headingRow) only(accept func(plain string) bool) int {
	found := -1
	for i, p := range h.plain {
		if accept(p) {
			if found >= 0 {
				return -1
			}
			found = i
		}
	}
	return found
}

// find is the column of a role: the one the mapping names, else a heading of one of
// the plain names, else the single heading that accept takes.
func (c *recordColumns) find(h headingRow, name string, accept func(string) bool, plain ...string) int {
	if name != "" {
		return h.named(name)
	}
	for _, p := range plain {
		if i := slices.Index(h.plain, p); i >= 0 {
			return i
		}
	}
	i := -1
	if accept != nil {
		if i = h.only(accept); i >= 0 {
			c.guessed = append(c.guessed, h.names[i])
		}
	}
	return i
}

// resolve finds the columns of a heading row. ok is false where dates or minima are
// not found.
func (m Mapping) resolve(h headingRow) (c recordColumns, ok bool) {
	c.year, c.month, c.day, c.dayOfYear = -1, -1, -1, -1
	years := []string{"year", "yr", "yyyy"}
	daysOfYear := []string{"day_of_year", "doy", "jday", "yday", "julian_day"}
	switch {
	case len(m.Date) == 3:
		c.year, c.month, c.day = h.named(m.Date[0]), h.named(m.Date[1]), h.named(m.Date[2])
		ok = c.year >= 0 && c.month >= 0 && c.day >= 0
	case len(m.Date) == 1 && m.DayOfYear == "":
		c.day = h.named(m.Date[0])
		ok = c.day >= 0
	case m.DayOfYear != "":
		year := ""
		if len(m.Date) == 1 {
			year = m.Date[0]
		}
		c.year, c.dayOfYear = c.find(h, year, nil, years...), h.named(m.DayOfYear)
		ok = c.year >= 0 && c.dayOfYear >= 0
	default:
		if c.day = c.find(h, "", nil, "date"); c.day >= 0 {
			ok = true
			break
		}
		c.year = c.find(h, "", nil, years...)
		if c.dayOfYear = c.find(h, "", nil, daysOfYear...); c.year >= 0 && c.dayOfYear >= 0 {
			ok = true
			break
		}
		c.month, c.day = c.find(h, "", nil, "month", "mon", "mm"), c.find(h, "", nil, "day", "dd")
		ok = c.year >= 0 && c.month >= 0 && c.day >= 0
	}
	c.tmin = c.find(h, m.Tmin, isExtreme("min"), "tmin", "tmin_c", "tmin_f")
	c.tmax = c.find(h, m.Tmax, isExtreme("max"), "tmax", "tmax_c", "tmax_f")
	c.station = c.find(h, m.StationColumn, isStation, "station")
	ok = ok && c.tmin >= 0 && (m.Tmax == "" || c.tmax >= 0) && (m.StationColumn == "" || c.station >= 0)
	if !ok {
		return c, false
	}
	c.unitMin, c.unitMax = m.unitOf(h, c.tmin), m.unitOf(h, c.tmax)
	c.tminFlags, c.tmaxFlags = flagsOf(h, c.tmin), flagsOf(h, c.tmax)
	c.noaa = c.day >= 0 && c.month < 0 && h.plain[c.day] == "date" && h.plain[c.tmin] == "tmin" &&
		(c.tmax < 0 || h.plain[c.tmax] == "tmax")
	c.tminName = h.names[c.tmin]
	if c.tmax >= 0 {
		c.tmaxName = h.names[c.tmax]
	}
	return c, true
}

// headingWords splits a heading at everything that is no letter or digit.
func headingWords(heading string) []string {
	return strings.FieldsFunc(strings.ToLower(heading), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// otherThings are words of headings that speak of minima and maxima of something
// else, or of a remark about the reading.
var otherThings = []string{
	"soil", "grass", "ground", "surface", "dew", "dewpoint", "water", "wet", "bulb", "humidity", "rh", "wind", "gust", "pressure",
	"days", "accumulation", "quality", "flag", "flags", "attributes", "time", "hour", "normal", "record", "mean", "avg", "average",
}

// isExtreme accepts headings of a daily minimum (or maximum) air temperature in
// English: "min", "MIN_TEMP", "Minimum temperature (Degree C)", "Min Temp (°C)".
func isExtreme(which string) func(string) bool {
	return func(heading string) bool {
		w := headingWords(heading)
		if slices.ContainsFunc(w, func(x string) bool { return slices.Contains(otherThings, x) }) {
			return false
		}
		for _, x := range w {
			switch x {
			case "t" + which, which + "t", which + "temp", "temp" + which:
				return true
			case which, which + "imum":
				rest := len(w) == 1
				for _, y := range w {
					rest = rest || y == "temp" || y == "temperature" || y == "t" || y == "air"
				}
				return rest
			}
		}
		return false
	}
}

// isStation accepts a heading such as "station number" or "station_id".
func isStation(heading string) bool {
	w := headingWords(heading)
	return slices.Contains(w, "station") && (slices.Contains(w, "id") || slices.Contains(w, "number") || slices.Contains(w, "code"))
}

// unitOf is the unit a heading declares (tmin_c, "Temp (°F)", "Degree C"), else the
// mapping's, which must not contradict it (see readCSV).
func (m Mapping) unitOf(h headingRow, column int) Unit {
	if column < 0 {
		return m.Unit
	}
	if u := headingUnit(h.names[column]); u != UnitUnsaid && m.Unit == UnitUnsaid {
		return u
	}
	return m.Unit
}

func headingUnit(heading string) Unit {
	w := headingWords(heading)
	if len(w) < 2 {
		return UnitUnsaid
	}
	switch w[len(w)-1] {
	case "c", "degc", "celsius", "centigrade":
		return UnitC
	case "f", "degf", "fahrenheit":
		return UnitF
	}
	return UnitUnsaid
}

// flagsOf is the column of NOAA attributes that belongs to a column of readings.
func flagsOf(h headingRow, column int) int {
	if column < 0 {
		return -1
	}
	return slices.Index(h.plain, h.plain[column]+"_attributes")
}

// unresolved says why a heading row does not do: every named column that is not
// there, else what is missing.
func (m Mapping) unresolved(h headingRow, line int, t *teller) {
	list := columnList(h.names)
	known := true
	asked := slices.Clone(m.Date)
	asked = append(asked, m.DayOfYear, m.Tmin, m.Tmax, m.StationColumn)
	for _, name := range asked {
		if name == "" || h.named(name) >= 0 {
			continue
		}
		known = false
		f := diag.Fault{
			At: diag.Position{Line: line}, ID: "record-column-unknown", What: fmt.Sprintf("there is no column %q", name),
			Expected: "one of " + list, Cure: "name a column as the headings do",
		}
		if near := diag.Nearest(plainHeading(name), h.plain); near != "" {
			f.Cure = fmt.Sprintf("did you mean %q?", h.names[slices.Index(h.plain, near)])
		}
		t.add(f)
	}
	if !known {
		return
	}
	c, _ := m.resolve(h)
	if c.tmin < 0 {
		t.add(diag.Fault{
			At: diag.Position{Line: line}, ID: "record-no-minima", What: "no column can be told to hold daily minima; the columns are " + list,
			Expected: "daily minimum temperatures: frost is told by them alone",
			Cure:     "name the column of minima (tmin); if there is none, this file cannot tell frost",
		})
		return
	}
	t.add(diag.Fault{
		At: diag.Position{Line: line}, ID: "record-layout-unknown", What: "no column can be told to hold the dates; the columns are " + list,
		Expected: "a column of dates, or columns of year, month and day, or of year and day of the year",
		Cure:     "name the columns (date, day_of_year)",
	})
}

func columnList(names []string) string {
	const some = 30
	quoted := make([]string, 0, len(names))
	for _, n := range names[:min(some, len(names))] {
		quoted = append(quoted, fmt.Sprintf("%q", strings.TrimSpace(n)))
	}
	list := strings.Join(quoted, ", ")
	if more := len(names) - some; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}
