package cover

import (
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/season"
)

const rad = math.Pi / 180

// clearSky holds, by month, what the air leaves of the sun under a clear sky: A
// (W/m2) above the air, B by which the beam is weakened in one air mass, C the share
// of the beam that comes from the sky around. ASHRAE's clear-sky figures for the 21st
// of each month, northern, from memory [source ashrae].
var clearSky = [12][3]float64{
	{1230, 0.142, 0.058}, {1215, 0.144, 0.060}, {1186, 0.156, 0.071}, {1136, 0.180, 0.097},
	{1104, 0.196, 0.121}, {1088, 0.205, 0.134}, {1085, 0.207, 0.136}, {1107, 0.201, 0.122},
	{1151, 0.177, 0.092}, {1192, 0.160, 0.073}, {1221, 0.149, 0.063}, {1233, 0.142, 0.057},
}

// groundReflects is the share of sunlight that grass and bare soil throw back at
// upright glazing; snow throws more and is left out, on the careful side.
const groundReflects = 0.2

// sunlight is a clear day's sun at a place.
type sunlight struct {
	latitude, declination float64 // radians
	a, b, c               float64 // as in clearSky, b for the height of the place
}

// sunlightAt prepares the sun of a day of the year (1 = 1 January) at a latitude
// (degrees, south negative). The beam's weakening goes with the air above the place.
func sunlightAt(latitude, dayOfYear float64, elevation quantity.Metres) sunlight {
	month := int(math.Floor((dayOfYear-0.5)/30.4375)) % 12
	if latitude < 0 {
		month += 6 // moist air belongs to summer
	}
	k := clearSky[(month+12)%12]
	return sunlight{latitude * rad, season.Declination(dayOfYear), k[0], k[1] * AirDensityShare(elevation), k[2]}
}

// vector is where the sun stands at an hour of solar time (12 = noon): a unit vector
// with its parts to the east, the north and upwards.
func (s sunlight) vector(hour float64) (east, north, up float64) {
	h := (hour - 12) * 15 * rad
	east = -math.Cos(s.declination) * math.Sin(h)
	north = math.Sin(s.declination)*math.Cos(s.latitude) - math.Cos(s.declination)*math.Sin(s.latitude)*math.Cos(h)
	up = math.Sin(s.latitude)*math.Sin(s.declination) + math.Cos(s.latitude)*math.Cos(s.declination)*math.Cos(h)
	return east, north, up
}

// lowSun is the sine of the height below which the sun is left out: hills and hedges.
const lowSun = 0.02

// flat is the clear sun on level ground (W/m2) at an hour of solar time:
//
//	beam = A exp(-B / sin height),  flat = beam sin height + C beam
func (s sunlight) flat(hour float64) float64 {
	_, _, up := s.vector(hour)
	if up < lowSun {
		return 0
	}
	beam := s.a * math.Exp(-s.b/up)
	return beam*up + s.c*beam
}

// onto is the clear sun on a pane (W/m2): beam by the angle at which it meets the
// pane, the sky that the pane sees, and what the ground throws back. tilt in degrees,
// 0 = lying flat.
func (s sunlight) onto(facing catalog.Facing, tilt, hour float64) float64 {
	east, north, up := s.vector(hour)
	if up < lowSun {
		return 0
	}
	beam := s.a * math.Exp(-s.b/up)
	t, bearing := tilt*rad, float64(facing-catalog.FacesNorth)*45*rad
	meets := up*math.Cos(t) + math.Sin(t)*(north*math.Cos(bearing)+east*math.Sin(bearing))
	sees := (1 + math.Cos(t)) / 2
	return beam*max(0, meets) + s.c*beam*sees + groundReflects*(beam*up+s.c*beam)*(1-sees)
}
