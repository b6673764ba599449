package cover

import (
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// The heat balance goes in steps through ten like days; the last one counts. Ten are
// enough for soil and water to forget where they began, and no weather stays alike
// for longer.
const (
	step      = 600.0 // s
	daySteps  = 144
	likeDays  = 10
	hourSteps = 6
)

// Night is what a house does on the last of ten like days and nights.
type Night struct {
	Min, Peak quantity.Celsius // inside
	Gain      quantity.Kelvins // inside minimum above the outside minimum
	KWh       float64          // of heater or lamps in the day
	Frozen    float64          // share of the water that is ice at the end, 0 to 1
	FloorFlux float64          // W/m2 of floor from the soil to the air at the minimum
}

// ledger counts the heat (J) that came in and went out, and what is kept, for the
// last days of a run.
type ledger struct {
	sun, heat, deep       float64 // in
	skin, air, vent, edge float64 // out
	kept                  float64 // in air, soil and water, at the end less at the beginning
}

// state is the three nodes between two steps.
type state struct {
	air, soil float64 // C
	water     float64 // J above water at 0 C
}

// daylight is what a day of the year gives at a place, by step of the day: the clear
// sun's light that enters a house, how far the air is on its way from the minimum to the
// maximum, and when it is night. It is the same however cold and dull the day.
type daylight struct {
	light, warmth [daySteps]float64
	night         [daySteps]bool
}

// daylight looks at the weather's place and day of the year alone.
func (h House) daylight(w Weather) *daylight {
	l := &daylight{}
	sun, length := sunlightAt(w.Latitude, w.DayOfYear, w.Elevation), w.dayLength()
	for k := range daySteps {
		hour := (float64(k) + 0.5) / hourSteps
		l.light[k] = h.lightInside(sun, hour)
		l.warmth[k] = warmthAt(hour, length)
		l.night[k] = math.Abs(hour-12) > length/2
	}
	return l
}

// course is the weather outside, and the light that enters a house, by step of the
// day: the same for every run of one house under one weather and sun.
type course struct {
	outside, light [daySteps]float64
	night          [daySteps]bool
}

func (l *daylight) course(w Weather, d DayBefore) *course {
	c := &course{night: l.night}
	for k := range daySteps {
		c.outside[k] = float64(w.Min + quantity.Celsius(float64(d.Max-w.Min)*l.warmth[k]))
		c.light[k] = d.Sun * l.light[k]
	}
	// The step nearest to sunrise misses the minimum by a little.
	coldest := 0
	for k := range c.outside {
		if c.outside[k] < c.outside[coldest] {
			coldest = k
		}
	}
	c.outside[coldest] = float64(w.Min)
	return c
}

// Night runs a house through ten like days before the weather's nights, at so many
// air changes an hour with the vents shut, the vents opening by day as they should or
// kept shut.
func (h House) Night(w Weather, day DayBefore, changes float64, vents bool) Night {
	n, _ := h.run(w, h.daylight(w).course(w, day), changes, vents, 1)
	return n
}

// run is Night with the ledger of the last days. Air, soil and water exchange heat
// with each other and the outside in each step. Air and soil are taken as they will
// be at its end (so that thin air needs no short steps), water as it was at its
// beginning:
//
//	Ca (Ta' - Ta)/dt = (skin + air)(To - Ta') - sky + floor (Ts' - Ta') + water (Tw - Ta') + Q + sun to air
//	Cs (Ts' - Ts)/dt = floor (Ta' - Ts') + deep (Td - Ts') + edge (Tm - Ts') + sun to soil
//	Ew' - Ew         = dt (water (Ta' - Tw) + sun to water)
//
// To outside, Tm its mean of the day, Td deep soil; Tw from the heat Ew, at 0 C while
// it freezes or thaws. The heater gives what the thermostat asks for, up to its
// watts; vents open no wider than keeps the inside at their temperature.
func (h House) run(w Weather, c *course, changes float64, vents bool, counted int) (Night, ledger) {
	p := h.parts(w.Elevation, changes)
	deep, mean := float64(w.Deep), 0.0
	for _, t := range c.outside {
		mean += t / daySteps
	}
	s := state{air: c.outside[0], soil: deep, water: p.mass * waterHeat * deep}
	vents = vents && p.open > 0
	var night Night
	var l ledger
	var began state
	soilRate := p.soilStore/step + p.floor + p.deep + p.edge
	airRate := p.airStore/step + p.skin + p.air + p.floor + p.water
	through := 0.0 // of what the soil gets, the share that comes back to the air in the step
	if p.floor > 0 {
		through = p.floor / soilRate
	}
	rate := airRate - through*p.floor
	soilKeeps, airKeeps := p.soilStore/step, p.airStore/step
	for day := range likeDays {
		if day == likeDays-counted {
			began, l = s, ledger{}
		}
		night = Night{Min: math.MaxFloat64, Peak: -math.MaxFloat64}
		for k := range daySteps {
			out, light := c.outside[k], c.light[k]
			water := 0.0
			if p.mass > 0 {
				water = waterAt(s.water, p.mass)
			}
			pull := 0.0 // W that the sky draws from the glazing
			if c.night[k] {
				pull = p.glass * float64(w.Sky)
			}
			toSoil := soilKeeps*s.soil + p.deep*deep + p.edge*mean + light*p.sunFloor
			toAir := airKeeps*s.air + (p.skin+p.air)*out - pull + p.water*water + light*p.sunAir + through*toSoil
			air := toAir / rate
			heat, vent := 0.0, 0.0
			switch {
			case h.Watts > 0 && h.Controlled && air < float64(h.Thermostat):
				heat = min(h.Watts, (float64(h.Thermostat)-air)*rate)
			case h.Watts > 0 && !h.Controlled && c.night[k]:
				heat = h.Watts
			case vents && air > float64(h.Vent) && air > out:
				vent = p.open
				if wide := (toAir + p.open*out) / (rate + p.open); wide < float64(h.Vent) {
					vent = (toAir - rate*float64(h.Vent)) / (float64(h.Vent) - out)
				}
			}
			if heat != 0 || vent != 0 {
				air = (toAir + heat + vent*out) / (rate + vent)
			}
			soil := s.soil
			if p.floor > 0 {
				soil = (toSoil + p.floor*air) / soilRate
			}
			s = state{air, soil, s.water + step*(p.water*(air-water)+light*p.sunWater)}
			if day < likeDays-counted {
				continue // nobody asks what these did
			}

			night.KWh += heat * step / 3.6e6
			night.Peak = max(night.Peak, quantity.Celsius(air))
			if quantity.Celsius(air) < night.Min {
				night.Min = quantity.Celsius(air)
				if area := h.Length * h.Width; p.floor > 0 {
					night.FloorFlux = p.floor * (soil - air) / area
				}
			}
			l.sun += step * light * (p.sunAir + p.sunFloor + p.sunWater)
			l.heat += step * heat
			l.deep += step * p.deep * (deep - soil)
			l.skin += step * (p.skin*(air-out) + pull)
			l.air += step * p.air * (air - out)
			l.vent += step * vent * (air - out)
			l.edge += step * p.edge * (soil - mean)
		}
	}
	night.Gain = night.Min.Minus(w.Min)
	if p.mass > 0 {
		night.Frozen = min(1, max(0, -s.water/(p.mass*waterFusion)))
	}
	l.kept = p.airStore*(s.air-began.air) + p.soilStore*(s.soil-began.soil) + s.water - began.water
	return night, l
}

// Worth is what one thing in a house buys: the gain with it less the gain without it,
// and the heater's kWh a day that it saves, after dull, half sunny and clear days.
type Worth struct {
	There  bool
	Gain   [3]quantity.Kelvins
	Saved  [3]float64
	Minima [3]quantity.Celsius // inside without it
}

// Report is what the heat balance says of a house on a band's nights.
type Report struct {
	// Gain after dull days in wind, half sunny days, clear days in calm: low, typical
	// and high. Inside minus outside; the sky's pull on a clear night cools an open
	// plant as it cools the glazing and is left out on both sides.
	Gain [3]quantity.Kelvins
	Min  [3]quantity.Celsius // inside, the same nights

	// Inside on clear days in calm, vents kept shut and opened as they should, over a
	// floor that no crop shades yet: a crop's evaporation would keep it cooler.
	PeakShut, PeakOpen quantity.Celsius
	KWh                [3]float64 // of heater or lamps a day
	Frozen             [3]float64 // share of the water that is ice

	Water, Heat, SecondSkin Worth
}

// Report works a house out for a band's nights.
func (h House) Report(w Weather) Report {
	var r Report
	day := h.daylight(w)
	nights := h.nights(w, day)
	for k, n := range nights {
		r.Gain[k], r.Min[k], r.KWh[k], r.Frozen[k] = n.Gain, n.Min, n.KWh, n.Frozen
	}
	r.PeakShut, r.PeakOpen = h.peaks(w, day)
	if h.Water > 0 {
		without := h
		without.Water, without.WaterArea = 0, 0
		r.Water = worth(nights, without.nights(w, day))
	}
	if h.Watts > 0 {
		without := h
		without.Watts = 0
		r.Heat = worth(nights, without.nights(w, day))
		r.Heat.Saved = [3]float64{} // a heater saves no heat
	}
	if h.SecondU > 0 {
		without := h
		without.SecondU = 0
		r.SecondSkin = worth(nights, without.nights(w, without.daylight(w)))
	}
	return r
}

// Gain is Planned of the Report on a band's nights, without the work for the rest of it.
func (h House) Gain(w Weather) Gain {
	var r Report
	for k, n := range h.nights(w, h.daylight(w)) {
		r.Gain[k] = n.Gain
	}
	return r.Planned()
}

// Planned is the gain that a house is planned with: low after dull days, typical after half
// sunny and high after clear ones.
func (r Report) Planned() Gain {
	return Gain{Low: r.Gain[Dull], Typical: r.Gain[HalfSun], High: r.Gain[Clear], Known: true}
}

func (h House) peaks(w Weather, day *daylight) (shut, open quantity.Celsius) {
	if h.Floor == catalog.PlantedFloor {
		h.Floor = catalog.DryFloor
	}
	c := day.course(w, w.Days[Clear])
	a, _ := h.run(w, c, h.Changes[Clear], false, 1)
	b, _ := h.run(w, c, h.Changes[Clear], true, 1)
	return a.Peak, b.Peak
}

// nights are those after each kind of day, under the daylight of the house and weather.
func (h House) nights(w Weather, day *daylight) (n [3]Night) {
	for k := range n {
		n[k], _ = h.run(w, day.course(w, w.Days[k]), h.Changes[k], true, 1)
	}
	return n
}

func worth(with, without [3]Night) Worth {
	w := Worth{There: true}
	for k := range with {
		w.Gain[k] = with[k].Gain - without[k].Gain
		w.Saved[k] = max(0, without[k].KWh-with[k].KWh)
		w.Minima[k] = without[k].Min
	}
	return w
}
