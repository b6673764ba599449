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

// Answer is a date at stated odds, with what it was made of.
type Answer struct {
	State     State
	Slot      quantity.Slot // whole day rounded to the safe side; First answers lie at 366 and above
	Exact     float64       // before rounding
	PlusMinus int           // days, one standard error of sampling and transfer together; 0 = not known
	Estimate  bool          // from fewer than 20 usable years at the poorest station used, or partly assumed
	Used      int           // calendar years that at least one station used can tell
	Without   int           // of those, years without the event at every station that can
	Unusable  int           // years that no station used can tell
	Parts     []Part
	Decides   int  // index of the gate that holds back most of the years the date is read from
	Shifted   bool // each past year's threshold was moved to the present climate

	LeftOut []Series // gates that no station can tell of: they hold nothing back
	Apart   bool     // at stations with tables the gates were taken one by one, not year by year
}

// Part is one station's share in an answer.
type Part struct {
	Station    int
	Weight     float64 // share among the stations used
	Thresholds []quantity.Celsius
	Compared   []quantity.Hundredths // thresholds as compared, rounded to the station's step
	Slot       float64               // the station's own quantile; infinite where it has none
	Counts     float64               // the slot it counts with: Slot, or see blend where it has none
	Sampling   float64               // its sampling error, days; NaN = not known
	Used       int
	Without    int
	Unusable   int
}

// date is the answer from the years as they were, or with each year's threshold
// moved to the present climate. The worst gate is taken in each year of each
// station, then the quantile, then the stations are blended by weight: never the
// later of separate quantiles, never averaged years.
//
// Slots of spring answers run from 0 to 365 and may pass the end of the season
// year (soil that warms in August); slots of fall answers from 366 to 731. Years
// rules and plotting positions are frost's. The gates and the region are not
// changed, and it may be called from several goroutines at once, except on the
// climate that Remembering gives.
func (c *Climate) date(e record.Event, odds quantity.Odds, shifted bool, gates []Gate) Answer {
	r, n := c.Region, len(gates)
	a := Answer{Decides: -1, Shifted: shifted, Parts: make([]Part, 0, len(r.Stations))}
	thresholds := make([]quantity.Celsius, n*len(r.Stations))
	compared := make([]quantity.Hundredths, n*len(r.Stations))
	t := tally{seen: make([]sight, r.last-r.first+1), votes: make([]float64, n), towards: towards(gates[0].Series, e, r.Hemisphere)}
	years := make([]year, 0, len(t.seen))
	values := make([]float64, 0, len(t.seen))
	others := make([]*Answer, n)
	other := func(g int) Answer {
		if others[g] == nil {
			alone := c.date(e, odds, shifted, gates[g:g+1])
			others[g] = &alone
		}
		return *others[g]
	}
	tables := 0
	for i, s := range r.Stations {
		p := Part{Station: i, Weight: c.weights[i], Thresholds: thresholds[i*n : (i+1)*n], Compared: compared[i*n : (i+1)*n]}
		for g, gate := range gates {
			p.Thresholds[g], p.Compared[g] = c.threshold(e, odds, i, gate)
		}
		if s.Table != nil {
			if c.published(&a, &t, &p, e, odds, gates, other) {
				a.Parts = append(a.Parts, p)
				tables++
			}
			continue
		}
		own := s.ownGates(gates)
		if own == 0 {
			continue
		}
		years = c.worst(years[:0], e, i, shifted, gates, p)
		values = p.count(values[:0], years, e)
		if p.Used < fewest(odds) {
			continue
		}
		t.add(years, s.First-r.first, e, p.Weight)
		slices.Sort(values)
		p.Slot, p.Sampling = quantile(values, e, odds), samplingError(values, e, odds)
		lower, upper, _ := Positions(p.Used, e, odds)
		decides := -1
		if own < n {
			decides = c.borrow(&a, &p, e, gates, other)
		}
		if decides >= 0 {
			t.votes[decides] += p.Weight
		} else {
			t.vote(years, values[lower-1], values[upper-1], e, p.Weight)
		}
		a.Estimate = a.Estimate || p.Used < frost.FullYears
		a.Parts = append(a.Parts, p)
	}
	c.settle(&a, &t, e, odds, shifted, tables)
	return a
}

// settle makes one answer of the parts, tables of them of stations with tables: state,
// counts, the gate that decides, date and error. Weights become shares of those heard.
func (c *Climate) settle(a *Answer, t *tally, e record.Event, odds quantity.Odds, shifted bool, tables int) {
	if len(a.Parts) == 0 {
		return
	}
	a.Used, a.Without, a.Unusable = t.counts()
	a.Shifted = shifted && tables < len(a.Parts)
	for i := range a.Parts {
		a.Used = max(a.Used, a.Parts[i].Used)
		a.Parts[i].Weight /= t.weight
	}
	if t.anyMonth(odds) {
		a.State = AnyMonth
		return
	}
	a.Decides = argmax(t.votes)
	c.blend(a, e, t.towards)
}

