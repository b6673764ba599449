package intake

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"strings"
	"testing"
	"unicode/utf16"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// shown prints records the way the tests below expect them: a line a station with
// its step, then a line a day that has a reading, temperatures in hundredths.
func shown(records []record.Daily) string {
	var b strings.Builder
	for _, d := range records {
		fmt.Fprintf(&b, "%s step %d", d.Station, d.Step)
		if d.Dropped != (record.Dropped{}) {
			fmt.Fprintf(&b, " dropped %+v", d.Dropped)
		}
		b.WriteByte('\n')
		for i := range d.Min {
			if d.Min[i].Known() || d.Max[i].Known() {
				y, m, day := (d.Start + quantity.Day(i)).Date()
				fmt.Fprintf(&b, "%d-%02d-%02d %s %s line %d\n", y, m, day, shownValue(d.Min[i]), shownValue(d.Max[i]), d.Lines[i])
			}
		}
	}
	return b.String()
}

func shownValue(v quantity.Hundredths) string {
	if !v.Known() {
		return "-"
	}
	return fmt.Sprint(int(v))
}

func ids(l *diag.List) string {
	var out []string
	for _, f := range l.Sorted() {
		id := f.ID
		if f.Severity != diag.Error {
			id += " " + f.Severity.String()
		}
		if f.At.Line > 0 {
			id += fmt.Sprintf(" %d", f.At.Line)
		}
		if f.At.Cell != "" {
			id += " " + f.At.Cell
		}
		out = append(out, id)
	}
	return strings.Join(out, ", ")
}

// dlyLine makes a line of a GHCN-Daily file: the values, each with its three flags,
// and -9999 for the rest of 31 days.
func dlyLine(element string, year, month int, days ...string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "XXC00000001%04d%02d%s", year, month, element)
	for i := range 31 {
		if i < len(days) {
			b.WriteString(days[i])
		} else {
			b.WriteString("-9999   ")
		}
	}
	return b.String()
}

func gzipped(s string) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write([]byte(s))
	z.Close()
	return b.Bytes()
}

func utf16le(s string) []byte {
	out := []byte{0xff, 0xfe}
	for _, u := range utf16.Encode([]rune(s)) {
		out = append(out, byte(u), byte(u>>8))
	}
	return out
}

