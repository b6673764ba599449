// Package frost answers from a daily record when a place last and first falls
// to a temperature, in how many years, and how cold its winters get. Every
// adjustment of the guide is in degrees, so the one question it must answer well
// is "when does it last fall to T", for any T, exactly and fast.
//
// It takes plain series and gives plain answers: it reads no files, knows no
// crops, covers or bands, shifts no temperatures and writes no sentences. Its
// rules (season years, missing days, how many years make a careful date) are
// named constants that pages print in words.
package frost

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Series is any daily series of which staircases are made: minima, 7-day means
// of minima, soil temperatures. Values[i] belongs to the day Start+i and is
// quantity.Missing where there is none; Step is the step of its values.
type Series struct {
	Start  quantity.Day
	Values []quantity.Hundredths
	Step   record.StepKind
}

// Minima is the series of a record's daily minima. It shares the record's
// values and must not be written to.
func Minima(d *record.Daily) Series {
	return Series{Start: d.Start, Values: d.Min, Step: d.Step}
}

// End is the day after the last day of the series.
func (s Series) End() quantity.Day { return s.Start + quantity.Day(len(s.Values)) }

// A week's mean stands for its last day. Two days of the seven may be missing:
// the mean of five nights differs little from that of seven, and a single gap
// would otherwise blank a whole week.
const (
	weekDays      = 7
	weekDaysKnown = 5
)

// Weekly is the series of 7-day means of s, each written on the last of its
// seven days, rounded to the nearest hundredth of a degree. A day with fewer
// than five known values among its seven is Missing. Chilling is judged by it:
// a single cool night does not check growth, a cool week does.
func Weekly(s Series) Series { return Trailing(s, weekDays, weekDaysKnown) }

// Trailing is the series of means of the last days values of s, each written on the last
// of them, rounded to the nearest hundredth of a degree. A day with fewer than least
// known values (at least 1) among them is Missing.
func Trailing(s Series, days, least int) Series {
	w := Series{Start: s.Start, Values: make([]quantity.Hundredths, len(s.Values)), Step: record.HundredthC}
	sum, known := 0, 0
	for i, v := range s.Values {
		if v.Known() {
			sum, known = sum+int(v), known+1
		}
		if i >= days {
			if old := s.Values[i-days]; old.Known() {
				sum, known = sum-int(old), known-1
			}
		}
		w.Values[i] = quantity.Missing
		if known >= max(least, 1) {
			w.Values[i] = quantity.Hundredths(math.Round(float64(sum) / float64(known)))
		}
	}
	return w
}

// thresholdSlack (hundredths of a degree) absorbs the rounding error of a
// threshold that was reached by sums of decimal fractions: -2.2 must stay -2.2
// when it arrives as -2.1999999999.
const thresholdSlack = 1e-6

// wholeFSlack (degrees F) is how far a threshold written to 0.1 C may stand above
// the whole degree F it was rounded from: -2.2 C is 28.04 F and means 28 F. Half of
// 0.1 C is 0.09 F.
const wholeFSlack = 0.09 + thresholdSlack

// RoundWarm rounds a threshold to the warmer side at the step of a station's
// readings, so that "value <= threshold" counts every reading that can stand for
// a temperature at or below t:
//
//	t           step         becomes
//	28 F        0.1 C        -2.2 C   (28 F is -2.22, written -2.2 in such a file)
//	-2.2 C      whole F      28 F, -2.22 C
//	28.5 F      whole F      29 F, -1.67 C
//	-2.2 C      whole C      -2 C
//
// The result is at or above t, by less than one step; in whole F it may lie below t
// by up to half of 0.1 C. Thresholds outside the range of Hundredths give its ends.
func RoundWarm(t quantity.Celsius, step record.StepKind) quantity.Hundredths {
	if step == record.WholeF {
		f := math.Ceil(t.Fahrenheit() - wholeFSlack)
		return clampHundredths(float64(quantity.FromFahrenheit(f)) * 100)
	}
	size := stepSize(step)
	return clampHundredths(math.Ceil((float64(t)*100-thresholdSlack)/size) * size)
}

// stepSize is the step in hundredths of a degree Celsius. WholeF has no whole
// number of hundredths and is handled on its own scale.
func stepSize(step record.StepKind) float64 {
	switch step {
	case record.TenthC:
		return 10
	case record.HalfC:
		return 50
	case record.WholeC:
		return 100
	}
	return 1
}

func clampHundredths(v float64) quantity.Hundredths {
	return quantity.Hundredths(math.Round(min(max(v, math.MinInt16+1), math.MaxInt16)))
}
