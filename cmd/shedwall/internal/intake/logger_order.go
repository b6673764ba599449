package intake

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// orderDates settles dates such as 3/4/2018 for the whole column: by a number above
// 12, else by the readings themselves, which follow each other day by day in one
// order and jump by months in the other. That is told; what stays open is a fault.
func (x *loggerTable) orderDates() bool {
	first := -1 // first row with an open date
	var dayProof, monthProof *loggerRow
	for i := range x.rows {
		r := &x.rows[i]
		switch {
		case r.open.year == 0:
			continue
		case r.open.a > 12:
			dayProof = r
		case r.open.b > 12:
			monthProof = r
		}
		if first < 0 {
			first = i
		}
	}
	if first < 0 {
		return true
	}
	dayFirst := dayProof != nil
	if dayFirst == (monthProof != nil) {
		r := x.rows[first]
		what := fmt.Sprintf("%d/%d/%d can be two dates, and no row of the column proves which", r.open.a, r.open.b, r.open.year)
		if dayFirst {
			what = fmt.Sprintf("line %d has the month first, line %d the day", monthProof.line, dayProof.line)
		} else if order, sure := x.followingOrder(); sure {
			x.setDates(order)
			x.t.add(diag.Fault{At: x.at(int(r.line), x.time), ID: "logger-dates-read", Severity: diag.Notice,
				What: fmt.Sprintf("%d/%d/%d was read with the %s first: so the readings follow each other day by day", r.open.a, r.open.b, r.open.year, [...]string{"month", "day"}[btoi(order)])})
			return true
		}
		x.t.add(diag.Fault{At: x.at(int(r.line), x.time), ID: "record-date-ambiguous", What: what,
			Expected: "dates that can be read in one way, such as 2018-03-19", Cure: "format the column as year-month-day and save it again"})
		return false
	}
	x.setDates(dayFirst)
	return !x.t.failed
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// followingOrder says whether with the day first (true) or the month first the days
// follow each other with no gap above a week, while the other order leaps; sure where
// exactly one does.
func (x *loggerTable) followingOrder() (dayFirst, sure bool) {
	const most = 7
	follows := func(dayFirst bool) bool {
		last := quantity.Day(math.MinInt32)
		for _, r := range x.rows {
			d, ok := loggerDay(r, dayFirst)
			if !ok || last != math.MinInt32 && (d < last || d > last+most) {
				return false
			}
			last = d
		}
		return true
	}
	a, b := follows(false), follows(true)
	return b, a != b
}

func loggerDay(r loggerRow, dayFirst bool) (quantity.Day, bool) {
	if r.open.year == 0 {
		return r.day, true
	}
	month, day := int(r.open.a), int(r.open.b)
	if dayFirst {
		month, day = day, month
	}
	if !quantity.ValidDate(int(r.open.year), month, day) {
		return 0, false
	}
	return quantity.DayOf(int(r.open.year), month, day), true
}

func (x *loggerTable) setDates(dayFirst bool) {
	for i := range x.rows {
		r := &x.rows[i]
		d, ok := loggerDay(*r, dayFirst)
		if !ok {
			x.t.add(diag.Fault{At: x.at(int(r.line), x.time), ID: "logger-time-unreadable", What: fmt.Sprintf("%d/%d/%d is no day of the calendar", r.open.a, r.open.b, r.open.year),
				Expected: "a date that exists", Cure: "mend the cell or delete the row"})
			continue
		}
		r.day = d
	}
}

// What no logger in a garden has read, thousandths of a degree C: above, it lay in
// the sun or is in F; below, it is broken.
const loggerHigh, loggerLow = 85_000, -60_000

// unit is the unit of the readings: the heading's, the one given, or F where no
// temperature in C could be so high.
func (x *loggerTable) unit() (Unit, bool) {
	heading := x.names[x.temperature]
	head, u := loggerUnit(heading), x.m.Unit
	if head != UnitUnsaid && u != UnitUnsaid && head != u {
		x.t.add(diag.Fault{ID: "record-unit-contradicted", What: fmt.Sprintf("the heading %q says %v, the unit given is %v", heading, head, u),
			Expected: "one unit", Cure: "leave the unit out if the heading is right, else rename the heading"})
		return u, false
	}
	if u == UnitUnsaid {
		u = head
	}
	above, highest, lowest := 0, int32(math.MinInt32), int32(math.MaxInt32)
	for _, r := range x.rows {
		highest, lowest = max(highest, r.value), min(lowest, r.value)
		if r.value > loggerHigh {
			above++
		}
	}
	many := above >= proofReadings && float64(above) >= proofShare*float64(len(x.rows))
	switch {
	case u == UnitC && many:
		x.t.add(diag.Fault{ID: "record-unit-implausible", What: fmt.Sprintf("%d of %d readings are above 85, the highest %s: these are not degrees C", above, len(x.rows), decimalText(highest)),
			Expected: "temperatures in the unit given", Cure: "if they are in F, say so"})
		return u, false
	case u == UnitUnsaid && many:
		x.t.add(diag.Fault{ID: "record-read-as", Severity: diag.Notice, What: fmt.Sprintf("the temperatures were read as %v: no garden in C reaches %s", UnitF, decimalText(highest)),
			Cure: "give the unit if that is not right"})
		return UnitF, true
	case u == UnitUnsaid:
		x.t.add(diag.Fault{ID: "record-unit-unsaid", What: fmt.Sprintf("nothing says whether these temperatures (%s to %s) are in C or in F", decimalText(lowest), decimalText(highest)),
			Expected: "a unit: 28 F is -2.2 C, and 28 C is a summer's day", Cure: "name the column temperature_c or temperature_f, or give the unit: --inside-unit or --outside-unit, c or f"})
		return u, false
	}
	return u, true
}

// loggerUnit is the unit that a heading says: "temperature_c", "TemperatureC",
// "Temp, °F (LGR)".
func loggerUnit(heading string) Unit {
	for _, w := range headingWords(heading) {
		switch w {
		case "c", "degc", "celsius", "centigrade", "temperaturec", "tempc":
			return UnitC
		case "f", "degf", "fahrenheit", "temperaturef", "tempf":
			return UnitF
		}
	}
	return UnitUnsaid
}

// logger turns the rows into readings in the order of time. Times with a zone are
// brought to that of the first row.
func (x *loggerTable) logger(u Unit) record.Logger {
	if x.zoned > 0 && x.plain > 0 {
		x.t.add(diag.Fault{ID: "logger-zones-mixed", What: fmt.Sprintf("%d times say their time zone and %d do not", x.zoned, x.plain),
			Expected: "a zone in every row or in none", Cure: "read the logger out again with one setting"})
		return record.Logger{}
	}
	l := record.Logger{Zoned: x.zoned > 0}
	if l.Zoned {
		l.Zone = int(x.rows[0].zone)
	}
	for _, r := range x.rows {
		v := hundredths(r.value, u)
		if v < loggerLow/10 || v > loggerHigh/10 {
			continue
		}
		at := record.MomentOf(r.day, int(r.minute))
		if l.Zoned {
			at += record.Moment(l.Zone - int(r.zone))
		}
		l.Readings = append(l.Readings, record.Reading{At: at, Value: quantity.Hundredths(v)})
	}
	slices.SortStableFunc(l.Readings, func(a, b record.Reading) int { return cmp.Compare(a.At, b.At) })
	return l
}
