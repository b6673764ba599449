package intake

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/table"
)

type classRow struct {
	Class       table.Cell `csv:"class" table:"key"`
	Name        table.Cell `csv:"name"`
	YoungDamage table.Cell `csv:"young_damage_c,young_damage_f" table:"number"`
	GrownDamage table.Cell `csv:"grown_damage_c,grown_damage_f" table:"number"`
	GrownKill   table.Cell `csv:"grown_kill_c,grown_kill_f" table:"number"`
	SoilMin     table.Cell `csv:"soil_min_c,soil_min_f" table:"number"`
	Base        table.Cell `csv:"base_c,base_f" table:"number"`
	Source      table.Cell `csv:"source"`
	Note        table.Cell `csv:"note"`
}

// Ranges of cold figures. No garden plant in leaf is harmed above 15 C, and none
// in leaf lives at -60 C; 28 typed for 28 F falls outside.
var (
	coldLimit  = temperature.within(-60, 15)
	winterKill = temperature.within(-80, 10)
	soil       = temperature.within(-5, 60)
)

func (l *loader) readClasses(t *catalog.Tables) {
	for _, j := range overlay(l, layout[classRow]{
		name:   "classes",
		key:    func(r *classRow) table.Cell { return r.Class },
		id:     func(r *classRow, known []string) string { return r.Class.KeyID(known) },
		source: func(r *classRow) table.Cell { return r.Source },
	}) {
		r := j.row
		t.Classes = append(t.Classes, catalog.Class{
			ID: j.id, Name: nameOr(r.Name, j.id), YoungDamage: coldLimit.of(r.YoungDamage), GrownDamage: coldLimit.of(r.GrownDamage),
			GrownKill: coldLimit.of(r.GrownKill), SoilMin: soil.of(r.SoilMin), Base: temperature.within(-5, 20).of(r.Base), Cell: r.Class.At(),
		})
	}
}

type germinationRow struct {
	Germination table.Cell `csv:"germination" table:"key"`
	Soil        table.Cell `csv:"soil_c,soil_f" table:"number,required"`
	Days        table.Cell `csv:"days" table:"number,required"`
	Source      table.Cell `csv:"source"`
	Note        table.Cell `csv:"note"`
}

// readGermination joins the points of each kind of seed by soil temperature, to a
// hundredth of a degree: 50 F and 10 C are one point. "none" is a temperature at
// which no seed emerged; unknown takes a built-in point away.
func (l *loader) readGermination(t *catalog.Tables) {
	type point struct {
		soil quantity.Celsius
		row  germinationRow
	}
	points := map[string][]point{}
	var order []string
	for _, owner := range []figure.Owner{figure.BuiltIn, figure.Own} {
		n := optional
		if owner == figure.BuiltIn {
			n = required
		}
		seen := map[string]germinationRow{}
		for _, r := range read[germinationRow](l, "germination", owner, n, table.Spec{}) {
			id := r.Germination.KeyID(order)
			at, known := soil.of(r.Soil).Get()
			if mustHave(r.Soil, "the soil temperature"); id == "" || !known {
				continue
			}
			key := fmt.Sprintf("%s at %.2f", id, float64(at))
			if first, twice := seen[key]; twice {
				repeated(r.Germination, first.Germination.At())
				continue
			}
			seen[key] = r
			l.citeRow("germination", id, &r, r.Source, owner)
			l.remember("germination", id, &r)
			if !slices.Contains(order, id) {
				order = append(order, id)
			}
			i := slices.IndexFunc(points[id], func(p point) bool { return math.Round(float64(p.soil)*100) == math.Round(float64(at)*100) })
			if i < 0 {
				points[id] = append(points[id], point{at, r})
			} else {
				points[id][i].row = table.Over(r, points[id][i].row)
			}
		}
	}
	for _, id := range order {
		g := catalog.Germination{ID: id}
		for _, p := range points[id] {
			l.except("germination", id, &p.row, figure.Own)
			c := p.row.Days
			if strings.EqualFold(c.Text(), "none") {
				none := figure.NotKnown[float64](c.At())
				none.Owner, none.Source = c.Owner(), c.Source()
				g.Points = append(g.Points, catalog.GerminationPoint{Soil: p.soil, Days: none})
			} else if days := inDays.within(0.5, 400).of(c); days.Known() {
				g.Points = append(g.Points, catalog.GerminationPoint{Soil: p.soil, Days: days})
			}
		}
		slices.SortFunc(g.Points, func(a, b catalog.GerminationPoint) int { return cmp.Compare(a.Soil, b.Soil) })
		if len(g.Points) > 0 {
			t.Germination = append(t.Germination, g)
		}
	}
}

