package check

import (
	"fmt"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/diag"
)

// choices checks that what is chosen for sheets exists and is planned.
func (c *checker) choices() {
	t := c.tables
	var bands, crops []string
	for i := range t.Bands {
		bands = append(bands, t.Bands[i].ID)
	}
	for i := range t.Crops {
		crops = append(crops, t.Crops[i].ID)
	}
	if len(t.Sheets) == 0 {
		return
	}
	covers, offered := c.coverIDs(), cover.NewBook(t).Offered(t)
	houses := map[string]bool{} // their gain is worked out for each band
	for i := range t.Structures {
		houses[t.Structures[i].ID] = true
	}
	for i := range t.Sheets {
		x := &t.Sheets[i]
		if x.Band != "" && len(bands) > 0 && !known(x.Band, bands) {
			c.fault(x.BandCell, "sheets-band-unknown", fmt.Sprintf("%q is not a band of this guide", x.Band), "a band of bands.csv, or all", near(x.Band, bands, "choose a band"))
		}
		if x.Crop != "" && len(crops) > 0 && !known(x.Crop, crops) {
			c.fault(x.CropCell, "sheets-crop-unknown", fmt.Sprintf("%q is not a crop of this guide", x.Crop), "a crop of crops.csv, or all", near(x.Crop, crops, "choose a crop, or add it to crops.csv"))
		}
		if !x.Planned || x.Layers == "" {
			continue
		}
		parts := catalog.SplitLayers(x.Layers)
		if k := slices.IndexFunc(parts, func(id string) bool { return !known(id, covers) && !houses[id] }); k >= 0 {
			c.fault(x.LayersCell, "sheets-layers-unknown", fmt.Sprintf("%q is not a cover of this guide", parts[k]), "covers of covers.csv joined by +, the outermost first, or open", near(parts[k], covers, "choose a cover"))
			continue
		}
		if slices.Contains(offered, x.Layers) || slices.ContainsFunc(parts, func(id string) bool { return houses[id] }) {
			continue
		}
		cure := "write yes under offered in covers.csv"
		switch k := slices.IndexFunc(offered, func(id string) bool { return sameCovers(parts, catalog.SplitLayers(id)) }); {
		case k >= 0:
			cure = fmt.Sprintf("write %s: the outermost first", offered[k])
		case slices.ContainsFunc(t.Layers, func(l catalog.Layers) bool { return l.ID == x.Layers }):
			cure = "its row in layers.csv is there: look at the gains of its covers in covers.csv"
		case len(parts) > 1:
			cure = "add a row " + x.Layers + " to layers.csv"
		}
		c.fault(x.LayersCell, "sheets-layers-not-offered", fmt.Sprintf("%s is not offered in this guide, so nothing is planned under it", x.Layers),
			"one of "+strings.Join(offered, ", ")+", or open", cure)
	}
}

// sameCovers says that two sets of layers hold the same covers, in whatever order.
func sameCovers(a, b []string) bool {
	return slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
}

// schedule checks that a term has both its ends and is shorter than a year.
func (c *checker) schedule() {
	g := &c.tables.Guide
	s := g.Schedule
	at := func(name string) (diag.Position, bool) { p, ok := g.Cells[name]; return p, ok }
	from, hasFrom := at("term_from")
	to, hasTo := at("term_to")
	switch {
	case hasFrom && s.TermFrom.Month > 0 && !hasTo:
		c.fault(from, "term-half", "the term has a first day and no last one", "both term_from and term_to, or neither", "add the setting term_to")
	case hasTo && s.TermTo.Month > 0 && !hasFrom:
		c.fault(to, "term-half", "the term has a last day and no first one", "both term_from and term_to, or neither", "add the setting term_from")
	case s.HasTerm() && s.TermFrom == s.TermTo:
		c.fault(to, "term-short", "the term begins and ends on one day", "a term of weeks or months", "mend one of the two days")
	}
}
