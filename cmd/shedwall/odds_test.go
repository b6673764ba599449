package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// frostyRecord is a plain record 1991-2020 with one frost of -3 C each spring and
// each fall, on 1 April and 1 October plus the last digit of the year in days, and a
// winter night of -20 C.
func frostyRecord(heading string, scale func(c float64) string) string {
	var b strings.Builder
	b.WriteString(heading + "\n")
	for d := quantity.DayOf(1991, 1, 1); d < quantity.DayOf(2021, 1, 1); d++ {
		y, m, day := d.Date()
		c := 5.0
		switch {
		case m == 1 && day == 15:
			c = -20
		case (m == 4 || m == 10) && day == 1+y%10:
			c = -3
		case m >= 5 && m <= 9:
			c = 12
		}
		fmt.Fprintf(&b, "%d-%02d-%02d,%s,%s\n", y, m, day, scale(c), scale(c+9))
	}
	return b.String()
}

func inC(c float64) string { return fmt.Sprintf("%.1f", c) }

func write(t *testing.T, name, text string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

func shedwall(args ...string) (code int, stdout, stderr string) {
	var out, messages bytes.Buffer
	code = run(args, &out, &messages)
	return code, out.String(), messages.String()
}

// By hand: 30 springs stand on 1 to 10 April, three on each. Hazen: 30 x 0.9 + 0.5 =
// 27.5, between the last 9 April and the first 10 April: 10 April, the later day; 15.5:
// between 5 and 6 April: 6 April; 3.5: 2 April. Falls the same, rounded down: rank
// 3.5, 15.5, 27.5: 1, 5, 9 October. At -4.4 C only the nights of 15 January count.
func TestOddsCSV(t *testing.T) {
	file := write(t, "mill.csv", frostyRecord("date,tmin_c,tmax_c", inC))
	code, out, messages := shedwall("odds", file, "--csv", "--below", "-2.2c,-4.4c", "--below", "-25c")
	want := `station,event,below_c,odds_percent,date,years_used,years_without,years_unusable,note
mill,last,-2.2,10,04-10,30,0,0,
mill,last,-2.2,50,04-06,30,0,0,
mill,last,-2.2,90,04-02,30,0,0,
mill,last,-4.4,10,01-15,30,0,0,
mill,last,-4.4,50,01-15,30,0,0,
mill,last,-4.4,90,01-15,30,0,0,
mill,last,-25,10,,29,29,1,never freezes
mill,last,-25,50,,29,29,1,never freezes
mill,last,-25,90,,29,29,1,never freezes
mill,first,-2.2,10,10-01,30,0,0,
mill,first,-2.2,50,10-05,30,0,0,
mill,first,-2.2,90,10-09,30,0,0,
mill,first,-4.4,10,01-15,29,0,1,
mill,first,-4.4,50,01-15,29,0,1,
mill,first,-4.4,90,01-15,29,0,1,
mill,first,-25,10,,29,29,1,never freezes
mill,first,-25,50,,29,29,1,never freezes
mill,first,-25,90,,29,29,1,never freezes
`
	if code != 0 || out != want || messages != "" {
		t.Errorf("exit %d, messages %q\n%s", code, messages, out)
	}
}

// The same record in whole F gives the same dates: 23 F = -5 C, 27 F = -2.8 C.
func TestOddsInFahrenheit(t *testing.T) {
	inF := func(c float64) string { return fmt.Sprintf("%.0f", c*1.8+32) }
	c := write(t, "mill.csv", frostyRecord("date,tmin_c,tmax_c", inC))
	f := write(t, "mill.csv", frostyRecord("DATE,TMIN,TMAX", inF))
	_, want, _ := shedwall("odds", c, "--csv", "--below", "28f")
	code, got, messages := shedwall("odds", f, "--csv", "--below", "28f", "--unit", "f")
	if code != 0 || got != want || messages != "" || !strings.Contains(got, "mill,last,-2.22,10,04-10,30,0,0,\n") {
		t.Errorf("exit %d, messages %q\n%s\nwant\n%s", code, messages, got, want)
	}
	_, got, messages = shedwall("odds", f, "--csv", "--below", "28f") // summer days of 21 C = 70 F prove the unit
	if got != want || !strings.Contains(messages, "read as degrees F: no air temperature in C reaches 70") {
		t.Errorf("without a unit: %q\n%s", messages, got)
	}
}

func TestOddsInWords(t *testing.T) {
	file := write(t, "mill.csv", frostyRecord("date,tmin_c,tmax_c", inC))
	code, out, messages := shedwall("odds", file, "--years", "2001-2020", "--below", "28f")
	want := `mill: daily minima from 1 January 1991 to 31 December 2020, in steps of whole degrees C.
Used here: the 20 years 2001 to 2020.

Last freeze, in spring: the air falls to the temperature again after the date in
                  1 year in 10   half the years   9 years in 10   years used
  28 F (-2.2 C)   10 April ± 1   6 April ± 2      2 April ± 1     20 of 20

First freeze, in fall: the air has fallen to the temperature before the date in
                  1 year in 10    half the years   9 years in 10   years used
  28 F (-2.2 C)   1 October ± 1   5 October ± 2    9 October ± 1   20 of 20

± is the sampling error in days: had other years of the same climate been measured, two dates in three would lie that close.

From the last freeze to the first, in the middle year
  28 F (-2.2 C)   183 days

Coldest night of a winter: -20 C (-4 F) on average of 20 winters, hardiness zone 6b.

28 F (-2.2 C) was compared as -2 C, the next reading of this record on the warmer side.
A year is not used if more than 10 days are missing between its date and midsummer, or, where it did not freeze, in its five cold months.
`
	if code != 0 || out != want || messages != "" {
		t.Errorf("exit %d, messages %q\n%s", code, messages, out)
	}
	_, out, messages = shedwall("odds", file, "--years", "2001-2019", "--below", "-25")
	for _, words := range []string{"It never freezes here: in none of these years did the air get as cold as -25 C (-13 F).", "the 19 years 2001 to 2019"} {
		if !strings.Contains(out, words) {
			t.Errorf("%q is not said in\n%s", words, out)
		}
	}
	if want := "note: -25 was read as degrees C; write -25c or -25f to say which\n"; messages != want {
		t.Errorf("messages %q, want %q", messages, want)
	}
}

// The same weather half a year on: the record shows its own side of the equator. The
// spring of 2020 is not used: January 2021, before midsummer's end, is missing.
func TestOddsSouth(t *testing.T) {
	var b strings.Builder
	b.WriteString("date,tmin_c\n")
	for d := quantity.DayOf(1991, 1, 1); d < quantity.DayOf(2021, 1, 1); d++ {
		y, m, day := d.Date()
		c := 12.0
		switch {
		case (m == 5 || m == 10) && day == 20:
			c = -1
		case m >= 5 && m <= 10:
			c = 4
		}
		fmt.Fprintf(&b, "%d-%02d-%02d,%.1f\n", y, m, day, c)
	}
	file := write(t, "bay.csv", b.String())
	code, out, messages := shedwall("odds", file, "--csv", "--below", "0c")
	if code != 0 || !strings.Contains(out, "bay,last,0,50,10-20,29,0,1,\n") || !strings.Contains(out, "bay,first,0,50,05-20,30,0,0,\n") {
		t.Errorf("exit %d\n%s", code, out)
	}
	if !strings.Contains(messages, "coldest in June to August, so it was read as southern") {
		t.Errorf("nothing is said of the south: %q", messages)
	}
	if _, told, messages := shedwall("odds", file, "--csv", "--below", "0c", "--latitude", "-33.9"); told != out || messages != "" {
		t.Errorf("with a latitude: %q\n%s", messages, told)
	}
	if _, _, messages := shedwall("odds", file, "--csv", "--latitude", "33.9"); !strings.Contains(messages, "its cold months are those of the south") {
		t.Errorf("a wrong latitude is not told: %q", messages)
	}
}

func TestOddsExits(t *testing.T) {
	good := write(t, "mill.csv", frostyRecord("date,tmin_c,tmax_c", inC))
	maxima := write(t, "max.csv", "date,tmax_c\n2001-04-07,9\n")
	for _, c := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"no minima", []string{maxima}, 1, "[record-no-minima]"},
		{"no minima beside a good file", []string{maxima, good}, 1, "[record-no-minima]"},
		{"no such file", []string{good + "x"}, 3, "no such file"},
		{"no such column", []string{good, "--tmin", "tmn_c"}, 1, `did you mean "tmin_c"?`},
		{"no file given", nil, 2, "file"},
		{"years turned round", []string{good, "--years", "2010-1981"}, 2, "--years 2010-1981"},
		{"one year", []string{good, "--years", "2010"}, 2, "two years such as 1991-2020"},
		{"no temperature", []string{good, "--below", "cold"}, 2, "--below cold"},
		{"a number that parses too well", []string{good, "--below", "1e1c"}, 2, "--below 1e1c"},
		{"not of this earth", []string{good, "--below", "-300c"}, 2, "no air temperature"},
		{"unknown unit", []string{good, "--unit", "k"}, 2, "--unit"},
		{"two date columns", []string{good, "--date", "a,b"}, 2, "--date names 2 columns"},
		{"three and a day of the year", []string{good, "--date", "a,b,c", "--day-of-year", "d"}, 2, "--day-of-year"},
	} {
		code, out, messages := shedwall(append([]string{"odds"}, c.args...)...)
		if code != c.code || !strings.Contains(messages, c.says) {
			t.Errorf("%s: exit %d, want %d; %q does not say %q", c.name, code, c.code, messages, c.says)
		}
		if c.name == "no minima beside a good file" && !strings.Contains(out, "mill: daily minima") {
			t.Error("a bad file keeps the good one from being printed")
		}
	}
}

