package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// guide checks settings against each other.
func (c *checker) guide() {
	g := &c.tables.Guide
	year, _, _ := g.EditionDate.Date()
	at := g.Cells["edition_date"]
	switch {
	case g.EditionDate == 0: // not given or not read: said already
	case year < 1990 || year > 2100:
		c.fault(at, "edition-date", fmt.Sprintf("an edition of the year %d", year), "a date from 1990 to 2100", "look at the year")
	case g.YearsTo > year:
		c.fault(g.Cells["years"], "edition-date", fmt.Sprintf("the records are to be used up to %d, but the edition is of %d", g.YearsTo, year),
			"years before the edition", "mend the years or the date of the edition")
	}
	if g.YearsTo > 0 && g.YearsTo-g.YearsFrom+1 < 10 {
		c.warn(g.Cells["years"], "years-few", fmt.Sprintf("%d years of records are used at most", g.YearsTo-g.YearsFrom+1),
			"30 years, 20 at least", "take more years: below 20 the dates are estimates, below 10 there is no careful date")
	}
}

// stations checks places of stations: weights go by distance.
func (c *checker) stations() {
	for i := range c.tables.Stations {
		s := &c.tables.Stations[i]
		lat, hasLat := s.Latitude.Get()
		switch {
		case half(s.Latitude, s.Longitude):
			c.halfPlace("station "+s.ID, s.Latitude, s.Longitude)
		case s.Latitude.State == figure.Blank && len(c.tables.Stations) > 1:
			c.note(s.Cell, "station-no-place", fmt.Sprintf("station %s has no coordinates, so it counts the same at any distance", s.ID), "fill in latitude and longitude")
		}
		if hasLat && quantity.HemisphereOf(lat) != c.tables.Hemisphere {
			c.otherSide(s, lat)
		}
		if s.Position.State == figure.Blank && !s.Offset.Known() {
			c.note(s.Cell, "position-not-given", fmt.Sprintf("station %s does not say where it sits and is taken for a slope", s.ID), "write hollow, floor, slope or ridge: a right word is worth more than any weighting")
		}
	}
}

// otherSide reports a station that lies across the equator from most of the others.
func (c *checker) otherSide(s *catalog.Station, lat float64) {
	cure := "look at the sign of the latitude: south is negative"
	lon, _ := s.Longitude.Get()
	for i := range c.tables.Stations {
		other := &c.tables.Stations[i]
		a, okA := other.Latitude.Get()
		b, okB := other.Longitude.Get()
		const near = 5 // degrees
		if okA && okB && quantity.HemisphereOf(a) == c.tables.Hemisphere && math.Abs(lon-a) < near && math.Abs(lat-b) < near {
			cure = "latitude and longitude were exchanged: write each under its heading"
		}
	}
	c.fault(s.Latitude.Cell, "hemisphere-mixed", fmt.Sprintf("station %s lies on the other side of the equator than the others", s.ID), "stations of one region", cure)
}

// half says whether one coordinate is there and nothing stands for the other.
func half(lat, lon figure.Of[float64]) bool {
	return lat.Known() && lon.State == figure.Blank || lon.Known() && lat.State == figure.Blank
}

// halfPlace reports the coordinate that is not there.
func (c *checker) halfPlace(what string, lat, lon figure.Of[float64]) {
	at := lon.Cell
	if lon.Known() {
		at = lat.Cell
	}
	c.fault(at, "place-half", what+" has only one of latitude and longitude", "both or none", "fill in the other one")
}

// tall is the height of a band (m) from which its ends differ too much for one
// sheet: 200 m are about 0.9 K, some ten days of frost dates.
const tall quantity.Metres = 200

// span is a band with both ends known.
type span struct {
	band      *catalog.Band
	low, high quantity.Metres
}

// maxBands is the most bands of one guide: a thousand are made in a minute or two, and a
// larger table is one of places or of a whole country.
const maxBands = 2000

