package cover

import (
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// House is a structure as the heat balance sees it: plain numbers, all known.
type House struct {
	Length, Width float64 // of the floor, m
	Air           float64 // m3
	Floor         catalog.FloorKind
	EdgeInsulated bool

	Glazing, GlazingU, Light float64 // m2, W/m2K, share of light 0 to 1: first skin alone
	SecondU, SecondLight     float64 // with a second skin; SecondU 0 = there is none
	Faces                    []catalog.Facing
	Tilt                     float64 // degrees

	WallsUA float64    // W/K
	Changes [3]float64 // an hour, vents shut: in wind, as usual, in calm, by Dull, HalfSun, Clear

	Vent        quantity.Celsius // vents begin to open at this temperature inside
	VentChanges float64          // an hour when wide open; 0 = cannot be vented

	Water, WaterArea float64 // litres, m2

	Watts      float64 // of heater or lamps
	Controlled bool    // by a thermostat at Thermostat; else on from sunset to sunrise
	Thermostat quantity.Celsius
}

// What a row of structures.csv may leave out.
const (
	uprightTilt   = 90.0
	drumAreaLitre = 0.009 // m2 of a standing 200 l drum in the air, a litre
	windySpread   = 2.0   // air changes in wind against the usual ones, where not given
	calmSpread    = 0.5   // in calm
)

// HouseOf is a structure's figures for the heat balance. missing names the headings
// of figures that it cannot do without and that are not known; then the house must
// not be used.
func HouseOf(s *catalog.Structure) (h House, missing []string) {
	need := func(heading string, f figure.Of[float64]) float64 {
		v, ok := f.Get()
		if !ok {
			missing = append(missing, heading)
		}
		return v
	}
	h = House{
		Length: need("length_m", s.Length), Width: need("width_m", s.Width), Floor: s.Floor, EdgeInsulated: s.EdgeInsulated,
		Glazing: need("glazing_m2", s.Glazing), GlazingU: need("glazing_u_wm2k", s.GlazingU), Light: need("light_percent", s.LightPercent) / 100,
		Faces: s.Faces, Tilt: or(s.Tilt, uprightTilt),
		Water: or(s.Water, 0), Watts: or(s.HeatW, 0),
	}
	h.Air = h.Length * h.Width * need("height_m", s.Height)
	h.SecondU = or(s.SecondU, 0)
	h.SecondLight = or(s.SecondLight, 100*h.Light) / 100
	if walls, ok := s.Walls.Get(); ok && walls > 0 {
		h.WallsUA = walls * need("walls_u_wm2k", s.WallsU)
	}
	usual := need("air_changes", s.Changes)
	h.Changes = [3]float64{Dull: or(s.WindyChanges, usual*windySpread), HalfSun: usual, Clear: or(s.CalmChanges, usual*calmSpread)}
	h.WaterArea = or(s.WaterArea, h.Water*drumAreaLitre)
	if v, ok := s.Vent.Get(); ok {
		h.Vent, h.VentChanges = v, or(s.VentChanges, 0)
	}
	h.Thermostat, h.Controlled = s.Thermostat.Get()
	return h, missing
}

func or(f figure.Of[float64], otherwise float64) float64 {
	if v, ok := f.Get(); ok {
		return v
	}
	return otherwise
}

// Figures of floors and water, from memory but for the sources named.
const (
	soilDepth  = 0.25  // m of soil that takes part in a day
	soilHeat   = 2.0e6 // J/m3K, moist loam
	soilToDeep = 2.0   // W/m2K, to soil that ten days do not change (1 W/mK over half a metre)
	edgeLoss   = 1.4   // W/mK of floor edge to the ground outside, uninsulated (0.8 Btu/h ft F)

	dryToAir     = 6.0 // W/m2K between the soil's middle and the air inside: 4 to 8
	plantedToAir = 4.0 // under a crop that shades it

	absorbed    = 0.7 // of the light that comes in; the rest leaves again
	evaporation = 0.5 // of what a planted floor takes up: it ends as water on the glazing

	// Of what the floor takes up, the air gets at once what the surface (8 W/m2K)
	// passes on against what soil draws down in a day (12 W/m2K); more where leaves
	// catch it.
	dryAtOnce     = 0.4
	plantedAtOnce = 0.5

	waterToAir = 7.0 // W/m2K of vessel: 5 to 9
)

// parts are the conductances and stores that a house comes down to.
type parts struct {
	skin, air, open float64 // W/K to the outside air: walls and glazing, air changes, open vents
	glass           float64 // W/K of the skin that the night sky sees
	floor, deep     float64 // W/K: soil to inside air, soil to deep soil
	edge            float64 // W/K: soil to the ground outside
	water           float64 // W/K: vessels to inside air
	airStore        float64 // J/K
	soilStore       float64 // J/K
	mass            float64 // kg of water

	sunFloor, sunAir, sunWater float64 // shares of the light that enters: stored in soil, to the air, to the water
}

// parts works out a house at a height, with so many air changes an hour. Without
// skin, the second skin is taken off.
func (h House) parts(elevation quantity.Metres, changes float64) parts {
	area := h.Length * h.Width
	u := h.GlazingU
	if h.SecondU > 0 {
		u = h.SecondU
	}
	p := parts{
		skin:     Conduction(u, h.Glazing, 1) + h.WallsUA,
		glass:    Conduction(u, h.Glazing, 1),
		air:      Infiltration(h.Air, changes, 1, elevation),
		open:     Infiltration(h.Air, h.VentChanges, 1, elevation),
		airStore: Infiltration(h.Air, 1, 1, elevation) * 3600,
		water:    waterToAir * h.WaterArea,
		mass:     h.Water,
	}
	if h.Water <= 0 {
		p.water = 0
	}
	p.water = min(p.water, p.mass*iceHeat/step) // a vessel of little water follows the air within one step
	toAir, kept, atOnce := dryToAir, absorbed, dryAtOnce
	switch h.Floor {
	case catalog.PlantedFloor:
		toAir, kept, atOnce = plantedToAir, absorbed*(1-evaporation), plantedAtOnce
	case catalog.NoFloor:
		toAir, atOnce = 0, 1
	}
	if toAir > 0 {
		p.floor, p.deep = toAir*area, soilToDeep*area
		p.soilStore = soilHeat * soilDepth * area
		if !h.EdgeInsulated {
			p.edge = edgeLoss * 2 * (h.Length + h.Width)
		}
	}
	// Vessels stand in the way of the sun with their silhouette, a third of their skin.
	if h.Water > 0 && h.WaterArea > 0 {
		silhouette := h.WaterArea / math.Pi
		p.sunWater = absorbed * silhouette / (silhouette + area)
	}
	rest := 1 - p.sunWater/absorbed
	p.sunAir, p.sunFloor = kept*rest*atOnce, kept*rest*(1-atOnce)
	return p
}

// lightInside is the sun that passes the glazing (W) on a clear day at an hour.
// Glazing all round takes in what falls on the floor; it bends over the whole of it.
func (h House) lightInside(s sunlight, hour float64) float64 {
	light := h.Light
	if h.SecondU > 0 {
		light = h.SecondLight
	}
	if len(h.Faces) == 0 {
		return light * h.Length * h.Width * s.flat(hour)
	}
	sum := 0.0
	for _, f := range h.Faces {
		share := h.Glazing / float64(len(h.Faces))
		if f == catalog.AllRound {
			sum += share / h.Glazing * h.Length * h.Width * s.flat(hour)
		} else {
			sum += share * s.onto(f, h.Tilt, hour)
		}
	}
	return light * sum
}
