package page

import (
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// bandWinter is how often the air of a band stays above what kills hardened crops, coldest
// limit first, a row for those that stand as much. Nothing where no limit is known.
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
	for i, limit := range limits {
		crops := stand[limit]
		var names []Inline
		for k, c := range crops {
			if k > 0 {
				names = append(names, Inline{Text: " · "})
			}
			names = append(names, link(c.Name, HTML(CropPath(c.ID))))
		}
		row := [][]Inline{plain(b.words.Temp(limit, words.Up)), names}
		for _, w := range b.planner.Winters(m.in.Climate, crops[0]) {
			if i == 0 {
				t.Head = append(t.Head, b.winterHead(w))
			}
			row = append(row, plain(b.winterOdds(w)))
		}
		t.Rows = append(t.Rows, row)
	}
	return []Block{b.heading(3, "winter", "crop.h.winter"), para(Inline{Text: b.t("band.winter.intro")}), t}
}
