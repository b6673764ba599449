package band

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

func TestTrentinoBands(t *testing.T) {
	stations, records := trentino(t)
	for i := range stations {
		p := catalog.Slope
		switch stations[i].ID {
		case "B6130":
			p = catalog.Hollow
		case "T0001", "T0083":
			p = catalog.Floor
		}
		stations[i].Position = figure.Is(p, diag.Position{}, "")
	}
	r := NewRegion(stations, records, 1975, 2004, quantity.North)
	l, _ := r.MeanMiss(record.Last)
	f, _ := r.MeanMiss(record.First)
	t.Log(l, f)
	for _, b := range []struct {
		lo, hi, lat, lon float64
		p                catalog.Position
	}{{0, 500, 0, 0, 0}, {500, 1000, 0, 0, 0}, {1000, 1500, 0, 0, 0}, {1500, 1700, 46.02191, 11.03989, 0}, {1700, 2200, 0, 0, 0}, {1500, 1700, 46.55041, 11.87326, catalog.Hollow}} {
		cb := catalog.Band{Low: figure.Is(quantity.Metres(b.lo), diag.Position{}, ""), High: figure.Is(quantity.Metres(b.hi), diag.Position{}, ""), Position: figure.Is(b.p, diag.Position{}, "")}
		if b.lat != 0 {
			cb.Latitude = figure.Is(b.lat, diag.Position{}, "")
			cb.Longitude = figure.Is(b.lon, diag.Position{}, "")
		}
		c := r.Climate(&cb)
		ff, ok := c.FrostFree(0)
		w := c.Winter()
		g := Gate{Limit: 0}
		lh, lc := c.Date(record.Last, quantity.Half, g), c.Date(record.Last, quantity.Careful, g)
		fh, fc := c.Date(record.First, quantity.Half, g), c.Date(record.First, quantity.Careful, g)
		md := func(a Answer) string { return quantity.North.MonthDay(a.Slot).String() }
		t.Logf("%4.0f-%4.0f pos %v own %.2f off %.2f %.2f: free %d %v zone %s %.1f; last %s/%s %d±%d first %s/%s ±%d; per100 %.1f %.1f", b.lo, b.hi, b.p, c.ownShare, c.offsets[0], c.offsets[1], ff, ok, w.Zone, w.MeanExtreme, md(lh), md(lc), lc.State, lc.PlusMinus, md(fh), md(fc), fc.PlusMinus, c.DaysPerHundredMetres(record.Last, 0), c.DaysPerHundredMetres(record.First, 0))
	}
}
