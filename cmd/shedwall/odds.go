package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// OddsCmd prints the frost odds of any daily record.
type OddsCmd struct {
	Files []string `arg:"" name:"file" help:"Daily records: .dly, NOAA's CSV export, or any table of readings; .gz too."`

	Date          listFlag `help:"Column of dates, or three: year,month,day; with --day-of-year the year's." placeholder:"COL[,COL,COL]"`
	DayOfYear     string   `help:"Column of days counted from 1 January." placeholder:"COL"`
	Tmin          string   `help:"Column of daily minima." placeholder:"COL"`
	Tmax          string   `help:"Column of daily maxima." placeholder:"COL"`
	Unit          string   `help:"Unit of the readings: c, f or tenths_c." enum:",c,f,tenths_c" default:"" placeholder:"UNIT"`
	Missing       textFlag `help:"A text that means no reading, beside the usual ones; may be repeated." placeholder:"TEXT"`
	StationColumn string   `help:"Column that tells stations apart." placeholder:"COL"`
	Station       string   `help:"Read this station only." placeholder:"ID"`

	Years    string   `help:"Calendar years to use; the last 30 of the record if left out." placeholder:"FROM-TO"`
	Below    listFlag `help:"Temperatures to ask for, with unit: 28f,-2.2c; a bare number is C. 0c,-2.2c,-4.4c if left out." placeholder:"T"`
	Latitude *float64 `help:"Degrees, south negative: decides which months are winter. Told by the record if left out."`
	Plain    bool     `help:"Take the years as they were: no shift by half the trend to the present climate."`
	CSV      bool     `name:"csv" help:"One row a date instead of text."`
}

// defaultBelow is 32, 28 and 24 F.
var defaultBelow = []string{"0c", "-2.2c", "-4.4c"}

// textFlag is a flag that may be repeated and whose values may begin with a hyphen;
// kong's own lists take "-2.2" for a flag.
type textFlag []string

// Decode takes one value.
func (t *textFlag) Decode(ctx *kong.DecodeContext) error {
	var s string
	if err := ctx.Scan.PopValueInto("text", &s); err != nil {
		return err
	}
	*t = append(*t, s)
	return nil
}

// listFlag is a textFlag whose values are lists with commas.
type listFlag []string

// Decode takes one list.
func (l *listFlag) Decode(ctx *kong.DecodeContext) error {
	var t textFlag
	if err := t.Decode(ctx); err != nil {
		return err
	}
	*l = append(*l, intake.SplitColumns(t[0], ",")...)
	return nil
}

// threshold is a temperature that was asked for.
type threshold struct {
	c        quantity.Celsius
	asked    string // as typed
	inF      bool   // asked in F
	unitless bool
}

// oddsOf is one record, ready to be asked.
type oddsOf struct {
	record     *record.Daily
	climate    frost.Present
	years      frost.Years
	hemisphere quantity.Hemisphere
}

// Run prints the odds of every station of every file. A file with faults is told
// and passed over; the command then ends with exit code 1, or 3 where a file could
// not be read at all.
func (c *OddsCmd) Run(e *env) error {
	below := []string(c.Below)
	if len(below) == 0 {
		below = defaultBelow
	}
	limits, err := parseThresholds(below)
	if err != nil {
		return usageError{err}
	}
	years, err := parseYears(c.Years)
	if err != nil {
		return usageError{err}
	}
	mapping, err := c.mapping()
	if err != nil {
		return usageError{err}
	}
	if c.Latitude != nil && !(*c.Latitude >= -90 && *c.Latitude <= 90) {
		return usageError{fmt.Errorf("--latitude %g: expected degrees from -90 (south) to 90", *c.Latitude)}
	}
	for _, t := range limits {
		if t.unitless {
			fmt.Fprintf(e.stderr, "note: %s was read as degrees C; write %sc or %sf to say which\n", t.asked, t.asked, t.asked)
		}
	}
	if c.CSV {
		if err := oddsHeader(e.stdout); err != nil {
			return err
		}
	}
	var failed error
	fail := func(err error) { // the last one is told where the program ends
		if failed != nil && !errors.Is(failed, errFaults) {
			fmt.Fprintln(e.stderr, "shedwall:", failed)
		}
		failed = err
	}
	printed := 0
	for _, file := range c.Files {
		data, err := os.ReadFile(file)
		if err != nil {
			fail(err)
			continue
		}
		var faults diag.List
		records := intake.Record(file, data, mapping, &faults)
		for _, f := range faults.Sorted() {
			fmt.Fprintln(e.stderr, f)
		}
		if faults.HasErrors() && failed == nil {
			failed = errFaults
		}
		for i := range records {
			if err := within(&records[i], years); err != nil {
				fail(usageError{err})
				continue
			}
			o := c.oddsOf(&records[i], years, e.stderr)
			if c.CSV {
				err = o.csv(e.stdout, limits)
			} else {
				if printed++; printed > 1 {
					fmt.Fprintln(e.stdout)
				}
				err = o.print(e.stdout, limits)
			}
			if err != nil {
				return err
			}
		}
	}
	return failed
}

