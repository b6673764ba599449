package intake

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/record"
)

// The columns of both vintages, cut down; figures and stations are invented.
const (
	annualFlags = "\"STATION\",\"LATITUDE\",\"ANN-TMIN-PRBOCC-LSTH032\",\"meas_flag_ANN-TMIN-PRBOCC-LSTH032\",\"comp_flag_ANN-TMIN-PRBOCC-LSTH032\",\"years_ANN-TMIN-PRBOCC-LSTH032\"," +
		"\"ANN-TMIN-PRBLST-T32FP10\",\"meas_flag_ANN-TMIN-PRBLST-T32FP10\",\"comp_flag_ANN-TMIN-PRBLST-T32FP10\",\"years_ANN-TMIN-PRBLST-T32FP10\"," +
		"\"ANN-TMIN-PRBFST-T32FP90\",\"meas_flag_ANN-TMIN-PRBFST-T32FP90\",\"comp_flag_ANN-TMIN-PRBFST-T32FP90\",\"years_ANN-TMIN-PRBFST-T32FP90\"," +
		"\"ANN-TMIN-PRBGSL-T32FP90\",\"meas_flag_ANN-TMIN-PRBGSL-T32FP90\",\"comp_flag_ANN-TMIN-PRBGSL-T32FP90\",\"years_ANN-TMIN-PRBGSL-T32FP90\"\n"
	annualTenths = "\"STATION\",\"ANN-TMIN-PRBOCC-LSTH032\",\"ANN-TMIN-PRBOCC-LSTH032_ATTRIBUTES\",\"ANN-TMIN-PRBLST-T32FP10\",\"ANN-TMIN-PRBLST-T32FP10_ATTRIBUTES\",\"ANN-TMIN-PRBGSL-T32FP10\",\"ANN-TMIN-PRBGSL-T32FP10_ATTRIBUTES\"\n"
)

// months makes a file of twelve months from a row's beginning and its figures.
func monthRows(head string, row func(m int) string) string {
	var b strings.Builder
	b.WriteString(head)
	for m := 1; m <= 12; m++ {
		b.WriteString(row(m) + "\n")
	}
	return b.String()
}

// shownTable prints a table the way the tests below expect it.
func shownTable(f *record.Freeze) string {
	var out []string
	for _, r := range f.Rows {
		s := fmt.Sprintf("%v %.0fF %.0f%% ", r.Event, r.Below.Fahrenheit(), 100*r.Odds)
		if r.State == record.FreezeDate {
			s += r.Date.String()
		} else {
			s += r.State.String()
		}
		out = append(out, s)
	}
	for _, r := range f.Spans {
		out = append(out, fmt.Sprintf("span %.0fF %.0f%% %d", r.Below.Fahrenheit(), 100*r.Odds, r.Days))
	}
	if f.From > 0 {
		out = append(out, fmt.Sprintf("%d-%d", f.From, f.To))
	}
	if f.Years > 0 {
		out = append(out, fmt.Sprintf("%d years", f.Years))
	}
	if n := f.Normals; n != nil {
		out = append(out, fmt.Sprintf("January %.2f July %.2f max %v", float64(n.Min[0]), float64(n.Min[6]), n.HasMax))
	}
	return strings.Join(out, ", ")
}

