package render

import (
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

// TestLetterOfBarFromTheEdge: a bar that begins with the calendar, which leaves no room before
// it, has its letter where it begins; one that begins later has it before, solid as it is.
func TestLetterOfBarFromTheEdge(t *testing.T) {
	m := measuresAt(1, false)
	cal := calendar{x0: 50, x1: 150, days: 366}
	for _, k := range []page.BarKind{page.BarInside, page.BarSetOut} {
		for x0, inside := range map[float64]bool{50: true, 80: false} {
			b := placedBar{x0: x0, x1: 130}
			b.Kind, b.Letter = k, "S"
			var taken [maxLanes][]span
			if !b.settle(&m, cal, &taken) || b.inside != inside || b.letter.a > x0+5 {
				t.Errorf("kind %d from %v: inside %v at %v, want inside %v near the beginning", k, x0, b.inside, b.letter, inside)
			}
		}
	}
}
