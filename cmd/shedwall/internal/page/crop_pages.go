package page

import (
	"shedwall/cmd/shedwall/internal/catalog"
)

// cropPages leads from each page of a crop to its others, by their bands; nothing where
// one page holds all bands. What does not change from band to band stands on the first.
func (b *builder) cropPages(c *catalog.Crop, n int) []Block {
	if len(b.made) <= GroupSize {
		return nil
	}
	out := Contents{Name: b.t("crop.pages")}
	for k := 1; (k-1)*GroupSize < len(b.made); k++ {
		if k != n {
			out.Items = append(out.Items, link(b.bandsOn(k), HTML(CropPagePath(c.ID, k))))
		}
	}
	blocks := []Block{para(Inline{Text: b.t("crop.pages.intro", "bands", b.bandsOn(n))}), out}
	if n > 1 {
		blocks = append(blocks, para(link(b.t("crop.pages.first", "crop", c.Name), HTML(CropPath(c.ID)))))
	}
	return blocks
}

// bandsOn names the bands on page n of each crop by the first and the last of them.
func (b *builder) bandsOn(n int) string {
	first, last := (n-1)*GroupSize, min(n*GroupSize, len(b.made))-1
	if first == last {
		return b.made[first].row().Name
	}
	return b.t("crop.pages.bands", "first", b.made[first].row().Name, "last", b.made[last].row().Name)
}

// cropHref is the page of a crop on which a band stands.
func cropHref(m *bandPage, crop string) string {
	return HTML(CropPagePath(crop, m.number/GroupSize+1))
}
