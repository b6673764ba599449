package season

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Harmonics is how many waves a year a guide draws through monthly means. All six
// keep each month's mean exactly, but bend between months where none asked them to;
// four follow real years and miss a month's mean by 0.2 C at most (Lebanon NH).
const Harmonics = 4

// Curve is a smooth yearly course drawn through monthly means. The zero Curve is 0
// on every day.
type Curve struct {
	mean float64
	wave [6][2]float64 // cosine and sine of 1 to 6 waves a year
}

// CurveOf draws the course whose means over the months are the given ones (0 =
// January), with up to harmonics waves a year (1 to 6; six keep the means exactly):
//
//	y(t) = a0 + sum a_j cos(2 pi j t/12) + b_j sin(2 pi j t/12)
//	a_j, b_j = (1/6) sum Y_m cos, sin(2 pi j m/12) / ((12/(pi j)) sin(pi j/12))
//
// t in months, month m centred on t = m; a_6 has 1/12 for 1/6, b_6 is 0. The divisor
// gives back what averaging over a month takes from a wave. Epstein 1991, Journal of
// Climate 4: 365-368 [source epstein91].
func CurveOf(monthly [12]float64, harmonics int) Curve {
	var c Curve
	for _, y := range monthly {
		c.mean += y / 12
	}
	for j := 1; j <= min(harmonics, 6); j++ {
		var a, b float64
		for m, y := range monthly {
			angle := 2 * math.Pi * float64(j*(m+1)) / 12
			a, b = a+y*math.Cos(angle)/6, b+y*math.Sin(angle)/6
		}
		if j == 6 {
			a, b = a/2, 0
		}
		half := math.Pi * float64(j) / 12
		kept := math.Sin(half) / half
		c.wave[j-1] = [2]float64{a / kept, b / kept}
	}
	return c
}

// At is the value in the middle of day k (from 1) of a month of so many days: t = m -
// 1/2 + (k - 1/2)/days.
func (c Curve) At(month, day, days int) float64 {
	t := float64(month) - 0.5 + (float64(day)-0.5)/float64(days)
	y := c.mean
	for j, w := range c.wave {
		angle := 2 * math.Pi * float64(j+1) * t / 12
		y += w[0]*math.Cos(angle) + w[1]*math.Sin(angle)
	}
	return y
}

// Slots is the curve's value on each slot of a season year, 29 February included.
func (c Curve) Slots(h quantity.Hemisphere) []float64 {
	out := make([]float64, quantity.SlotsPerYear)
	for s := range out {
		md := h.MonthDay(quantity.Slot(s))
		out[s] = c.At(md.Month, md.Day, quantity.DaysIn(2024, md.Month)) // a leap year
	}
	return out
}
