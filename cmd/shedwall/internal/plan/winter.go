package plan

import (
	"cmp"
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Wintering is the odds that the air, in open ground or under a cover, gets no colder
// in winter than what kills a hardened crop.
type Wintering struct {
	Layers string
	Odds   band.Wintering
	Out    catalog.Months // winter months whose weather rules the cover out; then there are no odds
}

// Winters is the wintering odds of a crop in a band: open ground, then each offered
// cover whose winter gain is known, at the low end of that gain, in the same order for
// every band. A structure whose gain could not be worked out in the band has no odds.
// Nothing where nobody knows what the hardened crop stands. "No colder than its limit" is
// not "it lives": snow helps, bare ground that freezes and thaws harms.
func (p *Planner) Winters(c *band.Climate, crop *catalog.Crop) []Wintering {
	limit, ok := crop.WinterKill.Get()
	if !ok {
		return nil
	}
	out := []Wintering{{Odds: c.Wintering(limit, 0)}}
	book := p.BookFor(c)
	for _, cv := range p.winterers() {
		w := Wintering{Layers: cv.ID, Out: outMonths(c.Band, cv) & winterMonths(c.Region.Hemisphere)}
		if gain, known := book.WinterLow(cv.ID); known && w.Out == 0 {
			w.Odds = c.Wintering(limit, gain)
		}
		out = append(out, w)
	}
	return out
}

// winterers are the offered covers that have a winter gain, or may have one worked out,
// lightest work first.
func (p *Planner) winterers() []*catalog.Cover {
	var out []*catalog.Cover
	for i := range p.tables.Covers {
		c := &p.tables.Covers[i]
		if c.Offered && (c.Winter.Low.Known() || p.holdsStructure(c.ID)) {
			out = append(out, c)
		}
	}
	slices.SortFunc(out, func(x, y *catalog.Cover) int {
		return cmp.Or(cmp.Compare(x.Weight, y.Weight), cmp.Compare(x.ID, y.ID))
	})
	return out
}

// winterMonths are the three in which nearly every winter has its lowest night.
func winterMonths(h quantity.Hemisphere) catalog.Months {
	if h == quantity.South {
		return catalog.MonthSet(6, 7, 8)
	}
	return catalog.MonthSet(12, 1, 2)
}