// Fahrenheit by hand: 28 F = (28 - 32)/1.8 = -2.22 C, 50 F = 10 C, 14 F = -10 C.
func TestRecordLayouts(t *testing.T) {
	cases := []struct {
		name    string
		file    string
		data    string
		mapping Mapping
		want    string
		faults  string
	}{
		{
			"plain layout, C", "data/records/mill.csv",
			"date,tmin_c,tmax_c\n2001-04-07,-1.1,9.4\n2001-04-08,,10\n2001-04-10,0,NA\n", Mapping{},
			"mill step 1\n2001-04-07 -110 940 line 2\n2001-04-08 - 1000 line 3\n2001-04-10 0 - line 4\n", "",
		},
		{
			"plain layout, F", "mill.csv", "date,tmin_f,tmax_f\n2001-04-07,28,50\n", Mapping{},
			"mill step 4\n2001-04-07 -222 1000 line 2\n", "",
		},
		{
			"plain layout, F rounded to nearest; equal minimum and maximum kept", "mill.csv", "date,tmin_f,tmax_f\n2001-04-07,31,31\n", Mapping{}, // -0.556 C
			"mill step 4\n2001-04-07 -56 -56 line 2\n", "",
		},
		{
			"plain layout, F to a tenth", "mill.csv", "date,tmin_f\n2001-04-07,28.4\n", Mapping{}, // (28.4 - 32)/1.8 = -2
			"mill step 3\n2001-04-07 -200 - line 2\n", "",
		},
		{
			"several stations", "all.csv", "station,date,tmin_c,tmax_c\nb,2001-04-07,1,2\na,2001-04-07,3,4\nb,2001-04-08,5,6\n", Mapping{},
			"b step 3\n2001-04-07 100 200 line 2\n2001-04-08 500 600 line 4\na step 3\n2001-04-07 300 400 line 3\n", "",
		},
		{
			"one of several stations", "all.csv", "station,date,tmin_c,tmax_c\nb,2001-04-07,1,2\na,2001-04-07,3,4.5\n", Mapping{Station: "a"},
			"a step 2\n2001-04-07 300 450 line 3\n", "",
		},
		{
			"NOAA export in C proves itself by its decimals", "x.csv",
			"STATION,STATION_NAME,DATE,TAVG,TMAX,TMIN\rGHCND:XXW1,SOMEWHERE,20010407,-9999,9.4,-1.1\rGHCND:XXW1,SOMEWHERE,20010408,-9999,8.3,-9999\rGHCND:XXW1,SOMEWHERE,20010409,-9999,8.3,0.6\r",
			Mapping{Station: "XXW1"},
			"GHCND:XXW1 step 1 dropped {Flagged:0 Sentinel:1 Implausible:0 MinOverMax:0 Repeated:0 Contradicted:0}\n2001-04-07 -110 940 line 2\n2001-04-08 - 830 line 3\n2001-04-09 60 830 line 4\n",
			"record-read-as note",
		},
		{
			"NOAA export in F proves itself by its summer", "x.csv",
			"\"STATION\",\"DATE\",\"TMAX\",\"TMIN\"\r\n\"XXW1\",\"2001-07-07\",\"86\",\"68\"\r\n\"XXW1\",\"2001-07-08\",\"77\",\"50\"\r\n", Mapping{},
			"XXW1 step 4\n2001-07-07 2000 3000 line 2\n2001-07-08 1000 2500 line 3\n", "record-read-as note",
		},
		{
			"NOAA attributes", "x.csv",
			"\"STATION\",\"DATE\",\"TMIN\",\"TMIN_ATTRIBUTES\"\n\"XXW1\",\"2001-07-07\",\"-22\",\",,W,2400\"\n\"XXW1\",\"2001-07-08\",\"-39\",\",I,W,2400\"\n", Mapping{Unit: UnitTenthsC},
			"XXW1 step 1 dropped {Flagged:1 Sentinel:0 Implausible:0 MinOverMax:0 Repeated:0 Contradicted:0}\n2001-07-07 -220 - line 2\n", "",
		},
		{
			"tenths of C prove themselves", "x.csv",
			"DATE,TMIN,TMAX\n2001-07-07,150,311\n2001-07-08,144,289\n", Mapping{},
			"x step 1\n2001-07-07 1500 3110 line 2\n2001-07-08 1440 2890 line 3\n", "record-read-as note",
		},
		{
			"year, month and day; heading says the unit", "x.csv.gz",
			"Product code,Bureau of Meteorology station number,Year,Month,Day,Minimum temperature (Degree C),Days of accumulation of minimum temperature,Quality\nIDC,066062,1859,01,01,14.5,,Y\n", Mapping{},
			"066062 step 2\n1859-01-01 1450 - line 2\n", "record-read-as note",
		},
		{
			"year and day of the year", "x.csv", "year,jday,MIN_TEMP,flags\n2004,60,7.200000,\n2003,60,-4.000000,E\n2004,366,1,\n", Mapping{Unit: UnitC},
			"x step 1\n2003-03-01 -400 - line 3\n2004-02-29 720 - line 2\n2004-12-31 100 - line 4\n", "record-read-as note",
		},
		{
			"semicolons, mapped", "x.csv", "station/location;date;tre200dn;tre200dx\nSIO;19580101;-8.7;4\nSIO;19580102;-;3.3\n",
			Mapping{Tmin: "tre200dn", Tmax: "TRE200DX", Unit: UnitC},
			"x step 1\n1958-01-01 -870 400 line 2\n1958-01-02 - 330 line 3\n", "",
		},
		{
			"decimal commas, Windows letters, titles above", "x.csv",
			"Klimastation\n\nDatum;Min Temp (\xb0C);Max Temp (\xb0C)\n7.4.2001;-1,1;9,4\n", Mapping{Date: []string{"Datum"}},
			"x step 1\n2001-04-07 -110 940 line 4\n", "record-read-as note",
		},
		{
			"tabs", "x.txt", "date\ttmin_c\n2001-04-07 00:00\t\u22121.1\n2001-04-08T00:00:00\t+1\n", Mapping{},
			"x step 1\n2001-04-07 -110 - line 2\n2001-04-08 100 - line 3\n", "",
		},
		{
			"missing said", "x.csv", "date,tmin_c\n2001-04-07,-1.1\n2001-04-08,77.7\n2001-04-09,trace\n2001-04-10,-999.9\n", Mapping{Missing: []string{"77.70", "trace"}},
			"x step 1 dropped {Flagged:0 Sentinel:2 Implausible:0 MinOverMax:0 Repeated:0 Contradicted:0}\n2001-04-07 -110 - line 2\n", "",
		},
		{
			"days again: equal, filled, contradicted, a third time", "x.csv",
			"date,tmin_c,tmax_c\n2001-04-07,1,5\n2001-04-07,1,5\n2001-04-08,2,\n2001-04-08,,6\n2001-04-09,3,7\n2001-04-09,4,7\n2001-04-09,3,7\n" + manyDays("2001-05", 30), Mapping{},
			"x step 3 dropped {Flagged:0 Sentinel:0 Implausible:0 MinOverMax:0 Repeated:4 Contradicted:1}\n2001-04-07 100 500 line 2\n2001-04-08 200 600 line 4\n2001-04-09 - 700 line 6\n" + shownDays("2001-05", 30, 9), "record-contradicted warning 6",
		},
		{
			"minimum above maximum", "x.csv", "date,tmin_c,tmax_c\n2001-04-07,9.5,5\n" + manyDays("2001-05", 31) + manyDays("2001-06", 30), Mapping{},
			"x step 3 dropped {Flagged:0 Sentinel:0 Implausible:0 MinOverMax:1 Repeated:0 Contradicted:0}\n" + shownDays("2001-05", 31, 3) + shownDays("2001-06", 30, 34), "",
		},
		{
			"implausible", "x.csv", "date,tmin_c,tmax_c\n2001-04-07,-91,61\n" + manyDays("2001-05", 31) + manyDays("2001-07", 31) + manyDays("2001-08", 31) + manyDays("2001-10", 31), Mapping{},
			"x step 3 dropped {Flagged:0 Sentinel:0 Implausible:2 MinOverMax:0 Repeated:0 Contradicted:0}\n" + shownDays("2001-05", 31, 3) + shownDays("2001-07", 31, 34) + shownDays("2001-08", 31, 65) + shownDays("2001-10", 31, 96), "",
		},
		{
			"month/day/year proved by one row", "x.csv", "date,tmin_c\n4/7/2001,1.1\n4/13/2001,2\n", Mapping{},
			"x step 1\n2001-04-07 110 - line 2\n2001-04-13 200 - line 3\n", "",
		},
		{
			"the headings again in the middle", "x.csv", "date,tmin_c\n2001-04-07,1.1\ndate,tmin_c\n2001-04-08,2\n", Mapping{},
			"x step 1\n2001-04-07 110 - line 2\n2001-04-08 200 - line 4\n", "",
		},
		{
			"a name for the only station", "x.csv", "date,tmin_c\n2001-04-07,1.1\n", Mapping{Station: "mill"},
			"mill step 1\n2001-04-07 110 - line 2\n", "",
		},
		{
			"GHCN-Daily", "y.dly", dlyLine("PRCP", 2001, 4, "  -22  Z") + "\n" + dlyLine("TMAX", 2001, 4, "   94  Z", "  100  Z") + "\n" + dlyLine("TMIN", 2001, 4, "  -22  Z", "-9999   ", "  -39 XZ", "    0T Z") + "\n", Mapping{},
			"XXC00000001 step 1 dropped {Flagged:1 Sentinel:0 Implausible:0 MinOverMax:0 Repeated:0 Contradicted:0}\n2001-04-01 -220 940 line 3\n2001-04-02 - 1000 line 2\n2001-04-04 0 - line 3\n", "",
		},
		{
			"GHCN-Daily, a 31st of June is no day", "y.dly", strings.TrimRight(dlyLine("TMIN", 2001, 6), " ")[:21+8*30] + "  -50  Z\n" + dlyLine("TMIN", 2001, 7, "   50  Z"), Mapping{},
			"XXC00000001 step 3\n2001-07-01 500 - line 2\n", "",
		},
		{
			"GHCN-Daily cut short by an editor", "y.dly", strings.TrimRight(dlyLine("TMIN", 2001, 4, "  -22  Z", "  -39   "), " ")[:21+8+5] + "\r\n", Mapping{},
			"XXC00000001 step 1\n2001-04-01 -220 - line 1\n2001-04-02 -390 - line 1\n", "",
		},
	}
	for _, c := range cases {
		for form, data := range map[string][]byte{"": []byte(c.data), ", compressed": gzipped(c.data)} {
			var faults diag.List
			got := Record(c.file, data, c.mapping, &faults)
			if s := shown(got); s != c.want {
				t.Errorf("%s%s:\n%swant\n%s", c.name, form, s, c.want)
			}
			if s := ids(&faults); s != c.faults {
				t.Errorf("%s%s: faults %q, want %q\n%v", c.name, form, s, c.faults, faults.Sorted())
			}
		}
	}
}

