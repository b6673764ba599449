package band

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// bandHeight is the height of a proposed band: frost dates move about five days
// with each 100 m, and a band should not span much more than one sowing.
const bandHeight quantity.Metres = 200

// Propose is bands that fit the region's stations and the places that readers look up:
// for each position the heights they stand on, in steps of 200 m on round hundreds, each
// with the zone worked out for it. A place that does not say where it sits counts as a
// slope, one without a height not at all. Hollows, floors and ridges get a band only where
// a station or a place lies; between two on slopes no step is left out, for slopes run
// through. The order is by position and height. A region without stations proposes
// nothing.
func (r *Region) Propose(places []catalog.Place) []catalog.Band {
	if len(r.Stations) == 0 {
		return nil
	}
	steps := map[catalog.Position]map[int]bool{}
	add := func(p catalog.Position, height quantity.Metres) {
		if steps[p] == nil {
			steps[p] = map[int]bool{}
		}
		steps[p][int(math.Floor(float64(height/bandHeight)))] = true
	}
	for _, s := range r.Stations {
		add(s.site.position, s.site.low)
	}
	for i := range places {
		if height, ok := places[i].Elevation.Get(); ok {
			position, _ := places[i].Position.Get()
			add(position, height)
		}
	}
	if slopes := steps[catalog.Slope]; len(slopes) > 1 {
		low, high := math.MaxInt, math.MinInt
		for k := range slopes {
			low, high = min(low, k), max(high, k)
		}
		for k := low; k <= high; k++ {
			slopes[k] = true
		}
	}
	var out []catalog.Band
	for p, ks := range steps {
		for k := range ks {
			out = append(out, r.proposed(p, quantity.Metres(k)*bandHeight))
		}
	}
	slices.SortFunc(out, func(a, b catalog.Band) int {
		pa, _ := a.Position.Get()
		pb, _ := b.Position.Get()
		la, _ := a.Low.Get()
		lb, _ := b.Low.Get()
		return cmp.Or(cmp.Compare(pa, pb), cmp.Compare(la, lb))
	})
	return out
}

func (r *Region) proposed(p catalog.Position, low quantity.Metres) catalog.Band {
	high := low + bandHeight
	b := catalog.Band{
		ID:       fmt.Sprintf("%s_%.0f", p, float64(low)),
		Name:     fmt.Sprintf("%s, %.0f to %.0f m", [...]string{"Slopes", "Hollows", "Valley floor", "Ridges"}[p], float64(low), float64(high)),
		Low:      figure.Is(low, figure.Cell{}, ""),
		High:     figure.Is(high, figure.Cell{}, ""),
		Position: figure.Is(p, figure.Cell{}, ""),
	}
	c := r.Climate(&b)
	if c.site.placed {
		b.Latitude, b.Longitude = figure.Is(c.site.latitude, figure.Cell{}, ""), figure.Is(c.site.longitude, figure.Cell{}, "")
	}
	if w := c.Winter(); w.Known {
		b.DeclaredZone = figure.Is(w.Zone, figure.Cell{}, "")
	}
	return b
}
