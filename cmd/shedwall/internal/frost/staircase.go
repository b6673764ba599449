package frost

import (
	"math"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// MaxMissing is the most days that may be missing from the stretch that
// matters before a year is not used. The rule in full:
//
//   - A year with a date: the stretch runs from that date to midsummer, the end
//     of the season year for a last freeze, its beginning for a first freeze. Days
//     on the winter side of the date cannot change it and do not count. So the
//     spring of a record that begins on 1 January is usable when its last freeze
//     lies after that, and the fall of a record cut off in November is usable when
//     its first freeze came before.
//   - A year without a freeze: the stretch is the five cold months, November to
//     March (May to September in the south). What did not happen in a winter that
//     was watched did not happen in an October with holes.
//   - Days before the record begins and after it ends are missing days.
//
// More than MaxMissing missing days: the year is unusable, neither a date nor a
// year without freeze.
const MaxMissing = 10

// MidsummerDays is how close to the split between two season years, on either
// side, a freeze makes the summer one that may freeze in any month.
const MidsummerDays = 14

// OutcomeState tells what a season year's record says about a threshold.
type OutcomeState uint8

// Unusable: too many days are missing. Date: the threshold was reached.
// NoFreeze: it was watched and not reached.
const (
	Unusable OutcomeState = iota
	Date
	NoFreeze
)

func (s OutcomeState) String() string {
	return [...]string{"unusable", "date", "no freeze"}[s]
}

// Outcome is what one season year says about one threshold and event. Slot is
// within the season year (0-365) and means something only in State Date; a plan
// that follows one summer adds quantity.SlotsPerYear to a first freeze.
type Outcome struct {
	State   OutcomeState
	Slot    quantity.Slot
	Missing int // days missing in the stretch that matters, see MaxMissing

	// Midsummer: the threshold is reached within MidsummerDays of the split
	// between this summer's two season years, on either side of it. The summer of
	// a last freeze follows its season year, that of a first freeze precedes it.
	Midsummer bool
}

// Staircases holds, for each season year of a series, the two staircases from
// which the last and the first date of any threshold are read exactly. The zero
// Staircases has no years: every outcome is Unusable.
type Staircases struct {
	hemisphere quantity.Hemisphere
	season     int // season year of years[0]
	years      []seasonYear
	steps      []step // of all years, addressed by seasonYear
}

// seasonYear addresses the steps of one season year: last freezes are
// steps[last:first], first freezes steps[first:end].
type seasonYear struct {
	last, first, end int32
	coldMissing      int16 // missing days in the five cold months

	// The lowest value within MidsummerDays, on either side, of the split that
	// begins and of the one that ends this season year; noValue where none is known.
	summerBefore, summerAfter quantity.Hundredths
}

// noValue is above every temperature that a series may hold.
const noValue quantity.Hundredths = math.MaxInt16

// step says: from below the previous step's value down to this value, the date
// is slot, and missing days lie between it and midsummer.
type step struct {
	value   quantity.Hundredths
	slot    int16
	missing int16
}

// Climb builds the staircases of a series. Walking back from midsummer (the end
// of the season year) each new lowest value is a step of the last dates; walking
// forward from its beginning, of the first dates. The season year runs from 1
// August to 31 July in the north and from 1 February to 31 January in the south.
// The series is not changed and not kept. Values lie below 327.67 C.
func Climb(s Series, h quantity.Hemisphere) Staircases {
	c := Staircases{hemisphere: h}
	if len(s.Values) == 0 {
		return c
	}
	c.season, _ = h.SeasonOf(s.Start)
	newest, _ := h.SeasonOf(s.End() - 1)
	c.years = make([]seasonYear, 0, newest-c.season+1)
	for season := c.season; season <= newest; season++ {
		c.climbYear(s, season)
	}
	return c
}

func (c *Staircases) climbYear(s Series, season int) {
	begin, end := c.hemisphere.SeasonStart(season), c.hemisphere.SeasonStart(season+1)
	from, to := max(begin, s.Start), min(end, s.End())
	values := s.Values[from-s.Start : to-s.Start]
	before, after := int(from-begin), int(end-to) // days outside the series
	slot := c.slots(season, before)

	y := seasonYear{last: int32(len(c.steps))}
	missing, lowest := after, noValue
	for i := len(values) - 1; i >= 0; i-- {
		if v := values[i]; v < lowest { // a missing value is, too; few days get this far
			if !v.Known() {
				missing++
				continue
			}
			lowest = v
			c.steps = append(c.steps, step{v, slot(i), int16(missing)})
		}
	}
	y.first = int32(len(c.steps))
	missing, lowest = before, noValue
	for i, v := range values {
		if v < lowest {
			if !v.Known() {
				missing++
				continue
			}
			lowest = v
			c.steps = append(c.steps, step{v, slot(i), int16(missing)})
		}
	}
	y.end = int32(len(c.steps))
	y.coldMissing = int16(coldMissing(s, c.hemisphere, season))
	y.summerBefore = lowestBetween(s, begin-MidsummerDays, begin+MidsummerDays)
	y.summerAfter = lowestBetween(s, end-MidsummerDays, end+MidsummerDays)
	c.years = append(c.years, y)
}

// slots gives the slot of the value at index i of a season year's part of the
// series, whose first value lies before days after the season year's beginning.
// A season year without a 29 February skips that slot.
func (c *Staircases) slots(season, before int) func(i int) int16 {
	leapSlot := int(c.hemisphere.SlotOf(quantity.MonthDay{Month: 2, Day: 29}))
	length := int(c.hemisphere.SeasonStart(season+1) - c.hemisphere.SeasonStart(season))
	return func(i int) int16 {
		n := before + i
		if length < quantity.SlotsPerYear && n >= leapSlot {
			n++
		}
		return int16(n)
	}
}

// coldMonths is the stretch that must have been watched before a year counts
// as one without a freeze: November to March, in the south May to September. The
// second day is the first after the stretch.
func coldMonths(h quantity.Hemisphere, season int) (from, to quantity.Day) {
	if h == quantity.South {
		return quantity.DayOf(season, 5, 1), quantity.DayOf(season, 10, 1)
	}
	return quantity.DayOf(season, 11, 1), quantity.DayOf(season+1, 4, 1)
}

func coldMissing(s Series, h quantity.Hemisphere, season int) int {
	from, to := coldMonths(h, season)
	missing := int(to - from)
	for d := max(from, s.Start); d < min(to, s.End()); d++ {
		if s.Values[d-s.Start].Known() {
			missing--
		}
	}
	return missing
}

// lowestBetween is the lowest known value from day a up to but not including b,
// noValue where there is none.
func lowestBetween(s Series, a, b quantity.Day) quantity.Hundredths {
	lowest := noValue
	for d := max(a, s.Start); d < min(b, s.End()); d++ {
		if v := s.Values[d-s.Start]; v.Known() {
			lowest = min(lowest, v)
		}
	}
	return lowest
}

// Hemisphere is the side of the equator the staircases were built for.
func (c Staircases) Hemisphere() quantity.Hemisphere { return c.hemisphere }

// Seasons is the first and the last season year that the series touches; last
// is below first where there is none.
func (c Staircases) Seasons() (first, last int) { return c.season, c.season + len(c.years) - 1 }

// year is nil of a season year that the series does not touch.
func (c Staircases) year(season int) *seasonYear {
	i := season - c.season
	if i < 0 || i >= len(c.years) {
		return nil
	}
	return &c.years[i]
}

// Year is what a season year says about threshold t: the last (or first) day
// with value <= t. t must already be rounded by RoundWarm to the series' step.
// A season year that the series does not touch is Unusable, all its days missing.
func (c Staircases) Year(season int, e record.Event, t quantity.Hundredths) Outcome {
	y := c.year(season)
	if y == nil {
		return Outcome{Missing: int(c.hemisphere.SeasonStart(season+1) - c.hemisphere.SeasonStart(season))}
	}
	stairs, summer := c.steps[y.last:y.first], y.summerAfter
	if e == record.First {
		stairs, summer = c.steps[y.first:y.end], y.summerBefore
	}
	i, j := 0, len(stairs) // the first step at or below t lies in [i, j]
	for i < j {
		if m := int(uint(i+j) / 2); stairs[m].value <= t {
			j = m
		} else {
			i = m + 1
		}
	}
	o := Outcome{State: NoFreeze, Missing: int(y.coldMissing), Midsummer: summer <= t}
	if i < len(stairs) {
		o.State, o.Slot, o.Missing = Date, quantity.Slot(stairs[i].slot), int(stairs[i].missing)
	}
	if o.Missing > MaxMissing {
		o.State, o.Slot = Unusable, 0
	}
	return o
}

// Vector appends the outcomes of season years first to last to dst and returns
// it: one outcome a year, in order, so that vectors of several thresholds or
// series can be combined year by year. It allocates only where dst is too short.
func (c Staircases) Vector(dst []Outcome, first, last int, e record.Event, t quantity.Hundredths) []Outcome {
	for season := first; season <= last; season++ {
		dst = append(dst, c.Year(season, e, t))
	}
	return dst
}
