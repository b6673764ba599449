package plan

import (
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// span is how many days a crop needs from an action to its first harvest, early
// and late kinds.
type span struct {
	low, high int
	known     bool
	why       []Reason

	usual [2]Bound // the first start in open ground before hot weather was looked at, careful and half
}

// fromSowing and fromSetOut count days to harvest from the action they are named
// for. A row that counts from the other action is carried over by the weeks inside:
// a sowing outside is behind a plant set out by as many; a plant set out is ahead of
// a sowing by half the fewest weeks that it may have had, for plants in pots grow
// slowly and stand still when they are moved (half: common practice, no source).
// Where the weeks are not known the span is not known either.
func fromSowing(c *catalog.Crop) span {
	s := spanOf(c)
	if !c.DaysFromSetOut {
		return s
	}
	return s.carried(&c.WeeksInsideLow, &c.WeeksInsideHigh, +7)
}

func fromSetOut(c *catalog.Crop) span {
	s := spanOf(c)
	if c.DaysFromSetOut {
		return s
	}
	return s.carried(&c.WeeksInsideLow, &c.WeeksInsideLow, -7.0/2)
}

func spanOf(c *catalog.Crop) span {
	low, a := c.DaysLow.Get()
	high, b := c.DaysHigh.Get()
	return span{low: low, high: high, known: a && b, why: []Reason{daysReason(&c.DaysHigh)}}
}

// carried moves both ends by weeks of days each, at least to one day. The days of
// the reason are those of the slow kinds as carried, the weeks follow it.
func (s span) carried(low, high *figure.Of[float64], days float64) span {
	a, x := low.Get()
	b, y := high.Get()
	if !s.known || !x || !y {
		return span{}
	}
	s.low = max(1, s.low+int(math.Ceil(days*a)))
	s.high = max(1, s.high+int(math.Ceil(days*b)))
	s.why[0].Number = float64(s.high)
	s.why = append(s.why, Reason{Kind: ReasonWeeks, Number: b, Unit: UnitWeeks, Gate: Maturity, cell: &high.Cell})
	return s
}

func daysReason(f *figure.Of[int]) Reason {
	v, _ := f.Get()
	return Reason{Kind: ReasonDays, Number: float64(v), Unit: UnitDays, Gate: Maturity, cell: &f.Cell}
}

// TooShort is why a start outside is too late: the days of the slow kinds, which decide,
// those of the quick ones, and whether these would still be ready in time.
type TooShort struct {
	Slow, Quick int
	QuickFits   bool
}

// TooShort is that of a window; false where there is a start, or something else than days
// to harvest leaves none (no safe day at all, too little warmth).
func (w Window) TooShort(c *catalog.Crop) (TooShort, bool) {
	s := fromSowing(c)
	if w.Action == SetOut {
		s = fromSetOut(c)
	}
	if w.From.State != Dated || w.To.State != Never || w.To.Gate != Maturity && w.To.Gate != Light || !s.known {
		return TooShort{}, false
	}
	end := w.To.Slot + quantity.Slot(s.high)
	return TooShort{s.high, s.low, w.From.Slot+quantity.Slot(s.low) <= end}, true
}
