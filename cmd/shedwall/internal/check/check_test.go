package check

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/intake"
)

// guide is a small guide without any mistake, built-in tables included.
var guide = map[string]string{
	"data/guide.csv":    "setting,value\ntitle,T\npublisher,P\ncontact,a@b.org\nedition,1\nedition_date,2026-03-05\nlanguage,en\nyears,1995-2024\n",
	"data/stations.csv": "station,elevation_m,position,latitude,longitude\nmill,612,floor,44.2,-38\nhill,905,slope,44.3,-38\n",
	"data/bands.csv":    "band,low_m,high_m,position\nfloor,560,680,floor\nslopes,680,880,slope\n",
	"data/places.csv":   "place,elevation_m,position\nMillfoot,600,floor\n",

	"data/builtin/sources.csv":     "source,kind,title\nbulletin,extension,Cold limits\n",
	"data/builtin/classes.csv":     "class,young_damage_c,grown_damage_c,grown_kill_c,source\nhardy,-3,-4,-7,bulletin\n",
	"data/builtin/germination.csv": "germination,soil_c,days,source\ncabbage,0,none,bulletin\ncabbage,10,15,bulletin\n",
	"data/builtin/crops.csv": "crop,name,group,class,start,grown_damage_c,grown_kill_c,winter_kill_c,soil_min_c,soil_best_c,soil_max_c,germination,days_low,days_high,source\n" +
		"kale,Kale,vegetable,hardy,either,-6,-9,-15,4,20,35,cabbage,55,65,bulletin\n",
	"data/builtin/covers.csv": "cover,name,kind,letter,gain_low_k,gain_typical_k,gain_high_k,offered,source\n" +
		"fabric,row cover,fabric,F,0,1.5,2.2,yes,bulletin\ntunnel,low tunnel,film,T,0.5,1.3,2.2,yes,bulletin\njug,jug,film,F,0,1,2,no,bulletin\n",
	"data/builtin/layers.csv":  "layers,gain_low_k,gain_typical_k,measured,offered,source\ntunnel+fabric,1,3,yes,yes,bulletin\n",
	"data/builtin/hazards.csv": "hazard,on,caution,source\nsnow,tunnel structure,Sweep it off.,bulletin\n",
	"data/builtin/words.csv":   "key,en,review_en\ndays.one,{n} day,reviewed\n",
}