// anyMonth says that it freezes at midsummer in more years than odds allow.
func (t *tally) anyMonth(odds quantity.Odds) bool {
	return t.summers/t.weight > float64(odds)+slack
}

// count fills in how many years a part is made of and appends the usable ones to
// values.
func (p *Part) count(values []float64, years []year, e record.Event) []float64 {
	for _, y := range years {
		switch {
		case math.IsNaN(y.slot):
			p.Unusable++
			continue
		case y.free(e):
			p.Without++
		}
		values = append(values, y.slot)
	}
	p.Used = len(values)
	return values
}

// tally is what the stations used say together, before any date.
type tally struct {
	seen    []sight   // per calendar year of the region
	votes   []float64 // weight of the years each gate decided, of those the date is read from
	summers float64   // weight of the share of years in which it freezes at midsummer
	weight  float64
	towards float64 // the day with which a station counts that has no date
}

// sight is what the best station saw of a calendar year: each has the bits of those before
// it, so that of two stations the better one's is either.
type sight uint8

const (
	outside sight = 0 // of every station's years
	blind   sight = 1 // too many days missing
	saw     sight = 3 // watched, and nothing happened
	sawIt   sight = 7 // watched, and it happened
)

// add counts one station's years, of which the first is calendar year start.
func (t *tally) add(years []year, start int, e record.Event, weight float64) {
	used, summers := 0, 0
	for k, y := range years {
		s := blind
		if !math.IsNaN(y.slot) {
			used++
			if y.midsummer {
				summers++
			}
			s = saw
			if !y.free(e) {
				s = sawIt
			}
		}
		t.seen[start+k] |= s
	}
	t.weight += weight
	t.summers += weight * float64(summers) / float64(used)
}

// vote counts the gates that decided the years a station's date is read from: those
// on either of two slots. A careful date may well be frost's where in most years it is
// the soil that is late.
func (t *tally) vote(years []year, below, above float64, e record.Event, weight float64) {
	here := func(y year) bool { return (y.slot == below || y.slot == above) && !y.free(e) }
	n := 0.0
	for _, y := range years {
		if here(y) {
			n++
		}
	}
	for _, y := range years {
		if here(y) {
			t.votes[y.decides] += weight / n
		}
	}
}

func (t *tally) counts() (used, without, unusable int) {
	for _, s := range t.seen {
		switch s {
		case sawIt:
			used++
		case saw:
			used, without = used+1, without+1
		case blind:
			unusable++
		}
	}
	return used, without, unusable
}

// blend sets state, slot and error from the parts, whose weights sum to 1. No date
// is held back where more than half the weight lies on stations that need none;
// there is no date at all where half of it lies on stations that never come free.
// Otherwise a station without a date takes part with the day towards which its
// dates go before they end, towards: midwinter where the threshold is hardly reached any
// more, the end of the season year where it hardly lets go. To leave such stations
// out would make a colder limit's date the later one.
func (c *Climate) blend(a *Answer, e record.Event, towards float64) {
	var m mixture
	for i := range a.Parts {
		p := &a.Parts[i]
		p.Counts = m.add(p.Weight, p.Slot, p.Sampling, e, towards)
	}
	m.settle(a, e, c.transfer(e))
}

// mixture is what stations say by weight, added one by one.
type mixture struct{ free, stuck, dated, sum, sampling float64 }

// add adds a station and returns the slot that it counts with.
func (m *mixture) add(weight, slot, sampling float64, e record.Event, towards float64) float64 {
	switch {
	case !math.IsInf(slot, 0):
		m.dated += weight
		m.sampling += weight * sampling
	case math.Signbit(slot) == (e == record.Last):
		m.free += weight
		slot = towards
	default:
		m.stuck += weight
		slot = quantity.SlotsPerYear - 1
	}
	m.sum += weight * slot
	return slot
}

// settle sets state, slot and error.
func (m *mixture) settle(a *Answer, e record.Event, transfer float64) {
	switch {
	case m.stuck >= 0.5-slack:
		a.State = Never
		return
	case m.free > 0.5+slack:
		a.State = NoneNeeded
		return
	}
	a.State, a.Exact, a.Slot = Dated, m.sum, frost.SafeSide(m.sum, e)
	if give := math.Hypot(m.sampling/m.dated, transfer); !math.IsNaN(give) {
		a.PlusMinus = max(1, int(math.Round(give)))
	}
}

// midwinter is the coldest time of the year, 16 January in the north and 16 July in
// the south, as a slot of spring or fall answers.
func midwinter(e record.Event, h quantity.Hemisphere) float64 {
	md := quantity.MonthDay{Month: 1, Day: 16}
	if h == quantity.South {
		md.Month = 7
	}
	s := h.SlotOf(md)
	if e == record.First {
		s += quantity.SlotsPerYear
	}
	return float64(s)
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

func argmax(v []float64) int {
	best := 0
	for i := range v {
		if v[i] > v[best] {
			best = i
		}
	}
	return best
}
