package cover

import (
	"math"

	"shedwall/cmd/shedwall/internal/record"
)

// Clocks are compared on a grid of half hours.
const (
	clockStep     = 30 // minutes
	clockReach    = 24 // steps to either side: twelve hours
	clockChange   = 2  // steps over which a change is taken: an hour
	clockFill     = 6  // steps of gap that are drawn straight
	clockDays     = 3  // days in common below which nothing is said
	clockSureness = 0.3
)

// ClockAhead is by how many minutes the inside clock seems to be ahead of the outside
// one (behind where below 0), to half an hour, and whether that can be told. Both
// loggers see the same mornings and evenings: the clock is off by as much as one
// series of hourly changes must be moved to run most like the other (greatest
// correlation, moved by up to twelve hours either way). A cover that is slow to warm
// may look an hour late. Not sure with less than three days in common, or where the
// two run alike nowhere.
func ClockAhead(inside, outside record.Logger) (minutes int, sure bool) {
	if len(inside.Readings) == 0 || len(outside.Readings) == 0 {
		return 0, false
	}
	from := min(inside.Readings[0].At, outside.Readings[0].At)
	to := max(inside.Readings[len(inside.Readings)-1].At, outside.Readings[len(outside.Readings)-1].At)
	a, b := changes(halfHours(inside, from, to)), changes(halfHours(outside, from, to))
	best, at := -2.0, 0
	for lag := -clockReach; lag <= clockReach; lag++ {
		r, n := correlation(a, b, lag)
		if n < clockDays*24*60/clockStep {
			continue
		}
		if r > best+1e-9 || math.Abs(r-best) <= 1e-9 && abs(lag) < abs(at) {
			best, at = r, lag
		}
	}
	return at * clockStep, best >= clockSureness
}

func abs(n int) int { return max(n, -n) }

// halfHours is a logger's mean temperature of each half hour, NaN in gaps of over
// three hours.
func halfHours(l record.Logger, from, to record.Moment) []float64 {
	n := int(to-from)/clockStep + 1
	sum, count := make([]float64, n), make([]float64, n)
	for _, r := range l.Readings {
		i := int(r.At-from) / clockStep
		sum[i], count[i] = sum[i]+float64(r.Value.Celsius()), count[i]+1
	}
	last := -1
	for i := range sum {
		if count[i] == 0 {
			sum[i] = math.NaN()
			continue
		}
		sum[i] /= count[i]
		if last >= 0 && i-last <= clockFill {
			for k := last + 1; k < i; k++ {
				sum[k] = sum[last] + (sum[i]-sum[last])*float64(k-last)/float64(i-last)
			}
		}
		last = i
	}
	return sum
}

// changes is how much a series changes within an hour from each of its values.
func changes(v []float64) []float64 {
	out := make([]float64, max(0, len(v)-clockChange))
	for i := range out {
		out[i] = v[i+clockChange] - v[i]
	}
	return out
}

// correlation of a[i+lag] with b[i] where both are known, and of how many pairs.
func correlation(a, b []float64, lag int) (r float64, n int) {
	var sa, sb, saa, sbb, sab float64
	for i := range b {
		j := i + lag
		if j < 0 || j >= len(a) || math.IsNaN(a[j]) || math.IsNaN(b[i]) {
			continue
		}
		n++
		sa, sb, saa, sbb, sab = sa+a[j], sb+b[i], saa+a[j]*a[j], sbb+b[i]*b[i], sab+a[j]*b[i]
	}
	if n == 0 {
		return 0, 0
	}
	k := float64(n)
	va, vb := saa-sa*sa/k, sbb-sb*sb/k
	if va <= 0 || vb <= 0 {
		return 0, n
	}
	return (sab - sa*sb/k) / math.Sqrt(va*vb), n
}
