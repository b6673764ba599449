package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Climate answers for one band: each station's shift to it and its weight.
type Climate struct {
	Band   *catalog.Band
	Region *Region

	site     site
	weights  []float64 // by station, sum 1
	ownShare float64   // how much of the weight lies on the band's own stations
	offsets  [2]quantity.Kelvins
	declared quantity.Kelvins // the publisher's offset, else the position's default
	given    bool             // the publisher gave the offset
	winter   quantity.Kelvins
	memory   map[asked][]year // nil = keeps nothing; see Remembering
	brief    *briefing        // likewise
	kept     *keeping         // for every copy
}

// Distance weights: a station counts exp(-km/30), whatever its height: the
// shifted threshold takes care of that (measured: 6.9 days' error against 8.1
// with weights by height; flat between 20 and 60 km).
const weightReach = 30.0 // km

// Reach is the distance (km) at which a place tells a third of what one on the spot tells of
// another, see weightReach.
const Reach = weightReach

// A station that stands in the band itself, on ground of the same position,
// knows what no other can: the shape of the band's seasons, a hollow's summer
// frosts above all. Dates carried from elsewhere are off by some 7 days (the
// leave-one-out error), a record on the spot by some 3 (thirty years' sampling and
// the band's own spread), so by inverse variance it takes 49/(49 + 9) of the weight;
// less as the band's place lies further from it.
const ownShare = 49.0 / (49 + 9)

// Climate makes a band's climate from the region. A band without elevation
// limits takes the mean elevation of the stations.
func (r *Region) Climate(b *catalog.Band) *Climate {
	lat, a := b.Latitude.Get()
	lon, c := b.Longitude.Get()
	low, lowKnown := b.Low.Get()
	high, highKnown := b.High.Get()
	if !lowKnown {
		low = high
	}
	if !highKnown {
		high = low
	}
	if !lowKnown && !highKnown {
		for _, s := range r.Stations {
			low += s.site.low / quantity.Metres(len(r.Stations))
		}
		high = low
	}
	pos, _ := b.Position.Get()
	declared, given := declaredOffset(b.Offset, b.Position)
	at := site{lat, lon, a && c, low, high, pos}
	if !at.placed {
		at = r.placeAmongAlike(at)
	}
	return r.climateAt(b, at, declared, given)
}

// placeAmongAlike puts a band without coordinates in the middle of the stations
// that stand on ground like it; without such a station it stays unplaced.
func (r *Region) placeAmongAlike(at site) site {
	var lat, east, n, first float64
	for _, s := range r.Stations {
		if s.site.placed && alike(at, s.site) {
			if n == 0 {
				first = s.site.longitude
			}
			lat, east, n = lat+s.site.latitude, east+eastOf(s.site.longitude, first), n+1
		}
	}
	if n > 0 {
		at.latitude, at.longitude, at.placed = lat/n, eastOf(first+east/n, 0), true
	}
	return at
}

// eastOf is how many degrees a longitude lies east of another, -180 to 180, the shorter
// way round: 179 W lies 2 degrees east of 179 E.
func eastOf(longitude, other float64) float64 { return math.Remainder(longitude-other, 360) }

func (r *Region) climateAt(b *catalog.Band, at site, declared quantity.Kelvins, given bool) *Climate {
	c := &Climate{Band: b, Region: r, site: at, declared: declared, given: given, weights: make([]float64, len(r.Stations))}
	sites := make([]site, len(r.Stations))
	own := make([]float64, len(r.Stations))
	var sum, ownSum, nearest float64
	for i, s := range r.Stations {
		sites[i] = s.site
		km, known := distance(at, s.site)
		if alike(at, s.site) && (known || len(r.Stations) == 1) {
			own[i] = math.Exp(-km / siteReach)
			nearest = max(nearest, own[i])
			ownSum += own[i]
		}
		if !known {
			km = weightReach // as good as any other in the region
		}
		c.weights[i] = math.Exp(-km / weightReach)
		sum += c.weights[i]
	}
	c.ownShare = ownShare * nearest
	for i := range c.weights {
		c.weights[i] *= (1 - c.ownShare) / sum
		if ownSum > 0 {
			c.weights[i] += c.ownShare * own[i] / ownSum
		}
	}
	for _, e := range []record.Event{record.Last, record.First} {
		c.offsets[e] = declared
		if !given {
			c.offsets[e] += krige(at, sites, r.beyond(r.offsets[e]))
		}
	}
	// Winter's coldest nights come with wind that stirs the hollows: only what the
	// stations' own winters show is carried over, never a declared offset.
	c.winter = krige(at, sites, kelvins(r.winters))
	c.kept = newKeeping()
	return c
}

