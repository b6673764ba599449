package intake

import (
	"math"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
)

const potsHead = "pot,name,kind,bring_in_f,keep_low_c,keep_high_c,never_below_c,damage_c,kill_c,winter_light,source\n"

// 40 F is 4.44 C, by hand; a blank is not known.
func TestPotsRead(t *testing.T) {
	tables := loadClean(t, map[string]string{"data/pots.csv": potsHead +
		"geranium,Geranium,pot,40,5,10,0,,0,either,bulletin\nknobs,Stored knobs,tuber,,4,7,0,,,dark,bulletin\n"})
	if len(tables.Pots) != 2 {
		t.Fatalf("%d plants", len(tables.Pots))
	}
	p := tables.Pots[0]
	if in, ok := p.BringIn.Get(); !ok || math.Abs(float64(in)-4.4444) > 1e-3 {
		t.Errorf("brought in at %v", in)
	}
	if p.Damage.Known() || p.Kind != catalog.Potted || p.Light != catalog.DarkOrBright {
		t.Errorf("read as %+v", p)
	}
	if k := tables.Pots[1]; k.Kind != catalog.Lifted || k.BringIn.Known() || k.Light != catalog.Dark {
		t.Errorf("read as %+v", k)
	}
}

// Two cells exchanged are told at the cell, each with its own words, all at once.
func TestPotFaults(t *testing.T) {
	_, faults := load(t, map[string]string{"data/pots.csv": potsHead +
		"a,A,pot,,,,,-5,2,,bulletin\n" + // killed before it is harmed
		"b,B,pot,,2,5,6,,,,bulletin\n" + // never below 6, kept from 2
		"c,C,pot,23,,,,,0,,bulletin\n" + // in at 23 F (-5 C), killed at 0
		"d,D,shrub,50,,,,,,,bulletin\n" + // no such kind
		"e,E,pot,,,,,,,,bulletin\n"}) // no limit at all
	var got []string
	for _, f := range faults {
		got = append(got, f.ID+" "+f.At.Cell)
	}
	for _, want := range []string{"pot-order I2", "pot-order G3", "pot-order D4", "word-unknown C5", "pot-no-limit A6"} {
		found := false
		for _, g := range got {
			found = found || g == want
		}
		if !found {
			t.Errorf("%s is not among %v", want, got)
		}
	}
}

// A planted crop says in which season; its own word in the table is read, nothing else.
func TestPlantSeasons(t *testing.T) {
	for word, want := range map[string]catalog.PlantSeason{"": catalog.SpringPlanted, "fall": catalog.FallPlanted, "either": catalog.EitherSeason} {
		tables := loadClean(t, map[string]string{"data/crops.csv": "crop,name,group,start,plant_season,fall_weeks_low,fall_weeks_high,fall_soil_c,first_harvest_year,source\n" +
			"oca,Oca,vegetable,planted," + word + ",3,6,10,2,bulletin\n"})
		c := cropOf(t, tables, "oca")
		if c.Season != want {
			t.Errorf("%q read as %v", word, c.Season)
		}
		if low, _ := c.FallWeeksLow.Get(); low != 3 {
			t.Errorf("weeks %v", low)
		}
		if year, _ := c.FirstYear.Get(); year != 2 {
			t.Errorf("year %v", year)
		}
	}
	_, faults := load(t, map[string]string{"data/crops.csv": "crop,name,group,start,plant_season,source\noca,Oca,vegetable,planted,autumn,bulletin\n"})
	if len(faults) == 0 || faults[0].ID != "word-unknown" {
		t.Errorf("autumn: %v", faults)
	}
}