// Readings that begin with a hyphen, text for "missing" among them.
func TestOddsHyphens(t *testing.T) {
	file := write(t, "mill.csv", strings.ReplaceAll(frostyRecord("Day;low;high", inC), ",", ";")+"2021-01-01;-x-;-x-\n")
	args := []string{"odds", file, "--csv", "--date", "Day", "--tmin", "low", "--tmax", "high", "--unit", "c", "--missing", "-x-", "--below", "-2.2"}
	code, out, messages := shedwall(args...)
	if code != 0 || !strings.Contains(out, "mill,last,-2.2,10,04-10,30,0,0,\n") {
		t.Errorf("exit %d %q\n%s", code, messages, out)
	}
}

// warmingRecord is 1991-2020 at 5 C with springs that warm by 0.06 C a year, a night of
// -3 C on 1 April of each and one of -2 C on 20 April of the first sixteen: as they were,
// over half the springs end on 20 April; at present none of those nights would reach
// -2 C (-2 + half of 0.06 x 14 = -1.58 in 2006).
func warmingRecord() string {
	var b strings.Builder
	b.WriteString("date,tmin_c,tmax_c\n")
	for d := quantity.DayOf(1991, 1, 1); d < quantity.DayOf(2021, 1, 1); d++ {
		y, m, day := d.Date()
		c := 5.0
		switch {
		case m == 4 && day == 1, m == 10 && day == 30:
			c = -3
		case m == 4 && day == 20 && y < 2007:
			c = -2
		case m >= 3 && m <= 5:
			c = 0.01 + 0.06*float64(y-1991) // nowhere 0 itself, which would be told
		}
		fmt.Fprintf(&b, "%d-%02d-%02d,%.2f,%.2f\n", y, m, day, c, c+9)
	}
	return b.String()
}

