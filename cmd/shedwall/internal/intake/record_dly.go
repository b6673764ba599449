package intake

import (
	"bytes"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Places within a line of a GHCN-Daily file, from 0: id, year, month, element,
// then 31 times a value of five characters and the measurement, quality and source
// flags (section III of the GHCN-Daily readme, version 3.24).
const (
	dlyYear    = 11
	dlyMonth   = 15
	dlyElement = 17
	dlyValues  = 21
	dlyValue   = 5 // characters of a value
	dlyDay     = 8 // characters of a value with its flags
	dlyQuality = 6 // quality flag within a day
	dlyMissing = -9999
)

// isDly recognises a GHCN-Daily file by its first line.
func isDly(text []byte) bool {
	line, _, _ := bytes.Cut(text, []byte("\n"))
	if len(line) < dlyValues+dlyValue || bytes.IndexByte(line[:dlyValues], ' ') >= 0 {
		return false
	}
	year, okYear := digits(line[dlyYear:dlyMonth])
	month, okMonth := digits(line[dlyMonth:dlyElement])
	_, okValue := padded(line[dlyValues : dlyValues+dlyValue])
	return okYear && okMonth && okValue && plausibleYear(year) && month >= 1 && month <= 12
}

// readDly reads the TMIN and TMAX lines. Values with a quality flag are left out;
// days that a month does not have (31 June) are not looked at. Shorter lines, as an
// editor leaves them that trims blanks, are months cut short.
func readDly(text []byte, m Mapping, t *teller) []readings {
	if m.Unit != UnitUnsaid && m.Unit != UnitTenthsC {
		t.add(diag.Fault{
			ID: "record-read-as", Severity: diag.Notice, What: "this is a GHCN-Daily file, which is always in tenths of a degree C",
			Expected: "no unit", Cure: "the unit given was not used",
		})
	}
	stations := newRecordStations(m.Station)
	for line := int32(1); len(text) > 0; line++ {
		var l []byte
		l, text, _ = bytes.Cut(text, []byte("\n"))
		if len(l) < dlyValues {
			if len(bytes.TrimSpace(l)) > 0 {
				t.add(dlyFault(line, l))
			}
			continue
		}
		var isMin bool
		switch string(l[dlyElement:dlyValues]) {
		case "TMIN":
			isMin = true
		case "TMAX":
		default:
			continue
		}
		year, okYear := digits(l[dlyYear:dlyMonth])
		month, okMonth := digits(l[dlyMonth:dlyElement])
		if !okYear || !okMonth || !plausibleYear(year) || month < 1 || month > 12 {
			t.add(dlyFault(line, l))
			continue
		}
		s := stations.of(string(bytes.TrimSpace(l[:dlyYear])))
		if s == nil {
			continue
		}
		if !s.dlyMonth(l[dlyValues:], year, month, line, isMin) {
			t.add(dlyFault(line, l))
		}
	}
	return stations.found(t)
}

// dlyMonth adds one month of values; false where a value cannot be read.
func (s *readings) dlyMonth(values []byte, year, month int, line int32, isMin bool) bool {
	first := quantity.DayOf(year, month, 1)
	for i := range quantity.DaysIn(year, month) {
		if len(values) < dlyValue {
			break
		}
		v, ok := padded(values[:dlyValue])
		if !ok {
			return false
		}
		flagged := len(values) > dlyQuality && values[dlyQuality] != ' '
		values = values[min(dlyDay, len(values)):]
		switch {
		case v == dlyMissing:
		case flagged:
			s.dropped.Flagged++
		case isMin:
			s.add(first+quantity.Day(i), v*10, noReading, line)
		default:
			s.add(first+quantity.Day(i), noReading, v*10, line)
		}
	}
	return true
}

func dlyFault(line int32, l []byte) diag.Fault {
	return diag.Fault{
		At: diag.Position{Line: int(line), Column: 1}, ID: "record-line-broken",
		What:     "this line is not a month of a GHCN-Daily file: " + quoteStart(l),
		Expected: "id, year, month, element and 31 values in fixed columns", Cure: "download the file again; do not edit it in a spreadsheet",
	}
}

func quoteStart(l []byte) string {
	const enough = 30
	if len(l) > enough {
		return `"` + string(l[:enough]) + `..."`
	}
	return `"` + string(l) + `"`
}

// digits reads a number of digits only.
func digits(b []byte) (int, bool) {
	n := 0
	for _, c := range b {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, len(b) > 0
}

// padded reads a whole number that stands right in blanks; all blank is missing.
func padded(b []byte) (int, bool) {
	i := 0
	for i < len(b) && b[i] == ' ' {
		i++
	}
	if i == len(b) {
		return dlyMissing, true
	}
	negative := b[i] == '-'
	if negative {
		i++
	}
	n, ok := digits(b[i:])
	if negative {
		n = -n
	}
	return n, ok
}
