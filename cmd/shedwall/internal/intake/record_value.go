package intake

import (
	"fmt"
	"math"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
)

// thousandths reads a plain decimal number exactly, in thousandths, further digits
// rounded: "-2.2" is -2200. A decimal comma counts where comma says so. Anything
// else (1e3, 0x10, NaN, 1,250.5, two signs) is no number.
func thousandths(s string, comma bool) (int32, bool) {
	s = strings.Replace(s, "\u2212", "-", 1) // a typographic minus
	negative := false
	if s != "" && (s[0] == '-' || s[0] == '+') {
		negative = s[0] == '-'
		s = s[1:]
	}
	n, decimals, seen, point := int64(0), 0, 0, false
	for i := range len(s) {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
			seen++
			switch {
			case !point || decimals < 3:
				n = n*10 + int64(c-'0')
			case decimals == 3 && c >= '5':
				n++
			}
			if point {
				decimals++
			}
			if n > math.MaxInt32/2000 && !point {
				return 0, false
			}
		case c == '.' && !point, c == ',' && !point && comma:
			point = true
		default:
			return 0, false
		}
	}
	if seen == 0 {
		return 0, false
	}
	for ; decimals < 3; decimals++ {
		n *= 10
	}
	if negative {
		n = -n
	}
	return int32(n), true
}

// hundredths converts thousandths of a unit to hundredths of a degree C, rounded
// to nearest; noReading stays so.
func hundredths(v int32, u Unit) int {
	if v == noReading {
		return noReading
	}
	x := float64(v) / 1000
	switch u {
	case UnitF:
		return int(math.Round(float64(quantity.FromFahrenheit(x)) * 100))
	case UnitTenthsC:
		x /= 10
	}
	return int(math.Round(x * 100))
}

// isSentinel knows the numbers that mean "no reading": everything from 900 up and
// from -900 down (-9999, -999.9, 9999) in any unit, and -99, -99.9, -99.99 and
// -88.8. None is a temperature that a garden has seen.
func isSentinel(v int32) bool {
	switch v {
	case -99000, -99900, -99990, -88800, -88880:
		return true
	}
	return v >= 900_000 || v < -900_000
}

// missingTexts are the cells that mean "no reading".
type missingTexts struct {
	texts   map[string]bool
	numbers []int32
}

var usualMissing = []string{"na", "n/a", "nan", "null", "none", "missing", "-", "--", "---", ".", "?", "*", "m", "x"}

func missingTextsOf(more []string) missingTexts {
	m := missingTexts{texts: map[string]bool{}}
	for _, s := range usualMissing {
		m.texts[s] = true
	}
	for _, s := range more {
		s = strings.ToLower(strings.TrimSpace(s))
		m.texts[s] = true
		if v, ok := thousandths(s, true); ok {
			m.numbers = append(m.numbers, v) // -99.9 also stands as -99.90
		}
	}
	return m
}

func (m missingTexts) has(cell string) bool {
	if c := cell[0]; len(cell) > 1 && (c >= '0' && c <= '9' || c == '-' && cell[1] >= '0' && cell[1] <= '9') {
		return false // a number, as nearly all cells are
	}
	return m.texts[strings.ToLower(cell)]
}

func (m missingTexts) hasNumber(v int32) bool {
	for _, n := range m.numbers {
		if n == v {
			return true
		}
	}
	return false
}

// How many readings, and what share of them, must lie beyond what a unit allows
// before they prove another one: a few slips of the pen prove nothing.
const (
	proofReadings = 3
	proofShare    = 0.01
)

// sayUnit is where a record's unit is given.
const sayUnit = "rename the headings to tmin_c and tmax_c (or tmin_f, tmax_f); or say c or f in the column unit of data/records.csv; shedwall odds takes --unit"

// units settles the units of minima and maxima: from the mapping, the headings, or
// proof by the values themselves. A unit that the values disprove is a fault, and so
// is one that nothing tells: whole degrees can be both.
func (x *recordTable) units() (low, high Unit, ok bool) {
	low, high = x.columns.unitMin, x.columns.unitMax
	if x.columns.tmax < 0 {
		high = low
	}
	if head := headingUnit(x.columns.tminName); head != UnitUnsaid && x.m.Unit != UnitUnsaid && head != x.m.Unit {
		x.t.add(diag.Fault{
			ID: "record-unit-contradicted", What: fmt.Sprintf("the heading %q says %v, the unit given is %v", x.columns.tminName, head, x.m.Unit),
			Expected: "one unit", Cure: "leave the unit out if the heading is right, else rename the heading",
		})
		return 0, 0, false
	}
	v := x.weigh()
	if low == UnitUnsaid || high == UnitUnsaid {
		proved, why := v.prove(x.columns.noaa, x.columns.tmax < 0)
		if proved == UnitUnsaid {
			x.t.add(diag.Fault{
				ID:       "record-unit-unsaid",
				What:     fmt.Sprintf("nothing says whether these temperatures (%s to %s) are in C or in F", decimalText(v.lowest), decimalText(v.highest)),
				Expected: "a unit: 28 F is -2.2 C, and 28 C is a summer's day", Cure: sayUnit,
			})
			return 0, 0, false
		}
		if low == UnitUnsaid {
			low = proved
		}
		if high == UnitUnsaid {
			high = proved
		}
		x.t.add(diag.Fault{
			ID: "record-read-as", Severity: diag.Notice, What: fmt.Sprintf("the temperatures were read as %v: %s", low, why),
			Cure: "if that is not right: " + sayUnit,
		})
	}
	for _, u := range []Unit{low, high} {
		if f, severity := v.disproves(u); f != "" {
			x.t.add(diag.Fault{
				ID: "record-unit-implausible", Severity: severity, What: f + ": these are hardly " + u.String(),
				Expected: "temperatures in the unit given", Cure: v.otherUnit(),
			})
			return low, high, severity != diag.Error
		}
	}
	return low, high, true
}

