package plan

import (
	"math"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// PotPlan is when a tender plant comes in and goes out again in a band, and where it
// passes the winter.
type PotPlan struct {
	Pot *catalog.Pot

	Outside     quantity.Celsius // it is in before the first night as cold
	OutsideFrom string           // heading of that figure; "" = the first frost stands in
	BringIn     [2]Bound         // careful, half: the evening on which it must be in (tubers: lifted)
	PutOut      [2]Bound         // careful, half: the first day out

	Inside     quantity.Celsius // its winter place must stay warmer than this
	InsideFrom string           // heading; "" = free of frost stands in
	Keeps      []Keep           // by place, in the order of Planner.Places
	Missing    []Missing
}

// Keep is the odds that a place stays above what a plant stands through a whole winter.
type Keep struct {
	Place string // id of the structure or cover
	Odds  band.Wintering
}

// frostLimit is what stands in for a limit that nobody gave, and for limits colder than it that
// were read on trees in the ground: roots in a pot freeze through sooner.
const frostLimit quantity.Celsius = 0

// potHeight is how high a house must be on average for plants in pots to stand in it.
const potHeight = 1.2 // m

// Places is the structures of the guide in which a plant in a pot can stand through the
// winter of a band: high enough, figures complete, not taken down for the weather of a
// winter month; then the offered covers whose gain in winter is known.
func (p *Planner) Places(c *band.Climate) []string {
	var out []string
	for i := range p.tables.Structures {
		s := &p.tables.Structures[i]
		height, ok := s.Height.Get()
		if _, missing := cover.HouseOf(s); ok && height >= potHeight && len(missing) == 0 && p.standsInWinter(c, &s.Cover) {
			out = append(out, s.ID)
		}
	}
	for _, id := range p.offered {
		if cv := p.book.Cover(id); cv != nil && cv.Winter.Low.Known() && cv.Kind != catalog.Mulch && p.standsInWinter(c, cv) && p.tables.Structure(id) == nil {
			out = append(out, id)
		}
	}
	return out
}

func (p *Planner) standsInWinter(c *band.Climate, cv *catalog.Cover) bool {
	return outMonths(c.Band, cv)&winterMonths(c.Region.Hemisphere) == 0
}

// Pots plans every plant of pots.csv for one band, in the order of the table.
func (p *Planner) Pots(c *band.Climate) []PotPlan {
	var keepers []keeper
	for _, id := range p.Places(c) {
		keepers = append(keepers, c.Keep(keeperKey{p.worked, id}, func() any { return p.keeper(c, id) }).(keeper))
	}
	out := make([]PotPlan, len(p.tables.Pots))
	for i := range p.tables.Pots {
		out[i] = potPlan(c, &p.tables.Pots[i], keepers)
	}
	return out
}

func potPlan(c *band.Climate, pot *catalog.Pot, keepers []keeper) PotPlan {
	out := PotPlan{Pot: pot}
	out.Outside, out.OutsideFrom = outsideLimit(pot)
	out.Inside, out.InsideFrom = insideLimit(pot)
	if !pot.BringIn.Known() {
		out.Missing = append(out.Missing, Missing{Figure: "bring_in_c", Used: used(out.OutsideFrom)})
	}
	if out.InsideFrom == "" {
		out.Missing = append(out.Missing, Missing{Figure: "never_below_c", Used: used("")})
	}
	for k, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
		gate := band.Gate{Series: band.Night, Limit: out.Outside}
		out.PutOut[k] = boundOf(c.Date(record.Last, odds, gate), Frost)
		if pot.Kind == catalog.Lifted {
			out.BringIn[k] = boundOf(c.Cools(odds, groundFreezes, 1), Ground)
		} else {
			out.BringIn[k] = boundOf(c.Date(record.First, odds, gate), Frost)
		}
		if out.BringIn[k].State == Dated {
			out.BringIn[k].Slot-- // the evening before
		}
	}
	for _, k := range keepers {
		out.Keeps = append(out.Keeps, Keep{k.place, k.odds(c, out.Inside)})
	}
	return out
}

func used(heading string) string {
	if heading == "" {
		return "frost"
	}
	return heading
}

