package check

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
)

const (
	mostWaterShare = 0.3 // of the room: a third of a house full of drums is beyond any grower's
	mostLEDWatts   = 100 // a string of lights draws 5 to 20
)

// structures checks that each can be worked out, and that its figures are of one
// house. What stands in the row is told there.
func (c *checker) structures() {
	for i := range c.tables.Structures {
		s := &c.tables.Structures[i]
		h, missing := cover.HouseOf(s)
		if len(missing) > 0 {
			c.warn(s.Cell, "structure-incomplete", fmt.Sprintf("the gain of %s cannot be worked out without %s", s.ID, strings.Join(missing, ", ")),
				"a figure in each of these columns", "measure it, or copy it from a structure like it")
		} else if skin := h.Glazing + or0(s.Walls); skin < h.Length*h.Width {
			c.fault(s.Glazing.Cell, "structure-open", fmt.Sprintf("%s has %s m2 of glazing and walls over %s m2 of floor", s.ID, spell(skin), spell(h.Length*h.Width)),
				"at least as much skin as floor", "look at glazing, walls, length and width, and their units")
		}
		c.rising("structure-second-skin", "a second_u below glazing_u", of("second_u_wm2k", s.SecondU), of("glazing_u_wm2k", s.GlazingU))
		c.rising("structure-air-order", "air changes that rise from calm over usual to windy",
			of("air_changes_calm", s.CalmChanges), of("air_changes", s.Changes), of("air_changes_windy", s.WindyChanges))
		c.ventsOf(s)
		c.heatOf(s)
		if water, room := or0(s.Water)/1000, h.Air; len(missing) == 0 && water > mostWaterShare*room {
			c.fault(s.Water.Cell, "structure-water", fmt.Sprintf("%s m3 of water in a room of %.1f m3", spell(water), room), "litres that leave room to walk", "look at the number and its unit")
		}
		c.cited([]value{of("length_m", s.Length), of("width_m", s.Width), of("height_m", s.Height), of("glazing_m2", s.Glazing), of("glazing_u_wm2k", s.GlazingU),
			of("light_percent", s.LightPercent), of("second_u_wm2k", s.SecondU), of("second_light_percent", s.SecondLight), of("walls_m2", s.Walls),
			of("walls_u_wm2k", s.WallsU), of("air_changes_calm", s.CalmChanges), of("air_changes", s.Changes), of("air_changes_windy", s.WindyChanges),
			of("water_l", s.Water), of("water_area_m2", s.WaterArea), of("heat_watts", s.HeatW), of("thermostat_c", s.Thermostat), of("vent_c", s.Vent),
			of("vent_air_changes", s.VentChanges), ofBool("insects_out", s.InsectsOut), of("years", s.Years)})
	}
}

func (c *checker) ventsOf(s *catalog.Structure) {
	lacks, at := "", diag.Position{}
	switch {
	case s.Vent.Known() && !s.VentChanges.Known():
		lacks, at = "vent_air_changes", s.Vent.Cell
	case !s.Vent.Known() && s.VentChanges.Known():
		lacks, at = "vent_c", s.VentChanges.Cell
	default:
		return
	}
	c.warn(at, "structure-vents", fmt.Sprintf("%s has no %s, so its vents are taken as always shut", s.ID, lacks), "", "fill it in")
}

func (c *checker) heatOf(s *catalog.Structure) {
	watts := or0(s.HeatW)
	thermostat, set := s.Thermostat.Get()
	vent, vents := s.Vent.Get()
	switch {
	case set && watts == 0:
		c.fault(s.Thermostat.Cell, "structure-heat", fmt.Sprintf("%s has a thermostat and no watts", s.ID), "the watts of the heater", "fill in heat_watts, or empty the thermostat")
	case set && vents && thermostat >= vent:
		c.fault(s.Thermostat.Cell, "structure-heat", fmt.Sprintf("%s is heated to %s C and vented from %s C", s.ID, spell(float64(thermostat)), spell(float64(vent))), "a thermostat below the vents", "look which of the two is right")
	case s.Heat == catalog.LEDs && watts > mostLEDWatts:
		c.fault(s.HeatW.Cell, "structure-heat", fmt.Sprintf("%s W of LED lights in %s", spell(watts), s.ID), "the few watts that an LED string draws", "read them off the plug, or write filament or heater under heat")
	}
}

// or0 is a figure, 0 where it is not known.
func or0(f figure.Of[float64]) float64 {
	v, _ := f.Get()
	return v
}
