package band

import (
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Trend is the trend of a station's mean minima in an event's season (K for each
// ten years), over the years used; false with too few for one.
func (r *Region) Trend(station int, e record.Event) (perDecade quantity.Kelvins, ok bool) {
	s := r.Stations[station]
	slope, ok := frost.Trend(s.trendMeans[e])
	return quantity.Kelvins(10 * slope), ok
}

// Date is when the worst of several gates lets go in spring (Last) or when the
// first closes in fall (First), at odds of harm, in the present climate: see
// Plain and Shifted. Half-and-half dates are the shifted ones. Careful dates are
// the safer of plain and shifted, later in spring and earlier in fall. With
// Region.Plain set, all are plain.
//
// What is said of a single gate without Days is kept: the parts of the answer must not be
// changed.
func (c *Climate) Date(e record.Event, odds quantity.Odds, gates ...Gate) Answer {
	if len(gates) != 1 || gates[0].Days != nil {
		return c.dateOf(e, odds, gates)
	}
	g := gates[0]
	q := single{e, odds, g.Series, g.Limit, g.Allowance, g.Gain, g.Count, c.Region.Plain}
	return c.kept.answer(q, func() Answer { return c.dateOf(e, odds, gates) })
}

// NightDate is what Date says, but for the parts, of a single night gate. It is kept for
// good, so that pages about all bands may ask for it again.
func (c *Climate) NightDate(e record.Event, odds quantity.Odds, limit quantity.Celsius, gain quantity.Kelvins) Answer {
	q := single{event: e, odds: odds, limit: limit, gain: gain, plain: c.Region.Plain}
	return c.kept.night(q, func() Answer {
		return c.Region.printed(e, odds, func(shifted bool) Answer {
			return c.withoutParts(e, odds, shifted, Gate{Limit: limit, Gain: gain})
		})
	})
}

func (c *Climate) dateOf(e record.Event, odds quantity.Odds, gates []Gate) Answer {
	return c.Region.printed(e, odds, func(shifted bool) Answer { return c.date(e, odds, shifted, gates) })
}

// printed is the answer in print of the plain and the shifted one, which are asked for as
// they are needed.
func (r *Region) printed(e record.Event, odds quantity.Odds, ask func(shifted bool) Answer) Answer {
	if r.Plain {
		return ask(false)
	}
	shifted := ask(true)
	if odds >= quantity.Half {
		return shifted
	}
	return safer(ask(false), shifted, e)
}

// DateBothWays is the plain date of the years used and the one shifted to the
// present climate, for pages that show how much the trend matters.
func (c *Climate) DateBothWays(e record.Event, odds quantity.Odds, gates ...Gate) (plain, shifted Answer) {
	return c.date(e, odds, false, gates), c.date(e, odds, true, gates)
}

// safer is the answer by which fewer plants are lost: no date before a date, a date
// before no need of one, the later date in spring, the earlier in fall. The first
// where they are alike.
func safer(a, b Answer, e record.Event) Answer {
	rank := func(x Answer) int {
		return [...]int{NotKnown: 4, AnyMonth: 3, Never: 2, Dated: 1, NoneNeeded: 0}[x.State]
	}
	switch {
	case rank(a) != rank(b):
		if rank(b) > rank(a) {
			return b
		}
		return a
	case a.State == Dated && (e == record.Last && b.Exact > a.Exact || e == record.First && b.Exact < a.Exact):
		return b
	}
	return a
}