type cropRow struct {
	Crop        table.Cell `csv:"crop" table:"key"`
	Name        table.Cell `csv:"name"`
	Latin       table.Cell `csv:"latin"`
	Family      table.Cell `csv:"family"`
	Group       table.Cell `csv:"group"`
	Cycle       table.Cell `csv:"cycle"`
	Class       table.Cell `csv:"class"`
	Start       table.Cell `csv:"start"`
	YoungDamage table.Cell `csv:"young_damage_c,young_damage_f" table:"number"`
	YoungKill   table.Cell `csv:"young_kill_c,young_kill_f" table:"number"`
	GrownDamage table.Cell `csv:"grown_damage_c,grown_damage_f" table:"number"`
	GrownKill   table.Cell `csv:"grown_kill_c,grown_kill_f" table:"number"`
	WinterKill  table.Cell `csv:"winter_kill_c,winter_kill_f" table:"number"`
	Basis       table.Cell `csv:"limit_basis"`
	Chill       table.Cell `csv:"chill_c,chill_f" table:"number"`
	SoilMin     table.Cell `csv:"soil_min_c,soil_min_f" table:"number"`
	SoilBest    table.Cell `csv:"soil_best_c,soil_best_f" table:"number"`
	SoilMax     table.Cell `csv:"soil_max_c,soil_max_f" table:"number"`
	Germination table.Cell `csv:"germination"`
	EmergeDays  table.Cell `csv:"emerge_days" table:"number"`
	InsideLow   table.Cell `csv:"weeks_inside_low" table:"number"`
	InsideHigh  table.Cell `csv:"weeks_inside_high" table:"number"`
	DaysLow     table.Cell `csv:"days_low" table:"number"`
	DaysHigh    table.Cell `csv:"days_high" table:"number"`
	DaysFrom    table.Cell `csv:"days_from"`
	PickDays    table.Cell `csv:"pick_days" table:"number"`
	Heat        table.Cell `csv:"heat_c,heat_f" table:"number"`
	Base        table.Cell `csv:"base_c,base_f" table:"number"`
	Ceiling     table.Cell `csv:"ceiling_c,ceiling_f" table:"number"`
	Bolt        table.Cell `csv:"bolt_c,bolt_f" table:"number"`
	BoltDays    table.Cell `csv:"bolt_days" table:"number"`
	HeatMean    table.Cell `csv:"heat_mean_c,heat_mean_f" table:"number"`
	BestLow     table.Cell `csv:"best_mean_low_c,best_mean_low_f" table:"number"`
	BestHigh    table.Cell `csv:"best_mean_high_c,best_mean_high_f" table:"number"`
	Season      table.Cell `csv:"plant_season"`
	FallLow     table.Cell `csv:"fall_weeks_low" table:"number"`
	FallHigh    table.Cell `csv:"fall_weeks_high" table:"number"`
	FallSoil    table.Cell `csv:"fall_soil_c,fall_soil_f" table:"number"`
	FirstYear   table.Cell `csv:"first_harvest_year" table:"number"`
	Spacing     table.Cell `csv:"spacing_cm,spacing_in" table:"number"`
	Depth       table.Cell `csv:"depth_cm,depth_in" table:"number"`
	NeedsInsect table.Cell `csv:"needs_insects"`
	FruitDays   table.Cell `csv:"fruit_days" table:"number"`
	Source      table.Cell `csv:"source"`
	Note        table.Cell `csv:"note"`
	Use         table.Cell `csv:"use"`
}

