package intake

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
)

func folderOf(files map[string]string) fstest.MapFS {
	out := fstest.MapFS{}
	for name, text := range files {
		out[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return out
}

func stationsOf(ids ...string) *catalog.Tables {
	t := &catalog.Tables{}
	for i, id := range ids {
		t.Stations = append(t.Stations, catalog.Station{ID: id, Cell: diag.Position{File: "data/stations.csv", Line: i + 2, Column: 1, Cell: fmt.Sprintf("A%d", i+2)}})
	}
	return t
}

func TestRecordsOfAGuide(t *testing.T) {
	const plain = "date,tmin_c,tmax_c\n2001-04-07,-1.1,9.4\n"
	const two = "id,when,low\nXXW1,20010407,28\nXXW2,20010408,50\n"
	cases := []struct {
		name     string
		stations []string
		files    map[string]string
		want     string // station=file minimum of its first day
		faults   string
	}{
		{
			"files find their station by name", []string{"mill", "school"},
			map[string]string{"data/records/mill.csv": plain, "data/records/SCHOOL.dly": dlyLine("TMIN", 2001, 4, "  -22  Z"), "data/records/README.md": "notes", "data/records/.keep": ""},
			"mill=data/records/mill.csv -110, school=data/records/SCHOOL.dly -220", "",
		},
		{
			"compressed", []string{"mill"},
			map[string]string{"data/records/mill.csv.gz": string(gzipped(plain))},
			"mill=data/records/mill.csv.gz -110", "",
		},
		{
			"several stations of one file, mapped", []string{"mill", "school"},
			map[string]string{
				"data/records/both.csv": two,
				"data/records.csv":      "station,file,date_columns,tmin_column,unit,station_column,station_id\nmill,both.csv,when,low,f,id,XXW2\nschool,both.csv,when,low,f,id,XXW1\n",
			},
			"mill=data/records/both.csv 1000, school=data/records/both.csv -222", "",
		},
		{
			"one station of a file, the other not wanted", []string{"mill"},
			map[string]string{
				"data/records/both.csv": two,
				"data/records.csv":      "station,file,date_columns,tmin_column,unit,station_column,station_id\nmill,both.csv,when,low,f,id,XXW2\n",
			},
			"mill=data/records/both.csv 1000", "",
		},
		{
			"a mapping for the station's own file", []string{"mill"},
			map[string]string{"data/records/mill.csv": "y,m,d,low\n2001,4,7,28\n", "data/records.csv": "station,date_columns,tmin_column,unit\nmill,y + m + d,low,f\n"},
			"mill=data/records/mill.csv -222", "",
		},
		{
			"year and day of the year", []string{"mill"},
			map[string]string{"data/records/mill.csv": "y,n,low\n2001,97,28\n", "data/records.csv": "station,date_columns,day_of_year_column,tmin_column,unit\nmill,y,n,low,f\n"},
			"mill=data/records/mill.csv -222", "",
		},
		{
			"a file of several stations under a station's name", []string{"xxw2"},
			map[string]string{"data/records/xxw2.csv": "station,date,tmin_c\nXXW1,2001-04-07,1.5\nXXW2,2001-04-07,2.5\n"},
			"xxw2=data/records/xxw2.csv 250", "",
		},
		{
			"none of several stations is meant", []string{"mill"},
			map[string]string{"data/records/mill.csv": "station,date,tmin_c\nXXW1,2001-04-07,1.5\nXXW2,2001-04-07,2.5\n"},
			"", "record-station-unknown data/records/mill.csv",
		},
		{
			"two files", []string{"mill", "school"},
			map[string]string{"data/records/mill.csv": plain, "data/records/mill.dly": plain, "data/records/school.csv": plain},
			"school=data/records/school.csv -110", "record-file-twice data/records/mill.dly",
		},
		{
			"a slip in a name", []string{"mill", "school"},
			map[string]string{"data/records/mill.csv": plain, "data/records/scool.csv": plain},
			"mill=data/records/mill.csv -110", "record-file-unclaimed warning data/records/scool.csv, record-none warning data/stations.csv 3 A3",
		},
		{
			"no record at all", []string{"mill", "school"}, map[string]string{},
			"", "record-none data/stations.csv 2 A2, record-none data/stations.csv 3 A3",
		},
		{
			"rows that lead nowhere", []string{"mill"},
			map[string]string{
				"data/records/mill.csv": plain,
				"data/records.csv":      "station,file,unit,date_columns\nmil,mill.csv,c,date\nmill,mill.csv,c,date\nmill,mill.csv,c,date\n",
			},
			"mill=data/records/mill.csv -110", "record-station-unlisted data/records.csv 2 A2, record-row-twice data/records.csv 4 A4",
		},
		{
			"a file that is not there", []string{"mill"},
			map[string]string{"data/records.csv": "station,file\nmill,mill.csv\n"},
			"", "record-file-unreadable data/records/mill.csv",
		},
		{
			"a file outside the folder", []string{"mill"},
			map[string]string{"data/records.csv": "station,file\nmill,../mill.csv\n", "data/mill.csv": plain},
			"", "record-file-unknown data/records.csv 2 B2",
		},
		{
			"a row without a file", []string{"mill"},
			map[string]string{"data/records.csv": "station,tmin_column\nmill,low\n"},
			"", "record-file-unknown data/records.csv 2 A2",
		},
		{
			"two date columns and a strange unit", []string{"mill"},
			map[string]string{"data/records/mill.csv": plain, "data/records.csv": "station,date_columns,unit\nmill,year+month,kelvin\n"},
			"mill=data/records/mill.csv -110", "record-columns-wrong data/records.csv 2 B2, word-unknown data/records.csv 2 C2",
		},
		{
			"faults in a shared file are said once", []string{"mill", "school"},
			map[string]string{
				"data/records/both.csv": "station,date,tmin_c\nmill,2001-04-07,x1\nschool,2001-04-07,2\n",
				"data/records.csv":      "station,file\nmill,both.csv\nschool,both.csv\n",
			},
			"", "record-number-unreadable data/records/both.csv 2 C2",
		},
	}
	for _, c := range cases {
		var faults diag.List
		got := Records(folderOf(c.files), stationsOf(c.stations...), &faults)
		var list []string
		for _, id := range slices.Sorted(maps.Keys(got)) {
			if got[id].Station != id {
				t.Errorf("%s: the record of %s calls itself %s", c.name, id, got[id].Station)
			}
			list = append(list, fmt.Sprintf("%s=%s %s", id, got[id].File, shownValue(got[id].Min[0])))
		}
		if s := strings.Join(list, ", "); s != c.want {
			t.Errorf("%s: %s, want %s", c.name, s, c.want)
		}
		var told []string
		for _, f := range faults.Sorted() {
			s := f.ID
			if f.Severity != diag.Error {
				s += " " + f.Severity.String()
			}
			s += " " + f.At.File
			if f.At.Line > 0 {
				s += fmt.Sprintf(" %d %s", f.At.Line, f.At.Cell)
			}
			told = append(told, s)
			if strings.HasPrefix(f.ID, "record-") {
				if _, ok := diag.Explain(f.ID); !ok {
					t.Errorf("%s: %s is not explained", c.name, f.ID)
				}
			}
		}
		if s := strings.Join(told, ", "); s != c.faults {
			t.Errorf("%s: faults %s, want %s\n%v", c.name, s, c.faults, faults.Sorted())
		}
	}
}
