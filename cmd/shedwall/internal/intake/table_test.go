package intake

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// small is the smallest guide of one's own.
var small = map[string]string{
	"data/guide.csv": `setting,value
title,Growing in the valley
publisher,Seed Circle
contact,post@example.org
edition,1
edition_date,2026-03-05
language,en
`,
	"data/stations.csv": `station,name,latitude,longitude,elevation_m,position
mill,The Mill,44.2,-38,612,floor
`,
	"data/bands.csv": `band,name,low_m,high_m,position
floor,Valley floor,560,680,floor
`,
	"data/places.csv": `place,elevation_m,position
Millfoot,600,floor
`,
}

// builtIn is a small set of built-in tables; a real one is far larger.
var builtIn = map[string]string{
	"data/builtin/sources.csv": `source,kind,organisation,title,year,address,read
bulletin,extension,Extension,Cold limits,2010,https://example.org/1,page
paper,paper,Journal,A paper,2001,,abstract
`,
	"data/builtin/exceptions.csv": `table,row,column,source,note
crops,kale,grown_kill_c,paper,
`,
	"data/builtin/classes.csv": `class,name,young_damage_c,grown_damage_c,grown_kill_c,soil_min_c,source
hardy,hardy,-3,-4,-7,4,bulletin
tender,tender,0,0,-1,15,bulletin
`,
	"data/builtin/germination.csv": `germination,soil_c,days,source
cabbage,0,none,bulletin
cabbage,10,15,bulletin
cabbage,20,6,bulletin
`,
	"data/builtin/crops.csv": `crop,name,group,cycle,class,start,young_damage_c,grown_damage_c,grown_kill_c,limit_basis,germination,days_low,days_high,days_from,needs_insects,source,note
kale,Kale,vegetable,biennial,hardy,either,-4,-6.5,-9,plant,cabbage,55,65,set_out,no,bulletin,Stands snow
bean,Bean,vegetable,annual,tender,outside,,,,,,50,60,sowing,no,bulletin,
pea,Pea,vegetable,annual,hardy,outside,-3,-4,-6,air,,60,70,sowing,no,bulletin,
`,
	"data/builtin/covers.csv": `cover,name,kind,letter,weight,gain_low_k,gain_typical_k,gain_high_k,touches,vent_c,vent_read,offered,source
fabric,row cover,fabric,F,1,0,1.5,2.2,no,16,outside,yes,bulletin
tunnel,low tunnel,film,T,5,0.5,1.3,2.2,no,10,inside,yes,bulletin
`,
	"data/builtin/layers.csv": `layers,gain_low_k,gain_typical_k,gain_high_k,measured,offered,source
tunnel+fabric,1.5,3.9,6.1,yes,yes,paper
`,
	"data/builtin/hazards.csv": `hazard,on,caution,defer,source
snow,tunnel,Sweep it off.,,bulletin
all_stars,all fabric tunnel,Mind the wind.,,bulletin
`,
	"data/builtin/words.csv": `key,en,review_en
days.one,{n} day,reviewed
days.other,{n} days,reviewed
`,
}

