package season

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Point is one column of an emergence table: days to emerge at a constant soil
// temperature; Days 0 = no seed emerged.
type Point struct {
	Soil quantity.Celsius
	Days float64
}

// Rate is the share of emergence done in a day at a soil temperature (1/days),
// the rate 1/days interpolated linearly between columns; 0 outside the table and
// where no seed emerged. Columns are ordered by temperature. Interpolating the rate
// and not the days, and never one base temperature: a single base misses by up to
// half at the cold end of the table (Harrington and Minges 1954)
// [source osu_harr].
func Rate(table []Point, soil quantity.Celsius) float64 {
	rate := func(p Point) float64 {
		if p.Days <= 0 {
			return 0
		}
		return 1 / p.Days
	}
	for i, p := range table {
		switch {
		case soil == p.Soil:
			return rate(p)
		case soil < p.Soil && i == 0:
			return 0
		case soil < p.Soil:
			q := table[i-1]
			share := float64((soil - q.Soil) / (p.Soil - q.Soil))
			return rate(q) + share*(rate(p)-rate(q))
		}
	}
	return 0
}

// Emergence is, for each slot of two season years, the slot on which a seed sown
// then emerges: the first by whose beginning the daily rates since sowing, that of
// the day of sowing included, sum to 1. At a constant temperature that is the
// table's days after sowing. soil is the mean soil temperature by slot of one season
// year, repeated. Slots sown too late to emerge within the two years, or in soil in
// which nothing emerges, have NotEmerged.
func Emergence(table []Point, soil []float64) []quantity.Slot {
	var rateRoom [quantity.SlotsPerYear]float64
	var sumRoom [2*quantity.SlotsPerYear + 1]float64
	rates := rateRoom[:0]
	for _, t := range soil {
		rates = append(rates, Rate(table, quantity.Celsius(t)))
	}
	sum, total := append(sumRoom[:0], 0), 0.0 // rates summed before each slot
	for range 2 {
		for _, r := range rates {
			total += r
			sum = append(sum, total)
		}
	}
	out := make([]quantity.Slot, 2*len(soil))
	end := 0
	for s, before := range sum[:len(out)] {
		for end < len(out) && sum[end]-before < 1-1e-9 { // at s itself it is 0
			end++
		}
		out[s] = quantity.Slot(end)
		if end == len(out) {
			out[s] = NotEmerged
		}
	}
	return out
}

// NotEmerged marks a sowing that never comes up.
const NotEmerged quantity.Slot = math.MaxInt32
