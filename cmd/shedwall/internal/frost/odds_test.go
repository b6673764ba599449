package frost

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// run makes n outcomes on slots from, from+1, ... and adds years without a freeze
// and unusable ones.
func run(n, from, without, unusable int) []Outcome {
	var out []Outcome
	for i := range n {
		out = append(out, Outcome{State: Date, Slot: quantity.Slot(from + i)})
	}
	for range without {
		out = append(out, Outcome{State: NoFreeze})
	}
	for range unusable {
		out = append(out, Outcome{Missing: 11})
	}
	return out
}

// Expected slots by hand: dated years stand on slots 250, 251, ...; the rank rule
// and n are in the comment of each row.
func TestQuantileOf(t *testing.T) {
	last, first := record.Last, record.First
	cases := []struct {
		name     string
		outcomes []Outcome
		event    record.Event
		odds     quantity.Odds
		state    AnswerState
		exact    float64
		slot     quantity.Slot
		estimate bool
	}{
		{"30 years, half", run(30, 250, 0, 0), last, quantity.Half, Dated, 264.5, 265, false},             // 30 x 0.5 + 0.5 = 15.5
		{"30 years, careful", run(30, 250, 0, 2), last, quantity.Careful, Dated, 276.5, 277, false},       // 27.5
		{"30 falls, half", run(30, 60, 0, 0), first, quantity.Half, Dated, 74.5, 74, false},               // 15.5, rounded down
		{"30 falls, careful", run(30, 60, 0, 0), first, quantity.Careful, Dated, 62.5, 62, false},         // 3.5
		{"9 of 10 freeze later", run(30, 250, 0, 0), last, 0.9, Dated, 252.5, 253, false},                 // 3.5
		{"20 years stand on Hazen", run(20, 250, 0, 0), last, quantity.Careful, Dated, 267.5, 268, false}, // 18.5
		{"19 years stand on Weibull", run(19, 250, 0, 0), last, quantity.Careful, Dated, 267, 267, true},  // 20 x 0.9 = 18
		{"10 years, careful", run(10, 250, 0, 0), last, quantity.Careful, Dated, 258.9, 259, true},        // 11 x 0.9 = 9.9
		{"9 years have no careful date", run(9, 250, 0, 3), last, quantity.Careful, TooFewYears, 0, 0, true},
		{"9 years, half", run(9, 250, 0, 0), last, quantity.Half, Dated, 254, 254, true},  // 10 x 0.5 = 5
		{"5 years, half", run(5, 250, 0, 0), first, quantity.Half, Dated, 252, 252, true}, // 6 x 0.5 = 3
		{"4 years have no date", run(4, 250, 0, 9), last, quantity.Half, TooFewYears, 0, 0, true},
		{"no years", nil, last, quantity.Half, TooFewYears, 0, 0, true},
		{"1 year in 100 is too rare for 30 years", run(30, 250, 0, 0), last, 0.01, TooFewYears, 0, 0, false}, // 30 x 0.99 + 0.5 = 30.2
		{"1 in 60 is the rarest that 30 years reach", run(30, 250, 0, 0), last, 1.0 / 60, Dated, 279, 279, false},

		// Mixed: years without a freeze sort before every last date, after every first.
		{"6 of 30 winters without, careful", run(24, 250, 6, 0), last, quantity.Careful, Dated, 270.5, 271, false}, // 27.5 - 6 = 21.5th date
		{"6 of 30 falls without, careful", run(24, 60, 6, 0), first, quantity.Careful, Dated, 62.5, 62, false},     // 3.5
		{"6 of 30 falls without, half", run(24, 60, 6, 0), first, quantity.Half, Dated, 74.5, 74, false},           // 15.5
		{"20 of 30 without, half", run(10, 250, 20, 0), last, quantity.Half, NoneNeeded, 0, 0, false},
		{"20 of 30 without, careful", run(10, 250, 20, 0), last, quantity.Careful, Dated, 256.5, 257, false}, // 27.5 - 20
		{"2 of 30 freeze", run(2, 250, 28, 0), last, quantity.Careful, NoneNeeded, 0, 0, false},              // 27.5: between the 27th and 28th of 28 without
		{"3 of 30 freeze: between none and a date the date stands", run(3, 250, 27, 0), last, quantity.Careful, Dated, 250, 250, false},
		{"the same in fall", run(3, 60, 27, 0), first, quantity.Careful, Dated, 62, 62, false}, // 3.5: between the 3rd date and none
		{"none of 30 freezes", run(0, 0, 30, 2), last, quantity.Careful, NeverFreezes, 0, 0, false},
		{"none of 12 freezes", run(0, 0, 12, 0), first, quantity.Half, NeverFreezes, 0, 0, true},
		{"none of 3 freezes says little", run(0, 0, 3, 0), first, quantity.Half, TooFewYears, 0, 0, true},
	}
	for _, c := range cases {
		a := QuantileOf(c.outcomes, c.event, c.odds)
		if a.State != c.state || math.Abs(a.Exact-c.exact) > 1e-9 || a.Slot != c.slot || a.Estimate != c.estimate {
			t.Errorf("%s: %v %.3f slot %d estimate %v, want %v %.3f slot %d %v",
				c.name, a.State, a.Exact, a.Slot, a.Estimate, c.state, c.exact, c.slot, c.estimate)
		}
		used, without, unusable := 0, 0, 0
		for _, o := range c.outcomes {
			switch o.State {
			case Unusable:
				unusable++
			case NoFreeze:
				without++
				used++
			default:
				used++
			}
		}
		if a.Used != used || a.Without != without || a.Unusable != unusable {
			t.Errorf("%s: %d used, %d without, %d unusable, want %d, %d, %d", c.name, a.Used, a.Without, a.Unusable, used, without, unusable)
		}
	}
}

