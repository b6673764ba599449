package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// HarmedAt is the low of the garden's own air (C, beside the cover) at or below which a
// crop under layers of a gain is harmed at half the nights: its limit, young or grown,
// its own or its class's, with the middling allowance for limits of the leaf. false
// where no figure is known.
func (p *Planner) HarmedAt(c *catalog.Crop, young bool, gain quantity.Kelvins) (quantity.Celsius, bool) {
	l := limitsOf(c, p.classes[c.Class])
	limit := l.grown
	if young {
		limit = l.young
	}
	t, ok := limit.Get()
	if !ok {
		return 0, false
	}
	var leaf quantity.Kelvins
	if c.Basis == catalog.Plant {
		leaf = allowanceHalf
	}
	return band.Shift{}.Threshold(t, leaf, gain), true
}

// Under is a crop under one set of layers in a band, "" in open ground, whether the
// guide offers the layers or not.
func (p *Planner) Under(c *band.Climate, crop *catalog.Crop, layers string) LayerPlan {
	plans := p.Crop(c, crop, []string{layers}).Layers
	return plans[len(plans)-1]
}
