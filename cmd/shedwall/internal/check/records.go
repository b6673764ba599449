package check

import (
	"fmt"
	"math"
	"strings"
	"time"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
)

// leastYears is how many usable years a careful date takes, and countedYears how many
// it takes to be more than an estimate: the rules of frost.Staircases.Odds.
const leastYears, countedYears = 10, 20

// Records warns of stations whose records are too short for odds, and of stations whose
// place, height or dates do not fit the others. It comes after Tables, when a region could
// be made.
func Records(t *catalog.Tables, r *band.Region) diag.List {
	c := &checker{tables: t}
	c.short(r)
	c.far(r)
	c.heights(r)
	c.missed(r)
	return c.list
}

func (c *checker) short(r *band.Region) {
	for i, s := range r.Stations {
		usable, used := r.UsableYears(i)
		if used == 0 || usable >= countedYears {
			continue
		}
		what := fmt.Sprintf("station %s has %d usable years of %d: its dates are estimates", s.Row.ID, usable, used)
		if usable < leastYears {
			what = fmt.Sprintf("station %s has %d usable years of %d: too few for a careful date", s.Row.ID, usable, used)
		}
		c.warn(s.Row.Cell, "record-short", what, fmt.Sprintf("%d years or more", countedYears),
			"add years to its record, or take the record away where published dates or normals of the station can stand in its place")
	}
}

// farApart is how far (km) a station may be from the nearest other. A station counts
// exp(-km/30) for a place, so beyond this they have nothing to say to each other; a slip
// in a sign or a digit leads to other countries. The figure is common practice, no source.
const farApart = 250.0

// far warns of stations and bands that lie far from every other station: a slip in
// coordinates moves dates without any other sign.
func (c *checker) far(r *band.Region) {
	const cure = "look at latitude and longitude: west and south are negative"
	for i, s := range r.Stations {
		if km, k, ok := r.Apart(i); ok && km > farApart {
			c.warn(s.Row.Longitude.Cell, "station-far", fmt.Sprintf("station %s lies %.0f km from the nearest other one, %s", s.Row.ID, km, r.Stations[k].Row.ID), fmt.Sprintf("stations of one region, less than %.0f km apart", farApart), cure)
		}
	}
	for i := range c.tables.Bands {
		b := &c.tables.Bands[i]
		lat, ok := b.Latitude.Get()
		lon, both := b.Longitude.Get()
		if km, k, known := r.ApartFrom(lat, lon); ok && both && known && km > farApart {
			c.warn(b.Longitude.Cell, "band-far", fmt.Sprintf("band %s lies %.0f km from the nearest station, %s", b.ID, km, r.Stations[k].Row.ID), fmt.Sprintf("a station within %.0f km", farApart), cure)
		}
	}
}

// Of 23 real stations in two mountain regions none is further than 370 m from the height that
// its warm days speak of (the test in band prints them); maxima of a coast or under a lake's
// breeze may be. With fewer than three others, or from afar, that height says little.
const (
	heightReach = 60.0 // km
	heightSays  = 3    // stations
	heightOff   = 500  // m
)

// heights warns of stations that are much warmer or colder by day than their height.
func (c *checker) heights(r *band.Region) {
	for i, s := range r.Stations {
		z, known := s.Row.Elevation.Get()
		by, beside := r.HeightOfDays(i, heightReach)
		if !known || beside < heightSays || math.Abs(float64(by-z)) < heightOff {
			continue
		}
		c.warn(s.Row.Elevation.Cell, "station-height", fmt.Sprintf("station %s is given %s, and its warm days are those of about %s, by the %d stations near it", s.Row.ID, inUnit(z, s.Row.Elevation.Cell), inUnit(quantity.Metres(math.Round(float64(by)/10)*10), s.Row.Elevation.Cell), beside),
			"less than "+inUnit(heightOff, s.Row.Elevation.Cell)+" between the two", "look at the number and its unit (a decimal point, feet for metres); a lake or the sea close by can do the same")
	}
}

// weeksOff is how far (days) the guess of a hidden station may miss its own date. Of 23
// real stations one misses by more, in a town, and where no positions are declared another
// on the shore of a lake (the middle miss is 5 days). How cold a declared hollow is, its
// neighbours cannot tell: there it may be twice as many.
const weeksOff = 21

// manyMisfits is how many stations are told at most: where more do not fit, they are of
// several climates, and the page on quality lists them all.
const manyMisfits = 5

// missed warns of stations that the others, when it is hidden, guess weeks off: where
// everything is right about them the guide is no better than that beside no station.
func (c *checker) missed(r *band.Region) {
	most := func(s *band.Station) float64 {
		if p, _ := s.Row.Position.Get(); p == catalog.Hollow {
			return 2 * weeksOff
		}
		return weeksOff
	}
	said := map[string][]string{}
	for _, m := range r.Misfits(most, manyMisfits) {
		said[m.Station] = append(said[m.Station], fmt.Sprintf("its %s freeze is %s by its own dates, and %s as the others guess it", m.Event, onDay(r, m.Seen), onDay(r, m.Guessed)))
	}
	for _, s := range r.Stations {
		if len(said[s.Row.ID]) == 0 {
			continue
		}
		look := "its record"
		if s.Table != nil && s.Table.Typed {
			look = "its dates in data/freeze.csv"
		}
		c.warn(s.Row.Cell, "station-misfit", fmt.Sprintf("station %s does not fit the others: %s", s.Row.ID, strings.Join(said[s.Row.ID], "; ")), fmt.Sprintf("less than %.0f days between the two", most(s)),
			"look at its height, position (a hollow?), latitude and longitude in this row, and at "+look+"; if all is right, so far off are dates where no station stands (page quality)")
	}
}

// onDay is a slot's date in words.
func onDay(r *band.Region, slot float64) string {
	d := r.Hemisphere.MonthDay(quantity.Slot(math.Round(slot)))
	return fmt.Sprintf("%d %v", d.Day, time.Month(d.Month))
}

// Zones warns of bands whose declared hardiness zone is another than the one that the
// records give: pages say so to readers, and who publishes should know it first. climate
// is a band's by its id.
func Zones(t *catalog.Tables, climate func(band string) (*band.Climate, bool)) diag.List {
	c := &checker{tables: t}
	for i := range t.Bands {
		b := &t.Bands[i]
		declared, ok := b.DeclaredZone.Get()
		made, known := climate(b.ID)
		if !ok || !known {
			continue
		}
		w := made.Winter()
		if !w.Known || w.Zone == declared {
			continue
		}
		c.warn(b.DeclaredZone.Cell, "zone-differs", fmt.Sprintf("band %s is declared to be in zone %s, and by the records it is in %s: the coldest night of a middling winter is %.1f C (%.0f F), from %d winters", b.ID, declared, w.Zone, float64(w.MeanExtreme), w.MeanExtreme.Fahrenheit(), w.Years),
			"the zone of the records, or none", "its page tells readers that the records do not bear the declared zone out: look which map it is from, or leave the cell empty; to keep both, name zone-differs in the setting silence")
	}
	return c.list
}
