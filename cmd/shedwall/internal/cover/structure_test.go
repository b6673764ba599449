package cover

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/quantity"
)

func is(v float64) figure.Of[float64] { return figure.Is(v, diag.Position{}, "source") }

func shedRow() catalog.Structure {
	return catalog.Structure{
		Cover:  catalog.Cover{ID: "shed", LightPercent: is(70), Vent: figure.Is[quantity.Celsius](30, diag.Position{}, ""), Weight: 17, Offered: true, Cell: diag.Position{File: "structures.csv", Line: 4}},
		Length: is(4.4), Width: is(2.5), Height: is(2.45), Floor: catalog.DryFloor, EdgeInsulated: true,
		Glazing: is(20), GlazingU: is(3.5), Faces: []catalog.Facing{catalog.FacesSouth, catalog.FacesSouth, catalog.FacesWest}, Tilt: is(60),
		Walls: is(25), WallsU: is(0.5), CalmChanges: is(0.5), Changes: is(1.25), WindyChanges: is(2), VentChanges: is(20),
		Water: is(1664), WaterArea: is(15), HeatW: is(1500), Thermostat: figure.Is[quantity.Celsius](5, diag.Position{}, ""),
	}
}

// A row gives the same house as its figures typed in; what is blank gets what the
// constants say; what is missing is named.
func TestHouseOf(t *testing.T) {
	s := shedRow()
	h, missing := HouseOf(&s)
	want := glazedShed(3.5)
	if len(missing) > 0 || h.Air-26.95 > 1e-9 || h.Glazing != want.Glazing || h.Light != want.Light || h.WallsUA != want.WallsUA || h.Changes != want.Changes ||
		h.Water != want.Water || h.Watts != want.Watts || !h.Controlled || h.Thermostat != 5 || h.Vent != 30 || h.VentChanges != 20 {
		t.Errorf("%v %+v", missing, h)
	}
	s.WaterArea, s.CalmChanges, s.WindyChanges, s.Tilt, s.SecondU = figure.Of[float64]{}, figure.Of[float64]{}, figure.Of[float64]{}, figure.Of[float64]{}, is(3)
	if h, _ = HouseOf(&s); math.Abs(h.WaterArea-14.976) > 1e-9 || h.Changes != [3]float64{2.5, 1.25, 0.625} || h.Tilt != 90 || math.Abs(h.SecondLight-0.7) > 1e-9 {
		t.Errorf("blanks: %+v", h)
	}
	s.Height, s.WallsU, s.Changes = figure.Of[float64]{}, figure.Of[float64]{}, figure.NotKnown[float64](diag.Position{})
	if _, missing = HouseOf(&s); !slices.Equal(missing, []string{"height_m", "walls_u_wm2k", "air_changes"}) {
		t.Errorf("missing %v", missing)
	}
}

// A structure is a cover like any other once a place's nights are known.
func TestBookWithStructures(t *testing.T) {
	tables := shed()
	s := shedRow()
	tables.Structures = []catalog.Structure{s, {Cover: catalog.Cover{ID: "half"}}, {Cover: catalog.Cover{ID: "unused"}}}
	tables.Covers = append(tables.Covers, s.Cover, catalog.Cover{ID: "half", Offered: true})
	book := NewBook(tables)
	if book.Gain("shed").Known || slices.Contains(book.Offered(tables), "shed") {
		t.Error("without weather no gain is known")
	}
	at := book.With(tables, midwinter(), nil)
	r := glazedShed(3.5).Report(midwinter())
	g := at.Gain("shed")
	if !g.Known || g.At.Line != 4 || g.Source != "own" || mathAbs(g.Low-r.Gain[Dull]) > 0.1 || mathAbs(g.High-r.Gain[Clear]) > 0.1 {
		t.Errorf("%+v, want %v", g, r.Gain)
	}
	if !slices.Contains(at.Offered(tables), "shed") || at.Gain("half").Known || at.Gain("unused").Known {
		t.Errorf("offered %v", at.Offered(tables))
	}
	if sum := at.Gain("shed+fabric"); !sum.Estimated || sum.Low < g.Low {
		t.Errorf("with a row cover inside: %+v", sum)
	}
	if book.Gain("shed").Known {
		t.Error("the book itself was changed")
	}
	near(t, "other covers are as they were", at.Gain("tunnel"), 1, 2, 3)
}

func mathAbs(k quantity.Kelvins) quantity.Kelvins { return max(k, -k) }

// The structures that come with the program, to be looked at: gains in order and of a
// size that covers have, in late spring and midwinter.
func TestBuiltInStructures(t *testing.T) {
	var faults diag.List
	tables := intake.Tables(os.DirFS("../../../.."), os.DirFS("../../../.."), &faults)
	if len(tables.Structures) < 10 {
		t.Fatalf("%d structures", len(tables.Structures))
	}
	for i := range tables.Structures {
		s := &tables.Structures[i]
		h, missing := HouseOf(s)
		if len(missing) > 0 {
			t.Errorf("%s lacks %s", s.ID, strings.Join(missing, ", "))
			continue
		}
		for _, w := range []Weather{lateSpring(), midwinter()} {
			r := h.Report(w)
			t.Logf("%-14s at %3.0f C: %5.1f %5.1f %5.1f K; peak %3.0f shut %3.0f open; water %.1f, heat %.1f, second skin %.1f K; %.1f kWh", s.ID, w.Min,
				r.Gain[0], r.Gain[1], r.Gain[2], r.PeakShut, r.PeakOpen, r.Water.Gain[HalfSun], r.Heat.Gain[HalfSun], r.SecondSkin.Gain[HalfSun], r.KWh[HalfSun])
			if !(r.Gain[Dull] <= r.Gain[HalfSun] && r.Gain[HalfSun] <= r.Gain[Clear]) || r.Gain[Dull] < 0 || r.Gain[Clear] > 35 {
				t.Errorf("%s: gains %v", s.ID, r.Gain)
			}
			if h.Watts == 0 && h.Water == 0 && w.Min == -2 && r.Gain[HalfSun] > 8 {
				t.Errorf("%s gains %.1f K unheated on a spring night", s.ID, r.Gain[HalfSun])
			}
		}
	}
}
