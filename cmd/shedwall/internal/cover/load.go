package cover

import "math"

// Loads of snow and wind are for information: what a frame bears is known to its
// maker and to the local code alone. Nothing here may become a "safe depth".

const (
	gravity = 9.80665 // m/s2, standard
	seaAir  = 1.225   // kg/m3, standard atmosphere at the sea's level
)

// SnowLoad is the load (Pa) of so much snow (m) of a density (kg/m3): rho g h. New
// snow has 30 to 300 kg/m3 (methods note of a university soils course), wet and old
// snow more; ice 910.
func SnowLoad(depth, density float64) float64 { return density * gravity * depth }

// SnowDensity is the density (kg/m3) of snow of which so many depths melt to one
// depth of water: 12 for dry snow, 3 to 4 for wet.
func SnowDensity(depthsPerWater float64) float64 { return waterDensity / depthsPerWater }

// Units of the snow rules of ASCE 7, which are not of one system: the density rule
// and the drift rule hold in these only.
const (
	psf = 47.880258980 // Pa in a pound a square foot
	pcf = 16.018463374 // kg/m3 in a pound a cubic foot
	ft  = 0.3048       // m in a foot
)

// DriftDensity is the density (kg/m3) that ASCE 7 gives snow of a ground load (Pa):
//
//	gamma = 0.13 pg + 14, at most 30    (lb/ft3, pg in lb/ft2)
func DriftDensity(ground float64) float64 { return min(0.13*ground/psf+14, 30) * pcf }

// DriftHeight is how high (m) a drift may grow in the lee of a roof of a length (m)
// under a ground load (Pa), by ASCE 7-05 and 7-16; 7-22 has another rule:
//
//	hd = 0.43 lu^(1/3) (pg + 10)^(1/4) - 1.5    (ft, lb/ft2)
//
// Three quarters of it on the windward side. Never below 0.
func DriftHeight(roof, ground float64, windward bool) float64 {
	h := max(0, 0.43*math.Cbrt(roof/ft)*math.Pow(ground/psf+10, 0.25)-1.5)
	if windward {
		h *= 0.75
	}
	return h * ft
}

// DriftWidth is how wide (m) a drift of a height (m) is: four heights.
func DriftWidth(height float64) float64 { return 4 * height }

// FlatRoofSnow is the load (Pa) on a flat roof under a ground load (Pa), by ASCE 7:
// pf = 0.7 Ce Ct Is pg, with its factors of exposure, warmth and importance. A cold
// house has more on it than one that is heated through the storm.
func FlatRoofSnow(ground, exposure, thermal, importance float64) float64 {
	return 0.7 * exposure * thermal * importance * ground
}

// WindPressure is the pressure (Pa) of a wind (m/s) at sea level before gusts, shape
// and exposure: rho v^2 / 2, 0.00256 v^2 lb/ft2 for v in mph.
func WindPressure(speed float64) float64 { return seaAir / 2 * speed * speed }
