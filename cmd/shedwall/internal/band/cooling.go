package band

import (
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// coolingGaps is how many days without soil may come before the day is found; with more
// it may have come before.
const coolingGaps = 10

// How far the fall's own first day as cold lies ahead of the mean course, in days.
const coolingAhead, coolingSpread = -8.0, 14.0

// Cools is the first day of a fall from which soil at sowing depth is as cold as limit for
// so many days in a row (1 = the day itself), at odds that it comes earlier. Soil is the running mean of the air that spring dates use,
// carried to the band by the shift of daily means; snow and mulch keep it warmer than
// that. At 0 C the ground begins to freeze.
//
// A year in which that comes only after midwinter counts as one without: the answer is about
// fall, and Answer's days without an event lie at midwinter.
//
// The state is NoneNeeded where more years than the odds allow do not get as cold. Stations
// with tables of normals answer from their mean course, whose spread is that of spring
// mirrored: an estimate.
//
// It is kept for good, without parts.
func (c *Climate) Cools(odds quantity.Odds, limit quantity.Celsius, days int) Answer {
	return c.kept.cooling(coolingOf{odds, limit, days}, func() Answer {
		a := c.coolsOf(odds, limit, days)
		a.Parts = nil
		return a
	})
}

func (c *Climate) coolsOf(odds quantity.Odds, limit quantity.Celsius, days int) Answer {
	r, h := c.Region, c.Region.Hemisphere
	a := Answer{Decides: -1}
	t := tally{seen: make([]sight, max(0, r.last-r.first+1)), votes: make([]float64, 1), towards: midwinter(record.First, h)}
	tables := 0
	for i, s := range r.Stations {
		threshold := c.meanShift(odds, i).Threshold(limit, 0, 0)
		p := Part{Station: i, Weight: c.weights[i], Thresholds: []quantity.Celsius{threshold}, Compared: []quantity.Hundredths{threshold.Hundredths()}}
		if s.Table != nil {
			if math.IsNaN(s.soil[0]) {
				continue
			}
			rare := frost.Deviate(1 - float64(odds))
			p.Slot, p.Sampling = coolingSlot(s.soil, float64(threshold), rare, h), soilError
			a.Estimate, t.weight = true, t.weight+p.Weight
			a.Parts = append(a.Parts, p)
			tables++
			continue
		}
		years := s.cools(p.Compared[0], days, h)
		values := p.count(nil, years, record.First)
		if p.Used < fewest(odds) {
			continue
		}
		t.add(years, s.First-r.first, record.First, p.Weight)
		slices.Sort(values)
		p.Slot, p.Sampling = quantile(values, record.First, odds), samplingError(values, record.First, odds)
		a.Estimate = a.Estimate || p.Used < frost.FullYears
		a.Parts = append(a.Parts, p)
	}
	c.settle(&a, &t, record.First, odds, false, tables)
	return a
}

// cools is the first of so many days as cold in each calendar year, from the first day of its fall's
// season year to midwinter.
func (s *Station) cools(t quantity.Hundredths, days int, h quantity.Hemisphere) []year {
	soil, warmest := s.climbs.trailed(), float64(t)+0.5
	var out []year
	for y := s.First; y <= s.Last; y++ {
		season := seasonFor(record.First, y, h)
		first := h.SeasonStart(season)
		end := h.DayAt(season, quantity.Slot(midwinter(record.Last, h))) + quantity.Day(days)
		out = append(out, year{slot: unusable})
		gaps, run := 0, 0
		for d := first; d < end; d++ {
			v := math.NaN()
			if i := int(d - s.Record.Start); uint(i) < uint(len(soil)) {
				v = soil[i]
			}
			switch {
			case v > warmest:
				run = 0
			case v <= warmest:
				run++
			default: // not known
				gaps++
				continue
			}
			if gaps > coolingGaps {
				break
			}
			if run == days {
				_, slot := h.SeasonOf(d - quantity.Day(days-1))
				out[len(out)-1].slot = float64(slot + quantity.SlotsPerYear)
				break
			}
			if d == end-1 {
				out[len(out)-1].slot = never
			}
		}
	}
	return out
}

// trailed is trailing of each day, and of those after the record's end that it still
// knows; NaN where it is not known.
func trailed(v []quantity.Hundredths) []float64 {
	out := make([]float64, len(v)+soilDays-soilDaysKnown)
	for i := range out {
		t, ok := trailing(v, i)
		if out[i] = t; !ok {
			out[i] = math.NaN()
		}
	}
	return out
}

// trailing is the mean (hundredths) of the soilDays values that end with i, of which
// soilDaysKnown must be known.
func trailing(v []quantity.Hundredths, i int) (float64, bool) {
	sum, n := 0, 0
	for k := max(0, i-soilDays+1); k <= i && k < len(v); k++ {
		if v[k].Known() {
			sum, n = sum+int(v[k]), n+1
		}
	}
	if n < soilDaysKnown {
		return 0, false
	}
	return float64(sum) / float64(n), true
}

// coolingSlot is when a mean course of soil first falls to t after midsummer, as far
// ahead of it as the year's own first day is in spring: 8 days in the middle, 14 more for
// each deviate (measured on 28 records, upward; see saysSoil).
func coolingSlot(soil []float64, t, rare float64, h quantity.Hemisphere) float64 {
	for s, v := range soil[:int(midwinter(record.Last, h))+1] {
		if v <= t {
			return math.Max(0, float64(s)+coolingAhead-coolingSpread*rare) + quantity.SlotsPerYear
		}
	}
	return never
}
