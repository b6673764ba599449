package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// curveOf is the mean of a daily series of the station for each slot of the season
// year, over the years used, smoothed over two weeks: of soil at sowing depth, what days
// to emergence are reckoned from. NaN where the series has nothing. 29 February takes the
// mean of its neighbours.
func (s *Station) curveOf(values []quantity.Hundredths, h quantity.Hemisphere) []float64 {
	sum, n := make([]float64, quantity.SlotsPerYear), make([]float64, quantity.SlotsPerYear)
	from := max(0, int(quantity.DayOf(s.First, 1, 1)-s.Record.Start))
	after := min(len(values), int(quantity.DayOf(s.Last+1, 1, 1)-s.Record.Start))
	for i := from; i < after; i++ {
		if v := values[i]; v.Known() {
			_, slot := h.SeasonOf(s.Record.Start + quantity.Day(i))
			sum[slot] += float64(v.Celsius())
			n[slot]++
		}
	}
	out := make([]float64, quantity.SlotsPerYear)
	const reach = 7
	for slot := range out {
		var t, have float64
		for k := -reach; k <= reach; k++ {
			j := (slot + k + quantity.SlotsPerYear) % quantity.SlotsPerYear
			if n[j] > 0 {
				t, have = t+sum[j]/n[j], have+1
			}
		}
		out[slot] = math.NaN()
		if have > 0 {
			out[slot] = t / have
		}
	}
	return out
}

// Soil is the band's mean soil temperature at sowing depth by slot of the season
// year, carried over by the shift of daily means and blended by weight; nil where
// no station of the region has maxima.
func (c *Climate) Soil(odds quantity.Odds) []float64 {
	return c.blended(func(s *Station) []float64 { return s.soil }, func(i int) Shift { return c.meanShift(odds, i) })
}

// Days is the band's mean minimum and maximum by slot of the season year, for degree days;
// both nil where the stations do not tell both.
func (c *Climate) Days(odds quantity.Odds) (low, high []float64) {
	low = c.blended(func(s *Station) []float64 { return s.low }, func(i int) Shift { return c.Shift(record.Last, odds, i) })
	high = c.blended(func(s *Station) []float64 { return s.high }, func(i int) Shift { return c.dayShift(odds, i) })
	if low == nil || high == nil {
		return nil, nil
	}
	return low, high
}

// blended is a yearly curve of the stations carried to the band and blended by weight; nil
// where a slot is known of none.
func (c *Climate) blended(curve func(*Station) []float64, shiftOf func(station int) Shift) []float64 {
	out := make([]float64, quantity.SlotsPerYear)
	weight := make([]float64, quantity.SlotsPerYear)
	for i, s := range c.Region.Stations {
		warmer := shiftOf(i).Difference()
		for slot, t := range curve(s) {
			if !math.IsNaN(t) {
				out[slot] += c.weights[i] * float64(quantity.Celsius(t).Plus(warmer))
				weight[slot] += c.weights[i]
			}
		}
	}
	for slot := range out {
		if weight[slot] == 0 {
			return nil
		}
		out[slot] /= weight[slot]
	}
	return out
}
