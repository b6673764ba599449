package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// fewest is how many usable years a station must have to be heard at these odds;
// frost says why.
func fewest(odds quantity.Odds) int {
	if odds < quantity.Half {
		return frost.FewYears
	}
	return frost.LeastYears
}

// quantile is the date at odds of harm from sorted yearly values, by frost's
// positions: Hazen from frost.FullYears, Weibull below. Between a date and a year
// without one (infinite) the date stands, as in frost.
func quantile(sorted []float64, e record.Event, odds quantity.Odds) float64 {
	lower, upper, part := Positions(len(sorted), e, odds)
	below, above := sorted[lower-1], sorted[upper-1]
	switch {
	case math.IsInf(below, 0):
		return above
	case math.IsInf(above, 0):
		return below
	}
	return below + (above-below)*part
}

// shareBefore is the share of years whose value lies before the date: odds of
// harm count the years after it in spring and before it in fall.
func shareBefore(e record.Event, odds quantity.Odds) float64 {
	if e == record.Last {
		return 1 - float64(odds)
	}
	return float64(odds)
}

// samplingError is how far (days) the quantile may be off because only so many
// years were seen: half the distance between the values one binomial standard
// error, sqrt(n q (1-q)) ranks, to either side. NaN where those are not dates.
func samplingError(sorted []float64, e record.Event, odds quantity.Odds) float64 {
	n := float64(len(sorted))
	q := shareBefore(e, odds)
	half := math.Sqrt(n * q * (1 - q))
	at := func(rank float64) float64 {
		return sorted[int(math.Round(min(max(rank, 1), n)))-1]
	}
	centre := q*n + 0.5
	d := (at(centre+half) - at(centre-half)) / 2
	if math.IsInf(d, 0) {
		return math.NaN()
	}
	return d
}
