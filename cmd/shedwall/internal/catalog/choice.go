package catalog

import (
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Choice is a row of sheets.csv: what the publisher wants on the wall sheets, task lists
// and calendars of a band. Band and Crop are "" where the row holds for all of them.
type Choice struct {
	Band, Crop string
	Layers     string // covers to plan with, "" = open ground; holds where Planned
	Planned    bool   // the row says which covers
	Shown      Shown
	Cell       diag.Position
	LayersCell diag.Position
	BandCell   diag.Position
	CropCell   diag.Position
}

// Shown says whether a crop stands on a band's sheets.
type Shown uint8

// ShownNotSaid leaves it to a wider row; without one it is shown.
const (
	ShownNotSaid Shown = iota
	ShownYes
	ShownNo
)

// Choices is every row of sheets.csv, in the order of the table.
type Choices []Choice

// Layers is the covers that a band's sheets plan a crop with, and whether the publisher
// named any. Of several rows the narrowest counts: band and crop, then the band for all
// crops, then the crop in all bands, then all.
func (c Choices) Layers(band, crop string) (layers string, named bool) {
	if x := c.narrowest(band, crop, func(x *Choice) bool { return x.Planned }); x != nil {
		return x.Layers, true
	}
	return "", false
}

// Shown says whether a crop stands on a band's sheets, by the narrowest row that says so.
func (c Choices) Shown(band, crop string) bool {
	x := c.narrowest(band, crop, func(x *Choice) bool { return x.Shown != ShownNotSaid })
	return x == nil || x.Shown == ShownYes
}

func (c Choices) narrowest(band, crop string, says func(*Choice) bool) *Choice {
	var best *Choice
	rank := -1
	for i := range c {
		x := &c[i]
		if x.Band != "" && x.Band != band || x.Crop != "" && x.Crop != crop || !says(x) {
			continue
		}
		n := 0
		if x.Band != "" {
			n += 2
		}
		if x.Crop != "" {
			n++
		}
		if n > rank {
			best, rank = x, n
		}
	}
	return best
}

// Schedule is the settings of guide.csv for task lists: the month they begin with, and
// the term of a school, outside of which nobody tends the garden.
type Schedule struct {
	StartMonth int // 1-12; 0 = the first month of the local season

	// The first and last day of the term, which may run over the New Year; both zero =
	// no term.
	TermFrom, TermTo quantity.MonthDay
}

// HasTerm says whether a term is given.
func (s Schedule) HasTerm() bool { return s.TermFrom.Month > 0 && s.TermTo.Month > 0 }
