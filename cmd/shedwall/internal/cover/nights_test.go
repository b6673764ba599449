package cover

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

func thirtyYears(seed int64) *record.Daily {
	random := rand.New(rand.NewSource(seed))
	d := &record.Daily{Start: quantity.DayOf(1990, 8, 1)}
	for day := d.Start; day < quantity.DayOf(2021, 8, 1); day++ {
		_, slot := quantity.North.SeasonOf(day)
		low := quantity.Celsius(4 - 10*math.Cos(2*math.Pi*float64(slot-168)/366) + 4*random.NormFloat64())
		lowH, highH := low.Hundredths(), low.Plus(10).Hundredths()
		if random.Float64() < 0.01 {
			lowH = quantity.Missing
		}
		d.Min, d.Max = append(d.Min, lowH), append(d.Max, highH)
	}
	return d
}

func seasonsOf(from, to int) (s []int) {
	for y := from; y <= to; y++ {
		s = append(s, y)
	}
	return s
}

// Counts by bits are counts by hand, whatever the stretch, in the north and the south.
func TestCountsAgainstCounting(t *testing.T) {
	d := thirtyYears(1)
	rapid.Check(t, func(t *rapid.T) {
		h := quantity.Hemisphere(rapid.IntRange(0, 1).Draw(t, "hemisphere"))
		seasons := seasonsOf(1991, 2019)
		y := Lay(d, h, seasons)
		at := make([]quantity.Hundredths, len(seasons))
		for i := range at {
			at[i] = quantity.Hundredths(rapid.IntRange(-800, 800).Draw(t, "threshold"))
		}
		vent := quantity.Hundredths(rapid.IntRange(0, 2000).Draw(t, "vent"))
		from := quantity.Slot(rapid.IntRange(-5, 370).Draw(t, "from"))
		to := quantity.Slot(rapid.IntRange(-5, 370).Draw(t, "to"))
		var nights, both []int
		for i, season := range seasons {
			n, b, lacks, long := 0, 0, 0, 0
			for s := max(from, 0); s <= min(to, 365); s++ {
				long++
				day := h.DayAt(season, s)
				if s == h.SlotOf(quantity.MonthDay{Month: 2, Day: 29}) {
					if _, m, _ := day.Date(); m != 2 {
						continue // no such day
					}
				}
				v := d.MinOn(day)
				switch {
				case !v.Known():
					lacks++
				case v <= at[i]:
					n++
					if w := d.MaxOn(day); w.Known() && w >= vent {
						b++
					}
				}
			}
			if lacks > int(0.1*float64(long)) {
				n, b = NotCounted, NotCounted
			}
			nights, both = append(nights, n), append(both, b)
		}
		cold := y.Cold(at)
		if got := y.Counts(nil, Stretch{cold, nil, from, to}); !slices.Equal(got, nights) {
			t.Fatalf("nights %v, by hand %v", got, nights)
		}
		if got := y.Counts(nil, Stretch{cold, y.Warm(vent), from, to}); !slices.Equal(got, both) {
			t.Fatalf("nights and days %v, by hand %v", got, both)
		}
	})
}

// By hand: counts 1 to 10 in any order; the middle at rank 5.5 is 5.5, nine in ten at
// rank 9.5: 9.5.
func TestPriceOf(t *testing.T) {
	p, ok := PriceOf([]int{10, 1, 9, 2, 8, 3, 7, 4, 6, 5})
	if !ok || p != (Price{5.5, 9.5}) {
		t.Errorf("%+v %v", p, ok)
	}
	with := []int{NotCounted, 10, 1, 9, NotCounted, 2, 8, 3, 7, 4, 6, 5, NotCounted}
	if p, ok := PriceOf(with); !ok || p != (Price{5.5, 9.5}) {
		t.Errorf("with years not counted: %+v %v", p, ok)
	}
	if _, ok := PriceOf(append(make([]int, 9), NotCounted)); ok {
		t.Error("nine years are too few")
	}
	if p, _ := PriceOf(make([]int, 30)); p != (Price{}) {
		t.Errorf("no night in any year: %+v", p)
	}
}

// A winter of which a month is missing is not counted; one missing night is borne.
func TestYearsWithGaps(t *testing.T) {
	d := &record.Daily{Start: quantity.DayOf(2000, 8, 1)}
	for i := range 2 * 366 {
		v := quantity.Hundredths(-100)
		if i >= 200 && i < 230 || i == 366+205 {
			v = quantity.Missing
		}
		d.Min, d.Max = append(d.Min, v), append(d.Max, v)
	}
	y := Lay(d, quantity.North, []int{2000, 2001, 2002})
	cold := y.Cold([]quantity.Hundredths{0, 0, 0})
	if got := y.Counts(nil, Stretch{cold, nil, 195, 234}); !slices.Equal(got, []int{NotCounted, 38, NotCounted}) {
		t.Errorf("%v, want only the second winter: 40 slots, no 29 February, one night missing", got)
	}
	if got := VentOutside(25, true); got != 17 {
		t.Errorf("%v", got)
	}
}

// Nights needed and prudent and shut-and-open days of thirty years for a hundred crops
// under fifteen sets of layers, every limit another.
func BenchmarkNights(b *testing.B) {
	d := thirtyYears(2)
	seasons := seasonsOf(1990, 2019)
	for b.Loop() {
		y := Lay(d, quantity.North, seasons)
		var warm []*Marks
		for v := range 6 {
			warm = append(warm, y.Warm(quantity.Hundredths(1000+200*v)))
		}
		var counts []int
		total := 0.0
		at := make([]quantity.Hundredths, len(seasons))
		cold := func(t int) *Marks {
			for i := range at {
				at[i] = quantity.Hundredths(t + i/3)
			}
			return y.Cold(at)
		}
		for crop := range 100 {
			limit := -600 + 7*crop
			needed, prudent := cold(limit), cold(limit+200)
			for layer := range 15 {
				from, to := quantity.Slot(280-3*layer), quantity.Slot(285+crop%20)
				counts = y.Counts(counts, Stretch{needed, nil, from, to})
				p, _ := PriceOf(counts)
				counts = y.Counts(counts, Stretch{prudent, nil, from, to})
				q, _ := PriceOf(counts)
				counts = y.Counts(counts, Stretch{needed, warm[layer%6], from, to})
				r, _ := PriceOf(counts)
				total += p.Bad + q.Bad + r.Bad
			}
		}
		if total == 0 {
			b.Fatal("nothing was counted")
		}
	}
}

func ExamplePriceOf() {
	nights := []int{3, 8, 5, 12, 6, 4, 7, 9, 5, 6} // cover nights of ten springs
	p, _ := PriceOf(nights)
	fmt.Printf("%.0f nights in a middling year, %.0f in a bad one\n", p.Middling, p.Bad)
	// Output: 6 nights in a middling year, 10 in a bad one
}
