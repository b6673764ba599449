// Package cover says what covers are worth at night: the gain of one cover and
// of covers used together. Gains are differences between a covered and an
// uncovered plant at the same height; they enter thresholds in band alone.
package cover

import (
	"cmp"
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Gain is the gain of a set of layers on 10, 50 and 90 % of near-limit nights.
type Gain struct {
	Low, Typical, High quantity.Kelvins
	Known              bool
	Measured           bool        // a measured row for these layers together
	Estimated          bool        // added up from single covers
	Capped             bool        // the sum was cut to the cap
	Parts              []Part      // covers that were added up, outermost first
	At, AtTypical      figure.Cell // of the low and of the typical figure
	Source             string
}

// Part is one cover's share of an estimated gain.
type Part struct {
	Cover     string
	Gain      quantity.Kelvins // low end as used
	Typical   quantity.Kelvins // typical one as used
	At        figure.Cell      // of the low end
	AtTypical figure.Cell      // of the typical one
}

// Most that covers together are credited with where nobody measured them, on 10,
// 50 and 90 % of nights: the top of the published ranges for stacked unheated
// covers, 5-8-12 F over one film house with an inner film (high tunnel with inner
// cover in published tables; the same from a floor flux of 15-25-40 W/m2).
const (
	capLow     quantity.Kelvins = 5 / 1.8
	capTypical quantity.Kelvins = 8 / 1.8
	capHigh    quantity.Kelvins = 12 / 1.8
)

// Book looks up covers and layers by id.
type Book struct {
	covers map[string]*catalog.Cover
	layers map[string]*catalog.Layers
}

// NewBook indexes the tables' covers and layers.
func NewBook(t *catalog.Tables) Book {
	b := Book{map[string]*catalog.Cover{}, map[string]*catalog.Layers{}}
	for i := range t.Covers {
		b.covers[t.Covers[i].ID] = &t.Covers[i]
	}
	for i := range t.Layers {
		b.layers[t.Layers[i].ID] = &t.Layers[i]
	}
	return b
}

// Cover is a cover by id, nil where there is none.
func (b Book) Cover(id string) *catalog.Cover { return b.covers[id] }

// Gain of a set of layers, outermost first; "" is open ground with gain 0. A row
// of layers.csv with gains wins; otherwise it is worked out, see InSeries.
func (b Book) Gain(id string) Gain {
	if l := b.layers[id]; l != nil && id != "" {
		if g, ok := triple(l.Gain); ok {
			g.Measured, g.Estimated = l.Measured, !l.Measured
			g.At, g.AtTypical, g.Source = l.Gain.Low.Cell, l.Gain.Typical.Cell, l.Gain.Low.Source
			return g
		}
	}
	return b.InSeries(id)
}

// InSeries is the gain of a set of layers as worked out from the single covers, also
// where they were measured together: their thermal resistances lie in series over one
// floor heat flux,
//
//	gain = G (R1 + R2 + ...) = gain1 + gain2 + ...
//
// cut at the caps (never below the best single cover among them), and marked as an
// estimate. Not known where any cover's gain is not known. A cover that touches leaves
// gives those leaves nothing: as the innermost layer its gain is at most 0.
func (b Book) InSeries(id string) Gain {
	ids := catalog.SplitLayers(id)
	if len(ids) == 0 {
		return Gain{Known: true, Measured: true}
	}
	sum := Gain{Known: true, Measured: len(ids) == 1, Estimated: len(ids) > 1}
	limit := Gain{Low: capLow, Typical: capTypical, High: capHigh}
	for i, c := range ids {
		cv := b.covers[c]
		if cv == nil {
			return Gain{}
		}
		g, ok := triple(cv.Gain)
		if !ok {
			return Gain{}
		}
		if cv.Touches && i == len(ids)-1 {
			g.Low, g.Typical, g.High = min(g.Low, 0), min(g.Typical, 0), min(g.High, 0)
		}
		sum.Low, sum.Typical, sum.High = sum.Low+g.Low, sum.Typical+g.Typical, sum.High+g.High
		limit.Low, limit.Typical, limit.High = max(limit.Low, g.Low), max(limit.Typical, g.Typical), max(limit.High, g.High)
		sum.Parts = append(sum.Parts, Part{c, g.Low, g.Typical, cv.Gain.Low.Cell, cv.Gain.Typical.Cell})
		if i == 0 {
			sum.At, sum.AtTypical, sum.Source = cv.Gain.Low.Cell, cv.Gain.Typical.Cell, cv.Gain.Low.Source
		}
	}
	if len(ids) > 1 {
		low, typical, high := min(sum.Low, limit.Low), min(sum.Typical, limit.Typical), min(sum.High, limit.High)
		sum.Capped = low != sum.Low || typical != sum.Typical || high != sum.High
		sum.Low, sum.Typical, sum.High = low, typical, high
	}
	return sum
}

func triple(g catalog.Gain) (Gain, bool) {
	low, a := g.Low.Get()
	typical, b := g.Typical.Get()
	high, c := g.High.Get()
	return Gain{Low: low, Typical: typical, High: high, Known: true}, a && b && c
}

// Offered is every set of layers the guide offers, lightest work first: single
// covers and rows of layers.csv marked as offered, whose gain is known.
func (b Book) Offered(t *catalog.Tables) []string {
	var out []string
	for i := range t.Covers {
		if t.Covers[i].Offered {
			out = append(out, t.Covers[i].ID)
		}
	}
	for i := range t.Layers {
		if t.Layers[i].Offered {
			out = append(out, t.Layers[i].ID)
		}
	}
	known := out[:0]
	for _, id := range out {
		if b.Gain(id).Known {
			known = append(known, id)
		}
	}
	b.sortByWork(known)
	return slices.Compact(known)
}

// Work ranks a set of layers by its heaviest cover, then by how many there are.
func (b Book) Work(id string) int {
	work := 0
	ids := catalog.SplitLayers(id)
	for _, c := range ids {
		if cv := b.covers[c]; cv != nil {
			work = max(work, cv.Weight)
		}
	}
	return work*10 + len(ids)
}

// sortByWork orders sets of layers lightest first; equal work by id, so that the
// order never depends on the tables' order.
func (b Book) sortByWork(ids []string) {
	slices.SortFunc(ids, func(x, y string) int {
		return cmp.Or(cmp.Compare(b.Work(x), b.Work(y)), cmp.Compare(x, y))
	})
}

// WinterLow is the low end of a single cover's gain on nights far below freezing; open
// ground has 0. Not known for covers together: nobody measured them in winter, and
// spring gains do not hold there.
func (b Book) WinterLow(layers string) (quantity.Kelvins, bool) {
	if layers == "" {
		return 0, true
	}
	c := b.covers[layers]
	if c == nil {
		return 0, false
	}
	return c.Winter.Low.Get()
}
