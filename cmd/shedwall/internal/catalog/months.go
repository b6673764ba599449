package catalog

import "math/bits"

// Months is a set of calendar months, January = 1 to December = 12. As a figure
// (figure.Of[Months]) three states are told apart: blank or unknown = nobody said;
// known and empty = declared none; known = these months.
type Months uint16

// MonthSet is the set of the months named, each 1 to 12; others are left out.
func MonthSet(months ...int) Months {
	var m Months
	for _, n := range months {
		if n >= 1 && n <= 12 {
			m |= 1 << n
		}
	}
	return m
}

// MonthRange is the set from one month to another, both in it, over the New Year
// where to comes before from.
func MonthRange(from, to int) Months {
	var m Months
	for n := from; ; n = n%12 + 1 {
		m |= MonthSet(n)
		if n == to || n < 1 || n > 12 || to < 1 || to > 12 {
			return m
		}
	}
}

// Has says whether a month, 1 to 12, is in the set.
func (m Months) Has(month int) bool { return month >= 1 && month <= 12 && m&(1<<month) != 0 }

// List is the months in the order of the calendar.
func (m Months) List() []int {
	var out []int
	for n := 1; n <= 12; n++ {
		if m.Has(n) {
			out = append(out, n)
		}
	}
	return out
}

// Count is how many months are in the set.
func (m Months) Count() int { return bits.OnesCount16(uint16(m)) }

// Spans is the set as runs from-to in the order of the year, a run over the New
// Year kept whole: {11, 12, 1, 5} is 5-5, 11-1. All twelve are 1-12.
func (m Months) Spans() [][2]int {
	if m.Count() == 12 {
		return [][2]int{{1, 12}}
	}
	var out [][2]int
	for n := 1; n <= 12; n++ {
		before := n - 1
		if n == 1 {
			before = 12
		}
		if !m.Has(n) || m.Has(before) {
			continue
		}
		to := n
		for m.Has(to%12 + 1) {
			to = to%12 + 1
		}
		out = append(out, [2]int{n, to})
	}
	return out
}

// SnowRule is what a cover asks for when snow comes.
type SnowRule uint8

// SnowSweep: cleared while it snows; SnowTakeDown: off before it snows, for its frame
// is not made to bear snow; SnowLies: it lies flat and snow on it does no harm.
const (
	SnowSweep SnowRule = iota
	SnowTakeDown
	SnowLies
)

// SnowRules is every rule with the word used in tables.
var SnowRules = map[string]SnowRule{"sweep": SnowSweep, "take_down": SnowTakeDown, "lies": SnowLies}

func (r SnowRule) String() string { return [...]string{"sweep", "take_down", "lies"}[r] }

// HailRule is what hail does to a cover.
type HailRule uint8

// HailHolds: it stood hail by its source; HailBreaks: hail breaks or tears it, so it
// is not relied on in hail months.
const (
	HailHolds HailRule = iota
	HailBreaks
)

// HailRules is every rule with the word used in tables.
var HailRules = map[string]HailRule{"holds": HailHolds, "breaks": HailBreaks}

func (r HailRule) String() string { return [...]string{"holds", "breaks"}[r] }
