package band

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Brief says what Date says, of any gates, odds and event, with gaps in the records and
// stations of different years; and so does the risk of a season.
func TestBriefIsDate(t *testing.T) {
	r := valley(4, 1990, 2018, 0)
	for k, s := range r.Stations { // gaps: whole months, and single days
		for i := range s.Record.Min {
			if (i/40+k)%23 == 0 && i%400 < 200 || i%(97+k) == 0 {
				s.Record.Min[i] = quantity.Missing
			}
		}
		s.climbs = climb(s.Record, r.Hemisphere)
		s.First += k * 3
		for e := range s.drift {
			s.drift[e] = s.drift[e][k*3:]
		}
	}
	climates := []*Climate{r.Climate(bandAt(500, 700)), valley(3, 2001, 2020, 0).Climate(bandAt(900, 1000)), valley(2, 1960, 2020, 0).Climate(bandAt(300, 300))}
	quick := make([]*Climate, len(climates))
	for i, c := range climates {
		quick[i] = c.Remembering()
	}
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(climates)-1).Draw(t, "climate")
		e := rapid.SampledFrom([]record.Event{record.Last, record.First}).Draw(t, "event")
		odds := rapid.SampledFrom([]quantity.Odds{quantity.Careful, quantity.Half}).Draw(t, "odds")
		back := rapid.IntRange(0, 20).Draw(t, "back")
		night := func(name string) Gate {
			return Gate{Limit: quantity.Celsius(float64(rapid.IntRange(-80, 90).Draw(t, name)) / 10), Gain: quantity.Kelvins(float64(rapid.IntRange(0, 40).Draw(t, name+" gain")) / 10)}
		}
		gates := []Gate{night("night")}
		if rapid.Bool().Draw(t, "days") {
			table, steps := make([]quantity.Slot, 2*quantity.SlotsPerYear), rapid.SampledFrom([]int{1, 30}).Draw(t, "steps") // long ones: many years alike
			for s := range table {
				table[s] = NoSlot
				if s <= 330 {
					table[s] = max(0, quantity.Slot((s-back)/steps*steps))
				}
			}
			gates[0].Days = NewDays(quantity.Slot(rapid.IntRange(0, 28).Draw(t, "before")), table)
		}
		if rapid.Bool().Draw(t, "week") {
			gates = append(gates, Gate{Series: Week, Limit: quantity.Celsius(rapid.IntRange(-2, 12).Draw(t, "chill")), Days: gates[0].Days})
		}
		if e == record.Last && rapid.Bool().Draw(t, "soil") {
			gates = append(gates, Gate{Series: Soil, Limit: quantity.Celsius(rapid.IntRange(2, 18).Draw(t, "soil limit"))})
		}
		if e == record.Last && rapid.Bool().Draw(t, "cold") {
			gates = append(gates, Gate{Series: Cold, Limit: quantity.Celsius(rapid.IntRange(0, 12).Draw(t, "bolt")), Count: rapid.IntRange(1, 60).Draw(t, "count")})
		}
		if rapid.Bool().Draw(t, "twin") { // as late every year: the first of them decides
			gates = append(gates, gates[0])
		}
		a, b := climates[i].Date(e, odds, gates...), quick[i].Brief(e, odds, gates...)
		a.Parts, a.Used, a.Without, a.Unusable, a.LeftOut, a.Apart = nil, 0, 0, 0, nil, false
		if fmt.Sprint(a) != fmt.Sprint(b) {
			t.Fatalf("Date %+v, Brief %+v", a, b)
		}
		one := Gate{Limit: night("alone").Limit, Series: rapid.SampledFrom([]Series{Night, Week, Soil, Hot, Month, Cold}).Draw(t, "series")}
		switch one.Series {
		case Hot, Month:
			one.Limit += 18
		case Soil, Cold:
			e, one.Limit, one.Count = record.Last, one.Limit+5, 9
		}
		some := quantity.Odds(rapid.IntRange(1, 19).Draw(t, "twentieths")) / 20
		shifted := rapid.Bool().Draw(t, "shifted")
		a, b = climates[i].date(e, some, shifted, []Gate{one}), climates[i].withoutParts(e, some, shifted, one)
		a.Parts = nil
		if fmt.Sprint(a) != fmt.Sprint(b) {
			t.Fatalf("date %+v, without parts %+v", a, b)
		}
		spring, fall := gates[0], night("fall")
		from := quantity.Slot(rapid.IntRange(184, 365).Draw(t, "from"))
		x, y := climates[i].SeasonRisk(odds, spring, fall, from, from+150), quick[i].SeasonRisk(odds, spring, fall, from, from+150)
		if x != y {
			t.Fatalf("risk %+v, briefly %+v", x, y)
		}
	})
}

// All thirty years end on the same slot, twelve by the first gate and eighteen by the
// second, which decides: also the years before those that ranks are read from vote.
func TestYearsAlikeVote(t *testing.T) {
	first, second := &vector{years: 30}, &vector{years: 30}
	for k := range 30 {
		if k < 12 {
			first.put(k, 100)
			second.put(k, 50)
		} else {
			first.put(k, 50)
			second.put(k, 100)
		}
	}
	b := &briefing{}
	b.said[0], b.said[1] = &testimony{of: []*vector{first}}, &testimony{of: []*vector{second}}
	read := newRanks(30, record.Last, quantity.Half)
	r := &read
	b.turned[0], b.turned[1] = asItIs, asItIs
	b.enter(0, r, 2)
	for name, take := range map[string]func(int, uint64, int, *ranks){"take": b.take, "takeTwo": b.takeTwo} {
		take(0, 0, 30, r)
		votes := tally{votes: make([]float64, 2)}
		b.vote(&votes, 30, r, 30)
		if !near(votes.votes[0], 12, 1e-9) || !near(votes.votes[1], 18, 1e-9) {
			t.Errorf("%s: votes %v, want 12 and 18", name, votes.votes)
		}
	}
}
