package plan

import (
	"fmt"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// plainYears is thirty invented years (with one before and after) of which every date
// below can be read by hand. Each year is the same:
//
//	November to March   -5 to  5 C, mean 0
//	April and October    3 to 13 C, mean 8
//	May to September    11 to 25 C, mean 18
//	single nights, with the same daily mean: -1 C on 20 May and 20 September,
//	1 C on 8 June and 1 September
//
// and in each seventh year (4 of 30) one more night of -1 C, on 30 May and 10 September.
// So, T being what harms:
//
//	last night at or below   T = 2, 1: 8 June; T = 0, -1: 20 May, careful 30 May; T = -2 to -5: 31 March
//	first night              T = 2, 1: 1 September; T = 0, -1: 20 September, careful 10 September; T = -2 to -5: 1 November
//	soil, mean of 11 days    7 C on 10 April (8 x 10/11 = 7.3), 15 C on 8 May (8 + 10 x 8/11 = 15.3)
//	week's mean night        9 C or less until 5 May (3 + 8 x 5/7 = 8.7), 7 C until 3 May (3 + 8 x 3/7 = 6.4)
func plainYears(id string) *record.Daily {
	d := &record.Daily{Station: id, File: id + ".csv", Start: quantity.DayOf(1990, 1, 1), Step: record.TenthC}
	for day := d.Start; day < quantity.DayOf(2022, 1, 1); day++ {
		y, m, dd := day.Date()
		low, high := quantity.Hundredths(-500), quantity.Hundredths(500)
		switch {
		case m == 4 || m == 10:
			low, high = 300, 1300
		case m >= 5 && m <= 9:
			low, high = 1100, 2500
		}
		night := low
		switch {
		case dd == 20 && (m == 5 || m == 9), y%7 == 0 && (dd == 30 && m == 5 || dd == 10 && m == 9):
			night = -100
		case dd == 8 && m == 6, dd == 1 && m == 9:
			night = 100
		}
		d.Min, d.Max = append(d.Min, night), append(d.Max, high+low-night)
	}
	return d
}

// place is a climate of one station with plainYears, at a latitude where ten hours of
// day end long after the frost-free days; change may alter the record.
func place(latitude float64, change func(d *record.Daily)) *band.Climate {
	d := plainYears("s")
	if change != nil {
		change(d)
	}
	row := catalog.Station{ID: "s", Name: "s", Elevation: known(quantity.Metres(500)), Position: known(catalog.Slope), Latitude: known(latitude), Longitude: known(-38.0)}
	r := band.NewRegion([]catalog.Station{row}, map[string]*record.Daily{"s": d}, 1991, 2020, quantity.North)
	return r.Climate(slopeBand(500, 500))
}

// bean is an invented crop sown outside: harmed at 0 C, soil of 15 C, ten days to
// come up, 50 to 60 to harvest.
func bean() catalog.Crop {
	return catalog.Crop{
		ID: "bean", Name: "Bean", Start: catalog.Outside, YoungDamage: known(quantity.Celsius(0)), GrownDamage: known(quantity.Celsius(0)),
		SoilMin: known(quantity.Celsius(15)), EmergeDays: known(10), DaysLow: known(50), DaysHigh: known(60),
	}
}

// tomato is an invented crop raised inside for 6 to 8 weeks: harmed at 0 C, checked by
// weeks of 9 C, 70 to 80 days from setting out.
func tomato() catalog.Crop {
	return catalog.Crop{
		ID: "tomato", Name: "Tomato", Start: catalog.Inside, YoungDamage: known(quantity.Celsius(0)), GrownDamage: known(quantity.Celsius(0)),
		Chill: known(quantity.Celsius(9)), WeeksInsideLow: known(6.0), WeeksInsideHigh: known(8.0),
		DaysLow: known(70), DaysHigh: known(80), DaysFromSetOut: true,
	}
}

func with(c catalog.Crop, change func(c *catalog.Crop)) catalog.Crop {
	change(&c)
	return c
}

func gain(low, typical, high quantity.Kelvins) catalog.Gain {
	return catalog.Gain{Low: known(low), Typical: known(typical), High: known(high)}
}

// shed is invented covers: a tunnel of 2 K, fabric of 1.5 K, both together measured
// at 4 K, and a hut that is colder inside on some nights.
func shed(crops ...catalog.Crop) *catalog.Tables {
	return &catalog.Tables{
		Crops: crops,
		Covers: []catalog.Cover{
			{ID: "tunnel", Weight: 5, Offered: true, Gain: gain(2, 2.5, 3)},
			{ID: "fabric", Weight: 2, Offered: true, Gain: gain(1.5, 1.8, 2)},
			{ID: "hut", Weight: 9, Offered: true, Gain: gain(-1, 2.5, 3)},
		},
		Layers: []catalog.Layers{{ID: "tunnel+fabric", Measured: true, Offered: true, Gain: gain(4, 4.5, 5)}},
	}
}

func planned(t *testing.T, c *band.Climate, tables *catalog.Tables) CropPlan {
	t.Helper()
	all := NewPlanner(tables).Band(c)
	if len(all) != 1 {
		t.Fatalf("%d crops planned", len(all))
	}
	return all[0]
}

// says prints a window: both ends as dates or states, with the gate that decides.
func says(w Window) string {
	end := func(b Bound) string {
		if b.State != Dated {
			return [...]string{"not known", "", "open", "never"}[b.State]
		}
		return fmt.Sprintf("%v %s", quantity.North.MonthDay(b.Slot), b.Gate)
	}
	return end(w.From) + ", " + end(w.To)
}

func check(t *testing.T, p CropPlan, layers string, odds quantity.Odds, a Action, want string) {
	t.Helper()
	for _, l := range p.Layers {
		if l.Layers == layers {
			if w, ok := l.Find(odds, a); !ok || says(w) != want {
				t.Errorf("%s, %q, %.1f, %s: %s, want %s", p.Crop.ID, layers, odds, a, says(w), want)
			}
			return
		}
	}
	t.Errorf("no layers %q", layers)
}

func spans(p CropPlan, layers string) (out []string) {
	for _, l := range p.Layers {
		if l.Layers == layers {
			for _, c := range l.Covers {
				out = append(out, fmt.Sprintf("%s %d %v %v to %v", c.Cover, c.Level, c.Event, quantity.North.MonthDay(c.From), quantity.North.MonthDay(c.To)))
			}
		}
	}
	return out
}

func missing(p CropPlan) (out []string) {
	for _, m := range p.LeftOut {
		out = append(out, m.Figure+":"+m.Used)
	}
	return out
}

func byClass(v quantity.Celsius) figure.Of[quantity.Celsius] { return known(v) }
