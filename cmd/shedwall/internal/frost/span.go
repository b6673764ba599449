package frost

import (
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Span is the frost-free span of one summer: Days from the last freeze of one
// season year to the first freeze of the next, counted as first minus last, so
// that 120 and 266 make 146. State is Unusable where either end is. NoFreeze
// means that one end did not freeze at all: the span runs through a winter and is
// longer than any counted one; Days is then 0.
type Span struct {
	State OutcomeState
	Days  int
}

// SpanAfter is the frost-free span, at threshold t, of the summer that follows
// the last freeze of season year season. t must be rounded by RoundWarm.
func (c Staircases) SpanAfter(season int, t quantity.Hundredths) Span {
	return c.spanAfter(season, t, t)
}

// spanAfter is the same with a threshold for each end.
func (c Staircases) spanAfter(season int, spring, fall quantity.Hundredths) Span {
	last, first := c.Year(season, record.Last, spring), c.Year(season+1, record.First, fall)
	switch {
	case last.State == Unusable || first.State == Unusable:
		return Span{}
	case last.State == NoFreeze || first.State == NoFreeze:
		return Span{State: NoFreeze}
	}
	from := c.hemisphere.DayAt(season, last.Slot)
	to := c.hemisphere.DayAt(season+1, first.Slot)
	return Span{State: Date, Days: int(to - from)}
}

// MedianSpan is the median frost-free span, in days, of the summers whose last
// freeze belongs to the calendar years, from how many summers, and what kind of
// answer it is:
//
//   - Dated: Days is the median, half days rounded down to the safe side;
//   - NoneNeeded: in half the years or more a winter passes without a freeze;
//   - NeverFreezes: in all of them;
//   - TooFewYears: fewer than LeastYears usable summers.
type MedianSpan struct {
	State    AnswerState
	Days     int
	Used     int
	Estimate bool // fewer than FullYears summers
}

// FrostFree is the median frost-free span at threshold t over calendar years.
func (c Staircases) FrostFree(years Years, t quantity.Hundredths) MedianSpan {
	first, last := years.Seasons(record.Last, c.hemisphere)
	spans := make([]Span, 0, years.Len())
	for season := first; season <= last; season++ {
		spans = append(spans, c.SpanAfter(season, t))
	}
	return medianOf(spans)
}

func medianOf(spans []Span) MedianSpan {
	var days []float64
	without := 0
	for _, s := range spans {
		switch s.State {
		case Date:
			days = append(days, float64(s.Days))
		case NoFreeze:
			without++
			days = append(days, math.Inf(1))
		}
	}
	m := MedianSpan{Used: len(days), Estimate: len(days) < FullYears}
	if m.Used < LeastYears {
		m.State = TooFewYears
		return m
	}
	if without == m.Used {
		m.State = NeverFreezes
		return m
	}
	slices.Sort(days)
	median := Quantile(days, 0.5, Hazen)
	if math.IsInf(median, 1) || math.IsNaN(median) {
		m.State = NoneNeeded
		return m
	}
	m.State, m.Days = Dated, int(math.Floor(median+rankSlack))
	return m
}
