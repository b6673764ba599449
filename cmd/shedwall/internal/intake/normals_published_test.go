package intake_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"text/tabwriter"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// publishedTables reads files of the normals folder as the guide of some stations
// would, under their own names.
func publishedTables(t *testing.T, stations []string, files ...string) map[string]*record.Freeze {
	t.Helper()
	guide := fstest.MapFS{}
	for _, name := range files {
		data, err := os.ReadFile(filepath.Join(proof.RecordsDir(t), "normals", name))
		if err != nil {
			t.Fatal(err)
		}
		guide["data/records/"+name] = &fstest.MapFile{Data: data}
	}
	tables := &catalog.Tables{}
	for _, id := range stations {
		tables.Stations = append(tables.Stations, catalog.Station{ID: strings.ToLower(id)})
	}
	var faults diag.List
	got := intake.FreezeTables(guide, tables, &faults)
	if faults.HasErrors() {
		t.Fatal(faults.Sorted())
	}
	return got
}

// Lebanon NH, NCEI normals 1991-2020: every freeze date and season length of the file
// (6 thresholds x 9 odds x 3) is read again exactly, through the table that answers.
func TestLebanonIsReadExactly(t *testing.T) {
	const id, file = "usw00094765", "annualseasonal_1991-2020_USW00094765.csv"
	f := publishedTables(t, []string{id}, file)[id]
	if f == nil || len(f.Rows) != 108 || len(f.Spans) != 54 || f.From != 1991 || f.To != 2020 || f.Years != 22 {
		t.Fatalf("%+v", f)
	}
	table := frost.NewTable(f, quantity.North)
	data, err := os.Open(filepath.Join(proof.RecordsDir(t), "normals", file))
	if err != nil {
		t.Fatal(err)
	}
	defer data.Close()
	rows, err := csv.NewReader(data).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	dates, spans := 0, 0
	for i, heading := range rows[0] {
		var element string
		var thresholdF, percent int
		if n, _ := fmt.Sscanf(heading, "ANN-TMIN-PRB%3s-T%2dFP%2d", &element, &thresholdF, &percent); n != 3 {
			continue
		}
		want := strings.TrimSpace(rows[1][i])
		below := quantity.FromFahrenheit(float64(thresholdF))
		if element == "GSL" {
			spans++
			for _, s := range f.Spans {
				if s.Below == below && math.Abs(float64(s.Odds)-float64(100-percent)/100) < 1e-9 && fmt.Sprintf("%d.0", s.Days) != want {
					t.Errorf("%s: %d days, published %s", heading, s.Days, want)
				}
			}
			continue
		}
		dates++
		a := table.Date(map[string]record.Event{"LST": record.Last, "FST": record.First}[element], below, quantity.Odds(percent)/100)
		md := quantity.North.MonthDay(a.Slot)
		if got := fmt.Sprintf("%02d/%02d", md.Month, md.Day); a.State != frost.Dated || got != want || a.Estimate {
			t.Errorf("%s: %v %s, published %s", heading, a.State, got, want)
		}
	}
	if dates != 108 || spans != 54 {
		t.Errorf("%d dates and %d lengths in the file", dates, spans)
	}
	if m := table.FrostFree(0, 0); m.Days != 148 { // ANN-TMIN-PRBGSL-T32FP50
		t.Errorf("median season at 32 F: %d days, published 148", m.Days)
	}
}

// The same with one threshold hidden in turn: linear interpolation between its two
// neighbours, 8 F apart, hits every published date within 4 days. Tables whose thresholds
// lie 4 F apart, as published, are nearer still.
func TestLebanonHiddenThresholds(t *testing.T) {
	for _, vintage := range []string{"1991-2020", "1981-2010"} {
		const id = "usw00094765"
		f := publishedTables(t, []string{id}, "annualseasonal_"+vintage+"_USW00094765.csv")[id]
		var b strings.Builder
		w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
		fmt.Fprintln(w, "event\thidden\tdays off at 10 to 90 %\tworst\tmean")
		for _, e := range []record.Event{record.Last, record.First} {
			for _, hidden := range []float64{20, 24, 28, 32} {
				below := quantity.FromFahrenheit(hidden)
				rest := *f
				rest.Rows = slices.DeleteFunc(slices.Clone(f.Rows), func(r record.FreezeRow) bool { return r.Below == below })
				table := frost.NewTable(&rest, quantity.North)
				worst, sum, n := 0.0, 0.0, 0.0
				line := ""
				for _, r := range f.Rows {
					if r.Event != e || r.Below != below {
						continue
					}
					a := table.Date(e, below, r.Odds)
					off := a.Exact - float64(quantity.North.SlotOf(r.Date))
					worst, sum, n = max(worst, math.Abs(off)), sum+math.Abs(off), n+1
					line += fmt.Sprintf(" %+.1f", off)
					if a.State != frost.Dated || math.Abs(off) > 4 {
						t.Errorf("%s %v %.0f F %.0f%%: %v, %.1f days off", vintage, e, hidden, 100*r.Odds, a.State, off)
					}
				}
				if n != 9 {
					t.Errorf("%v %.0f F: %v odds", e, hidden, n)
				}
				fmt.Fprintf(w, "%v\t%.0f F\t%s\t%.1f\t%.1f\n", e, hidden, line, worst, sum/n)
			}
		}
		w.Flush()
		t.Logf("Lebanon NH, normals %s\n%s", vintage, b.String())
	}
}

