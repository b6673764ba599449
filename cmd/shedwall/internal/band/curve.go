package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// The grid of temperatures on which curves are worked out: every tenth of a degree C
// from curveFrom to curveTo.
const (
	curveFrom = -30.0
	curveTo   = 15.0
	perDegree = 10
	curveLen  = (curveTo-curveFrom)*perDegree + 1
)

// Curves is a band's dates for every tenth of a degree from -30 to 15 C, both events,
// careful and half-and-half odds: what Date says of a single night gate, worked out once
// so that a question is a look-up.
type Curves struct {
	careful, half [2][]Answer // by event; index 0 is curveFrom
}

// Curves is a band's curves, worked out when they are first asked for; nil of a climate that
// Warmer gives. It may be called from several goroutines at once.
func (c *Climate) Curves() *Curves { return c.kept.curvesOf(c) }

func (c *Climate) workOutCurves() *Curves {
	var k Curves
	var p sweepPaper
	for _, e := range []record.Event{record.Last, record.First} {
		k.careful[e], k.half[e] = c.curve(e, quantity.Careful, &p), c.curve(e, quantity.Half, &p)
	}
	return &k
}

// At is what Date says, but for the parts, of a single gate. false where that is not on
// the curves: it is no night gate, or turns its slots into others', or its limit with
// allowance and gain lies off the grid, or the odds are neither careful nor half-and-half, or
// there are no curves. Then Date must be asked. Nothing is rounded, so that a page and its
// explanation cannot differ. The answer must not be changed.
func (k *Curves) At(e record.Event, odds quantity.Odds, g Gate) (*Answer, bool) {
	if k == nil || g.Series != Night || g.Days != nil {
		return nil, false
	}
	tenths := float64(Shift{}.Threshold(g.Limit, g.Allowance, g.Gain)) * perDegree
	near := math.Round(tenths)
	i := int(near) - curveFrom*perDegree
	if math.Abs(tenths-near) > 1e-6 || i < 0 || i >= curveLen {
		return nil, false
	}
	switch odds {
	case quantity.Careful:
		return &k.careful[e][i], true
	case quantity.Half:
		return &k.half[e][i], true
	}
	return nil, false
}

// limitAt is the temperature at an index of the grid.
func limitAt(i int) quantity.Celsius {
	return quantity.Celsius(float64(i+curveFrom*perDegree) / perDegree)
}

// curve is Date at each point of the grid.
func (c *Climate) curve(e record.Event, odds quantity.Odds, p *sweepPaper) []Answer {
	for _, s := range c.Region.Stations {
		if s.Table != nil { // tables answer by look-ups of their own
			out := make([]Answer, curveLen)
			for i := range out {
				out[i] = c.Date(e, odds, Gate{Limit: limitAt(i)})
				out[i].Parts = nil
			}
			return out
		}
	}
	if c.Region.Plain {
		return c.sweep(e, odds, false, p)
	}
	shifted := c.sweep(e, odds, true, p)
	if odds < quantity.Half {
		for i, plain := range c.sweep(e, odds, false, p) {
			shifted[i] = safer(plain, shifted[i], e)
		}
	}
	return shifted
}

// told is what one station says at one threshold: the fields of its Part, and the share
// of its years in which it freezes at midsummer.
type told struct {
	slot, sampling, summers float64
	used, without, unusable int
}

// sweepPaper is what sweeps of a band note on their way: what each station says at each
// point of the grid, and what the best saw of each year.
type sweepPaper struct {
	say  []told
	seen []sight
}

// sweep is date for a single night gate at each point of the grid, from the coldest to
// the warmest: as the threshold rises, a year is looked at again only when its staircase
// has a step there, and a station only when one of its years has changed.
func (c *Climate) sweep(e record.Event, odds quantity.Odds, shifted bool, p *sweepPaper) []Answer {
	r := c.Region
	years := r.last - r.first + 1
	if p.say == nil {
		p.say, p.seen = make([]told, curveLen*len(r.Stations)), make([]sight, curveLen*max(0, years))
	}
	say, seen := p.say, p.seen
	clear(say)
	clear(seen)
	for i := range r.Stations {
		c.sweepStation(i, e, odds, shifted, say[i*curveLen:(i+1)*curveLen], seen, years)
	}
	out := make([]Answer, curveLen)
	parts := make([]Part, 0, len(r.Stations))
	for k := range out {
		a := Answer{Decides: -1, Shifted: shifted, Parts: parts[:0]}
		t := tally{seen: seen[k*years : (k+1)*years], votes: make([]float64, 1), towards: midwinter(e, r.Hemisphere)}
		for i := range r.Stations {
			v := &say[i*curveLen+k]
			if v.used < fewest(odds) {
				continue
			}
			w := c.weights[i]
			a.Parts = append(a.Parts, Part{Station: i, Weight: w, Slot: v.slot, Sampling: v.sampling, Used: v.used, Without: v.without, Unusable: v.unusable})
			a.Estimate = a.Estimate || v.used < frost.FullYears
			t.weight += w
			t.summers += w * v.summers
		}
		c.settle(&a, &t, e, odds, shifted, 0)
		a.Parts = nil
		out[k] = a
	}
	return out
}

