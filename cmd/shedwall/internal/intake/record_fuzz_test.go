package intake

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
)

// Whatever a file holds, reading it ends, panics nowhere, and gives either records
// that keep their promises or a fault that can be explained.
func FuzzRecord(f *testing.F) {
	for _, seed := range []string{
		"date,tmin_c,tmax_c\n2001-04-07,-1.1,9.4\n2001-04-07,-1.2,9.4\n",
		"STATION,DATE,TMIN,TMIN_ATTRIBUTES\rXXW1,20010407,28,\",,W,2400\"\r",
		"year;jday;MIN_TEMP\n2004;60;7,2\n", "a\tb\n\"", "date|tmin_f\n3/4/2001|20\n13/4/2001|1\n",
		"\xff\xfed\x00", "\xef\xbb\xbfdate,tmin_c\n,\n", dlyLine("TMIN", 2001, 2, "  -22  Z", "-9999   "), string(gzipped("date,tmin_c\n2001-04-07,1\n")),
	} {
		f.Add([]byte(seed), "", "")
	}
	for _, data := range realFiles(f, "data/records/*.csv", 600) {
		f.Add(data, "", "")
	}
	f.Add([]byte("s,when,low\nx,2001-04-07,1\n"), "low", "x")
	f.Fuzz(func(t *testing.T, data []byte, tmin, station string) {
		var faults diag.List
		list := Record("x.csv", data, Mapping{Tmin: tmin, Station: station, Unit: UnitC}, &faults)
		if len(list) == 0 && !faults.HasErrors() && !strings.Contains(ids(&faults), "warning") {
			t.Errorf("neither record nor fault: %v", faults.Sorted())
		}
		for _, d := range list {
			if len(d.Min) != len(d.Max) || len(d.Min) != len(d.Lines) || len(d.Min) == 0 {
				t.Fatalf("%d minima, %d maxima, %d lines", len(d.Min), len(d.Max), len(d.Lines))
			}
			for i := range d.Min {
				if d.Min[i].Known() && (d.Min[i] < coldest || d.Min[i] > hottest || d.Max[i].Known() && d.Min[i] > d.Max[i] || d.Lines[i] < 1) {
					t.Fatalf("day %d: %d to %d, line %d", i, d.Min[i], d.Max[i], d.Lines[i])
				}
			}
		}
		for _, f := range faults.Sorted() {
			if _, ok := diag.Explain(f.ID); !ok || f.What == "" {
				t.Errorf("%v is not explained", f)
			}
		}
	})
}
