package intake_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/proof"
)

// Every minimum of the real records that is told, one by one. All look like slips: a desert
// at 1.1 C in June between 24 and 21, a valley at -0.1 in July between 16 and 15, a logger's
// zeros. Barstow's 10 C in July alone could have been a night.
func TestDoubtfulMinimaOfRealRecords(t *testing.T) {
	dir := proof.RecordsDir(t)
	var got []string
	days := 0
	for _, c := range []struct {
		file string
		m    intake.Mapping
	}{
		{"NYC_Central_Park_weather_1869-2022.csv", intake.Mapping{Unit: intake.UnitF}},
		{"seattleWeather_1948-2017.csv", intake.Mapping{Unit: intake.UnitF}},
		{"ghcnd_cdo_NOAA_data4.csv.gz", intake.Mapping{}},
		{"USC00305816.dly", intake.Mapping{}},
		{"HBEF_air_temp_daily_1957-2019.csv.gz", intake.Mapping{StationColumn: "STA", Unit: intake.UnitC}},
		{"meteoswiss_VS_NBCN.csv", intake.Mapping{Tmin: "tre200dn", Tmax: "tre200dx", Unit: intake.UnitC, Missing: []string{"-"}}},
		{"ec_1018935_MIN_TEMP.csv", intake.Mapping{Date: []string{"year"}, DayOfYear: "jday", Tmin: "MIN_TEMP", Unit: intake.UnitC}},
		{"IDCJAC0011_066062_1800_Data.csv.gz", intake.Mapping{Date: []string{"Year", "Month", "Day"}}},
		{"trentino_daily_17stations.csv.gz", intake.Mapping{}},
	} {
		data, err := os.ReadFile(filepath.Join(dir, "daily", c.file))
		if err != nil {
			t.Fatal(err)
		}
		var faults diag.List
		for _, d := range intake.Record(c.file, data, c.m, &faults) {
			for _, v := range d.Min {
				if v.Known() {
					days++
				}
			}
		}
		for _, f := range faults.Sorted() {
			if f.ID == "record-minimum-low" || f.ID == "record-zeros" || f.ID == "record-year-apart" {
				got = append(got, fmt.Sprintf("%s:%d %s", f.At.File, f.At.Line, f.What))
			}
		}
	}
	t.Logf("%d of %d minima are told", len(got), days)
	want := []string{
		"ghcnd_cdo_NOAA_data4.csv.gz:22842 the minimum of 1976-07-17 of station GHCND:USW00023161 is 10 C (50 F), between 24.4 C (76 F) and 23.3 C (74 F) on the days beside it",
		"ghcnd_cdo_NOAA_data4.csv.gz:50128 the minimum of 2000-06-09 of station GHCND:USC00042319 is 1.1 C (34 F), between 24.4 C (76 F) and 21.1 C (70 F) on the days beside it",
		"ghcnd_cdo_NOAA_data4.csv.gz:50425 the minimum of 2001-04-04 of station GHCND:USC00042319 is -1.7 C (29 F), between 13.3 C (56 F) and 12.8 C (55 F) on the days beside it",
		"ghcnd_cdo_NOAA_data4.csv.gz:50428 the minimum of 2001-04-07 of station GHCND:USC00042319 is -2.8 C (27 F), between 12.8 C (55 F) and 13.9 C (57 F) on the days beside it",
		"HBEF_air_temp_daily_1957-2019.csv.gz:46335 the minimum of 2019-06-27 of station STA1 is 0 C (32 F), between 14.5 C (58 F) and 13.5 C (56 F) on the days beside it",
		"HBEF_air_temp_daily_1957-2019.csv.gz:46440 the minimum of 2019-09-04 of station STA1 is 0 C (32 F), between 11.5 C (53 F) and 12 C (54 F) on the days beside it",
		"HBEF_air_temp_daily_1957-2019.csv.gz:82485 the minimum of 2017-08-05 of station STA23 is -3 C (27 F), between 14.5 C (58 F) and 9.5 C (49 F) on the days beside it",
		"trentino_daily_17stations.csv.gz:83915 the minimum of 2006-07-28 of station T0001 is -0.1 C (32 F), between 16.3 C (61 F) and 15 C (59 F) on the days beside it",
	}
	if !slices.Equal(got, want) {
		t.Errorf("told\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