// bands checks each band, and bands of one position against each other.
func (c *checker) bands() {
	if n := len(c.tables.Bands); n > maxBands {
		c.fault(c.tables.Bands[maxBands].Cell, "bands-too-many", fmt.Sprintf("the table has %d bands", n), fmt.Sprintf("at most %d in one guide", maxBands),
			"divide the region into several guides, each with its own folder; they share nothing")
		return
	}
	byPosition := map[catalog.Position][]span{}
	for i := range c.tables.Bands {
		b := &c.tables.Bands[i]
		low, hasLow := b.Low.Get()
		high, hasHigh := b.High.Get()
		pos, _ := b.Position.Get()
		if b.Position.State == figure.Blank && !b.Offset.Known() {
			c.warn(b.Cell, "position-not-given", fmt.Sprintf("band %s does not say where its gardens sit and is taken for a slope", b.ID),
				"hollow, floor, slope or ridge", "write one: a hollow freezes weeks longer than a slope at the same altitude")
		}
		if half(b.Latitude, b.Longitude) {
			c.halfPlace("band "+b.ID, b.Latitude, b.Longitude)
		}
		if !hasLow || !hasHigh {
			continue
		}
		switch {
		case low >= high:
			c.fault(b.High.Cell, "band-upside-down", fmt.Sprintf("band %s ends at %s and begins at %s", b.ID, inUnit(high, b.High.Cell), inUnit(low, b.High.Cell)),
				"an upper end above the lower one", "look whether the two were exchanged")
			continue
		case high-low > tall+tolerance:
			c.warn(b.High.Cell, "band-tall", fmt.Sprintf("band %s is %s high", b.ID, inUnit(high-low, b.High.Cell)),
				inUnit(tall, b.High.Cell)+" at most", "divide it: frost dates move about 5 days with each "+inUnit(100, b.High.Cell))
		}
		byPosition[pos] = append(byPosition[pos], span{b, low, high})
	}
	for _, pos := range []catalog.Position{catalog.Slope, catalog.Hollow, catalog.Floor, catalog.Ridge} {
		c.neighbours(pos, byPosition[pos])
	}
}

// neighbours checks the bands of one position from the lowest up.
func (c *checker) neighbours(pos catalog.Position, spans []span) {
	slices.SortStableFunc(spans, func(a, b span) int { return cmp.Compare(a.low, b.low) })
	for i, s := range spans {
		reached := quantity.Metres(-1e9) // the highest end of the bands below
		for _, below := range spans[:i] {
			reached = max(reached, below.high)
			if s.low < below.high-tolerance && rivals(s.band, below.band) {
				c.fault(s.band.Low.Cell, "band-overlap", fmt.Sprintf("bands %s and %s, both %s, overlap from %s", below.band.ID, s.band.ID, pos, fromTo(s.low, min(s.high, below.high), s.band.Low.Cell)),
					"each height in one band", "let one begin where the other ends, or give them different positions, zones or coordinates")
			}
		}
		if i > 0 && s.low > reached+tolerance {
			c.warn(s.band.Low.Cell, "band-gap", fmt.Sprintf("no %s band holds the heights from %s", pos, fromTo(reached, s.low, s.band.Low.Cell)),
				"bands that touch", "if there are gardens between, stretch a band or add one")
		}
	}
}

// inUnit is a height in the unit of the column that a fault is about.
func inUnit(z quantity.Metres, at diag.Position) string {
	if strings.HasSuffix(at.Heading, "_ft") {
		return fmt.Sprintf("%.0f ft", z.Feet())
	}
	return spell(float64(z)) + " m"
}

// fromTo is two heights, their unit once.
func fromTo(low, high quantity.Metres, at diag.Position) string {
	a, _, _ := strings.Cut(inUnit(low, at), " ")
	return a + " to " + inUnit(high, at)
}

// rivals says whether nothing but height tells two bands of one position apart:
// no different zones, no different places.
func rivals(a, b *catalog.Band) bool {
	za, okA := a.DeclaredZone.Get()
	zb, okB := b.DeclaredZone.Get()
	if okA && okB && za != zb {
		return false
	}
	latA, okA := a.Latitude.Get()
	latB, okB := b.Latitude.Get()
	lonA, _ := a.Longitude.Get()
	lonB, _ := b.Longitude.Get()
	return !(okA && okB && (latA != latB || lonA != lonB))
}

// places checks that a reader who looks up a place finds a band.
func (c *checker) places() {
	for i := range c.tables.Places {
		p := &c.tables.Places[i]
		z, hasZ := p.Elevation.Get()
		if !hasZ || p.Band != "" { // the publisher says which
			continue
		}
		pos, hasPos := p.Position.Get()
		inside, same := 0, 0
		for j := range c.tables.Bands {
			b := &c.tables.Bands[j]
			low, hasLow := b.Low.Get()
			high, hasHigh := b.High.Get()
			if !hasLow || !hasHigh || z < low-tolerance || z > high+tolerance {
				continue
			}
			inside++
			if bp, _ := b.Position.Get(); !hasPos || bp == pos {
				same++
			}
		}
		switch {
		case len(c.tables.Bands) == 0:
		case inside == 0:
			c.fault(p.Elevation.Cell, "place-outside", fmt.Sprintf("%s, at %s, lies in no band", p.Name, inUnit(z, p.Elevation.Cell)), "a height within a band", "stretch a band, add one, or take the place off the list")
		case same == 0:
			c.warn(p.Position.Cell, "place-no-position", fmt.Sprintf("%s is a %s at %s, and no %s band holds that height", p.Name, pos, inUnit(z, p.Elevation.Cell), pos),
				"a band of its position", "add such a band, or look at the position: the place is shown with bands of other positions")
		}
	}
}
