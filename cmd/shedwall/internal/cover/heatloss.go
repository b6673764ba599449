package cover

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Figures of air and water.
const (
	airHeat     = 0.33   // W h/m3 K: heat that one air change takes along at sea level
	waterHeat   = 4186.8 // J/kg K
	iceHeat     = 2100.0 // J/kg K
	waterFusion = 334500 // J/kg, freezing
)

// Conduction is the heat (W) that walls and glazing of an area (m2) and a U (W/m2K)
// lose over a difference of temperature: Q = U A dT.
func Conduction(u, area float64, d quantity.Kelvins) float64 { return u * area * float64(d) }

// Infiltration is the heat (W) that leaves with the air of a volume (m3) at so many
// air changes an hour: Q = 0.33 n V dT at sea level, less in thinner air.
func Infiltration(volume, changes float64, d quantity.Kelvins, elevation quantity.Metres) float64 {
	return airHeat * volume * changes * AirDensityShare(elevation) * float64(d)
}

// AirDensityShare is the density of air at a height as a share of that at the sea's
// level, by pressure: p/p0 = (1 - 0.0065 z / 288.15)^5.2559 of the standard
// atmosphere; 0.785 at 2,000 m. The colder air of heights is denser by some percent
// for its pressure, which is left out.
func AirDensityShare(z quantity.Metres) float64 {
	return math.Pow(max(0, 1-0.0065*float64(z)/288.15), 5.2559)
}

// WaterHeat is the heat (J) that so many litres give up in cooling by a difference,
// without freezing.
func WaterHeat(litres float64, d quantity.Kelvins) float64 { return litres * waterHeat * float64(d) }

// FreezingHeat is the heat (J) that so many litres give up in freezing.
func FreezingHeat(litres float64) float64 { return litres * waterFusion }

// SnowMelting is the power (W/m2) that melts snow as it falls: depth an hour (m/h)
// of snow of which so many depths make one of water.
func SnowMelting(depthPerHour, depthsPerWater float64) float64 {
	return depthPerHour / depthsPerWater * waterDensity * waterFusion / 3600
}

const waterDensity = 1000.0 // kg/m3

// waterAt is the temperature of a mass of water (kg) with so much heat (J) above
// that of water at 0 C. Between water and ice it stays at 0 C.
func waterAt(heat, mass float64) float64 {
	switch {
	case heat > 0:
		return heat / (mass * waterHeat)
	case heat < -mass*waterFusion:
		return (heat + mass*waterFusion) / (mass * iceHeat)
	}
	return 0
}
