package main

import (
	"testing"
	"testing/fstest"

	"shedwall/content"
	"shedwall/data"
	"shedwall/templates"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/publish"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// The setting present_climate = no makes a guide of plain years; left out or yes, half
// dates are the present's: see warmingRecord.
func TestPresentClimateSetting(t *testing.T) {
	for _, c := range []struct {
		setting string
		want    quantity.MonthDay
	}{
		{"", quantity.MonthDay{Month: 4, Day: 1}},
		{"present_climate,yes\n", quantity.MonthDay{Month: 4, Day: 1}},
		{"present_climate,no\n", quantity.MonthDay{Month: 4, Day: 20}},
	} {
		guide := fstest.MapFS{}
		for name, text := range map[string]string{
			"data/guide.csv":        "setting,value\ntitle,T\npublisher,P\ncontact,p@example.org\nedition,1\nedition_date,2026-01-15\nlanguage,en\n" + c.setting,
			"data/stations.csv":     "station,name,latitude,longitude,elevation_m,position\nmill,Mill,44,8,500,slope\n",
			"data/bands.csv":        "band,name,low_m,high_m,position\nb,B,450,550,slope\n",
			"data/places.csv":       "place,elevation_m,position\nMill,500,slope\n",
			"data/records/mill.csv": warmingRecord(),
		} {
			guide[name] = &fstest.MapFile{Data: []byte(text)}
		}
		g, err := publish.Load(guide, folders{"data": data.FS, "content": content.FS, "templates": templates.FS})
		if err != nil || g.Faults.HasErrors() {
			t.Fatal(err, g.Faults.Sorted())
		}
		climate, _ := g.Climate("b")
		a := climate.Date(record.Last, quantity.Half, band.Gate{Limit: -2})
		if got := quantity.North.MonthDay(a.Slot); got != c.want {
			t.Errorf("%q: half-and-half date %v, want %v", c.setting, got, c.want)
		}
	}
}
