package main

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/quantity"
)

// days is a plain record: one row for each day of a stretch, tmin by the day.
func days(from, to quantity.Day, tmin func(y, m, d int) float64) string {
	var b strings.Builder
	b.WriteString("date,tmin_c,tmax_c\n")
	for on := from; on < to; on++ {
		y, m, d := on.Date()
		c := tmin(y, m, d)
		fmt.Fprintf(&b, "%d-%02d-%02d,%.1f,%.1f\n", y, m, d, c, c+9)
	}
	return b.String()
}

// frosts is 5 C with frosts of -3 C on 20 April and 5 October.
func frosts(_, m, d int) float64 {
	if m == 4 && d == 20 || m == 10 && d == 5 {
		return -3
	}
	return 5
}

// someDate is a date of --csv: MM-DD between commas.
var someDate = regexp.MustCompile(`,\d\d-\d\d,`)

// Records too short, cut off or empty: the words that say so, and no date but those
// that hold.
func TestOddsOfPoorRecords(t *testing.T) {
	day := quantity.DayOf
	for _, c := range []struct {
		name, record string
		args         []string
		code         int
		says, dates  []string // says in words or messages; dates are all rows with a date in --csv
	}{
		{name: "nothing", record: "", code: 1, says: []string{"the file is empty"}},
		{name: "headings only", record: "date,tmin_c,tmax_c\n", code: 1, says: []string{"holds no daily temperatures"}},
		{name: "days without readings", record: "date,tmin_c,tmax_c\n2001-04-05,,\n2001-04-06,,\n", code: 1, says: []string{"no daily minimum that can be used"}},
		{name: "one day", record: "date,tmin_c,tmax_c\n2001-04-05,-1,6\n", says: []string{"Used here: the year 2001.", "too few years", "0 of 1"}},
		{name: "one year", record: days(day(2001, 1, 1), day(2002, 1, 1), frosts), says: []string{"Used here: the year 2001.", "too few years", "1 of 1"}},
		{
			name: "four years", record: days(day(2001, 1, 1), day(2005, 1, 1), frosts),
			says: []string{"too few years", "4 of 4"},
		},
		{
			name: "nine years", record: days(day(2001, 1, 1), day(2010, 1, 1), frosts), says: []string{"20 April ± 0 (estimate)", "too few years", "9 of 9"},
			dates: []string{"record,last,0,50,04-20,9,0,0,estimate from 9 years", "record,first,0,50,10-05,9,0,0,estimate from 9 years"},
		},
		{
			// The spring of 2020 was seen, its fall was not.
			name: "cut off in September", record: days(day(1991, 1, 1), day(2020, 10, 1), frosts), args: []string{"--years", "1991-2020"}, says: []string{"30 of 30", "29 of 30"},
			dates: []string{
				"record,last,0,10,04-20,30,0,0,", "record,last,0,50,04-20,30,0,0,", "record,last,0,90,04-20,30,0,0,",
				"record,first,0,10,10-05,29,0,1,", "record,first,0,50,10-05,29,0,1,", "record,first,0,90,10-05,29,0,1,",
			},
		},
		{
			// The frost came before the record ended, so the fall counts.
			name: "cut off in mid October", record: days(day(1991, 1, 1), day(2020, 10, 16), frosts), args: []string{"--years", "1991-2020"}, says: []string{"30 of 30"},
			dates: []string{
				"record,last,0,10,04-20,30,0,0,", "record,last,0,50,04-20,30,0,0,", "record,last,0,90,04-20,30,0,0,",
				"record,first,0,10,10-05,30,0,0,", "record,first,0,50,10-05,30,0,0,", "record,first,0,90,10-05,30,0,0,",
			},
		},
		{
			name: "a frost in every month", record: days(day(1991, 1, 1), day(2021, 1, 1), func(_, _, d int) float64 { return map[bool]float64{true: -1, false: 5}[d == 1] }),
			says: []string{"any month"},
		},
	} {
		file := write(t, "record.csv", c.record)
		args := append([]string{"odds", file, "--below", "0c"}, c.args...)
		code, out, messages := shedwall(args...)
		for _, words := range c.says {
			if code != c.code || !strings.Contains(out+messages, words) {
				t.Errorf("%s: exit %d, want %d; %q is not said in\n%s%s", c.name, code, c.code, words, out, messages)
			}
		}
		_, out, _ = shedwall(append(args, "--csv")...)
		var dates []string
		for _, line := range strings.Split(strings.TrimSpace(out), "\n") {
			if someDate.MatchString(line) {
				dates = append(dates, line)
			}
		}
		if got, want := strings.Join(dates, "\n"), strings.Join(c.dates, "\n"); got != want {
			t.Errorf("%s: dates\n%s\nwant\n%s", c.name, got, want)
		}
	}
}

// Four real stations where frost is rare, late or always about; what is stated of them is
// in the description of the records' folder.
func TestOddsOfRealEdges(t *testing.T) {
	folder := filepath.Join(proof.RecordsDir(t), "daily")
	for _, c := range []struct {
		name string
		args []string
		says []string // in words
		rows []string // regular expressions of --csv
		bare bool     // no date at all
	}{
		{
			name: "Death Valley: a winter without a freeze, some without a hard one",
			args: []string{"ghcnd_cdo_NOAA_data4.csv.gz", "--station", "USC00042319"},
			says: []string{"30 of 30, 1 without a freeze", "fewer years freeze"},
			rows: []string{`,last,0,50,0[12]-\d\d,30,1,0,\n`, `,last,-4\.4,50,,30,2\d,0,freezes in fewer than 50 % of years\n`},
		},
		{
			name: "William Head: first freezes after New Year",
			args: []string{"ec_1018935_MIN_TEMP.csv", "--date", "year", "--day-of-year", "jday", "--tmin", "MIN_TEMP", "--unit", "c"},
			says: []string{"without a freeze"},
			rows: []string{`,first,-2\.2,50,01-\d\d,`, `,first,-4\.4,50,,\d+,\d+,\d+,freezes in fewer than 50 % of years\n`},
		},
		{
			name: "Sydney never freezes", args: []string{"IDCJAC0011_066062_1800_Data.csv.gz"},
			says: []string{"It never freezes here: in none of these years did the air get as cold as 0 C (32 F)."},
			rows: []string{`,last,0,10,,30,30,0,never freezes\n`, `,first,-4\.4,90,,30,30,0,never freezes\n`}, bare: true,
		},
		{
			name: "Paganella, 2125 m: no careful date at 0 C", args: []string{"trentino_daily_17stations.csv.gz", "--station", "T0099"},
			says: []string{"any month"},
			rows: []string{`,last,0,10,,30,0,0,may freeze in any month\n`, `,first,0,10,,30,0,0,may freeze in any month\n`, `,last,0,50,06-\d\d,30,0,0,\n`, `,last,-2\.2,10,06-\d\d,30,0,0,\n`},
		},
	} {
		args := append([]string{"odds", filepath.Join(folder, c.args[0])}, c.args[1:]...)
		code, out, messages := shedwall(args...)
		for _, words := range c.says {
			if code != 0 || !strings.Contains(out, words) {
				t.Errorf("%s: exit %d, %q is not said in\n%s%s", c.name, code, words, out, messages)
			}
		}
		_, out, _ = shedwall(append(args, "--csv")...)
		for _, row := range c.rows {
			if !regexp.MustCompile(row).MatchString(out) {
				t.Errorf("%s: no row %s in\n%s", c.name, row, out)
			}
		}
		if c.bare && someDate.MatchString(out) {
			t.Errorf("%s: a date where it never freezes:\n%s", c.name, out)
		}
	}
}
