package plan

import (
	"fmt"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// manyCrops is n invented crops that share few figures, so that hardly a question
// is asked twice: harder than a real table.
func manyCrops(n int) []catalog.Crop {
	crops := make([]catalog.Crop, n)
	for i := range crops {
		t := quantity.Celsius(float64(i%17)*-0.5 + 1)
		crops[i] = catalog.Crop{
			ID: fmt.Sprintf("c%02d", i), Name: fmt.Sprintf("Crop %02d", i), Start: catalog.Either,
			YoungDamage: known(t), GrownDamage: known(t - 1 + quantity.Celsius(i%5)*0.1), Chill: known(quantity.Celsius(7 + float64(i%3))),
			SoilMin: known(quantity.Celsius(4 + float64(i%6)*2)), EmergeDays: known(7 + i%9),
			WeeksInsideLow: known(4.0), WeeksInsideHigh: known(6.0), DaysLow: known(40 + i%30), DaysHigh: known(60 + i%40),
		}
	}
	return crops
}

func manyCovers(n int) []catalog.Cover {
	covers := make([]catalog.Cover, n)
	for i := range covers {
		g := quantity.Kelvins(0.5 + 0.3*float64(i))
		covers[i] = catalog.Cover{ID: fmt.Sprintf("v%d", i), Weight: i, Offered: true, Gain: catalog.Gain{Low: known(g), Typical: known(g + 1), High: known(g + 2)}}
	}
	return covers
}

// Full guides of 100 crops under open ground and fifteen sets of layers, at both levels of
// odds, with reasons, from six stations of thirty years. Each comes in three kinds. Warm: the
// band was planned before, so its curves and what its stations say of each threshold are
// known. At first: nobody has asked this band anything, as when a guide of many bands is
// published, but its stations have been asked by others. Cold: nobody has asked the stations
// either, as for the first band of all. The target, 20 ms on an idle machine of two
// processors, is for all.

// BenchmarkBand is warm.
func BenchmarkBand(b *testing.B) {
	region := sixStations()
	p := NewPlanner(&catalog.Tables{Crops: manyCrops(100), Covers: manyCovers(15)})
	c := region.Climate(slopeBand(700, 900))
	b.ReportAllocs()
	for b.Loop() {
		p.Band(c)
	}
}

func BenchmarkBandAtFirst(b *testing.B) {
	region := sixStations()
	p := NewPlanner(&catalog.Tables{Crops: manyCrops(100), Covers: manyCovers(15)})
	p.Band(region.Climate(slopeBand(700, 900)))
	b.ReportAllocs()
	for b.Loop() {
		p.Band(region.Climate(slopeBand(700, 900)))
	}
}

func BenchmarkBandCold(b *testing.B) {
	p := NewPlanner(&catalog.Tables{Crops: manyCrops(100), Covers: manyCovers(15)})
	b.ReportAllocs()
	for b.Loop() {
		b.StopTimer()
		region := sixStations()
		b.StartTimer()
		p.Band(region.Climate(slopeBand(700, 900)))
	}
}

// With every gate: heat, early cold, degree days, soil under film. Warm.
func BenchmarkBandOfEveryGate(b *testing.B) {
	p, region := plannerOfEveryGate()
	c := region.Climate(slopeBand(700, 900))
	b.ReportAllocs()
	for b.Loop() {
		p.Band(c)
	}
}

func BenchmarkBandOfEveryGateAtFirst(b *testing.B) {
	p, region := plannerOfEveryGate()
	p.Band(region.Climate(slopeBand(700, 900)))
	b.ReportAllocs()
	for b.Loop() {
		p.Band(region.Climate(slopeBand(700, 900)))
	}
}

func plannerOfEveryGate() (*Planner, *band.Region) {
	covers := manyCovers(15)
	covers[1].SoilGain, covers[3].SoilGain = known(quantity.Kelvins(2.5)), known(quantity.Kelvins(4))
	return NewPlanner(&catalog.Tables{Crops: everyGate(100), Covers: covers}), sixStations()
}
