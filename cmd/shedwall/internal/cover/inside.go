package cover

import "shedwall/cmd/shedwall/internal/quantity"

// LowestInside tells how cold a house gets inside on a night as cold as asked outside, when
// the days before it were as much warmer than their nights as in w: the lowest of the
// nights after dull, half sunny and clear days. A heater gives what its watts allow.
func (h House) LowestInside(w Weather) func(outside quantity.Celsius) quantity.Celsius {
	day := h.daylight(w)
	return func(outside quantity.Celsius) quantity.Celsius {
		colder := outside.Minus(w.Min)
		v := w
		v.Min = outside
		for k := range v.Days {
			v.Days[k].Max = v.Days[k].Max.Plus(colder)
		}
		lowest := quantity.Celsius(0)
		for k, n := range h.nights(v, day) {
			if k == 0 || n.Min < lowest {
				lowest = n.Min
			}
		}
		return lowest
	}
}
