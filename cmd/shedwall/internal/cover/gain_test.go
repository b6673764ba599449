package cover

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

func gains(low, typical, high quantity.Kelvins, cell diag.Position) catalog.Gain {
	of := func(v quantity.Kelvins) figure.Of[quantity.Kelvins] { return figure.Is(v, cell, "source") }
	g := catalog.Gain{Low: of(low), Typical: of(typical), High: of(high)}
	g.Typical.Cell.Column = 2
	return g
}

// Cells of the tunnel's low and typical gain.
var (
	tunnelCell  = diag.Position{File: "covers.csv", Line: 4}
	typicalCell = diag.Position{File: "covers.csv", Line: 4, Column: 2}
)

// shed is an invented set of covers: gains in kelvins, weight of work.
func shed() *catalog.Tables {
	none := catalog.Gain{}
	return &catalog.Tables{
		Covers: []catalog.Cover{
			{ID: "house", Weight: 9, Offered: true, Gain: gains(1, 3, 5, diag.Position{Line: 2})},
			{ID: "fabric", Weight: 2, Offered: true, Gain: gains(0.5, 1.5, 2, diag.Position{Line: 3})},
			{ID: "tunnel", Weight: 5, Offered: true, Gain: gains(1, 2, 3, tunnelCell)},
			{ID: "laid", Weight: 1, Offered: true, Touches: true, Gain: gains(-0.5, 1, 2, diag.Position{Line: 5})},
			{ID: "straw", Weight: 1, Offered: true, Gain: none},
			{ID: "heated", Weight: 20, Gain: gains(12, 14, 16, diag.Position{Line: 6})},
			{ID: "half_known", Weight: 3, Offered: true, Gain: catalog.Gain{Low: figure.Is(quantity.Kelvins(1), diag.Position{}, "")}},
		},
		Layers: []catalog.Layers{
			{ID: "tunnel+fabric", Measured: true, Offered: true, Gain: gains(2, 2.5, 4, diag.Position{File: "layers.csv", Line: 2})},
			{ID: "house+tunnel", Offered: true},
			{ID: "house+fabric", Offered: true, Gain: gains(2, 4, 6, diag.Position{File: "layers.csv", Line: 4})},
			{ID: "tunnel+straw", Offered: true},
			{ID: "house+laid"},
		},
	}
}

func near(t *testing.T, name string, g Gain, low, typical, high float64) {
	t.Helper()
	if math.Abs(float64(g.Low)-low)+math.Abs(float64(g.Typical)-typical)+math.Abs(float64(g.High)-high) > 1e-9 {
		t.Errorf("%s: %.4f %.4f %.4f, want %.4f %.4f %.4f", name, g.Low, g.Typical, g.High, low, typical, high)
	}
}

// Expected by hand from the gains in shed; caps 5, 8, 12 F = 2.7778, 4.4444, 6.6667 K
// (published for a film house with an inner film).
func TestGain(t *testing.T) {
	b := NewBook(shed())

	g := b.Gain("")
	near(t, "open ground", g, 0, 0, 0)
	if !g.Known || len(g.Parts) != 0 {
		t.Errorf("open ground: %+v", g)
	}

	g = b.Gain("tunnel")
	near(t, "one cover", g, 1, 2, 3)
	if !g.Measured || g.Estimated || g.Capped || g.At != tunnelCell || g.AtTypical != typicalCell || g.Source != "source" {
		t.Errorf("one cover: %+v", g)
	}

	g = b.Gain("house+tunnel") // a row without gains is no row: 1 + 1, 3 + 2 = 5 > 4.4444, 5 + 3 = 8 > 6.6667
	near(t, "in series", g, 2, 8/1.8, 12/1.8)
	if g.Measured || !g.Estimated || !g.Capped {
		t.Errorf("in series: %+v", g)
	}
	if want := []Part{{"house", 1, 3, diag.Position{Line: 2}, diag.Position{Line: 2, Column: 2}}, {"tunnel", 1, 2, tunnelCell, typicalCell}}; !reflect.DeepEqual(g.Parts, want) {
		t.Errorf("parts %+v, want %+v", g.Parts, want)
	}

	g = b.Gain("tunnel+fabric+fabric") // 1 + 0.5 + 0.5, 2 + 1.5 + 1.5 = 5 capped, 3 + 2 + 2 = 7 capped
	near(t, "three covers", g, 2, 8/1.8, 12/1.8)

	g = b.Gain("tunnel+fabric")
	near(t, "a measured row wins over 1.5, 3.5, 5", g, 2, 2.5, 4)
	if !g.Measured || g.Estimated || g.At.File != "layers.csv" {
		t.Errorf("measured row: %+v", g)
	}
	// The measured row beside what would be worked out: 1 + 0.5, 2 + 1.5, 3 + 2 K.
	g = b.InSeries("tunnel+fabric")
	near(t, "worked out all the same", g, 1.5, 3.5, 5)
	if g.Measured || !g.Estimated || len(g.Parts) != 2 {
		t.Errorf("worked out beside a measured row: %+v", g)
	}
	g = b.Gain("house+fabric")
	near(t, "so does a row with gains that nobody measured", g, 2, 4, 6)
	if g.Measured || !g.Estimated {
		t.Errorf("stated row: %+v", g)
	}

	near(t, "touching leaves: nothing, and no less than nothing", b.Gain("laid"), -0.5, 0, 0)
	near(t, "touching as innermost layer adds nothing", b.Gain("house+laid"), 0.5, 3, 5)
	near(t, "under another layer it does not touch", b.Gain("laid+tunnel"), 0.5, 3, 5)

	g = b.Gain("heated+fabric") // one cover alone passes the cap: what it gives stays
	near(t, "a cap is no loss", g, 12, 14, 16)
	if !g.Capped {
		t.Error("the cap should be told")
	}
	for _, id := range []string{"straw", "tunnel+straw", "half_known", "nobody", "tunnel+nobody"} {
		if g := b.Gain(id); !reflect.DeepEqual(g, Gain{}) {
			t.Errorf("%s: %+v, want not known", id, g)
		}
	}
}

