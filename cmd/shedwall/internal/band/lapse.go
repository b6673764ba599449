package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Lapse rates where the guide's own stations cannot tell. Minima: 4.5 K for each
// 1,000 m, within the 3.9-5.2 that Minder et al. 2010 (J. Geophys. Res. 115,
// D14122) found for annual means and close to Bandyopadhyay et al. 2014; maxima:
// the 6.5 of the standard atmosphere, which Blandford et al. 2008 (J. Appl.
// Meteorol. Climatol. 47) confirmed for maxima and rejected for minima
// [source minder10 bandyopadhyay14 blandford08].
const (
	DefaultLapse    quantity.KelvinsPerMetre = 0.0045
	DefaultMaxLapse quantity.KelvinsPerMetre = 0.0065
)

// A slope is fitted only from stations enough and apart enough to bear one.
const (
	leastStations                 = 4
	leastRelief   quantity.Metres = 300
)

// level is one station's mean temperature for an event, with what is declared
// about its place.
type level struct {
	elevation quantity.Metres
	declared  quantity.Kelvins // position default or the publisher's offset
	mean      quantity.Celsius
}

// fitLapse is half the least-squares slope of the stations' means on elevation,
// declared offsets taken out, and half fallback; fallback alone where there are fewer
// than four stations with a mean, or they span less than 300 m. The half keeps a few odd
// stations from inventing a lapse (measured on 17 stations: 8.4 days' error
// against 9.0 with the bare slope of five stations).
func fitLapse(levels []level, fallback quantity.KelvinsPerMetre) quantity.KelvinsPerMetre {
	var n, sz, st, lo, hi float64
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, l := range levels {
		z := float64(l.elevation)
		n, sz, st = n+1, sz+z, st+float64(l.mean)-float64(l.declared)
		lo, hi = min(lo, z), max(hi, z)
	}
	if n < leastStations || hi-lo < float64(leastRelief) {
		return fallback
	}
	var szz, szt float64
	for _, l := range levels {
		dz := float64(l.elevation) - sz/n
		szz += dz * dz
		szt += dz * (float64(l.mean) - float64(l.declared) - st/n)
	}
	return (quantity.KelvinsPerMetre(-szt/szz) + fallback) / 2
}

// seasonMonths are the months whose mean minimum stands for an event: spring
// March-June, fall September-November, half a year later in the south.
func seasonMonths(e record.Event, h quantity.Hemisphere) (from, to int) {
	switch {
	case e == record.Last && h == quantity.North:
		return 3, 6
	case e == record.Last:
		return 9, 12
	case h == quantity.North:
		return 9, 11
	}
	return 3, 5
}

// stationLevels turns each station's yearly means into one level per station on a
// common footing, so that a record of warm late years does not make a station
// look warm: means = station + year, fitted by alternating averages. Stations
// without any year get NaN; stations that share no year with the others, directly or
// through third ones, keep their plain mean beside theirs. byStation[i][k] is year k;
// NaN = missing.
func stationLevels(byStation [][]float64) []float64 {
	station := make([]float64, len(byStation))
	years := 0
	for _, s := range byStation {
		years = max(years, len(s))
	}
	year := make([]float64, years) // 0 in the first round: levels begin as plain means
	const rounds, settled = 1000, 1e-4
	for round := range rounds {
		moved := round == 0
		for i, s := range byStation {
			level := average(len(s), func(k int) float64 { return s[k] - year[k] })
			moved = moved || math.Abs(level-station[i]) > settled // false for NaN
			station[i] = level
		}
		if !moved {
			break
		}
		for k := range year {
			year[k] = average(len(byStation), func(i int) float64 {
				if k >= len(byStation[i]) {
					return math.NaN()
				}
				return byStation[i][k] - station[i]
			})
		}
	}
	// The split between station and year is free up to a constant: put the mean
	// of the year effects into the stations.
	if mean := average(years, func(k int) float64 { return year[k] }); !math.IsNaN(mean) {
		for i := range station {
			station[i] += mean
		}
	}
	return station
}

// average is the mean of n values without those that are NaN; NaN for none.
func average(n int, value func(i int) float64) float64 {
	sum, have := 0.0, 0.0
	for i := range n {
		if v := value(i); !math.IsNaN(v) {
			sum, have = sum+v, have+1
		}
	}
	return sum / have
}
