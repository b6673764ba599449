package frost

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// ramp is n yearly values, so much warmer each year.
func ramp(n int, perYear float64) []float64 {
	out := make([]float64, n)
	for k := range out {
		out[k] = perYear * float64(k)
	}
	return out
}

// By hand: half of 0.04 K a year over the 29 years to the last is 0.58 K.
func TestDrift(t *testing.T) {
	for _, c := range []struct {
		name        string
		values      []float64
		first, last quantity.Kelvins
	}{
		{"warmer by 0.04 K a year", ramp(30, 0.04), -0.58, 0},
		{"colder by 0.04 K a year", ramp(30, -0.04), 0.58, 0},
		{"no trend", ramp(30, 0), 0, 0},
		{"by 0.1 K a year: 1.45 K, cut to 1", ramp(30, 0.1), -1, 0},
		{"20 years: half of 0.04 x 19", ramp(20, 0.04), -0.38, 0},
		{"19 years", ramp(19, 0.04), 0, 0},
		{"no years", nil, 0, 0},
	} {
		got := Drift(c.values)
		if len(got) != len(c.values) {
			t.Errorf("%s: %d years, want %d", c.name, len(got), len(c.values))
			continue
		}
		if n := len(got); n > 0 {
			near(t, c.name+", first year", float64(got[0]), float64(c.first), 1e-9)
			near(t, c.name+", last year", float64(got[n-1]), float64(c.last), 1e-9)
		}
	}
	holes := ramp(30, 0.04)
	holes[3], holes[17] = math.NaN(), math.NaN()
	near(t, "with holes", float64(Drift(holes)[0]), -0.58, 1e-9)
}

// By hand: -0.43 K is 0.77 F, so a step of whole F; -0.2 K is 0.36 F and none.
func TestMoved(t *testing.T) {
	for _, c := range []struct {
		from quantity.Hundredths
		by   quantity.Kelvins
		step record.StepKind
		want quantity.Hundredths
	}{
		{0, -0.43, record.WholeF, -56},
		{0, -0.2, record.WholeF, 0},
		{-222, 0.3, record.WholeF, -167},
		{-220, -0.43, record.TenthC, -260},
		{-220, -0.44, record.HundredthC, -264},
		{-200, -0.43, record.WholeC, -200},
		{-200, 0.6, record.WholeC, -100},
		{-250, -0.3, record.HalfC, -300},
	} {
		if got := Moved(c.from, c.by, c.step); got != c.want {
			t.Errorf("%d moved by %.2f K in steps %d: %d, want %d", c.from, c.by, c.step, got, c.want)
		}
	}
}

// By hand: lows rising by 0.04 K a year end at 1.16; the first, 0, would now be 0.58; a
// low that is not known stays so.
func TestAtPresent(t *testing.T) {
	lows := ramp(30, 0.04)
	lows[5] = math.NaN()
	got := AtPresent(lows)
	near(t, "first", got[0], 0.58, 1e-9)
	near(t, "last", got[29], 1.16, 1e-9)
	if !math.IsNaN(got[5]) || lows[0] != 0 {
		t.Errorf("gap became %v, first low %v", got[5], lows[0])
	}
}

func TestMonthMeans(t *testing.T) {
	s := Series{Start: quantity.DayOf(2001, 1, 1), Values: make([]quantity.Hundredths, 3*365)}
	at := func(y, m, d int) *quantity.Hundredths { return &s.Values[quantity.DayOf(y, m, d)-s.Start] }
	for d := 1; d <= 30; d++ {
		*at(2002, 4, d) = 600
	}
	for d := 1; d <= 13; d++ { // 13 of the 61 days from March to April: over a fifth
		*at(2003, 3, d) = quantity.Missing
	}
	years := Years{From: 2000, To: 2004}
	got := s.MonthMeans(3, 4, years)
	for k, want := range []float64{math.NaN(), 0, 6.0 * 30 / 61, math.NaN(), math.NaN()} {
		if math.IsNaN(want) != math.IsNaN(got[k]) || math.Abs(got[k]-want) > 1e-9 {
			t.Errorf("%d: %.4f, want %.4f", 2000+k, got[k], want)
		}
	}
	*at(2003, 3, 13) = 0 // 12 of 61: within a fifth
	if got := s.MonthMeans(3, 4, years)[3]; got != 0 {
		t.Errorf("with 12 days missing: %.4f, want 0", got)
	}
}

func TestTrendMonths(t *testing.T) {
	for _, c := range []struct {
		e        record.Event
		h        quantity.Hemisphere
		from, to int
	}{{record.Last, quantity.North, 3, 5}, {record.First, quantity.North, 9, 11}, {record.Last, quantity.South, 9, 11}, {record.First, quantity.South, 3, 5}} {
		if from, to := TrendMonths(c.e, c.h); from != c.from || to != c.to {
			t.Errorf("%v %v: months %d-%d, want %d-%d", c.e, c.h, from, to, c.from, c.to)
		}
	}
}

