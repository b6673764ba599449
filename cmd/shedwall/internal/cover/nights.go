package cover

import (
	"math/bits"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Years is a daily record laid out by season year and slot, for counting nights and
// days between two slots in each year.
type Years struct {
	min, max [][slots]quantity.Hundredths
	unknown  Marks // days without a minimum
	none     Marks // and those that there are not
}

// A season year has 366 slots; one bit each.
const (
	slots = quantity.SlotsPerYear
	words = (slots + 63) / 64
)

// Marks says for each season year of a Years which slots are meant.
type Marks [][words]uint64

// Lay lays out the given season years of a record. The slot of 29 February is unknown
// in common years and counts for nothing. The record is not changed.
func Lay(d *record.Daily, h quantity.Hemisphere, seasons []int) *Years {
	y := &Years{
		min: make([][slots]quantity.Hundredths, len(seasons)), max: make([][slots]quantity.Hundredths, len(seasons)),
		unknown: make(Marks, len(seasons)), none: make(Marks, len(seasons)),
	}
	leap := h.SlotOf(quantity.MonthDay{Month: 2, Day: 29})
	for i, season := range seasons {
		start := h.SeasonStart(season)
		common := h.SeasonStart(season+1)-start < slots
		day := start
		for s := range quantity.Slot(slots) {
			y.min[i][s], y.max[i][s] = quantity.Missing, quantity.Missing
			if common && s == leap {
				y.none[i][s/64] |= 1 << (s % 64)
				continue // no such day: nothing is missing
			}
			y.min[i][s], y.max[i][s] = d.MinOn(day), d.MaxOn(day)
			if !y.min[i][s].Known() {
				y.unknown[i][s/64] |= 1 << (s % 64)
			}
			day++
		}
	}
	return y
}

// Cold marks the nights whose minimum is at or below each year's threshold. It takes
// some ten thousand comparisons: keep the marks for every question about the same
// thresholds.
func (y *Years) Cold(at []quantity.Hundredths) Marks {
	m := make(Marks, len(y.min))
	for i := range m {
		row, t := &y.min[i], at[i]
		for w := range m[i] {
			var word uint64
			for k, v := range row[w*64 : min(w*64+64, slots)] {
				cold := uint64(0)
				if v <= t {
					cold = 1
				}
				word |= cold << k
			}
			m[i][w] = word &^ (y.unknown[i][w] | y.none[i][w]) // missing compares colder than all
		}
	}
	return m
}

// Warm marks the days whose maximum is at or above a threshold.
func (y *Years) Warm(at quantity.Hundredths) Marks {
	m := make(Marks, len(y.max))
	for i := range m {
		for s, v := range y.max[i] {
			if v.Known() && v >= at {
				m[i][s/64] |= 1 << (s % 64)
			}
		}
	}
	return m
}

// Share says how many of a stretch's nights a year may lack and still be counted.
const unknownShare = 0.1

// NotCounted stands for a year of which too many nights are missing.
const NotCounted = -1

// Counts is how many marked slots lie from one slot to another, both included, in
// each year; only those that are also marked in and, where and is not nil. A year that
// lacks more than a tenth of the stretch has NotCounted. What lies outside slots 0 to
// 365 is left out. The result is in dst, from its beginning.
func (y *Years) Counts(dst []int, m, and Marks, from, to quantity.Slot) []int {
	dst = dst[:0]
	from, to = max(from, 0), min(to, slots-1)
	if to < from {
		for range m {
			dst = append(dst, 0)
		}
		return dst
	}
	var mask [words]uint64
	first, last := int(from/64), int(to/64)
	for w := first; w <= last; w++ {
		mask[w] = ^uint64(0)
	}
	mask[first] &= ^uint64(0) << (from % 64)
	mask[last] &= ^uint64(0) >> (63 - to%64)
	allowed := int(unknownShare * float64(to-from+1))
	for i := range m {
		n, lacks := 0, 0
		for w := first; w <= last; w++ {
			word := m[i][w] & mask[w]
			if and != nil {
				word &= and[i][w]
			}
			n += bits.OnesCount64(word)
			lacks += bits.OnesCount64(y.unknown[i][w] & mask[w])
		}
		if lacks > allowed {
			n = NotCounted
		}
		dst = append(dst, n)
	}
	return dst
}

// Price is how many nights or days something takes in a middling year and in a bad
// one, which is worse than nine years in ten.
type Price struct{ Middling, Bad float64 }

// PriceOf is the price by yearly counts, at Hazen's positions; false with fewer than
// ten counted years. The counts are put in order, those not counted first.
func PriceOf(counts []int) (Price, bool) {
	n := len(counts)
	for i, v := range counts {
		if v == NotCounted {
			n--
			counts[i], counts[len(counts)-1-n] = counts[len(counts)-1-n], v
		}
	}
	counts = counts[len(counts)-n:]
	if n < 10 {
		return Price{}, false
	}
	// Insertion: thirty small numbers, thousands of times.
	for i := 1; i < n; i++ {
		v, k := counts[i], i
		for ; k > 0 && counts[k-1] > v; k-- {
			counts[k] = counts[k-1]
		}
		counts[k] = v
	}
	at := func(share float64) float64 {
		rank := min(max(share*float64(n)-0.5, 0), float64(n-1))
		i := int(rank)
		if i+1 >= n {
			return float64(counts[n-1])
		}
		return float64(counts[i]) + float64(counts[i+1]-counts[i])*(rank-float64(i))
	}
	return Price{at(0.5), at(0.9)}, true
}

// Prudent is how far above the temperature that harms a night still asks for the
// cover, since nobody knows the evening before what the morning will bring.
const Prudent quantity.Kelvins = 2

// dayInside is by how much a shut cover is warmer than the air outside on the middle
// day: logged in a plain film tunnel, quarters 5, 8 and 13 K (polytunnel_uk).
const dayInside quantity.Kelvins = 8

// VentOutside is the maximum outside from which a cover must be opened by day, where
// its vent temperature is read inside.
func VentOutside(vent quantity.Celsius, inside bool) quantity.Celsius {
	if inside {
		return vent.Plus(-dayInside)
	}
	return vent
}
