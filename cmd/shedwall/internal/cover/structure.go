package cover

import (
	"maps"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// workedOut is the source of a structure's gain: the heat balance, from the row's
// own figures.
const workedOut = "own"

// With is the book at a place: every structure among the guide's covers gets its gain
// for the place's own nights and is then a cover like any other; its winter gain too,
// where winter, the nights near the winter's lowest, is not nil. A structure whose
// figures do not suffice stays without a gain. The book itself is not changed.
func (b Book) With(t *catalog.Tables, w Weather, winter *Weather) Book {
	out := b
	out.covers = nil
	for i := range t.Structures {
		s := &t.Structures[i]
		if b.covers[s.ID] == nil {
			continue
		}
		h, missing := HouseOf(s)
		if len(missing) > 0 {
			continue
		}
		if out.covers == nil {
			out.covers = maps.Clone(b.covers)
		}
		c := *b.covers[s.ID]
		c.Gain = h.gains(w, s.Cell)
		if winter != nil {
			c.Winter = h.gains(*winter, s.Cell)
		}
		out.covers[s.ID] = &c
	}
	if out.covers == nil {
		return b
	}
	return out
}

// gains is a house's gain on a place's nights as a table would have it.
func (h House) gains(w Weather, at figure.Cell) catalog.Gain {
	var g [3]figure.Of[quantity.Kelvins]
	for k, n := range h.nights(w, h.daylight(w)) {
		g[k] = figure.Is(n.Gain, at, workedOut)
	}
	return catalog.Gain{Low: g[Dull], Typical: g[HalfSun], High: g[Clear]}
}
