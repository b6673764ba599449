package page

import (
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// withHouses is the invented guide with one light cover, a high tunnel that gains far
// more, and a shed of structures.csv that the guide plans with.
func withHouses() *catalog.Tables {
	t := tables()
	k := func(v float64) (f catalog.Gain) {
		g := known(quantity.Kelvins(v))
		return catalog.Gain{Low: g, Typical: g, High: g}
	}
	t.Layers = nil
	for i := range t.Crops { // one that cold nights of summer stop outside
		if c := &t.Crops[i]; c.ID == "tomato" {
			c.YoungDamage, c.GrownDamage = known(quantity.Celsius(7)), known(quantity.Celsius(7))
		}
	}
	t.Covers = []catalog.Cover{
		{ID: "fabric", Name: "row cover on hoops", Kind: catalog.Fabric, Letter: "F", Weight: 2, Offered: true, Gain: k(0.5)},
		{ID: "hightunnel", Name: "high tunnel", Kind: catalog.Film, Letter: "N", Weight: catalog.HandWork + 1, Offered: true, Gain: k(6)},
		{ID: "bin", Name: "lidded bin", Kind: catalog.Film, Letter: "B", Weight: 3, Offered: true, Gain: k(9)},
	}
	t.Structures = []catalog.Structure{{Cover: t.Covers[2]}} // a row of structures.csv, light as it is
	return t
}

// TestHousesOnlyWhereNamed: a sheet, its tasks and its calendar plan with a house only
// where sheets.csv names it. A crop with a season in nothing else is on no sheet; the
// band's page, its list in words and a sheet's foot name it, by house.
func TestHousesOnlyWhereNamed(t *testing.T) {
	seen := 0
	for _, named := range []string{"", "hightunnel"} {
		tb := withHouses()
		if named != "" {
			tb.Sheets = catalog.Choices{{Layers: named, Planned: true}}
		}
		in := input(t, tb, quantity.North, nil)
		b := NewBuilder(in).b
		for i := range in.Bands {
			m := b.planned(b.made[i], in.Bands[i].Plans)
			var drawn []string
			foot := ""
			for _, s := range m.sheets {
				foot += strings.Join(s.Foot, "\n")
				for _, r := range s.Rows {
					drawn = append(drawn, r.Name)
				}
			}
			for _, x := range m.work.tasks {
				if named == "" && m.wall.housed(x.Layers) || named != "" && x.Layers != "" && x.Layers != named && x.Layers != "fabric" {
					t.Errorf("%s, %q named: %s of %s under %q", m.row().ID, named, x.Kind, nameOfCrop(x.Crop), x.Layers)
				}
			}
			for k := range in.Bands[i].Plans {
				p := in.Bands[i].Plans[k]
				l := m.wall.chosen(p)
				house, only := m.wall.inHouse(p)
				switch {
				case named == "" && m.wall.housed(l.Layers), named != "" && m.wall.housed(l.Layers) && l.Layers != named:
					t.Errorf("%s, %q named: %s is planned with %q", m.row().ID, named, p.Crop.ID, l.Layers)
				case named != "" && only && house == named:
					t.Errorf("%s: %s has a season in the %s that is named, and stands on no sheet", m.row().ID, p.Crop.ID, house)
				case only:
					seen++
					if !m.wall.housed(house) || slices.Contains(drawn, p.Crop.Name) || !strings.Contains(foot, p.Crop.Name) {
						t.Errorf("%s: %s grows in %q only; on sheets %v; feet %q", m.row().ID, p.Crop.ID, house, drawn, foot)
					}
					for _, page := range []*Page{b.band(m), b.sentences(m)} {
						if !saysInHouse(page, b.layersName(house), p.Crop) {
							t.Errorf("%s does not say that %s grows in the %s", page.Path, p.Crop.ID, house)
						}
					}
					bare := m.in.Plans[k]
					if got := b.coverHint(m, &bare); got != "only in a house: "+b.layersName(house) {
						t.Errorf("the calendar says %q of %s", got, p.Crop.ID)
					}
				}
			}
		}
	}
	if seen == 0 {
		t.Error("no crop of the invented guide grows in a house only")
	}
}

// saysInHouse looks for a list line that begins with a house and leads to a crop's dates.
func saysInHouse(p *Page, house string, c *catalog.Crop) bool {
	for _, x := range p.Blocks {
		l, ok := x.(List)
		if !ok {
			continue
		}
		for _, item := range l.Items {
			if strings.HasPrefix(item[0].Text, firstUpper(house)) && slices.ContainsFunc(item, func(i Inline) bool {
				return i.Text == c.Name && i.Href == HTML(CropPath(c.ID))+"#covers"
			}) {
				return true
			}
		}
	}
	return false
}

// TestHouseCropsKeepTheirLayers: the crop's page has the house's dates, sheets or not.
func TestHouseCropsKeepTheirLayers(t *testing.T) {
	in := input(t, withHouses(), quantity.North, nil)
	b := NewBuilder(in)
	var plans [][]plan.CropPlan
	for i := range in.Bands {
		plans = append(plans, in.Bands[i].Plans)
	}
	page := b.Crop(slices.IndexFunc(in.Tables.Crops, func(c catalog.Crop) bool { return c.ID == "tomato" }), 0, plans).Later[0].Make()
	names := 0
	for _, x := range page.Blocks {
		if t, ok := x.(Table); ok {
			for _, r := range t.Rows {
				if textOf(r[0]) == "high tunnel" || textOf(r[0]) == "lidded bin" {
					names++
				}
			}
		}
	}
	if names != 2*len(in.Bands) {
		t.Errorf("%d rows of the two houses in %d bands", names, len(in.Bands))
	}
}