// beyond is each station's offset less what is declared for it.
func (r *Region) beyond(offsets []quantity.Kelvins) []float64 {
	out := make([]float64, len(offsets))
	for i, o := range offsets {
		out[i] = float64(o - r.Stations[i].declared)
	}
	return out
}

func kelvins(v []quantity.Kelvins) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = float64(v[i])
	}
	return out
}

// Elevation is the height a date is worked out for: half-and-half dates at the
// band's middle, careful dates at its colder edge. Where it gets warmer with
// height the colder edge is the lower one.
func (c *Climate) Elevation(e record.Event, odds quantity.Odds) quantity.Metres {
	if odds >= quantity.Half {
		return (c.site.low + c.site.high) / 2
	}
	if c.Region.Lapse[e] < 0 {
		return c.site.low
	}
	return c.site.high
}

// Offset is the band's position offset for an event and whether the publisher
// gave it; otherwise it is an estimate from the stations and the position.
func (c *Climate) Offset(e record.Event) (o quantity.Kelvins, given bool) {
	return c.offsets[e], c.given
}

// StationOffset is a station's offset from the lapse line and whether the
// publisher gave it.
func (c *Climate) StationOffset(e record.Event, station int) (o quantity.Kelvins, given bool) {
	return c.Region.offsets[e][station], c.Region.Stations[station].given
}

// Weight is a station's share in the band's dates, 0 to 1.
func (c *Climate) Weight(station int) float64 { return c.weights[station] }

// OwnStation says whether a station stands in the band itself.
func (c *Climate) OwnStation(station int) bool {
	return alike(c.site, c.Region.Stations[station].site) && c.ownShare > 0
}

// Shift is what lies between a station and the band for minima.
func (c *Climate) Shift(e record.Event, odds quantity.Odds, station int) Shift {
	return Shift{
		Lapse:            c.Region.Lapse[e],
		BandElevation:    c.Elevation(e, odds),
		StationElevation: c.Region.Stations[station].site.low,
		BandOffset:       c.offsets[e],
		StationOffset:    c.Region.offsets[e][station],
	}
}

// meanShift is the same for daily means, of which soil temperature is made: the
// lapse halfway between those of minima and maxima, and half the offsets, which
// are a matter of the night.
func (c *Climate) meanShift(odds quantity.Odds, station int) Shift {
	s := c.Shift(record.Last, odds, station)
	s.Lapse = (s.Lapse + c.Region.MaxLapse) / 2
	s.BandOffset /= 2
	s.StationOffset /= 2
	return s
}

// dayShift is the same for maxima, which have their own lapse and no offsets: cold air
// drains by night.
func (c *Climate) dayShift(odds quantity.Odds, station int) Shift {
	s := c.Shift(record.Last, odds, station)
	s.Lapse, s.BandOffset, s.StationOffset = c.Region.MaxLapse, 0, 0
	return s
}

// winterShift is the same for the mean annual extreme minimum, at mid height.
func (c *Climate) winterShift(station int) Shift {
	return Shift{
		Lapse:            c.Region.WinterLapse,
		BandElevation:    (c.site.low + c.site.high) / 2,
		StationElevation: c.Region.Stations[station].site.low,
		BandOffset:       c.winter,
		StationOffset:    c.Region.winters[station],
	}
}

// Latitude is the band's latitude in degrees, else the mean of the stations that
// have one; false where nobody gave any.
func (c *Climate) Latitude() (float64, bool) {
	if c.site.placed {
		return c.site.latitude, true
	}
	sum, n := 0.0, 0.0
	for _, s := range c.Region.Stations {
		if s.site.placed {
			sum, n = sum+s.site.latitude, n+1
		}
	}
	if n == 0 {
		return 0, false
	}
	return sum / n, true
}
