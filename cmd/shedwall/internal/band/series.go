package band

import (
	"sync"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Series names a daily series whose thresholds gate a date.
type Series uint8

// Night is the daily minimum: freezing. Week is its mean over 7 days: chilling
// is not freezing, and a week of cold nights checks a warm crop where one does
// not. Soil is the temperature at sowing depth, as it stays for a fortnight. Hot is the
// mean maximum, Month the mean, day and night, of the thirty days around a day: both are
// hot weather, asked by Climate.Heat. Cold counts days of spring with a
// mean as cold, Gate.Count of them.
const (
	Night Series = iota
	Week
	Soil
	Hot
	Month
	Cold
)

// byDay says that a series needs the maxima of days as well as the minima of nights.
func (s Series) byDay() bool { return s >= Soil }

// rises says that a series is followed upward, from midwinter.
func (s Series) rises() bool { return s == Soil || s == Hot || s == Month }

// soilDays: soil at sowing depth follows the mean of the last eleven days of air
// (running mean as predictor of soil at 10 cm: Zheng, Hunt and Running 1993,
// Climate Research 2, from memory) [source zheng93]. A mean needs four fifths of its days.
const (
	soilDays      = 11
	soilDaysKnown = 9
)

// SoilDays is how many days of air soil at sowing depth follows.
const SoilDays = soilDays

// staysDays: soil is warm enough from the first day of fourteen in a row, about the time
// in which seed comes up; two of them may be missing. The first warm day alone is a false
// spring too often. Measured on 28 records, 1 February to mid-August, between 4 and 18 C:
// after the first day as warm, the soil fell back for a week or more of the next four in
// 35 to 53 % of years; after the first fourteen in 5 to 16 %, and in half the years that
// is the same day; after the last day that was colder in 0 to 11 %, but then half the
// years wait 8 to 21 days longer, though seed sown in between comes up.
const (
	staysDays  = 14
	staysKnown = 12
)

// A month around a day: 14 days before it and 15 after, at least 25 of them known. Weeks
// would not do: in half the years a week as hot comes 18 days before the mean course gets
// there, also where no month is so hot (27 records, 16 to 34 C).
const (
	monthDays  = 30
	monthKnown = 25
	monthAhead = 15
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

// climbs are a station's staircases for each series. The season year of soil and hot
// weather is the other hemisphere's: they must be followed upward from midwinter. Those
// of hot weather are made when they are first asked for.
type climbs struct {
	night, week, soil frost.Staircases
	hot, month        func() *frost.Staircases
	means             func() []quantity.Hundredths // daily means
	trailed           func() []float64             // trailing of each day, NaN where it is not known
}

func climb(d *record.Daily, h quantity.Hemisphere) climbs {
	other := quantity.South
	if h == quantity.South {
		other = quantity.North
	}
	upward := func(s frost.Series) *frost.Staircases {
		s.Values = negated(s.Values)
		c := frost.Climb(s, other)
		return &c
	}
	means := sync.OnceValue(func() []quantity.Hundredths { return dailyMeans(d) })
	return climbs{
		night:   frost.Climb(frost.Minima(d), h),
		week:    frost.Climb(frost.Weekly(frost.Minima(d)), h),
		soil:    *upward(held(soilOf(d))),
		hot:     sync.OnceValue(func() *frost.Staircases { return upward(around(d.Start, d.Max)) }),
		month:   sync.OnceValue(func() *frost.Staircases { return upward(around(d.Start, dailyMeans(d))) }),
		means:   means,
		trailed: sync.OnceValue(func() []float64 { return trailed(means()) }),
	}
}

// around is the mean of the month around each day.
func around(start quantity.Day, values []quantity.Hundredths) frost.Series {
	s := frost.Trailing(frost.Series{Start: start, Values: values, Step: record.HundredthC}, monthDays, monthKnown)
	s.Start -= monthAhead
	return s
}

// held is a series whose value is the lowest of the staysDays days that begin with each.
func held(s frost.Series) frost.Series {
	out := frost.Series{Start: s.Start, Values: make([]quantity.Hundredths, len(s.Values)), Step: s.Step}
	for i := range s.Values {
		lowest, known := quantity.Missing, 0
		for _, v := range s.Values[i:min(i+staysDays, len(s.Values))] {
			if v.Known() {
				if known == 0 || v < lowest {
					lowest = v
				}
				known++
			}
		}
		out.Values[i] = quantity.Missing
		if known >= staysKnown {
			out.Values[i] = lowest
		}
	}
	return out
}
