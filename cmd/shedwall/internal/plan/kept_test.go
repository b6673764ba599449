package plan

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Where one crop's row changed, planning that crop alone and keeping the plans of the
// others gives what planning all of them anew gives.
func TestBandWithKept(t *testing.T) {
	c := sixStations().Climate(slopeBand(700, 900))
	before := fullTables()
	p := NewPlanner(before)
	kept := map[string]CropPlan{}
	for _, x := range p.Band(c) {
		kept[x.Crop.ID] = x
	}
	after := fullTables()
	changed := &after.Crops[0]
	changed.YoungDamage = figure.Is(quantity.Celsius(3.5), changed.YoungDamage.Cell, "")
	planned := 0
	got := p.With(after).BandWith(c, func(row *catalog.Crop) (CropPlan, bool) {
		if row == changed {
			planned++
			return CropPlan{}, false
		}
		x, ok := kept[row.ID]
		return x, ok
	})
	want := NewPlanner(after).Band(c)
	if dump(got) != dump(want) || dump(got) == dump(p.Band(c)) {
		t.Error("plans that were kept differ from plans made anew, or the change made no difference")
	}
	if planned != 1 || len(got) != len(after.Crops) {
		t.Errorf("planned %d crops of %d, %d plans", planned, len(after.Crops), len(got))
	}
	for _, x := range got {
		if x.Crop != &after.Crops[indexOf(after, x.Crop.ID)] {
			t.Errorf("%s is a row of the old tables", x.Crop.ID)
		}
	}
}

// A band planned by one processor among many is what it is alone, known and unknown.
func TestBandOfMany(t *testing.T) {
	p, c := NewPlanner(everyCover()), sixStations().Climate(slopeBand(700, 900))
	want := dump(p.Band(c))
	if dump(p.BandOfMany(c)) != want || dump(p.BandOfMany(sixStations().Climate(slopeBand(700, 900)))) != want {
		t.Error("the plans differ")
	}
}

func indexOf(t *catalog.Tables, id string) int {
	for i := range t.Crops {
		if t.Crops[i].ID == id {
			return i
		}
	}
	return -1
}
