package season

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Soil by a damped sine: the yearly wave of the surface sinks into uniform soil,
// weaker and later with depth. Good for deep, bare, unfrozen soil of one moisture;
// no snow, no mulch (Hillel 1982; Nofziger, Oklahoma State University)
// [source hillel82 nofziger].
//
//	T(z, t) = mean + swing exp(-z/d) sin(w (t - coldest) - z/d - pi/2)
//	d = sqrt(2 D / w),  w = 2 pi / 365 days
type Soil struct {
	Mean      quantity.Celsius // yearly mean of the surface
	Swing     quantity.Kelvins // half the range between coldest and warmest
	Coldest   float64          // day of the year on which the surface is coldest
	Diffusion float64          // D, square metres a day; 0.05-0.08 for moist to wet loam
}

const yearDays = 365

// DampingDepth is the depth d (m) at which a wave of a period (days) has sunk to
// 1/e: sqrt(D P / pi) with D in square metres a day.
func DampingDepth(diffusion, period float64) float64 {
	return math.Sqrt(diffusion * period / math.Pi)
}

// At is the temperature at a depth (m, downward) on a day of the year.
func (s Soil) At(depth, day float64) quantity.Celsius {
	d := DampingDepth(s.Diffusion, yearDays)
	w := 2 * math.Pi / yearDays
	return s.Mean.Plus(quantity.Kelvins(float64(s.Swing) * math.Exp(-depth/d) * math.Sin(w*(day-s.Coldest)-depth/d-math.Pi/2)))
}

// Warmest is the highest temperature of the year at a depth (m).
func (s Soil) Warmest(depth float64) quantity.Celsius {
	return s.Mean.Plus(quantity.Kelvins(float64(s.Swing) * math.Exp(-depth/DampingDepth(s.Diffusion, yearDays))))
}
