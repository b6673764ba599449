package band

import (
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Nearest is the station that counts most in the band's dates, the first of equals;
// -1 without a station. It is the one to compare a garden with.
func (c *Climate) Nearest() int {
	best := -1
	for i, w := range c.weights {
		if best < 0 || w > c.weights[best] {
			best = i
		}
	}
	return best
}

// AgainstStation is how much warmer (K; colder where negative) nights in the middle of
// the band are on average than at a station, in a month (1-12): the lapse rate and
// offsets of that month, as Nights uses them.
func (c *Climate) AgainstStation(station, month int) quantity.Kelvins {
	return c.monthShifts(month)[station].Difference()
}

// NightAgainstStation is the same for one night of spring or fall at the band's colder
// edge, the colder of the two seasons: on a still night height and position count, on a
// windy one the air is stirred and height alone does.
func (c *Climate) NightAgainstStation(station int) (still, windy quantity.Kelvins) {
	for _, e := range []record.Event{record.Last, record.First} {
		s := c.Shift(e, quantity.Careful, station)
		if d := s.Difference(); e == record.Last || d < still {
			still = d
		}
		if d := -s.Altitude(); e == record.Last || d < windy {
			windy = d
		}
	}
	return still, windy
}
