package frost_test

import (
	"fmt"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Thirty springs whose last frost, -3 C, falls on 1 to 30 April in turn. A plant
// harmed at 28 F (-2.2 C) is harmed after 28 April in one year of ten: Hazen's rank
// 30 x 0.9 + 0.5 = 27.5 lies between the 27th and the 28th, and the later day is safer.
func ExampleStaircases_Odds() {
	s := frost.Series{Start: quantity.DayOf(1991, 1, 1), Step: record.TenthC}
	for d := s.Start; d < quantity.DayOf(2021, 1, 1); d++ {
		value := quantity.Hundredths(800)
		if year, month, day := d.Date(); month == 4 && day == year-1990 {
			value = -300
		}
		s.Values = append(s.Values, value)
	}
	stairs := frost.Climb(s, quantity.North)
	limit := frost.RoundWarm(quantity.FromFahrenheit(28), s.Step)
	a := stairs.Odds(frost.Years{From: 1991, To: 2020}, record.Last, limit, quantity.Careful)
	fmt.Printf("at %.1f C: %v, exactly slot %.1f, give or take %.1f days, from %d years\n",
		limit.Celsius(), quantity.North.MonthDay(a.Slot), a.Exact, a.PlusMinus, a.Used)
	// Output: at -2.2 C: 04-28, exactly slot 270.5, give or take 1.6 days, from 30 years
}
