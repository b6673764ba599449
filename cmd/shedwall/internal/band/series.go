package band

import (
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Series names a daily series whose thresholds gate a date.
type Series uint8

// Night is the daily minimum: freezing. Week is its mean over 7 days: chilling
// is not freezing, and a week of cold nights checks a warm crop where one does
// not. Soil is the temperature at sowing depth.
const (
	Night Series = iota
	Week
	Soil
)

// soilDays: soil at sowing depth follows the mean of the last eleven days of air
// (running mean as predictor of soil at 10 cm: Zheng, Hunt and Running 1993,
// Climate Research 2, from memory). A mean needs four fifths of its days.
const (
	soilDays      = 11
	soilDaysKnown = 9
)

// soilOf is the running mean of a record's daily means that stands for soil at sowing
// depth.
func soilOf(d *record.Daily) frost.Series {
	return frost.Trailing(frost.Series{Start: d.Start, Values: dailyMeans(d), Step: record.HundredthC}, soilDays, soilDaysKnown)
}

// roundDiv is a/b to the nearest whole number, halves away from zero, b > 0.
func roundDiv(a, b int) int {
	if a < 0 {
		return -((-a + b/2) / b)
	}
	return (a + b/2) / b
}

// dailyMeans is (tmin + tmax)/2 where both are there.
func dailyMeans(d *record.Daily) []quantity.Hundredths {
	out := make([]quantity.Hundredths, len(d.Min))
	for i, low := range d.Min {
		out[i] = quantity.Missing
		if high := d.Max[i]; low.Known() && high.Known() {
			out[i] = quantity.Hundredths(roundDiv(int(low)+int(high), 2))
		}
	}
	return out
}

// negated turns "first day as warm as t" into "first day as cold as -t", so that
// one staircase serves both.
func negated(v []quantity.Hundredths) []quantity.Hundredths {
	out := make([]quantity.Hundredths, len(v))
	for i, x := range v {
		out[i] = quantity.Missing
		if x.Known() {
			out[i] = -x
		}
	}
	return out
}

// climbs are a station's staircases for each series. The soil's season year is
// the other hemisphere's: it must be followed upward from midwinter.
type climbs struct{ night, week, soil frost.Staircases }

func climb(d *record.Daily, h quantity.Hemisphere) climbs {
	other := quantity.South
	if h == quantity.South {
		other = quantity.North
	}
	soil := soilOf(d)
	soil.Values = negated(soil.Values)
	return climbs{
		night: frost.Climb(frost.Minima(d), h),
		week:  frost.Climb(frost.Weekly(frost.Minima(d)), h),
		soil:  frost.Climb(soil, other),
	}
}
