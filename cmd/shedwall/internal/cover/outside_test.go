package cover

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// By hand: at noon the sun stands 90 - |latitude - declination| high. At 40 N on 21
// December (declination -23.44 degrees, height 26.56): A 1233, B 0.142: beam = 1233
// exp(-0.142 / 0.44713) = 897.5 W/m2; flat = 897.5 x (0.44713 + 0.057) = 452.4; on a
// pane to the south, upright: 897.5 x cos 26.56 + 0.057 x 897.5 / 2 + 0.2 x 452.4 / 2
// = 802.8 + 25.6 + 45.2 = 873.6.
func TestClearSun(t *testing.T) {
	s := sunlightAt(40, 355, 0)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"flat at noon", s.flat(12), 452.4},
		{"south pane at noon", s.onto(catalog.FacesSouth, 90, 12), 873.6},
		{"north pane at noon: sky and ground", s.onto(catalog.FacesNorth, 90, 12), 70.8},
		{"a pane that lies flat", s.onto(catalog.FacesNorth, 0, 12), 452.4},
		{"east at nine is west at three", s.onto(catalog.FacesEast, 90, 9) - s.onto(catalog.FacesWest, 90, 15), 0},
		{"at night", s.flat(0) + s.onto(catalog.FacesSouth, 60, 2), 0},
	} {
		if math.Abs(c.got-c.want) > 1.5 { // declination and sines rounded above
			t.Errorf("%s: %.1f W/m2, want %.1f", c.what, c.got, c.want)
		}
	}
	if east, west := s.onto(catalog.FacesEast, 90, 9), s.onto(catalog.FacesWest, 90, 9); east < 2*west {
		t.Errorf("the morning sun stands in the east: %.0f, %.0f", east, west)
	}
	if thin := sunlightAt(40, 355, 2000); thin.flat(12) < s.flat(12)*1.03 {
		t.Errorf("the sun is stronger at 2,000 m: %.0f, %.0f", thin.flat(12), s.flat(12))
	}
	// The other half of the earth has its winter in June and its noon sun in the north.
	south := sunlightAt(-40, 172, 0)
	if a, b := south.onto(catalog.FacesNorth, 90, 12), s.onto(catalog.FacesSouth, 90, 12); math.Abs(a-b) > 15 {
		t.Errorf("a southern winter's noon: %.0f W/m2, the northern %.0f", a, b)
	}
}

// The minimum comes at sunrise, the maximum 1.86 hours after noon, and the curve has
// no jump.
func TestOutsideCurve(t *testing.T) {
	for _, length := range []float64{0, 8, 12, 16, 24} {
		d := min(max(length, 1), 23)
		outsideAt := func(hour, length float64, low, high float64) quantity.Celsius {
			return quantity.Celsius(low + (high-low)*warmthAt(hour, length))
		}
		if got := outsideAt(12-d/2, length, -5, 10); math.Abs(float64(got+5)) > 1e-9 {
			t.Errorf("day of %g h: %.3f C at sunrise, want -5", length, got)
		}
		last, high, at := outsideAt(23.999, length, -5, 10), quantity.Celsius(-99), 0.0
		for h := 0.0; h < 24; h += 0.01 {
			v := outsideAt(h, length, -5, 10)
			if math.Abs(float64(v-last)) > 0.6 && length > 1 && length < 24 {
				t.Errorf("day of %g h: jumps from %.2f to %.2f at %.2f h", length, last, v, h)
			}
			if v > high {
				high, at = v, h
			}
			if last = v; v < -5-1e-9 || v > 10+1e-9 {
				t.Errorf("day of %g h: %.2f C at %.2f h", length, v, h)
			}
		}
		if d >= 8 && (math.Abs(at-12-dayLag) > 0.02 || high < 9.99) {
			t.Errorf("day of %g h: maximum %.2f C at %.2f h", length, high, at)
		}
	}
}

// A record made so that the answer is known: nights of -2.5, -2 and -1.5 C in April,
// days before warmer by 4 to 14 K in even steps.
func TestDesignNights(t *testing.T) {
	d := &record.Daily{Start: quantity.DayOf(2001, 1, 1)}
	for i := range 3 * 365 {
		_, month, day := (d.Start + quantity.Day(i)).Date()
		low, high := quantity.Celsius(8), quantity.Celsius(20)
		if month == 4 {
			low = quantity.Celsius(-3.5 + 0.5*float64(day%3))
			high = low + quantity.Celsius(4+10*float64((day*7)%31)/30)
		}
		d.Min, d.Max = append(d.Min, low.Hundredths()), append(d.Max, high.Hundredths())
	}
	w, ok := DesignNights(d, Site{44, 600}, -2, 1, []int{3, 4, 5}) // 1 K warmer here than at the station
	if !ok || w.Latitude != 44 || w.Elevation != 600 || w.Min != -2 {
		t.Fatalf("%v %+v", ok, w)
	}
	if math.Abs(w.DayOfYear-105) > 1 { // 1 to 30 April is day 91 to 120
		t.Errorf("middle day %.1f", w.DayOfYear)
	}
	// The day before each night has a step of its own: uniform from about 3.5 to 14.5
	// above the night, give or take the night's own half steps.
	for k, want := range []quantity.Celsius{3, 7, 11} {
		if math.Abs(float64(w.Days[k].Max-want)) > 0.8 || w.Days[k].Sun != sunShares[k] {
			t.Errorf("day %d: %+v, want about %v C", k, w.Days[k], want)
		}
	}
	if w.Deep < 9 || w.Deep > 15 { // March and February of 14 C, part of April near 2 C, 1 K warmer
		t.Errorf("deep soil %.1f C", w.Deep)
	}
	if _, ok := DesignNights(d, Site{}, -12, 0, []int{4}); ok {
		t.Error("no night is so cold")
	}
	if _, ok := DesignNights(d, Site{}, -2, 1, []int{7}); ok {
		t.Error("no such night in July")
	}
	days := []int{360, 365, 5, 10}
	if m := middleDay(days); math.Abs(m-2.375) > 0.01 { // by hand: (-5.25 - 0.25 + 5 + 10) / 4
		t.Errorf("the middle of December and January: %.1f", m)
	}
}

// Peaks: a floor without a crop is the hotter one, and shut vents make it hotter.
func TestPeaks(t *testing.T) {
	r := bedTunnel().Report(lateSpring())
	planted := bedTunnel().Night(lateSpring(), lateSpring().Days[Clear], 1, false)
	if r.PeakShut <= planted.Peak || r.PeakOpen >= r.PeakShut-2 {
		t.Errorf("shut %.1f, planted %.1f, open %.1f", r.PeakShut, planted.Peak, r.PeakOpen)
	}
	// Vents that are large enough hold the inside at their temperature.
	if house := filmHouse().Report(lateSpring()); math.Abs(float64(house.PeakOpen-21)) > 1e-6 || house.PeakShut < 26 {
		t.Errorf("film house: shut %.1f, open %.1f", house.PeakShut, house.PeakOpen)
	}
}
