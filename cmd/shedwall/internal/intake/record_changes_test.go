package intake

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// byStation writes days of GHCN-Daily's by-station CSV: place and hour as each day's
// function says; minima 0 C, maxima 20 C in tenths.
func byStation(days int, row func(i int) (place, hour string)) string {
	var b strings.Builder
	b.WriteString("\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"ELEVATION\",\"NAME\",\"PRCP\",\"PRCP_ATTRIBUTES\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\",\"TMIN_ATTRIBUTES\"\n")
	for i := range days {
		y, m, d := (quantity.DayOf(2001, 1, 1) + quantity.Day(i)).Date()
		place, hour := row(i)
		fmt.Fprintf(&b, "\"XXW00000001\",\"%04d-%02d-%02d\",%s,\"SOMEWHERE, XX\",\"    0\",\",,S,%s\",\"  200\",\",,S\",\"    %d\",\",,S,%s\"\n", y, m, d, place, hour, i%3, hour)
	}
	return b.String()
}

func TestStationChanges(t *testing.T) {
	const here = "\"44.2\",\"-72.1\",\"300.0\""
	steady := func(place string) func(int) (string, string) {
		return func(int) (string, string) { return place, "0700" }
	}
	for _, c := range []struct {
		name   string
		data   string
		want   string
		faults string
	}{
		{"nothing changes; decimals are no move", byStation(90, func(i int) (string, string) {
			return []string{here, "\"44.2000\",\" -72.1004\",\"302.0\""}[i/45], "0700"
		}), "", "record-read-as note"},
		{"a move", byStation(90, func(i int) (string, string) {
			return []string{here, "\"44.21\",\"-72.1\",\"340.0\""}[i/45], "0700"
		}), "2001-02-15 moved: 44.2000 N, 72.1000 W, 300 m -> 44.2100 N, 72.1000 W, 340 m", "record-read-as note, record-station-moved note"},
		{"an elevation that is not known is no move", byStation(90, func(i int) (string, string) {
			return []string{here, "\"44.2\",\"-72.1\",\"-999.9\""}[i/45], "0700"
		}), "", "record-read-as note"},
		{"another hour, from the day on which it begins to hold", byStation(120, func(i int) (string, string) {
			return here, map[bool]string{true: "1700", false: "0700"}[i < 59]
		}), "2001-03-01 hour: 17:00 -> 07:00", "record-hour-changed note, record-read-as note"},
		{"single late readings and blanks", byStation(120, func(i int) (string, string) {
			return here, []string{"0700", "0700", "", "1700", "0700"}[i%5]
		}), "", "record-read-as note"},
		{"days in no order", byStation(90, steady(here)) + "\"XXW00000001\",\"2000-01-01\",\"45\",\"-72.1\",\"300.0\",\"S\",\"0\",\"\",\"200\",\"\",\"0\",\"\"\n", "", "record-read-as note"},
	} {
		var faults diag.List
		list := Record("x.csv", []byte(c.data), Mapping{}, &faults)
		var got []string
		for _, d := range list {
			for _, ch := range d.Changes {
				y, m, day := ch.Day.Date()
				got = append(got, fmt.Sprintf("%04d-%02d-%02d %v: %s -> %s", y, m, day, ch.What, ch.Before, ch.After))
			}
		}
		if s := strings.Join(got, "; "); s != c.want || len(list) != 1 || list[0].Step != record.TenthC {
			t.Errorf("%s: %q, want %q", c.name, s, c.want)
		}
		if s := ids(&faults); s != c.faults {
			t.Errorf("%s: faults %q, want %q\n%v", c.name, s, c.faults, faults.Sorted())
		}
	}
}

