package page

import (
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
)

// otherNames says by which other names readers may know a crop.
func (b *builder) otherNames(c *catalog.Crop) []Block {
	if c.Also == "" {
		return nil
	}
	return []Block{para(Inline{Text: b.t("crop.other_names", "names", c.Also)})}
}

// namesAlso is each of a crop's other names.
func namesAlso(c *catalog.Crop) []string {
	var out []string
	for n := range strings.SplitSeq(c.Also, ",") {
		if n = strings.TrimSpace(n); n != "" {
			out = append(out, n)
		}
	}
	return out
}

// cropEntry is a crop under one of its names.
type cropEntry struct {
	name string
	crop *catalog.Crop
}

// cropEntries is every crop under all its names, sorted as people look them up.
func (b *builder) cropEntries() []cropEntry {
	var out []cropEntry
	for i := range b.Tables.Crops {
		c := &b.Tables.Crops[i]
		out = append(out, cropEntry{c.Name, c})
		for _, n := range namesAlso(c) {
			out = append(out, cropEntry{n, c})
		}
	}
	sortByName(out, func(e cropEntry) string { return e.name })
	return out
}

// entryName is a crop's name as a link; another name leads to it.
func (b *builder) entryName(e cropEntry) []Inline {
	if e.name == e.crop.Name {
		return []Inline{link(e.name, HTML(CropPath(e.crop.ID)))}
	}
	return []Inline{{Text: firstUpper(e.name) + ": " + b.t("crops_page.see") + " "}, link(e.crop.Name, HTML(CropPath(e.crop.ID)))}
}