// manyDays is days of a month at 1 to 9 C, so that one odd row is a small share.
func manyDays(month string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "%s-%02d,1,9\n", month, i+1)
	}
	return b.String()
}

func shownDays(month string, n, line int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "%s-%02d 100 900 line %d\n", month, i+1, line+i)
	}
	return b.String()
}

func TestRecordInUTF16(t *testing.T) {
	var faults diag.List
	got := Record("x.csv", utf16le("date\ttmin_c\r\n2001-04-07\t-1.1\r\n"), Mapping{}, &faults)
	if s := shown(got); s != "x step 1\n2001-04-07 -110 - line 2\n" || faults.Len() > 0 {
		t.Errorf("%s%v", s, faults.Sorted())
	}
}

// Every fault of a record, at its place. Each id must also have its explanation.
func TestRecordFaults(t *testing.T) {
	cases := []struct {
		name    string
		data    string
		mapping Mapping
		faults  string
	}{
		{"nothing", "", Mapping{}, "record-empty"},
		{"blank lines", "\n \n", Mapping{}, "record-empty"},
		{"a spreadsheet", "PK\x03\x04....", Mapping{}, "record-not-text"},
		{"a web page", "<!DOCTYPE html><html>", Mapping{}, "record-not-text"},
		{"a Git LFS pointer", "version https://git-lfs.github.com/spec/v1\noid sha256:0\n", Mapping{}, "record-not-text"},
		{"broken compression", "\x1f\x8b\x08junk", Mapping{}, "record-not-text"},
		{"prose", "Dear reader\nof records\n", Mapping{}, "record-layout-unknown 1"},
		{"numbers without headings", "2001,4,7,-1.1\n2001,4,8,-1.2\n", Mapping{}, "record-layout-unknown 1"},
		{"maxima only", "date,tmax_c\n2001-04-07,9.4\n", Mapping{}, "record-no-minima 1"},
		{"minima all blank", "date,tmin_c,tmax_c\n2001-04-07,,9.4\n", Mapping{}, "record-no-minima"},
		{"GHCN-Daily without TMIN", dlyLine("TMAX", 2001, 4, "   94  Z"), Mapping{}, "record-no-minima"},
		{"GHCN-Daily without temperatures", dlyLine("PRCP", 2001, 4, "   94  Z"), Mapping{}, "record-no-minima"},
		{"no dates", "when,tmin_c\n2001-04-07,9.4\n", Mapping{}, "record-layout-unknown 1"},
		{"named columns that are not there", "DATE,T_MIN\n2001-04-07,9.4\n", Mapping{Tmin: "TMIN", Date: []string{"day"}, StationColumn: "id"}, "record-column-unknown 1, record-column-unknown 1, record-column-unknown 1"},
		{"two columns that might be the minima", "date,min temp,min t\n2001-04-07,9.4,1\n", Mapping{}, "record-no-minima 1"},
		{"whole degrees", "date,tmin\n2001-04-07,28\n2001-04-08,30\n", Mapping{}, "record-unit-unsaid"},
		{"decimals outside NOAA's layout", "date,MIN,MAX\n2001-04-07,2.8,9.9\n2001-04-08,2.8,9.9\n", Mapping{}, "record-unit-unsaid"},
		{"unit against the heading", "date,tmin_c\n2001-04-07,2.8\n", Mapping{Unit: UnitF}, "record-unit-contradicted"},
		{"F under a heading of C", "date,tmin_c,tmax_c\n2001-07-07,61,86\n2001-07-08,60,85\n", Mapping{}, "record-unit-implausible"},
		{"F given as C", "date,tmin,tmax\n2001-07-07,61,86\n2001-07-08,60,85\n", Mapping{Unit: UnitC}, "record-unit-implausible"},
		{"unreadable readings, each at its cell", "date,tmin_c,tmax_c\n2001-04-07,-1.1e,9.4\n2001-04-08,\"-1,1\",1e1\n", Mapping{},
			"record-number-unreadable 2 B2, record-number-unreadable 3 B3, record-number-unreadable 3 C3"},
		{"unreadable dates", "date,tmin_c\nApril,1\n07-04-01,1\n2001-04,1\ntotal,1\n", Mapping{},
			"record-date-unreadable 2 A2, record-date-unreadable 3 A3, record-date-unreadable 4 A4, record-date-unreadable 5 A5"},
		{"impossible dates", "date,tmin_c\n2001-02-29,1\n20011301,1\n0199-01-01,1\n30/2/2001,1\n13/1/2001,1\n", Mapping{},
			"record-date-impossible 2 A2, record-date-impossible 3 A3, record-date-impossible 4 A4"},
		{"impossible once the order is known", "date,tmin_c\n30/2/2001,1\n13/1/2001,1\n", Mapping{}, "record-date-impossible 2 A2"},
		{"day 366 of a common year", "year,doy,tmin_c\n2001,366,1\n", Mapping{}, "record-date-impossible 2 B2"},
		{"a month 13", "year,month,day,tmin_c\n2001,13,1,1\n", Mapping{}, "record-date-impossible 2 C2"},
		{"two dates in one", "date,tmin_c\n3/4/2001,1\n5/4/2001,1\n", Mapping{}, "record-date-ambiguous 3 A3"},
		{"both orders", "date,tmin_c\n13/4/2001,1\n4/14/2001,1\n", Mapping{}, "record-date-ambiguous 2 A2"},
		{"a short row", "date,tmax_c,tmin_c\n2001-04-07,1\n", Mapping{}, "record-row-short 2"},
		{"a row without a station", "station,date,tmin_c\na,2001-04-07,1\n,2001-04-08,1\n", Mapping{}, "record-station-blank 3 A3"},
		{"another station", "station,date,tmin_c\nmill_a,2001-04-07,1\n", Mapping{Station: "mill_b"}, "record-station-unknown"},
		{"another station, GHCN-Daily", dlyLine("TMIN", 2001, 4, "  -22  Z"), Mapping{Station: "XXC00000002"}, "record-station-unknown"},
		{"a station with maxima only among others", "station,date,tmin_c,tmax_c\na,2001-04-07,1,2\nb,2001-04-08,,2\n", Mapping{}, "record-no-minima warning"},
		{"hourly readings", "date,tmin_c\n2001-04-07 01:00,1\n2001-04-07 02:00,2\n2001-04-07 03:00,3\n", Mapping{}, "record-several-a-day"},
		{"rain under the name of minima", "date,tmin_c\n2001-04-07,-110\n2001-04-08,5\n", Mapping{}, "record-implausible"},
		{"columns mixed up", "date,tmin_c,tmax_c\n2001-04-07,9,1\n2001-04-08,1,9\n", Mapping{}, "record-min-over-max"},
		{"broken lines of GHCN-Daily", dlyLine("TMIN", 2001, 4, "  -22  Z") + "\nshort\n" + dlyLine("TMIN", 2001, 13) + "\n" + dlyLine("TMIN", 2001, 5, "  -2x  Z") + "\n", Mapping{},
			"record-line-broken 2, record-line-broken 3, record-line-broken 4"},
		{"a unit for GHCN-Daily", dlyLine("TMIN", 2001, 4, "  -22  Z"), Mapping{Unit: UnitF}, "record-read-as note"},
	}
	for _, c := range cases {
		var faults diag.List
		got := Record("x.csv", []byte(c.data), c.mapping, &faults)
		if s := ids(&faults); s != c.faults {
			t.Errorf("%s: %s, want %s\n%v", c.name, s, c.faults, faults.Sorted())
		}
		if faults.HasErrors() && got != nil {
			t.Errorf("%s: records in spite of faults", c.name)
		}
		for _, f := range faults.Sorted() {
			if _, ok := diag.Explain(f.ID); !ok {
				t.Errorf("%s: %s is not explained", c.name, f.ID)
			}
			if f.Cure == "" || f.What == "" {
				t.Errorf("%s: %v says too little", c.name, f)
			}
		}
	}
}

