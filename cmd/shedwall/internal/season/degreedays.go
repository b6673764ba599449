package season

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
)

// DegreeDays of one day by three rules. All take both ends of the day, minimum
// and maximum, a base below which nothing grows and a ceiling above which growth
// gets no faster; results are in kelvin days, never negative. A cover's gain at
// night must never enter them: a night is not a day. min above max is our own bug
// and gives the result of the two exchanged.

// DegreeDaysMean is the mean of minimum and maximum less the base:
// max(0, (max + min)/2 - base). It has no ceiling.
func DegreeDaysMean(low, high, base quantity.Celsius) float64 {
	return max(0, float64(low+high)/2-float64(base))
}

// DegreeDaysClamped first moves minimum and maximum into base to ceiling, then
// takes the mean: the rule known for maize as 86/50 (McMaster and Wilhelm 1997,
// Agricultural and Forest Meteorology 87, their method 2, from memory)
// [source mcmaster97].
func DegreeDaysClamped(low, high, base, ceiling quantity.Celsius) float64 {
	clamp := func(t quantity.Celsius) quantity.Celsius { return max(base, min(ceiling, t)) }
	return DegreeDaysMean(clamp(low), clamp(high), base)
}

// DegreeDaysSine is the area under a sine through minimum and maximum, above the
// base and cut off level at the ceiling (Baskerville and Emin 1969, Ecology 50)
// [source baskerville69].
// With M the middle and W half the range,
//
//	above(B) = (W cos t - (B - M)(pi/2 - t)) / pi,   t = asin((B - M)/W)
//
// where the sine crosses B, M - B where it stays above, 0 where below; the result
// is above(base) - above(ceiling).
func DegreeDaysSine(low, high, base, ceiling quantity.Celsius) float64 {
	return sineAbove(low, high, base) - sineAbove(low, high, ceiling)
}

func sineAbove(low, high, base quantity.Celsius) float64 {
	if low > high {
		low, high = high, low
	}
	m, w := float64(low+high)/2, float64(high-low)/2
	b := float64(base)
	switch {
	case float64(low) >= b:
		return m - b
	case float64(high) <= b:
		return 0
	}
	t := math.Asin((b - m) / w)
	return (w*math.Cos(t) - (b-m)*(math.Pi/2-t)) / math.Pi
}
