package page

import "shedwall/cmd/shedwall/internal/plan"

// named is the layers that the publisher chose for a crop in this band. A choice under
// which nothing is planned here (a house that is no gain in this band, say) or with which
// the crop has no season is none: leftOut says so on the band's page.
func (w Wall) named(p *plan.CropPlan) (place int, ok bool) {
	layers, ok := w.Tables.Sheets.Layers(w.Climate.Band.ID, p.Crop.ID)
	if !ok {
		return 0, false
	}
	for i := range p.Layers {
		if l := &p.Layers[i]; l.Layers == layers {
			return i, grownUnder(l)
		}
	}
	return 0, false
}

// shown says whether a crop stands on the band's sheets: it has a season under the layers
// chosen for it, and the publisher did not leave it off.
func (w Wall) shown(p plan.CropPlan) bool {
	if !w.Tables.Sheets.Shown(w.Climate.Band.ID, p.Crop.ID) {
		return false
	}
	l := w.chosen(p)
	return grownUnder(&l)
}

// choiceNotes says what the publisher's choice of crops and covers came to: which crops
// are left off the sheets, and for which ones the covers named make no season.
func (b *builder) choiceNotes(m *bandPage) []Block {
	var off, other []string
	for i := range m.wall.Plans {
		p := m.wall.Plans[i]
		if !grown(p) {
			continue
		}
		if !b.Tables.Sheets.Shown(m.row().ID, p.Crop.ID) {
			off = append(off, p.Crop.Name)
			continue
		}
		if !m.wall.shown(p) {
			continue
		}
		if _, chosen := b.Tables.Sheets.Layers(m.row().ID, p.Crop.ID); chosen {
			if _, ok := m.wall.named(&p); !ok {
				other = append(other, p.Crop.Name)
			}
		}
	}
	var out []Block
	for _, x := range []struct {
		key   string
		crops []string
	}{{"calendar.left_off", off}, {"calendar.other_covers", other}} {
		if len(x.crops) > 0 {
			out = append(out, para(Inline{Text: b.t(x.key) + " ", Strong: true}, Inline{Text: namesOf(x.crops)}))
		}
	}
	return out
}
