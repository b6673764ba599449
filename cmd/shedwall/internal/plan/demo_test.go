package plan

import (
	"io/fs"
	"os"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/intake"
)

// demoBand is the demo guide's planner and the climate of one of its bands.
func demoBand(t testing.TB, id string) (*Planner, *band.Climate) {
	t.Helper()
	var faults diag.List
	var guide fs.FS = os.DirFS("../../../..")
	tables := intake.Tables(guide, guide, &faults)
	records := intake.Records(guide, tables, &faults)
	if faults.HasErrors() {
		t.Fatal(faults.Sorted())
	}
	for i := len(tables.Crops); i < 100; i++ { // up to a hundred crops
		c := tables.Crops[i%len(tables.Crops)]
		c.ID += "_2"
		tables.Crops = append(tables.Crops, c)
	}
	for _, c := range manyCovers(7) { // and to fifteen sets of layers
		c.Weight += 100
		tables.Covers = append(tables.Covers, c)
	}
	r := band.RegionOf(tables.Stations, band.Weather{Records: records}, tables.Guide.YearsFrom, tables.Guide.YearsTo, tables.Hemisphere)
	for i := range tables.Bands {
		if tables.Bands[i].ID == id {
			return NewPlanner(tables), r.Climate(&tables.Bands[i])
		}
	}
	t.Fatal("no band ", id)
	return nil, nil
}

// The demo's crops made up to a hundred, under its sets of layers made up to fifteen. Warm;
// see BenchmarkBand.
func BenchmarkDemoBand(b *testing.B) {
	p, c := demoBand(b, "thessock_slopes")
	b.Logf("%d crops, %d sets of layers", len(p.tables.Crops), len(p.Offered()))
	b.ReportAllocs()
	for b.Loop() {
		p.Band(c)
	}
}

// By one processor, as of a guide of many bands.
func BenchmarkDemoBandOfMany(b *testing.B) {
	p, c := demoBand(b, "thessock_slopes")
	p.Band(c)
	b.ReportAllocs()
	for b.Loop() {
		p.BandOfMany(c.Region.Climate(c.Band))
	}
}

func BenchmarkDemoBandAtFirst(b *testing.B) {
	p, c := demoBand(b, "thessock_slopes")
	p.Band(c)
	b.ReportAllocs()
	for b.Loop() {
		p.Band(c.Region.Climate(c.Band))
	}
}
