package plan

import (
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// designMinima are the nights that structures are worked out for, the first of them
// that a band's record has enough of: near the limits of most crops, or as cold as the
// place gets in spring. A heater holds its temperature against colder nights too, as
// far as its watts go, so for a heated house the gain of a mild night is a careful one.
var designMinima = []quantity.Celsius{-2, 0, 2, 4}

// BookFor is the guide's book with its structures worked out for a band's own nights of
// spring and, in the winter column, of winter: the book itself where no structure is in
// use or no record tells the nights. It is worked out once for each climate.
func (p *Planner) BookFor(c *band.Climate) cover.Book {
	if !p.housed {
		return p.book
	}
	return c.Keep(bookKey{p.worked}, func() any {
		book := p.book
		if w, ok := DesignNights(c); ok {
			var winter *cover.Weather
			if v, ok := WinterNights(c); ok {
				winter = &v
			}
			book = book.With(p.tables, w, winter)
		}
		return book
	}).(cover.Book)
}

// Sharing is a planner of the same guide with names in another language: what one of them
// works out for a band's structures serves both.
func (p *Planner) Sharing(with *Planner) *Planner {
	out := *p
	out.worked = with.worked
	return &out
}

// worked stands for all planners whose tables say the same of covers.
type worked struct{ _ byte }

// bookKey is the key of a band's book.
type bookKey struct{ *worked }

// Forget lets go of what is kept for the plans of a band that are not made again.
func (p *Planner) Forget(c *band.Climate) { c.Forget() }

// holdsStructure says whether any of the layers is a structure.
func (p *Planner) holdsStructure(layers string) bool {
	return slices.ContainsFunc(catalog.SplitLayers(layers), func(id string) bool { return p.tables.Structure(id) != nil })
}

// stands says whether any of the layers is one that no gardener puts up in an evening.
func (p *Planner) stands(layers string) bool {
	return p.holdsStructure(layers) || slices.ContainsFunc(catalog.SplitLayers(layers), func(id string) bool {
		return slices.ContainsFunc(p.tables.Covers, func(c catalog.Cover) bool { return c.ID == id && !c.ByHand() })
	})
}

// OfferedIn is every set of layers that is planned in a band, lightest first: those of
// the guide, with the structures whose gain could be worked out there.
func (p *Planner) OfferedIn(c *band.Climate) []string {
	if !p.housed {
		return p.offered
	}
	return p.BookFor(c).Offered(p.tables)
}

// findHoused sets housed: whether any structure is among the guide's covers.
func (p *Planner) findHoused() {
	for i := range p.tables.Structures {
		p.housed = p.housed || p.book.Cover(p.tables.Structures[i].ID) != nil
	}
}

// winterAbove is how far above the mean of the winters' lowest nights, in steps, nights
// are looked for: the lowest of all are too few to tell how the days before them were.
var winterAbove = []quantity.Kelvins{0, 2, 4, 6, 8}

// WinterNights is the weather that a band's structures are worked out for in winter: the
// nights of its three cold months as near to the mean of the winters' lowest as its
// record has enough of. false as for DesignNights, and where no winter is known.
func WinterNights(c *band.Climate) (cover.Weather, bool) {
	return nightsOf(c, winterKey{}, winterNights)
}

func winterNights(c *band.Climate) (cover.Weather, bool) {
	lows := c.Winter()
	best, at, ok := designAt(c)
	if !ok || !lows.Known {
		return cover.Weather{}, false
	}
	months := []int{12, 1, 2}
	if c.Region.Hemisphere == quantity.South {
		months = []int{6, 7, 8}
	}
	toBand := c.WinterShift(best).Difference()
	for _, above := range winterAbove {
		if w, ok := cover.DesignNights(c.Region.Stations[best].Record, at, lows.MeanExtreme.Plus(above), toBand, months); ok {
			return w, true
		}
	}
	return cover.Weather{}, false
}

// nightsOf looks through a record once for each band: every structure asks for them.
func nightsOf(c *band.Climate, key any, look func(*band.Climate) (cover.Weather, bool)) (cover.Weather, bool) {
	x := c.Hold(key, func() any {
		w, ok := look(c)
		return nights{w, ok}
	}).(nights)
	return x.Weather, x.ok
}

type (
	nights struct {
		cover.Weather
		ok bool
	}
	springKey struct{}
	winterKey struct{}
)

// designAt is the station whose nights stand for a band, that which counts most in its
// dates among those with a record, and the band's place.
func designAt(c *band.Climate) (station int, at cover.Site, ok bool) {
	latitude, ok := c.Latitude()
	station = -1
	for i := range c.Region.Stations {
		if len(c.CountSeasons(record.Last, i)) > 0 && c.Region.Stations[i].Record != nil && (station < 0 || c.Weight(i) > c.Weight(station)) {
			station = i
		}
	}
	return station, cover.Site{Latitude: latitude, Elevation: c.Elevation(record.Last, quantity.Half)}, ok && station >= 0
}

// DesignNights is the weather that a band's structures are worked out for: its spring
// nights near the limits of crops, from the record that counts most in its dates,
// carried to the band's middle. false without a latitude or a record with such nights.
func DesignNights(c *band.Climate) (cover.Weather, bool) {
	return nightsOf(c, springKey{}, springNights)
}

func springNights(c *band.Climate) (cover.Weather, bool) {
	best, at, ok := designAt(c)
	if !ok {
		return cover.Weather{}, false
	}
	months := []int{3, 4, 5}
	if c.Region.Hemisphere == quantity.South {
		months = []int{9, 10, 11}
	}
	toBand := c.Shift(record.Last, quantity.Half, best).Difference()
	for _, t := range designMinima {
		if w, ok := cover.DesignNights(c.Region.Stations[best].Record, at, t, toBand, months); ok {
			return w, true
		}
	}
	return cover.Weather{}, false
}
