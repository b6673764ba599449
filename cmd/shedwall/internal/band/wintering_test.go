package band

import (
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Shares of winters are counted: with one station standing in the band they are
// the station's own, and a gain moves the limit, never the count of winters.
func TestWinteringCounts(t *testing.T) {
	c := &Climate{Region: &Region{Stations: []*Station{{}}}, weights: []float64{1}}
	c.Region.winters = []quantity.Kelvins{0}
	for k := range 20 {
		c.Region.Stations[0].winter = append(c.Region.Stations[0].winter, -10-float64(k)) // -10 ... -29
	}
	for _, x := range []struct {
		limit quantity.Celsius
		gain  quantity.Kelvins
		want  float64
		rare  bool
	}{
		{-15, 0, 5.0 / 20, false},    // -10 to -14 stay above; -15 is at the limit and harms
		{-15, 4, 9.0 / 20, false},    // as a limit of -19
		{-5, 0, 0, true},             // every winter is colder
		{-29.5, 0, 1, true},          // none is
		{-28.5, 0, 19.0 / 20, false}, // one winter in twenty: as rare as twenty can tell
	} {
		w := c.Wintering(x.limit, x.gain)
		if !w.Known || w.Share != x.want || w.Rare() != x.rare || w.Winters != 20 {
			t.Errorf("limit %v gain %v: %+v rare %v; want share %v rare %v of 20 winters", x.limit, x.gain, w, w.Rare(), x.want, x.rare)
		}
	}
}
