package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// slack absorbs the rounding error of ranks and of weights that sum to 1.
const slack = 1e-9

// fewest is how many usable years a station must have to be heard at these odds;
// frost says why.
func fewest(odds quantity.Odds) int {
	if odds != quantity.Half {
		return frost.FewYears
	}
	return frost.LeastYears
}

// quantile is the date at odds of harm from sorted yearly values, by frost's
// positions: Hazen from frost.FullYears, Weibull below; infinite where the odds
// fall among years without a date.
func quantile(sorted []float64, e record.Event, odds quantity.Odds) float64 {
	return valueAt(sorted, rankAt(len(sorted), e, odds))
}

// rankAt is the rank, from 1 to n, of the date at odds among n usable years.
func rankAt(n int, e record.Event, odds quantity.Odds) float64 {
	rule := frost.Rank(frost.Hazen)
	if n < frost.FullYears {
		rule = frost.Weibull
	}
	return min(max(rule(n, shareBefore(e, odds)), 1), float64(n))
}

// valueAt is the value at a rank from 1 to n, linear between neighbours. Between a
// date and a year without one (infinite) the date stands, as in frost.
func valueAt(sorted []float64, rank float64) float64 {
	lower, upper, part := neighbours(rank)
	below, above := sorted[lower-1], sorted[upper-1]
	switch {
	case math.IsInf(below, 0):
		return above
	case math.IsInf(above, 0):
		return below
	}
	return below + (above-below)*part
}

// neighbours are the whole ranks between which a rank lies, and how far from the
// first to the second; the same rank twice where it is whole but for rounding.
func neighbours(rank float64) (lower, upper int, part float64) {
	lower, upper = int(math.Floor(rank+slack)), int(math.Ceil(rank-slack))
	if lower == upper {
		return lower, upper, 0
	}
	return lower, upper, rank - float64(lower)
}

// shareBefore is the share of years whose value lies before the date: odds of
// harm count the years after it in spring and before it in fall.
func shareBefore(e record.Event, odds quantity.Odds) float64 {
	if e == record.Last {
		return 1 - float64(odds)
	}
	return float64(odds)
}

// samplingError is how far (days, one standard error) the quantile may be off
// because only so many years were seen. As in frost: how many of n years fall
// before the true date is a binomial count, so its rank may be off by
// sqrt(n q (1-q)); the error is half the distance between the values that far to
// either side, or the whole distance to one where the other is no date. NaN where
// neither is.
func samplingError(sorted []float64, e record.Event, odds quantity.Odds) float64 {
	n, q := float64(len(sorted)), shareBefore(e, odds)
	rank, spread := rankAt(len(sorted), e, odds), math.Sqrt(n*q*(1-q))
	at := func(rank float64) (v float64, ok bool) {
		if rank < 1-slack || rank > n+slack {
			return 0, false
		}
		v = valueAt(sorted, rank)
		return v, !math.IsInf(v, 0)
	}
	middle, _ := at(rank)
	low, okLow := at(rank - spread)
	high, okHigh := at(rank + spread)
	switch {
	case okLow && okHigh:
		return (high - low) / 2
	case okLow:
		return middle - low
	case okHigh:
		return high - middle
	}
	return math.NaN()
}
