package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
)

// soilCurve is the station's mean soil temperature at sowing depth for each slot
// of the season year, over the years used, smoothed over two weeks: what days to
// emergence are reckoned from. NaN where the record has no maxima. 29 February
// takes the mean of its neighbours.
func (s *Station) soilCurve(h quantity.Hemisphere) []float64 {
	soil := soilOf(s.Record).Values
	sum, n := make([]float64, quantity.SlotsPerYear), make([]float64, quantity.SlotsPerYear)
	for i, v := range soil {
		d := s.Record.Start + quantity.Day(i)
		if y, _, _ := d.Date(); v.Known() && y >= s.First && y <= s.Last {
			_, slot := h.SeasonOf(d)
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
	out := make([]float64, quantity.SlotsPerYear)
	weight := make([]float64, quantity.SlotsPerYear)
	for i, s := range c.Region.Stations {
		shift := c.meanShift(odds, i)
		for slot, t := range s.soil {
			if !math.IsNaN(t) {
				out[slot] += c.weights[i] * float64(shift.ToBand(quantity.Celsius(t)))
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
