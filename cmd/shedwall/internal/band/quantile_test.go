package band

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// By hand: Hazen rank q n + 0.5 from 20 years, Weibull q (n + 1) below, q the share of
// years before the date: 0.9 or 0.1 for careful dates.
func TestPositions(t *testing.T) {
	for _, c := range []struct {
		n            int
		e            record.Event
		odds         quantity.Odds
		lower, upper int
		part         float64
	}{
		{30, record.Last, quantity.Careful, 27, 28, 0.5},
		{30, record.First, quantity.Careful, 3, 4, 0.5},
		{30, record.Last, quantity.Half, 15, 16, 0.5},
		{25, record.Last, quantity.Careful, 23, 23, 0},
		{21, record.First, quantity.Half, 11, 11, 0},
		{19, record.Last, quantity.Careful, 18, 18, 0},
		{10, record.Last, quantity.Careful, 9, 10, 0.9},
		{10, record.First, quantity.Careful, 1, 2, 0.1},
		{5, record.Last, quantity.Half, 3, 3, 0},
		{1, record.Last, quantity.Half, 1, 1, 0},
	} {
		lower, upper, part := Positions(c.n, c.e, c.odds)
		if lower != c.lower || upper != c.upper || !near(part, c.part, 1e-9) {
			t.Errorf("%d years, %v, %.2f: ranks %d and %d, %.3f of the way; want %d, %d, %.3f", c.n, c.e, c.odds, lower, upper, part, c.lower, c.upper, c.part)
		}
	}
}

// A band that is its station asks what frost asks of the record, so both must say
// the same, gaps and frost-free years and all.
func TestDateEqualsFrost(t *testing.T) {
	states := map[frost.AnswerState]State{
		frost.Dated: Dated, frost.NoneNeeded: NoneNeeded, frost.NeverFreezes: NoneNeeded,
		frost.AnyMonth: AnyMonth, frost.TooFewYears: NotKnown, frost.NotKnown: NotKnown,
	}
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.IntRange(1970, 1990).Draw(t, "from")
		d := weather("s", from, from+rapid.IntRange(0, 33).Draw(t, "years"), rapid.Float64Range(-5, 15).Draw(t, "mean"), rapid.Float64Range(2, 14).Draw(t, "swing"), rapid.Uint64().Draw(t, "seed"))
		for range rapid.IntRange(0, 12).Draw(t, "gaps") {
			at := rapid.IntRange(0, len(d.Min)-1).Draw(t, "gap")
			for i := at; i < min(at+rapid.IntRange(1, 60).Draw(t, "days"), len(d.Min)); i++ {
				d.Min[i] = quantity.Missing
			}
		}
		h := quantity.Hemisphere(rapid.IntRange(0, 1).Draw(t, "hemisphere"))
		r := alone(d, h)
		r.Plain = true
		c := r.Climate(bandAt(500, 500))
		s := frost.Minima(d)
		stairs, years := frost.Climb(s, h), s.LastYears(frost.DefaultYears)
		limit := quantity.Celsius(rapid.IntRange(-150, 100).Draw(t, "limit")) / 10
		for _, e := range []record.Event{record.Last, record.First} {
			for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
				got := c.Date(e, odds, Gate{Series: Night, Limit: limit})
				want := stairs.Odds(years, e, frost.RoundWarm(limit, d.Step), odds)
				if got.State != states[want.State] {
					t.Fatalf("%v %.1f at %.1f: state %d, frost says %v", e, odds, limit, got.State, want.State)
				}
				if got.State == NotKnown {
					continue
				}
				if got.Used != want.Used || got.Without != want.Without || got.Unusable != want.Unusable || got.Estimate != want.Estimate {
					t.Fatalf("%v %.1f: %+v, frost says %+v", e, odds, got, want)
				}
				if got.State != Dated {
					continue
				}
				shift := 0
				if e == record.First {
					shift = quantity.SlotsPerYear
				}
				if got.Slot != want.Slot+quantity.Slot(shift) || !near(got.Exact, want.Exact+float64(shift), 1e-9) {
					t.Fatalf("%v %.1f at %.1f: slot %d (%.3f), frost says %d (%.3f)", e, odds, limit, got.Slot, got.Exact, want.Slot, want.Exact)
				}
				sampling := got.Parts[0].Sampling
				if math.IsNaN(sampling) {
					sampling = 0
				}
				if !near(sampling, want.PlusMinus, 1e-9) {
					t.Fatalf("%v %.1f: sampling error %.3f, frost says %.3f", e, odds, sampling, want.PlusMinus)
				}
			}
		}
		got, known := c.FrostFree(limit)
		if want := stairs.FrostFree(years, frost.RoundWarm(limit, d.Step)); known != (want.State == frost.Dated) || known && got != want.Days {
			t.Fatalf("frost-free days at %.1f: %d %v, frost says %+v", limit, got, known, want)
		}
	})
}
