package cover

import "shedwall/cmd/shedwall/internal/quantity"

// LowestInside is how cold a house gets inside on a night as cold as outside, when the
// days before it were as much warmer than their nights as in w: the lowest of the nights
// after dull, half sunny and clear days. A heater gives what its watts allow.
func (h House) LowestInside(w Weather, outside quantity.Celsius) quantity.Celsius {
	colder := outside.Minus(w.Min)
	w.Min = outside
	for k := range w.Days {
		w.Days[k].Max = w.Days[k].Max.Plus(colder)
	}
	lowest := quantity.Celsius(0)
	for k, n := range h.nights(w) {
		if k == 0 || n.Min < lowest {
			lowest = n.Min
		}
	}
	return lowest
}
