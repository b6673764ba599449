package publish

import (
	"io/fs"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/score"
)

// reports is Score, worked out anew only where something of it changed.
func (g *Guide) reports() score.Result {
	l := g.loader
	return l.scored.take(g.files, l.watched, func() mark { return markOf(l.made.key, l.tables.value.all) }, &g.Faults, func(fs.FS, *diag.List) score.Result {
		return g.Score()
	})
}

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