// A thousand bad cells are said twenty times, then counted.
func TestRecordFaultsAreFew(t *testing.T) {
	var b strings.Builder
	b.WriteString("date,tmin_c\n")
	for i := range 1000 {
		y, m, d := (quantity.DayOf(2001, 1, 1) + quantity.Day(i)).Date()
		fmt.Fprintf(&b, "%d-%02d-%02d,cold\n", y, m, d)
	}
	var faults diag.List
	Record("x.csv", []byte(b.String()), Mapping{}, &faults)
	list := faults.Sorted()
	if len(list) != 21 || list[0].What != "980 more of the same kind in this file" {
		t.Errorf("%d faults, first %v", len(list), list[0])
	}
}

func TestThousandths(t *testing.T) {
	for s, want := range map[string]int32{
		"-2.2": -2200, "0": 0, "-0": 0, "+3": 3000, ".5": 500, "5.": 5000, "7.200000": 7200, "1.2345": 1235, "1.2344": 1234,
		"010": 10000, "\u22121.1": -1100, "-9999": -9999000, "1,5": 1500,
	} {
		if got, ok := thousandths(s, true); !ok || got != want {
			t.Errorf("%q: %d %v, want %d", s, got, ok, want)
		}
	}
	for _, s := range []string{"", "-", ".", "1e3", "0x10", "NaN", "1.2.3", "--1", "1 2", "1,2,3", "٣", "99999999999"} {
		if got, ok := thousandths(s, true); ok {
			t.Errorf("%q is %d", s, got)
		}
	}
	if _, ok := thousandths("1,5", false); ok {
		t.Error("a comma between commas")
	}
}