func TestAnyMonth(t *testing.T) {
	summers := func(cold int) []Outcome {
		out := run(30, 300, 0, 0)
		for i := range cold {
			out[29-i].Midsummer = true
		}
		return out
	}
	for _, c := range []struct {
		cold int
		odds quantity.Odds
		want AnswerState
	}{
		{3, quantity.Careful, Dated}, // 3 of 30 is not over one year in ten
		{4, quantity.Careful, AnyMonth},
		{4, quantity.Half, Dated},
		{15, quantity.Half, Dated}, // not over half
		{16, quantity.Half, AnyMonth},
	} {
		if a := QuantileOf(summers(c.cold), record.Last, c.odds); a.State != c.want {
			t.Errorf("%d cold summers of 30 at %v: %v, want %v", c.cold, c.odds, a.State, c.want)
		}
	}
}

// A freeze within 14 days of the split marks the summer for both of its events:
// the last freeze of the season year before and the first of the one after.
func TestMidsummerOnBothSides(t *testing.T) {
	for _, c := range []struct {
		cold quantity.Day
		want bool
	}{
		{day(2001, 7, 17), false}, {day(2001, 7, 18), true}, {day(2001, 7, 31), true},
		{day(2001, 8, 1), true}, {day(2001, 8, 14), true}, {day(2001, 8, 15), false},
	} {
		s := put(steady(day(2000, 8, 1), day(2002, 8, 1), 500), -50, c.cold, day(2001, 4, 7), day(2001, 10, 7))
		stairs := Climb(s, quantity.North)
		last, first := stairs.Year(2000, record.Last, 0), stairs.Year(2001, record.First, 0)
		_, m, d := c.cold.Date()
		if last.Midsummer != c.want || first.Midsummer != c.want {
			t.Errorf("freeze on %d/%d: last %v, first %v, want %v", d, m, last.Midsummer, first.Midsummer, c.want)
		}
		if o := stairs.Year(2001, record.Last, 0); o.Midsummer {
			t.Error("the next summer has no freeze near its split")
		}
	}
}

