package intake

import (
	"fmt"
	"math"
	"strconv"

	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/table"
)

// measure is how a column of numbers becomes a quantity: the units it takes, what
// each means, and the range outside of which a value is a slip (both ends are
// allowed).
type measure[T ~float64] struct {
	units     map[table.Unit]func(float64) T
	accepted  []table.Unit
	bare      table.Unit // meant where heading and cell name none
	low, high T
	like      string // "a number of degrees such as -2.2"
	suffix    string // of the unit that low and high are in, for messages
}

// of reads a cell. A value out of range is reported and unknown.
func (m measure[T]) of(c table.Cell) figure.Of[T] {
	a := c.Amount(table.Measure{Units: m.accepted, Bare: m.bare, Like: m.like})
	f := figure.With(a, func(a table.Amount) T { return m.units[a.Unit](a.Value) })
	if v, known := f.Get(); known && (v < m.low || v > m.high) {
		given, _ := a.Get()
		cure := "look whether the number, its unit and its column are right"
		if given.Unit == table.Celsius && m.units[table.Fahrenheit] != nil {
			if t := m.units[table.Fahrenheit](given.Value); t >= m.low && t <= m.high {
				cure = fmt.Sprintf("if %s was meant in °F, write %s°F here or give the column a heading that ends in _f", decimal(given.Value), decimal(given.Value))
			}
		}
		c.Fault("number-out-of-range", fmt.Sprintf("%s is outside what can be", spelled(given)),
			m.span(given.Unit), cure)
		return figure.Of[T]{State: figure.Unknown, Owner: f.Owner, Cell: f.Cell, Source: f.Source}
	}
	return f
}

// span is the range in words, in the unit of a value that lies outside of it.
func (m measure[T]) span(u table.Unit) string {
	f := m.units[u]
	if f == nil || f(0) == 0 && f(1) == 1 {
		return fmt.Sprintf("%s to %s%s", decimal(float64(m.low)), decimal(float64(m.high)), m.suffix)
	}
	in := func(v T) string { // f is a straight line
		return decimal(math.Round(float64((v - f(0)) / (f(1) - f(0)))))
	}
	return fmt.Sprintf("%s to %s %v", in(m.low), in(m.high), u)
}

// within is the measure with another range.
func (m measure[T]) within(low, high T) measure[T] {
	m.low, m.high = low, high
	return m
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func spelled(a table.Amount) string {
	if a.Unit == table.NoUnit {
		return decimal(a.Value)
	}
	return decimal(a.Value) + " " + a.Unit.String()
}

// Temperatures and differences share their units' names and nothing else: 5 °F is
// -15 °C as a temperature and 2.8 K as a difference.
var (
	temperature = measure[quantity.Celsius]{
		units: map[table.Unit]func(float64) quantity.Celsius{
			table.Celsius:    func(v float64) quantity.Celsius { return quantity.Celsius(v) },
			table.Fahrenheit: quantity.FromFahrenheit,
		},
		accepted: []table.Unit{table.Celsius, table.Fahrenheit},
		low:      -60, high: 60, like: "a temperature such as -2.2", suffix: " °C",
	}
	difference = measure[quantity.Kelvins]{
		units: map[table.Unit]func(float64) quantity.Kelvins{
			table.Kelvin:     func(v float64) quantity.Kelvins { return quantity.Kelvins(v) },
			table.Celsius:    func(v float64) quantity.Kelvins { return quantity.Kelvins(v) },
			table.Fahrenheit: quantity.FromFahrenheitDifference,
		},
		accepted: []table.Unit{table.Kelvin, table.Celsius, table.Fahrenheit},
		low:      -15, high: 40, like: "a difference in degrees such as 1.5", suffix: " K",
	}
	height = measure[quantity.Metres]{
		units: map[table.Unit]func(float64) quantity.Metres{
			table.Metre: func(v float64) quantity.Metres { return quantity.Metres(v) },
			table.Foot:  quantity.FromFeet,
		},
		accepted: []table.Unit{table.Metre, table.Foot},
		low:      -450, high: 6000, like: "a height above the sea such as 612", suffix: " m",
	}
	length = measure[float64]{
		units: map[table.Unit]func(float64) float64{
			table.Centimetre: same,
			table.Inch:       func(v float64) float64 { return v * 2.54 }, // exactly
		},
		accepted: []table.Unit{table.Centimetre, table.Inch},
		low:      0, high: 2000, like: "a length such as 30", suffix: " cm",
	}
	speed = measure[float64]{
		units: map[table.Unit]func(float64) float64{
			table.KmPerHour: same,
			table.MilePerH:  func(v float64) float64 { return v * 1.609344 }, // exactly
		},
		accepted: []table.Unit{table.KmPerHour, table.MilePerH},
		low:      0, high: 400, like: "a wind speed such as 60", suffix: " km/h",
	}
	inPercent  = countOf(table.Percent, 0, 100, "a number of percent such as 85", " %")
	inWeeks    = countOf(table.Weeks, 0, 104, "a number of weeks such as 6", " weeks")
	inDays     = countOf(table.Days, 0, 2000, "a whole number of days such as 60", " days")
	inYears    = countOf(table.Years, 0, 200, "a number of years such as 3", " years")
	inMoney    = countOf(table.NoUnit, 0, 1e6, "an amount such as 45 in the guide's currency", "")
	latitude   = countOf(table.NoUnit, -90, 90, "degrees north of the equator such as 44.2 (south: -44.2)", "")
	longitude  = countOf(table.NoUnit, -180, 180, "degrees east of Greenwich such as 11.1 (west: -11.1)", "")
	wholeCount = countOf(table.NoUnit, 0, 1e6, "a whole number such as 3", "")
)

func same(v float64) float64 { return v }

func countOf(unit table.Unit, low, high float64, like, suffix string) measure[float64] {
	return measure[float64]{
		units: map[table.Unit]func(float64) float64{unit: same}, accepted: []table.Unit{unit}, bare: unit,
		low: low, high: high, like: like, suffix: suffix,
	}
}

// whole is the measure's number where it must be whole; 60.9 is reported.
func whole(m measure[float64], c table.Cell) figure.Of[int] {
	f := m.of(c)
	if v, known := f.Get(); known && v != float64(int(v)) {
		c.Fault("number-not-whole", fmt.Sprintf("%s is not a whole number", decimal(v)), m.like, "write it without decimals")
		f = figure.Of[float64]{State: figure.Unknown, Owner: f.Owner, Cell: f.Cell, Source: f.Source}
	}
	return figure.With(f, func(v float64) int { return int(v) })
}

// lowHigh reads the two ends of a range from their columns. A range in the low
// column, 2-4, fills both where the high column is blank.
func lowHigh[T any](low, high table.Cell, read func(table.Cell) figure.Of[T]) (figure.Of[T], figure.Of[T]) {
	if a, b, ok := low.Range(); ok && high.Blank() {
		f, g := read(a), read(b)
		if f.Known() && g.Known() {
			low.Note("range-read", fmt.Sprintf("%q read as a low and a high end", low.Text()))
		}
		return f, g
	}
	return read(low), read(high)
}
