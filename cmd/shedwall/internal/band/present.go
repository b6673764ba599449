package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// The present climate. Thirty plain years promise too many freezes where nights
// have grown warmer, and too few where they have grown colder. Half the fitted
// trend of the season's mean minimum, as a shift of the threshold in each past year,
// up to the record's last year and by at most 1 K, kept the promise best (rolling
// back-test on 33 stations, one year ahead: promised 10 %, passed in 9-12 %;
// promised 50 %, passed in 45-49 %; plain years 7-11 and 41-45).
const (
	trendShare                  = 0.5
	mostDrift  quantity.Kelvins = 1
)

// drift is how much the threshold of an event is moved in each calendar year first-
// last of a station (K): minus trendShare times the trend times the years from
// then to last. means are the season's mean minima of the same years, NaN where not
// known; the trend is their least-squares slope, none with fewer than frost.FullYears
// of them (tested with 20, 30 and 40).
func drift(means []float64) []quantity.Kelvins {
	out := make([]quantity.Kelvins, len(means))
	slope, ok := trend(means)
	if !ok {
		return out
	}
	for k := range out {
		d := quantity.Kelvins(-trendShare * slope * float64(len(means)-1-k))
		out[k] = max(-mostDrift, min(mostDrift, d))
	}
	return out
}

// trend is the least-squares slope of yearly values (K a year).
func trend(values []float64) (slope float64, ok bool) {
	var n, sx, sy float64
	for k, v := range values {
		if !math.IsNaN(v) {
			n, sx, sy = n+1, sx+float64(k), sy+v
		}
	}
	if n < frost.FullYears {
		return 0, false
	}
	var sxx, sxy float64
	for k, v := range values {
		if !math.IsNaN(v) {
			dx := float64(k) - sx/n
			sxx, sxy = sxx+dx*dx, sxy+dx*(v-sy/n)
		}
	}
	return sxy / sxx, true
}

// trendMonths are the months whose mean minimum tells the trend: spring March-May,
// fall September-November, half a year later in the south.
func trendMonths(e record.Event, h quantity.Hemisphere) (from, to int) {
	switch {
	case e == record.Last && h == quantity.North:
		return 3, 5
	case e == record.Last:
		return 9, 11
	case h == quantity.North:
		return 9, 11
	}
	return 3, 5
}

// Trend is the trend of a station's mean minima in an event's season (K for each
// ten years), over the years used; false with too few for one.
func (r *Region) Trend(station int, e record.Event) (perDecade quantity.Kelvins, ok bool) {
	s := r.Stations[station]
	slope, ok := trend(s.trendMeans[e])
	return quantity.Kelvins(10 * slope), ok
}

// Date is when the worst of several gates lets go in spring (Last) or when the
// first closes in fall (First), at odds of harm, in the present climate: see
// Plain and Shifted. Half-and-half dates are the shifted ones. Careful dates are
// the safer of plain and shifted, later in spring and earlier in fall. With
// Region.Plain set, all are plain.
func (c *Climate) Date(e record.Event, odds quantity.Odds, gates ...Gate) Answer {
	if c.Region.Plain {
		return c.date(e, odds, false, gates)
	}
	shifted := c.date(e, odds, true, gates)
	if odds >= quantity.Half {
		return shifted
	}
	return safer(c.date(e, odds, false, gates), shifted, e)
}

// DateBothWays is the plain date of the years used and the one shifted to the
// present climate, for pages that show how much the trend matters.
func (c *Climate) DateBothWays(e record.Event, odds quantity.Odds, gates ...Gate) (plain, shifted Answer) {
	return c.date(e, odds, false, gates), c.date(e, odds, true, gates)
}

// safer is the answer by which fewer plants are lost: no date before a date, a date
// before no need of one, the later date in spring, the earlier in fall. The first
// where they are alike.
func safer(a, b Answer, e record.Event) Answer {
	rank := func(x Answer) int {
		return [...]int{NotKnown: 4, AnyMonth: 3, Never: 2, Dated: 1, NoneNeeded: 0}[x.State]
	}
	switch {
	case rank(a) != rank(b):
		if rank(b) > rank(a) {
			return b
		}
		return a
	case a.State == Dated && (e == record.Last && b.Exact > a.Exact || e == record.First && b.Exact < a.Exact):
		return b
	}
	return a
}
