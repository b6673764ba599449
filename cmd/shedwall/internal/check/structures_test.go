package check

import (
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// soundShed draws no fault.
func soundShed() catalog.Structure {
	is := func(v float64) figure.Of[float64] { return figure.Is(v, diag.Position{}, "bulletin") }
	return catalog.Structure{
		Cover:  catalog.Cover{ID: "shed", LightPercent: is(80), Vent: figure.Is[quantity.Celsius](25, diag.Position{}, "bulletin")},
		Length: is(4), Width: is(3), Height: is(2), Glazing: is(20), GlazingU: is(6), SecondU: is(4), Walls: is(10), WallsU: is(0.5),
		CalmChanges: is(0.5), Changes: is(1), WindyChanges: is(2), VentChanges: is(20),
		Water: is(1000), HeatW: is(1500), Thermostat: figure.Is[quantity.Celsius](5, diag.Position{}, "bulletin"),
	}
}

func TestStructures(t *testing.T) {
	is := func(v float64) figure.Of[float64] { return figure.Is(v, diag.Position{}, "bulletin") }
	none := figure.Of[float64]{}
	for _, c := range []struct {
		name   string
		change func(*catalog.Structure)
		want   []string
	}{
		{"sound", func(*catalog.Structure) {}, nil},
		{"no height", func(s *catalog.Structure) { s.Height = none }, []string{"warning structure-incomplete"}},
		{"walls without U", func(s *catalog.Structure) { s.WallsU = none }, []string{"warning structure-incomplete"}},
		{"no skin", func(s *catalog.Structure) { s.Glazing, s.Walls = is(8), none }, []string{"fault structure-open"}},
		{"leaky second skin", func(s *catalog.Structure) { s.SecondU = is(7) }, []string{"fault structure-second-skin"}},
		{"air order", func(s *catalog.Structure) { s.WindyChanges = is(0.7) }, []string{"fault structure-air-order"}},
		{"vents that bring no air", func(s *catalog.Structure) { s.VentChanges = none }, []string{"warning structure-vents"}},
		{"vents that never open", func(s *catalog.Structure) { s.Vent = figure.Of[quantity.Celsius]{} }, []string{"warning structure-vents"}},
		{"thermostat alone", func(s *catalog.Structure) { s.HeatW = none }, []string{"fault structure-heat"}},
		{"heater against vents", func(s *catalog.Structure) { s.Thermostat = figure.Is[quantity.Celsius](28, diag.Position{}, "b") }, []string{"fault structure-heat"}},
		{"hot LEDs", func(s *catalog.Structure) { s.Heat = catalog.LEDs }, []string{"fault structure-heat"}},
		{"a house full of water", func(s *catalog.Structure) { s.Water = is(8000) }, []string{"fault structure-water"}},
		{"no source", func(s *catalog.Structure) { s.Years = figure.Is(3.0, diag.Position{}, "") }, []string{"fault source-missing"}},
	} {
		s := soundShed()
		c.change(&s)
		k := &checker{tables: &catalog.Tables{Structures: []catalog.Structure{s}}}
		k.structures()
		var got []string
		for _, f := range k.list.Sorted() {
			got = append(got, f.Severity.String()+" "+f.ID)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
