package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// SeasonRisk is how often a whole stay outside is struck at either end. Two ends that
// are each passed in 1 year in 10 fail together in more: 16 % of years where they were
// tried on real stations.
type SeasonRisk struct {
	Share        float64 // share of years struck at either end, 0 to 1
	Spring, Fall float64 // share of years struck at that end
	Years        int     // summers at the station with most
	Known        bool
}

// SeasonRisk is how often a plant that is started on day from and stays to day to is
// struck: a night at the limit of spring after from, or at the limit of fall up to to.
// Slots are those of a plan: to lies in the season year after from's. spring.Days turns the
// night into the day of the action, as for Date. Like a date it is of the present
// climate for half-and-half windows, and the worse of present and plain years for
// careful ones. Stations with too few usable summers are not heard.
func (c *Climate) SeasonRisk(odds quantity.Odds, spring, fall Gate, from, to quantity.Slot) SeasonRisk {
	shifted := c.seasonRisk(odds, !c.Region.Plain, spring, fall, from, to)
	if c.Region.Plain || odds >= quantity.Half {
		return shifted
	}
	if plain := c.seasonRisk(odds, false, spring, fall, from, to); plain.Share > shifted.Share {
		return plain
	}
	return shifted
}

func (c *Climate) seasonRisk(odds quantity.Odds, shifted bool, spring, fall Gate, from, to quantity.Slot) SeasonRisk {
	var r SeasonRisk
	weight := 0.0
	apart := 0 // years from the number of a spring to that of the fall that ends its summer
	if c.Region.Hemisphere == quantity.South {
		apart = 1
	}
	if c.brief != nil && c.brief.nights && spring.Series == Night && fall.Series == Night {
		if spring.Days != nil {
			from = lastBefore(spring.Days, from)
		}
		springs, falls := c.saidOf(c.Question(record.Last, odds, &spring), shifted), c.saidOf(c.Question(record.First, odds, &fall), shifted)
		for i := range c.Region.Stations {
			c.briefRisk(&r, &weight, i, odds, springs[i], falls[i], from, to, apart)
		}
	} else {
		c.riskAtLength(&r, &weight, odds, shifted, spring, fall, from, to, apart)
	}
	if weight > 0 {
		r.Share, r.Spring, r.Fall, r.Known = r.Share/weight, r.Spring/weight, r.Fall/weight, true
	}
	return r
}

func (c *Climate) riskAtLength(r *SeasonRisk, weight *float64, odds quantity.Odds, shifted bool, spring, fall Gate, from, to quantity.Slot, apart int) {
	for i := range c.Region.Stations {
		_, compared := c.threshold(record.Last, odds, i, spring)
		springs := c.years(i, record.Last, shifted, spring, compared)
		_, compared = c.threshold(record.First, odds, i, fall)
		falls := c.years(i, record.First, shifted, fall, compared)
		used, both, early, late := 0, 0.0, 0.0, 0.0
		for k := range springs {
			if k+apart >= len(falls) || math.IsNaN(springs[k].slot) || math.IsNaN(falls[k+apart].slot) {
				continue
			}
			used++
			last, first := springs[k].slot, falls[k+apart].slot
			if spring.Days != nil && !math.IsInf(last, 0) {
				last = slotOf(spring.Days(quantity.Slot(last)))
			}
			inSpring, inFall := last > float64(from), first <= float64(to)
			if inSpring {
				early++
			}
			if inFall {
				late++
			}
			if inSpring || inFall {
				both++
			}
		}
		if used < fewest(odds) {
			continue
		}
		w := c.weights[i] / float64(used)
		r.Share, r.Spring, r.Fall = r.Share+w*both, r.Spring+w*early, r.Fall+w*late
		*weight += c.weights[i]
		r.Years = max(r.Years, used)
	}
}
