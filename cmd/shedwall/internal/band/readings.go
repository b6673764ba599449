package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Reading is a garden's own low of one night. Day is the day on whose morning it was
// read, as stations date theirs.
type Reading struct {
	Day quantity.Day
	Low quantity.Celsius
}

// ReadingShare is how much of what a garden's readings differ by is taken over into its
// offset. The rest is chance: one spring is not another and ten nights are few. Measured
// on 17 real stations taken as gardens: raw differences against one station made dates
// worse, 0.65 of those against the stations' blend made the last freeze's half-and-half
// date 1.5 days better. evenings is how many were read in one spring or fall (all told
// where there are several), seasons in how many of them, stations how many they are
// compared with. Below five evenings nothing is taken over.
func ReadingShare(evenings, seasons, stations int) float64 {
	switch {
	case evenings < 5:
		return 0
	case evenings < 10, stations < 2:
		return 0.5
	case seasons > 1:
		return 0.8
	}
	return 0.65
}

// Nights says how cold the nights of a band were: what its stations read, carried to
// the middle of the band and blended by weight. Stations are carried by the lapse rate
// and offsets of the night's month: a hollow in March is not one in May. It must stay with
// one goroutine.
type Nights struct {
	climate *Climate
	months  [13][]Shift // by month 1-12 and station; nil = not yet needed
}

// Nights prepares the question.
func (c *Climate) Nights() *Nights { return &Nights{climate: c} }

// Low is the low of the night that ends on the morning of a day; false where no station
// read it.
func (n *Nights) Low(day quantity.Day) (quantity.Celsius, bool) {
	_, month, _ := day.Date()
	if n.months[month] == nil {
		n.months[month] = n.climate.monthShifts(month)
	}
	var low, weight float64
	for i, s := range n.climate.Region.Stations {
		if v := s.Record.MinOn(day); v.Known() {
			low += n.climate.weights[i] * float64(n.months[month][i].ToBand(v.Celsius()))
			weight += n.climate.weights[i]
		}
	}
	return quantity.Celsius(low / weight), weight > 0
}

// Unlike is how much warmer (K) a garden's readings are on average than Low says of the
// same nights, and how many nights could be compared; 0 for none.
func (n *Nights) Unlike(readings []Reading) (by quantity.Kelvins, compared int) {
	for _, r := range readings {
		if low, ok := n.Low(r.Day); ok {
			by += r.Low.Minus(low)
			compared++
		}
	}
	return by / quantity.Kelvins(max(1, compared)), compared
}

// monthShifts is what lies between each station and the middle of the band in a month
// (1-12): lapse and offsets from that month's minima as fit makes a season's.
func (c *Climate) monthShifts(month int) []Shift {
	r := c.Region
	means := func(s *Station) []float64 {
		type key struct{ month, first, last int }
		return s.Keep(key{month, r.first, r.last}, func() any { return s.monthMeans(month, r.first, r.last) }).([]float64)
	}
	lapse, offsets := line(r.Stations, means, func(s *Station) (quantity.Kelvins, bool) { return s.declared, s.given }, DefaultLapse)
	sites := make([]site, len(r.Stations))
	for i, s := range r.Stations {
		sites[i] = s.site
	}
	own := c.declared
	if !c.given {
		own += krige(c.site, sites, r.beyond(offsets))
	}
	out := make([]Shift, len(r.Stations))
	for i, s := range r.Stations {
		out[i] = Shift{
			Lapse: lapse, BandElevation: (c.site.low + c.site.high) / 2, StationElevation: s.site.low,
			BandOffset: own, StationOffset: offsets[i],
		}
	}
	return out
}

// monthMeans is the station's minima of a month (1-12) in each calendar year from first to last,
// NaN where they are not known.
func (s *Station) monthMeans(month, first, last int) []float64 {
	if s.Table != nil {
		return s.normalMeans(false, month, month, first, last)
	}
	out := frost.Minima(s.Record).MonthMeans(month, month, frost.Years{From: first, To: last})
	for k := range out {
		if y := first + k; y < s.First || y > s.Last {
			out[k] = math.NaN()
		}
	}
	return out
}

// Warmer is the climate of a garden that is so much warmer (colder where negative) in
// an event's season than its band: what its readings say, times ReadingShare. Few questions
// are asked of it, so that it has no curves.
func (c *Climate) Warmer(e record.Event, by quantity.Kelvins) *Climate {
	k := *c
	k.offsets[e] += by
	k.kept = c.kept.beside()
	return &k
}