// warming is thirty years 1991-2020 of 5 C with springs and falls that begin at 0 C
// and warm by 0.06 K a year; -3 C on 1 April and 30 October of each, -2 C on 20 April and
// 1 October of the first fifteen; one winter night a year, on 15 January, that rises by
// 0.05 K a year from -20 C.
func warming() Series {
	s := Series{Start: quantity.DayOf(1990, 8, 1), Step: record.HundredthC}
	for d := s.Start; d < quantity.DayOf(2021, 8, 1); d++ {
		y, m, day := d.Date()
		k := min(max(y-1991, 0), 29)
		v := 500
		switch {
		case m == 1 && day == 15:
			v = -2000 + 5*k
		case m == 4 && day == 1, m == 10 && day == 30:
			v = -300
		case y < 2006 && (m == 4 && day == 20 || m == 10 && day == 1):
			v = -200
		case m >= 3 && m <= 5, m >= 9 && m <= 11:
			v = 6 * k
		}
		s.Values = append(s.Values, quantity.Hundredths(v))
	}
	return s
}

// By hand: at -2 C half the springs end on 20 April as they were, so the careful date
// is that day; moved to the present, the -2 C of 2005 counts as -2 + half of 0.06 K over
// 15 years = -1.55 and reaches -2 no more, so that both dates are 1 April. Falls alike.
// The span of a middle year: half of 1 April to 30 October (212 days) and half of 20
// April to 1 October (164), by Hazen between the two: 188; now 212. Winter: -20 + 0.05 x
// 14.5 = -19.275 on average, at present half of 0.05 x 14.5 = 0.3625 milder.
func TestPresent(t *testing.T) {
	p := NewPresent(warming(), Years{From: 1991, To: 2020}, quantity.North)
	for _, e := range []record.Event{record.Last, record.First} {
		trend, ok := p.TrendOf(e)
		if !ok {
			t.Fatalf("%v: no trend", e)
		}
		near(t, "trend for each ten years", float64(trend), 0.6, 0.03) // the few cold nights lean on it
	}
	slot := func(m, d int) quantity.Slot { return quantity.North.SlotOf(quantity.MonthDay{Month: m, Day: d}) }
	for _, c := range []struct {
		e              record.Event
		plain, shifted quantity.Slot
	}{{record.Last, slot(4, 20), slot(4, 1)}, {record.First, slot(10, 1), slot(10, 30)}} {
		plain, shifted := p.PlainDate(c.e, -2, quantity.Careful), p.ShiftedDate(c.e, -2, quantity.Careful)
		if plain.Slot != c.plain || shifted.Slot != c.shifted {
			t.Errorf("%v: plain %d, shifted %d; want %d, %d", c.e, plain.Slot, shifted.Slot, c.plain, c.shifted)
		}
		if a := p.Date(c.e, -2, quantity.Careful); a.Slot != c.plain {
			t.Errorf("%v: careful %d, want the safer %d", c.e, a.Slot, c.plain)
		}
		if a := p.Date(c.e, -2, quantity.Half); a.Slot != c.shifted {
			t.Errorf("%v: half %d, want the present's %d", c.e, a.Slot, c.shifted)
		}
	}
	if m := p.Span(-2); m.State != Dated || m.Days != 212 {
		t.Errorf("span %+v, want 212 days", m)
	}
	plain, now, used := p.ColdestNight()
	near(t, "coldest night", float64(plain), -19.275, 1e-9)
	near(t, "coldest night at present", float64(now), -19.275+0.3625, 1e-9)
	if used != 30 {
		t.Errorf("%d winters, want 30", used)
	}

	p.Plain = true
	if a := p.Date(record.Last, -2, quantity.Careful); a.Slot != slot(4, 20) {
		t.Errorf("plain careful %d", a.Slot)
	}
	if m := p.Span(-2); m.Days != 188 {
		t.Errorf("plain span %+v, want 188 days", m)
	}
}

func TestSafer(t *testing.T) {
	dated := func(exact float64) Answer { return Answer{State: Dated, Exact: exact} }
	for _, c := range []struct {
		name       string
		e          record.Event
		a, b, want Answer
	}{
		{"the later in spring", record.Last, dated(250), dated(260), dated(260)},
		{"the earlier in fall", record.First, dated(40), dated(50), dated(40)},
		{"a date before none needed", record.Last, Answer{State: NoneNeeded}, dated(250), dated(250)},
		{"a date before never", record.First, Answer{State: NeverFreezes}, dated(50), dated(50)},
		{"any month before a date", record.First, dated(40), Answer{State: AnyMonth}, Answer{State: AnyMonth}},
		{"not knowing before all", record.Last, Answer{State: TooFewYears}, dated(250), Answer{State: TooFewYears}},
	} {
		for _, got := range []Answer{Safer(c.a, c.b, c.e), Safer(c.b, c.a, c.e)} {
			if got.State != c.want.State || got.Exact != c.want.Exact {
				t.Errorf("%s: %+v", c.name, got)
			}
		}
	}
}