// Odds by hand: of a last and a first freeze P is the chance of harm; a season of so
// many days or more with chance 90 % is shorter with 10 %. Fahrenheit: 9.3 F is -12.61
// C, 57.8 F 14.33 C.
func TestFreezeTablesOfAGuide(t *testing.T) {
	flags := func(occ, lst, fst, gsl string) string {
		return annualFlags + "\"XXW00000001\",\" 43.6\"," + strings.Join([]string{occ, lst, fst, gsl}, ",") + "\n"
	}
	monthly := monthRows("\"STATION\",\"DATE\",\"month\",\"MLY-TMIN-NORMAL\",\"meas_flag_MLY-TMIN-NORMAL\",\"comp_flag_MLY-TMIN-NORMAL\",\"MLY-TMAX-NORMAL\",\"meas_flag_MLY-TMAX-NORMAL\",\"comp_flag_MLY-TMAX-NORMAL\"\n",
		func(m int) string {
			min := map[int]string{1: "     9.3", 7: "    57.8"}[m]
			if min == "" {
				min = "    40.0"
			}
			return fmt.Sprintf("\"XXW00000001\",\"%02d\",\"%02d\",\"%s\",\" \",\"S\",\"    80.0\",\" \",\"S\"", m, m, min)
		})
	tenths := monthRows("\"STATION\",\"DATE\",\"MLY-TMIN-NORMAL\",\"MLY-TMIN-NORMAL_ATTRIBUTES\"\n", func(m int) string {
		return fmt.Sprintf("\"XXW00000001\",\"%02d\",\"%d\",\"R\"", m, map[bool]int{true: 93, false: 578}[m == 1])
	})
	one := flags(`"   100.0"," ","S","30"`, `"   05/24"," ","S","30"`, `"   10/19"," ","S","29"`, `"   128.0"," ","S","28"`)
	const datedTable = "last 32F 10% 05-24, first 32F 90% 10-19, span 32F 10% 128"
	const typed = "station,event,below_c,odds_percent,date\n"
	cases := []struct {
		name     string
		stations []string
		files    map[string]string
		want     string // station: table; sorted by station
		faults   string
	}{
		{
			"flags of 1991-2020, by the station's name", []string{"mill"}, map[string]string{"data/records/mill.csv": one},
			"mill: " + datedTable + ", 1991-2020, 28 years", "",
		},
		{
			"the years in the file's name", []string{"mill"}, map[string]string{"data/records/annual_2006-2020_mill.csv": one},
			"mill: " + datedTable + ", 2006-2020, 28 years", "",
		},
		{
			"by the id in the file", []string{"xxw00000001"}, map[string]string{"data/records/download.csv": one},
			"xxw00000001: " + datedTable + ", 1991-2020, 28 years", "",
		},
		{
			"by records.csv, file and station", []string{"mill", "school"},
			map[string]string{"data/records/a.csv": one, "data/records/b.csv": strings.ReplaceAll(one, "XXW00000001", "XXW00000002"), "data/records.csv": "station,file,station_id\nmill,a.csv,\nschool,,XXW00000002\n"},
			"mill: " + datedTable + ", 1991-2020, 28 years; school: " + datedTable + ", 1991-2020, 28 years", "",
		},
		{
			"compressed, with monthly normals beside it", []string{"mill"},
			map[string]string{"data/records/mill.csv.gz": string(gzipped(one)), "data/records/mill-monthly.csv": monthly},
			"mill: " + datedTable + ", 1991-2020, 28 years, January -12.61 July 14.33 max true", "",
		},
		{
			"tenths of 1981-2010", []string{"mill"},
			map[string]string{"data/records/mill-1.csv": annualTenths + "XXW00000001,1000,S,05/24,R,165,R\n", "data/records/mill-2.csv": tenths},
			"mill: last 32F 10% 05-24, span 32F 90% 165, 1981-2010, January -12.61 July 14.33 max false", "",
		},
		{
			"codes: any month, never, not known", []string{"mill"},
			map[string]string{"data/records/mill.csv": flags(`"   100.0"," ","S","30"`, `" -4444.0","V","S","30"`, `"   -6666","Y"," ","30"`, `" -9999.0","M"," "," "`)},
			"mill: last 32F 10% any month, first 32F 90% never, 1991-2020, 30 years", "",
		},
		{
			"a flag alone; Y tells too few freezes from too few values by the odds of any", []string{"mill", "school"},
			map[string]string{
				"data/records/mill.csv":   flags(`"    40.0"," ","S","30"`, `"        ","V"," "," "`, `"        ","Y"," "," "`, `"        ","Z"," "," "`),
				"data/records/school.csv": strings.ReplaceAll(flags(`"   100.0"," ","S","30"`, `"   05/24"," "," "," "`, `"        ","Y"," "," "`, `"     0.0","X"," "," "`), "XXW00000001", "XXW00000002"),
			},
			"mill: last 32F 10% any month, first 32F 90% never; school: last 32F 10% 05-24, span 32F 10% 0", "",
		},
		{
			"figure and flag disagree, unknown flags and letters, no dates", []string{"mill"},
			map[string]string{"data/records/mill.csv": flags(`"   100.0"," ","S","30"`, `"   05/24","V","S","30"`, `"   10/19","Q","S","30"`, `"   128.5"," ","?","30"`) +
				`"XXW00000001"," 43.6","","","","","   24-May"," "," "," ","   13/01"," "," "," ","   128.5"," "," "," "` + "\n"},
			"", "freeze-flag 2 G2, freeze-flag 2 K2, freeze-flag 2 O2, freeze-date 3 O3, freeze-date 3 K3, freeze-date 3 G3",
		},
		{
			"cells lost", []string{"mill"}, map[string]string{"data/records/mill.csv": annualTenths + "XXW00000001,1000,S,05/24\n"},
			"", "freeze-row-broken 2",
		},
		{
			"the wrong way round", []string{"mill"},
			map[string]string{"data/records/mill.csv": "STATION,ANN-TMIN-PRBLST-T32FP10,ANN-TMIN-PRBLST-T32FP90\nXXW00000001,04/20,05/24\n"},
			"", "freeze-order 2 B2",
		},
		{
			"no freeze dates, daily normals, months alone", []string{"mill", "school", "church"},
			map[string]string{
				"data/records/mill.csv":   "STATION,DATE,MLY-PRCP-NORMAL\nXXW00000001,01,3\n",
				"data/records/school.csv": "STATION,DATE,DLY-TMIN-NORMAL\nXXW00000001,01-01,3\n",
				"data/records/church.csv": monthly,
			},
			"", "freeze-only-months warning, freeze-nothing 2, freeze-daily-normals 1",
		},
		{
			"months missing, twice, without a unit, in two units", []string{"mill", "school", "church", "inn"},
			map[string]string{
				"data/records/mill.csv":   annualTenths + "XXW00000001,1000,S,05/24,R,165,R\n",
				"data/records/mill-m.csv": "STATION,DATE,MLY-TMIN-NORMAL,MLY-TMIN-NORMAL_ATTRIBUTES\nXXW00000001,01,93,R\nXXW00000001,02,-9999,R\n",
				"data/records/school.csv": "STATION,DATE,MLY-TMIN-NORMAL\nXXW00000001,01,93\nXXW00000001,01,93\n",
				"data/records/church.csv": monthRows("STATION,DATE,MLY-TMIN-NORMAL\n", func(m int) string { return fmt.Sprintf("X,%02d,40", m) }),
				"data/records/inn.csv":    monthRows("STATION,DATE,MLY-TMIN-NORMAL,MLY-TMIN-NORMAL_ATTRIBUTES\n", func(m int) string { return fmt.Sprintf("X,%02d,40.5,R", m) }),
			},
			"mill: last 32F 10% 05-24, span 32F 90% 165, 1981-2010", "freeze-unit 2, freeze-unit 2, freeze-months-missing warning 2, freeze-month 3 B3",
		},
		{
			"two vintages", []string{"mill"},
			map[string]string{"data/records/mill-1991.csv": one, "data/records/mill-1981.csv": annualTenths + "XXW00000001,1000,S,05/20,R,165,R\n"},
			"mill: last 32F 10% 05-20, span 32F 90% 165, 1981-2010", "freeze-twice",
		},
		{
			"nobody's", []string{"mill"},
			map[string]string{"data/records/mil.csv": one, "data/freeze.csv": typed + "mill,last,0,50,05-12\n"},
			"mill: last 32F 50% 05-12", "freeze-unclaimed warning",
		},
		{
			"files of many stations", []string{"mill", "school"},
			map[string]string{
				"data/records/ann-tmin-prblst-t32Fp50.csv":    "XXW00000001       05/09R\nXXW00000002       -4444S\nXXW00000003       -6666\n",
				"data/records/ann-tmin-prblst-t32Fp10.txt":    "XXW00000001       05/24R\r\nXXW00000002       -4444S\r\n",
				"data/records/ann-tmin-prbgsl-t32Fp90.csv.gz": string(gzipped("XXW00000001         128R\nXXW00000002          11S\n")),
				"data/records/ANN-TMIN-PRBFST-T32FP50.CSV":    "XXW00000001       10/06R\nXXW00000002       -4444 \n",
				"data/records.csv":                            "station,station_id\nmill,XXW00000001\nschool,xxw00000002\n",
			},
			"mill: first 32F 50% 10-06, last 32F 10% 05-24, last 32F 50% 05-09, span 32F 10% 128, 1981-2010; " +
				"school: first 32F 50% any month, last 32F 10% any month, last 32F 50% any month, span 32F 10% 11, 1981-2010", "",
		},
		{
			"files of many stations: without a name, damaged, beside another table", []string{"mill", "school"},
			map[string]string{
				"data/records/last.csv":                    "XXW00000001       05/09R\n",
				"data/records/ann-tmin-prblst-t32Fp50.csv": "XXW00000001       05/09R\nXXW00000001       05/09R\nXXW000002 05/09\nXXW00000003       05/39R\nXXW00000004       05/09Ä\n",
				"data/records/ann-tmin-prblst-t32Fp90.csv": "XXW00000001       04/20R\n",
				"data/records/zschool.csv":                 one,
				"data/records.csv":                         "station,file,station_id\nschool,zschool.csv,XXW00000001\n",
			},
			"school: last 32F 90% 04-20, 1981-2010", "freeze-line 2, freeze-line 3, freeze-line 4, freeze-line 5, freeze-name 1, freeze-twice",
		},
		{
			"typed", []string{"mill"},
			map[string]string{"data/freeze.csv": typed + "mill,last,0,50,12 May\nmill,first,0,50,Oct 5\nmill,last,-20,10,never\nmill,first,10,50,any month\n"},
			"mill: last 32F 50% 05-12, first 32F 50% 10-05, last -4F 10% never, first 50F 50% any month", "",
		},
		{
			"typed over published", []string{"mill"},
			map[string]string{"data/records/mill.csv": one, "data/freeze.csv": typed + "mill,last,0,10,05-26\nmill,last,-2.2,10,05-10\n"},
			"mill: first 32F 90% 10-19, last 32F 10% 05-26, last 28F 10% 05-10, span 32F 10% 128, 1991-2020, 28 years", "",
		},
		{
			"typed twice, of no station, in the wrong sense, crossed", []string{"mill", "school", "church"},
			map[string]string{"data/freeze.csv": typed + "mill,last,0,50,05-12\nmill,last,0,50,05-20\nmil,last,0,50,05-12\n" +
				"school,last,0,10,05-02\nschool,last,0,50,05-12\nchurch,first,0,50,10-05\nchurch,first,-2,50,10-01\n"},
			"mill: last 32F 50% 05-12", "freeze-repeated 3 E3, freeze-station-unlisted 4 A4, freeze-order 5 E5, freeze-order 8 E8",
		},
	}
	for _, c := range cases {
		var faults diag.List
		tables := stationsOf(c.stations...)
		got := FreezeTables(folderOf(c.files), tables, &faults)
		var list []string
		for _, id := range slices.Sorted(maps.Keys(got)) {
			list = append(list, id+": "+shownTable(got[id]))
		}
		if s := strings.Join(list, "; "); s != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, s, c.want)
		}
		if s := ids(&faults); s != c.faults {
			t.Errorf("%s: faults %q, want %q\n%v", c.name, s, c.faults, faults.Sorted())
		}
		for _, f := range faults.Sorted() {
			if _, ok := diag.Explain(f.ID); !ok {
				t.Errorf("%s: %s is not explained", c.name, f.ID)
			}
		}
	}
}

