package page

import (
	"slices"
	"sync"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/plan"
)

// sharedWork is what the pages of a band are made from in every language: the plans are the
// same but for the names of crops. It must not be changed.
type sharedWork struct {
	of          *plan.CropPlan           // the first of the plans; nil = there are none
	covered     [][]plan.LayerPlan       // see underCovers
	successions func() []plan.Succession // of crops by the names of the first language
}

// sharedOf is the shared work of a band's plans. What one language made for the one beside it
// is taken up where it was made from these very plans.
func (b *builder) sharedOf(c *band.Climate, plans []plan.CropPlan) *sharedWork {
	var first *plan.CropPlan
	if len(plans) > 0 {
		first = &plans[0]
	}
	if x, ok := b.handed.LoadAndDelete(c.Band.ID); ok && x.(*sharedWork).of == first {
		return x.(*sharedWork)
	}
	s := &sharedWork{of: first, covered: b.underCovers(c.Band.ID, plans)}
	s.successions = sync.OnceValue(func() []plan.Succession { return b.planner.Successions(c, plans) })
	if b.beside != nil {
		b.beside.handed.Store(c.Band.ID, s)
	}
	return s
}

// under is plans with some of their layers.
func under(layers [][]plan.LayerPlan, plans []plan.CropPlan) []plan.CropPlan {
	out := slices.Clone(plans)
	for i := range out {
		out[i].Layers = layers[i]
	}
	return out
}

// successions is the band's, of crops by their names in the builder's language.
func (b *builder) successions(m *bandPage) []plan.Succession {
	out := slices.Clone(m.shared.successions())
	for i := range out {
		if row := b.cropRow[out[i].Crop.ID]; row != nil {
			out[i].Crop = row
		}
	}
	return out
}
