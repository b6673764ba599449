package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// designMinima are the nights that structures are worked out for, the first of them
// that a band's record has enough of: near the limits of most crops, or as cold as the
// place gets in spring. A heater holds its temperature against colder nights too, as
// far as its watts go, so for a heated house the gain of a mild night is a careful one.
var designMinima = []quantity.Celsius{-2, 0, 2, 4}

// bookFor is the guide's book with its structures worked out for a band's own spring
// nights: the book itself where no structure is in use or no record tells the nights.
func (p *Planner) bookFor(c *band.Climate) cover.Book {
	if !p.housed {
		return p.book
	}
	w, ok := DesignNights(c)
	if !ok {
		return p.book
	}
	return p.book.With(p.tables, w)
}

// findHoused sets housed: whether any structure is among the guide's covers.
func (p *Planner) findHoused() {
	for i := range p.tables.Structures {
		p.housed = p.housed || p.book.Cover(p.tables.Structures[i].ID) != nil
	}
}

// DesignNights is the weather that a band's structures are worked out for: its spring
// nights near the limits of crops, from the record that counts most in its dates,
// carried to the band's middle. false without a latitude or a record with such nights.
func DesignNights(c *band.Climate) (cover.Weather, bool) {
	latitude, ok := c.Latitude()
	if !ok {
		return cover.Weather{}, false
	}
	best := -1
	for i := range c.Region.Stations {
		if len(c.CountSeasons(record.Last, i)) > 0 && (best < 0 || c.Weight(i) > c.Weight(best)) {
			best = i
		}
	}
	if best < 0 {
		return cover.Weather{}, false
	}
	months := []int{3, 4, 5}
	if c.Region.Hemisphere == quantity.South {
		months = []int{9, 10, 11}
	}
	toBand := c.Shift(record.Last, quantity.Half, best).ToBand(0).Minus(0)
	at := cover.Site{Latitude: latitude, Elevation: c.Elevation(record.Last, quantity.Half)}
	for _, t := range designMinima {
		if w, ok := cover.DesignNights(c.Region.Stations[best].Record, at, t, toBand, months); ok {
			return w, true
		}
	}
	return cover.Weather{}, false
}
