package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shedwall/content"
	"shedwall/data"
	"shedwall/templates"

	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/publish"
	"shedwall/cmd/shedwall/internal/record"
)

// trentinoGuide writes a whole guide folder from the 17 real stations: positions
// set, no offset given, the years 1975-2004. Which stations sit in hollows or on
// floors is what a map shows (a cirque floor, valley towns), not what their
// temperatures say.
func trentinoGuide(t *testing.T) string {
	records := proof.RecordsDir(t)
	rows := readRows(t, filepath.Join(records, "daily", "trentino_stations.csv"))
	position := map[string]string{"B6130": "hollow", "T0327": "slope", "T0099": "ridge", "T0001": "floor", "T0102": "floor", "T0129": "slope", "T0090": "floor", "T0147": "floor"}
	var stations, mapping strings.Builder
	stations.WriteString("station,name,latitude,longitude,elevation_m,position\n")
	mapping.WriteString("station,file,date_columns,tmin_column,tmax_column,unit,station_column,station_id\n")
	var hollow, slope string
	for _, r := range rows[1:] {
		id, name, lat, lon, elevation, used := r[0], r[1], r[2], r[3], r[4], r[9]
		if used != "1" {
			continue
		}
		at := position[id]
		if at == "" {
			at = "slope"
		}
		switch id {
		case "B6130":
			hollow = lat + "," + lon
		case "T0327":
			slope = lat + "," + lon
		}
		low := strings.ToLower(id)
		fmt.Fprintf(&stations, "%s,%s,%s,%s,%s,%s\n", low, strings.ReplaceAll(name, ",", " "), lat, lon, elevation, at)
		fmt.Fprintf(&mapping, "%s,trentino.csv.gz,date,tmin_c,tmax_c,c,station,%s\n", low, id)
	}
	dir := t.TempDir()
	write := func(name, text string) {
		p := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("data/guide.csv", "setting,value\ntitle,Seventeen stations\npublisher,A test\ncontact,test@example.org\nedition,1\nedition_date,2026-01-15\nlanguage,en\nyears,1975-2004\n")
	write("data/stations.csv", stations.String())
	write("data/records.csv", mapping.String())
	write("data/bands.csv", "band,name,low_m,high_m,position,latitude,longitude\n"+
		"b0,Up to 500 m,0,500,slope,,\nb500,500 to 1000 m,500,1000,slope,,\nb1000,1000 to 1500 m,1000,1500,slope,,\n"+
		"b1500,1500 to 1700 m,1500,1700,slope,"+slope+"\nb1700,1700 to 2200 m,1700,2200,slope,,\nhollow,High hollow,1500,1700,hollow,"+hollow+"\n")
	write("data/places.csv", "place,elevation_m,position\nTown,300,slope\nHigh village,1600,hollow\n")
	data, err := os.ReadFile(filepath.Join(records, "daily", "trentino_daily_17stations.csv.gz"))
	if err != nil {
		t.Fatal(err)
	}
	write("data/records/trentino.csv.gz", string(data))
	return dir
}

func readRows(t *testing.T, file string) [][]string {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// A guide of 17 real mountain stations publishes, and its figures hold what the
// stations themselves show.
func TestRealGuide(t *testing.T) {
	dir := trentinoGuide(t)
	var out, messages bytes.Buffer
	if code := run([]string{"publish", "--guide", dir}, &out, &messages); code != exitDone {
		t.Fatalf("publish ended with %d:\n%s%s", code, out.String(), messages.String())
	}
	for _, file := range []string{"index.html", "quality.md", "bands/hollow/sheet-a4.pdf", "bands/b1500/calendar.csv"} {
		if _, err := os.Stat(filepath.Join(dir, "public", filepath.FromSlash(file))); err != nil {
			t.Error(err)
		}
	}

	g, err := publish.Load(os.DirFS(dir), folders{"data": data.FS, "content": content.FS, "templates": templates.FS})
	if err != nil {
		t.Fatal(err)
	}
	free := map[string]int{}
	zone := map[string]string{}
	for _, id := range g.BandIDs() {
		c, _ := g.Climate(id)
		days, ok := c.FrostFree(0)
		if !ok {
			t.Fatalf("band %s: no frost-free days", id)
		}
		free[id], zone[id] = days, c.Winter().Zone
	}
	t.Log("frost-free days", free, "zones", zone)
	slopes := []string{"b0", "b500", "b1000", "b1500", "b1700"}
	for i := 1; i < len(slopes); i++ {
		if free[slopes[i]] >= free[slopes[i-1]] {
			t.Errorf("%s has %d frost-free days, the band below it %d: they should fall with altitude", slopes[i], free[slopes[i]], free[slopes[i-1]])
		}
	}
	if 4*free["hollow"] >= 3*free["b1500"] {
		t.Errorf("the hollow has %d frost-free days, the slope at the same altitude %d: want under three quarters", free["hollow"], free["b1500"])
	}
	if d := halfZones(t, zone["hollow"]) - halfZones(t, zone["b1500"]); d < -2 || d > 2 {
		t.Errorf("hollow in zone %s, slope in %s: want at most one full zone between them", zone["hollow"], zone["b1500"])
	}
	miss, n := g.Region.MeanMiss(record.Last)
	t.Logf("leave one station out, median last freeze at 0 C, 1975-2004: %.1f days over %d stations", miss, n)
	if n != 17 || miss > 8 {
		t.Errorf("leave-one-out error %.1f days over %d stations; want at most 8 over 17", miss, n)
	}
	quality, err := os.ReadFile(filepath.Join(dir, "public", "quality.md"))
	if err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf("%.1f days", miss); !strings.Contains(string(quality), want) {
		t.Errorf("quality page does not print the error as %q", want)
	}
}

// halfZones counts half zones from 1a = 0.
func halfZones(t *testing.T, zone string) int {
	var n int
	var half rune
	if _, err := fmt.Sscanf(zone, "%d%c", &n, &half); err != nil {
		t.Fatalf("zone %q: %v", zone, err)
	}
	return 2*(n-1) + int(half-'a')
}
