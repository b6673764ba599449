package cover

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
)

// stefanBoltzmann is in W/m2K4.
const stefanBoltzmann = 5.67e-8

// Radiation is what a black body of a temperature sends out (W/m2): sigma T^4.
func Radiation(t quantity.Celsius) float64 {
	k := float64(t) + 273.15
	return stefanBoltzmann * k * k * k * k
}

// VapourPressure is the pressure (kPa) of water vapour in saturated air:
//
//	0.6108 exp(17.27 t / (t + 237.3))    FAO Irrigation and Drainage Paper 56, equation 11
//
// At the dew point it is the vapour pressure of the air.
func VapourPressure(t quantity.Celsius) float64 {
	return 0.6108 * math.Exp(17.27*float64(t)/(float64(t)+237.3))
}

// DewPoint is the temperature at which air of a temperature and relative humidity
// (percent, above 0) begins to give up water, by Magnus's formula with 17.625 and
// 243.04 C:
//
//	g = ln(RH/100) + 17.625 t / (243.04 + t),  dew point = 243.04 g / (17.625 - g)
func DewPoint(t quantity.Celsius, humidity float64) quantity.Celsius {
	g := math.Log(humidity/100) + 17.625*float64(t)/(243.04+float64(t))
	return quantity.Celsius(243.04 * g / (17.625 - g))
}

// GrassMinimum is the next night's minimum on grass (C) from the temperature and dew
// point at three in the afternoon, (t + dew/2)/3 - c, for still clear nights of
// Canterbury, New Zealand (Smith 1973) [source fao_frost]; c is 8 in the frost months of spring and
// fall, 9 in midwinter.
func GrassMinimum(at15h, dew quantity.Celsius, c float64) quantity.Celsius {
	return (at15h+dew/2)/3 - quantity.Celsius(c)
}

// NightCooling is the temperature so many hours after sunset of a night of so many
// hours, from the one two hours after sunset and the minimum at sunrise:
//
//	T = T2 + (min - T2) sqrt((hours - 2) / (night - 2))
//
// FAO 2005, Frost Protection volume 1, chapter 5 [source fao_frost]. In the first two hours it is T2,
// after sunrise the minimum.
func NightCooling(t2, low quantity.Celsius, night, hours float64) quantity.Celsius {
	if hours <= 2 || night <= 2 {
		return t2
	}
	return t2 + (low-t2)*quantity.Celsius(math.Sqrt(min(1, (hours-2)/(night-2))))
}

// ClearNight is one still clear night of a place's own notes: temperature and dew
// point two hours after sunset, and the minimum that followed.
type ClearNight struct{ Temperature, Dew, Min quantity.Celsius }

// ForecastMinimum is the minimum to expect from the temperature and dew point two
// hours after sunset, from a place's own clear nights, by two lines one after the
// other (FAO 2005, Frost Protection volume 1, chapter 5)
// [source fao_frost]: the minima on temperature
// first, then what is left over on dew point. Ordinary regression on both at once is
// another method and gives other figures. false with fewer than three nights, or
// where temperatures or dew points are all alike.
func ForecastMinimum(nights []ClearNight, temperature, dew quantity.Celsius) (quantity.Celsius, bool) {
	n := len(nights)
	t, d, low := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, x := range nights {
		t[i], d[i], low[i] = float64(x.Temperature), float64(x.Dew), float64(x.Min)
	}
	a, b, ok := fitLine(t, low)
	if !ok {
		return 0, false
	}
	for i := range low {
		low[i] -= a + b*t[i]
	}
	a2, b2, ok := fitLine(d, low)
	if !ok {
		return 0, false
	}
	return quantity.Celsius(a + b*float64(temperature) + a2 + b2*float64(dew)), true
}

// fitLine is the least-squares line y = a + b x.
func fitLine(x, y []float64) (a, b float64, ok bool) {
	if len(x) < 3 {
		return 0, 0, false
	}
	var mx, my float64
	for i := range x {
		mx, my = mx+x[i]/float64(len(x)), my+y[i]/float64(len(x))
	}
	var sxx, sxy float64
	for i := range x {
		sxx, sxy = sxx+(x[i]-mx)*(x[i]-mx), sxy+(x[i]-mx)*(y[i]-my)
	}
	if sxx < 1e-9 {
		return 0, 0, false
	}
	b = sxy / sxx
	return my - b*mx, b, true
}
