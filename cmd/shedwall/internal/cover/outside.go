package cover

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/season"
)

// Weather is a run of like days and nights at a place: the nights on which a cover
// has to prove itself.
type Weather struct {
	Latitude  float64 // degrees, south negative
	DayOfYear float64 // 1 = 1 January
	Elevation quantity.Metres

	Min  quantity.Celsius // of the night, at screen height
	Days [3]DayBefore     // dull, half sunny and clear days: by Dull, HalfSun, Clear
	Deep quantity.Celsius // soil half a metre down, which ten days do not change

	// Sky is how far a clear night's sky pulls the glazing below the air, 0 to 4 K. An
	// open plant is pulled down as well, by 2 K on half of such nights, so a gain, plant
	// against plant, is worked out with 0; a thermometer inside may read 1 K lower.
	Sky quantity.Kelvins
}

// DayBefore is the day between such nights.
type DayBefore struct {
	Sun float64          // share of a clear day's sun, 0 to 1
	Max quantity.Celsius // at screen height
}

// The three kinds of day. Gains after dull days are the low ones, after half sunny
// days the typical ones, after clear days the high ones.
const (
	Dull = iota
	HalfSun
	Clear
)

// sunShares is how much of a clear day's sun each kind of day has: a seventh reaches
// the ground through thick cloud.
var sunShares = [3]float64{Dull: 0.15, HalfSun: 0.5, Clear: 1}

// Air cools and warms by Parton and Logan 1981 (Agricultural Meteorology 23:
// 205-216) [source parton81], figures for 1.5 m height: the day's sine reaches its maximum dayLag hours
// after noon, the night falls off with nightFall per night.
const (
	dayLag    = 1.86
	nightFall = 2.2
)

// warmthAt is how far the outside temperature is on its way from the night's minimum (0)
// to the day's maximum (1) at an hour of solar time, 0 to 24, of a day of so many hours
// from sunrise to sunset:
//
//	day    sin(pi m / (D + 2 a))                           m hours after sunrise
//	night  sunset (e^(-b n/N) - e^-b) / (1 - e^-b)         n hours after sunset, N = 24 - D
//
// The night's curve is Parton and Logan's, stretched to reach the minimum at sunrise
// (theirs ends a ninth of the way above it). Days of under an hour or over 23 count
// as such.
func warmthAt(hour, dayLength float64) float64 {
	d := min(max(dayLength, 1), 23)
	rise := 12 - d/2
	day := func(m float64) float64 { return math.Sin(math.Pi * m / (d + 2*dayLag)) }
	if m := hour - rise; m >= 0 && m <= d {
		return day(m)
	}
	n := math.Mod(hour-rise-d+24, 24) / (24 - d)
	end := math.Exp(-nightFall)
	return day(d) * (math.Exp(-nightFall*n) - end) / (1 - end)
}

// dayLength is the hours from sunrise to sunset of the weather's day.
func (w Weather) dayLength() float64 { return season.DayLength(w.Latitude, w.DayOfYear) }
