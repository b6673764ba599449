package intake_test

import (
	"os"
	"path/filepath"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Every file of the records folder that holds minima, read as a publisher would.
// Spans, steps and traps are those that the folder's own description states: minima
// above maxima, -9999 and -999.9, bare CR, doubled months, quality flags.
func TestRealRecordsAreRead(t *testing.T) {
	dir := proof.RecordsDir(t)
	day := quantity.DayOf
	cases := []struct {
		file       string
		mapping    intake.Mapping
		stations   int
		station    string // one of them, and its facts:
		start, end quantity.Day
		step       record.StepKind
		holds      func(d record.Dropped) bool
	}{
		{"NYC_Central_Park_weather_1869-2022.csv", intake.Mapping{Unit: intake.UnitF}, 1, "NYC_Central_Park_weather_1869-2022", day(1869, 1, 1), day(2022, 12, 29), record.WholeF,
			func(d record.Dropped) bool { return d.MinOverMax == 2 }},
		{"seattleWeather_1948-2017.csv", intake.Mapping{Unit: intake.UnitF}, 1, "seattleWeather_1948-2017", day(1948, 1, 1), day(2017, 12, 14), record.WholeF,
			func(d record.Dropped) bool { return d.MinOverMax == 1 }},
		{"ghcnd_cdo_NOAA_data4.csv.gz", intake.Mapping{}, 3, "GHCND:USW00093209", day(1965, 1, 1), day(2016, 1, 1), record.TenthC,
			func(d record.Dropped) bool { return d.Sentinel > 0 }},
		{"USC00305816.dly", intake.Mapping{}, 1, "USC00305816", day(1871, 7, 1), day(1960, 12, 31), record.TenthC,
			func(d record.Dropped) bool { return d.Flagged > 0 }},
		{"HBEF_air_temp_daily_1957-2019.csv.gz", intake.Mapping{StationColumn: "STA", Unit: intake.UnitC}, 6, "HQ", day(1957, 1, 1), day(2019, 12, 31), record.HalfC,
			func(d record.Dropped) bool { return d.Contradicted > 0 }},
		{"meteoswiss_VS_NBCN.csv", intake.Mapping{Tmin: "tre200dn", Tmax: "tre200dx", Unit: intake.UnitC, Missing: []string{"-"}}, 1, "meteoswiss_VS_NBCN", day(1958, 1, 1), day(2020, 12, 31), record.TenthC, nil},
		{"ec_1018935_MIN_TEMP.csv", intake.Mapping{Date: []string{"year"}, DayOfYear: "jday", Tmin: "MIN_TEMP", Unit: intake.UnitC}, 1, "ec_1018935_MIN_TEMP", day(1959, 11, 21), day(2004, 10, 31), record.TenthC, nil},
		{"IDCJAC0011_066062_1800_Data.csv.gz", intake.Mapping{Date: []string{"Year", "Month", "Day"}}, 1, "066062", day(1859, 1, 1), day(2018, 4, 15), record.TenthC, nil},
		{"trentino_daily_17stations.csv.gz", intake.Mapping{}, 17, "T0139", day(1958, 1, 1), day(2007, 12, 31), record.TenthC, nil},
	}
	for _, c := range cases {
		data, err := os.ReadFile(filepath.Join(dir, "daily", c.file))
		if err != nil {
			t.Error(err)
			continue
		}
		var faults diag.List
		list := intake.Record(c.file, data, c.mapping, &faults)
		if faults.HasErrors() || len(list) != c.stations {
			t.Errorf("%s: %d stations, want %d\n%v", c.file, len(list), c.stations, faults.Sorted())
			continue
		}
		for _, d := range list {
			if d.Station != c.station {
				continue
			}
			if d.Start != c.start || d.End() != c.end+1 || d.Step != c.step {
				t.Errorf("%s: days %d to %d in steps %d, want %d to %d in %d", c.file, d.Start, d.End()-1, d.Step, c.start, c.end, c.step)
			}
			if c.holds != nil && !c.holds(d.Dropped) {
				t.Errorf("%s: left out %+v", c.file, d.Dropped)
			}
			c.station = ""
		}
		if c.station != "" {
			t.Errorf("%s: no station %s", c.file, c.station)
		}
	}
	for _, file := range []string{"ec_1018935_MAX_TEMP.csv", "IDCJAC0010_066062_1800_Data.csv.gz", "trentino_stations.csv"} {
		data, err := os.ReadFile(filepath.Join(dir, "daily", file))
		if err != nil {
			t.Error(err)
			continue
		}
		var faults diag.List
		if list := intake.Record(file, data, intake.Mapping{}, &faults); list != nil || !told(faults, "record-no-minima") {
			t.Errorf("%s holds no minima: %v", file, faults.Sorted())
		}
	}
}

func told(l diag.List, id string) bool {
	for _, f := range l.Sorted() {
		if f.ID == id {
			return true
		}
	}
	return false
}

// Sydney never freezes; Death Valley had one winter without; William Head often has
// its first freeze in January only: facts that the folder's description states.
func TestRealRecordsWithFewFreezes(t *testing.T) {
	sydney := frost.Minima(readReal(t, "IDCJAC0011_066062_1800_Data.csv.gz", intake.Mapping{}))
	for _, e := range []record.Event{record.Last, record.First} {
		if a := frost.Climb(sydney, quantity.South).Odds(sydney.LastYears(30), e, 0, quantity.Half); a.State != frost.NeverFreezes || a.Used != 30 {
			t.Errorf("Sydney %v: %+v", e, a)
		}
	}
	valley := frost.Minima(readReal(t, "ghcnd_cdo_NOAA_data4.csv.gz", intake.Mapping{Station: "USC00042319"}))
	if a := frost.Climb(valley, quantity.North).Odds(frost.Years{From: 1966, To: 2015}, record.Last, 0, quantity.Half); a.Without != 1 {
		t.Errorf("Death Valley: %d winters without a freeze, want 1: %+v", a.Without, a)
	}
	head := frost.Climb(frost.Minima(readReal(t, "ec_1018935_MIN_TEMP.csv", intake.Mapping{Unit: intake.UnitC})), quantity.North)
	january := quantity.North.SlotOf(quantity.MonthDay{Month: 1, Day: 1})
	late, used := 0, 0
	for _, o := range head.Vector(nil, 1960, 2003, record.First, 0) {
		if o.State == frost.Date {
			used++
			if o.Slot >= january {
				late++
			}
		}
	}
	if late < 5 {
		t.Errorf("William Head: %d of %d first freezes after New Year, want several", late, used)
	}
}

// Median last and first freeze (minimum at or below 0 C) and frost-free days over
// all years of five stations of one mountain region, as a script independent of this
// program computed them (season 1 August to 31 July, linear quantiles; stated in the
// folder's description). A day of tolerance: medians of an even number of years fall
// between two days, and ours round to the safe side.
func TestRealMountainMedians(t *testing.T) {
	for _, c := range []struct {
		place, station, last, first string
		days                        int
	}{
		{"Torbole, 70 m", "T0193", "03-04", "11-23", 262},
		{"Trento, 312 m", "T0129", "03-14", "11-11", 238},
		{"Lavarone, 1155 m", "T0032", "04-26", "10-19", 174},
		{"Corvara, 1558 m", "B6130", "06-16", "09-12", 88},
		{"Paganella, 2125 m", "T0099", "06-23", "09-04", 71},
	} {
		d := readReal(t, "trentino_daily_17stations.csv.gz", intake.Mapping{Station: c.station})
		stairs := frost.Climb(frost.Minima(d), quantity.North)
		from, _, _ := d.Start.Date()
		to, _, _ := (d.End() - 1).Date()
		years := frost.Years{From: from, To: to}
		last, first := stairs.Odds(years, record.Last, 0, quantity.Half), stairs.Odds(years, record.First, 0, quantity.Half)
		span := stairs.FrostFree(years, 0)
		t.Logf("%s: %v %v %d", c.place, quantity.North.MonthDay(last.Slot), quantity.North.MonthDay(first.Slot), span.Days)
		if !near(last.Slot, c.last) || !near(first.Slot, c.first) || max(span.Days-c.days, c.days-span.Days) > 1 {
			t.Errorf("%s: %v %v %d, want %s %s %d", c.place, quantity.North.MonthDay(last.Slot), quantity.North.MonthDay(first.Slot), span.Days, c.last, c.first, c.days)
		}
	}
}

// near says that a slot is a date, MM-DD, or a day beside it.
func near(s quantity.Slot, date string) bool {
	for _, d := range []quantity.Slot{s - 1, s, s + 1} {
		if quantity.North.MonthDay(d).String() == date {
			return true
		}
	}
	return false
}
