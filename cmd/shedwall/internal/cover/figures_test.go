package cover

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Units of the sources.
const (
	btuHour  = 0.2930711 // W
	uBtu     = 5.678263  // W/m2K in 1 Btu/h ft2 F
	squareFt = ft * ft
	cubicFt  = ft * ft * ft
	inch     = 0.0254
	mph      = 0.44704
	pound    = 0.45359237
	btu      = 1055.056
	gallon   = 3.785411784 // l

	btuSquareFt = btuHour / squareFt // W/m2 in 1 Btu/h ft2
)

// Published and worked figures of snow, wind and heat loss. Each row names its
// source; a tolerance is half of the last digit printed unless it says otherwise.
func TestLoadsAndHeatLoss(t *testing.T) {
	kelvin := func(f float64) quantity.Kelvins { return quantity.FromFahrenheitDifference(f) }
	deep := func(depthIn, ratio float64) float64 { return SnowLoad(depthIn*inch, SnowDensity(ratio)) / psf }
	drift := DriftHeight(35*ft, 20*psf, true)
	for _, c := range []struct {
		what            string
		got, want, give float64
	}{
		// Snow. Bartok, University of Connecticut, 2013 and 2015.
		{"one inch of water, psf", SnowLoad(inch, 1000) / psf, 5.2, 0.005},
		{"12 in of dry snow, psf", deep(12, 12), 5.2, 0.01},
		{"3 in of wet snow, psf", deep(3, 3), 5.2, 0.01},
		{"on 25 x 96 ft, short tons", 5.2 * psf * 25 * 96 * squareFt / gravity / pound / 2000, 6.24, 0.01}, // by hand: 5.2 x 2400 / 2000
		// A television weather page on snow weight, printed to a tenth and to hundreds.
		{"12 in at 15 to 1, psf", deep(12, 15), 4.1, 0.07},
		{"12 in at 5 to 1, psf", deep(12, 5), 12.5, 0.07},
		{"12 in at 10 to 1 on 1500 ft2, lb", deep(12, 10) * 1500, 9300, 110},
		{"12 in at 5 to 1 on 1500 ft2, lb", deep(12, 5) * 1500, 18800, 110},
		{"18 in of 10 pcf, psf", SnowLoad(1.5*ft, 10*pcf) / psf, 15, 0.001}, // a widely repeated example
		// Worked snow-drift sheet for ASCE 7-05, 7.7, with pg 20 psf and lu 35 ft.
		{"density of snow of 20 psf, pcf", DriftDensity(20*psf) / pcf, 16.6, 0.0005},
		{"depth of 20 psf, ft", 20 / (DriftDensity(20*psf) / pcf), 1.205, 0.0005},
		{"windward drift, ft", drift / ft, 1.344, 0.0006},
		{"its load, psf", SnowLoad(drift, DriftDensity(20*psf)) / psf, 22.308, 0.01},
		{"its width, ft", DriftWidth(drift) / ft, 5.376, 0.003},
		{"density is capped, pcf", DriftDensity(200*psf) / pcf, 30, 1e-9},
		// SK&A Engineers' note on ASCE 7-16, pg 25 psf.
		{"flat roof, psf", FlatRoofSnow(25*psf, 1, 1, 1) / psf, 17.5, 0.001},
		{"roof and drift together, psf", (FlatRoofSnow(25*psf, 1, 1, 1) + SnowLoad(2.08*ft, 17.25*pcf)) / psf, 53.3, 0.15},
		// By hand: rho g h.
		{"30 cm of 100 kg/m3, kPa", SnowLoad(0.3, 100) / 1000, 0.294, 0.001},
		{"30 cm of 200 kg/m3, kPa", SnowLoad(0.3, 200) / 1000, 0.588, 0.001},
		{"30 cm of 400 kg/m3, kPa", SnowLoad(0.3, 400) / 1000, 1.177, 0.001},

		// Wind. Bartok 2010; a guide to tent ballast; by hand.
		{"80 mph, psf", WindPressure(80*mph) / psf, 16, 0.5},
		{"80 mph on 10 x 100 ft, lb", WindPressure(80*mph) / psf * 1000, 16000, 500},
		{"70 mph, psf", WindPressure(70*mph) / psf, 12.5, 0.06},
		{"90 mph, psf", WindPressure(90*mph) / psf, 20.736, 0.03}, // by hand with 0.00256, which is 0.002556 rounded
		{"60 mph, Pa", WindPressure(60 * mph), 440.7, 0.1},

		// Heat loss. Definition by Miller and Nemali, Purdue; arithmetic by hand.
		{"1000 ft2, U 1.1, 40 F, Btu/h", Conduction(1.1*uBtu, 1000*squareFt, kelvin(40)) / btuHour, 44000, 0.5},
		{"half cylinder 12 x 8 ft, U 1.2, 20 F, Btu/h", Conduction(1.2*uBtu, halfCylinder(12, 8)*squareFt, kelvin(20)) / btuHour, 4825.5, 0.5},
		{"1000 ft3, one change, 40 F, Btu/h", Infiltration(1000*cubicFt, 1, kelvin(40), 0) / btuHour, 720, 12}, // 0.018 Btu/ft3 F and 0.33 W h/m3 K are both rounded
		{"the same, W", Infiltration(28.317, 1, 22.222, 0), 207.7, 0.5},
		{"the same from Btu, W", 720 * btuHour, 211.0, 0.1},
		{"U of single glass, W/m2K", 1.15 * uBtu, 6.53, 0.005},
		{"U of 1.13, W/m2K", 1.13 * uBtu, 6.42, 0.005},
		{"1000 W, Btu/h", 1000 / btuHour, 3412, 0.5},
		{"100 W lamp, Btu/h", 100 / btuHour, 341.2, 0.1},
		{"a second layer takes 34 % off, Btu", 1.2 * (1 - 0.34), 0.79, 0.005},                       // Rasheed et al., Span. J. Agric. Res.
		{"55 gallons, Btu/F", WaterHeat(55*gallon, kelvin(1)) / btu, 458.7, 0.8},                    // own; 8.34 lb/gal where 4 C water has 8.345
		{"ten drums by 551 lb, Btu", 10 * 551 * 9, 49590, 0.5},                                      // the forum's 59,590 is a slip
		{"200 l by 5 K, MJ", WaterHeat(200, 5) / 1e6, 4.187, 0.005},                                 // by hand
		{"that over 12 h, W", WaterHeat(200, 5) / 12 / 3600, 96.9, 0.2},                             // by hand
		{"400 gal of oil, million Btu", 400 * 138500 / 1e6, 55.8, 0.5},                              // University of Wisconsin Extension
		{"dry snow, 1 in/h, Btu/h ft2", SnowMelting(inch, 12) / btuSquareFt, 62, 0.5},               // Bartok 2015
		{"wet snow, 1 in/h, Btu/h ft2", SnowMelting(inch, 3) / btuSquareFt, 250, 0.8},               // Bartok 2015, from 144 Btu/lb: ours is 143.8
		{"the same on 30 x 100 ft, Btu/h", SnowMelting(inch, 3) / btuSquareFt * 3000, 750000, 2000}, // Bartok 2015
		{"cooling water 20 to 0 C, kJ/kg", WaterHeat(1, 20) / 1000, 83.7, 0.1},                      // FAO 2005, from memory
		{"freezing, Btu/lb", FreezingHeat(1) * pound / btu, 144, 0.3},                               // Bartok 2015; FAO's 334.5 kJ/kg
		{"freezing a gallon, Btu", FreezingHeat(gallon) / btu, 1200, 5},                             // 8.34 lb x 144
		{"air at 2,000 m against sea level", AirDensityShare(2000), 0.785, 0.0005},                  // standard atmosphere
	} {
		if math.Abs(c.got-c.want) > c.give {
			t.Errorf("%s: %.4f, want %.4f give or take %g", c.what, c.got, c.want, c.give)
		}
	}
}

