package band

import (
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Every station stands in exactly one proposed band of its own position, slopes
// leave no step out, and no band is over 200 m high.
func TestProposedBandsHoldTheStations(t *testing.T) {
	r := &Region{}
	for _, x := range []struct {
		z quantity.Metres
		p catalog.Position
	}{{612, catalog.Floor}, {760, catalog.Slope}, {905, catalog.Slope}, {1540, catalog.Slope}, {915, catalog.Hollow}, {-59, catalog.Floor}} {
		r.Stations = append(r.Stations, &Station{site: site{low: x.z, high: x.z, position: x.p}, winter: nil})
	}
	for e := range r.offsets {
		r.offsets[e] = make([]quantity.Kelvins, len(r.Stations))
	}
	r.winters = make([]quantity.Kelvins, len(r.Stations))
	bands := r.Propose(nil)
	slopes := 0
	for _, b := range bands {
		low, _ := b.Low.Get()
		high, _ := b.High.Get()
		if high-low != bandHeight {
			t.Errorf("%s is %v m high", b.ID, high-low)
		}
		if p, _ := b.Position.Get(); p == catalog.Slope {
			slopes++
		}
	}
	if slopes != 5 { // 600, 800, 1000, 1200, 1400: no gap between 760 and 1540 m
		t.Errorf("%d slope bands, want 5 from 600 to 1600 m", slopes)
	}
	for _, s := range r.Stations {
		in := 0
		for _, b := range bands {
			low, _ := b.Low.Get()
			high, _ := b.High.Get()
			if p, _ := b.Position.Get(); p == s.site.position && s.site.low >= low && s.site.low < high {
				in++
			}
		}
		if in != 1 {
			t.Errorf("a %v station at %v m stands in %d proposed bands", s.site.position, s.site.low, in)
		}
	}
	places := []catalog.Place{
		{Name: "between", Elevation: figure.Is[quantity.Metres](1300, figure.Cell{}, "")}, // a slope, since it does not say
		{Name: "above", Elevation: figure.Is[quantity.Metres](1799, figure.Cell{}, ""), Position: figure.Is(catalog.Slope, figure.Cell{}, "")},
		{Name: "ridge", Elevation: figure.Is[quantity.Metres](1400, figure.Cell{}, ""), Position: figure.Is(catalog.Ridge, figure.Cell{}, "")},
		{Name: "no height"},
	}
	var more []string
	for _, b := range r.Propose(places) {
		if !slices.ContainsFunc(bands, func(old catalog.Band) bool { return old.ID == b.ID }) {
			more = append(more, b.ID)
		}
	}
	if want := []string{"slope_1600", "ridge_1400"}; !slices.Equal(more, want) {
		t.Errorf("places add the bands %v, want %v", more, want)
	}
	if n := len((&Region{}).Propose(places)); n > 0 {
		t.Errorf("%d bands without a station", n)
	}
}
