package plan

import (
	"fmt"
	"math"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

func known[T any](v T) figure.Of[T] { return figure.Is(v, figure.Cell{}, "") }

// weather is an invented record of years from-to: a yearly wave of mean minimum
// mid and half-range swing (C), coldest in the middle of January, maxima spread
// above, and noise that hangs together from day to day, by the seed alone.
func weather(id string, from, to int, mid, swing, spread float64, seed uint64) *record.Daily {
	d := &record.Daily{Station: id, File: id + ".csv", Start: quantity.DayOf(from, 1, 1), Step: record.TenthC}
	noise := 0.0
	for day := d.Start; day < quantity.DayOf(to+1, 1, 1); day++ {
		_, slot := quantity.North.SeasonOf(day)
		sum := 0.0
		for range 4 {
			seed = seed*6364136223846793005 + 1442695040888963407
			sum += float64(seed>>40)/(1<<24) - 0.5
		}
		noise = 0.7*noise + 2.5*sum
		low := mid - swing*math.Cos(2*math.Pi*float64(slot-168)/quantity.SlotsPerYear) + noise
		d.Min = append(d.Min, quantity.Celsius(math.Round(low*10)/10).Hundredths())
		d.Max = append(d.Max, quantity.Celsius(math.Round((low+spread)*10)/10).Hundredths())
		d.Lines = append(d.Lines, int32(len(d.Lines)+2))
	}
	return d
}

// sixStations is an invented region of slope stations, 400 to 1,400 m, 5 K for each
// 1,000 m, with thirty years of weather.
func sixStations() *band.Region {
	var rows []catalog.Station
	records := map[string]*record.Daily{}
	for i := range 6 {
		id := fmt.Sprintf("s%d", i)
		z := 400 + 200*float64(i)
		rows = append(rows, catalog.Station{
			ID: id, Name: id,
			Latitude: known(44.0 + 0.05*float64(i)), Longitude: known(-38.0 + 0.03*float64(i)),
			Elevation: known(quantity.Metres(z)), Position: known(catalog.Slope),
		})
		records[id] = weather(id, 1991, 2020, 7-0.005*z, 10, 10, uint64(i+1))
	}
	return band.NewRegion(rows, records, 1991, 2020, quantity.North)
}

func slopeBand(low, high float64) *catalog.Band {
	return &catalog.Band{ID: "b", Name: "band", Low: known(quantity.Metres(low)), High: known(quantity.Metres(high)), Position: known(catalog.Slope)}
}
