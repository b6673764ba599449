package band

import (
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// State says what kind of answer the odds allow.
type State uint8

// NotKnown: too few usable years. Dated: a date. NoneNeeded: the threshold is
// passed in fewer years than the odds ask about, so no date is held back. Never:
// in more years than the odds allow the season comes to an end first (the soil
// never gets warm enough). AnyMonth: it may freeze in any month.
const (
	NotKnown State = iota
	Dated
	NoneNeeded
	Never
	AnyMonth
)

// Gate is one thing that holds a date back. Limit is what the crop stands (or,
// for Soil, needs); Allowance and Gain shift it as in Shift.Threshold. Days, if not
// nil, turns the slot at which the gate opens into the slot of the action (a seed
// may be sown some days before its seedling must be safe); it must not decrease.
type Gate struct {
	Series    Series
	Limit     quantity.Celsius
	Allowance quantity.Kelvins
	Gain      quantity.Kelvins
	Days      func(quantity.Slot) quantity.Slot
}

// Answer is a date at stated odds, with what it was made of.
type Answer struct {
	State     State
	Slot      quantity.Slot // whole day rounded to the safe side; First answers lie at 366 and above
	Exact     float64       // before rounding
	PlusMinus int           // days, one standard error of sampling and transfer together; 0 = not known
	Estimate  bool          // from fewer than 20 usable years at the poorest station used
	Used      int           // calendar years with at least one usable station
	Without   int           // of those, years without the event at every usable station
	Unusable  int
	Parts     []Part
	Decides   int // index of the gate that holds the date back in most years
}

// Part is one station's share in an answer.
type Part struct {
	Station    int
	Weight     float64 // share among the stations used
	Thresholds []quantity.Celsius
	Compared   []quantity.Hundredths // thresholds as compared, rounded to the station's step
	Slot       float64               // the station's own quantile; infinite where it has none
	Sampling   float64               // its sampling error, days
	Used       int
	Without    int
	Unusable   int
}

// A year in which nothing held the date back, one in which it never came free,
// and one that the record cannot tell.
var (
	nothing  = math.Inf(-1)
	never    = math.Inf(+1)
	unusable = math.NaN()
)

// Date is when the worst of several gates lets go in spring (Last) or when the
// first closes in fall (First), at odds of harm. The worst gate is taken in each
// year of each station, then the quantile, then the stations are blended by
// weight: never the later of separate quantiles, never averaged years.
//
// Slots of spring answers run from 0 to 365 and may pass the end of the season
// year (soil that warms in August); slots of fall answers from 366 to 731. Years
// rules and plotting positions are frost's. The gates and the region are not
// changed, and Date may be called from several goroutines at once.
func (c *Climate) Date(e record.Event, odds quantity.Odds, gates ...Gate) Answer {
	r := c.Region
	a := Answer{Decides: -1}
	years := r.last - r.first + 1
	seen := make([]int8, years) // per calendar year: 0 unusable, 1 used without event, 2 used
	votes := make([]float64, len(gates))
	var anyMonth, anyWeight float64
	values := make([]float64, 0, years)
	for i, s := range r.Stations {
		p := Part{Station: i, Weight: c.weights[i]}
		values = values[:0]
		midsummer, watched := 0, 0
		thresholds := make([]quantity.Hundredths, len(gates))
		for g, gate := range gates {
			t, cmp := c.threshold(e, odds, i, gate)
			p.Thresholds = append(p.Thresholds, t)
			p.Compared = append(p.Compared, cmp)
			thresholds[g] = cmp
		}
		for y := s.First; y <= s.Last; y++ {
			worst, decides, summer := s.worst(e, y, gates, thresholds, r.Hemisphere)
			if math.IsNaN(worst) {
				p.Unusable++
				continue
			}
			watched++
			if summer {
				midsummer++
			}
			values = append(values, worst)
			k := y - r.first
			if math.IsInf(worst, 0) && math.Signbit(worst) == (e == record.Last) {
				p.Without++
				seen[k] = max(seen[k], 1)
			} else {
				seen[k] = 2
				votes[decides] += c.weights[i]
			}
		}
		p.Used = len(values)
		if p.Used < fewest(odds) {
			continue
		}
		anyMonth += c.weights[i] * float64(midsummer) / float64(watched)
		anyWeight += c.weights[i]
		slices.Sort(values)
		p.Slot, p.Sampling = quantile(values, e, odds), samplingError(values, e, odds)
		a.Estimate = a.Estimate || p.Used < frost.FullYears
		a.Parts = append(a.Parts, p)
	}
	for k := range seen {
		switch seen[k] {
		case 0:
			a.Unusable++
		case 1:
			a.Without++
			fallthrough
		default:
			a.Used++
		}
	}
	if anyWeight == 0 {
		return a
	}
	for i := range a.Parts {
		a.Parts[i].Weight /= anyWeight
	}
	if share := anyMonth / anyWeight; share > float64(odds) && hasNight(gates) {
		a.State = AnyMonth
		return a
	}
	a.Decides = argmax(votes)
	c.blend(&a, e, odds)
	return a
}

// blend sets state, slot and error from the parts. Where some stations have no
// date at these odds, the larger weight decides whether there is one at all, and
// the date is blended from those that have one.
func (c *Climate) blend(a *Answer, e record.Event, odds quantity.Odds) {
	var free, stuck, dated, sum, sampling float64
	for _, p := range a.Parts {
		switch {
		case math.IsInf(p.Slot, 0) && math.Signbit(p.Slot) == (e == record.Last):
			free += p.Weight
		case math.IsInf(p.Slot, 0):
			stuck += p.Weight
		default:
			dated += p.Weight
			sum += p.Weight * p.Slot
			sampling += p.Weight * p.Sampling
		}
	}
	switch {
	case stuck >= dated && stuck >= free:
		a.State = Never
		return
	case free > dated:
		a.State = NoneNeeded
		return
	}
	a.State = Dated
	a.Exact = sum / dated
	if e == record.Last {
		a.Slot = quantity.Slot(math.Ceil(a.Exact - 1e-9))
	} else {
		a.Slot = quantity.Slot(math.Floor(a.Exact + 1e-9))
	}
	if give := math.Hypot(sampling/dated, c.transfer(e)); !math.IsNaN(give) {
		a.PlusMinus = max(1, int(math.Round(give)))
	}
}

// transfer is how far off (days) a date may be for having been carried here from
// stations: the guide's own leave-one-station-out error, less the share that the
// band's own stations carry. With fewer than three stations nothing can be hidden
// and the spread of places about a lapse line (regionSpread and siteSpread, 0.9 K)
// at about 4.5 days for each kelvin stands in.
func (c *Climate) transfer(e record.Event) float64 {
	miss := c.Region.MissDays[e]
	if miss == 0 {
		miss = 4.5 * math.Hypot(regionSpread, siteSpread)
	}
	return miss * (1 - c.ownShare)
}

// threshold is T* at a station and the value it is compared as. Soil is followed
// upward, in negated staircases, so its threshold is negated too; it gets no
// allowance and no gain.
func (c *Climate) threshold(e record.Event, odds quantity.Odds, station int, g Gate) (quantity.Celsius, quantity.Hundredths) {
	switch g.Series {
	case Soil:
		t := c.meanShift(odds, station).Threshold(g.Limit, 0, 0)
		return t, (-t).Hundredths()
	case Week:
		t := c.Shift(e, odds, station).Threshold(g.Limit, g.Allowance, g.Gain)
		return t, frost.RoundWarm(t, record.HundredthC)
	}
	t := c.Shift(e, odds, station).Threshold(g.Limit, g.Allowance, g.Gain)
	return t, frost.RoundWarm(t, c.Region.Stations[station].Record.Step)
}

// worst is the slot at which the worst gate of a calendar year lets go (or the
// first closes), which gate it was, and whether it freezes at midsummer.
func (s *Station) worst(e record.Event, year int, gates []Gate, thresholds []quantity.Hundredths, h quantity.Hemisphere) (worst float64, decides int, midsummer bool) {
	worst = nothing
	if e == record.First {
		worst = never
	}
	for g, gate := range gates {
		v, summer := s.year(e, year, gate.Series, thresholds[g], h)
		if math.IsNaN(v) {
			return unusable, 0, false
		}
		if gate.Days != nil && !math.IsInf(v, 0) {
			v = float64(gate.Days(quantity.Slot(v)))
		}
		midsummer = midsummer || summer && gate.Series == Night
		if e == record.Last && v > worst || e == record.First && v < worst {
			worst, decides = v, g
		}
	}
	return worst, decides, midsummer
}

// year is one gate in one calendar year: a slot, nothing, never or unusable.
func (s *Station) year(e record.Event, year int, series Series, t quantity.Hundredths, h quantity.Hemisphere) (float64, bool) {
	if series == Soil {
		o := s.climbs.soil.Year(year, record.First, t)
		switch o.State {
		case frost.Date:
			return float64(fromOther(o.Slot, h)), false
		case frost.NoFreeze:
			return never, false
		}
		return unusable, false
	}
	stairs := &s.climbs.night
	if series == Week {
		stairs = &s.climbs.week
	}
	o := stairs.Year(seasonFor(e, year, h), e, t)
	switch {
	case o.State == frost.Unusable:
		return unusable, false
	case o.State == frost.NoFreeze && e == record.Last:
		return nothing, o.Midsummer
	case o.State == frost.NoFreeze:
		return never, o.Midsummer
	case e == record.First:
		return float64(o.Slot + quantity.SlotsPerYear), o.Midsummer
	}
	return float64(o.Slot), o.Midsummer
}

// fromOther turns a slot of the other hemisphere's season year (which begins at
// midwinter here) into one of ours: 1 February is slot 184 in the north.
func fromOther(s quantity.Slot, h quantity.Hemisphere) quantity.Slot {
	other := quantity.South
	if h == quantity.South {
		other = quantity.North
	}
	return s + h.SlotOf(other.MonthDay(0))
}

func hasNight(gates []Gate) bool {
	return slices.ContainsFunc(gates, func(g Gate) bool { return g.Series == Night })
}

func argmax(v []float64) int {
	best := 0
	for i := range v {
		if v[i] > v[best] {
			best = i
		}
	}
	return best
}