// sweepStation fills in what one station says at each point of the grid, and what it saw
// of each year (seen, years for each point) where it is heard.
func (c *Climate) sweepStation(station int, e record.Event, odds quantity.Odds, shifted bool, say []told, seen []sight, years int) {
	s, h := c.Region.Stations[station], c.Region.Hemisphere
	n := s.Last - s.First + 1
	if n <= 0 {
		return
	}
	if h := s.heard; h != nil {
		h.mutex.Lock() // whoever sweeps it meanwhile finds most of it done
		defer h.mutex.Unlock()
	}
	known := s.heard.sweep(sweepOf{e, levelOf(odds), shifted})
	now := make([]year, n)                  // what each year says
	until := make([]quantity.Hundredths, n) // and up to which threshold
	for y := range until {
		until[y] = math.MinInt16 // nothing is known of it yet
	}
	order := make([]int, 0, n) // years in order of what they say, those that cannot tell left out
	values := make([]float64, 0, n)
	drift := make([]quantity.Hundredths, n) // in whole steps of the readings
	for y := range drift {
		drift[y] = frost.Moved(0, s.drift[e][y], s.Record.Step)
	}
	shift := c.Shift(e, odds, station)
	var latest *telling // of now
	for k := range say {
		compared := s.compared(Night, shift.Threshold(limitAt(k), 0, 0))
		t := known[compared]
		if t == nil {
			changed := latest == nil
			for y := range now {
				at := compared
				switch {
				case shifted && s.Record.Step == record.WholeF: // of which hundredths are no whole number
					at = frost.Moved(compared, s.drift[e][y], record.WholeF)
				case shifted:
					at += drift[y]
				}
				if at < until[y] {
					continue
				}
				outcome, next := s.climbs.night.YearUntil(seasonFor(e, s.First+y, h), e, at)
				now[y], until[y], changed = yearOf(outcome, e), next, true
			}
			if changed {
				order, values = sorted(order, values, now)
				latest = tell(now, values, e, odds)
			}
			t = latest
			s.heard.keep(known, compared, t)
		}
		if say[k] = t.told; t.used >= fewest(odds) {
			into := seen[k*years+s.First-c.Region.first:][:len(t.sights)]
			for y, x := range t.sights {
				into[y] |= x
			}
		}
	}
}

// sorted puts the years that can tell in order and gives what they say, in order.
// Little has moved since the last time, so that insertion is quick.
func sorted(order []int, values []float64, now []year) ([]int, []float64) {
	if len(order) == 0 {
		for y := range now {
			order = append(order, y)
		}
	}
	for i := 1; i < len(order); i++ {
		for j := i; j > 0 && before(now[order[j]].slot, now[order[j-1]].slot); j-- {
			order[j], order[j-1] = order[j-1], order[j]
		}
	}
	values = values[:0]
	for _, y := range order {
		if !math.IsNaN(now[y].slot) {
			values = append(values, now[y].slot)
		}
	}
	return order, values
}

// before says that a comes before b; what cannot be told comes last.
func before(a, b float64) bool { return a < b || math.IsNaN(b) && !math.IsNaN(a) }

// tell counts a station's years and reads its date off them.
func tell(now []year, values []float64, e record.Event, odds quantity.Odds) *telling {
	v := &telling{told: told{used: len(values), unusable: len(now) - len(values)}, sights: make([]sight, len(now))}
	summers := 0
	for y, x := range now {
		switch {
		case math.IsNaN(x.slot):
			v.sights[y] = blind
			continue
		case x.free(e):
			v.without++
			v.sights[y] = saw
		default:
			v.sights[y] = sawIt
		}
		if x.midsummer {
			summers++
		}
	}
	if v.used >= fewest(odds) {
		v.slot, v.sampling = quantile(values, e, odds), samplingError(values, e, odds)
		v.summers = float64(summers) / float64(v.used)
	}
	return v
}