// A unit that the values disprove is refused with a hint what they look like; one that
// they only make doubtful is told.
func TestUnitsThatDoNotFit(t *testing.T) {
	year := func(heading string, summer, winter float64, form string) string {
		var b strings.Builder
		b.WriteString("date," + heading + "\n")
		for i := range 365 {
			y, m, d := (quantity.DayOf(2001, 1, 1) + quantity.Day(i)).Date()
			low := winter + (summer-winter)*float64(min(i, 364-i))/182
			fmt.Fprintf(&b, "%d-%02d-%02d,"+form+","+form+"\n", y, m, d, low, low+(summer-winter)/4)
		}
		return b.String()
	}
	for _, c := range []struct {
		name, data string
		unit       Unit
		severity   diag.Severity
		hint       string // "" = no fault
	}{
		{"tenths of C as C", year("tmin_c,tmax_c", 180, -120, "%.0f"), UnitUnsaid, diag.Error, "tenths_c"},
		{"tenths of C as F", year("TMIN,TMAX", 180, -120, "%.0f"), UnitF, diag.Error, "tenths_c"},
		{"F as C", year("tmin_c,tmax_c", 68, 12, "%.0f"), UnitUnsaid, diag.Error, "degrees F"},
		{"C as tenths of C", year("TMIN,TMAX", 18, -12, "%.1f"), UnitTenthsC, diag.Error, "degrees C"},
		{"whole C as tenths of C", year("TMIN,TMAX", 18, -12, "%.0f"), UnitTenthsC, diag.Warning, "degrees C"},
		{"C as F", year("tmin_f,tmax_f", 18, -12, "%.1f"), UnitUnsaid, diag.Warning, "degrees C"},
		{"F", year("tmin_f,tmax_f", 68, 12, "%.0f"), UnitUnsaid, 0, ""},
		{"C", year("tmin_c,tmax_c", 18, -12, "%.1f"), UnitUnsaid, 0, ""},
		{"tenths of C", year("TMIN,TMAX", 180, -120, "%.0f"), UnitTenthsC, 0, ""},
	} {
		var faults diag.List
		list := Record("x.csv", []byte(c.data), Mapping{Unit: c.unit}, &faults)
		found := false
		for _, f := range faults.Sorted() {
			if f.ID == "record-unit-implausible" {
				found = true
				if f.Severity != c.severity || !strings.Contains(f.Cure, c.hint) {
					t.Errorf("%s: %v", c.name, f)
				}
			}
		}
		if found != (c.hint != "") || (len(list) == 1) != (c.hint == "" || c.severity != diag.Error) {
			t.Errorf("%s: %d records, %v", c.name, len(list), faults.Sorted())
		}
	}
	// Minima alone, up to 10 C in tenths: a hot desert's in F look the same, so it is asked.
	var faults diag.List
	data := "DATE,TMIN\n"
	for i := range 365 {
		y, m, d := (quantity.DayOf(2001, 1, 1) + quantity.Day(i)).Date()
		data += fmt.Sprintf("%d-%02d-%02d,%d\n", y, m, d, -40+150*min(i, 364-i)/182)
	}
	if list := Record("x.csv", []byte(data), Mapping{}, &faults); list != nil || !strings.Contains(ids(&faults), "record-unit-unsaid") {
		t.Errorf("a cool coast's minima: %v", faults.Sorted())
	}
}

// The real GHCN-Daily file of New York, 1871-1960, written as by-station CSV with its
// flags is the same record.
func TestByStationIsTheSameRecord(t *testing.T) {
	dir := proof.RecordsDir(t)
	data, err := os.ReadFile(filepath.Join(dir, "daily", "USC00305816.dly"))
	if err != nil {
		t.Fatal(err)
	}
	var faults diag.List
	want := Record("a.dly", data, Mapping{}, &faults)[0]
	days := map[quantity.Day]*[4]string{} // TMAX, flags, TMIN, flags
	for l := range strings.Lines(string(data)) {
		side := map[string]int{"TMAX": 0, "TMIN": 2}[l[17:21]]
		if side == 0 && l[17:21] != "TMAX" {
			continue
		}
		year, month := atoi(l[11:15]), atoi(l[15:17])
		for d := range quantity.DaysIn(year, month) {
			v := l[21+8*d : 29+8*d]
			on := quantity.DayOf(year, month, d+1)
			if days[on] == nil {
				days[on] = &[4]string{}
			}
			if v[:5] != "-9999" {
				days[on][side], days[on][side+1] = v[:5], fmt.Sprintf("%s,%s,%s", v[5:6], v[6:7], v[7:8])
			}
		}
	}
	var b strings.Builder
	b.WriteString("\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"ELEVATION\",\"NAME\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\",\"TMIN_ATTRIBUTES\"\n")
	for on := want.Start; on < want.End(); on++ {
		if v := days[on]; v != nil && (v[0] != "" || v[2] != "") {
			y, m, d := on.Date()
			fmt.Fprintf(&b, "\"USC00305816\",\"%04d-%02d-%02d\",\"40.7\",\"-74.0\",\"-999.9\",\"NEW YORK WB CITY, NY US\",\"%s\",\"%s\",\"%s\",\"%s\"\n", y, m, d, v[0], v[1], v[2], v[3])
		}
	}
	faults = diag.List{}
	list := Record("b.csv", []byte(b.String()), Mapping{}, &faults)
	if len(list) != 1 {
		t.Fatalf("%d records\n%v", len(list), faults.Sorted())
	}
	got := list[0]
	if got.Start != want.Start || got.Step != want.Step || got.Dropped != want.Dropped || !slices.Equal(got.Min, want.Min) || !slices.Equal(got.Max, want.Max) {
		t.Errorf("by-station %v %v %+v, fixed width %v %v %+v", got.Start, got.Step, got.Dropped, want.Start, want.Step, want.Dropped)
	}
}
