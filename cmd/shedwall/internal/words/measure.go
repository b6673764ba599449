package words

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Toward is the side to which a printed figure is rounded. A limit at which a
// plant is harmed is rounded up, what a cover is sure to give is rounded down:
// always so that rounding alone never costs a plant.
type Toward uint8

// Nearest is for figures on which nothing hangs, such as heights.
const (
	Nearest Toward = iota
	Up             // warmer, later, larger
	Down           // colder, earlier, smaller
)

const nbsp = "\u00a0" // keeps a number and its unit on one line

// step rounds x to a whole number of steps of 1/perUnit. A value within slack
// (in steps) of a whole step counts as that step: -2.2 C is the 28 F of the
// table it came from although it is 28.04 F, and must not be printed as 29.
func step(x, perUnit, slack float64, t Toward) float64 {
	x *= perUnit
	switch t {
	case Up:
		x = math.Ceil(x - slack)
	case Down:
		x = math.Floor(x + slack)
	default:
		x = math.Round(x)
	}
	return (x + 0) / perUnit
}

// Celsius is printed to 0.1 C, Fahrenheit to whole degrees.
func roundC(c float64, t Toward) float64 { return step(c, 10, 0.06, t) }
func roundF(f float64, t Toward) float64 { return step(f, 1, 0.1, t) }

// Temp is a temperature in the guide's units: "-2.2 C (28 F)" with their signs.
func (b *Book) Temp(c quantity.Celsius, t Toward) string {
	return b.both(b.Number(roundC(float64(c), t), 1)+nbsp+b.T("unit.c"), b.Number(roundF(c.Fahrenheit(), t), 0)+nbsp+b.T("unit.f"))
}

// TempFirst is a temperature in the first of the guide's units only, for the
// axis of a chart and other narrow places.
func (b *Book) TempFirst(c quantity.Celsius, t Toward) string {
	if b.units == FahrenheitOnly {
		return b.Number(roundF(c.Fahrenheit(), t), 0) + nbsp + b.T("unit.f")
	}
	return b.Number(roundC(float64(c), t), 1) + nbsp + b.T("unit.c")
}

// Diff is a difference of temperatures: 5 F of difference is 2.8 C, not -15 C.
func (b *Book) Diff(k quantity.Kelvins, t Toward) string {
	return b.both(b.Number(roundC(float64(k), t), 1)+nbsp+b.T("unit.c"), b.Number(roundF(k.Fahrenheit(), t), 0)+nbsp+b.T("unit.f"))
}

// DiffRange is a range of differences, both ends rounded down: no end promises
// more than it was said to give.
func (b *Book) DiffRange(low, high quantity.Kelvins) string {
	one := func(lo, hi float64) string {
		if lo == hi {
			return b.Number(lo, 1)
		}
		return b.span(b.Number(lo, 1), b.Number(hi, 1), lo < 0)
	}
	return b.both(one(roundC(float64(low), Down), roundC(float64(high), Down))+nbsp+b.T("unit.c"),
		one(roundF(low.Fahrenheit(), Down), roundF(high.Fahrenheit(), Down))+nbsp+b.T("unit.f"))
}

// Height is a height above the sea: metres, and feet to the nearest ten.
func (b *Book) Height(m quantity.Metres) string {
	return b.both(b.Int(metres(m))+nbsp+b.T("unit.m"), b.Int(feet(m))+nbsp+b.T("unit.ft"))
}

// HeightRange is "680-880 m (2,230-2,890 ft)" with the right dashes.
func (b *Book) HeightRange(low, high quantity.Metres) string {
	return b.both(b.span(b.Int(metres(low)), b.Int(metres(high)), low < 0)+nbsp+b.T("unit.m"),
		b.span(b.Int(feet(low)), b.Int(feet(high)), low < 0)+nbsp+b.T("unit.ft"))
}

// Distance is a length over land of some kilometres: to the nearest one, and to the nearest
// mile.
func (b *Book) Distance(km float64) string {
	const mile = 1.609344
	return b.both(b.Int(int(math.Round(km)))+nbsp+b.T("unit.km"), b.Int(int(math.Round(km/mile)))+nbsp+b.T("unit.mi"))
}

func metres(m quantity.Metres) int { return int(math.Round(float64(m))) }
func feet(m quantity.Metres) int   { return 10 * int(math.Round(m.Feet()/10)) }

// both joins the two units as the guide wants them.
func (b *Book) both(metric, american string) string {
	switch b.units {
	case CelsiusOnly:
		return metric
	case FahrenheitOnly:
		return american
	}
	return metric + " (" + american + ")"
}

// span is a range of two numbers. A dash beside a minus sign would be misread,
// so such a range is written with a word.
func (b *Book) span(from, to string, wordy bool) string {
	if wordy {
		return b.T("range.words", "from", from, "to", to)
	}
	return from + "\u2013" + to
}

// IntRange is a range of whole numbers: "50-60", or one number where both ends are equal.
func (b *Book) IntRange(from, to int) string {
	if from == to {
		return b.Int(from)
	}
	return b.span(b.Int(from), b.Int(to), from < 0)
}

// NumberRange is a range of numbers with at most the given decimal places.
func (b *Book) NumberRange(from, to float64, places int) string {
	if f, t := b.Number(from, places), b.Number(to, places); f != t {
		return b.span(f, t, from < 0)
	}
	return b.Number(from, places)
}
