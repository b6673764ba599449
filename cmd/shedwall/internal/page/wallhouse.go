package page

import (
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// housed says whether a set of layers has a house in it: any row of structures.csv, or
// among the covers one heavier than hand work (a caterpillar or high tunnel, a house of
// two films or of glass). Few readers have one, so sheets and task lists plan with it
// only where sheets.csv names it.
func (w Wall) housed(layers string) bool {
	for _, id := range catalog.SplitLayers(layers) {
		if cv := w.cover(id); cv != nil && !cv.ByHand() {
			return true
		}
		if w.Tables.Structure(id) != nil {
			return true
		}
	}
	return false
}

// inHouse is the lightest set of layers with a house in it that makes a season for a crop
// that has none by the layers chosen for it; false where the crop has a season, or none
// in any house.
func (w Wall) inHouse(p plan.CropPlan) (layers string, only bool) {
	if l := w.chosen(p); grownUnder(&l) {
		return "", false
	}
	for i := range p.Layers {
		if l := &p.Layers[i]; w.housed(l.Layers) && grownUnder(l) {
			return l.Layers, true
		}
	}
	return "", false
}

// houseCrops is the crops that have a season in a house only, by the lightest set of
// layers that makes it.
type houseCrops struct {
	layers string
	crops  []*catalog.Crop
}

// houseOnly is every crop of the band that has a season in a house only, the sets of
// layers in the order in which they are offered.
func (w Wall) houseOnly() []houseCrops {
	var out []houseCrops
	order := map[string]int{}
	for i := range w.Plans {
		p := &w.Plans[i]
		for k, l := range p.Layers {
			if _, ok := order[l.Layers]; !ok {
				order[l.Layers] = k
			}
		}
		layers, only := w.inHouse(*p)
		if !only || !w.Tables.Sheets.Shown(w.Climate.Band.ID, p.Crop.ID) {
			continue
		}
		at := slices.IndexFunc(out, func(h houseCrops) bool { return h.layers == layers })
		if at < 0 {
			at, out = len(out), append(out, houseCrops{layers: layers})
		}
		out[at].crops = append(out[at].crops, p.Crop)
	}
	slices.SortStableFunc(out, func(a, b houseCrops) int { return order[a.layers] - order[b.layers] })
	return out
}

// houseNames is houseOnly as one list of names.
func (w Wall) houseNames() []string {
	var out []string
	for _, h := range w.houseOnly() {
		for _, c := range h.crops {
			out = append(out, c.Name)
		}
	}
	slices.Sort(out)
	return out
}

// inHouses names the crops that have a season in a house only, house by house, each
// leading to its dates.
func (b *builder) inHouses(m *bandPage) []Block {
	houses := m.wall.houseOnly()
	if len(houses) == 0 {
		return nil
	}
	list := List{}
	for _, h := range houses {
		item := []Inline{{Text: b.t("label", "name", firstUpper(b.layersName(h.layers))), Strong: true}, {Text: " "}}
		for i, c := range h.crops {
			if i > 0 {
				item = append(item, Inline{Text: " · "})
			}
			item = append(item, link(c.Name, cropHref(m, c.ID)+"#covers"))
			if m.wall.openNotKnown(c) {
				item = append(item, Inline{Text: " (" + b.t("days.open_not_known") + ")"})
			}
		}
		list.Items = append(list.Items, item)
	}
	return []Block{para(Inline{Text: b.t("calendar.house") + " ", Strong: true}, Inline{Text: b.t("calendar.house.more")}), list}
}

// openNotKnown says whether nobody knows if a crop of the wall has a season in open ground.
func (w Wall) openNotKnown(c *catalog.Crop) bool {
	i := slices.IndexFunc(w.Plans, func(p plan.CropPlan) bool { return p.Crop.ID == c.ID })
	return i >= 0 && seasonNotKnown(&w.Plans[i].Layers[0], quantity.Careful)
}

// whole is the wall's own plan of a crop, with the layers that underCovers takes out of
// the plans of a band's pages; p itself where the wall has none.
func (w Wall) whole(p *plan.CropPlan) *plan.CropPlan {
	if i := slices.IndexFunc(w.Plans, func(x plan.CropPlan) bool { return x.Crop.ID == p.Crop.ID }); i >= 0 {
		return &w.Plans[i]
	}
	return p
}
