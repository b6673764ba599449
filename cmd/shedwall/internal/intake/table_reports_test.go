package intake

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// What growers write is taken where it is clear and parked where it is not; nothing in
// it is a fault that stops a guide, and nothing private gets through.
func TestReports(t *testing.T) {
	tables, faults := load(t, map[string]string{"data/reports.csv": `date,band,crop,layers,outside_low_c,outcome,grower,phone,private_street,note
2025-05-20,slopes,kale,fabric,-0.5,unhurt,RT,555 0100,Mill Lane,
3 Jul,slopes,kale,,-1,dead,MO,,,call me at 555 010 9988
around 20 Oct,slopes,kale,,,unhurt,LF,,,
first week of May,slopes,kale,,,unhurt,AB,,,
10/5,slopes,kale,,,unhurt,AC,,,
2025-05-21,old band,kale,,,unhurt,AD,,,
2025-05-22,slopes,kael,,,unhurt,AE,,,
2025-05-23,slopes,kale,umbrella,,unhurt,AF,,,
2025-05-24,slopes,kale,,,no idea,AG,,,
2025-05-25,slopes,kale,Fabric,28F on porch,tips burned,AH,,,x@y.org is me
`, "data/bands.csv": "band,name,low_m,high_m,position\nslopes,Slopes,600,700,slope\n"})
	got := map[string]int{}
	for _, f := range faults {
		if f.At.File == "data/reports.csv" {
			got[f.ID]++
			if f.Severity.String() == "fault" {
				t.Errorf("stops the guide: %s", f)
			}
		}
	}
	if got["report-parked"] != 7 || got["report-personal"] != 2 || got["report-reading"] != 1 || len(tables.Parked) != 7 {
		t.Errorf("told %v, parked %d", got, len(tables.Parked))
	}
	if len(tables.Reports) != 3 {
		t.Fatalf("%d reports", len(tables.Reports))
	}
	a, b, c := tables.Reports[0], tables.Reports[1], tables.Reports[2]
	if low, ok := a.Outside.Get(); a.Layers != "fabric" || a.Year != 2025 || a.On != (quantity.MonthDay{Month: 5, Day: 20}) || !ok || low != -0.5 || a.Grower != "RT" {
		t.Errorf("%+v", a)
	}
	if b.Outcome != catalog.Killed || b.Year != 0 || b.Note != "" {
		t.Errorf("%+v", b)
	}
	if c.Outcome != catalog.Harmed || c.Layers != "fabric" || c.Outside.Known() || c.Note != "" {
		t.Errorf("%+v", c)
	}
}
