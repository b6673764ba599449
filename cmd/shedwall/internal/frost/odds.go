package frost

import (
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// How many usable years odds need. From FullYears on, dates stand by Hazen
// positions. From FewYears on, Weibull positions and the word "estimate". From
// LeastYears on only the half-and-half date, as an estimate; below it none.
const (
	FullYears  = 20
	FewYears   = 10
	LeastYears = 5
)

// AnswerState tells what kind of answer the odds allow.
type AnswerState uint8

// The kinds of answer. Only Dated has a date.
const (
	NotKnown     AnswerState = iota // nothing to answer from
	Dated                           // a date
	NoneNeeded                      // it freezes in fewer than this share of years
	NeverFreezes                    // in no usable year
	AnyMonth                        // freezes near midsummer in more than this share of years
	TooFewYears                     // too few usable years for odds this rare
)

func (s AnswerState) String() string {
	return [...]string{"not known", "date", "none needed", "never freezes", "any month", "too few years"}[s]
}

// Answer is the date at which an event carries given odds, or the reason why
// there is none. In State Dated:
//
//   - Exact is the slot before rounding, for blending stations at equal odds;
//   - Slot is the whole day on the safe side: later in spring, earlier in fall;
//   - PlusMinus is the sampling error in days, one standard error.
//
// Used years entered the odds, Without of them had no freeze, Unusable had too
// many missing days. Midsummer is the share of used years that reached the
// threshold near midsummer. Estimate marks answers from fewer than FullYears.
type Answer struct {
	State     AnswerState
	Exact     float64
	Slot      quantity.Slot
	PlusMinus float64

	Used, Without, Unusable int
	Midsummer               float64
	Estimate                bool
}

// Odds is the date of an event at odds in the given calendar years: the chance
// of value <= t after a last date or before a first date. t must be rounded by
// RoundWarm. See QuantileOf for the rules.
func (c Staircases) Odds(years Years, e record.Event, t quantity.Hundredths, odds quantity.Odds) Answer {
	var buffer [128]Outcome
	first, last := years.Seasons(e, c.hemisphere)
	return QuantileOf(c.Vector(buffer[:0], first, last, e, t), e, odds)
}

// QuantileOf is the date at given odds of harm (0 < odds < 1) from one outcome a
// year. Outcomes are not changed. The rules:
//
//   - Years without a freeze count: they sort before every last date and after
//     every first date. Where the odds fall among them, State is NoneNeeded.
//     Between such a year and a date, the date stands.
//   - Unusable years do not count. FullYears, FewYears and LeastYears say which
//     positions are used and which odds are refused; odds rarer than the positions
//     of n years reach are refused too.
//   - A threshold reached near midsummer in more than the share odds of years has
//     no date at these odds: over one year in ten no careful date, over half the
//     years no half-and-half date either.
func QuantileOf(outcomes []Outcome, e record.Event, odds quantity.Odds) Answer {
	var buffer [128]quantity.Slot
	dates := buffer[:0]
	var a Answer
	midsummers := 0
	for _, o := range outcomes {
		switch o.State {
		case Unusable:
			a.Unusable++
			continue
		case NoFreeze:
			a.Without++
		case Date:
			dates = append(dates, o.Slot)
		}
		a.Used++
		if o.Midsummer {
			midsummers++
		}
	}
	if a.Used > 0 {
		a.Midsummer = float64(midsummers) / float64(a.Used)
	}
	a.Estimate = a.Used < FullYears
	slices.Sort(dates)
	a.State = a.judge(dates, e, odds)
	return a
}

// judge fills in the date, if there is one, and says which state the answer has.
// dates are those of the years with a freeze, sorted.
func (a *Answer) judge(dates []quantity.Slot, e record.Event, odds quantity.Odds) AnswerState {
	switch {
	case a.Used < LeastYears, a.Used < FewYears && odds != quantity.Half:
		return TooFewYears
	case len(dates) == 0:
		return NeverFreezes
	case a.Midsummer > float64(odds):
		return AnyMonth
	}
	rule := Rank(Hazen)
	if a.Estimate {
		rule = Weibull
	}
	earlier, years := float64(odds), ranked{dates: dates, after: a.Without}
	if e == record.Last {
		earlier, years = 1-earlier, ranked{dates: dates, before: a.Without}
	}
	rank := rule(a.Used, earlier)
	if !years.holds(rank) {
		return TooFewYears
	}
	exact, ok := years.at(rank)
	if !ok {
		return NoneNeeded
	}
	a.Exact, a.Slot = exact, SafeSide(exact, e)
	a.PlusMinus = years.samplingError(rank, math.Sqrt(float64(a.Used)*earlier*(1-earlier)))
	return Dated
}

// SafeSide is the whole day on the safe side of an exact slot: the later one for
// a last freeze, the earlier one for a first.
func SafeSide(exact float64, e record.Event) quantity.Slot {
	if e == record.Last {
		return quantity.Slot(math.Ceil(exact - rankSlack))
	}
	return quantity.Slot(math.Floor(exact + rankSlack))
}

// ranked is the years of a record in order of date: before years without a freeze
// come first, after years without one come last.
type ranked struct {
	dates         []quantity.Slot
	before, after int
}

func (r ranked) len() int { return r.before + len(r.dates) + r.after }

// holds says whether a rank lies within 1..n.
func (r ranked) holds(rank float64) bool {
	return rank >= 1-rankSlack && rank <= float64(r.len())+rankSlack
}

// at is the date at a rank, linear between neighbours. Where one neighbour is a
// year without a freeze the other's date stands; false where both are.
func (r ranked) at(rank float64) (float64, bool) {
	i, part := place(rank, r.len())
	low, ok := r.date(i)
	if part == 0 {
		return low, ok
	}
	high, okHigh := r.date(i + 1)
	switch {
	case ok && okHigh:
		return low + part*(high-low), true
	case okHigh:
		return high, true
	}
	return low, ok
}

func (r ranked) date(i int) (float64, bool) {
	i -= r.before
	if i < 0 || i >= len(r.dates) {
		return 0, false
	}
	return float64(r.dates[i]), true
}

// samplingError is one standard error, in days, of the date at a rank. How many
// of n years fall on the near side of the true date is a binomial count; spread,
// its standard deviation sqrt(n q (1-q)), is how far the rank may be off. The error
// is half the distance between the dates that far below and above, or the whole
// distance on one side where the other has no date.
func (r ranked) samplingError(rank, spread float64) float64 {
	middle, _ := r.at(rank)
	low, okLow := r.at(rank - spread)
	high, okHigh := r.at(rank + spread)
	okLow, okHigh = okLow && r.holds(rank-spread), okHigh && r.holds(rank+spread)
	switch {
	case okLow && okHigh:
		return (high - low) / 2
	case okLow:
		return middle - low
	case okHigh:
		return high - middle
	}
	return 0
}
