package band_test

import (
	"fmt"
	"math"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// millRecord is thirty invented years at a mill: 5 C every night but one, of -3 C, in
// each spring, on 15 April in one of them, on 16 April in another, and so on to 14 May.
func millRecord() *record.Daily {
	d := &record.Daily{Station: "mill", File: "data/records/mill.csv", Start: quantity.DayOf(1994, 1, 1), Step: record.TenthC}
	for on := d.Start; on < quantity.DayOf(2025, 1, 1); on++ {
		low := quantity.Hundredths(500)
		if year, _, _ := on.Date(); on == quantity.DayOf(year, 4, 15)+quantity.Day(year*7%30) {
			low = -300
		}
		d.Min, d.Max = append(d.Min, low), append(d.Max, 1500)
		d.Lines = append(d.Lines, int32(len(d.Lines)+2)) // line 1 holds the headings
	}
	return d
}

// A date followed from the record to what is printed, as "shedwall explain date"
// does: a crop that is harmed at -1 C, under a cover that gives 1 K at its weakest, in
// a hollow 200 m above the only station.
func ExampleClimate_Date() {
	mill := catalog.Station{ID: "mill", Name: "The mill", Elevation: figure.Is(quantity.Metres(600), figure.Cell{}, "")}
	region := band.NewRegion([]catalog.Station{mill}, map[string]*record.Daily{"mill": millRecord()}, 1995, 2024, quantity.North)
	climate := region.Climate(&catalog.Band{
		Name:     "Upper Hollow",
		Low:      figure.Is(quantity.Metres(700), figure.Cell{}, ""),
		High:     figure.Is(quantity.Metres(800), figure.Cell{}, ""),
		Position: figure.Is(catalog.Hollow, figure.Cell{}, ""),
	})
	gate := band.Gate{Series: band.Night, Limit: -1, Gain: 1}
	answer := climate.Date(record.Last, quantity.Careful, gate)

	date := func(slot float64) string {
		md := quantity.North.MonthDay(quantity.Slot(math.Floor(slot)))
		text := fmt.Sprintf("%d %s", md.Day, [...]string{4: "April", 5: "May"}[md.Month])
		if part := slot - math.Floor(slot); part > 0 {
			text += fmt.Sprintf(" and %.1f", part)
		}
		return text
	}
	for _, p := range answer.Parts {
		station := region.Stations[p.Station]
		s := climate.Shift(record.Last, quantity.Careful, p.Station)
		fmt.Printf("%s, %.0f m, counts %.0f %%\n", station.Row.Name, float64(s.StationElevation), 100*p.Weight)
		fmt.Printf("  harmed at %.1f C - %.1f for the cover + %.1f for height (%.1f C per 1,000 m, %.0f m) + %.1f for the hollow = %.1f C\n",
			float64(gate.Limit), float64(gate.Gain), float64(s.Altitude()), 1000*float64(s.Lapse), float64(s.BandElevation-s.StationElevation), -float64(s.Position()), float64(p.Thresholds[0]))
		years := climate.Years(record.Last, quantity.Careful, p.Station, answer.Shifted, gate)
		lower, upper, part := band.Positions(p.Used, record.Last, quantity.Careful)
		for _, rank := range []int{lower, upper} {
			y := years[rank-1]
			fmt.Printf("  number %d of %d years in order: %s %d (%s:%d)\n", rank, p.Used, date(float64(y.Slot)), y.Year, station.Record.File, station.Record.LineOf(y.Day))
		}
		fmt.Printf("  %.1f of the way: %s\n", part, date(p.Slot))
	}
	fmt.Printf("%d of %d years, rounded to the later day\n", answer.Used-answer.Without, answer.Used)
	fmt.Println("=", date(float64(answer.Slot)))
	// Output:
	// The mill, 600 m, counts 100 %
	//   harmed at -1.0 C - 1.0 for the cover + 0.9 for height (4.5 C per 1,000 m, 200 m) + 1.5 for the hollow = 0.4 C
	//   number 27 of 30 years in order: 11 May 2018 (data/records/mill.csv:8898)
	//   number 28 of 30 years in order: 12 May 2001 (data/records/mill.csv:2690)
	//   0.5 of the way: 11 May and 0.5
	// 30 of 30 years, rounded to the later day
	// = 12 May
}
