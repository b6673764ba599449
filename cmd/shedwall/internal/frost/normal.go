package frost

import "math"

// Normal describes dates (in days or slots) by a normal distribution: what
// published tables and typed average dates are read with. Odds from a record are
// counted instead: see Staircases.Odds.
type Normal struct{ Mean, SD float64 }

// FitNormal is the mean and the standard deviation (divisor n - 1) of values.
// SD is NaN for fewer than two values, both are NaN for none.
func FitNormal(values []float64) Normal {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	n := float64(len(values))
	mean := sum / n
	squares := 0.0
	for _, v := range values {
		squares += (v - mean) * (v - mean)
	}
	if len(values) < 2 {
		return Normal{mean, math.NaN()}
	}
	return Normal{mean, math.Sqrt(squares / (n - 1))}
}

// Population is the same distribution with the deviation of n values taken as a
// whole population (divisor n), as some published fits do.
func (d Normal) Population(n int) Normal {
	return Normal{d.Mean, d.SD * math.Sqrt(float64(n-1)/float64(n))}
}

// At is the value below which a share q of the distribution lies (0 < q < 1).
func (d Normal) At(q float64) float64 { return d.Mean + Deviate(q)*d.SD }

// Above is the share of the distribution at or above v.
func (d Normal) Above(v float64) float64 { return math.Erfc((v-d.Mean)/(d.SD*math.Sqrt2)) / 2 }

// StandardError is the sampling error (same unit as SD) of the quantile q fitted
// to n values: s sqrt((1 + z^2/2)/n).
func (d Normal) StandardError(q float64, n int) float64 {
	z := Deviate(q)
	return d.SD * math.Sqrt((1+z*z/2)/float64(n))
}

// Deviate is the standard normal deviate of q: 1.2816 for 0.9. Infinite at 0 and 1.
func Deviate(q float64) float64 { return math.Sqrt2 * math.Erfinv(2*q-1) }

// LateWithOdds is the date after which a freeze comes with chance odds, where
// only the share freezing (0-1) of years has a freeze at all and the dates of
// those years follow d:
//
//	share (1 - F(date)) = odds
//
// false where odds is not below share: no date is that likely. Thom 1959,
// Monthly Weather Review 87, 136-144 (formula from memory) [source thom59].
func (d Normal) LateWithOdds(odds, freezing float64) (float64, bool) {
	if odds >= freezing {
		return 0, false
	}
	return d.At(1 - odds/freezing), true
}