func (c *OddsCmd) mapping() (intake.Mapping, error) {
	m := intake.Mapping{
		Date: c.Date, DayOfYear: c.DayOfYear, Tmin: c.Tmin, Tmax: c.Tmax, Unit: intake.RecordUnits[c.Unit],
		Missing: c.Missing, StationColumn: c.StationColumn, Station: c.Station,
	}
	switch {
	case len(c.Date) == 2 || len(c.Date) > 3:
		return m, fmt.Errorf("--date names %d columns: name one, or three (year,month,day)", len(c.Date))
	case len(c.Date) == 3 && c.DayOfYear != "":
		return m, errors.New("--day-of-year goes with one --date column, the year's")
	}
	return m, nil
}

// oddsOf builds the staircases of a record. Without a latitude the record itself
// says on which side of the equator it was kept.
func (c *OddsCmd) oddsOf(d *record.Daily, years frost.Years, stderr io.Writer) oddsOf {
	s := frost.Minima(d)
	o := oddsOf{record: d, years: years}
	cold, known := coldSide(s)
	if c.Latitude != nil {
		o.hemisphere = quantity.HemisphereOf(*c.Latitude)
		if known && cold != o.hemisphere {
			fmt.Fprintf(stderr, "%s: warning: by latitude %g station %s lies in the %s, but its cold months are those of the %s\n",
				d.File, *c.Latitude, d.Station, side(o.hemisphere), side(cold))
		}
	} else if known && cold == quantity.South {
		o.hemisphere = quantity.South
		fmt.Fprintf(stderr, "%s: note: station %s is coldest in June to August, so it was read as southern; --latitude decides otherwise\n", d.File, d.Station)
	}
	if years == (frost.Years{}) {
		o.years = s.LastYears(frost.DefaultYears)
	}
	o.climate = frost.NewPresent(s, o.years, o.hemisphere)
	o.climate.Plain = c.Plain
	return o
}

func side(h quantity.Hemisphere) string { return [...]string{"north", "south"}[h] }

// coldSide is the side of the equator whose winter a record shows: the colder of
// December to February and June to August. known is false where the two differ by
// less than 3 K or one of them has under a month of readings: near the equator there
// is no winter, and one summer does not make a year.
func coldSide(s frost.Series) (h quantity.Hemisphere, known bool) {
	var sum, n [2]int // December to February, June to August
	for i, v := range s.Values {
		if !v.Known() {
			continue
		}
		_, month, _ := (s.Start + quantity.Day(i)).Date()
		switch month {
		case 12, 1, 2:
			sum[0], n[0] = sum[0]+int(v), n[0]+1
		case 6, 7, 8:
			sum[1], n[1] = sum[1]+int(v), n[1]+1
		}
	}
	if n[0] < 30 || n[1] < 30 {
		return quantity.North, false
	}
	difference := float64(sum[1])/float64(n[1]) - float64(sum[0])/float64(n[0]) // hundredths: June to August above December to February
	switch {
	case difference >= 300:
		return quantity.North, true
	case difference <= -300:
		return quantity.South, true
	}
	return quantity.North, false
}

// parseYears reads FROM-TO; "" gives Years{}.
func parseYears(s string) (frost.Years, error) {
	if s == "" {
		return frost.Years{}, nil
	}
	a, b, ok := strings.Cut(s, "-")
	from, err1 := strconv.Atoi(strings.TrimSpace(a))
	to, err2 := strconv.Atoi(strings.TrimSpace(b))
	if !ok || err1 != nil || err2 != nil || from < 1700 || to > 2200 || to < from {
		return frost.Years{}, fmt.Errorf("--years %s: expected two years such as 1991-2020", s)
	}
	return frost.Years{From: from, To: to}, nil
}

// within refuses years of which a record has not a single one.
func within(d *record.Daily, years frost.Years) error {
	from, _, _ := d.Start.Date()
	to, _, _ := (d.End() - 1).Date()
	if years != (frost.Years{}) && (years.To < from || years.From > to) {
		return fmt.Errorf("--years %d-%d: the record of %s has %d-%d", years.From, years.To, d.Station, from, to)
	}
	return nil
}

// parseThresholds reads temperatures such as 28f, -2.2c and -2.2.
func parseThresholds(list []string) ([]threshold, error) {
	var out []threshold
	for _, s := range list {
		s = strings.TrimSpace(s)
		number := strings.ReplaceAll(strings.ToLower(s), "\u2212", "-")
		t := threshold{asked: s}
		switch {
		case strings.HasSuffix(number, "f"):
			t.inF = true
			number = strings.TrimSuffix(number, "f")
		case strings.HasSuffix(number, "c"):
			number = strings.TrimSuffix(number, "c")
		default:
			t.unitless = true
		}
		number = strings.TrimRight(number, " °")
		v, err := strconv.ParseFloat(number, 64)
		if err != nil || strings.ContainsAny(number, "xXeEpP_nN") {
			return nil, fmt.Errorf("--below %s: expected a temperature such as 28f or -2.2c", s)
		}
		t.c = quantity.Celsius(v)
		if t.inF {
			t.c = quantity.FromFahrenheit(v)
		}
		if t.c < -90 || t.c > 60 {
			return nil, fmt.Errorf("--below %s: no air temperature", s)
		}
		out = append(out, t)
	}
	return out, nil
}
