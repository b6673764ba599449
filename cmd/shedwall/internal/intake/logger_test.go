package intake

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

func readLoggerText(text string, m LoggerMapping) (record.Logger, bool, []string) {
	var faults diag.List
	l, ok := Logger("logger.csv", []byte(text), m, &faults)
	var ids []string
	for _, f := range faults.Sorted() {
		if _, explained := diag.Explain(f.ID); !explained {
			ids = append(ids, "NOT EXPLAINED "+f.ID)
		}
		ids = append(ids, f.ID)
	}
	return l, ok, ids
}

// The same reading, -2.2 C at 6:10 on 19 March 2018, in every layout that loggers and
// stations write.
func TestLoggerLayouts(t *testing.T) {
	at := record.MomentOf(quantity.DayOf(2018, 3, 19), 6*60+10)
	for _, c := range []struct {
		name, text string
		m          LoggerMapping
		want       []string // ids told
	}{
		{"plain", "time,temperature_c\n2018-03-19 06:10,-2.2\n", LoggerMapping{}, nil},
		{"in F", "time,temperature_f\n2018-03-19T06:10,28.04\n", LoggerMapping{}, nil},
		{"date and time apart", "date,time,temperature_c\n2018-03-19,06:10:59,-2.2\n", LoggerMapping{}, nil},
		{"a date that holds the time", "Date,TemperatureC\n3/19/2018 6:10,-2.2\n", LoggerMapping{}, nil},
		{"afternoon clock", "time,temperature_c\n3/19/2018 6:10 AM,-2.2\n", LoggerMapping{}, nil},
		{"day first with points", "time;temperature_c\n19.3.2018 06:10;-2,2\n", LoggerMapping{}, nil},
		{"day first with strokes", "time,temperature_c\n19/03/2018 06:10,-2.2\n", LoggerMapping{}, nil},
		{"a title above", "Plot Title: frame\n\"#\",\"Date Time, GMT-05:00\",\"Temp, °C (LGR S/N: 10)\"\n1,03/19/2018 06:10:00,-2.2\n", LoggerMapping{}, nil},
		{"named", "when,value\n2018-03-19 06:10,28.04\n", LoggerMapping{Time: "When", Temperature: "value", Unit: UnitF}, nil},
		{"byte-order mark, tabs, CR LF", "\ufefftime\ttemperature_c\r\n2018-03-19 06:10\t-2.2\r\n", LoggerMapping{}, nil},
		{"a zone", "time,temperature_c\n2018-03-19T06:10-05:00,-2.2\n", LoggerMapping{}, nil},
		{"blank and odd rows left out", "time,temperature_c\n2018-03-19 06:00,\n2018-03-19 06:05,NaN\nbutton pressed\n2018-03-19 06:06,-9999\n2018-03-19 06:07,150\n2018-03-19 06:10,-2.2\n", LoggerMapping{}, nil},
	} {
		l, ok, ids := readLoggerText(c.text, c.m)
		if !ok || len(l.Readings) != 1 || l.Readings[0] != (record.Reading{At: at, Value: -220}) || !slices.Equal(ids, c.want) {
			t.Errorf("%s: %v %+v %v", c.name, ok, l.Readings, ids)
		}
		if c.name == "a zone" && (!l.Zoned || l.Zone != -300) {
			t.Errorf("zone %v %d", l.Zoned, l.Zone)
		}
	}
}

