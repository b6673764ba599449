package table

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/figure"
)

// Amount is a number with its unit: the one in the cell, else the one of the
// heading, else the measure's own.
type Amount struct {
	Value float64
	Unit  Unit
}

// Measure says which numbers a column takes.
type Measure struct {
	Units []Unit // accepted in the heading or in a cell
	Bare  Unit   // meant by a bare number where the heading names no unit
	Like  string // what is expected: "a number of degrees such as -2.2"
}

// loose are ways to leave a number out that are read as unknown and told: weather
// tables write M for missing.
var loose = []string{"m", "missing", "trace", "null", "nil", "not given", "no data"}

// Amount reads the cell as a number of the measure. A blank cell gives a blank
// figure, an unknown one an unknown figure. A cell that cannot be read is reported
// and gives an unknown figure: nothing may stand in for it unseen.
func (c Cell) Amount(m Measure) figure.Of[Amount] {
	blank := figure.Of[Amount]{Owner: c.Owner(), Cell: c.At(), Source: c.source}
	unknown := blank
	unknown.State = figure.Unknown
	switch {
	case c.Blank():
		return blank
	case c.Unknown():
		return unknown
	case slices.Contains(loose, strings.ToLower(plain(c.text))):
		c.Note("unknown-read", fmt.Sprintf("%s read as unknown", c.quoted()))
		return unknown
	}
	n, err := parseNumber(c.text)
	if err != nil {
		e := err.(*notANumber)
		c.Fault(e.id, e.what, m.Like, e.cure)
		return unknown
	}
	unit, ok := c.unitOf(n, m)
	if !ok {
		return unknown
	}
	value, ok := c.decimal(n, m)
	if !ok {
		return unknown
	}
	f := figure.Is(Amount{value, unit}, blank.Cell, c.source)
	f.Owner, f.Qualifier, f.Mark = blank.Owner, n.qualifier, n.mark
	if n.qualifier != "" || n.mark != "" {
		c.Note("number-qualified", fmt.Sprintf("%s read as %s; %q is kept and printed with it", c.quoted(), spell(value), strings.TrimSpace(n.qualifier+" "+n.mark)))
	}
	return f
}

// unitOf settles the unit of a number.
func (c Cell) unitOf(n number, m Measure) (Unit, bool) {
	col := c.sheet.header.columns[c.column]
	if n.unit == Weeks && slices.Contains(m.Units, Watt) {
		n.unit = Watt // "1500 W": no column takes both
	}
	if n.unit != NoUnit {
		if !slices.Contains(m.Units, n.unit) {
			c.Fault("unit-wrong", fmt.Sprintf("%s is in %s", c.quoted(), n.unit), m.Like, "write the number in a unit of this column")
			return NoUnit, false
		}
		return n.unit, true
	}
	if col.needs || c.sheet.mixed(int(c.column)) {
		what := fmt.Sprintf("%s has no unit, and its column's heading names none", c.quoted())
		if c.sheet.mixed(int(c.column)) {
			row := &c.sheet.rows[c.sheet.decimals.columns[c.column].ownRow]
			what = fmt.Sprintf("%s has no unit of its own, and %q in cell %s has one", c.quoted(), short(row.text(int(c.column))), c.sheet.at(row, int(c.column)).Cell)
		}
		c.Fault("unit-missing", what, m.Like, "write the unit behind every number of the column, or behind none and in the heading")
		return NoUnit, false
	}
	if col.unit != NoUnit {
		return col.unit, true
	}
	return m.Bare, true
}

// decimal settles what the points and commas of a number mean.
func (c Cell) decimal(n number, m Measure) (float64, bool) {
	d := c.sheet.decimals
	column := d.columns[c.column]
	switch n.form {
	case wholeNumber:
		v := n.value('.')
		if strings.ContainsAny(n.body, " '") {
			c.Note("number-read", fmt.Sprintf("%s read as %s", c.quoted(), spell(v)))
		}
		return v, true
	case pointDecimal, commaGroups:
		if d.file == ',' {
			return 0, c.wrongDecimal(n, '.', ',', m)
		}
		return c.told(n, '.'), true
	case commaDecimal, pointGroups:
		if d.file == '.' {
			return 0, c.wrongDecimal(n, ',', '.', m)
		}
		return c.told(n, ','), true
	case pointEither:
		switch {
		case column.pointGroups > 0 && d.file == ',':
			return c.told(n, ','), true
		case d.file == '.' && column.pointGroups == 0:
			return n.value('.'), true
		}
	case commaEither:
		switch {
		case column.commaGroups > 0 && d.file == '.':
			return c.told(n, '.'), true
		case column.commaDecimals > 0 && d.file == ',':
			return n.value(','), true
		}
	}
	c.Fault("number-ambiguous", fmt.Sprintf("%s can be %s or %s", c.quoted(), spell(min(n.value('.'), n.value(','))), spell(max(n.value('.'), n.value(',')))),
		m.Like, "write it without a separator of thousands, or with one more decimal")
	return 0, false
}

