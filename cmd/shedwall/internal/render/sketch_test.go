package render

import (
	"math"
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

// TestSketchesLieOnTheirPaper: every drawing has lines, stays on its paper with half a
// heavy line to spare, and is light enough to stand on a page of sixteen.
func TestSketchesLieOnTheirPaper(t *testing.T) {
	for id := range sketches {
		s, ok := sketchOf(id, "")
		if !ok || len(s.lines) < 4 {
			t.Errorf("%s: %d lines are no drawing", id, len(s.lines))
			continue
		}
		bytes := 0
		for _, p := range s.paths() {
			bytes += len(p.D)
		}
		if bytes > 3500 { // sixteen of them stay far below half of a page's 100 kB
			t.Errorf("%s: %d bytes", id, bytes)
		}
		for _, l := range s.lines {
			for _, p := range l.pts {
				if math.IsNaN(p.x) || math.IsNaN(p.y) || p.x < l.w/2 || p.x > sketchWidth-l.w/2 || p.y < l.w/2 || p.y > sketchHeight-l.w/2 {
					t.Errorf("%s: a line reaches %.0f, %.0f", id, p.x, p.y)
				}
			}
		}
	}
}

// TestSketchOfKind: a publisher's own cover is drawn as its kind; no kind, no drawing.
func TestSketchOfKind(t *testing.T) {
	for _, kind := range []string{"fabric", "film", "glass", "mulch"} {
		own, ok := sketchOf("my_cover", kind)
		builtin, _ := sketchOf(sketchKinds[kind], "")
		if !ok || !slices.EqualFunc(own.paths(), builtin.paths(), func(a, b sketchPath) bool { return a == b }) {
			t.Errorf("%s is not drawn as %s", kind, sketchKinds[kind])
		}
	}
	if _, ok := sketchOf("my_cover", "paper"); ok {
		t.Error("a kind that is none has a drawing")
	}
	v := &viewer{from: "covers/x.html"}
	if v.sketch(page.Drawing{ID: "my_cover", Kind: "paper"}, "x"); v.err == nil {
		t.Error("no error for a drawing that is not there")
	}
}
