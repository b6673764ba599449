package intake

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestComplaintsStandAtTheirCells has a table of the publisher in each case. A
// line may end in <<< and the complaints about it: id and cell.
func TestComplaintsStandAtTheirCells(t *testing.T) {
	for _, c := range []struct{ name, file, text string }{
		{"settings", "data/guide.csv", `
setting,value
title,                      <<< value-missing B2
publisher,Seed Circle
publisher,Another           <<< id-repeated A4
contact,javascript:alert(1) <<< setting-unreadable B5
address,www.example.org     <<< address-unsafe B6
edition,1.5                 <<< number-not-whole B7
edition_date,5/6/2026       <<< date-unreadable B8
language,english            <<< setting-unreadable B9
untis,c                     <<< word-unknown A10
units,kelvin                <<< word-unknown B11
years,2024-1995             <<< setting-unreadable B12
,x                          <<< value-missing A13
tasks_start_month,autumn    <<< setting-unreadable B14
term_from,5/6               <<< date-unreadable B15
term_to,31 June             <<< date-unreadable B16`},
		{"choices for sheets", "data/sheets.csv", `
band,crop,layers,show
a,kale,tunnel,
a,kale,open,                <<< id-repeated A3
all,all,,                   <<< sheets-row-empty A4
,kale,open,                 <<< id-missing A5
a,../x,open,                <<< id-unreadable B6
b,kale,open,perhaps         <<< word-unknown D7
All,pea,Open,no             <<< id-read A8, id-read C8`},
		{"settings that are fine", "data/guide.csv", `
Setting,Value,note          <<< heading-read A1, heading-read B1
Title,Our guide
publisher,Seed Circle
contact,+1 555 0100
edition,12
Edition Date,5 March 2026
language,EN
units,f
years,1995 to 2024,last thirty`},
		{"stations", "data/stations.csv", `
station,name,latitude,longitude,elevation_m,position,offset_k,zone
mill,Mill,44.2,-38,612,floor,-1.5,6A
mill,Mill,44.2,-38,612,floor,,       <<< id-repeated A3
farm,Farm,442,-38,612,botom,,        <<< number-out-of-range C4, word-unknown F4
hill,Hill,,,,,,zone 6                <<< value-missing E5, zone-unreadable H5
rock,Rock,,,unknown,,30,             <<< value-missing E6, number-out-of-range G6
../x,X,,,5,,,                        <<< id-unreadable A7`},
		{"bands", "data/bands.csv", `
band,low_m,high_m,position
a,600,900+,slope            <<< number-qualified C2, band-open C2
b,<900,1000,slope           <<< number-qualified B3, band-open B3
c,600-900,,slope            <<< range-read B4
d,900,,slope                <<< value-missing C5`},
		{"bands in feet and metres", "data/bands.csv", `
band,low_m,high_m,position
e,3000 ft,1000 m,slope
f,1000,1200 m,slope         <<< unit-missing B3`},
		{"places", "data/places.csv", `
place,elevation_m,position
Nether Mill,600,floor
Nether  Mill,610,           <<< id-repeated A3
,600,                       <<< value-missing A4
Source: survey 2019         <<< row-note
Mill End,,                  <<< value-missing B6`},
		{"crops", "data/crops.csv", `
crop,name,group,start,young_damage_c,days_low,source,use,germination
kael,,,,-4,,,,               <<< row-incomplete A2
oca,Oca,veg,planted,28,45.5,bulletn,,   <<< word-unknown C3, number-out-of-range E3, number-not-whole F3, source-unknown G3
brassicas,,,,,,,,            <<< row-note A4
kale,,,,-4,,bulletin,maybe,  <<< word-unknown H5`},
		{"exceptions", "data/exceptions.csv", `
table,row,column,source
crop,kale,young_damage_c,paper      <<< exception-unknown A2
crops,kael,young_damage_c,paper     <<< exception-unknown B3
crops,kale,young_damge_c,paper      <<< exception-unknown C4
crops,kale,young_damage_c,papper    <<< source-unknown D5
crops,kale,young_damage_c,paper     <<< id-repeated B6
layers,tunnel+fabric,gain_low_k,paper
crops,,,                            <<< value-missing B8, value-missing C8, value-missing D8`},
		{"covers", "data/covers.csv", `
cover,name,kind,letter,vent_read,wind_mph,light_percent
tent,Tent,canvas,S,,,                <<< word-unknown C2, cover-letter D2
fabric,,,,under,40,850               <<< word-unknown E3, number-out-of-range G3
tunel,,,,,40,                        <<< row-incomplete A4`},
		{"layers", "data/layers.csv", `
layers,gain_low
tunnel + Fabric,5 F                  <<< id-read A2
,1 K                                 <<< value-missing A3
tunnel+fab ric,                      <<< id-unreadable A4`},
		{"sources", "data/sources.csv", `
source,kind,title,address
ours,own,Our trial,javascript:x      <<< address-unsafe D2
theirs,blog,Their page,              <<< word-unknown B3
bulletin,,,
new,,,                               <<< value-missing B5, value-missing C5`},
		{"words", "data/words.csv", `
key,en,es,review_es,deutsch          <<< heading-unknown E1
days.one,{n} day,-,reviewd           <<< word-unknown D2
days.oen,a,b,                        <<< word-key-unknown A3`},
		{"germination", "data/germination.csv", `
germination,soil_c,days
cabbage,10,14
cabbage,10.0,15                      <<< id-repeated A3
cabbage,,3                           <<< value-missing B4
cabbage,15,never                     <<< number-unreadable C5`},
		{"hazards", "data/hazards.csv", `
hazard,on,caution
snow,"tunnel, fabric",               <<< id-read B2
ice,,                                <<< value-missing B3, value-missing C3`},
		{"folder", "data/crop.csv", "\ncrop\nkale <<< unread"},
	} {
		var lines, want []string
		for i, l := range strings.Split(strings.Trim(c.text, "\n"), "\n") {
			l, marks, ok := strings.Cut(l, "<<<")
			if ok {
				for m := range strings.SplitSeq(marks, ",") {
					want = append(want, fmt.Sprintf("%d:%s", i+1, strings.TrimSpace(m)))
				}
			}
			lines = append(lines, strings.TrimRight(l, " "))
		}
		if c.name == "folder" {
			want = []string{"0:file-unknown"}
		}
		_, faults := load(t, map[string]string{c.file: strings.Join(lines, "\n") + "\n"})
		var got []string
		for _, f := range faults {
			if f.At.File != c.file {
				t.Errorf("%s: %s", c.name, f)
			}
			got = append(got, strings.TrimSpace(fmt.Sprintf("%d:%s %s", f.At.Line, f.ID, f.At.Cell)))
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s:\ngot  %q\nwant %q", c.name, got, want)
			for _, f := range faults {
				t.Log(f)
			}
		}
	}
}

// TestMistypedTableNames: nothing may be left out without a word.
func TestMistypedTableNames(t *testing.T) {
	_, faults := load(t, map[string]string{
		"data/Crops.CSV": "crop\n", "data/covers.xlsx": "PK", "data/budget.csv": "a\n", "data/.~lock.crops.csv#": "x", "data/.crops.csv": "x", "data/~$crops.xlsx": "x", "data/notes.md": "x",
	})
	var got []string
	for _, f := range faults {
		got = append(got, f.At.File+" "+f.ID+" "+f.Cure)
	}
	want := []string{
		`data/Crops.CSV file-unknown did you mean "crops.csv"?`,
		"data/budget.csv file-unknown rename it, or keep it elsewhere",
		`data/covers.xlsx file-unknown save it as CSV with the name "covers.csv"`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
}