// outsideLimit is the temperature that brings a plant in: the one named for it; else what
// it stands, the warmest figure known and never colder than frost. The first frost stands
// in where nothing is known.
func outsideLimit(p *catalog.Pot) (quantity.Celsius, string) {
	if t, ok := p.BringIn.Get(); ok {
		return t, "bring_in_c"
	}
	limit, from := frostLimit, ""
	if t, ok := p.Never.Get(); ok && t >= limit {
		limit, from = t, "never_below_c"
	}
	if t, ok := p.Damage.Get(); ok && t > limit {
		limit, from = t, "damage_c"
	}
	if t, ok := p.Kill.Get(); ok && t > limit {
		limit, from = t, "kill_c"
	}
	return limit, from
}

// insideLimit is what the winter place must stay above: the figure named for it, else
// free of frost, or what harms in warmer air.
func insideLimit(p *catalog.Pot) (quantity.Celsius, string) {
	if t, ok := p.Never.Get(); ok {
		return t, "never_below_c"
	}
	limit, from := frostLimit, ""
	if t, ok := p.Damage.Get(); ok && t > limit {
		limit, from = t, "damage_c"
	}
	return limit, from
}

// keeperKey is the key of a band's keeper.
type keeperKey struct {
	*worked
	place string
}

// keeper answers how cold a place gets inside.
type keeper struct {
	place   string
	gain    quantity.Kelvins // of a cover: the low end of its winter gain
	inside  []float64        // of a structure: lowest inside (C) at each of coldNights, see insideOn; nil = a cover
	unknown bool             // nothing tells what the place is worth in winter
}

// coldNights are the outside minima (C) at which structures are worked out, coldest first.
var coldNights = []quantity.Celsius{-45, -40, -35, -30, -25, -20, -15, -10, -5, 0, 5, 10}

func (p *Planner) keeper(c *band.Climate, id string) keeper {
	k := keeper{place: id}
	if s := p.tables.Structure(id); s != nil {
		w, ok := WinterNights(c)
		if !ok {
			k.unknown = true
			return k
		}
		h, _ := cover.HouseOf(s)
		k.inside = insideOn(p.leastInside(), h.LowestInside(w))
		return k
	}
	gain, ok := p.book.WinterLow(id)
	k.gain, k.unknown = gain, !ok
	return k
}

// leastInside is the coldest that any plant of the table may have it inside.
func (p *Planner) leastInside() quantity.Celsius {
	least := coldNights[len(coldNights)-1]
	for i := range p.tables.Pots {
		limit, _ := insideLimit(&p.tables.Pots[i])
		least = min(least, limit)
	}
	return least
}

// insideOn is how cold it gets inside on each of coldNights, from the warmest down to the
// first on which it is no warmer than the least that is asked for; what lies beyond is not
// worked out, since holds looks no further for any limit from least up.
func insideOn(least quantity.Celsius, lowest func(outside quantity.Celsius) quantity.Celsius) []float64 {
	inside := make([]float64, len(coldNights))
	for i := range inside {
		inside[i] = math.NaN()
	}
	for i := len(inside) - 1; i >= 0; i-- {
		if inside[i] = float64(lowest(coldNights[i])); inside[i] <= float64(least) {
			break
		}
	}
	return inside
}

// odds that a place stays above a limit through a winter. The coldest night outside that
// the place still holds is looked up between the nights worked out; what lies between it
// and the limit is the gain on that night.
func (k keeper) odds(c *band.Climate, limit quantity.Celsius) band.Wintering {
	if k.unknown {
		return band.Wintering{}
	}
	if k.inside == nil {
		return c.Wintering(limit, max(k.gain, 0))
	}
	return c.Wintering(limit, limit.Minus(k.holds(limit)))
}

// holds is the coldest night outside on which it stays warmer inside than a limit: beyond
// the nights worked out, the coldest or the warmest of them.
func (k keeper) holds(limit quantity.Celsius) quantity.Celsius {
	last := len(k.inside) - 1
	if k.inside[last] <= float64(limit) {
		return coldNights[last]
	}
	for i := last; i > 0; i-- {
		if a, b := k.inside[i-1], k.inside[i]; a <= float64(limit) {
			share := (float64(limit) - a) / (b - a)
			return coldNights[i-1].Plus(quantity.Kelvins(share * float64(coldNights[i]-coldNights[i-1])))
		}
	}
	return coldNights[0]
}
