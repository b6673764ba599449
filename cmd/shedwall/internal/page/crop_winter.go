package page

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/words"
)

// cropWinter is how often the air stays above what kills a hardened crop, by band and
// cover. Nothing where nobody knows that limit.
func (b *builder) cropWinter(c *catalog.Crop, plans []cropIn) []Block {
	limit, ok := c.WinterKill.Get()
	if !ok || len(plans) == 0 {
		return nil
	}
	known, why := false, plans[0].band.winter
	t := Table{ID: "winter-table", Caption: b.t("crop.winter.caption", "crop", c.Name), RowHeads: true, Head: []string{b.t("head.band")}}
	for i, x := range plans {
		row := [][]Inline{{link(x.band.row().Name, x.band.href())}}
		for _, w := range b.planner.Winters(x.band.in.Climate, c) {
			if i == 0 {
				t.Head = append(t.Head, b.winterHead(w))
			}
			row = append(row, plain(b.winterOdds(w)))
			known = known || w.Out != 0 || w.Odds.Known
		}
		t.Rows = append(t.Rows, row)
	}
	if !known {
		return []Block{b.heading(2, "winter", "crop.h.winter"), para(Inline{Text: b.t(b.untold("band.winter.not_known", why), b.reach()...)})}
	}
	return []Block{
		b.heading(2, "winter", "crop.h.winter"),
		para(Inline{Text: b.t("crop.winter.intro", "limit", b.words.Temp(limit, words.Up))}),
		t,
	}
}

// winterHead is open ground or the cover that odds are of.
func (b *builder) winterHead(w plan.Wintering) string {
	if cv := b.covers.Cover(w.Layers); cv != nil {
		return b.t("crop.winter.under", "cover", cv.Name)
	}
	return b.t("crop.winter.open")
}

// winterOdds is odds in words; of a cover that weather rules out, that it does.
func (b *builder) winterOdds(w plan.Wintering) string {
	if w.Out != 0 {
		return b.t("crop.winter.out")
	}
	return b.wintering(w.Odds)
}

// wintering is odds in words, none rarer than the winters can tell.
func (b *builder) wintering(w band.Wintering) string {
	winters := b.words.Int(w.Winters)
	switch {
	case !w.Known:
		return b.t("not_known")
	case w.Rare() && w.Share > 0.5:
		return b.t("crop.winter.all", "winters", winters)
	case w.Rare():
		return b.t("crop.winter.none", "winters", winters)
	}
	return b.t("crop.winter.share", "percent", b.share(w.Share))
}
