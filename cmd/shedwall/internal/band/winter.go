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
	Coldest     quantity.Celsius // coldest winter of the years used
	Years       int              // winters at the station with most
	Known       bool
}

// Winter blends the stations' winters, carried over by the winter shift.
func (c *Climate) Winter() Winter {
	var w Winter
	var mean, weight float64
	coldest := math.Inf(1)
	for i, s := range c.Region.Stations {
		sum, n, low := 0.0, 0, math.Inf(1)
		for _, t := range s.winter {
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
		coldest = math.Min(coldest, float64(shift.ToBand(quantity.Celsius(low))))
		w.Years = max(w.Years, n)
	}
	if weight == 0 {
		return w
	}
	w.MeanExtreme, w.Known = quantity.Celsius(mean/weight), true
	w.Coldest = quantity.Celsius(coldest)
	w.Zone = frost.Zone(w.MeanExtreme)
	return w
}

// FrostFree is the median length in days of the span from the last freeze at a
// limit to the first after it, taken in each year of each station and blended.
// Summers that freeze in the middle count as 0 days. false where it is not known
// or the place does not freeze.
func (c *Climate) FrostFree(limit quantity.Celsius) (days int, known bool) {
	r := c.Region
	var sum, weight float64
	for i, s := range r.Stations {
		var spans []float64
		_, last := c.threshold(record.Last, quantity.Half, i, Gate{Limit: limit})
		_, first := c.threshold(record.First, quantity.Half, i, Gate{Limit: limit})
		for y := s.First; y <= s.Last; y++ {
			a, summerA := s.year(record.Last, y, Night, last, r.Hemisphere)
			b, summerB := s.year(record.First, y, Night, first, r.Hemisphere)
			switch {
			case math.IsNaN(a) || math.IsNaN(b) || math.IsInf(a, 0) || math.IsInf(b, 0):
			case (summerA || summerB) && b-a < 0:
				spans = append(spans, 0)
			default:
				spans = append(spans, b-a-1)
			}
		}
		if len(spans) < frost.LeastYears {
			continue
		}
		slices.Sort(spans)
		sum += c.weights[i] * frost.Quantile(spans, 0.5, frost.Hazen)
		weight += c.weights[i]
	}
	if weight == 0 {
		return 0, false
	}
	return int(math.Floor(sum / weight)), true
}

// DaysPerHundredMetres is how many days later (Last) or earlier (First) the
// half-and-half date at a limit gets for each 100 m of height around the band's
// middle; 0 where there is no date on both sides.
func (c *Climate) DaysPerHundredMetres(e record.Event, limit quantity.Celsius) float64 {
	at := func(dz quantity.Metres) Answer {
		k := *c
		k.site.low, k.site.high = c.site.low+dz, c.site.high+dz
		return k.Date(e, quantity.Half, Gate{Limit: limit})
	}
	lower, upper := at(-50), at(+50)
	if lower.State != Dated || upper.State != Dated {
		return 0
	}
	d := upper.Exact - lower.Exact
	if e == record.First {
		d = -d
	}
	return d
}
