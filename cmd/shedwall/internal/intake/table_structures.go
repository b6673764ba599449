package intake

import (
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/table"
)

type structureRow struct {
	Structure   table.Cell `csv:"structure" table:"key"`
	Name        table.Cell `csv:"name"`
	Kind        table.Cell `csv:"kind"`
	Letter      table.Cell `csv:"letter"`
	Weight      table.Cell `csv:"weight" table:"number"`
	Length      table.Cell `csv:"length_m,length_ft" table:"number"`
	Width       table.Cell `csv:"width_m,width_ft" table:"number"`
	Height      table.Cell `csv:"height_m,height_ft" table:"number"`
	Floor       table.Cell `csv:"floor"`
	Edge        table.Cell `csv:"edge_insulated"`
	Glazing     table.Cell `csv:"glazing_m2,glazing_ft2" table:"number"`
	GlazingU    table.Cell `csv:"glazing_u_wm2k,glazing_u_btu" table:"number"`
	Light       table.Cell `csv:"light_percent" table:"number"`
	Faces       table.Cell `csv:"faces"`
	Tilt        table.Cell `csv:"tilt_degrees" table:"number"`
	SecondU     table.Cell `csv:"second_u_wm2k,second_u_btu" table:"number"`
	SecondLight table.Cell `csv:"second_light_percent" table:"number"`
	Walls       table.Cell `csv:"walls_m2,walls_ft2" table:"number"`
	WallsU      table.Cell `csv:"walls_u_wm2k,walls_u_btu" table:"number"`
	Calm        table.Cell `csv:"air_changes_calm" table:"number"`
	Changes     table.Cell `csv:"air_changes" table:"number"`
	Windy       table.Cell `csv:"air_changes_windy" table:"number"`
	Water       table.Cell `csv:"water_l,water_gal" table:"number"`
	WaterArea   table.Cell `csv:"water_area_m2,water_area_ft2" table:"number"`
	Heat        table.Cell `csv:"heat"`
	HeatW       table.Cell `csv:"heat_watts" table:"number"`
	Thermostat  table.Cell `csv:"thermostat_c,thermostat_f" table:"number"`
	Vent        table.Cell `csv:"vent_c,vent_f" table:"number"`
	VentChanges table.Cell `csv:"vent_air_changes" table:"number"`
	Wind        table.Cell `csv:"wind_kmh,wind_mph" table:"number"`
	Snow        table.Cell `csv:"snow"`
	Hail        table.Cell `csv:"hail"`
	Hoops       table.Cell `csv:"hoops"`
	InsectsOut  table.Cell `csv:"insects_out"`
	Years       table.Cell `csv:"years" table:"number"`
	Price       table.Cell `csv:"price" table:"number"`
	Offered     table.Cell `csv:"offered"`
	Source      table.Cell `csv:"source"`
	Note        table.Cell `csv:"note"`
	Use         table.Cell `csv:"use"`
}

// What structures are made of.
var (
	side  = lengthWithin(0.2, 100)
	area  = areaOf(0, 5000)
	uOf   = measure[float64]{units: map[table.Unit]func(float64) float64{table.UMetric: same, table.UBtu: func(v float64) float64 { return v * 5.678263 }}, accepted: []table.Unit{table.UMetric, table.UBtu}, low: 0.1, high: 20, like: "a U such as 6.2 W/m2K", suffix: " W/m2K"}
	water = measure[float64]{
		units: map[table.Unit]func(float64) float64{
			table.Litre:  same,
			table.Gallon: func(v float64) float64 { return v * 3.785411784 }, // US, exactly
		},
		accepted: []table.Unit{table.Litre, table.Gallon},
		low:      0, high: 1e6, like: "litres of water such as 1660", suffix: " l",
	}
	inWatts    = countOf(table.Watt, 0, 100000, "watts such as 1500", " W")
	airChanges = countOf(table.NoUnit, 0, 300, "air changes an hour such as 1.5", "")
	inDegrees  = countOf(table.NoUnit, 0, 90, "degrees from lying flat (0) to upright (90)", "")
)

func lengthWithin(low, high float64) measure[float64] {
	return measure[float64]{
		units:    map[table.Unit]func(float64) float64{table.Metre: same, table.Foot: func(v float64) float64 { return v * 0.3048 }}, // exactly
		accepted: []table.Unit{table.Metre, table.Foot},
		low:      low, high: high, like: "a length such as 4.5", suffix: " m",
	}
}

func areaOf(low, high float64) measure[float64] {
	return measure[float64]{
		units:    map[table.Unit]func(float64) float64{table.SquareMetre: same, table.SquareFoot: func(v float64) float64 { return v * 0.3048 * 0.3048 }},
		accepted: []table.Unit{table.SquareMetre, table.SquareFoot},
		low:      low, high: high, like: "an area such as 20", suffix: " m2",
	}
}

