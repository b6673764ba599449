package page

import (
	"fmt"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// TestPagesThatSayNothingOfCrops: pages that are made later are the same whatever else than
// Of is in the table of crops, since a publisher's site keeps them by that.
func TestPagesThatSayNothingOfCrops(t *testing.T) {
	texts := func(change func(*catalog.Crop)) (pages map[string]string, of map[string]string) {
		in := input(t, withHouses(), quantity.North, nil)
		for i := range in.Tables.Crops {
			if in.Tables.Crops[i].ID != "tomato" {
				change(&in.Tables.Crops[i])
			}
		}
		p := plan.NewPlanner(in.Tables)
		b := NewBuilder(in)
		var all Part
		var plans [][]plan.CropPlan
		for i := range in.Bands {
			plans = append(plans, p.Band(in.Bands[i].Climate))
			all.add(b.Band(i, plans[i]))
		}
		for i := range in.Tables.Crops {
			all.add(b.Crop(i, 0, plans))
		}
		for _, make := range b.Rest() {
			all.add(make())
		}
		pages, of = map[string]string{}, map[string]string{}
		for _, x := range all.Later {
			pages[x.Path], of[x.Path] = pageText(x.Make()), fmt.Sprintf("%+v", x.Of)
		}
		return pages, of
	}
	was, ofWas := texts(func(*catalog.Crop) {})
	now, ofNow := texts(func(c *catalog.Crop) {
		c.Name, c.Note, c.DaysLow, c.SoilMin = "Other "+c.Name, "Another note.", known(int(len(c.ID)+41)), known(quantity.Celsius(len(c.ID)))
	})
	same := 0
	for path, text := range was {
		if ofWas[path] == ofNow[path] {
			same++
			if now[path] != text {
				t.Errorf("%s is another page when rows of other crops change", path)
			}
		}
	}
	if tomato := "crops/tomato"; same < 4 || was[tomato] == "" || ofWas[tomato] != ofNow[tomato] {
		t.Errorf("only %d pages say nothing of other crops; the tomato's own row: %s, then %s", same, ofWas[tomato], ofNow[tomato])
	}
}