// Records and tables of one guide side by side: a table is no broken record, and a
// station with either is not empty.
func TestRecordsBesideTables(t *testing.T) {
	const plain = "date,tmin_c,tmax_c\n2001-04-07,-1.1,9.4\n"
	const annual = annualTenths + "XXW00000001,1000,S,05/24,R,165,R\n"
	const typed = "station,event,below_c,odds_percent,date\nmill,last,0,50,05-12\n"
	for _, c := range []struct {
		name   string
		files  map[string]string
		want   string
		faults string
	}{
		{"a table alone", map[string]string{"data/records/mill.csv": annual}, "", ""},
		{"typed dates alone", map[string]string{"data/freeze.csv": typed}, "", ""},
		{"a table named in records.csv", map[string]string{"data/records/x.csv": annual, "data/records.csv": "station,file\nmill,x.csv\n"}, "", ""},
		{"a record and typed dates", map[string]string{"data/records/mill.csv": plain, "data/freeze.csv": typed}, "mill", "freeze-not-used note"},
		{"a record and a table of one name", map[string]string{"data/records/mill.dly": dlyLine("TMIN", 2001, 4, "  -22  Z"), "data/records/mill.csv": annual}, "mill", "freeze-not-used note"},
		{"neither", map[string]string{}, "", "record-none 2 A2"},
		{"a table with faults of its own is not also missing", map[string]string{"data/freeze.csv": typed[:len(typed)-6] + "5/6\n"}, "", ""},
	} {
		var faults diag.List
		tables := stationsOf("mill")
		got := Records(folderOf(c.files), tables, &faults)
		if s := strings.Join(slices.Sorted(maps.Keys(got)), " "); s != c.want {
			t.Errorf("%s: records of %q, want %q", c.name, s, c.want)
		}
		if s := ids(&faults); s != c.faults {
			t.Errorf("%s: faults %q, want %q\n%v", c.name, s, c.faults, faults.Sorted())
		}
	}
}

