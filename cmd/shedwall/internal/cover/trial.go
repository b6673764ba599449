package cover

import (
	"slices"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// A night is from six in the evening to nine in the morning by the outside clock: the
// minimum comes near sunrise, in midwinter after eight.
const (
	nightBegins = 18 * 60 // minutes of the day before
	nightEnds   = 9 * 60
	nightHours  = 15

	// A night counts when both loggers wrote in at least so many of its hours: one that
	// slept at dawn did not see the minimum.
	nightHoursNeeded = 12
	dayHoursNeeded   = 12
)

// PairedNight is one night of a trial. Ends is the morning's day.
type PairedNight struct {
	Ends            quantity.Day
	Inside, Outside quantity.Celsius // minima
}

// Gain is how much warmer the night was inside.
func (n PairedNight) Gain() quantity.Kelvins { return n.Inside.Minus(n.Outside) }

// Freezing says whether it froze outside.
func (n PairedNight) Freezing() bool { return n.Outside <= 0 }

// PairedDay is one day of a trial, midnight to midnight by the outside clock.
type PairedDay struct {
	Day             quantity.Day
	Inside, Outside quantity.Celsius // maxima
}

// Trial is the nights and days that two loggers saw both.
type Trial struct {
	Nights []PairedNight
	Days   []PairedDay
	Gaps   int // nights left out because a logger has a gap in them
}

// NewTrial pairs the readings of a logger under a cover with those of one in the open,
// the clocks taken as they are: see Set and ClockAhead. The readings are not changed.
func NewTrial(inside, outside record.Logger) Trial {
	var t Trial
	if len(inside.Readings) == 0 || len(outside.Readings) == 0 {
		return t
	}
	from := max(inside.Readings[0].At, outside.Readings[0].At).Day()
	to := min(inside.Readings[len(inside.Readings)-1].At, outside.Readings[len(outside.Readings)-1].At).Day()
	for d := from; d <= to; d++ {
		begins, ends := record.MomentOf(d-1, nightBegins), record.MomentOf(d, nightEnds)
		in, out := extremes(inside.Readings, begins, ends), extremes(outside.Readings, begins, ends)
		switch {
		case in.hours >= nightHoursNeeded && out.hours >= nightHoursNeeded:
			t.Nights = append(t.Nights, PairedNight{d, in.low.Celsius(), out.low.Celsius()})
		case in.hours > 0 && out.hours > 0:
			t.Gaps++
		}
		begins, ends = record.MomentOf(d, 0), record.MomentOf(d+1, 0)
		in, out = extremes(inside.Readings, begins, ends), extremes(outside.Readings, begins, ends)
		if in.hours >= dayHoursNeeded && out.hours >= dayHoursNeeded {
			t.Days = append(t.Days, PairedDay{d, in.high.Celsius(), out.high.Celsius()})
		}
	}
	return t
}

// stretch is what a logger wrote between two moments.
type stretch struct {
	low, high quantity.Hundredths
	hours     int // with at least one reading
}

func extremes(r []record.Reading, begins, ends record.Moment) (s stretch) {
	i, _ := slices.BinarySearchFunc(r, begins, func(x record.Reading, at record.Moment) int { return int(x.At - at) })
	hour := record.Moment(-1)
	for ; i < len(r) && r[i].At < ends; i++ {
		v := r[i].Value
		if s.hours == 0 {
			s.low, s.high = v, v
		}
		s.low, s.high = min(s.low, v), max(s.high, v)
		if h := (r[i].At - begins) / 60; h != hour {
			hour = h
			s.hours++
		}
	}
	return s
}

// Set is the same readings with the clock set forward by so many minutes (back where
// below 0).
func Set(l record.Logger, minutes int) record.Logger {
	out := l
	out.Readings = slices.Clone(l.Readings)
	for i := range out.Readings {
		out.Readings[i].At += record.Moment(minutes)
	}
	return out
}

// Spread is how gains lie over some nights: at 10, 25, 50, 75 and 90 % of them, by
// Hazen's positions.
type Spread struct {
	Nights                                   int
	Low, Quarter, Middle, ThreeQuarter, High quantity.Kelvins
	Colder                                   int // nights that were colder inside than out
}

// Spread of the nights that keep wants; nil = all.
func (t Trial) Spread(keep func(PairedNight) bool) Spread {
	var gains []float64
	var s Spread
	for _, n := range t.Nights {
		if keep != nil && !keep(n) {
			continue
		}
		gains = append(gains, float64(n.Gain()))
		if n.Gain() < 0 {
			s.Colder++
		}
	}
	if s.Nights = len(gains); s.Nights == 0 {
		return s
	}
	slices.Sort(gains)
	at := func(share float64) quantity.Kelvins { return quantity.Kelvins(quantile(gains, share)) }
	s.Low, s.Quarter, s.Middle, s.ThreeQuarter, s.High = at(0.1), at(0.25), at(0.5), at(0.75), at(0.9)
	return s
}

// FewNights is how many nights a gain needs to be printed at all, FairNights how many
// to tell the one in ten at either end.
const (
	FewNights  = 5
	FairNights = 10
)

// Best is the spread that a row of covers.csv is made of: the freezing nights, which
// are those near a crop's limit, where there are ten of them, else all nights.
func (t Trial) Best() (s Spread, freezing bool) {
	if s = t.Spread(PairedNight.Freezing); s.Nights >= FairNights {
		return s, true
	}
	return t.Spread(nil), false
}
