package plan

import (
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// layered is a set of layers as every crop of a band is planned under it.
type layered struct {
	id    string   // "" = open ground
	parts []string // covers, outermost first
	under []*layered

	// gain as planned with, careful and half: the low end for careful dates, the typical
	// one for half-and-half dates, and never below 0, because a grower whom a cover does
	// not help simply does not gain by it: a careful date is then the open ground's.
	gain  [2]quantity.Kelvins
	cells [2]*figure.Cell

	warms  quantity.Kelvins // soil: the most that any of them is known to give
	warmed *catalog.Cover   // ... and which

	vent      quantity.Celsius // lowest maximum outside from which any of them must be opened
	ventKnown bool

	outermost string
	out       catalog.Months // in which the band's weather rules them out
	ruled     *figure.Cell   // behind the first rule that does
}

// layersOf is a set of layers, worked out once for the band.
func (b *bandPlan) layersOf(id string) *layered {
	if x, ok := b.layers[id]; ok {
		return x
	}
	g := b.book.Gain(id)
	x := &layered{
		id: id, parts: catalog.SplitLayers(id), outermost: outermost(id),
		gain:  [2]quantity.Kelvins{max(g.Low, 0), max(g.Typical, 0)},
		cells: [2]*figure.Cell{&g.At, &g.AtTypical},
	}
	for k, part := range x.parts {
		x.under = append(x.under, b.layersOf(strings.Join(x.parts[k+1:], "+")))
		c := b.book.Cover(part)
		if c == nil {
			continue
		}
		if g, ok := c.SoilGain.Get(); ok && g > x.warms {
			x.warms, x.warmed = g, c
		}
		if v, ok := c.Vent.Get(); ok {
			if v = cover.VentOutside(v, c.VentInside); !x.ventKnown || v < x.vent {
				x.vent, x.ventKnown = v, true
			}
		}
	}
	// The outermost cover shelters those under it, so it alone is asked.
	if c := b.book.Cover(x.outermost); c != nil && b.climate.Band != nil {
		for _, e := range Exposures(b.climate.Band, c) {
			if !e.RuledOut() {
				continue
			}
			if x.out |= e.Months; x.ruled == nil {
				x.ruled = &e.At
			}
		}
	}
	if b.layers == nil {
		b.layers = map[string]*layered{}
	}
	b.layers[id] = x
	return x
}
