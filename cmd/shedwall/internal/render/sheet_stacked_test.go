package render

import (
	"testing"

	"shedwall/cmd/shedwall/internal/page"
)

// Two freeze lines two days apart leave no place where a label keeps off the other's line:
// each label gets a row of its own, over its own line, within the calendar.
func TestLabelsOfLinesCloseTogether(t *testing.T) {
	m := &measures{mark: 10}
	cal := calendar{x0: 60, x1: 200, days: 366}
	marks := []page.SheetMark{{At: 19, Label: "careful last freeze 20 Jan"}, {At: 21, Label: "careful first freeze 22 Jan"}}
	placed, rows, err := placeMarks(marks, m, cal)
	if err != nil || rows < 2 || len(placed) != 2 {
		t.Fatalf("%d labels in %d rows, %v", len(placed), rows, err)
	}
	if placed[0].row == placed[1].row {
		t.Error("two labels stand in one row, one upon the other")
	}
	for i, p := range placed {
		if p.Label != marks[i].Label || p.box.a < cal.x0 || p.box.b > cal.x1 || p.x < p.box.a-1 || p.x > p.box.b+1 {
			t.Errorf("%q stands from %.1f to %.1f, its line at %.1f", p.Label, p.box.a, p.box.b, p.x)
		}
	}
	if _, _, err := placeMarks(marks, m, calendar{x0: 60, x1: 80, days: 366}); err == nil {
		t.Error("labels wider than the calendar find room")
	}
}
