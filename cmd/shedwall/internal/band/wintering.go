package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Wintering is the chance that the air of a band gets no colder than a limit in a
// winter. It says nothing about survival: snow helps, bare ground that freezes and
// thaws harms.
type Wintering struct {
	Known   bool
	Share   float64 // share of winters that stay above the limit, 0 to 1
	Winters int     // at the station with most; no odds are rarer than 1 in so many
}

// Rare says that the share is as near to 0 or 1 as so many winters can tell: then
// print "in none of n winters" or "in all of n", never odds of 1 in 1,000.
func (w Wintering) Rare() bool {
	return w.Winters > 0 && math.Min(w.Share, 1-w.Share) < 1/float64(w.Winters)
}

// Wintering counts, station by station, the winters whose coldest reading stays
// above T*, and blends the shares by weight. gain is what layers give on such a
// night: a winter figure, since a spring gain does not hold far below freezing.
// Stations with fewer than frost.FewYears winters are not heard, and nothing is known where
// Winter is not. The share is the
// smaller of the plain years' and the present climate's; the plain one with Region.Plain
// set.
func (c *Climate) Wintering(limit quantity.Celsius, gain quantity.Kelvins) Wintering {
	plain, now := c.WinteringBothWays(limit, gain)
	if now.Share < plain.Share && !c.Region.Plain {
		return now
	}
	return plain
}

// WinteringBothWays is the share of the years used as they were, and of the same
// winters moved to the present climate.
func (c *Climate) WinteringBothWays(limit quantity.Celsius, gain quantity.Kelvins) (plain, now Wintering) {
	return c.wintering(limit, gain, func(s *Station) []float64 { return s.winter }),
		c.wintering(limit, gain, func(s *Station) []float64 { return s.winterNow })
}

func (c *Climate) wintering(limit quantity.Celsius, gain quantity.Kelvins, lows func(*Station) []float64) Wintering {
	var w Wintering
	if _, untold := c.untold(); untold {
		return w
	}
	var share, weight float64
	for i, s := range c.Region.Stations {
		t := float64(c.winterShift(i).Threshold(limit, 0, gain))
		held, n := 0.0, 0
		for _, low := range lows(s) {
			if math.IsNaN(low) {
				continue
			}
			n++
			if low > t+slack {
				held++
			}
		}
		if n < frost.FewYears {
			continue
		}
		share += c.weights[i] * held / float64(n)
		weight += c.weights[i]
		w.Winters = max(w.Winters, n)
	}
	if weight > 0 {
		w.Share, w.Known = share/weight, true
	}
	return w
}

// ZoneRange is the band's hardiness zone one standard error colder and one warmer
// than the computed mean of winter lows: the spread of winters over their number,
// and what is lost in carrying the mean here (0.9 K, less the share of the band's
// own stations). false where no zone is known.
func (c *Climate) ZoneRange() (colder, warmer string, ok bool) {
	w := c.Winter()
	if !w.Known {
		return "", "", false
	}
	var variance, weight float64
	for i, s := range c.Region.Stations {
		sum, squares, n := 0.0, 0.0, 0.0
		for _, low := range s.winter {
			if !math.IsNaN(low) {
				sum, squares, n = sum+low, squares+low*low, n+1
			}
		}
		if n >= frost.FewYears {
			variance += c.weights[i] * (squares - sum*sum/n) / (n - 1) / n
			weight += c.weights[i]
		}
	}
	carried := math.Hypot(regionSpread, siteSpread) * (1 - c.ownShare)
	e := quantity.Kelvins(math.Sqrt(variance/weight + carried*carried))
	return frost.Zone(w.MeanExtreme.Plus(-e)), frost.Zone(w.MeanExtreme.Plus(e)), true
}