var (
	groups = []string{"vegetable", "herb", "flower", "fruit"}
	cycles = []string{"annual", "biennial", "perennial"}
)

func (l *loader) readCrops(t *catalog.Tables) {
	for _, j := range overlay(l, layout[cropRow]{
		name:   "crops",
		key:    func(r *cropRow) table.Cell { return r.Crop },
		id:     func(r *cropRow, known []string) string { return r.Crop.KeyID(known) },
		source: func(r *cropRow) table.Cell { return r.Source },
		use:    func(r *cropRow) table.Cell { return r.Use },
	}) {
		r := j.row
		if j.own && !l.newRow("crops", r.Crop, &r, r.Name, r.Group, r.Start) {
			continue
		}
		t.Crops = append(t.Crops, crop(j.id, r))
	}
}

func crop(id string, r cropRow) catalog.Crop {
	c := catalog.Crop{
		ID: id, Name: nameOr(r.Name, id), Latin: r.Latin.Text(), Family: r.Family.Text(), Group: r.Group.Word(groups...),
		Cycle: r.Cycle.Word(cycles...), Class: r.Class.ID(nil), Germination: r.Germination.ID(nil),
		YoungDamage: coldLimit.of(r.YoungDamage), YoungKill: coldLimit.of(r.YoungKill),
		GrownDamage: coldLimit.of(r.GrownDamage), GrownKill: coldLimit.of(r.GrownKill), WinterKill: winterKill.of(r.WinterKill),
		Chill: temperature.within(-5, 25).of(r.Chill), SoilMin: soil.of(r.SoilMin), SoilBest: soil.of(r.SoilBest), SoilMax: soil.of(r.SoilMax),
		EmergeDays: whole(inDays.within(0, 400), r.EmergeDays), PickDays: whole(inDays, r.PickDays),
		Heat: temperature.within(10, 60).of(r.Heat),
		Base: temperature.within(-5, 20).of(r.Base), Ceiling: temperature.within(10, 60).of(r.Ceiling),
		Bolt: temperature.within(-5, 25).of(r.Bolt), BoltDays: whole(inDays.within(1, 200), r.BoltDays),
		HeatMean: temperature.within(5, 50).of(r.HeatMean), FallSoil: soil.of(r.FallSoil), FirstYear: whole(inYears.within(1, 30), r.FirstYear),
		SpacingCm: length.of(r.Spacing), DepthCm: length.within(0, 100).of(r.Depth),
		NeedsInsect: r.NeedsInsect.YesNo(), FruitDays: whole(inDays.within(1, 200), r.FruitDays), Note: r.Note.Text(), Cell: r.Crop.At(),
		ClassCell: r.Class.At(), GerminationCell: r.Germination.At(),
	}
	c.WeeksInsideLow, c.WeeksInsideHigh = lowHigh(r.InsideLow, r.InsideHigh, inWeeks.of)
	c.BestMeanLow, c.BestMeanHigh = temperature.within(0, 40).of(r.BestLow), temperature.within(0, 40).of(r.BestHigh)
	c.DaysLow, c.DaysHigh = lowHigh(r.DaysLow, r.DaysHigh, func(c table.Cell) figure.Of[int] { return whole(inDays.within(1, 2000), c) })
	c.FallWeeksLow, c.FallWeeksHigh = lowHigh(r.FallLow, r.FallHigh, inWeeks.of)
	c.Start, _ = oneOf(r.Start, catalog.Starts).Get()
	if !r.Season.Blank() {
		c.Season, _ = oneOf(r.Season, catalog.PlantSeasons).Get()
	}
	if r.Basis.Word("air", "plant") == "plant" {
		c.Basis = catalog.Plant
	}
	c.DaysFromSetOut = r.DaysFrom.Word("sowing", "set_out") == "set_out"
	return c
}