// readStructures reads structures.csv. A structure is a cover whose gain is worked out
// later, for each band.
func (l *loader) readStructures(t *catalog.Tables) {
	covers := map[string]diag.Position{}
	for _, c := range t.Covers {
		covers[c.ID] = c.Cell
	}
	for _, j := range overlay(l, layout[structureRow]{
		name: "structures", own: true,
		key:    func(r *structureRow) table.Cell { return r.Structure },
		id:     func(r *structureRow, known []string) string { return r.Structure.KeyID(known) },
		source: func(r *structureRow) table.Cell { return r.Source },
		use:    func(r *structureRow) table.Cell { return r.Use },
		drop:   func(id string, _ *structureRow, at diag.Position) { l.dropped[id] = at },
	}) {
		r := j.row
		if j.own && !l.newRow("structures", r.Structure, &r, r.Name, r.Kind, r.Length, r.Width, r.Height, r.Glazing, r.GlazingU, r.Light, r.Changes) {
			continue
		}
		s := structureOf(j.id, r)
		if at, taken := covers[j.id]; taken {
			repeated(r.Structure, at)
			continue
		}
		covers[j.id] = s.Cell
		t.Structures = append(t.Structures, s)
	}
}

// joinStructures puts the structures in use among the covers: those that the guide
// offers or that its layers hold.
func joinStructures(t *catalog.Tables) {
	for _, s := range t.Structures {
		if s.Offered || slices.ContainsFunc(t.Layers, func(y catalog.Layers) bool { return slices.Contains(y.Covers, s.ID) }) {
			t.Covers = append(t.Covers, s.Cover)
		}
	}
}

func structureOf(id string, r structureRow) catalog.Structure {
	s := catalog.Structure{
		Cover: catalog.Cover{
			ID: id, Name: nameOr(r.Name, id), Letter: letter(r.Letter), Note: r.Note.Text(), Cell: r.Structure.At(),
			LightPercent: inPercent.of(r.Light), Vent: temperature.within(0, 60).of(r.Vent), VentInside: true,
			InsectsOut: r.InsectsOut.YesNo(), Years: inYears.of(r.Years),
			WindLimit: speed.of(r.Wind), Snow: oneOf(r.Snow, catalog.SnowRules), Hail: oneOf(r.Hail, catalog.HailRules), Price: inMoney.of(r.Price),
			Hoops:   yes(r.Hoops, false),
			Offered: yes(r.Offered, r.Structure.Owner() == figure.Own),
		},
		Length: side.of(r.Length), Width: side.of(r.Width), Height: lengthWithin(0.05, 20).of(r.Height),
		EdgeInsulated: yes(r.Edge, false),
		Glazing:       area.of(r.Glazing), GlazingU: uOf.of(r.GlazingU), Faces: facesOf(r.Faces), Tilt: inDegrees.of(r.Tilt),
		SecondU: uOf.of(r.SecondU), SecondLight: inPercent.of(r.SecondLight),
		Walls: area.of(r.Walls), WallsU: uOf.of(r.WallsU),
		CalmChanges: airChanges.of(r.Calm), Changes: airChanges.of(r.Changes), WindyChanges: airChanges.of(r.Windy),
		VentChanges: airChanges.of(r.VentChanges),
		Water:       water.of(r.Water), WaterArea: area.of(r.WaterArea),
		HeatW: inWatts.of(r.HeatW), Thermostat: temperature.within(-20, 30).of(r.Thermostat),
	}
	s.Kind, _ = oneOf(r.Kind, catalog.CoverKinds).Get()
	s.Floor, _ = oneOf(r.Floor, catalog.FloorKinds).Get()
	s.Heat, _ = oneOf(r.Heat, catalog.HeatKinds).Get()
	if w, known := whole(wholeCount, r.Weight).Get(); known {
		s.Weight = w
	}
	return s
}

// facesOf reads the ways that glazing looks, each with an equal share: "s s w" is two
// thirds to the south. Nothing said, or one word too many, is all round.
func facesOf(c table.Cell) []catalog.Facing {
	var out []catalog.Facing
	for _, word := range c.IDs(" ", nil) {
		f, ok := catalog.Facings[word]
		if !ok {
			c.Fault("word-unknown", strings.TrimSpace(word)+" is no way to look", "n, ne, e, se, s, sw, w, nw or all_round, separated by spaces",
				"write each way once for its share of the glazing: s s w")
			return nil
		}
		out = append(out, f)
	}
	return out
}
