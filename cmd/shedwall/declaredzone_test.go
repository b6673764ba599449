package main

import (
	"strings"
	"testing"
)

// Where no record gives a zone the declared one is printed, and never as one that was
// worked out; a band that declares none says that it is not known.
func TestDeclaredZoneWhereNoneIsWorkedOut(t *testing.T) {
	read := published(t, tableGuide(t, map[string]string{
		"data/guide.csv":    smallGuide + "zone_map,map of 2023\npdf,first_sheet\n",
		"data/stations.csv": "station,name,latitude,longitude,elevation_m,position\nschool,School,44.2,-72.3,410,slope\n",
		"data/freeze.csv":   "station,event,below_c,odds_percent,date\nschool,last,0,50,05-18\nschool,first,0,50,09-28\n",
		"data/bands.csv":    "band,name,low_m,high_m,position,zone\nslopes,Slopes,350,450,slope,5a\nupper,Upper,450,550,slope,\n",
		"data/places.csv":   "place,elevation_m,position\nTown,420,slope\n",
	}))
	for file, want := range map[string]string{
		"index.md":                "5a (declared)",
		"bands/slopes/index.md":   "hardiness zone 5a (declared)",
		"bands/slopes/sheet.html": "zone 5a (declared)",
		"bands/upper/index.md":    "hardiness zone not known",
	} {
		if !strings.Contains(read(file), want) {
			t.Errorf("%s does not say %q", file, want)
		}
	}
	band := read("bands/slopes/index.md")
	for _, want := range []string{"not worked out from records", "The guide declares zone 5a for this band (map of 2023). There are too few winters on record"} {
		if !strings.Contains(band, want) {
			t.Errorf("the band's page does not say %q", want)
		}
	}
	if strings.Contains(band, "By the records") || strings.Contains(read("quality.md"), "5a (declared)") {
		t.Error("a declared zone stands where one worked out should")
	}
}
