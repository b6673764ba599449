package intake

import (
	"bytes"
	"encoding/binary"

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

// dlyWidth is the length of a whole line.
const dlyWidth = dlyValues + 31*dlyDay

// isDly recognises a GHCN-Daily file by its first line, which ends in LF or CR LF.
func isDly(text []byte) bool {
	line, _, _ := bytes.Cut(text[:min(len(text), dlyWidth+2)], []byte("\n"))
	line = bytes.TrimSuffix(line, []byte("\r"))
	if bytes.IndexByte(line, '\r') >= 0 || len(line) < dlyValues+dlyValue || bytes.IndexByte(line[:dlyValues], ' ') >= 0 {
		return false
	}
	year, okYear := digits(line[dlyYear:dlyMonth])
	month, okMonth := digits(line[dlyMonth:dlyElement])
	var value [dlyDay]byte
	copy(value[:], line[dlyValues:dlyValues+dlyValue])
	_, bad := paddedNumber(binary.LittleEndian.Uint64(value[:]))
	return okYear && okMonth && bad == 0 && plausibleYear(year) && month >= 1 && month <= 12
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
	var s *readings
	var last []byte // the station of the line before
	for line := int32(1); len(text) > 0; line++ {
		var l []byte
		l, text, _ = bytes.Cut(text, []byte("\n"))
		l = bytes.TrimSuffix(l, []byte("\r"))
		if len(l) > dlyWidth && bytes.IndexByte(l, '\r') >= 0 {
			t.add(dlyFault(line, l)) // two lines in one
			continue
		}
		if len(l) < dlyValues {
			if len(bytes.TrimSpace(l)) > 0 {
				t.add(dlyFault(line, l))
			}
			continue
		}
		side := minima
		switch string(l[dlyElement:dlyValues]) {
		case "TMIN":
		case "TMAX":
			side = maxima
		default:
			continue
		}
		year, okYear := digits(l[dlyYear:dlyMonth])
		month, okMonth := digits(l[dlyMonth:dlyElement])
		if !okYear || !okMonth || !plausibleYear(year) || month < 1 || month > 12 {
			t.add(dlyFault(line, l))
			continue
		}
		if !bytes.Equal(last, l[:dlyYear]) {
			last = l[:dlyYear]
			if s = stations.of(string(bytes.TrimSpace(last))); s != nil {
				s.tenthC = true
				s.reach(quantity.DayOf(year, 1, 1), quantity.DayOf(max(year, yearAhead(text, last))+2, 1, 1))
			}
		}
		if s == nil {
			continue
		}
		if !s.dlyMonth(l[dlyValues:], year, month, line, side) {
			t.add(dlyFault(line, l))
		}
	}
	return stations.found(t)
}

// yearAhead is the year of the last line but a few that follows for a station, so that
// room for its days is made once; 0 where none does, or lines are not whole.
func yearAhead(text, station []byte) (year int) {
	const few = 16 * (dlyWidth + 1)
	for at := few; at+dlyMonth < len(text) && text[at-1] == '\n' && bytes.HasPrefix(text[at:], station); at += few {
		if y, ok := digits(text[at+dlyYear : at+dlyMonth]); ok && plausibleYear(y) {
			year = y
		}
	}
	return year
}

// dlyMonth adds one month of values; false where a value cannot be read, and then the
// record must not be used. A line that ends early, as an editor leaves it that trims
// blanks, is a month cut short.
func (s *readings) dlyMonth(values []byte, year, month int, line int32, side int) bool {
	first := quantity.DayOf(year, month, 1)
	days := quantity.DaysIn(year, month)
	s.reach(first, first+quantity.Day(days))
	if len(values) < dlyDay*days {
		if cut := len(values) % dlyDay; cut < dlyValue {
			values = values[:len(values)-cut]
		}
		whole := bytes.Repeat([]byte(" "), 31*dlyDay)
		copy(whole, values)
		values = whole
	}
	at, lines := s.sides[side][first-s.first:][:days], s.lines[first-s.first:][:days]
	again := len(s.contradicted[side]) > 0
	read := -1 // last day that was new
	var wrong uint64
	for i := range at {
		cell := binary.LittleEndian.Uint64(values[dlyDay*i:])
		v, bad := paddedNumber(cell)
		wrong |= bad
		if v == dlyMissing {
			continue
		}
		if byte(cell>>(8*dlyQuality)) != ' ' {
			s.dropped.Flagged++
			continue
		}
		t := s.plausible(v * 10)
		if at[i].Known() || again || !t.Known() {
			s.put(side, first+quantity.Day(i), t, line)
			continue
		}
		if at[i] = t; read < 0 {
			s.saw(side, first+quantity.Day(i))
		}
		read = i
		if side == minima || lines[i] == 0 {
			lines[i] = line
		}
	}
	if read >= 0 {
		s.saw(side, first+quantity.Day(read))
	}
	return wrong == 0
}

// paddedNumber reads the five characters in the low bytes of a cell, the first lowest: a
// whole number standing right in blanks; all blank is dlyMissing. bad is not 0 where they
// are none. All five are handled at once, a byte each, as these values are most of the
// work of reading a record.
func paddedNumber(cell uint64) (n int, bad uint64) {
	const (
		all   = 0xFFFFFFFFFF // the five bytes
		ones  = 0x0101010101
		high  = 0xF0 * ones
		minus = '-' ^ ' '
	)
	x := cell & all
	// Digits have bit 4 set, blank and minus have not: lead is 0xFF in each byte that must
	// be one of those. They stand before all digits, the minus last of them.
	clear := ^x & (0x10 * ones)
	lead := clear<<4 - clear>>4
	digits := (x ^ '0'*ones) &^ lead
	sign := (x ^ ' '*ones) & lead
	bad = lead&(lead+1) | (digits|(digits+6*ones))&high
	// Single digits are joined to numbers below 100, those to numbers below 10,000, and
	// so on, three zeros before the five digits.
	v := digits << 24
	v = (v * (10<<8 + 1)) >> 8 & 0x00FF00FF00FF00FF
	v = (v * (100<<16 + 1)) >> 16 & 0x0000FFFF0000FFFF
	v = (v * (10000<<32 + 1)) >> 32
	n = int(v)
	var misplaced uint64
	if sign != 0 {
		n = -n
		misplaced = sign ^ minus*((lead+1)>>8)
	}
	if lead == all {
		n = dlyMissing
		misplaced = sign
	}
	return n, bad | misplaced
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
