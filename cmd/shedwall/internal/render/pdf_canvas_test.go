package render

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// TestGlyphsInStrings reads texts back from the operators as ISO 32000-1, 7.3.4.2 has
// strings: a bare end of line of any kind counts as LF, a backslash quotes what follows.
// In both faces E, F, y, ' and * have the numbers of such signs: ( ) \ LF CR.
func TestGlyphsInStrings(t *testing.T) {
	for w := range pdfGlyphs() {
		const text = "EFy'* \u2014 ()\u0141" // the last is a rare letter
		c := newPDF(A4, pdfFacts{})
		c.text(run{size: 8, weight: weight(w), s: text})
		_, drawn, ok := bytes.Cut(c.out, []byte(" Td\n("))
		if !ok {
			t.Fatalf("%q", c.out)
		}
		var read []byte
	string:
		for i := 0; ; i++ {
			b := drawn[i]
			switch {
			case b == ')':
				if rest := string(drawn[i:]); rest != ") Tj\nET\n" {
					t.Errorf("weight %d: after the string comes %q", w, rest)
				}
				break string
			case b == '(' || b == '\r' || b == '\n':
				t.Fatalf("weight %d: a bare %q in %q", w, b, drawn)
			case b == '\\':
				i++
				if b = drawn[i]; b == 'n' {
					b = '\n'
				} else if b == 'r' {
					b = '\r'
				}
			}
			read = append(read, b)
		}
		var want []byte
		signs := map[byte]bool{}
		for _, r := range text {
			id := pdfFaces()[w].GlyphIndex(r)
			want = append(want, byte(id>>8), byte(id))
			signs[byte(id)] = true
		}
		if !bytes.Equal(read, want) {
			t.Errorf("weight %d: read %x, want %x", w, read, want)
		}
		for _, b := range []byte("()\\\n\r") {
			if !signs[b] {
				t.Errorf("weight %d: no glyph of the text has the number of %q", w, b)
			}
		}
		if string(c.rare[w]) != "\u0141" {
			t.Errorf("weight %d: the rare letters are %q", w, c.rare[w])
		}
	}
}

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