func load(t *testing.T, changed map[string]string) (*catalog.Tables, diag.List) {
	t.Helper()
	files := fstest.MapFS{}
	for _, m := range []map[string]string{guide, changed} {
		for name, text := range m {
			files[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	var faults diag.List
	return intake.Tables(files, files, &faults), faults
}

// TestRules has tables in each case. A line may end in <<< and the complaints of
// this room about it: severity if it is no fault, id and cell.
func TestRules(t *testing.T) {
	for _, c := range []struct{ name, file, text string }{
		{"edition before its records", "data/guide.csv", `
setting,value
title,T
publisher,P
contact,a@b.org
edition,1
edition_date,2016-03-05
language,en
years,1995-2024           <<< edition-date B8`},
		{"choices for sheets", "data/sheets.csv", `
band,crop,layers,show,note
slopes,kale,tunnel,,
slope,kale,tunnel,,        <<< sheets-band-unknown A3
all,kail,open,,            <<< sheets-crop-unknown B4
slopes,all,tunel,,         <<< sheets-layers-unknown C5
floor,all,fabric+tunnel,,  <<< sheets-layers-not-offered C6
floor,kale,jug,,           <<< sheets-layers-not-offered C7
all,all,tunnel+fabric,yes,`},
		{"half a term", "data/guide.csv", `
setting,value
title,T
publisher,P
contact,a@b.org
edition,1
edition_date,2026-03-05
language,en
term_from,1 September      <<< term-half B8`},
		{"a term of a day", "data/guide.csv", `
setting,value
title,T
publisher,P
contact,a@b.org
edition,1
edition_date,2026-03-05
language,en
tasks_start_month,September
term_from,09-01
term_to,1 Sep              <<< term-short B10`},
		{"an edition of long ago", "data/guide.csv", `
setting,value
title,T
publisher,P
contact,a@b.org
edition,1
edition_date,0206-03-05   <<< edition-date B6
language,en
years,2018-2024           <<< warning years-few B8`},
		{"stations", "data/stations.csv", `
station,elevation_m,position,latitude,longitude
mill,612,floor,44.2,              <<< place-half E2
hill,905,slope,,                  <<< note station-no-place A3
rock,905,,44.1,-38                <<< note position-not-given A4
farm,700,slope,-44.1,-38          <<< hemisphere-mixed D5
`},
		{"bands of one position", "data/bands.csv", `
band,low_m,high_m,position
floor,560,680,floor
a,600,800,slope
b,790,880,slope                   <<< band-overlap B4
c,950,1200,slope                  <<< warning band-gap B5, warning band-tall C5
d,1200,1300,slope
e,850,1050,hollow
f,1050,1050,ridge                 <<< band-upside-down C8
g,1300,1200,ridge                 <<< band-upside-down C9
h,1500,1600,                      <<< warning position-not-given A10, warning band-gap B10`},
		{"bands that other things tell apart", "data/bands.csv", `
band,low_m,high_m,position,zone,latitude,longitude
floor,560,680,floor,,,
a,600,800,slope,6a,,
b,600,700,slope,6b,,
f,800,900,slope,6a,,
c,900,1000,hollow,,44.1,-38
d,900,1000,hollow,,44.4,-38
e,900,1000,ridge,,44.4,           <<< place-half G8`},
		{"places", "data/places.csv", `
place,elevation_m,position
Millfoot,680,floor
Sump,700,hollow                   <<< warning place-no-position C3
High Farm,881,slope               <<< place-outside B4
Anywhere,700,
`},
		{"crops", "data/crops.csv", `
crop,name,group,start,class,grown_damage_c,grown_kill_c,winter_kill_c,soil_best_c,days_low,germination,source
kale,,,,,,-5,,36,66,,bulletin                   <<< limit-order G2, range-order I2, range-order J2
oca,Oca,vegetable,planted,hrady,0,,,,,cabage,bulletin   <<< class-unknown E3, germination-unknown K3
leek,Leek,vegetable,inside,,,,,,,,              <<< warning crop-no-limit A4
rye,Rye,vegetable,outside,hardy,-5,-6,-5,,,,    <<< limit-order H5, warning source-missing F5`},
		{"covers", "data/covers.csv", `
cover,name,kind,letter,gain_low_k,gain_typical_k,source
tunnel,,,,2,,bulletin             <<< gain-order E2
tent,Tent,film,F,1,2,bulletin     <<< cover-letter-twice A3`},
		{"layers", "data/layers.csv", `
layers,gain_low_k,gain_typical_k,measured,source
tunel+fabric,,,no,bulletin        <<< cover-unknown A2
fabric+fabric,3,1,yes,bulletin    <<< gain-order C3
tunnel+tunnel,,,yes,bulletin         <<< layers-not-measured A4`},
		{"hazards", "data/hazards.csv", `
hazard,on,caution,source
snow,tunel heat,,                 <<< cover-unknown B2
ice,all,Slippery.,                <<< warning source-missing A3`},
		{"germination", "data/germination.csv", `
germination,soil_c,days,source
cabbage,10,unknown,               
oca,5,none,bulletin               <<< germination-never C3`},
	} {
		var lines, want []string
		for i, l := range strings.Split(strings.Trim(c.text, "\n"), "\n") {
			l, marks, ok := strings.Cut(l, "<<<")
			if ok {
				for m := range strings.SplitSeq(marks, ",") {
					want = append(want, fmt.Sprintf("%d: %s", i+1, strings.TrimSpace(m)))
				}
			}
			lines = append(lines, strings.TrimRight(l, " "))
		}
		tables, faults := load(t, map[string]string{c.file: strings.Join(lines, "\n") + "\n"})
		for _, f := range faults.Sorted() {
			if f.Severity != diag.Notice {
				t.Errorf("%s: the table itself must be read: %s", c.name, f)
			}
		}
		list := Tables(tables)
		var got []string
		for _, f := range list.Sorted() {
			if f.At.File != c.file {
				if c.file == "data/stations.csv" || c.file == "data/bands.csv" && f.At.File == "data/places.csv" || c.file == "data/germination.csv" {
					continue
				}
				t.Errorf("%s: %s", c.name, f)
			}
			sev := f.Severity.String() + " "
			if f.Severity == diag.Error {
				sev = ""
			}
			got = append(got, fmt.Sprintf("%d: %s%s %s", f.At.Line, sev, f.ID, f.At.Cell))
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s:\ngot  %q\nwant %q", c.name, got, want)
			for _, f := range list.Sorted() {
				t.Log(f)
			}
		}
	}
}

func TestMessages(t *testing.T) {
	tables, _ := load(t, map[string]string{
		"data/crops.csv": "crop,grown_kill_c,source\nkale,-5,bulletin\n",
		"data/bands.csv": "band,low_m,high_m,position\na,600,900,slope\nb,800,1000,slope\nc,1100,1200,slope\n",
	})
	list := Tables(tables)
	var got []string
	for _, f := range list.Sorted() {
		if f.At.File != "data/places.csv" {
			got = append(got, f.String())
		}
	}
	want := []string{
		"data/bands.csv:2:7, cell C2 (high_m): warning: band a is 300 m high; expected 200 m at most; divide it: frost dates move about 5 days with each 100 m [band-tall]",
		"data/bands.csv:3:3, cell B3 (low_m): bands a and b, both slope, overlap from 800 to 900 m; expected each height in one band; let one begin where the other ends, or give them different positions, zones or coordinates [band-overlap]",
		"data/bands.csv:4:3, cell B4 (low_m): warning: no slope band holds the heights from 1000 to 1100 m; expected bands that touch; if there are gardens between, stretch a band or add one [band-gap]",
		"data/crops.csv:2:6, cell B2 (grown_kill_c): grown_kill_c -5 contradicts grown_damage_c -6 in data/builtin/crops.csv:2:34, cell F2 (grown_damage_c); expected a killing temperature at or below the harming one; look which of the two is right [limit-order]",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestLettersOfCoversInLayers: a cover that is offered only within layers is drawn
// too, so its letter must be its own.
func TestLettersOfCoversInLayers(t *testing.T) {
	tables, _ := load(t, map[string]string{"data/layers.csv": "layers,offered,source\njug+tunnel,yes,bulletin\n"})
	list := Tables(tables)
	fs := list.Sorted()
	if len(fs) != 1 || fs[0].ID != "cover-letter-twice" || fs[0].At.String() != "data/builtin/covers.csv:4:1, cell A4 (cover)" {
		t.Errorf("got %v", fs)
	}
}

func TestGoodGuideDrawsNothing(t *testing.T) {
	tables, faults := load(t, nil)
	list := Tables(tables)
	if faults.Len() > 0 || list.Len() > 0 {
		t.Error(faults.Sorted(), list.Sorted())
	}
}

// TestBuiltInTablesContradictNothing holds the tables that come with the program,
// under a guide of one's own.
func TestBuiltInTablesContradictNothing(t *testing.T) {
	own := fstest.MapFS{}
	for name, text := range guide {
		if !strings.HasPrefix(name, "data/builtin/") {
			own[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	var faults diag.List
	tables := intake.Tables(own, os.DirFS("../../../.."), &faults)
	list := Tables(tables)
	for _, f := range list.Sorted() {
		t.Error(f)
	}
}