func FuzzFreezeTables(f *testing.F) {
	f.Add([]byte(annualTenths + "XXW00000001,1000,S,05/24,R,165,R\n"))
	f.Add([]byte("XXW00000001       05/09R\n"))
	f.Add([]byte("STATION,DATE,MLY-TMIN-NORMAL\nX,01,\"9"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var faults diag.List
		tables := &catalog.Tables{Stations: []catalog.Station{{ID: "mill"}}}
		for _, name := range []string{"mill.csv", "ann-tmin-prblst-t32Fp50.csv"} {
			got := FreezeTables(folderOf(map[string]string{"data/records/" + name: string(data)}), tables, &faults)
			for _, f := range got {
				if len(f.Rows) == 0 {
					t.Errorf("a table without dates: %+v", f)
				}
			}
		}
	})
}

// A published table given as a daily record is named as what it is.
func TestPublishedIsNoRecord(t *testing.T) {
	for _, data := range []string{annualTenths + "XXW00000001,1000,S,05/24,R,165,R\n", "XXW00000001       05/09R\n"} {
		var faults diag.List
		if list := Record("x.csv", []byte(data), Mapping{}, &faults); list != nil || ids(&faults) != "record-is-published" {
			t.Errorf("%d records, %v", len(list), faults.Sorted())
		}
	}
}
