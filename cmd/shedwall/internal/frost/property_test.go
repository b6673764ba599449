package frost

import (
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// weather draws a few years of days with gaps, starting on any day, coarse enough
// that equal values and thresholds exactly met are common.
func weather(t *rapid.T) Series {
	s := Series{Start: day(1999, 1, 1) + quantity.Day(rapid.IntRange(0, 800).Draw(t, "start")), Step: record.WholeC}
	seed := rapid.Uint64().Draw(t, "seed")
	for range rapid.IntRange(1, 900).Draw(t, "days") {
		seed = seed*6364136223846793005 + 1442695040888963407 // a plain linear congruence: values by the seed alone
		v := quantity.Hundredths(int(seed>>40)%25-8) * 100
		if seed>>33&0x3f == 0 {
			v = quantity.Missing
		}
		s.Values = append(s.Values, v)
	}
	return s
}

// plainYear answers for one season year by looking at every day, straight from the
// rule of MaxMissing: what the staircases must equal.
func plainYear(s Series, h quantity.Hemisphere, season int, e record.Event, t quantity.Hundredths) Outcome {
	begin, end := h.SeasonStart(season), h.SeasonStart(season+1)
	at := func(d quantity.Day) quantity.Hundredths {
		if d < s.Start || d >= s.End() {
			return quantity.Missing
		}
		return s.Values[d-s.Start]
	}
	d, away, stop := end-1, quantity.Day(-1), begin-1
	split := end
	if e == record.First {
		d, away, stop, split = begin, 1, end, begin
	}
	var o Outcome
	for x := split - MidsummerDays; x < split+MidsummerDays; x++ {
		o.Midsummer = o.Midsummer || at(x).Known() && at(x) <= t
	}
	for ; d != stop; d += away {
		if v := at(d); !v.Known() {
			o.Missing++
		} else if v <= t {
			o.State = Date
			break
		}
	}
	if o.State == Date {
		_, o.Slot = h.SeasonOf(d)
	} else {
		o.State, o.Missing = NoFreeze, 0
		from, to := coldMonths(h, season)
		for x := from; x < to; x++ {
			if !at(x).Known() {
				o.Missing++
			}
		}
	}
	if o.Missing > MaxMissing {
		o.State, o.Slot = Unusable, 0
	}
	return o
}

func TestStaircasesEqualAPlainLook(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := weather(t)
		h := quantity.Hemisphere(rapid.IntRange(0, 1).Draw(t, "hemisphere"))
		c := Climb(s, h)
		first, last := c.Seasons()
		for season := first; season <= last; season++ {
			for _, e := range []record.Event{record.Last, record.First} {
				for limit := quantity.Hundredths(-1000); limit <= 1800; limit += 50 {
					if got, want := c.Year(season, e, limit), plainYear(s, h, season, e, limit); got != want {
						t.Fatalf("season %d %v %d: %+v, want %+v", season, e, limit, got, want)
					}
				}
			}
		}
	})
}

// A warmer threshold is reached on at least the days of a colder one: its last
// date is never earlier, its first never later, and what froze still freezes.
func TestWarmerIsNeverSafer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Climb(weather(t), quantity.North)
		first, last := c.Seasons()
		season := rapid.IntRange(first, last).Draw(t, "season")
		cold := quantity.Hundredths(rapid.IntRange(-900, 1700).Draw(t, "cold"))
		warm := cold + quantity.Hundredths(rapid.IntRange(0, 500).Draw(t, "warmer by"))
		for _, e := range []record.Event{record.Last, record.First} {
			a, b := c.Year(season, e, cold), c.Year(season, e, warm)
			switch {
			case a.State == Date && b.State == NoFreeze:
				t.Fatalf("%v: a freeze at %d but none at %d", e, cold, warm)
			case a.State != Date || b.State != Date:
			case e == record.Last && b.Slot < a.Slot, e == record.First && b.Slot > a.Slot:
				t.Fatalf("%v: slot %d at %d, %d at %d", e, a.Slot, cold, b.Slot, warm)
			}
		}
	})
}

// Rarer harm means a later last date and an earlier first one; an exact date lies
// between the earliest and the latest year; the whole day lies on the safe side.
func TestRarerIsSafer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var outcomes []Outcome
		for range rapid.IntRange(5, 60).Draw(t, "years") {
			o := Outcome{State: OutcomeState(rapid.IntRange(0, 5).Draw(t, "state"))}
			if o.State > NoFreeze {
				o.State = Date
			}
			if o.State == Date {
				o.Slot = quantity.Slot(rapid.IntRange(0, 365).Draw(t, "slot"))
			}
			outcomes = append(outcomes, o)
		}
		for _, e := range []record.Event{record.Last, record.First} {
			sign := 1.0
			if e == record.First {
				sign = -1
			}
			careful, half := QuantileOf(outcomes, e, quantity.Careful), QuantileOf(outcomes, e, quantity.Half)
			if careful.State == Dated && half.State == Dated && sign*careful.Exact < sign*half.Exact {
				t.Fatalf("%v: careful %.2f, half %.2f", e, careful.Exact, half.Exact)
			}
			if careful.State == NoneNeeded && half.State == Dated {
				t.Fatalf("%v: no careful date but a half-and-half date", e)
			}
			if d := sign * (float64(half.Slot) - half.Exact); half.State == Dated && (d < -1e-6 || d >= 1) {
				t.Fatalf("%v: %.3f rounded to %d", e, half.Exact, half.Slot)
			}
		}
	})
}

func thirtyYears() Series {
	s := steady(day(1990, 1, 1), day(2021, 1, 1), 0)
	seed := uint64(1)
	for i := range s.Values {
		seed = seed*6364136223846793005 + 1442695040888963407
		_, slot := quantity.North.SeasonOf(s.Start + quantity.Day(i))
		fromMidwinter := max(183-int(slot), int(slot)-183) // 0 in February, 183 in August
		s.Values[i] = quantity.Hundredths(fromMidwinter*20 - 1700 + int(seed>>40)%120*10)
	}
	return s
}

// A few dozen steps a year, and look-ups that allocate nothing.
func TestStaircasesAreSmall(t *testing.T) {
	s := thirtyYears()
	c := Climb(s, quantity.North)
	if steps, years := len(c.steps), len(c.years); steps > 100*years {
		t.Errorf("%d steps in %d years", steps, years)
	}
	years := Years{1991, 2020}
	if n := testing.AllocsPerRun(100, func() { c.Odds(years, record.Last, -220, quantity.Careful) }); n != 0 {
		t.Errorf("Odds allocates %v times", n)
	}
	buffer := make([]Outcome, 0, 30)
	if n := testing.AllocsPerRun(100, func() { c.Vector(buffer, 1990, 2019, record.Last, -220) }); n != 0 {
		t.Errorf("Vector allocates %v times", n)
	}
}

func BenchmarkClimb(b *testing.B) {
	s := thirtyYears()
	b.ReportAllocs()
	for b.Loop() {
		Climb(s, quantity.North)
	}
}

func BenchmarkYear(b *testing.B) {
	c := Climb(thirtyYears(), quantity.North)
	b.ReportAllocs()
	for b.Loop() {
		c.Year(2005, record.Last, -220)
	}
}

func BenchmarkOdds(b *testing.B) {
	c := Climb(thirtyYears(), quantity.North)
	b.ReportAllocs()
	for b.Loop() {
		c.Odds(Years{1991, 2020}, record.Last, -220, quantity.Careful)
	}
}