// halfCylinder is film over a half cylinder with both ends, by hand.
func halfCylinder(length, width float64) float64 {
	r := width / 2
	return math.Pi*r*length + math.Pi*r*r
}

// onBoth is the minimum by ordinary least squares on temperature and dew point together,
// by the normal equations of deviations from the means.
func onBoth(nights []ClearNight, temperature, dew float64) float64 {
	n := float64(len(nights))
	var mt, md, ml float64
	for _, x := range nights {
		mt, md, ml = mt+float64(x.Temperature)/n, md+float64(x.Dew)/n, ml+float64(x.Min)/n
	}
	var tt, dd, td, tl, dl float64
	for _, x := range nights {
		t, d, l := float64(x.Temperature)-mt, float64(x.Dew)-md, float64(x.Min)-ml
		tt, dd, td, tl, dl = tt+t*t, dd+d*d, td+t*d, tl+t*l, dl+d*l
	}
	det := tt*dd - td*td
	return ml + (tl*dd-dl*td)/det*(temperature-mt) + (dl*tt-tl*td)/det*(dew-md)
}

// FAO 2005, Frost Protection volume 1, chapter 5, its nights and answers as worked in
// a published program; other rows as named.
func TestFrostNights(t *testing.T) {
	var nights []ClearNight
	t0 := []quantity.Celsius{3.2, 0.8, 0.2, 2.6, 4.4, 5.2, 2.7, 1.2, 4.5, 5.6}
	td := []quantity.Celsius{-4.2, -8.8, -6.5, -6.2, -6.1, 2.6, -0.7, -1.7, -1.2, 0.1}
	tn := []quantity.Celsius{-3.1, -5, -6.3, -5.4, -4, -2.5, -4.8, -5, -4.4, -3.3}
	for i := range t0 {
		nights = append(nights, ClearNight{t0[i], td[i], tn[i]})
	}
	low, ok := ForecastMinimum(nights, 10, 2)
	if !ok || math.Abs(float64(low)+0.7409219) > 1e-6 {
		t.Errorf("minimum from 10 C and dew point 2 C: %.7f, want -0.7409219", low)
	}
	// Ordinary regression on both at once is another method: -1.0293 C for the same nights.
	if both := onBoth(nights, 10, 2); math.Abs(both+1.0293) > 1e-4 || math.Abs(both-float64(low)) < 0.2 {
		t.Errorf("by ordinary regression %.4f, want -1.0293 and not %.4f", both, low)
	}
	if _, ok := ForecastMinimum(nights[:2], 10, 2); ok {
		t.Error("two nights make no line")
	}
	if _, ok := ForecastMinimum([]ClearNight{{1, 0, -3}, {1, 1, -4}, {1, 2, -5}}, 1, 1); ok {
		t.Error("nights of one temperature make no line")
	}
	for _, c := range []struct {
		what            string
		got, want, give float64
	}{
		{"3 h after sunset", float64(NightCooling(33.7, 22.2, 15, 3)), 30.51047, 1e-5},
		{"8 h", float64(NightCooling(33.7, 22.2, 15, 8)), 25.88729, 1e-5},
		{"14 h", float64(NightCooling(33.7, 22.2, 15, 14)), 22.65116, 1e-5},
		{"9 h of a frost night", float64(NightCooling(0.95, -5.45, 15, 9)), -3.7463161, 1e-5},
		{"14 h of a frost night", float64(NightCooling(0.95, -5.45, 15, 14)), -5.1989211, 1e-5},
		{"before two hours", float64(NightCooling(0.95, -5.45, 15, 1)), 0.95, 0},
		{"after sunrise", float64(NightCooling(0.95, -5.45, 15, 20)), -5.45, 1e-12},
		{"dew point at 25 C, 54 %", float64(DewPoint(25, 54)), 15.04884, 1e-5},
		{"vapour pressure there gives it back", VapourPressure(15.048) / VapourPressure(25), 0.54, 0.0001},          // FAO-56's constants
		{"grass minimum", float64(GrassMinimum(6, 3, 8)), -5.5, 0.001},                                              // Smith 1973, worked example
		{"mean saturated vapour, 15 and 24.5 C, kPa", (VapourPressure(15) + VapourPressure(24.5)) / 2, 2.39, 0.005}, // FAO-56, example 3
		{"vapour at dew point 14.8 C, kPa", VapourPressure(14.8), 1.68, 0.005},                                      // FAO-56, example 20
		{"radiation at 0 C, W/m2", Radiation(0), 315.6, 0.1},                                                        // FAO 2005, from memory
	} {
		if math.Abs(c.got-c.want) > c.give {
			t.Errorf("%s: %.7f, want %.7f", c.what, c.got, c.want)
		}
	}
}
