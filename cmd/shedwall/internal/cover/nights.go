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
	min     [][fours]fourDays
	max     [][slots]quantity.Hundredths
	coldest [words][]quantity.Hundredths // by year: the lowest minimum; above all thresholds where none is known
	unknown [words][]uint64              // by year: days without a minimum
	lacking [words]bool                  // some are unknown
}

// fourDays is the minima of four days, the first in the lowest 16 bits, so that a threshold is
// compared with all at once: hundredths of a degree above lowest, noMinimum for a day without.
type fourDays uint64

const (
	lowest    quantity.Hundredths = -1 << 14 // -163.84 C
	noMinimum fourDays            = 1<<15 - 1
	eachDay   fourDays            = 1 | 1<<16 | 1<<32 | 1<<48
)

// above is hundredths above lowest, below noMinimum; nothing that is measured is cut.
func above(t quantity.Hundredths) fourDays {
	return fourDays(int32(min(max(t, lowest), -lowest-2)) - int32(lowest))
}

// atOrBelow is four bits, the lowest of the first day: set where its minimum is at or below
// a threshold.
func (d fourDays) atOrBelow(at fourDays) uint64 {
	over := at*eachDay | eachDay<<15 // above each threshold a bit that is left where the difference is not negative
	left := (over - d) >> 15 & eachDay
	return uint64(left * (1<<48 | 1<<33 | 1<<18 | 1<<3) >> 48 & 15) // the four side by side
}

// A season year has 366 slots; one bit each.
const (
	slots = quantity.SlotsPerYear
	words = (slots + 63) / 64
	fours = (slots + 3) / 4
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
	y := &Years{min: make([][fours]fourDays, len(seasons)), max: make([][slots]quantity.Hundredths, len(seasons))}
	for w := range words {
		y.unknown[w] = make([]uint64, len(seasons))
		y.coldest[w] = slices.Repeat([]quantity.Hundredths{math.MaxInt16}, len(seasons))
	}
	leap := h.SlotOf(quantity.MonthDay{Month: 2, Day: 29})
	for i, season := range seasons {
		start := h.SeasonStart(season)
		common := h.SeasonStart(season+1)-start < slots
		day := start
		for k := range y.min[i] {
			y.min[i][k] = noMinimum * eachDay
		}
		for s := range quantity.Slot(slots) {
			y.max[i][s] = quantity.Missing
			if common && s == leap {
				continue // no such day: nothing is missing
			}
			y.max[i][s] = d.MaxOn(day)
			if low := d.MinOn(day); low.Known() {
				y.min[i][s/4] ^= (noMinimum ^ above(low)) << (16 * (s % 4))
				y.coldest[s/64][i] = min(y.coldest[s/64][i], low)
			} else {
				y.unknown[s/64][i] |= 1 << (s % 64)
				y.lacking[s/64] = true
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
		switch {
		case m.warm:
			out[i] = warmWord(y.max[i][w*64:min(w*64+64, slots)], m.at[0])
		case y.coldest[w][i] <= m.at[i]: // as hardly in summer
			at := above(m.at[i])
			for k, days := range y.min[i][w*16 : min(w*16+16, fours)] {
				out[i] |= days.atOrBelow(at) << (4 * k)
			}
		}
	}
	return out
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

// Stretch is the marked slots from one to another, both included; with And, only those that
// are marked there too. What lies outside slots 0 to 365 is left out.
type Stretch struct {
	Marks, And *Marks
	From, To   quantity.Slot
}

// Counts is how many slots stretches have together in each year. A year that lacks more than
// a tenth of one of them has NotCounted. The result is in dst, from its beginning.
func (y *Years) Counts(dst []int, stretches ...Stretch) []int {
	dst = slices.Grow(dst[:0], len(y.min))[:len(y.min)]
	clear(dst)
	for _, s := range stretches {
		first, last := s.words()
		for w := first; w <= last; w++ {
			s.count(dst, w)
		}
	}
	for _, s := range stretches {
		first, last := s.words()
		for w := first; w <= last; w++ {
			if y.lacking[w] {
				y.leaveOut(dst, s)
				break
			}
		}
	}
	return dst
}

// words is the first and the last word in which a stretch has slots; none where the last is
// before the first.
func (s *Stretch) words() (first, last int) {
	from, to := max(s.From, 0), min(s.To, slots-1)
	if to < from {
		return 0, -1
	}
	return int(from / 64), int(to / 64)
}

// mask is the bits of a stretch in one of its words.
func (s *Stretch) mask(w int) uint64 {
	before, after := max(0, int(s.From)-64*w), max(0, 64*w+63-int(s.To))
	return ^uint64(0) << before & (^uint64(0) >> after)
}

// count adds the slots in one word.
func (s *Stretch) count(dst []int, w int) {
	mask, marked := s.mask(w), s.Marks.word(w)
	if s.And == nil {
		for i, word := range marked[:len(dst)] {
			dst[i] += bits.OnesCount64(word & mask)
		}
		return
	}
	also := s.And.word(w)
	for i, word := range marked {
		dst[i] += bits.OnesCount64(word & also[i] & mask)
	}
}

// leaveOut marks the years that lack too much of a stretch.
func (y *Years) leaveOut(dst []int, s Stretch) {
	first, last := s.words()
	allowed := int(unknownShare * float64(min(s.To, slots-1)-max(s.From, 0)+1))
	for i := range dst {
		lacks := 0
		for w := first; w <= last; w++ {
			if unknown := y.unknown[w][i]; unknown != 0 {
				lacks += bits.OnesCount64(unknown & s.mask(w))
			}
		}
		if lacks > allowed {
			dst[i] = NotCounted
		}
	}
}

// Price is how many nights or days something takes in a middling year and in a bad
// one, which is worse than nine years in ten.
type Price struct{ Middling, Bad float64 }

// PriceOf is the price by yearly counts, at Hazen's positions; false with fewer than
// ten counted years. The counts may be put in another order.
func PriceOf(counts []int) (Price, bool) {
	var r run
	r.fill(counts)
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

func (r *run) fill(counts []int) {
	r.value = -1
	for _, v := range counts {
		switch {
		case uint(v) < uint(len(r.often)) && len(counts) <= math.MaxUint8:
			r.often[v]++
			r.n++
		case v != NotCounted:
			slices.Sort(counts) // NotCounted comes first
			r.sorted = counts[sort.SearchInts(counts, 0):]
			r.n = len(r.sorted)
			return
		}
	}
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
