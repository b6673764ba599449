package publish

import (
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/score"
)

// Score sets the guide's reports against its dates.
func (g *Guide) Score() score.Result {
	return score.Reports(g.Tables, g.Planner, func(band, crop, layers string) (plan.LayerPlan, bool) {
		c, a := g.Climate(band)
		row, b := g.Crop(crop)
		if !a || !b {
			return plan.LayerPlan{}, false
		}
		return g.Planner.Under(c, row, layers), true
	})
}
