package frost

import "math"

// Rank is a plotting position turned round: the place, counted from 1 and not
// always whole, that the quantile q (0-1) takes among n sorted values. Rules
// differ in how much they trust the outermost values; each is named so that a
// page can say which one stands behind a date.
type Rank func(n int, q float64) float64

// Hazen puts value i of n at (i - 0.5)/n: rank = q n + 0.5.
func Hazen(n int, q float64) float64 { return q*float64(n) + 0.5 }

// Weibull puts value i of n at i/(n + 1): rank = q (n + 1). It reaches further
// out than Hazen, as one should with few years.
func Weibull(n int, q float64) float64 { return q * float64(n+1) }

// Cunnane puts value i of n at (i - 0.4)/(n + 0.2): rank = q (n + 0.2) + 0.4
// (Cunnane 1978) [source cunnane78].
func Cunnane(n int, q float64) float64 { return q*(float64(n)+0.2) + 0.4 }

// Type7 puts value i of n at (i - 1)/(n - 1): rank = q (n - 1) + 1, what
// spreadsheets do. It never reaches beyond the values and so promises too much;
// it is here for comparison.
func Type7(n int, q float64) float64 { return q*float64(n-1) + 1 }

// rankSlack absorbs the rounding error of a rank, so that rank 27 of 30 is value
// 27 and not a hair past it.
const rankSlack = 1e-9

// Quantile is the quantile q of sorted values by a rule, linear between
// neighbours; ranks outside 1..n give the outermost value. NaN for no values.
func Quantile(sorted []float64, q float64, rule Rank) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	i, part := place(rule(len(sorted), q), len(sorted))
	if part == 0 {
		return sorted[i]
	}
	return sorted[i] + part*(sorted[i+1]-sorted[i])
}

// place turns a rank into an index from 0 and the part of the way to the next
// index, kept within 0..n-1.
func place(rank float64, n int) (i int, part float64) {
	rank = min(max(rank, 1), float64(n))
	whole := math.Floor(rank + rankSlack)
	part = rank - whole
	if part < rankSlack || int(whole) == n {
		part = 0
	}
	return int(whole) - 1, part
}

// ChanceAtLeast is the share of values to be expected at or above v, by Weibull
// positions with tied values at their mean rank: rank/(n + 1), ranks counted
// from the highest. For last freezes in days it is the chance of a freeze on that
// day or later. v must be one of the values; otherwise, and for no values, NaN.
func ChanceAtLeast(values []float64, v float64) float64 {
	above, ties := 0, 0
	for _, x := range values {
		switch {
		case x > v:
			above++
		case x == v:
			ties++
		}
	}
	if ties == 0 {
		return math.NaN()
	}
	return (float64(above) + float64(ties+1)/2) / float64(len(values)+1)
}

// AtLeastOnce is the chance that something of yearly chance p happens at least
// once in n years, the years being independent: 1 - (1 - p)^n.
func AtLeastOnce(p float64, n int) float64 { return 1 - math.Pow(1-p, float64(n)) }
