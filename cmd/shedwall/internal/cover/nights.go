package cover

import (
	"math"
	"math/bits"
	"slices"
	"sort"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Years is a daily record laid out by season year and slot, for counting nights and
// days between two slots in each year.
type Years struct {
	min, max [][slots]quantity.Hundredths
	coldest  [words][]quantity.Hundredths // by year: the lowest minimum; above all thresholds where none is known
	unknown  [words][]uint64              // by year: days without a minimum
	none     [words][]uint64              // and those that there are not
	lacking  [words]bool                  // some are unknown
}

// A season year has 366 slots; one bit each.
const (
	slots = quantity.SlotsPerYear
	words = (slots + 63) / 64
)

// Marks says which slots of each season year of a Years are meant. They are worked out as
// they are asked for, 64 slots of every year at a time, so one goroutine at a time may
// count with them.
type Marks struct {
	years *Years
	at    []quantity.Hundredths // by year: marked at or below
	warm  bool                  // ... at or above the first, of maxima
	bits  [words][]uint64       // by year; nil = not worked out yet
}

// Lay lays out the given season years of a record. The slot of 29 February is unknown
// in common years and counts for nothing. The record is not changed.
func Lay(d *record.Daily, h quantity.Hemisphere, seasons []int) *Years {
	y := &Years{min: make([][slots]quantity.Hundredths, len(seasons)), max: make([][slots]quantity.Hundredths, len(seasons))}
	for w := range words {
		y.unknown[w], y.none[w] = make([]uint64, len(seasons)), make([]uint64, len(seasons))
		y.coldest[w] = slices.Repeat([]quantity.Hundredths{math.MaxInt16}, len(seasons))
	}
	leap := h.SlotOf(quantity.MonthDay{Month: 2, Day: 29})
	for i, season := range seasons {
		start := h.SeasonStart(season)
		common := h.SeasonStart(season+1)-start < slots
		day := start
		for s := range quantity.Slot(slots) {
			y.min[i][s], y.max[i][s] = quantity.Missing, quantity.Missing
			if common && s == leap {
				y.none[s/64][i] |= 1 << (s % 64)
				continue // no such day: nothing is missing
			}
			y.min[i][s], y.max[i][s] = d.MinOn(day), d.MaxOn(day)
			if !y.min[i][s].Known() {
				y.unknown[s/64][i] |= 1 << (s % 64)
				y.lacking[s/64] = true
			} else {
				y.coldest[s/64][i] = min(y.coldest[s/64][i], y.min[i][s])
			}
			day++
		}
	}
	return y
}

// Cold marks the nights whose minimum is at or below each year's threshold. Keep the
// marks for every question about the same thresholds.
func (y *Years) Cold(at []quantity.Hundredths) *Marks { return &Marks{years: y, at: at} }

// Warm marks the days whose maximum is at or above a threshold.
func (y *Years) Warm(at quantity.Hundredths) *Marks {
	return &Marks{years: y, at: []quantity.Hundredths{at}, warm: true}
}

// word is the marks of 64 slots, by year.
func (m *Marks) word(w int) []uint64 {
	if m.bits[w] == nil {
		m.bits[w] = m.work(w)
	}
	return m.bits[w]
}

func (m *Marks) work(w int) []uint64 {
	y := m.years
	out := make([]uint64, len(y.min))
	for i := range out {
		from, to := w*64, min(w*64+64, slots)
		switch {
		case m.warm:
			out[i] = warmWord(y.max[i][from:to], m.at[0])
		case y.coldest[w][i] <= m.at[i]: // as hardly in summer; Missing compares colder than all
			out[i] = coldWord(y.min[i][from:to], m.at[i]) &^ (y.unknown[w][i] | y.none[w][i])
		}
	}
	return out
}

// coldWord is a bit for each value, the lowest for the first: set where that is at or below
// a threshold, told by the sign of a difference.
func coldWord(row []quantity.Hundredths, at quantity.Hundredths) (word uint64) {
	above := int32(at) + 1
	for _, v := range row {
		word = word>>1 | uint64(uint32(int32(v)-above)>>31)<<63
	}
	return word >> (64 - len(row))
}

func warmWord(row []quantity.Hundredths, at quantity.Hundredths) (word uint64) {
	for k, v := range row {
		if v.Known() && v >= at {
			word |= 1 << k
		}
	}
	return word
}

// Share says how many of a stretch's nights a year may lack and still be counted.
const unknownShare = 0.1

// NotCounted stands for a year of which too many nights are missing.
const NotCounted = -1

// Counts is how many marked slots lie from one slot to another, both included, in
// each year; only those that are also marked in and, where and is not nil. A year that
// lacks more than a tenth of the stretch has NotCounted. What lies outside slots 0 to
// 365 is left out. The result is in dst, from its beginning.
func (y *Years) Counts(dst []int, m, and *Marks, from, to quantity.Slot) []int {
	dst = dst[:0]
	for range y.min {
		dst = append(dst, 0)
	}
	if from, to = max(from, 0), min(to, slots-1); to < from {
		return dst
	}
	first, last := int(from/64), int(to/64)
	maskOf := func(w int) uint64 {
		mask := ^uint64(0)
		if w == first {
			mask &= ^uint64(0) << (from % 64)
		}
		if w == last {
			mask &= ^uint64(0) >> (63 - to%64)
		}
		return mask
	}
	lacking := false
	for w := first; w <= last; w++ {
		lacking = lacking || y.lacking[w]
		mask, marked := maskOf(w), m.word(w)
		if and == nil {
			for i, word := range marked {
				dst[i] += bits.OnesCount64(word & mask)
			}
			continue
		}
		also := and.word(w)
		for i, word := range marked {
			dst[i] += bits.OnesCount64(word & also[i] & mask)
		}
	}
	if !lacking {
		return dst
	}
	allowed := int(unknownShare * float64(to-from+1))
	for i := range dst {
		lacks := 0
		for w := first; w <= last; w++ {
			lacks += bits.OnesCount64(y.unknown[w][i] & maskOf(w))
		}
		if lacks > allowed {
			dst[i] = NotCounted
		}
	}
	return dst
}

// Price is how many nights or days something takes in a middling year and in a bad
// one, which is worse than nine years in ten.
type Price struct{ Middling, Bad float64 }

// PriceOf is the price by yearly counts, at Hazen's positions; false with fewer than
// ten counted years. The counts may be put in another order.
func PriceOf(counts []int) (Price, bool) {
	r := runOf(counts)
	if r.n < 10 {
		return Price{}, false
	}
	middling := r.at(0.5)
	return Price{middling, r.at(0.9)}, true
}

// run walks up some thirty counts in order, thousands of times: by how often each comes
// where all are small, else sorted.
type run struct {
	often  [64]uint8
	sorted []int // nil = by how often
	n      int
	value  int // the value at rank passed-1, and how many ranks were passed
	passed int
}

func runOf(counts []int) (r run) {
	r.value = -1
	for _, v := range counts {
		switch {
		case v == NotCounted:
			continue
		case v >= len(r.often) || r.n == math.MaxUint8:
			slices.Sort(counts) // NotCounted comes first
			r.sorted = counts[sort.SearchInts(counts, 0):]
			r.n = len(r.sorted)
			return r
		}
		r.often[v]++
		r.n++
	}
	return r
}

// rank is the value at a rank from 0, no lower than that asked before.
func (r *run) rank(i int) int {
	if r.sorted != nil {
		return r.sorted[i]
	}
	for r.passed <= i {
		r.value++
		r.passed += int(r.often[r.value])
	}
	return r.value
}

// at is the value that a share of the years does not pass, linear between two.
func (r *run) at(share float64) float64 {
	rank := min(max(share*float64(r.n)-0.5, 0), float64(r.n-1))
	i := int(rank)
	if i+1 >= r.n {
		return float64(r.rank(r.n - 1))
	}
	below := r.rank(i)
	return float64(below) + float64(r.rank(i+1)-below)*(rank-float64(i))
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