// By hand: on dates one day apart an error of r ranks is one of r days, r = sqrt(n q
// (1 - q)). With 10 years the upper rank 9.9 + 0.95 lies beyond the tenth year, so
// the lower side stands alone.
func TestSamplingErrorInRanks(t *testing.T) {
	last := record.Last
	near(t, "30 years, careful", QuantileOf(run(30, 250, 0, 0), last, quantity.Careful).PlusMinus, math.Sqrt(2.7), 1e-9)
	near(t, "30 years, half", QuantileOf(run(30, 250, 0, 0), last, quantity.Half).PlusMinus, math.Sqrt(7.5), 1e-9)
	near(t, "10 years, careful", QuantileOf(run(10, 250, 0, 0), last, quantity.Careful).PlusMinus, math.Sqrt(0.9), 1e-9)
	near(t, "a single date among years without", QuantileOf(run(1, 250, 9, 0), last, quantity.Careful).PlusMinus, 0, 0)
}

// Against theory: for a normal spread s the standard error of a counted quantile is
// sqrt(q (1 - q)/n) / f(z) x s, f the normal density; n = 30, s = 12: q = 0.9 gives
// sqrt(0.09/30)/0.17550 x 12 = 3.75, q = 0.5 sqrt(0.25/30)/0.39894 x 12 = 2.75. The
// theory is for many years: 20,000 drawn samples of 30 gave 3.5 for the true error at
// 0.9 and 3.8 (median) for this estimate. A sample of 30 regular points has a long
// tail, so the estimate may run a fifth high.
func TestSamplingErrorAgainstTheory(t *testing.T) {
	var out []Outcome
	for i := range 30 {
		z := Deviate((float64(i) + 0.5) / 30)
		out = append(out, Outcome{State: Date, Slot: quantity.Slot(math.Round(260 + 12*z))})
	}
	near(t, "careful", QuantileOf(out, record.Last, quantity.Careful).PlusMinus, 3.75, 0.8)
	near(t, "careful, fall", QuantileOf(out, record.First, quantity.Careful).PlusMinus, 3.75, 0.8)
	near(t, "half", QuantileOf(out, record.Last, quantity.Half).PlusMinus, 2.75, 0.5) // dates are whole days
}

func TestYears(t *testing.T) {
	y := Years{1981, 2010}
	for _, c := range []struct {
		h           quantity.Hemisphere
		e           record.Event
		first, last int
	}{
		{quantity.North, record.Last, 1980, 2009}, // spring 1981 ends the season year begun in August 1980
		{quantity.North, record.First, 1981, 2010},
		{quantity.South, record.Last, 1981, 2010}, // spring and fall of 1981 lie in the season year begun in February 1981
		{quantity.South, record.First, 1981, 2010},
	} {
		if a, b := y.Seasons(c.e, c.h); a != c.first || b != c.last {
			t.Errorf("%v %v: seasons %d-%d, want %d-%d", c.h, c.e, a, b, c.first, c.last)
		}
	}
	if y.Len() != 30 || (Years{1, 0}).Len() != 0 {
		t.Error("1981-2010 are 30 years, 1-0 none")
	}
}

func TestLastYears(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to quantity.Day // to: day after the last
		n        int
		want     Years
	}{
		{"whole years", day(1960, 1, 1), day(2011, 1, 1), 30, Years{1981, 2010}},
		{"ends 21 December", day(1960, 1, 1), day(2010, 12, 22), 30, Years{1981, 2010}},
		{"ends 20 December", day(1960, 1, 1), day(2010, 12, 21), 30, Years{1980, 2009}},
		{"cut off in fall", day(1960, 1, 1), day(2010, 11, 16), 30, Years{1980, 2009}},
		{"a few days of January", day(1960, 1, 1), day(2011, 1, 9), 30, Years{1981, 2010}},
		{"short record", day(2000, 5, 1), day(2011, 1, 1), 30, Years{2000, 2010}},
		{"one spring", day(2001, 1, 1), day(2001, 8, 1), 30, Years{2001, 2001}},
		{"nothing", day(2001, 1, 1), day(2001, 1, 1), 30, Years{1, 0}},
	} {
		if got := steady(c.from, c.to, 0).LastYears(c.n); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	trailing := gap(steady(day(1990, 1, 1), day(2012, 1, 1), 0), day(2011, 1, 1), day(2012, 1, 1))
	if got := trailing.LastYears(10); got != (Years{2001, 2010}) {
		t.Errorf("blank rows at the end are no year: %v", got)
	}
}

