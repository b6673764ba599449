package band

import (
	"fmt"
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

func known[T any](v T) figure.Of[T] { return figure.Is(v, figure.Cell{}, "") }

func day(y, m, d int) quantity.Day { return quantity.DayOf(y, m, d) }

// station is a row on a slope at 44 N, 38 W, and so many km north of there.
func station(id string, metres, north float64) catalog.Station {
	return catalog.Station{
		ID: id, Name: id, Elevation: known(quantity.Metres(metres)), Position: known(catalog.Slope),
		Latitude: known(44 + north/111.195), Longitude: known(-38.0),
	}
}

func bandAt(low, high float64) *catalog.Band {
	return &catalog.Band{ID: "b", Low: known(quantity.Metres(low)), High: known(quantity.Metres(high)), Position: known(catalog.Slope)}
}

// calm is a record of years from-to on which nothing happens: every minimum 1 C,
// every maximum 1 C, in hundredths, so that days can be set one by one.
func calm(id string, from, to int) *record.Daily {
	d := &record.Daily{Station: id, File: id + ".csv", Start: day(from, 1, 1), Step: record.TenthC}
	for i := d.Start; i < day(to+1, 1, 1); i++ {
		d.Min, d.Max = append(d.Min, 100), append(d.Max, 100)
	}
	return d
}

// set gives a day a minimum and a maximum with the same mean as before.
func set(d *record.Daily, on quantity.Day, low quantity.Hundredths) {
	i := on - d.Start
	d.Max[i] += d.Min[i] - low
	d.Min[i] = low
}

// weather is an invented record without gaps: a yearly wave of the minimum (mean
// mid and half-range swing, C; coldest on 16 January) with noise that hangs together
// from day to day, by the seed alone; maxima 10 K above.
func weather(id string, from, to int, mid, swing float64, seed uint64) *record.Daily {
	d := &record.Daily{Station: id, File: id + ".csv", Start: day(from, 1, 1), Step: record.TenthC}
	noise := 0.0
	for on := d.Start; on < day(to+1, 1, 1); on++ {
		_, slot := quantity.North.SeasonOf(on)
		sum := 0.0
		for range 4 {
			seed = seed*6364136223846793005 + 1442695040888963407
			sum += float64(seed>>40)/(1<<24) - 0.5
		}
		noise = 0.7*noise + 2.5*sum
		low := mid - swing*math.Cos(2*math.Pi*float64(slot-168)/quantity.SlotsPerYear) + noise
		d.Min = append(d.Min, quantity.Hundredths(math.Round(low*10)*10))
		d.Max = append(d.Max, quantity.Hundredths(math.Round(low*10+100)*10))
	}
	return d
}

// moved is the same record, so many days later and so much warmer.
func moved(d *record.Daily, days quantity.Day, warmer quantity.Hundredths) *record.Daily {
	m := *d
	m.Start += days
	m.Min, m.Max = append([]quantity.Hundredths(nil), d.Min...), append([]quantity.Hundredths(nil), d.Max...)
	for i := range m.Min {
		if m.Min[i].Known() {
			m.Min[i] += warmer
		}
		if m.Max[i].Known() {
			m.Max[i] += warmer
		}
	}
	return &m
}

// alone is a region of one station at 500 m, its years taken as they were.
func alone(d *record.Daily, h quantity.Hemisphere) *Region {
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 0, 0, h)
	r.Plain = true
	return r
}

// valley is a region of n slope stations, 300 m and each 250 m higher and 8 km
// further north than the last, 5 K for each 1,000 m, years from-to.
func valley(n, from, to int, warmer quantity.Hundredths) *Region {
	var rows []catalog.Station
	records := map[string]*record.Daily{}
	for i := range n {
		id, z := fmt.Sprintf("s%d", i), 300+250*float64(i)
		rows = append(rows, station(id, z, 8*float64(i)))
		records[id] = moved(weather(id, from, to, 6.5-0.005*z, 10, uint64(i+1)), 0, warmer)
	}
	return NewRegion(rows, records, from, to, quantity.North)
}

func near(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }
