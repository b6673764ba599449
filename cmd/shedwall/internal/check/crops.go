package check

import (
	"fmt"

	"shedwall/cmd/shedwall/internal/catalog"
)

const killBelow = "a killing temperature at or below the harming one"

// classes checks the figures that stand in for those a crop lacks.
func (c *checker) classes() {
	for i := range c.tables.Classes {
		k := &c.tables.Classes[i]
		young, grown, kill := of("young_damage_c", k.YoungDamage), of("grown_damage_c", k.GrownDamage), of("grown_kill_c", k.GrownKill)
		c.rising("limit-order", killBelow, kill, grown)
		c.cited([]value{young, grown, kill, of("soil_min_c", k.SoilMin)})
	}
}

// germination checks that each table of emergence says something.
func (c *checker) germination() {
	for i := range c.tables.Germination {
		g := &c.tables.Germination[i]
		any := false
		var vs []value
		for _, p := range g.Points {
			any = any || p.Days.Known()
			vs = append(vs, of("days", p.Days))
		}
		if !any {
			c.fault(g.Points[0].Days.Cell, "germination-never", fmt.Sprintf("no seed of %s ever emerges", g.ID), "days for at least one temperature", "fill in the days")
		}
		c.cited(vs)
	}
}

// crops checks each crop's figures against each other and its joins.
func (c *checker) crops() {
	classes := idsOf(c.tables.Classes, func(k *catalog.Class) string { return k.ID })
	germination := idsOf(c.tables.Germination, func(g *catalog.Germination) string { return g.ID })
	for i := range c.tables.Crops {
		p := &c.tables.Crops[i]
		if p.Class != "" && !known(p.Class, classes) {
			c.fault(p.ClassCell, "class-unknown", fmt.Sprintf("%s is of the class %q, which is not in classes.csv", p.ID, p.Class), "a class of classes.csv", near(p.Class, classes, "choose a class, or add it"))
		}
		if p.Germination != "" && !known(p.Germination, germination) {
			c.fault(p.GerminationCell, "germination-unknown", fmt.Sprintf("%s germinates as %q, which is not in germination.csv", p.ID, p.Germination), "an id of germination.csv",
				near(p.Germination, germination, "choose one, or leave the cell empty and give emerge_days"))
		}
		c.coldLimits(p)
		c.growth(p)
		c.cited(cropFigures(p))
	}
}

func (c *checker) coldLimits(p *catalog.Crop) {
	youngDamage, youngKill := of("young_damage_c", p.YoungDamage), of("young_kill_c", p.YoungKill)
	grownDamage, grownKill := of("grown_damage_c", p.GrownDamage), of("grown_kill_c", p.GrownKill)
	winter := of("winter_kill_c", p.WinterKill)
	c.rising("limit-order", killBelow, youngKill, youngDamage)
	c.rising("limit-order", killBelow, grownKill, grownDamage)
	c.rising("limit-order", "a plant hardened for winter to stand at least what a soft one stands", winter, grownKill)
	if p.Class == "" && !youngDamage.known && !grownDamage.known {
		c.warn(p.Cell, "crop-no-limit", fmt.Sprintf("%s has neither a cold figure nor a class: no frost gate can hold its dates back", p.ID),
			"young_damage_c and grown_damage_c, or a class", "fill in a figure or the class")
	}
}

func (c *checker) growth(p *catalog.Crop) {
	c.rising("range-order", "the low end first", of("weeks_inside_low", p.WeeksInsideLow), of("weeks_inside_high", p.WeeksInsideHigh))
	c.rising("range-order", "the low end first", of("days_low", p.DaysLow), of("days_high", p.DaysHigh))
	c.rising("range-order", "soil figures that rise from least over best to most",
		of("soil_min_c", p.SoilMin), of("soil_best_c", p.SoilBest), of("soil_max_c", p.SoilMax))
	c.rising("range-order", "the low end first", of("best_mean_low_c", p.BestMeanLow), of("best_mean_high_c", p.BestMeanHigh))
	c.rising("range-order", "a chilling temperature below the one of too much heat", of("chill_c", p.Chill), of("heat_c", p.Heat))
}

func cropFigures(p *catalog.Crop) []value {
	return []value{
		of("young_damage_c", p.YoungDamage), of("young_kill_c", p.YoungKill), of("grown_damage_c", p.GrownDamage),
		of("grown_kill_c", p.GrownKill), of("winter_kill_c", p.WinterKill), of("chill_c", p.Chill),
		of("soil_min_c", p.SoilMin), of("soil_best_c", p.SoilBest), of("soil_max_c", p.SoilMax), of("emerge_days", p.EmergeDays),
		of("weeks_inside_low", p.WeeksInsideLow), of("weeks_inside_high", p.WeeksInsideHigh),
		of("days_low", p.DaysLow), of("days_high", p.DaysHigh), of("pick_days", p.PickDays), of("heat_c", p.Heat),
		of("best_mean_low_c", p.BestMeanLow), of("best_mean_high_c", p.BestMeanHigh),
		of("spacing_cm", p.SpacingCm), of("depth_cm", p.DepthCm), ofBool("needs_insects", p.NeedsInsect),
	}
}
