package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
)

// Wintering is the odds that the air, in open ground or under a cover, gets no colder
// in winter than what kills a hardened crop.
type Wintering struct {
	Layers string
	Odds   band.Wintering
}

// Winters is the wintering odds of a crop in a band: open ground, then each offered
// cover whose winter gain is known, at the low end of that gain. Nothing where nobody
// knows what the hardened crop stands. "No colder than its limit" is not "it lives":
// snow helps, bare ground that freezes and thaws harms.
func (p *Planner) Winters(c *band.Climate, crop *catalog.Crop) []Wintering {
	limit, ok := crop.WinterKill.Get()
	if !ok {
		return nil
	}
	var out []Wintering
	for _, layers := range append([]string{""}, p.offered...) {
		if gain, ok := p.book.WinterLow(layers); ok {
			out = append(out, Wintering{layers, c.Wintering(limit, gain)})
		}
	}
	return out
}