// By weight of the heaviest cover, then by how many covers, then by id; only what is
// offered and known, each once, and not in the order of the tables.
func TestOffered(t *testing.T) {
	tables := shed()
	tables.Layers = append(tables.Layers, catalog.Layers{ID: "fabric", Offered: true})
	want := []string{"laid", "fabric", "tunnel", "tunnel+fabric", "house", "house+fabric", "house+tunnel"}
	if got := NewBook(tables).Offered(tables); !slices.Equal(got, want) {
		t.Errorf("offered %v, want %v", got, want)
	}
	slices.Reverse(tables.Covers)
	slices.Reverse(tables.Layers)
	if got := NewBook(tables).Offered(tables); !slices.Equal(got, want) {
		t.Errorf("with the tables turned round %v, want %v", got, want)
	}
	if got := NewBook(&catalog.Tables{}).Offered(&catalog.Tables{}); len(got) != 0 {
		t.Errorf("nothing to offer: %v", got)
	}
}

func TestWork(t *testing.T) {
	b := NewBook(shed())
	for _, c := range [][2]string{{"", "laid"}, {"fabric", "tunnel"}, {"tunnel", "tunnel+fabric"}, {"tunnel+fabric", "house"}, {"house", "house+fabric"}} {
		if b.Work(c[0]) >= b.Work(c[1]) {
			t.Errorf("%q should be less work than %q: %d, %d", c[0], c[1], b.Work(c[0]), b.Work(c[1]))
		}
	}
}

// Covers that help alone never help less together than the best of them, nor more
// than their sum; the low end is never above the typical one, nor that above the
// high; what is found first does not matter.
func TestTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var tables catalog.Tables
		ids, best, sum := "", Gain{}, Gain{}
		for i := range rapid.IntRange(2, 4).Draw(t, "covers") {
			low := quantity.Kelvins(rapid.Float64Range(0, 6).Draw(t, "low"))
			typical := low + quantity.Kelvins(rapid.Float64Range(0, 6).Draw(t, "typical above"))
			high := typical + quantity.Kelvins(rapid.Float64Range(0, 6).Draw(t, "high above"))
			id := string(rune('a' + i))
			tables.Covers = append(tables.Covers, catalog.Cover{ID: id, Gain: gains(low, typical, high, diag.Position{})})
			if ids != "" {
				ids += "+"
			}
			ids += id
			best.Low, best.Typical, best.High = max(best.Low, low), max(best.Typical, typical), max(best.High, high)
			sum.Low, sum.Typical, sum.High = sum.Low+low, sum.Typical+typical, sum.High+high
		}
		g := NewBook(&tables).Gain(ids)
		if g.Low < best.Low || g.Typical < best.Typical || g.High < best.High {
			t.Fatalf("together %+v, the best alone %+v", g, best)
		}
		if g.Low > sum.Low || g.Typical > sum.Typical || g.High > sum.High {
			t.Fatalf("together %+v, the sum %+v", g, sum)
		}
		if g.Low > g.Typical || g.Typical > g.High {
			t.Fatalf("out of order: %+v", g)
		}
	})
}
