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
	at := c.riskAtLength
	if c.brief != nil && c.brief.nights && spring.Series == Night && fall.Series == Night {
		if spring.Days != nil {
			from = spring.Days.lastUntil(from)
		}
		q, z := c.Question(record.Last, odds, &spring), c.Question(record.First, odds, &fall)
		at = func(odds quantity.Odds, shifted bool, _, _ Gate, from, to quantity.Slot) SeasonRisk {
			return c.briefRisk(q, z, odds, shifted, from, to)
		}
	}
	shifted := at(odds, !c.Region.Plain, spring, fall, from, to)
	if c.Region.Plain || odds >= quantity.Half {
		return shifted
	}
	if plain := at(odds, false, spring, fall, from, to); plain.Share > shifted.Share {
		return plain
	}
	return shifted
}

// apart is the years from the number of a spring to that of the fall that ends its summer.
func (c *Climate) apart() int {
	if c.Region.Hemisphere == quantity.South {
		return 1
	}
	return 0
}

// shares makes shares of years of what was added by weight.
func (r *SeasonRisk) shares(weight float64) {
	if weight > 0 {
		r.Share, r.Spring, r.Fall, r.Known = r.Share/weight, r.Spring/weight, r.Fall/weight, true
	}
}

func (c *Climate) riskAtLength(odds quantity.Odds, shifted bool, spring, fall Gate, from, to quantity.Slot) (r SeasonRisk) {
	weight, apart := 0.0, c.apart()
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
				last = slotOf(spring.Days.Of(quantity.Slot(last)))
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
		weight += c.weights[i]
		r.Years = max(r.Years, used)
	}
	r.shares(weight)
	return r
}