// told is the value, told where thousands were separated.
func (c Cell) told(n number, decimal byte) float64 {
	v := n.value(decimal)
	if strings.ContainsAny(strings.ReplaceAll(n.body, string(decimal), ""), ".,' ") {
		c.Note("number-read", fmt.Sprintf("%s read as %s", c.quoted(), spell(v)))
	}
	return v
}

// wrongDecimal reports a number whose decimal separator is not the file's.
func (c Cell) wrongDecimal(n number, here, file byte, m Measure) bool {
	c.Fault("number-decimals-mixed", fmt.Sprintf("%s would be %s with a decimal %s, but this file writes decimals with a %s",
		c.quoted(), spell(n.value(here)), sepName(here), sepName(file)), m.Like, fmt.Sprintf("write decimals with a %s in the whole file", sepName(file)))
	return false
}

func sepName(b byte) string {
	if b == ',' {
		return "comma"
	}
	return "point"
}

// spell writes a number in full, with a decimal point.
func spell(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Range takes a cell that holds a range, 2-4 or 2 to 4, apart into its two ends,
// each a cell at the same place. It is false for any other cell.
func (c Cell) Range() (low, high Cell, ok bool) {
	s := visible(c.text)
	if reDate.MatchString(s) {
		return c, c, false
	}
	m := reRange.FindStringSubmatch(s)
	if m == nil {
		return c, c, false
	}
	low, high = c, c
	low.text, high.text = m[1], m[2]
	a, errA := parseNumber(low.text)
	b, errB := parseNumber(high.text)
	if errA != nil || errB != nil {
		return c, c, false
	}
	if a.unit == NoUnit && b.unit != NoUnit { // 2-4 weeks
		low.text += " " + string(b.unit)
	}
	return low, high, true
}

// decimals is how a file writes its decimals: the evidence of all cells in
// columns of numbers, and what follows from it.
type decimals struct {
	file    byte // '.' or ',', 0 while nothing in the file tells
	columns []evidence
}

// evidence counts cells whose separators have one meaning only.
type evidence struct {
	pointDecimals, commaDecimals int
	pointGroups, commaGroups     int  // among them, those that separate thousands
	ownUnit                      bool // a cell carries a unit other than the heading's
	ownRow                       int  // the first of them, an index in sheet.rows
}

// weighDecimals decides how the file writes decimals: as most of its cells do;
// where none tells, a file with commas between its columns writes points.
func (s *sheet) weighDecimals() {
	s.decimals.columns = make([]evidence, len(s.header.columns))
	points, commas := 0, 0
	firstRow, firstColumn := -1, -1
	for i, c := range s.header.columns {
		if c.field < 0 || !s.form.fields[c.field].number {
			continue
		}
		e := &s.decimals.columns[i]
		for n := range s.rows {
			num, err := parseNumber(s.rows[n].text(i))
			if err != nil {
				continue
			}
			e.count(num)
			if !e.ownUnit && (c.needs && num.unit != NoUnit || otherUnit(num.unit, c.unit)) {
				e.ownUnit, e.ownRow = true, n
			}
			if num.form == commaDecimal && (firstRow < 0 || n < firstRow) {
				firstRow, firstColumn = n, i
			}
		}
		points += e.pointDecimals + e.commaGroups
		commas += e.commaDecimals + e.pointGroups
	}
	switch {
	case commas > points, commas == points && points > 0 && s.comma == ';':
		s.decimals.file = ','
	case points > 0, s.comma == ',':
		s.decimals.file = '.'
	}
	if s.decimals.file == ',' && firstRow >= 0 {
		r := &s.rows[firstRow]
		Cell{text: r.text(firstColumn), sheet: s, row: int32(firstRow), column: int16(firstColumn)}.
			Note("decimal-comma-read", fmt.Sprintf("read with decimal commas: %q is %s", short(r.text(firstColumn)), spell(mustNumber(r.text(firstColumn)).value(','))))
	}
}

func mustNumber(text string) number {
	n, _ := parseNumber(text)
	return n
}

func (e *evidence) count(n number) {
	groups := strings.Count(n.body, ".")+strings.Count(n.body, ",") > 1
	switch n.form {
	case pointDecimal:
		e.pointDecimals++
		if groups {
			e.commaGroups++
		}
	case commaDecimal:
		e.commaDecimals++
		if groups {
			e.pointGroups++
		}
	case pointGroups:
		e.pointGroups++
	case commaGroups:
		e.commaGroups++
	}
}

// mixed says whether cells of a column carry units other than the heading's.
func (s *sheet) mixed(column int) bool { return s.decimals.columns[column].ownUnit }

// otherUnit says whether a cell's unit measures the same as the heading's but is
// another one. Differences may be written in C where the heading says K. A unit
// of another kind is the cell's own mistake.
func otherUnit(cell, heading Unit) bool {
	for _, kind := range [][]Unit{{Celsius, Kelvin, Fahrenheit}, {Metre, Foot}, {Centimetre, Inch}, {KmPerHour, MilePerH}} {
		if slices.Contains(kind, cell) && slices.Contains(kind, heading) {
			return cell != heading && !(cell == Celsius && heading == Kelvin)
		}
	}
	return false
}
