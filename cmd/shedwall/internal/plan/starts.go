package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// FirstStarts is the careful window in open ground of how each crop is started outside:
// set out where it is raised inside, else sown or planted.
func (p *Planner) FirstStarts(c *band.Climate, crops []*catalog.Crop) []Window {
	open := *p
	open.housed = false // no house counts in open ground, so none is worked out for c
	b := open.bandOf(c)
	out := make([]Window, len(crops))
	for i, crop := range crops {
		lp := LayerPlan{Careful: b.windows(crop, &b.of(crop).limits, b.layersOf(""), quantity.Careful)}
		out[i], _ = lp.Find(quantity.Careful, StartOutside(crop))
	}
	return out
}

// StartOutside is the action by which a crop comes to stand outside: setting out where
// it must be raised inside, else sowing.
func StartOutside(c *catalog.Crop) Action {
	if c.Start == catalog.Inside {
		return SetOut
	}
	return SowOutside
}
