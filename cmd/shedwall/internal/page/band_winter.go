package page

import (
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// bandWinter is how often the air of a band stays above what kills hardened crops, coldest
// limit first, a row for those that stand as much or fare alike. Nothing where no limit is
// known.
func (b *builder) bandWinter(m *bandPage) []Block {
	stand := map[quantity.Celsius][]*catalog.Crop{}
	var limits []quantity.Celsius
	for i := range b.Tables.Crops {
		c := &b.Tables.Crops[i]
		limit, ok := c.WinterKill.Get()
		if !ok {
			continue
		}
		if len(stand[limit]) == 0 {
			limits = append(limits, limit)
		}
		stand[limit] = append(stand[limit], c)
	}
	if len(limits) == 0 {
		return nil
	}
	slices.Sort(limits)
	t := Table{ID: "winter-table", Caption: b.t("band.winter.caption"), RowHeads: true, Head: []string{b.t("band.winter.limit"), b.t("band.winter.crops")}}
	var from quantity.Celsius // of the last row
	said, known := "", false
	for i, limit := range limits {
		var names []Inline
		for _, c := range stand[limit] {
			if len(names) > 0 {
				names = append(names, Inline{Text: " · "})
			}
			names = append(names, link(c.Name, HTML(CropPath(c.ID))))
		}
		var odds [][]Inline
		now := ""
		for _, w := range b.planner.Winters(m.in.Climate, stand[limit][0]) {
			if i == 0 {
				t.Head = append(t.Head, b.winterHead(w))
			}
			text := b.winterOdds(w)
			known = known || w.Out != 0 || w.Odds.Known
			odds, now = append(odds, plain(text)), now+text+"|"
		}
		if now == said {
			row := t.Rows[len(t.Rows)-1]
			row[0] = plain(b.t("range.words", "from", b.words.Temp(from, words.Up), "to", b.words.Temp(limit, words.Up)))
			row[1] = append(append(row[1], Inline{Text: " · "}), names...)
			continue
		}
		from, said = limit, now
		t.Rows = append(t.Rows, append([][]Inline{plain(b.words.Temp(limit, words.Up)), names}, odds...))
	}
	if !known {
		return []Block{b.heading(3, "winter", "crop.h.winter"), para(Inline{Text: b.t(b.untold("band.winter.not_known", m.winter), b.reach()...)})}
	}
	return []Block{b.heading(3, "winter", "crop.h.winter"), para(Inline{Text: b.t("band.winter.intro")}), t}
}

// untold is the phrase that says why a winter is not known.
func (b *builder) untold(key string, w band.Winter) string {
	switch w.Why {
	case band.OutOfReach:
		return key + ".far"
	case band.Contradicted:
		return key + ".contradicted"
	}
	return key
}

// reach is how far a winter is carried, for phrases: "80 km (50 miles)" and the height.
func (b *builder) reach() []string {
	return []string{"reach", b.words.Distance(band.WinterReach), "height", b.words.Height(band.WinterHeight)}
}
