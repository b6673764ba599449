// Package season holds what sun and soil do through the year, apart from frost:
// day length and the days a seed needs to emerge. It is pure arithmetic on
// plain values.
package season

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
)

// horizon is the sun's depression at sunrise and sunset with refraction and the
// sun's own radius, in degrees.
const horizon = 0.8333

// DayLength is the time from sunrise to sunset in hours at a latitude (degrees,
// north positive) on a day of the year (1 = 1 January; fractions allowed). The
// sun's declination is taken at noon, J + 0.5; a place's own noon comes its longitude
// west / 360 days later, which may be added to the day and is worth a minute at most.
//
//	th  = 0.2163108 + 2 atan(0.9671396 tan(0.00860 (J - 186)))
//	dec = asin(0.39795 cos th)
//	D   = 24 - (24/pi) acos((sin p + sin L sin dec) / (cos L cos dec))
//
// Polar day gives 24, polar night 0. Forsythe et al. 1995, Ecological Modelling
// 80: 87-95 (the CBM model), p = 0.8333 degrees [source forsythe95].
func DayLength(latitude, dayOfYear float64) float64 {
	dec := Declination(dayOfYear)
	x := (math.Sin(horizon*rad) + math.Sin(latitude*rad)*math.Sin(dec)) / (math.Cos(latitude*rad) * math.Cos(dec))
	return 24 - 24/math.Pi*math.Acos(max(-1, min(1, x)))
}

// rad is a degree in radians.
const rad = math.Pi / 180

// Declination is the sun's declination in radians at noon of a day of the year (1 =
// 1 January), north positive: the first two lines of DayLength.
func Declination(dayOfYear float64) float64 {
	th := 0.2163108 + 2*math.Atan(0.9671396*math.Tan(0.00860*(dayOfYear+0.5-186)))
	return math.Asin(0.39795 * math.Cos(th))
}

// ShortDays is the stretch of slots, both inclusive, in which the day is shorter
// than hours (10 for the growers' rule that growth all but stops), in the winter
// that follows the summer of a plan: slots 366 and above. false where days never
// get so short, or never longer.
func ShortDays(latitude, hours float64, h quantity.Hemisphere) (from, to quantity.Slot, ok bool) {
	short := func(s quantity.Slot) bool {
		md := h.MonthDay(s)
		doy := float64(quantity.DayOf(2023, md.Month, min(md.Day, quantity.DaysIn(2023, md.Month))) - quantity.DayOf(2023, 1, 1) + 1)
		return DayLength(latitude, doy) < hours
	}
	for s := quantity.Slot(quantity.SlotsPerYear); s < 2*quantity.SlotsPerYear; s++ {
		switch {
		case short(s) && !ok:
			from, to, ok = s, s, true
		case short(s):
			to = s
		}
	}
	if ok && to-from >= quantity.SlotsPerYear-1 {
		return 0, 0, false
	}
	return from, to, ok
}
