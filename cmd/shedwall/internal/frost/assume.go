package frost

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// What is assumed where a guide has no more than an average date of each season.
// Every answer made with these is marked as an estimate.
//
// AssumedSpread is the standard deviation of dates from year to year. Between the 50
// and 90 % dates of 32 F that NCEI publishes for 5,398 stations (normals 1981-2010) it
// is 11.7 days in the middle, in spring as in fall, and 9.4 to 19.5 (spring), 9.4 to
// 17.2 (fall) for four stations in five. What counts is how often a careful date made
// with it is passed: with 11 days in 13.6 % of springs and 12.1 % of falls over all of
// those stations, with 13 in 10.1 and 8.7. 28 daily records, of mild and mountain places
// mostly, spread by 15.6 and 11.9 days in the middle.
//
// The shift is how many days the date moves for a degree. On those records the date
// moved by 4.7 to 14.6 days a kelvin in spring (7.9 in the middle), 5.1 to 10.9 in
// fall (6.5). Towards colder thresholds the smallest is the safe one: a hardy plant
// goes out later than it might. Towards warmer ones the middle of 7.3 and 6.3 between
// 0 and 2 C is taken: a small shift there would send the tender ones out too early.
const (
	AssumedSpread      = 13.0 // days
	AssumedShiftColder = 4.5  // days a kelvin
	AssumedShiftWarmer = 7.0  // days a kelvin
	coldestAssumed     = -9.0 // C; nothing is assumed beyond
	warmestAssumed     = +2.0 // C
)

// How far off (one standard error) the assumptions are, by the same stations; and an
// average date of which nobody says how it was made: such dates are often rounded to a
// third of a month, which is 3 days.
const (
	spreadError  = 4.0 // days, of the spread
	shiftError   = 4.0 // days a kelvin
	averageError = 3.0 // days
)

// guess is what had to be assumed for a date: an average known by itself alone, so
// many spreads away from the published odds, so many kelvins away from the published
// threshold.
type guess struct {
	alone           bool
	spreads, shifts float64
}

func (g guess) any() bool { return g.alone || g.spreads != 0 || g.shifts != 0 }

// error adds the error of what was assumed to that of sampling.
func (g guess) error(sampling float64) float64 {
	if g.alone {
		sampling = math.Hypot(sampling, averageError)
	}
	return math.Hypot(sampling, math.Hypot(g.spreads*spreadError, g.shifts*shiftError))
}

// widened is the lateness at a rareness of a threshold with a single date, by the
// assumed spread; NaN where there is none to start from, or more than one: then
// nothing is known beyond them.
func (i isotherm) widened(rare float64, g *guess) float64 {
	if len(i.points) != 1 || math.IsInf(i.points[0].y, 0) {
		return math.NaN()
	}
	spreads := rare - i.points[0].x
	g.spreads = math.Max(g.spreads, math.Abs(spreads))
	return i.points[0].y + spreads*AssumedSpread
}

// assumed is the lateness where a table has one threshold for an event: as published
// at that threshold and between its odds; else by the spread of its dates, or the
// assumed one, and by the assumed shift.
func (t Table) assumed(e record.Event, i isotherm, below, rare float64) (float64, guess) {
	g := guess{alone: len(i.points) == 1}
	late := i.points.at(rare, rankSlack)
	if math.IsNaN(late) {
		late = i.beyond(rare, &g)
	}
	shift := below - i.below
	if math.Abs(shift) <= thresholdSnap {
		shift = 0
	}
	switch {
	case math.IsNaN(late), shift == 0 && g.spreads == 0:
		return late, g
	case math.IsInf(late, 0):
		return knots{{i.below, late}}.at(below, thresholdSnap), g
	case below < math.Min(coldestAssumed, i.below)-thresholdSnap, below > math.Max(warmestAssumed, i.below)+thresholdSnap:
		return math.NaN(), g
	}
	g.shifts = math.Abs(shift)
	if shift > 0 {
		late += AssumedShiftWarmer * shift
	} else {
		late += AssumedShiftColder * shift
	}
	return t.withinSeason(e, late), g
}

// beyond is the lateness outside the published odds of the only threshold, by the
// spread that its outermost dates tell, or the assumed one.
func (i isotherm) beyond(rare float64, g *guess) float64 {
	sd, known := i.spread()
	if !known {
		return i.widened(rare, g)
	}
	end := i.points[0]
	if rare > end.x {
		end = i.points[len(i.points)-1]
	}
	if math.IsInf(end.y, 0) {
		return math.NaN()
	}
	g.spreads = math.Abs(rare - end.x)
	return end.y + (rare-end.x)*sd
}

// withinSeason ends an assumed lateness where it has no meaning any more: within
// MidsummerDays of the split between season years it may freeze in any month; beyond
// the middle of winter there is no such freeze.
func (t Table) withinSeason(e record.Event, late float64) float64 {
	middle := quantity.MonthDay{Month: 1, Day: 16}
	if t.hemisphere == quantity.South {
		middle.Month = 7
	}
	split, winter := float64(quantity.SlotsPerYear), float64(t.hemisphere.SlotOf(middle))
	if e == record.First {
		split, winter = 0, -winter
	}
	switch {
	case late >= split-MidsummerDays:
		return math.Inf(+1)
	case late < winter:
		return math.Inf(-1)
	}
	return late
}
