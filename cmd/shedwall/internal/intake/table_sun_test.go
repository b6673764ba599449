package intake

import (
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// A valley loses the sun behind a ridge between two dates; one alone is asked for the
// other. Soil under film has its own gain, in differences of either scale: 4.5 F = 2.5 K.
func TestSunLostAndSoilGain(t *testing.T) {
	tables := loadClean(t, map[string]string{
		"data/bands.csv":  "band,low_m,high_m,sun_lost_from,sun_lost_to\na,100,200,10 Nov,02-03\nb,200,300,,\n",
		"data/covers.csv": "cover,name,kind,letter,weight,gain_low_k,soil_gain_f,source\nmine,Mine,film,M,3,1,4.5,bulletin\n",
	})
	from, a := tables.Bands[0].SunLostFrom.Get()
	to, b := tables.Bands[0].SunLostTo.Get()
	if !a || !b || from != (quantity.MonthDay{Month: 11, Day: 10}) || to != (quantity.MonthDay{Month: 2, Day: 3}) || tables.Bands[1].SunLostFrom.Known() {
		t.Errorf("sun lost %v to %v", from, to)
	}
	for _, c := range tables.Covers {
		if g, ok := c.SoilGain.Get(); c.ID == "mine" && (!ok || g < 2.4999 || g > 2.5001) {
			t.Errorf("soil gain %v", g)
		}
	}
	for _, row := range []string{"a,100,200,10 Nov,", "a,100,200,,3 Feb", "a,100,200,31 Nov,3 Feb"} {
		if _, faults := load(t, map[string]string{"data/bands.csv": "band,low_m,high_m,sun_lost_from,sun_lost_to\n" + row + "\n"}); len(faults) != 1 {
			t.Errorf("%s: %d faults %v", row, len(faults), faults)
		}
	}
}
