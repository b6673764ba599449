package cover

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Ends is the first and the last marked slot from one slot to before another, of each
// season year; a year without one has infinity for the first and from for the last.
func (m *Marks) Ends(from, before quantity.Slot) (firsts, lasts []float64) {
	for i := range m.years.min {
		first, last := math.Inf(1), float64(from)
		for s := max(from, 0); s < min(before, slots); s++ {
			if m.word(int(s / 64))[i]&(1<<(s%64)) == 0 {
				continue
			}
			if math.IsInf(first, 1) {
				first = float64(s)
			}
			last = float64(s)
		}
		firsts, lasts = append(firsts, first), append(lasts, last)
	}
	return firsts, lasts
}

// Share is in what share of the years a slot is marked, 0 to 1; 0 without years.
func (m *Marks) Share(s quantity.Slot) float64 {
	if len(m.years.min) == 0 || s < 0 || s >= slots {
		return 0
	}
	n := 0
	for _, word := range m.word(int(s / 64)) {
		if word&(1<<(s%64)) != 0 {
			n++
		}
	}
	return float64(n) / float64(len(m.years.min))
}
