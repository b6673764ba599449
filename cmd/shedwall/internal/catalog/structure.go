package catalog

import (
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// FloorKind says what the sun meets inside and what the floor does with it.
type FloorKind uint8

// DryFloor: paving, gravel or bare dry earth; most of the sun that it takes up warms
// the house. PlantedFloor: moist soil under a crop; about half goes into evaporation.
// NoFloor: raised off the ground, as a cabinet of shelves is: no earth gives heat back.
const (
	DryFloor FloorKind = iota
	PlantedFloor
	NoFloor
)

// FloorKinds is every kind of floor with the word used in tables.
var FloorKinds = map[string]FloorKind{"dry": DryFloor, "planted": PlantedFloor, "none": NoFloor}

func (k FloorKind) String() string { return [...]string{"dry", "planted", "none"}[k] }

// HeatKind is what a structure is heated with. All electric power ends as heat, so an
// LED string counts as the few watts it draws.
type HeatKind uint8

// The kinds of heat.
const (
	Heater HeatKind = iota
	FilamentLamps
	LEDs
)

// HeatKinds is every kind of heat with the word used in tables.
var HeatKinds = map[string]HeatKind{"heater": Heater, "filament": FilamentLamps, "led": LEDs}

func (k HeatKind) String() string { return [...]string{"heater", "filament", "led"}[k] }

// Facing is the way that glazing looks.
type Facing uint8

// AllRound is glazing that bends over the whole floor, as a tunnel's film does.
const (
	AllRound Facing = iota
	FacesNorth
	FacesNorthEast
	FacesEast
	FacesSouthEast
	FacesSouth
	FacesSouthWest
	FacesWest
	FacesNorthWest
)

// Facings is every way to look with the word used in tables.
var Facings = map[string]Facing{
	"all_round": AllRound, "n": FacesNorth, "ne": FacesNorthEast, "e": FacesEast, "se": FacesSouthEast,
	"s": FacesSouth, "sw": FacesSouthWest, "w": FacesWest, "nw": FacesNorthWest,
}

// Structure is a row of structures.csv: a cover that is described by how it is built.
// Its gain is not in the table but worked out by a heat balance for a band's own
// nights, so Cover.Gain and Cover.Winter are blank. Cover.Vent is read inside.
//
// What the heat balance cannot do without: length, width, mean height, glazing with
// its U and its light (Cover.LightPercent), and the usual air changes.
type Structure struct {
	Cover

	Length, Width figure.Of[float64] // of the floor, m
	Height        figure.Of[float64] // mean inside, m: air = length x width x height
	Floor         FloorKind
	EdgeInsulated bool // the floor's edge is insulated; else it loses heat to the ground beside it

	Glazing  figure.Of[float64] // m2, all of it
	GlazingU figure.Of[float64] // W/m2K, without a second skin
	Faces    []Facing           // shares of the glazing, all alike; empty = all round
	Tilt     figure.Of[float64] // degrees: 0 lies flat, 90 stands upright; blank = upright

	SecondU     figure.Of[float64] // W/m2K, of the glazing with a second skin in place; blank = there is none
	SecondLight figure.Of[float64] // percent of light with both skins; blank = as without

	Walls  figure.Of[float64] // m2 of boards and other walls without light; blank = none
	WallsU figure.Of[float64] // W/m2K

	// Air changes an hour with the vents shut: in calm, as usual, in wind.
	CalmChanges, Changes, WindyChanges figure.Of[float64]
	VentChanges                        figure.Of[float64] // with the vents open

	Water     figure.Of[float64] // litres set out to store heat; blank = none
	WaterArea figure.Of[float64] // m2 of its vessels in the air; blank = as of 200 l drums

	Heat       HeatKind
	HeatW      figure.Of[float64]          // watts; blank = none
	Thermostat figure.Of[quantity.Celsius] // blank = on from sunset to sunrise
}

// Structure is the structure of a cover's id, nil where it is none.
func (t *Tables) Structure(id string) *Structure {
	for i := range t.Structures { // rows are large: none is copied
		if t.Structures[i].ID == id {
			return &t.Structures[i]
		}
	}
	return nil
}
