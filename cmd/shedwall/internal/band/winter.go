package band

import (
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Winter is how cold the band's winters get, at mid height.
type Winter struct {
	MeanExtreme quantity.Celsius // mean annual extreme minimum
	Zone        string           // hardiness half zone of the mean
	Coldest     quantity.Celsius // the stations' coldest winters of the years used, blended likewise
	Years       int              // winters at the station with most
	Known       bool
	Why         Untold // of a winter that is not known
}

// Untold says why a band's winters are not known.
type Untold uint8

// Unrecorded: no station has enough winters. OutOfReach: those that have lie too far away, or
// too much higher or lower. Contradicted: they say that it hardly freezes where the band's own
// dates say that it does, or the other way round.
const (
	Unrecorded Untold = iota
	OutOfReach
	Contradicted
)

// How far a winter may be carried. Among 17 stations of the Trentino (1975-2004, 136 pairs) the
// mean annual extreme minimum of one, carried to the other by 4.5 K for each 1,000 m, is off
// by 1.3 K on average within 55 km, 2.2 K from 55 to 80, and 3.1 K beyond, more than the
// 2.8 K of a half zone. Height made no difference up to 1,800 m, the most of any pair.
const (
	WinterReach                  = 80.0 // km
	WinterHeight quantity.Metres = 1800
)

// freezingSeason is the days from first to last freeze of a middling winter beyond which its
// coldest night must be one of freeze: in a place where just over half the winters freeze at
// all, they do so within a few weeks.
const freezingSeason = 30

// halfZone is how wide a half zone is: 5 F.
var halfZone = quantity.FromFahrenheitDifference(5)

// untold says whether anything speaks against the winters that the stations tell.
func (c *Climate) untold() (why Untold, yes bool) {
	type key struct{ plain bool }
	type answer struct {
		why Untold
		yes bool
	}
	a := c.Hold(key{c.Region.Plain}, func() any {
		why, yes := c.workOutUntold()
		return answer{why, yes}
	}).(answer)
	return a.why, a.yes
}

func (c *Climate) workOutUntold() (why Untold, yes bool) {
	told, near := false, false
	for i, s := range c.Region.Stations {
		n := 0
		for _, t := range s.winter {
			if !math.IsNaN(t) {
				n++
			}
		}
		if n < frost.FewYears {
			continue
		}
		told = true
		km, placed := distance(c.site, s.site)
		apart := max(c.site.low-s.site.low, s.site.low-c.site.high)
		near = near || (!placed || km <= WinterReach) && apart <= WinterHeight && c.weights[i] > 0
	}
	switch {
	case !told:
		return Unrecorded, true
	case !near:
		return OutOfReach, true
	}
	plain := c.winterOf(func(s *Station) []float64 { return s.winter })
	last, first := c.NightDate(record.Last, quantity.Half, 0, 0), c.NightDate(record.First, quantity.Half, 0, 0)
	free, known := c.FrostFree(0)
	freezes := last.State == Dated && first.State == Dated && known && free < 365-freezingSeason
	never := last.State == Never && first.State == Never
	if freezes && plain.MeanExtreme > 0 || never && plain.MeanExtreme <= quantity.Celsius(-halfZone) {
		return Contradicted, true
	}
	return Unrecorded, false
}

// Winter blends the stations' winters, carried over by the winter shift, where any lies near
// enough and the band's own freezes do not speak against them, see Untold. Its mean and
// zone are the colder of the plain years' and the present climate's, the plain ones
// with Region.Plain set; the coldest winter is the one that was seen.
func (c *Climate) Winter() Winter {
	plain, now := c.WinterBothWays()
	if !plain.Known {
		return plain
	}
	if now.MeanExtreme < plain.MeanExtreme && !c.Region.Plain {
		plain.MeanExtreme, plain.Zone = now.MeanExtreme, now.Zone
	}
	return plain
}

// WinterBothWays is the winters of the years used as they were, and moved to the
// present climate: see frost.AtPresent.
func (c *Climate) WinterBothWays() (plain, now Winter) {
	if why, untold := c.untold(); untold {
		return Winter{Why: why}, Winter{Why: why}
	}
	return c.winterOf(func(s *Station) []float64 { return s.winter }), c.winterOf(func(s *Station) []float64 { return s.winterNow })
}

func (c *Climate) winterOf(lows func(*Station) []float64) Winter {
	var w Winter
	var mean, coldest, weight float64
	for i, s := range c.Region.Stations {
		sum, n, low := 0.0, 0, math.Inf(1)
		for _, t := range lows(s) {
			if !math.IsNaN(t) {
				sum, n, low = sum+t, n+1, math.Min(low, t)
			}
		}
		if n < frost.FewYears {
			continue
		}
		shift := c.winterShift(i)
		mean += c.weights[i] * float64(shift.ToBand(quantity.Celsius(sum/float64(n))))
		weight += c.weights[i]
		coldest += c.weights[i] * float64(shift.ToBand(quantity.Celsius(low)))
		w.Years = max(w.Years, n)
	}
	if weight == 0 {
		return w
	}
	w.MeanExtreme, w.Known = quantity.Celsius(mean/weight), true
	w.Coldest = quantity.Celsius(coldest / weight)
	w.Zone = frost.Zone(w.MeanExtreme)
	return w
}

// FrostFree is the median length in days of the span from the last freeze at a
// limit to the first after it, taken in each year of each station and blended.
// As in frost, 120 and 266 make 146, and a span that runs through a winter without
// a freeze is longer than any. false where it is not known, or where half the years
// pass without a freeze at stations of more than half the weight.
func (c *Climate) FrostFree(limit quantity.Celsius) (days int, known bool) {
	var sum, weight, endless float64
	for i, s := range c.Region.Stations {
		var t [2]quantity.Celsius
		t[record.Last], _ = c.threshold(record.Last, quantity.Half, i, Gate{Limit: limit})
		t[record.First], _ = c.threshold(record.First, quantity.Half, i, Gate{Limit: limit})
		if s.Table != nil {
			switch m := s.dates.FrostFree(t[record.Last], t[record.First]); m.State {
			case frost.Dated:
				sum += c.weights[i] * float64(m.Days)
				weight += c.weights[i]
			case frost.NoneNeeded:
				endless += c.weights[i]
			}
			continue
		}
		spans := s.spans(t, !c.Region.Plain, c.Region.Hemisphere)
		if len(spans) < frost.LeastYears {
			continue
		}
		slices.Sort(spans)
		median := frost.Quantile(spans, 0.5, frost.Hazen)
		if math.IsInf(median, 0) || math.IsNaN(median) {
			endless += c.weights[i]
			continue
		}
		sum += c.weights[i] * median
		weight += c.weights[i]
	}
	if weight == 0 || endless > weight {
		return 0, false
	}
	return int(math.Floor(sum/weight + slack)), true
}

// spans is the days from the last freeze of each calendar year to the first after
// it, at thresholds by event, in the present climate where shifted; infinite where
// either end does not freeze.
func (s *Station) spans(t [2]quantity.Celsius, shifted bool, h quantity.Hemisphere) []float64 {
	at := func(e record.Event, year int) quantity.Hundredths {
		compared := s.compared(Night, t[e])
		if shifted {
			return frost.Moved(compared, s.drift[e][year-s.First], s.Record.Step)
		}
		return compared
	}
	var out []float64
	for y := s.First; y <= s.Last; y++ {
		season := seasonFor(record.Last, y, h)
		a, b := s.climbs.night.Year(season, record.Last, at(record.Last, y)), s.climbs.night.Year(season+1, record.First, at(record.First, y))
		switch {
		case a.State == frost.Unusable || b.State == frost.Unusable:
		case a.State == frost.NoFreeze || b.State == frost.NoFreeze:
			out = append(out, math.Inf(1))
		default:
			out = append(out, float64(h.DayAt(season+1, b.Slot)-h.DayAt(season, a.Slot)))
		}
	}
	return out
}

// smoothing is how far above and below the band's middle its date is asked for to tell
// what height does, and the limits (C) at which it is asked: a freeze and a hard freeze.
const smoothing quantity.Metres = 200

var smoothingLimits = []quantity.Celsius{0, -2.2}

// DaysPerHundredMetres is how many days later (Last) or earlier (First) freezes come
// for each 100 m that a garden is higher. A date moves by whole spells of weather, so
// the difference over 100 m of one quantile at one limit is mostly noise; this is the
// mean of the slopes over 400 m around the band's middle, at careful and half-and-half
// odds and at both limits. A slope without a date at both ends is left out; 0 where
// there is none.
func (c *Climate) DaysPerHundredMetres(e record.Event) float64 {
	return c.kept.slope(slopeOf{e, c.Region.Plain}, func() float64 { return c.daysPerHundredMetres(e) })
}

func (c *Climate) daysPerHundredMetres(e record.Event) float64 {
	at := func(dz quantity.Metres, odds quantity.Odds, limit quantity.Celsius) Answer {
		k := *c
		k.kept = c.kept.beside()
		k.site.low, k.site.high = c.site.low+dz, c.site.high+dz
		return k.Date(e, odds, Gate{Limit: limit})
	}
	sum, n := 0.0, 0
	for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
		for _, limit := range smoothingLimits {
			lower, upper := at(-smoothing, odds, limit), at(+smoothing, odds, limit)
			if lower.State != Dated || upper.State != Dated {
				continue
			}
			sum += (upper.Exact - lower.Exact) / float64(2*smoothing) * 100
			n++
		}
	}
	if n == 0 {
		return 0
	}
	if e == record.First {
		sum = -sum
	}
	return sum / float64(n)
}
