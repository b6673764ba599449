package render

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
	"math"
	"slices"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// TestTrimKeepsOutlines: without hint programs every glyph has the same outline and
// width as before, and the font is smaller.
func TestTrimKeepsOutlines(t *testing.T) {
	for name, ttf := range map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF} {
		bare, err := trimFont(ttf)
		if err != nil {
			t.Fatal(name, err)
		}
		if len(bare) > len(ttf)*2/3 {
			t.Errorf("%s: %d bytes of %d left", name, len(bare), len(ttf))
		}
		a, err := sfnt.Parse(ttf)
		if err != nil {
			t.Fatal(name, err)
		}
		b, err := sfnt.Parse(bare)
		if err != nil {
			t.Fatal(name, err)
		}
		if a.NumGlyphs() != b.NumGlyphs() {
			t.Fatalf("%s: %d glyphs, want %d", name, b.NumGlyphs(), a.NumGlyphs())
		}
		var ba, bb sfnt.Buffer
		em := fixed.I(2048)
		for i := range a.NumGlyphs() {
			x := sfnt.GlyphIndex(i)
			one, err1 := a.LoadGlyph(&ba, x, em, nil)
			two, err2 := b.LoadGlyph(&bb, x, em, nil)
			if err1 != nil || err2 != nil || !slices.Equal(one, two) {
				t.Fatalf("%s: glyph %d differs (%v, %v)", name, i, err1, err2)
			}
			w1, _ := a.GlyphAdvance(&ba, x, em, 0)
			w2, _ := b.GlyphAdvance(&bb, x, em, 0)
			if w1 != w2 {
				t.Fatalf("%s: glyph %d is %v wide, want %v", name, i, w2, w1)
			}
		}
	}
}

// TestTrimRefusesDamage: a font cut off anywhere is an error or a font, never a panic.
func TestTrimRefusesDamage(t *testing.T) {
	ttf := goregular.TTF
	for n := 0; n < len(ttf); n += 997 {
		if _, err := trimFont(ttf[:n]); err == nil {
			t.Fatalf("a font cut off after %d of %d bytes was taken", n, len(ttf))
		}
	}
}

// TestWOFF unpacks the packed font by the recommendation's header and finds every
// table of the subset unchanged.
func TestWOFF(t *testing.T) {
	ttf, err := subsetFont(bold, "Kale ñ 0–9")
	if err != nil {
		t.Fatal(err)
	}
	want, err := fontTables(ttf)
	if err != nil {
		t.Fatal(err)
	}
	woff, err := packWOFF(ttf)
	if err != nil {
		t.Fatal(err)
	}
	u32 := func(at int) int { return int(binary.BigEndian.Uint32(woff[at:])) }
	if string(woff[:4]) != "wOFF" || u32(8) != len(woff) || u32(16) != len(ttf) {
		t.Errorf("header: %q, length %d of %d, unpacked %d of %d", woff[:4], u32(8), len(woff), u32(16), len(ttf))
	}
	n := int(binary.BigEndian.Uint16(woff[12:]))
	if n != len(want) {
		t.Fatalf("%d tables, want %d", n, len(want))
	}
	for i := range n {
		e := 44 + 20*i
		tag, at, packed, size := string(woff[e:e+4]), u32(e+4), u32(e+8), u32(e+12)
		data := woff[at : at+packed]
		if packed < size {
			z, err := zlib.NewReader(bytes.NewReader(data))
			if err != nil {
				t.Fatal(tag, err)
			}
			if data, err = io.ReadAll(z); err != nil {
				t.Fatal(tag, err)
			}
		}
		if len(data) != size || !bytes.Equal(data, want[tag]) {
			t.Errorf("table %q is not the one packed", tag)
		}
		if at%4 != 0 {
			t.Errorf("table %q begins at %d, not on a word", tag, at)
		}
	}
}

// TestTypeHasSigns: both faces hold the letters of English, Spanish and their
// neighbours, and the signs a guide uses.
func TestTypeHasSigns(t *testing.T) {
	const text = "AaZz09 áéíóúñüÁÉÍÓÚÑÜ¿¡«» àâçèêëîïôœÿ äöüßÄÖÜ åøæ čěřšžů łąęćńśźż ±°–—·×½¼¾≤≥→′″−…“”‘’†"
	if _, err := printable(text); err != nil {
		t.Error(err)
	}
	if got, err := printable(" n\u0303 1\u202f000\u2011x "); err != nil || got != "ñ 1\u00a0000-x" {
		t.Errorf("%q, %v", got, err)
	}
	if _, err := printable("小"); err == nil {
		t.Error("a sign that the type lacks was taken")
	}
}

// TestTextWidth: a digit is 1139 of 2048 units wide in the font's own table (hmtx), so
// ten digits at 10 points are 10 x 10 x 1139/2048 points = 19.62 mm.
func TestTextWidth(t *testing.T) {
	if got, want := textWidth("0123456789", regular, 10), 100*1139.0/2048*25.4/72; math.Abs(got-want) > 1e-9 {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestBalanced(t *testing.T) {
	const text = "one two three four five six seven"
	full := textWidth(text, regular, 10)
	lines, ok := balanced(text, regular, 10, full*0.95)
	if !ok || len(lines) != 2 || textWidth(lines[1], regular, 10) < 0.35*full {
		t.Errorf("%q, %v: the last line is short", lines, ok)
	}
	if _, ok := balanced("one incomprehensibilities", regular, 10, 20); ok {
		t.Error("a word wider than the line was taken")
	}
	if lines, ok := balanced("", regular, 10, 20); !ok || lines != nil {
		t.Errorf("no text gave %q, %v", lines, ok)
	}
	// By phrase: the break falls at the dot although more words would fit before it.
	dates := "sow 6 Mar–8 Apr · pick 10 May on"
	lines, _, ok = setPhrases(dates, 8, textWidth("sow 6 Mar–8 Apr · pick 10", regular, 8))
	if want := []string{"sow 6 Mar–8 Apr ·", "pick 10 May on"}; !ok || !slices.Equal(lines, want) {
		t.Errorf("%q, want %q", lines, want)
	}
}
