package catalog

import (
	"slices"
	"testing"
)

func TestEditionRowsOf(t *testing.T) {
	e := &Edition{}
	for _, band := range []string{"b", "a", "d"} {
		for _, crop := range []string{"kale", "bean", "leek"} {
			for _, layers := range []string{"", "tunnel"} {
				e.Rows = append(e.Rows, EditionRow{EditionKey: EditionKey{Band: band, Crop: crop, Layers: layers}})
			}
		}
	}
	e.Sort()
	for _, band := range []string{"", "a", "b", "c", "d", "e"} {
		for _, crop := range []string{"", "aaa", "bean", "kale", "leek", "zzz"} {
			var want []EditionRow
			for _, r := range e.Rows {
				if r.Band == band && (crop == "" || r.Crop == crop) {
					want = append(want, r)
				}
			}
			if got := e.RowsOf(band, crop); !slices.EqualFunc(got, want, func(a, b EditionRow) bool { return a.EditionKey == b.EditionKey }) {
				t.Errorf("%q %q: %v, want %v", band, crop, got, want)
			}
		}
	}
	if rows := (*Edition)(nil).RowsOf("a", ""); rows != nil {
		t.Errorf("of no edition: %v", rows)
	}
}
