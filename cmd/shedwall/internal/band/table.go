package band

import (
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// tabled is what a station with a published table has in place of a climbed record.
type tabled struct {
	dates frost.Table
	weeks []float64 // mean of the last seven nights by slot of the season year; nil = no normals
	air   []float64 // mean of minimum and maximum by slot; nil = no maxima
}

// useTable makes a station answer from a published table.
func (s *Station) useTable(f *record.Freeze, h quantity.Hemisphere) {
	s.Table, s.Record = f, &record.Daily{Station: f.Station}
	s.First, s.Last = 1, 0
	s.dates = frost.NewTable(f, h)
}

// years is the calendar years behind a station: those used of its record, or those of
// its table; the second lies before the first where they are not known.
func (s *Station) years() (first, last int) {
	switch {
	case s.Table == nil:
		return s.First, s.Last
	case s.Table.From == 0:
		return 1, 0
	}
	return s.Table.From, s.Table.To
}

// takeNormals fills the yearly means over the region's years from monthly normals.
// Winter lows are in no table of normals.
func (s *Station) takeNormals(first, last int, h quantity.Hemisphere, course func([12]float64) []float64) {
	for _, e := range []record.Event{record.Last, record.First} {
		from, to := seasonMonths(e, h)
		s.means[e] = s.normalMeans(false, from, to, first, last)
	}
	from, to := seasonMonths(record.Last, h)
	s.maxMeans = s.normalMeans(true, from, to, first, last)
	s.winter = unknown(last - first + 1)
	s.winterNow = s.winter
	s.soil = unknown(quantity.SlotsPerYear)
	s.low, s.high = s.soil, s.soil
	n := s.Table.Normals
	if n == nil || course == nil {
		return
	}
	var low, air [12]float64
	for m := range low {
		low[m], air[m] = float64(n.Min[m]), float64(n.Min[m]+n.Max[m])/2
	}
	s.weeks = lastDays(course(low), weekDays)
	s.low = course(low)
	if n.HasMax {
		var high [12]float64
		for m := range high {
			high[m] = float64(n.Max[m])
		}
		s.high, s.air = course(high), course(air)
		s.soil = lastDays(s.air, soilDays)
	}
}

// normalMeans is the mean of minima, or maxima, over months from-to in each calendar
// year first-last: the normals' own in the years behind them, in all where those are not
// known, NaN without normals. A region of tables that do not say their years has one year
// that stands for all.
func (s *Station) normalMeans(maxima bool, from, to, first, last int) []float64 {
	out := unknown(max(1, last-first+1))
	n := s.Table.Normals
	if n == nil || maxima && !n.HasMax {
		return out
	}
	monthly := n.Min
	if maxima {
		monthly = n.Max
	}
	for i := range out {
		if y := first + i; n.From == 0 || last < first || y >= n.From && y <= n.To {
			out[i] = monthsMean(monthly, from, to)
		}
	}
	return out
}

// unknown is n values that are not known.
func unknown(n int) []float64 {
	out := make([]float64, max(0, n))
	for i := range out {
		out[i] = math.NaN()
	}
	return out
}

// monthsMean is the mean of the months from-to (1-12), each by its days.
func monthsMean(monthly [12]quantity.Celsius, from, to int) float64 {
	sum, days := 0.0, 0.0
	for m := from; m <= to; m++ {
		n := float64(quantity.DaysIn(2023, m))
		sum, days = sum+n*float64(monthly[m-1]), days+n
	}
	return sum / days
}

// lastDays is the mean of the last n days up to and including each slot of a year
// that repeats itself.
func lastDays(course []float64, n int) []float64 {
	out := make([]float64, len(course))
	for s := range out {
		for k := range n {
			out[s] += course[(s-k+len(course))%len(course)] / float64(n)
		}
	}
	return out
}

const weekDays = 7

// How dates of soil and of cold weeks, taken year by year, lie about the day on which
// the mean course crosses a temperature (days towards midsummer): so far on in half the
// years, and so much further for each deviate of rarer odds. Measured between 4 and 15 C
// on 28 records, seventeen of one mountain region: soil stayed above it from 2 days after
// its mean course did in the middle (1 before to 5 after in four of five), in one year of
// ten from 18 days after (12 to 23); the last week of nights as cold came 11 days after (5 to 19), in one
// year of ten 26 (17 to 40), the first in fall 7.5 days before (4 to 14) and 22; in the
// mountains 2 to 5 days more than that, so a little more is taken. No odds are published of
// either: these dates are estimates, good to soilError and weekError. Weeks swing by some
// weekReach about their mean: where the course stays further above, there is none so cold.
const (
	soilAfter, soilSpread = 1.8, 13.0 // days
	weekAfter, weekBefore = 13.0, 9.0 // days, in spring and in fall
	weekSpread            = 13.0      // days
	soilError, weekError  = 5.0, 8.0  // days, one standard error
	weekReach             = 5.0       // K
)

// said is what a station with a table says of one gate: the slot at which it opens in
// spring or closes in fall, infinite where it holds nothing back or never comes free;
// its sampling error in days; and in which share of years it can freeze in any month.
type said struct {
	slot, sampling, summers float64
	estimate                bool
}

// says answers for one series at threshold t; false where nothing is published that
// could.
func (s *Station) says(e record.Event, odds quantity.Odds, series Series, t quantity.Celsius, h quantity.Hemisphere) (said, bool) {
	rare := frost.Deviate(1 - float64(odds))
	switch {
	case series == Night:
		return s.saysNight(e, odds, t)
	case series == Week && s.weeks != nil:
		return said{slot: weekSlot(s.weeks, e, float64(t), rare, h), sampling: weekError, estimate: true}, true
	case series == Soil && !math.IsNaN(s.soil[0]) && e == record.Last:
		return said{slot: soilSlot(s.soil, float64(t), rare, h), sampling: soilError, estimate: true}, true
	case series == Hot && s.air != nil:
		return said{slot: hotSlot(s.high, hotMonths, e, float64(t), rare, h), sampling: hotMonths.error, estimate: true}, true
	case series == Month && s.air != nil:
		return said{slot: hotSlot(s.air, hotMonths, e, float64(t), rare, h), sampling: hotMonths.error, estimate: true}, true
	}
	return said{}, false
}

func (s *Station) saysNight(e record.Event, odds quantity.Odds, t quantity.Celsius) (said, bool) {
	a := s.dates.Date(e, t, odds)
	v := said{sampling: a.PlusMinus, summers: a.Midsummer, estimate: a.Estimate}
	switch a.State {
	case frost.Dated:
		v.slot = a.Exact
	case frost.AnyMonth:
		v.slot = 0
		if e == record.Last {
			v.slot = quantity.SlotsPerYear - 1
		}
	case frost.NoneNeeded:
		v.slot = free(e)
		return v, true
	default:
		return v, false
	}
	if e == record.First {
		v.slot += quantity.SlotsPerYear
	}
	return v, true
}

// free is the slot of an event that holds nothing back.
func free(e record.Event) float64 {
	if e == record.First {
		return never
	}
	return nothing
}

// soilSlot is when soil stays above t in the spring half of the year, which is
// followed from its beginning (1 February in the north) as records are.
func soilSlot(soil []float64, t, rare float64, h quantity.Hemisphere) float64 {
	start := int(fromOther(0, h))
	for s := start; s < start+len(soil); s++ {
		if soil[s%len(soil)] < t {
			continue
		}
		if s == start {
			return float64(start)
		}
		return math.Max(float64(start), float64(s)+soilAfter+soilSpread*rare)
	}
	return never
}

// weekSlot is the last week of nights at or below t in spring, or the first in fall.
func weekSlot(weeks []float64, e record.Event, t, rare float64, h quantity.Hemisphere) float64 {
	coldest := math.Inf(1)
	for _, w := range weeks {
		coldest = math.Min(coldest, w)
	}
	if coldest-t > weekReach {
		return free(e)
	}
	winter := int(midwinter(record.Last, h))
	if e == record.Last {
		cross := winter
		for s := winter; s < len(weeks); s++ {
			if weeks[s] <= t {
				cross = s
			}
		}
		return math.Min(float64(cross)+weekAfter+weekSpread*rare, quantity.SlotsPerYear-1)
	}
	cross := winter
	for s := winter; s >= 0; s-- {
		if weeks[s] <= t {
			cross = s
		}
	}
	return quantity.SlotsPerYear + math.Max(float64(cross)-weekBefore-weekSpread*rare, 0)
}

// published fills in the part of a station with a table: the latest of its gates' own
// dates in spring, the earliest in fall. A gate of which nothing is published takes the
// date that the other stations say of it, other(g); where they cannot either, it is left
// out and noted in a. false where the station cannot tell frost at these odds, or is
// asked for nothing else than what it cannot tell.
func (c *Climate) published(a *Answer, t *tally, p *Part, e record.Event, odds quantity.Odds, gates []Gate, other func(g int) Answer) bool {
	s := c.Region.Stations[p.Station]
	var worst said
	decides, estimate, summers := -1, false, 0.0
	for g, gate := range gates {
		v, ok := s.says(e, odds, gate.Series, p.Thresholds[g], c.Region.Hemisphere)
		switch {
		case ok && gate.Days != nil && !math.IsInf(v.slot, 0):
			v.slot = slotOf(gate.Days.Of(frost.SafeSide(v.slot, e)))
		case !ok && (gate.Series == Night || len(gates) == 1):
			return false
		case !ok:
			if v, ok = saidBy(other(g), e); !ok {
				a.leaveOut(gate.Series)
				continue
			}
		}
		estimate, summers = estimate || v.estimate, math.Max(summers, v.summers)
		if decides < 0 || e == record.Last && v.slot > worst.slot || e == record.First && v.slot < worst.slot {
			worst, decides = v, g
		}
	}
	if decides < 0 {
		return false
	}
	p.Slot, p.Sampling, p.Used = worst.slot, worst.sampling, s.Table.Years
	t.weight += p.Weight
	t.summers += p.Weight * summers
	t.votes[decides] += p.Weight
	a.Estimate = a.Estimate || estimate
	a.Apart = a.Apart || len(gates) > 1
	return true
}

// saidBy is an answer of other stations as one of this one's gates.
func saidBy(a Answer, e record.Event) (said, bool) {
	v := said{slot: a.Exact, sampling: float64(a.PlusMinus), estimate: a.Estimate}
	switch a.State {
	case NotKnown:
		return v, false
	case NoneNeeded:
		v.slot = free(e)
	case Never:
		v.slot = -free(e)
	case AnyMonth:
		v.slot, v.summers = quantity.SlotsPerYear-1, 1
		if e == record.First {
			v.slot = quantity.SlotsPerYear
		}
	}
	return v, true
}

func (a *Answer) leaveOut(s Series) {
	if !slices.Contains(a.LeftOut, s) {
		a.LeftOut = append(a.LeftOut, s)
	}
}

// Telling is how well a region can say when a series passes a threshold.
type Telling uint8

// ToldNot: no station can. ToldByMeans: by the curve through monthly normals, as an
// estimate. ToldByDays: by days, or odds, that were counted.
const (
	ToldNot Telling = iota
	ToldByMeans
	ToldByDays
)

// Tells says how well the best station of the region can tell of a series.
func (c *Climate) Tells(series Series) Telling {
	best := ToldNot
	for _, s := range c.Region.Stations {
		switch {
		case series == Night, s.Table == nil && s.tells(series):
			return ToldByDays
		case s.Table != nil && (series == Week && s.weeks != nil || series.rises() && s.air != nil):
			best = ToldByMeans
		}
	}
	return best
}

// Basis says what a band's dates are made from.
type Basis struct {
	Records int // stations with a daily record
	Tables  int // stations with a published table
	Typed   int // of those, stations of which average dates were typed
}

// Basis counts the region's stations by what they answer from.
func (r *Region) Basis() Basis {
	var b Basis
	for _, s := range r.Stations {
		switch {
		case s.Table == nil:
			b.Records++
		default:
			b.Tables++
			if s.Table.Typed {
				b.Typed++
			}
		}
	}
	return b
}

// Behind is the rows of a station's table from which its date of a night gate at
// threshold t is made; nil for a station with a record.
func (r *Region) Behind(station int, e record.Event, t quantity.Celsius, odds quantity.Odds) []record.FreezeRow {
	s := r.Stations[station]
	if s.Table == nil {
		return nil
	}
	return s.dates.Behind(e, t, odds)
}