// A careful date is the safer of the plain years and the present climate, a half one is
// the present's; --plain leaves the present out, and says nothing of it.
func TestOddsAtPresent(t *testing.T) {
	file := write(t, "mill.csv", warmingRecord())
	for _, c := range []struct {
		args []string
		want []string
	}{
		{nil, []string{"mill,last,-2,10,04-20,30,0,0,\n", "mill,last,-2,50,04-01,30,0,0,\n"}},
		{[]string{"--plain"}, []string{"mill,last,-2,10,04-20,30,0,0,\n", "mill,last,-2,50,04-20,30,0,0,\n"}},
	} {
		code, out, messages := shedwall(append([]string{"odds", file, "--csv", "--below", "-2c"}, c.args...)...)
		for _, want := range c.want {
			if code != 0 || messages != "" || !strings.Contains(out, want) {
				t.Errorf("%v: exit %d %q, no %q in\n%s", c.args, code, messages, want, out)
			}
		}
	}
	_, out, _ := shedwall("odds", file, "--below", "-2c")
	for _, words := range []string{
		"These dates are for the climate of 2020: in ten years, nights of the last freeze have become 0.6 C warmer, those of the first 0 C warmer.",
		"-2 C (28.4 F)   20 April ± 0         20 April ± 10          30 October ± 0",
	} {
		if !strings.Contains(out, words) {
			t.Errorf("%q is not said in\n%s", words, out)
		}
	}
	if _, out, _ := shedwall("odds", file, "--below", "-2c", "--plain"); strings.Contains(out, "climate of 2020") {
		t.Errorf("plain years were asked for:\n%s", out)
	}
}
