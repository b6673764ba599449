package frost

import (
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// The present climate. Thirty plain years promise too many freezes where nights
// have grown warmer, and too few where they have grown colder. TrendShare of the
// fitted trend of the season's mean minimum, as a shift of the threshold in each past
// year, up to the last of the years used and by at most MostDrift, kept the promise
// best (rolling back-test on 33 stations, one year ahead: promised 10 %, passed in
// 9-12 %; promised 50 %, passed in 45-49 %; plain years 7-11 and 41-45). Winter lows
// are moved the same way by their own trend.
const (
	TrendShare                  = 0.5
	MostDrift  quantity.Kelvins = 1
)

// TrendMonths are the months whose mean minimum tells the trend: spring March-May,
// fall September-November, half a year later in the south.
func TrendMonths(e record.Event, h quantity.Hemisphere) (from, to int) {
	if (e == record.Last) == (h == quantity.North) {
		return 3, 5
	}
	return 9, 11
}

// MonthMeans is the mean of a series (C) over the months from-to (1-12, from not
// after to) of each of the calendar years; NaN where more than a fifth of the days
// are missing.
func (s Series) MonthMeans(from, to int, years Years) []float64 {
	out := make([]float64, years.Len())
	for i := range out {
		y := years.From + i
		a, b := quantity.DayOf(y, from, 1), quantity.DayOf(y, to, quantity.DaysIn(y, to))
		sum, n := 0, 0
		for d := max(a, s.Start); d <= min(b, s.End()-1); d++ {
			if v := s.Values[d-s.Start]; v.Known() {
				sum += int(v)
				n++
			}
		}
		out[i] = math.NaN()
		if 5*n >= 4*int(b-a+1) {
			out[i] = float64(sum) / float64(n) / 100
		}
	}
	return out
}

// Trend is the least-squares slope of yearly values (K a year), NaN = not known;
// false with fewer than FullYears known values (tested with windows of 20, 30 and 40).
func Trend(values []float64) (slope float64, ok bool) {
	var n, sx, sy float64
	for k, v := range values {
		if !math.IsNaN(v) {
			n, sx, sy = n+1, sx+float64(k), sy+v
		}
	}
	if n < FullYears {
		return 0, false
	}
	var sxx, sxy float64
	for k, v := range values {
		if !math.IsNaN(v) {
			dx := float64(k) - sx/n
			sxx, sxy = sxx+dx*dx, sxy+dx*(v-sy/n)
		}
	}
	return sxy / sxx, true
}

// Drift is how much a threshold is moved in each year (K), so that past nights
// count as they would fall at present:
//
//	drift(u) = -TrendShare * slope * (last - u)   within +-MostDrift
//
// values are the season's mean minima of the same years, u counts them and last is
// the last of them. All 0 where Trend knows no slope.
func Drift(values []float64) []quantity.Kelvins {
	out := make([]quantity.Kelvins, len(values))
	slope, ok := Trend(values)
	if !ok {
		return out
	}
	for k := range out {
		d := quantity.Kelvins(-TrendShare * slope * float64(len(values)-1-k))
		out[k] = max(-MostDrift, min(MostDrift, d))
	}
	return out
}

// Moved is a threshold as readings are compared with it, moved by a year's drift to
// the nearest step of the readings. To round to the warmer side once more would let
// no drift below a whole step count in records of whole degrees where nights get warmer,
// and each drift count as a step where they get colder.
func Moved(compared quantity.Hundredths, by quantity.Kelvins, step record.StepKind) quantity.Hundredths {
	if step == record.WholeF {
		f := math.Round(compared.Celsius().Fahrenheit()) + math.Round(by.Fahrenheit())
		return clampHundredths(float64(quantity.FromFahrenheit(f)) * 100)
	}
	size := stepSize(step)
	return clampHundredths(float64(compared) + math.Round(float64(by)*100/size)*size)
}

// AtPresent is yearly winter lows (C, NaN = not known) as they would fall at
// present: each less its Drift. The lows are not changed.
func AtPresent(lows []float64) []float64 {
	out := slices.Clone(lows)
	for k, d := range Drift(lows) {
		out[k] -= float64(d)
	}
	return out
}

// Safer is the answer by which fewer plants are lost: not knowing before a month
// without frost, no date before a date, a date before no need of one, the later date
// in spring, the earlier in fall. a where they are alike.
func Safer(a, b Answer, e record.Event) Answer {
	rank := func(x Answer) int {
		return [...]int{NotKnown: 5, TooFewYears: 4, AnyMonth: 3, Dated: 2, NoneNeeded: 1, NeverFreezes: 0}[x.State]
	}
	switch {
	case rank(b) > rank(a):
		return b
	case rank(b) == rank(a) && a.State == Dated && (e == record.Last && b.Exact > a.Exact || e == record.First && b.Exact < a.Exact):
		return b
	}
	return a
}

// Present is a series climbed, with what is needed to ask it for dates of the
// present climate from a range of calendar years.
type Present struct {
	Staircases
	Years Years
	Plain bool // take the years as they were

	step  record.StepKind
	trend [2]trend
	drift [2][]quantity.Kelvins
}

type trend struct {
	slope float64 // K a year
	known bool
}

// NewPresent climbs a series and fits the trends of the years' springs and falls.
func NewPresent(s Series, years Years, h quantity.Hemisphere) Present {
	p := Present{Staircases: Climb(s, h), Years: years, step: s.Step}
	for _, e := range []record.Event{record.Last, record.First} {
		from, to := TrendMonths(e, h)
		means := s.MonthMeans(from, to, years)
		p.drift[e] = Drift(means)
		p.trend[e].slope, p.trend[e].known = Trend(means)
	}
	return p
}

// TrendOf is the trend of the mean minima of an event's season (K for each ten
// years); false where the years are too few to tell.
func (p Present) TrendOf(e record.Event) (perDecade quantity.Kelvins, ok bool) {
	return quantity.Kelvins(10 * p.trend[e].slope), p.trend[e].known
}

// Date is the printed date of an event at odds, for a threshold not yet rounded:
// half-and-half dates are the shifted ones, careful dates the safer of plain and
// shifted. With Plain set all are plain.
func (p Present) Date(e record.Event, t quantity.Celsius, odds quantity.Odds) Answer {
	switch {
	case p.Plain:
		return p.PlainDate(e, t, odds)
	case odds >= quantity.Half:
		return p.ShiftedDate(e, t, odds)
	}
	return Safer(p.PlainDate(e, t, odds), p.ShiftedDate(e, t, odds), e)
}

// PlainDate is the date of the years as they were.
func (p Present) PlainDate(e record.Event, t quantity.Celsius, odds quantity.Odds) Answer {
	return p.Odds(p.Years, e, RoundWarm(t, p.step), odds)
}

// ShiftedDate is the date of the present climate.
func (p Present) ShiftedDate(e record.Event, t quantity.Celsius, odds quantity.Odds) Answer {
	var buffer [128]Outcome
	outcomes := buffer[:0]
	first, last := p.Years.Seasons(e, p.hemisphere)
	compared := RoundWarm(t, p.step)
	for season := first; season <= last; season++ {
		outcomes = append(outcomes, p.Year(season, e, Moved(compared, p.drift[e][season-first], p.step)))
	}
	return QuantileOf(outcomes, e, odds)
}

// Span is the median frost-free span of the years at a threshold not yet rounded, in
// the present climate unless Plain is set.
func (p Present) Span(t quantity.Celsius) MedianSpan {
	compared := RoundWarm(t, p.step)
	if p.Plain {
		return p.FrostFree(p.Years, compared)
	}
	first, last := p.Years.Seasons(record.Last, p.hemisphere)
	spans := make([]Span, 0, p.Years.Len())
	for season := first; season <= last; season++ {
		at := func(e record.Event) quantity.Hundredths { return Moved(compared, p.drift[e][season-first], p.step) }
		spans = append(spans, p.spanAfter(season, at(record.Last), at(record.First)))
	}
	return medianOf(spans)
}

// WinterLows is the lowest value (C) of the winter of each of the years, NaN where
// WinterLow knows none.
func (c Staircases) WinterLows(years Years) []float64 {
	out := make([]float64, 0, years.Len())
	first, last := years.Winters(c.hemisphere)
	for season := first; season <= last; season++ {
		v := math.NaN()
		if low, ok := c.WinterLow(season); ok {
			v = float64(low.Celsius())
		}
		out = append(out, v)
	}
	return out
}

// ColdestNight is the mean of the years' winter lows as they were and as they would
// be at present, from how many winters. With no winter known the means mean nothing.
func (p Present) ColdestNight() (plain, now quantity.Celsius, used int) {
	lows := p.WinterLows(p.Years)
	mean, used := meanOf(lows)
	shifted, _ := meanOf(AtPresent(lows))
	return quantity.Celsius(mean), quantity.Celsius(shifted), used
}

// meanOf is the mean of the values that are known, and how many those are; 0 for none.
func meanOf(values []float64) (mean float64, known int) {
	for _, v := range values {
		if !math.IsNaN(v) {
			mean, known = mean+v, known+1
		}
	}
	return mean / float64(max(known, 1)), known
}
