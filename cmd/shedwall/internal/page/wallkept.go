package page

import "shedwall/cmd/shedwall/internal/plan"

// wallKept is what the sheets of a band have in common, worked out once: packing crops
// into sheets tries many of the same band, and sheets in two languages show the rows of
// each language again.
type wallKept struct {
	parts []sheetPart
	codes map[string]string // of crops
	rows  map[string]wallRow
	blank *Sheet
	foot  map[footOf][]string
	plans map[string]int // place of each crop's plan

	chosen map[layersList]int // place of the layers chosen; only read once sheets are made
	cuts   map[string]cut     // of parts, by key

	written map[writtenKey][]byte // rows as codes are made from them
	room    []byte                // for a sheet written so
}

// writtenKey is all that tells a row from others of its wall once it stands on a sheet.
type writtenKey struct {
	code string
	end  bool // of a group
}

// wallRow is a crop's row with the covers whose key it needs.
type wallRow struct {
	SheetRow
	covers []string
}

// cut is how a part was cut into sheets: with so many rows at most on each, numbered on
// from so many sheets before, and whether they fit.
type cut struct {
	rows, before int
	sheets       []*Sheet
	fit          bool
}

// keeping is the wall with a memory for what its sheets have in common.
func (w Wall) keeping() Wall {
	if w.kept == nil {
		w.kept = &wallKept{rows: map[string]wallRow{}, cuts: map[string]cut{}, plans: map[string]int{}, foot: map[footOf][]string{}, written: map[writtenKey][]byte{}}
		for i := range w.Plans {
			w.kept.plans[w.Plans[i].Crop.ID] = i
		}
		w.keepChosen(w.Plans)
	}
	return w
}

// layersList names the layers of a plan, whatever its crop is called.
type layersList struct {
	open *plan.LayerPlan
	all  int
}

func layersOf(p *plan.CropPlan) layersList { return layersList{&p.Layers[0], len(p.Layers)} }

// keepChosen keeps what is chosen for crops, of some plans or of others without some layers,
// since sheets, lists and pages ask for it again and again.
func (w Wall) keepChosen(plans []plan.CropPlan) {
	if w.kept.chosen == nil {
		w.kept.chosen = make(map[layersList]int, 2*len(plans))
	}
	for i := range plans {
		if p := &plans[i]; len(p.Layers) > 0 {
			if _, ok := w.kept.chosen[layersOf(p)]; !ok {
				w.kept.chosen[layersOf(p)] = w.choose(p)
			}
		}
	}
}

// own is the wall's own plans of the crops of others, under their names in its language.
func (w Wall) own(plans []plan.CropPlan) []plan.CropPlan {
	out := make([]plan.CropPlan, len(plans))
	for i, p := range plans {
		out[i] = w.Plans[w.kept.plans[p.Crop.ID]]
	}
	return out
}

// blank is newBlank. Its lists must not be changed.
func (w Wall) blank() *Sheet {
	if w.kept == nil {
		return w.newBlank()
	}
	if w.kept.blank == nil {
		w.kept.blank = w.newBlank()
	}
	s := *w.kept.blank
	return &s
}

// rowOf is row. Its lists must not be changed.
func (w Wall) rowOf(p *plan.CropPlan) (SheetRow, []string) {
	if w.kept == nil {
		return w.row(*p)
	}
	r, ok := w.kept.rows[p.Crop.ID]
	if !ok {
		r.SheetRow, r.covers = w.row(*p)
		w.kept.rows[p.Crop.ID] = r
	}
	return r.SheetRow, r.covers
}

// footOf is all that the foot of one sheet of a band depends on.
type footOf struct {
	warm         bool // a crop of the sheet needs warmth
	film         bool // film warms the soil for one
	grown, young byte // the group whose figure its general rule goes by, and the one of young plants
}

// footLines is foot. Its lines must not be changed.
func (w Wall) footLines(of footOf) []string {
	if w.kept == nil {
		return w.foot(of)
	}
	lines, ok := w.kept.foot[of]
	if !ok {
		lines = w.foot(of)
		w.kept.foot[of] = lines
	}
	return lines
}