func TestLoggerFaults(t *testing.T) {
	for _, c := range []struct {
		name, text string
		m          LoggerMapping
		want       []string
	}{
		{"no headings", "2018-03-19 06:10,-2.2\n", LoggerMapping{}, []string{"logger-layout-unknown"}},
		{"two temperatures", "time,inner temp,outer temp\n2018-03-19 06:10,1,2\n", LoggerMapping{}, []string{"logger-layout-unknown"}},
		{"dew point only", "time,dew point temperature c\n2018-03-19 06:10,1\n", LoggerMapping{}, []string{"logger-layout-unknown"}},
		{"a column that is not there", "time,temp\n2018-03-19 06:10,1\n", LoggerMapping{Temperature: "tmp", Unit: UnitC}, []string{"logger-column-unknown"}},
		{"no unit", "time,temperature\n2018-03-19 06:10,28\n", LoggerMapping{}, []string{"record-unit-unsaid"}},
		{"two units", "time,temperature_c\n2018-03-19 06:10,28\n", LoggerMapping{Unit: UnitF}, []string{"record-unit-contradicted"}},
		{"F in a column of C", "time,temperature_c\n" + strings.Repeat("2018-03-19 06:10,100\n", 5), LoggerMapping{}, []string{"record-unit-implausible"}},
		{"no time of day", "time,temperature_c\n2018-03-19,1\n", LoggerMapping{}, []string{"logger-time-unreadable"}},
		{"two digits of a year", "time,temperature_c\n03/19/18 06:10,1\n", LoggerMapping{}, []string{"logger-time-unreadable"}},
		{"no such hour", "time,temperature_c\n2018-03-19 24:10,1\n2018-02-30 06:10,1\n", LoggerMapping{}, []string{"logger-time-unreadable", "logger-time-unreadable"}},
		{"a word", "time,temperature_c\n2018-03-19 06:10,cold\n", LoggerMapping{}, []string{"record-number-unreadable"}},
		{"decimal commas between commas", "time,temperature_c\n2018-03-19 06:10,-2,2\n", LoggerMapping{}, []string{"record-row-long"}},
		{"open dates", "time,temperature_c\n3/4/2018 06:10,1\n", LoggerMapping{}, []string{"record-date-ambiguous"}},
		{"both orders", "time,temperature_c\n3/19/2018 06:10,1\n19/3/2018 06:20,1\n", LoggerMapping{}, []string{"record-date-ambiguous"}},
		{"some zones", "time,temperature_c\n2018-03-19 06:10Z,1\n2018-03-19 06:20,1\n", LoggerMapping{}, []string{"logger-zones-mixed"}},
		{"nothing", "time,temperature\n", LoggerMapping{}, []string{"logger-empty"}},
	} {
		_, ok, ids := readLoggerText(c.text, c.m)
		if ok || !slices.Equal(ids, c.want) {
			t.Errorf("%s: %v %v, want %v", c.name, ok, ids, c.want)
		}
	}
}

// A fortnight whose days are all below 13 proves no order by its numbers; its readings
// follow each other in one order only.
func TestLoggerOrderByFollowing(t *testing.T) {
	for _, dayFirst := range []bool{false, true} {
		var b strings.Builder
		b.WriteString("time,temperature_c\n")
		for d := 1; d <= 12; d++ {
			a, c := 4, d
			if dayFirst {
				a, c = d, 4
			}
			fmt.Fprintf(&b, "%d/%d/2018 06:10,1.5\n", a, c)
		}
		l, ok, ids := readLoggerText(b.String(), LoggerMapping{})
		if !ok || !slices.Equal(ids, []string{"logger-dates-read"}) || l.Readings[11].At.Day() != quantity.DayOf(2018, 4, 12) {
			t.Errorf("day first %v: %v %v", dayFirst, ok, ids)
		}
	}
}

// Readings come in the order of time, zones brought to the first row's.
func TestLoggerOrder(t *testing.T) {
	l, ok, _ := readLoggerText("time,temperature_c\n2018-03-19T06:10+02:00,3\n2018-03-19T03:20Z,1\n2018-03-19T04:30+0100,2\n", LoggerMapping{})
	var got []int
	for _, r := range l.Readings {
		got = append(got, r.At.Minute())
	}
	if want := []int{5*60 + 20, 5*60 + 30, 6*60 + 10}; !ok || !slices.Equal(got, want) || l.Zone != 120 {
		t.Errorf("%v %v, want %v", ok, got, want)
	}
}

func TestClock(t *testing.T) {
	for s, want := range map[string]int{"0:00": 0, "12:05 AM": 5, "12:05 PM": 725, "1:00:30.25 pm": 780, "23:59": 1439, "06:10 UTC": 370} {
		if m, _, _, ok := clock(s); !ok || m != want {
			t.Errorf("%q: %d %v, want %d", s, m, ok, want)
		}
	}
	for _, s := range []string{"", "6", "24:00", "6:60", "13:00 PM", "0:30 AM", "6:1", "6:10:xx", "06:10+99:00", "noon"} {
		if m, _, _, ok := clock(s); ok {
			t.Errorf("%q read as %d", s, m)
		}
	}
}

func FuzzLogger(f *testing.F) {
	f.Add("time,temperature_c\n2018-03-19 06:10,-2.2\n")
	f.Add("Date,TemperatureC\n3/19/2018 6:10,24.4\n")
	f.Add("time;temperature_f\n19.3.2018 06:10-05:00;28,4\n")
	f.Fuzz(func(t *testing.T, text string) {
		l, ok, ids := readLoggerText(text, LoggerMapping{})
		if !ok && len(ids) == 0 {
			t.Error("refused without a word")
		}
		for i := 1; i < len(l.Readings); i++ {
			if l.Readings[i].At < l.Readings[i-1].At {
				t.Fatal("out of order")
			}
		}
	})
}