func mapOf(texts ...map[string]string) fstest.MapFS {
	g := fstest.MapFS{}
	for _, m := range texts {
		for name, text := range m {
			if text == "" {
				delete(g, name)
				continue
			}
			g[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	return g
}

// smallGuide is the small guide with some files changed; an empty text takes a
// file away.
func smallGuide(changed map[string]string) fstest.MapFS { return mapOf(small, changed) }

func load(t *testing.T, changed map[string]string) (*catalog.Tables, []diag.Fault) {
	t.Helper()
	var faults diag.List
	tables := Tables(smallGuide(changed), mapOf(builtIn), &faults)
	for _, f := range faults.Sorted() {
		if _, ok := diag.Explain(f.ID); !ok {
			t.Errorf("%s is not explained", f.ID)
		}
	}
	return tables, faults.Sorted()
}

func loadClean(t *testing.T, changed map[string]string) *catalog.Tables {
	t.Helper()
	tables, faults := load(t, changed)
	for _, f := range faults {
		if f.Severity != diag.Notice {
			t.Fatal(f)
		}
	}
	return tables
}

func cropOf(t *testing.T, tables *catalog.Tables, id string) *catalog.Crop {
	t.Helper()
	i := slices.IndexFunc(tables.Crops, func(c catalog.Crop) bool { return c.ID == id })
	if i < 0 {
		t.Fatalf("no crop %s", id)
	}
	return &tables.Crops[i]
}

func TestSmallestGuide(t *testing.T) {
	tables, faults := load(t, nil)
	if len(faults) > 0 {
		t.Error(faults)
	}
	g := tables.Guide
	if g.Title != "Growing in the valley" || g.Edition != 1 || g.Language != "en" || g.EditionDate != quantity.DayOf(2026, 3, 5) || g.YearsFrom != 0 {
		t.Errorf("got %+v", g)
	}
	if at := g.Cells["edition"]; at.String() != "data/guide.csv:5:9, cell B5 (value)" {
		t.Errorf("got %s", at)
	}
	s := tables.Stations[0]
	if z, ok := s.Elevation.Get(); !ok || z != 612 || s.Name != "The Mill" || s.Cell.Line != 2 {
		t.Errorf("got %+v", s)
	}
	if p, ok := tables.Bands[0].Position.Get(); !ok || p != catalog.Floor {
		t.Errorf("got %+v", tables.Bands[0])
	}
	if len(tables.Places) != 1 || tables.Places[0].Name != "Millfoot" || tables.Hemisphere != quantity.North {
		t.Errorf("got %+v", tables.Places)
	}
}

// A place may say where it lies and to which band the publisher gives it; half a location and
// a band that is not there are told.
func TestPlacesLocated(t *testing.T) {
	place := func(rows string) map[string]string {
		return map[string]string{"data/places.csv": "place,elevation_m,position,latitude,longitude,band\n" + rows}
	}
	band := loadClean(t, nil).Bands[0].ID
	p := loadClean(t, place("Millfoot,640,floor,44.2,-71.5,"+strings.ToUpper(band)+"\nTop,700,slope,,,\n")).Places
	if lat, ok := p[0].Latitude.Get(); !ok || lat != 44.2 || p[0].Band != band {
		t.Errorf("got %+v", p[0])
	}
	if lon, ok := p[0].Longitude.Get(); !ok || lon != -71.5 || p[1].Longitude.Known() || p[1].Band != "" {
		t.Errorf("got %+v", p)
	}
	for _, c := range []struct{ row, id, cell, what string }{
		{"Millfoot,640,floor,44.2,,\n", "value-missing", "E2 (longitude)", "longitude"},
		{"Millfoot,640,floor,,,x" + band + "\n", "place-band", "F2 (band)", "did you mean \"" + band + "\""},
		{"Millfoot,640,floor,144.2,-71.5,\n", "number-out-of-range", "D2 (latitude)", "144.2"},
	} {
		_, faults := load(t, place(c.row))
		if len(faults) != 1 || faults[0].ID != c.id || !strings.Contains(faults[0].String(), c.cell) || !strings.Contains(faults[0].String(), c.what) {
			t.Errorf("%q: %v", c.row, faults)
		}
	}
}

func TestBuiltInFiguresKeepPlaceOwnerAndSource(t *testing.T) {
	kale := cropOf(t, loadClean(t, nil), "kale")
	for _, c := range []struct {
		name   string
		f      figure.Of[quantity.Celsius]
		want   quantity.Celsius
		at     string
		source string
	}{
		{"young damage", kale.YoungDamage, -4, "data/builtin/crops.csv:2:43, cell G2 (young_damage_c)", "bulletin"},
		{"grown kill, whose source is an exception", kale.GrownKill, -9, "data/builtin/crops.csv:2:51, cell I2 (grown_kill_c)", "paper"},
	} {
		v, ok := c.f.Get()
		if !ok || v != c.want || c.f.Cell.String() != c.at || c.f.Source != c.source || c.f.Owner != figure.BuiltIn {
			t.Errorf("%s: got %v at %s from %q, owner %d", c.name, v, c.f.Cell, c.f.Source, c.f.Owner)
		}
	}
	if kale.Basis != catalog.Plant || kale.Start != catalog.Either || !kale.DaysFromSetOut || kale.Note != "Stands snow" {
		t.Errorf("got %+v", kale)
	}
	if bean := cropOf(t, loadClean(t, nil), "bean"); bean.YoungDamage.State != figure.Blank || bean.Class != "tender" {
		t.Errorf("a class figure must not be filled in: %+v", bean)
	}
}

func TestOwnCropsLieOverBuiltInOnes(t *testing.T) {
	tables := loadClean(t, map[string]string{
		"data/sources.csv":    "source,kind,title\nour_trial,own,Our trial\nother,own,Another\n",
		"data/exceptions.csv": "table,row,column,source\ncrops.csv,Kale,young_damage_f,other\ncrops,bean,days_high,other\n",
		"data/crops.csv": "crop,young_damage_f,grown_damage_c,use,source,days_low\n" +
			"kale,23,unknown,,our_trial,\n" + // 23 F = -5 C by hand: (23-32)/1.8
			"pea,,,no,,\n" +
			"bean,,,,,45\n",
	})
	if len(tables.Crops) != 2 || tables.Crops[0].ID != "kale" || tables.Crops[1].ID != "bean" {
		t.Errorf("got %+v: want the order of the tables, without pea", tables.Crops)
	}
	kale, bean := cropOf(t, tables, "kale"), cropOf(t, tables, "bean")
	if v, ok := kale.YoungDamage.Get(); !ok || math.Abs(float64(v)+5) > 1e-12 || kale.YoungDamage.Owner != figure.Own || kale.YoungDamage.Source != "other" {
		t.Errorf("got %+v", kale.YoungDamage)
	}
	if kale.GrownDamage.State != figure.Unknown || kale.GrownDamage.Owner != figure.Own {
		t.Errorf("unknown must remove the built-in figure: %+v", kale.GrownDamage)
	}
	if v, _ := kale.GrownKill.Get(); v != -9 || kale.GrownKill.Source != "paper" || kale.GrownKill.Owner != figure.BuiltIn {
		t.Errorf("an absent column must keep the built-in figure and its source: %+v", kale.GrownKill)
	}
	if kale.Name != "Kale" || kale.Note != "Stands snow" {
		t.Errorf("got %+v", kale)
	}
	if v, _ := bean.DaysLow.Get(); v != 45 || bean.DaysLow.Source != "" || bean.DaysHigh.Source != "other" {
		t.Errorf("an exception may be about a built-in cell, and an own figure without a source must not borrow the built-in row's: %+v", bean.DaysLow)
	}
}

func TestNewRows(t *testing.T) {
	tables := loadClean(t, map[string]string{
		"data/crops.csv":       "crop,name,group,start,class,grown_damage_c,weeks_inside_low,weeks_inside_high\noca,Oca,vegetable,planted,tender,0,,\nleek,Leek,vegetable,inside,hardy,,8-10,\n",
		"data/covers.csv":      "cover,name,kind,letter,gain_low_f,gain_typical_f\ntent,Tent,film,z,2,5\n",
		"data/layers.csv":      "layers,measured\nTent + fabric,no\n",
		"data/germination.csv": "germination,soil_f,days\ncabbage,50,14\ncabbage,32,unknown\ncabbage,86,4\n",
		"data/words.csv":       "key,es,review_es\ndays.one,{n} día,unreviewed\n",
	})
	if oca := cropOf(t, tables, "oca"); oca.Start != catalog.Planted || tables.Crops[len(tables.Crops)-2].ID != "oca" {
		t.Errorf("got %+v", oca)
	}
	leek := cropOf(t, tables, "leek")
	if low, _ := leek.WeeksInsideLow.Get(); low != 8 {
		t.Errorf("got %+v", leek.WeeksInsideLow)
	}
	if high, _ := leek.WeeksInsideHigh.Get(); high != 10 || leek.WeeksInsideHigh.Cell.Cell != "G3" {
		t.Errorf("a range fills both ends: %+v", leek.WeeksInsideHigh)
	}
	tent := tables.Covers[2]
	// A gain is a difference: 5 F = 2.78 K, by hand 5/1.8; not -15 C.
	if g, _ := tent.Gain.Typical.Get(); math.Abs(float64(g)-2.7777777) > 1e-6 || tent.Letter != "Z" || !tent.Offered || tent.Kind != catalog.Film {
		t.Errorf("got %+v", tent)
	}
	if y := tables.Layers[1]; y.ID != "tent+fabric" || !slices.Equal(y.Covers, []string{"tent", "fabric"}) || y.Gain.Low.State != figure.Blank {
		t.Errorf("got %+v", y)
	}
	var points []string
	for _, p := range tables.Germination[0].Points {
		d, _ := p.Days.Get()
		points = append(points, fmt.Sprintf("%.1f:%g:%d", float64(p.Soil), d, p.Days.Owner))
	}
	// 50 F is the built-in point at 10 C, 86 F = 30 C is new, the one at 0 C was taken away.
	if want := "10.0:14:1 20.0:6:0 30.0:4:1"; strings.Join(points, " ") != want {
		t.Errorf("got %q, want %q", points, want)
	}
	if w := tables.Words[0]; w.Text["es"] != "{n} día" || w.Review["es"] != "unreviewed" || w.Text["en"] != "{n} day" {
		t.Errorf("got %+v", w)
	}
}

func TestNoSeedEmergedIsNotTheSameAsUnknown(t *testing.T) {
	p := loadClean(t, nil).Germination[0].Points[0]
	if p.Soil != 0 || p.Days.State != figure.Unknown || p.Days.Source != "bulletin" || p.Days.Cell.Line != 2 {
		t.Errorf("got %+v", p)
	}
}

func TestDroppedCoverTakesItsLayersAlong(t *testing.T) {
	tables, faults := load(t, map[string]string{"data/covers.csv": "cover,use\ntunnel,no\n"})
	if len(tables.Covers) != 1 || len(tables.Layers) != 0 {
		t.Errorf("got %+v %+v", tables.Covers, tables.Layers)
	}
	if len(tables.Hazards) != 1 || !slices.Equal(tables.Hazards[0].On, []string{"all", "fabric"}) {
		t.Errorf("got %+v", tables.Hazards)
	}
	if len(faults) != 1 || faults[0].String() != "data/covers.csv:2:8, cell B2 (use): note: tunnel+fabric goes with tunnel [layers-dropped]" {
		t.Errorf("got %v", faults)
	}
}

func TestFolderWithoutDataIsTheDemo(t *testing.T) {
	var faults diag.List
	demo := mapOf(builtIn, small, map[string]string{"data/crops.csv": "crop,days_low,source\nkale,50,bulletin\n"})
	tables := Tables(fstest.MapFS{"content/note.md": {Data: []byte("# x\n")}}, demo, &faults)
	if faults.Len() > 0 || tables.Guide.Publisher != "Seed Circle" || len(tables.Stations) != 1 {
		t.Errorf("got %+v, %v", tables.Guide, faults.Sorted())
	}
	if f := cropOf(t, tables, "kale").DaysLow; f.Owner != figure.Own {
		t.Errorf("the demo's own crops lie over the built-in ones too: %+v", f)
	}
	// A guide with a data folder inherits nothing of the demo.
	faults = diag.List{}
	tables = Tables(fstest.MapFS{"data/crops.csv": {Data: []byte("crop,days_low\nkale,50\n")}}, demo, &faults)
	var missing []string
	for _, f := range faults.Sorted() {
		missing = append(missing, f.Severity.String()+" "+f.At.File+" "+f.ID)
	}
	want := []string{"fault data/bands.csv file-missing", "fault data/guide.csv file-missing", "warning data/places.csv file-missing", "fault data/stations.csv file-missing"}
	if !slices.Equal(missing, want) || len(tables.Stations) != 0 {
		t.Errorf("got %q", missing)
	}
}

func TestSouthernGuide(t *testing.T) {
	tables := loadClean(t, map[string]string{"data/stations.csv": "station,elevation_ft,latitude,longitude\nmill,2000,-41.2,174.9\n"})
	if z, _ := tables.Stations[0].Elevation.Get(); tables.Hemisphere != quantity.South || math.Abs(float64(z)-609.6) > 1e-9 { // 2000 x 0.3048
		t.Errorf("got %v at %v m", tables.Hemisphere, z)
	}
}

func TestFreezeTable(t *testing.T) {
	var faults diag.List
	got := Freeze(smallGuide(map[string]string{"data/freeze.csv": `station,event,below_f,odds_percent,date
mill,last,32,10,18 May
mill,first,28,50,10-13
mill,last,32,50,29 Feb
mill,last,32,90,2 mayo
mill,last,32,0.9,05-02
mill,last,32,50,5/6
mill,last,32,50,13/5
mill,last,32,50,5/6/68
mill,last,32,50,31 Apr
mill,last,32,50,0 Jan
mill,last,32,50,2025-05-02
mill,last,32,50,45000
mill,last,32,50,around 10 May
mill,lst,32,50,05-02
mill,last,,50,05-02
`}), &faults)
	rows := got["mill"]
	if len(rows) != 4 || rows[0].Event != record.Last || rows[0].Below != 0 || rows[0].Odds != 0.1 || rows[0].Date != (quantity.MonthDay{Month: 5, Day: 18}) {
		t.Errorf("got %+v", rows)
	}
	if rows[1].Date != (quantity.MonthDay{Month: 10, Day: 13}) || rows[2].Date != (quantity.MonthDay{Month: 2, Day: 29}) || rows[3].Date != (quantity.MonthDay{Month: 5, Day: 2}) {
		t.Errorf("got %+v", rows)
	}
	var what []string
	for _, f := range faults.Sorted() {
		what = append(what, fmt.Sprintf("%s %s %s", f.At.Cell, f.ID, f.What))
	}
	want := []string{
		`D6 number-out-of-range 0.9 % is outside what can be`,
		`E7 date-unreadable "5/6" can be 5 June or 6 May`,
		`E8 date-unreadable "13/5" is 13 May only if the day comes first, which tables do not settle`,
		`E9 date-unreadable "5/6/68" has a year of two digits`,
		`E10 date-unreadable there is no "31 Apr"`,
		`E11 date-unreadable there is no "0 Jan"`,
		`E12 date-unreadable "2025-05-02" has a year, but the date stands for all years`,
		// 45000 days after 30 December 1899 is 15 March 2023, the date that
		// spreadsheets show for 45000; counted from 1904 it is 1462 days later.
		`E13 date-unreadable "45000" is a spreadsheet's day number: 2023-03-15, or 2027-03-16 in a file from an old Mac`,
		`E14 date-unreadable "around 10 May" is not a date`,
		`B15 word-unknown "lst" is not a word of this column`,
		`C16 value-missing nothing is given for below_f`,
	}
	if !slices.Equal(what, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(what, "\n"), strings.Join(want, "\n"))
	}
}

// failing is a file system in which one file cannot be read.
type failing struct {
	fs.FS
	name string
}

func (f failing) Open(name string) (fs.File, error) {
	if name == f.name {
		return nil, &fs.PathError{Op: "open", Path: "/home/somebody/" + name, Err: fs.ErrPermission}
	}
	return f.FS.Open(name)
}

func TestUnreadableFileIsSaid(t *testing.T) {
	var faults diag.List
	Tables(failing{smallGuide(map[string]string{"data/crops.csv": "crop\nkale\n"}), "data/crops.csv"}, mapOf(builtIn), &faults)
	if fs := faults.Sorted(); len(fs) != 1 || !strings.HasPrefix(fs[0].String(), "data/crops.csv: this file cannot be read: permission denied;") {
		t.Errorf("got %v", fs)
	}
}
