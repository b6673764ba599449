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
const soilDays = 11

// trailing is the mean of the last n days up to and including each day.
func trailing(values []quantity.Hundredths, n int) []quantity.Hundredths {
	out := make([]quantity.Hundredths, len(values))
	sum, have := 0, 0
	for i, v := range values {
		if v.Known() {
			sum, have = sum+int(v), have+1
		}
		if i >= n && values[i-n].Known() {
			sum, have = sum-int(values[i-n]), have-1
		}
		out[i] = quantity.Missing
		if have > 0 && 5*have >= 4*n {
			out[i] = quantity.Hundredths(roundDiv(sum, have))
		}
	}
	return out
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
	s := func(v []quantity.Hundredths, step record.StepKind) frost.Series {
		return frost.Series{Start: d.Start, Values: v, Step: step}
	}
	return climbs{
		night: frost.Climb(frost.Minima(d), h),
		week:  frost.Climb(frost.Weekly(frost.Minima(d)), h),
		soil:  frost.Climb(s(negated(trailing(dailyMeans(d), soilDays)), record.HundredthC), other),
	}
}
