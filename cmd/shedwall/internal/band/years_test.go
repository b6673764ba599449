package band

import (
	"testing"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// TestYearsNameTheReading: each year's reading is the last that held the date back, also
// where a sowing date is counted back from it: the week that ends there is as cold as the
// threshold, the week that ends a day later is not.
func TestYearsNameTheReading(t *testing.T) {
	r := valley(5, 1981, 2010, 0)
	c := r.Climate(bandAt(600, 800))
	back := NewDays(10, nil)
	gates := []Gate{{Series: Night, Limit: -20, Days: back}, {Series: Week, Limit: 6, Days: back}}
	week := frost.Weekly(frost.Minima(r.Stations[0].Record))
	_, compared := c.threshold(record.Last, quantity.Careful, 0, gates[1])
	seen := 0
	for _, y := range c.Years(record.Last, quantity.Careful, 0, false, gates...) {
		if y.State != frost.Date || y.Decides != 1 {
			continue
		}
		seen++
		at := int(y.Reading - week.Start)
		if v := week.Values[at]; v > compared {
			t.Errorf("%d: the week to that reading is at %v, warmer than %v", y.Year, v, compared)
		}
		if v := week.Values[at+1]; v <= compared {
			t.Errorf("%d: the next week is at %v, no warmer than %v", y.Year, v, compared)
		}
		if y.Reading-y.Day != 10 {
			t.Errorf("%d: sown %d days before the reading, not 10", y.Year, y.Reading-y.Day)
		}
	}
	if seen < 20 {
		t.Errorf("only %d years were decided by the week", seen)
	}
}
