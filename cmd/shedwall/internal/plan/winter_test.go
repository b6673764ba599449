package plan

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// By hand from plainYears, made -20 C on 5 January of every year that 5 divides: of the
// thirty winters 1991 to 2020 six (1995 ... 2020) are that cold, the others -5 C. A limit
// of -10 C is kept in 24 of 30 in the open; a frame of 12 K in winter keeps it in all,
// since -20 C outside is -8 C within. A cover without a winter figure is not told.
func TestWinters(t *testing.T) {
	c := place(44, func(d *record.Daily) {
		for i := range d.Min {
			if y, m, dd := (d.Start + quantity.Day(i)).Date(); y%5 == 0 && m == 1 && dd == 5 {
				d.Min[i] = -2000
			}
		}
	})
	crop := with(tomato(), func(c *catalog.Crop) { c.WinterKill = known(quantity.Celsius(-10)) })
	tables := shed(crop)
	for i := range tables.Covers {
		if tables.Covers[i].ID == "tunnel" {
			tables.Covers[i].Winter = gain(12, 12, 12)
		}
	}
	got := NewPlanner(tables).Winters(c, &tables.Crops[0])
	if len(got) != 2 || got[0].Layers != "" || got[1].Layers != "tunnel" {
		t.Fatalf("%+v", got)
	}
	if s := got[0].Odds.Share; s < 24.0/30-1e-9 || s > 24.0/30+1e-9 || got[0].Odds.Winters != 30 {
		t.Errorf("open ground: %+v, want 24 of 30", got[0].Odds)
	}
	if got[1].Odds.Share != 1 || !got[1].Odds.Rare() {
		t.Errorf("under the tunnel: %+v, want all", got[1].Odds)
	}
	if NewPlanner(tables).Winters(c, &catalog.Crop{}) != nil {
		t.Error("odds without a limit")
	}
}
