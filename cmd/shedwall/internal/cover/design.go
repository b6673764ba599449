package cover

import (
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Site is where a house stands.
type Site struct {
	Latitude  float64 // degrees, south negative
	Elevation quantity.Metres
}

// nearNight: nights within this of the one asked for are like it.
const nearNight quantity.Kelvins = 2

const (
	leastNights   = 30 // fewer tell no 1 in 10
	deepDays      = 60 // soil half a metre down follows the mean of so many days of air
	deepDaysLeast = 40
)

// DesignNights is the weather of a place's own nights of about a temperature, in
// spring or fall: from every night within 2 K of it, the maxima of the days before at
// 10, 50 and 90 % for dull, half sunny and clear days, the middle day of the year,
// and soil from the mean of the sixty days before. shift carries the record's
// temperatures to the place (band.Shift); months are those looked at, 1 to 12. false
// where there are fewer than thirty such nights.
//
// The maxima take the differences between night and day, so that a night a little
// above or below the one asked for tells as much.
func DesignNights(d *record.Daily, at Site, night quantity.Celsius, shift quantity.Kelvins, months []int) (Weather, bool) {
	var above, means []float64
	var days []int
	for i := 1; i < len(d.Min); i++ {
		low, before := d.Min[i], d.Max[i-1]
		if !low.Known() || !before.Known() {
			continue
		}
		at := low.Celsius().Plus(shift)
		if off := at.Minus(night); off < -nearNight || off > nearNight {
			continue
		}
		date := d.Start + quantity.Day(i)
		if _, month, _ := date.Date(); !slices.Contains(months, month) {
			continue
		}
		above = append(above, float64(before.Celsius().Minus(low.Celsius())))
		days = append(days, dayOfYear(date))
		if m, ok := meanBefore(d, i); ok {
			means = append(means, m+float64(shift))
		}
	}
	if len(above) < leastNights || len(means) == 0 {
		return Weather{}, false
	}
	slices.Sort(above)
	w := Weather{Latitude: at.Latitude, Elevation: at.Elevation, DayOfYear: middleDay(days), Min: night}
	for k, share := range [3]float64{Dull: 0.1, HalfSun: 0.5, Clear: 0.9} {
		w.Days[k] = DayBefore{Sun: sunShares[k], Max: night.Plus(quantity.Kelvins(max(0, quantile(above, share))))}
	}
	sum := 0.0
	for _, m := range means {
		sum += m / float64(len(means))
	}
	w.Deep = quantity.Celsius(max(0, sum)) // deep soil under a house does not freeze
	return w, true
}

// meanBefore is the mean air temperature of the sixty days before day i of the
// record, where at least forty are known.
func meanBefore(d *record.Daily, i int) (float64, bool) {
	sum, n := 0.0, 0
	for k := max(0, i-deepDays); k < i; k++ {
		if d.Min[k].Known() && d.Max[k].Known() {
			sum, n = sum+float64(d.Min[k].Celsius()+d.Max[k].Celsius())/2, n+1
		}
	}
	if n < deepDaysLeast {
		return 0, false
	}
	return sum / float64(n), true
}

func dayOfYear(d quantity.Day) int {
	year, _, _ := d.Date()
	return int(d-quantity.DayOf(year, 1, 1)) + 1
}

// middleDay is the mean of days of the year taken round the year, so that December
// and January meet in winter and not in July.
func middleDay(days []int) float64 {
	var x, y float64
	for _, d := range days {
		a := 2 * math.Pi * float64(d) / 365.25
		x, y = x+math.Cos(a), y+math.Sin(a)
	}
	m := math.Atan2(y, x) / (2 * math.Pi) * 365.25
	if m < 1 {
		m += 365.25
	}
	return m
}

// quantile of sorted values, by Hazen's positions, linear between neighbours.
func quantile(sorted []float64, share float64) float64 {
	n := len(sorted)
	rank := min(max(share*float64(n)-0.5, 0), float64(n-1))
	i := int(rank)
	if i+1 >= n {
		return sorted[n-1]
	}
	return sorted[i] + (sorted[i+1]-sorted[i])*(rank-float64(i))
}