// A one-year record answers for its year and has too few years for odds.
func TestOneYearRecord(t *testing.T) {
	s := put(steady(day(2001, 1, 1), day(2002, 1, 1), 500), -100, day(2001, 4, 7), day(2001, 10, 9))
	c := Climb(s, quantity.North)
	years := s.LastYears(DefaultYears)
	for e, want := range map[record.Event]string{record.Last: "04-07", record.First: "10-09"} {
		first, last := years.Seasons(e, quantity.North)
		if first != last {
			t.Fatalf("%v: seasons %d-%d of a one-year record", e, first, last)
		}
		o := c.Year(first, e, 0)
		if got := quantity.North.MonthDay(o.Slot).String(); o.State != Date || got != want {
			t.Errorf("%v: %v %s, want %s", e, o.State, got, want)
		}
		if a := c.Odds(years, e, 0, quantity.Half); a.State != TooFewYears || a.Used != 1 {
			t.Errorf("%v: %+v, want too few years from 1", e, a)
		}
	}
	if s := c.SpanAfter(2000, 0); s != (Span{Date, 185}) { // 7 April to 9 October: 23+31+30+31+31+30+9
		t.Errorf("span %+v, want 185 days", s)
	}
}

func TestFrostFree(t *testing.T) {
	s := steady(day(1989, 8, 1), day(2001, 8, 1), 500)
	for y := 1990; y <= 2000; y++ {
		put(s, -100, day(y, 4, 7), day(y, 10, 9)) // 185 days, as above, leap years too: 29 February lies before
	}
	c := Climb(s, quantity.North)
	if m := c.FrostFree(Years{1990, 2000}, 0); m != (MedianSpan{State: Dated, Days: 185, Used: 11, Estimate: true}) {
		t.Errorf("median span %+v", m)
	}
	if m := c.FrostFree(Years{1990, 2000}, -200); m.State != NeverFreezes || m.Used != 11 {
		t.Errorf("never: %+v", m)
	}
	if m := c.FrostFree(Years{1990, 1993}, 0); m.State != TooFewYears {
		t.Errorf("four summers: %+v", m)
	}
	// 1998 and after without any freeze: the winters 1998/99 and later are passed
	// over, so the summers of 1998, 1999 and 2000 run through a winter.
	for y := 1998; y <= 2000; y++ {
		put(s, 500, day(y, 4, 7), day(y, 10, 9))
	}
	c = Climb(s, quantity.North)
	if m := c.FrostFree(Years{1996, 2000}, 0); m.State != NoneNeeded || m.Used != 5 {
		t.Errorf("three of five summers without an end: %+v", m)
	}
}

func TestRoundWarm(t *testing.T) {
	f := quantity.FromFahrenheit
	for _, c := range []struct {
		name string
		t    quantity.Celsius
		step record.StepKind
		want quantity.Hundredths
	}{
		{"28 F in a 0.1 C file", f(28), record.TenthC, -220}, // -2.22 is written -2.2
		{"28 F in hundredths", f(28), record.HundredthC, -222},
		{"28 F in a whole-F file", f(28), record.WholeF, -222},
		{"28.5 F in a whole-F file", f(28.5), record.WholeF, -167}, // 29 F = -1.667 C
		{"28 F in a whole-C file", f(28), record.WholeC, -200},
		{"28 F in a half-C file", f(28), record.HalfC, -200},
		{"-2.2 C in a whole-F file", -2.2, record.WholeF, -222}, // 28.04 F: 28 F written to 0.1 C
		{"28.1 F in a whole-F file", f(28.1), record.WholeF, -167},
		{"0 C", 0, record.TenthC, 0},
		{"32 F", f(32), record.WholeF, 0},
		{"-2.2 stays", -2.2, record.TenthC, -220},
		{"-2.2 by a sum of decimals stays", -1.0 - 0.7 - 0.5, record.TenthC, -220},
		{"a sum from above stays", -2.1999999999, record.TenthC, -220},
		{"positive goes up too", 2.21, record.TenthC, 230},
		{"far too cold", -1000, record.TenthC, -32767},
		{"far too warm", 1000, record.TenthC, 32767},
	} {
		if got := RoundWarm(c.t, c.step); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// Every whole degree F, written to 0.1 C, is still that degree in a whole-F file.
func TestRoundWarmKnowsTenthsOfWholeFahrenheit(t *testing.T) {
	for degree := -60; degree <= 80; degree++ {
		c := quantity.FromFahrenheit(float64(degree))
		tenth := quantity.Celsius(math.Round(float64(c)*10) / 10)
		if got := RoundWarm(tenth, record.WholeF); got != c.Hundredths() {
			t.Errorf("%d F, written %.1f C: %d, want %d", degree, tenth, got, c.Hundredths())
		}
	}
}

// Every whole Fahrenheit threshold counts exactly the readings of that many
// degrees or fewer, in a whole-F file and in the 0.1 C file made from it.
func TestRoundWarmKeepsWholeFahrenheit(t *testing.T) {
	for threshold := -60; threshold <= 60; threshold++ {
		for reading := threshold - 3; reading <= threshold+3; reading++ {
			want := reading <= threshold
			c := quantity.FromFahrenheit(float64(reading))
			limit := quantity.FromFahrenheit(float64(threshold))
			if got := c.Hundredths() <= RoundWarm(limit, record.WholeF); got != want {
				t.Errorf("whole F: %d <= %d is %v", reading, threshold, got)
			}
			tenths := quantity.Hundredths(math.Round(float64(c)*10)) * 10
			if got := tenths <= RoundWarm(limit, record.TenthC); got != want {
				t.Errorf("tenths C: %d <= %d is %v", reading, threshold, got)
			}
		}
	}
}

func TestWeekly(t *testing.T) {
	s := steady(day(2001, 1, 1), day(2001, 2, 1), 300)
	put(s, -400, day(2001, 1, 10))
	gap(s, day(2001, 1, 20), day(2001, 1, 23))
	w := Weekly(s)
	for d, want := range map[int]quantity.Hundredths{
		4:  quantity.Missing, // four days known
		5:  300,              // five are enough
		9:  300,
		10: 200, // (6 x 300 - 400)/7 = 200
		16: 200, // the cold night is the first of the seven
		17: 300,
		21: 300,              // two of the seven missing
		22: quantity.Missing, // three missing
		26: quantity.Missing,
		27: 300,
	} {
		if got := w.Values[d-1]; got != want {
			t.Errorf("week to %d January: %d, want %d", d, got, want)
		}
	}
	if w.Step != record.HundredthC || w.Start != s.Start || len(w.Values) != len(s.Values) {
		t.Error("the week's means keep their days and come in hundredths")
	}
}

func TestWinterLow(t *testing.T) {
	s := put(steady(day(2000, 8, 1), day(2003, 8, 1), 500), -1500, day(2001, 1, 15))
	put(s, -900, day(2002, 2, 2))
	put(s, -2000, day(2003, 1, 5))
	gap(s, day(2002, 12, 1), day(2002, 12, 12)) // 11 days
	c := Climb(s, quantity.North)
	for _, w := range []struct {
		season int
		low    quantity.Hundredths
		ok     bool
	}{{2000, -1500, true}, {2001, -900, true}, {2002, quantity.Missing, false}, {1999, quantity.Missing, false}} {
		if low, ok := c.WinterLow(w.season); low != w.low || ok != w.ok {
			t.Errorf("winter %d: %d %v, want %d %v", w.season, low, ok, w.low, w.ok)
		}
	}
	if mean, used := c.MeanExtreme(Years{2001, 2003}); mean != -12 || used != 2 { // (-15 - 9)/2
		t.Errorf("mean extreme %v from %d, want -12 from 2", mean, used)
	}
	if _, used := c.MeanExtreme(Years{1950, 1960}); used != 0 {
		t.Error("no winters, no mean")
	}
}