// coolest is how many readings a file must have, none of them warmer than any summer
// brings, before its unit is doubted for that.
const coolest = 300

// disproves says why the values cannot be in a unit, "" where they can. A record that
// never gets warm is only doubted: there are such places.
func (v weight) disproves(u Unit) (why string, severity diag.Severity) {
	cool := v.n >= coolest
	switch {
	case u == UnitC && v.beyond(v.over60+v.over140):
		return fmt.Sprintf("%d of %d readings are above 60 or below -140, the highest %s", v.over60+v.over140, v.n, decimalText(v.highest)), diag.Error
	case u == UnitF && v.beyond(v.over140):
		return fmt.Sprintf("%d of %d readings are above 140 or below -140, the highest %s", v.over140, v.n, decimalText(v.highest)), diag.Error
	case u == UnitTenthsC && v.beyond(v.decimals):
		return fmt.Sprintf("%d of %d readings have decimals", v.decimals, v.n), diag.Error
	case u == UnitF && cool && v.highest < 50_000, u == UnitTenthsC && cool && v.highest < 100_000:
		return fmt.Sprintf("none of %d readings is above %s", v.n, decimalText(v.highest)), diag.Warning
	}
	return "", 0
}

// otherUnit is what the values look like.
func (v weight) otherUnit() string {
	switch {
	case v.beyond(v.over140) && v.decimals == 0:
		return "they look like tenths of a degree C, as GHCN-Daily keeps them: then say tenths_c"
	case v.beyond(v.over140):
		return "look whether these are temperatures at all"
	case v.beyond(v.over60) && 2*v.rowsBetween < v.rows:
		return fmt.Sprintf("those above 60 stand in lines %d to %d only: if these lines are in degrees F, write them in the unit of the others", v.firstOver60, v.lastOver60)
	case v.beyond(v.over60):
		return "they look like degrees F: then say f"
	}
	return "they look like degrees C: then say c"
}

// weight is what the values of a file say about their unit.
type weight struct {
	n, over60, over140, decimals int // over60: 60 to 140; over140: beyond that, on either side
	hotNights                    int // minima of 95 and more
	lowest, highest              int32

	rows, rowsBetween       int   // rowsBetween: from the first over 60 to the last
	firstOver60, lastOver60 int32 // lines
}

func (x *recordTable) weigh() weight {
	v := weight{lowest: math.MaxInt32, highest: math.MinInt32, rows: len(x.rows)}
	first := -1
	for i, r := range x.rows {
		if r.min >= 95_000 {
			v.hotNights++
		}
		for _, t := range [2]int32{r.min, r.max} {
			if t == noReading {
				continue
			}
			v.n++
			v.lowest, v.highest = min(v.lowest, t), max(v.highest, t)
			switch {
			case t > 140_000 || t < -140_000:
				v.over140++
			case t > 60_000:
				v.over60++
				if first < 0 {
					first, v.firstOver60 = i, r.line
				}
				v.lastOver60, v.rowsBetween = r.line, i-first+1
			}
			if t%1000 != 0 {
				v.decimals++
			}
		}
	}
	return v
}

func (v weight) beyond(n int) bool {
	return n >= proofReadings && float64(n) >= proofShare*float64(v.n)
}

// prove is the unit that the values leave as the only one, and why; UnitUnsaid
// where two remain. Minima without maxima that reach 95 can be those of a desert in F, or
// of a cool coast in tenths of C.
func (v weight) prove(noaa, minimaOnly bool) (Unit, string) {
	highest := decimalText(v.highest)
	switch {
	case v.n == 0:
		return UnitUnsaid, ""
	case v.beyond(v.over140) && v.decimals == 0:
		return UnitTenthsC, "whole numbers up to " + highest + " can be nothing else"
	case v.beyond(v.over140), minimaOnly && v.decimals == 0 && v.beyond(v.hotNights):
		return UnitUnsaid, ""
	case v.beyond(v.over60):
		return UnitF, "no air temperature in C reaches " + highest
	case noaa && v.beyond(v.decimals):
		return UnitC, "NOAA's export has decimals in C only"
	}
	return UnitUnsaid, ""
}

// decimalText prints thousandths without trailing zeros.
func decimalText(v int32) string {
	s := fmt.Sprintf("%.3f", float64(v)/1000)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
