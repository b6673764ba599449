package render

import (
	"bytes"
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
