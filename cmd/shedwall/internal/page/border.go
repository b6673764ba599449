package page

import (
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// borderWidth is how near a limit of height a garden counts as lying on the
// border: both bands are shown, since neither a map nor a garden is that exact.
const borderWidth quantity.Metres = 50

// holds says whether a band's heights hold z, widened by slack. Open ends hold all.
func holds(r *catalog.Band, z, slack quantity.Metres) bool {
	low, a := r.Low.Get()
	high, c := r.High.Get()
	return (a || c) && (!a || z >= low-slack) && (!c || z <= high+slack)
}

// bandsFor finds the bands of a place, best first: those of its height and
// position; where it lies within borderWidth of one of their limits, also the
// bands beyond that limit. A place of no band's position gets every band of its
// height.
func bandsFor(rows []*catalog.Band, z quantity.Metres, pos catalog.Position, posKnown bool) (inside, border []*catalog.Band) {
	for _, r := range rows {
		p, ok := r.Position.Get()
		if holds(r, z, 0) && posKnown && ok && p == pos {
			inside = append(inside, r)
		}
	}
	if len(inside) == 0 {
		for _, r := range rows {
			if holds(r, z, 0) {
				inside = append(inside, r)
			}
		}
	}
	beyond := func(edge quantity.Metres) {
		same := false
		for _, pass := range []bool{true, false} {
			for _, r := range rows {
				p, ok := r.Position.Get()
				if (ok && p == pos && posKnown) != pass || !holds(r, edge, 0) {
					continue
				}
				same = same || pass
				if !contains(inside, r) && !contains(border, r) {
					border = append(border, r)
				}
			}
			if same {
				return
			}
		}
	}
	for _, r := range inside {
		if low, ok := r.Low.Get(); ok && z-low < borderWidth {
			beyond(low - 1)
		}
		if high, ok := r.High.Get(); ok && high-z < borderWidth {
			beyond(high + 1)
		}
	}
	if len(inside) == 0 {
		for _, r := range rows {
			if holds(r, z, borderWidth) {
				border = append(border, r)
			}
		}
	}
	return inside, border
}

func contains(rows []*catalog.Band, r *catalog.Band) bool {
	for _, x := range rows {
		if x == r {
			return true
		}
	}
	return false
}

// neighbours are the bands whose heights meet this one's or lie within borderWidth.
func (b *builder) neighbours(row *catalog.Band) []*bandPage {
	low, a := row.Low.Get()
	high, c := row.High.Get()
	var out []*bandPage
	for _, m := range b.made {
		o := m.row()
		ol, oa := o.Low.Get()
		oh, oc := o.High.Get()
		if o.ID == row.ID || a && oc && oh < low-borderWidth || c && oa && ol > high+borderWidth {
			continue
		}
		out = append(out, m)
	}
	return out
}

// borderList helps a reader on the border to choose: questions that need no
// instrument, then the neighbouring bands with their dates.
func (b *builder) borderList(m *bandPage) []Block {
	questions := List{}
	for _, k := range []string{"frost", "fog", "above", "wind"} {
		questions.Items = append(questions.Items, b.say("band.border."+k))
	}
	out := []Block{para(Inline{Text: b.t("band.border.intro", "height", b.words.Height(borderWidth))}), questions}
	near := b.neighbours(m.row())
	if len(near) == 0 {
		return append(out, para(Inline{Text: b.t("band.border.alone")}))
	}
	return append(out, b.bandTable("neighbours", b.t("band.border.caption"), append([]*bandPage{m}, near...)))
}
