package frost

import (
	"math"
	"strconv"

	"shedwall/cmd/shedwall/internal/quantity"
)

// WinterLow is the lowest value of a season year. false where more than
// MaxMissing days of the five cold months (see MaxMissing) are missing: the
// coldest night may be among them.
func (c Staircases) WinterLow(season int) (quantity.Hundredths, bool) {
	y := c.year(season)
	if y == nil || y.first == y.last || y.coldMissing > MaxMissing {
		return quantity.Missing, false
	}
	return c.steps[y.first-1].value, true // the highest step of the way back
}

// Winters is the first and the last season year whose winter belongs to calendar
// years y: in the north the winter that ends in the year, in the south the one
// that lies in it.
func (y Years) Winters(h quantity.Hemisphere) (first, last int) {
	if h == quantity.North {
		return y.From - 1, y.To - 1
	}
	return y.From, y.To
}

// MeanExtreme is the mean annual extreme minimum: the mean, over the winters of
// years, of each winter's lowest value, and how many winters it is made of.
// Winters with too many missing days are left out; with none left the mean means
// nothing and used is 0.
func (c Staircases) MeanExtreme(years Years) (mean quantity.Celsius, used int) {
	sum := 0
	first, last := years.Winters(c.hemisphere)
	for season := first; season <= last; season++ {
		if low, ok := c.WinterLow(season); ok {
			sum, used = sum+int(low), used+1
		}
	}
	if used == 0 {
		return 0, 0
	}
	return quantity.Celsius(float64(sum) / float64(used) / 100), used
}

// Zone is the hardiness half zone of a mean annual extreme minimum: zones of 10 F
// from -60 F, halves of 5 F, the lower bound inclusive.
//
//	zone = floor((F + 60)/10) + 1, half a below 5 F into the zone, else b
//
// F is rounded to 0.01 first: 0 F is kept by records as -17.78 C, which is a hair
// colder. Colder than -60 F is "1a", 70 F and warmer "13b" (USDA Plant Hardiness Zone
// Map classes).
func Zone(meanExtreme quantity.Celsius) string {
	f := math.Round(meanExtreme.Fahrenheit()*100) / 100
	half := int(math.Floor((f + 60) / 5))
	half = min(max(half, 0), 25)
	return strconv.Itoa(half/2+1) + string("ab"[half%2])
}