// All 5,808 stations of the files by variable, 1981-2010, 32 F. How many of them can
// freeze in any month (-4444) and never freeze (-6666) was counted in the files with
// another program: 289 and 121, at both odds and in both seasons.
func TestFilesOfManyStations(t *testing.T) {
	var stations []string
	dir := filepath.Join(proof.RecordsDir(t), "normals")
	text, err := os.ReadFile(filepath.Join(dir, "ann-tmin-prblst-t32Fp50.csv"))
	if err != nil {
		t.Fatal(err)
	}
	for l := range strings.Lines(string(text)) {
		stations = append(stations, l[:11])
	}
	if len(stations) != 5808 {
		t.Fatalf("%d stations", len(stations))
	}
	var files []string
	for _, element := range []string{"lst", "fst", "gsl"} {
		files = append(files, "ann-tmin-prb"+element+"-t32Fp50.csv", "ann-tmin-prb"+element+"-t32Fp90.csv")
	}
	got := publishedTables(t, stations, files...)
	if len(got) != 5808 {
		t.Errorf("%d tables", len(got))
	}
	counts := map[string]int{}
	var spreads [2][]float64
	for _, f := range got {
		if len(f.Rows) != 4 || len(f.Spans) != 2 {
			t.Fatalf("%s: %+v", f.Station, f)
		}
		for _, r := range f.Rows {
			counts[fmt.Sprintf("%v %.0f%% %v", r.Event, 100*r.Odds, r.State)]++
		}
		hemisphere := quantity.North // the American Samoa stations of the south never freeze
		table := frost.NewTable(f, hemisphere)
		for _, e := range []record.Event{record.Last, record.First} {
			half, likely := table.Date(e, 0, 0.5), table.Date(e, 0, 0.9)
			if half.State == frost.Dated && likely.State == frost.Dated {
				spreads[e] = append(spreads[e], math.Abs(half.Exact-likely.Exact)/1.2816)
			}
		}
	}
	for _, e := range []string{"last", "first"} {
		for _, p := range []string{"50%", "90%"} {
			for state, want := range map[string]int{"date": 5398, "any month": 289, "never": 121} {
				if n := counts[e+" "+p+" "+state]; n != want {
					t.Errorf("%s %s %s: %d, want %d", e, p, state, n, want)
				}
			}
		}
	}
	// Central Park: the published dates that other tests compare a record with.
	f := publishedTables(t, []string{"USW00094728"}, files...)["usw00094728"]
	table := frost.NewTable(f, quantity.North)
	for _, c := range []struct {
		e    record.Event
		odds int
	}{{record.Last, 50}, {record.Last, 90}, {record.First, 50}, {record.First, 90}} {
		want := published(t, map[record.Event]string{record.Last: "prblst", record.First: "prbfst"}[c.e], c.odds, "USW00094728")
		if a := table.Date(c.e, 0, quantity.Odds(c.odds)/100); quantity.North.MonthDay(a.Slot) != want {
			t.Errorf("Central Park %v %d%%: %v, published %v", c.e, c.odds, quantity.North.MonthDay(a.Slot), want)
		}
	}
	// What is said of the spread that is assumed for a lone average date.
	for e, v := range spreads {
		slices.Sort(v)
		t.Logf("spread of the %v dates of %d stations: %.1f days in the middle, four in five %.1f to %.1f", record.Event(e), len(v), v[len(v)/2], v[len(v)/10], v[len(v)*9/10])
		// Shares of years in which a careful date made with the assumed spread is passed,
		// by normal theory, over all stations: about one in ten.
		passed := 0.0
		for _, sd := range v {
			passed += frost.Normal{SD: max(sd, 1)}.Above(frost.AssumedSpread*1.2816) / float64(len(v))
		}
		t.Logf("a careful date made with the assumed spread is passed in %.1f %% of years", 100*passed)
		if passed < 0.07 || passed > 0.12 {
			t.Errorf("careful dates made with the assumed spread are passed in %.1f %% of years, not about 10", 100*passed)
		}
	}
}

// Monthly normals of Lebanon NH and Richmond VA in every layout, January and July
// minima: 8.5 and 57.9 F (1981-2010, tenths: 85, 579), 9.3 and 57.8 F (1991-2020),
// 11.3 F (January 2006-2020), Richmond 28.3 F (283).
func TestMonthlyNormals(t *testing.T) {
	annual := "annualseasonal_1991-2020_USW00094765.csv"
	for _, c := range []struct {
		file, id      string
		january, july float64
	}{
		{"monthly_1981-2010_USW00094765.csv", "usw00094765", 8.5, 0},
		{"monthly_1991-2020_USW00094765.csv", "usw00094765", 9.3, 57.8},
		{"monthly_2006-2020_USW00094765.csv", "usw00094765", 11.3, 0},
		{"monthly_1981-2010_USW00013740.csv", "usw00013740", 28.3, 0},
	} {
		if c.id != "usw00094765" {
			annual = "ann-tmin-prblst-t32Fp50.csv" // Richmond's dates
		}
		f := publishedTables(t, []string{c.id}, annual, c.file)[c.id]
		if f == nil || f.Normals == nil || !f.Normals.HasMax {
			t.Errorf("%s: %+v", c.file, f)
			continue
		}
		if got := f.Normals.Min[0].Fahrenheit(); math.Abs(got-c.january) > 1e-9 {
			t.Errorf("%s: January %.2f F, published %.1f", c.file, got, c.january)
		}
		if got := f.Normals.Min[6].Fahrenheit(); c.july != 0 && math.Abs(got-c.july) > 1e-9 {
			t.Errorf("%s: July %.2f F, published %.1f", c.file, got, c.july)
		}
	}
}
