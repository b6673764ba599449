package intake_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"text/tabwriter"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// readReal reads one station of a file of the records folder.
func readReal(t testing.TB, file string, m intake.Mapping) *record.Daily {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(proof.RecordsDir(t), "daily", file))
	if err != nil {
		t.Fatal(err)
	}
	var faults diag.List
	list := intake.Record(file, data, m, &faults)
	if len(list) != 1 {
		t.Fatalf("%s: %d records\n%v", file, len(list), faults.Sorted())
	}
	return &list[0]
}

// published reads a date of NCEI's normals 1981-2010, file ann-tmin-NAME-t32FpODDS:
// station in 11 columns, then month/day with a letter for completeness.
func published(t *testing.T, name string, odds int, station string) quantity.MonthDay {
	t.Helper()
	file := filepath.Join(proof.RecordsDir(t), "normals", fmt.Sprintf("ann-tmin-%s-t32Fp%d.csv", name, odds))
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		l := lines.Text()
		if !strings.HasPrefix(l, station) {
			continue
		}
		var md quantity.MonthDay
		if _, err := fmt.Sscanf(strings.TrimSpace(l[len(station):]), "%d/%d", &md.Month, &md.Day); err != nil {
			t.Fatalf("%s: %q: %v", file, l, err)
		}
		return md
	}
	t.Fatalf("%s has no station %s", file, station)
	return quantity.MonthDay{}
}

// Five stations whose daily record and published normals are both at hand.
var normalStations = []struct {
	name, id, file string
	mapping        intake.Mapping
}{
	{"Central Park", "USW00094728", "NYC_Central_Park_weather_1869-2022.csv", intake.Mapping{Unit: intake.UnitF}},
	{"Seattle-Tacoma", "USW00024233", "seattleWeather_1948-2017.csv", intake.Mapping{Unit: intake.UnitF}},
	{"Paso Robles", "USW00093209", "ghcnd_cdo_NOAA_data4.csv.gz", intake.Mapping{Unit: intake.UnitC, Station: "USW00093209"}},
	{"Barstow-Daggett", "USW00023161", "ghcnd_cdo_NOAA_data4.csv.gz", intake.Mapping{Unit: intake.UnitC, Station: "USW00023161"}},
	{"Death Valley", "USC00042319", "ghcnd_cdo_NOAA_data4.csv.gz", intake.Mapping{Unit: intake.UnitC, Station: "USC00042319"}},
}

// Medians and P90 dates of 32 F, springs and falls of 1981-2010, against NCEI's
// published normals. NCEI's P90 of the last freeze is the date that the last freeze
// falls on or after in 90 % of years, an early date; of the first freeze the date it
// falls on or before, a late one: the same sense as our odds of harm.
//
// Tolerance: 8 days for medians, 10 for P90. The publisher adjusts the minima for
// moves of the station and changes of its instruments and smooths the dates, which
// raw order statistics of the record as observed do not, so equality is not to be
// had; a wrong season year, sense or threshold is weeks off.
//
// One date lies further off: the last P90 of Paso Robles, 13 days (14 slots, 29
// February being one). Only two of the
// thirty springs were over by then (20 January 1983, 5 February 1992); the third,
// 4 March 1989, and the fourth, 14 March 1990, bracket our rank 3.5. The published 24
// February lies in the empty month between the second and the third year. So sparse a
// tail is known to no better than the sampling error that we print with the date, and
// the test below holds it to that; and it hangs on single nights of exactly 32 F: one
// degree F of adjustment moves our date past the published one.
func TestPublishedNormals(t *testing.T) {
	years := frost.Years{From: 1981, To: 2010}
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "station\tdate\tours\tpublished\tdays apart\t±\tyears")
	for _, s := range normalStations {
		d := readReal(t, s.file, s.mapping)
		stairs := frost.Climb(frost.Minima(d), quantity.North)
		freezing := frost.RoundWarm(quantity.FromFahrenheit(32), d.Step)
		for _, e := range []record.Event{record.Last, record.First} {
			for _, p := range []struct {
				percent   int
				odds      quantity.Odds
				tolerance float64
			}{{50, quantity.Half, 8}, {90, 0.9, 10}} {
				name := fmt.Sprintf("%s P%d", e, p.percent)
				a := stairs.Odds(years, e, freezing, p.odds)
				want := published(t, map[record.Event]string{record.Last: "prblst", record.First: "prbfst"}[e], p.percent, s.id)
				if a.State != frost.Dated {
					t.Errorf("%s %s: %v, published %v", s.name, name, a.State, want)
					continue
				}
				apart := a.Exact - float64(quantity.North.SlotOf(want))
				fmt.Fprintf(w, "%s\t%s\t%v\t%v\t%+.1f\t%.1f\t%d\n", s.name, name, quantity.North.MonthDay(a.Slot), want, apart, a.PlusMinus, a.Used)
				tolerance := p.tolerance
				if s.name == "Paso Robles" && name == "last P90" {
					tolerance = a.PlusMinus
					pasoRobles(t, stairs, d, years, want)
				}
				if math.Abs(apart) > tolerance {
					t.Errorf("%s %s: %v is %.1f days from the published %v, more than %.1f", s.name, name, quantity.North.MonthDay(a.Slot), apart, want, tolerance)
				}
			}
		}
	}
	w.Flush()
	t.Logf("32 F, 1981-2010\n%s", b.String())
}

// pasoRobles checks the explanation above: the published date lies between the
// second and the third of the thirty years, and a threshold one degree F lower puts
// our date before it.
func pasoRobles(t *testing.T, stairs frost.Staircases, d *record.Daily, years frost.Years, want quantity.MonthDay) {
	t.Helper()
	first, last := years.Seasons(record.Last, quantity.North)
	freezing := frost.RoundWarm(quantity.FromFahrenheit(32), d.Step)
	before := 0
	for _, o := range stairs.Vector(nil, first, last, record.Last, freezing) {
		if o.State == frost.Date && o.Slot < quantity.North.SlotOf(want) {
			before++
		}
	}
	colder := stairs.Odds(years, record.Last, frost.RoundWarm(quantity.FromFahrenheit(31), d.Step), 0.9)
	t.Logf("Paso Robles: %d of 30 springs were over before %v; at 31 F the last P90 is %v", before, want, quantity.North.MonthDay(colder.Slot))
	if before != 2 {
		t.Errorf("Paso Robles: %d springs were over before the published date, not 2: explain anew", before)
	}
	if colder.Exact > float64(quantity.North.SlotOf(want)) {
		t.Errorf("Paso Robles: at 31 F the last P90 is %v, still after the published %v: explain anew", quantity.North.MonthDay(colder.Slot), want)
	}
}
