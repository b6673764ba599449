package page

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// wordsOn is every word on a page, cell by cell.
func wordsOn(p *Page) string {
	var out []string
	for _, b := range p.Blocks {
		switch b := b.(type) {
		case Heading:
			out = append(out, textOf(b.Text))
		case Para:
			out = append(out, textOf(b.Text))
		case Note:
			out = append(out, textOf(b.Text))
		case List:
			for _, i := range b.Items {
				out = append(out, textOf(i))
			}
		case Table:
			out = append(out, b.Caption, strings.Join(b.Head, " | "))
			for _, r := range b.Rows {
				for _, c := range r {
					out = append(out, textOf(c))
				}
			}
		}
	}
	return strings.Join(out, "\n")
}

// plantedTables has a crop planted in fall, one that stays for years, one sown again and a
// plant in a pot.
func plantedTables() *catalog.Tables {
	in := tables()
	garlic := catalog.Crop{ID: "garlic", Name: "Garlic", Family: "Amaryllidaceae", Group: "vegetable", Cycle: "annual", Start: catalog.Planted, Season: catalog.FallPlanted,
		YoungDamage: known(quantity.Celsius(-4)), GrownDamage: known(quantity.Celsius(-9)), SoilMin: known(quantity.Celsius(4)),
		FallWeeksLow: known(3.0), FallWeeksHigh: known(6.0), FallSoil: known(quantity.Celsius(10)), DaysLow: known(90), DaysHigh: known(120), PickDays: known(14)}
	crowns := catalog.Crop{ID: "crowns", Name: "Crowns", Group: "vegetable", Cycle: "perennial", Start: catalog.Planted, FirstYear: known(3),
		YoungDamage: known(quantity.Celsius(-2)), GrownDamage: known(quantity.Celsius(-2)), SoilMin: known(quantity.Celsius(8)), EmergeDays: known(20)}
	radish := catalog.Crop{ID: "radish", Name: "Radish", Family: "Brassicaceae", Group: "vegetable", Cycle: "annual", Start: catalog.Outside,
		YoungDamage: known(quantity.Celsius(-3)), GrownDamage: known(quantity.Celsius(-3)), SoilMin: known(quantity.Celsius(5)), EmergeDays: known(6),
		DaysLow: known(25), DaysHigh: known(40), PickDays: known(10), Base: known(quantity.Celsius(4))}
	in.Crops = append(in.Crops, garlic, crowns, radish)
	in.Pots = []catalog.Pot{{ID: "lemon", Name: "Lemon", Never: known(quantity.Celsius(5)), Light: catalog.VeryBright, Note: "Bright."}, {ID: "kept", Name: "Kept shrub", Damage: known(quantity.Celsius(-6))}}
	return in
}

// Every band has a page of what to sow again and one of plants in pots, both led to from
// its own page; the pages of crops say in words how each kind is planted.
func TestPlantingPages(t *testing.T) {
	g := Build(input(t, plantedTables(), quantity.North, nil))
	band := wordsOn(pageAt(t, g, BandPath("slopes")))
	for _, want := range []string{"Sow again in Slopes", "Plants in pots in Slopes"} {
		if !strings.Contains(band, want) {
			t.Errorf("the band page does not lead to %q", want)
		}
	}
	for _, x := range []struct {
		path string
		want []string
	}{
		{AgainPath("slopes"), []string{"Radish", "at first", "Second crops", "Garlic may follow any bed"}},
		{PotsPath("slopes"), []string{"Lemon", "Kept shrub", "the first frost stands in for: Kept shrub", "very bright", "Bright."}},
		{CropPath("garlic"), []string{"planted in fall", "3–6 weeks before the ground freezes", "Harvest, next summer"}},
		{CropPath("crowns"), []string{"stays in its bed for years", "in year 3", "within four weeks of the first safe day", "It is planted in spring, by ", "speaks of the leaves", "no odds of a winter are given"}},
		{CropPath("radish"), []string{"Sow again", "Degree days are counted above 4", "% grown"}},
	} {
		text := wordsOn(pageAt(t, g, x.path))
		for _, want := range x.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s does not say %q", x.path, want)
			}
		}
	}
	if text := wordsOn(pageAt(t, g, CropPath("tomato"))); strings.Contains(text, "stays in its bed") {
		t.Error("a tomato that stays for years")
	}
}

// What is to be picked before winter stands in the table of the June sheet; what is planted
// in fall for the next summer is said below it, and crowns of spring are not named at all.
func TestJuneSheetIsPicked(t *testing.T) {
	g := Build(input(t, plantedTables(), quantity.North, nil))
	p := pageAt(t, g, FallPath("slopes"))
	if text := wordsOn(p); !strings.Contains(text, "For next summer: plant Garlic until ") || strings.Contains(text, "Crowns") {
		t.Errorf("the June sheet says %q", text)
	}
	rows := 0
	for _, block := range p.Blocks {
		if table, ok := block.(Table); ok {
			for _, row := range table.Rows {
				rows++
				if name := textOf(row[0]); name == "Garlic" || name == "Crowns" {
					t.Errorf("%s is listed among what is picked before winter", name)
				}
			}
		}
	}
	if rows == 0 {
		t.Error("no crop at all")
	}
}

// Without plants in pots there is no page of them and no link to it.
func TestNoPotsNoPage(t *testing.T) {
	g := Build(input(t, tables(), quantity.North, nil))
	for _, p := range g.Pages {
		if p.Path == PotsPath("slopes") {
			t.Error("a page of no plants")
		}
	}
	if strings.Contains(wordsOn(pageAt(t, g, BandPath("slopes"))), "Plants in pots") {
		t.Error("a link to no page")
	}
}
