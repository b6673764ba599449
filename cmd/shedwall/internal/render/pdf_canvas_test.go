package render

import (
	"fmt"
	"strings"
	"testing"
)

// A box to tick is one line around it, whose outer edge is the box's; other canvases draw its
// four sides.
func TestBoxIsOneLine(t *testing.T) {
	c := newPDF(A4, pdfFacts{})
	box := rect{20, 30, 24, 34}
	d := &drawing{width: A4.Width, height: A4.Height, to: c}
	d.frame(box, strokes{role: roleGrid, width: 0.4, decor: true})
	var x, y, wide, high float64
	line := ""
	for l := range strings.Lines(string(c.out)) {
		if strings.HasSuffix(l, " re\n") {
			line = l
		}
	}
	if _, err := fmt.Sscanf(line, "%f %f %f %f re", &x, &y, &wide, &high); err != nil {
		t.Fatalf("%q: %v", c.out, err)
	}
	half, hundredth := 0.4/point/2, 0.011
	for _, e := range []struct {
		name      string
		got, want float64
	}{
		{"left", x - half, box.x0 / point}, {"right", x + wide + half, box.x1 / point},
		{"bottom", y - half, (A4.Height - box.y1) / point}, {"top", y + high + half, (A4.Height - box.y0) / point},
	} {
		if e.got < e.want-hundredth || e.got > e.want+hundredth {
			t.Errorf("%s at %.2f points, want %.2f", e.name, e.got, e.want)
		}
	}
	if strings.Contains(string(c.out), " l\n") {
		t.Errorf("sides are drawn one by one:\n%s", c.out)
	}
	kept := &drawing{}
	kept.frame(box, strokes{width: 0.4})
	if s := kept.marks[0].(strokes); len(s.segs) != 4 {
		t.Errorf("kept with %d sides", len(s.segs))
	}
}
