package render

import (
	"fmt"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

// point is one typographic point in mm.
const point = 25.4 / 72

// weight picks one of the two faces of a sheet.
type weight uint8

const (
	regular weight = iota
	bold
)

// glyph is the extent of one letter in ems: how far it moves the pen, and how
// far its ink reaches above and below the line (below is positive downwards).
type glyph struct {
	there                 bool
	advance, above, below float64
}

// typeface is one face: the font file without hint programs, and its measures.
type typeface struct {
	ttf    []byte
	glyphs [lastRune]glyph

	// The advances of glyphs once more, side by side: texts are measured a hundred times
	// for each that is drawn, and the letters of most lie in a few lines of cache so.
	advances [lastRune]float64
}

// lastRune ends the letters that are looked up: the Go fonts hold Latin, Greek,
// Cyrillic and signs, all below it.
const lastRune = 0x2700

// has says whether the face has a letter.
func (f *typeface) has(r rune) bool { return uint32(r) < lastRune && f.glyphs[r].there }

// faces are the two faces, read once. The fonts are compiled in, so that a
// failure is our own bug.
var faces = sync.OnceValue(func() [2]*typeface {
	load := func(ttf []byte) *typeface {
		f, err := loadFace(ttf)
		if err != nil {
			panic("render: " + err.Error())
		}
		return f
	}
	return [2]*typeface{load(goregular.TTF), load(gobold.TTF)}
})

func loadFace(ttf []byte) (*typeface, error) {
	trimmed, err := trimFont(ttf)
	if err != nil {
		return nil, err
	}
	f, err := sfnt.Parse(trimmed)
	if err != nil {
		return nil, err
	}
	face := &typeface{ttf: trimmed}
	var buf sfnt.Buffer
	em := fixed.I(int(f.UnitsPerEm()))
	ems := func(v fixed.Int26_6) float64 { return float64(v) / float64(em) }
	for r := rune(0x20); r < lastRune; r++ {
		id, err := f.GlyphIndex(&buf, r)
		if err != nil {
			return nil, err
		}
		if id == 0 {
			continue
		}
		b, adv, err := f.GlyphBounds(&buf, id, em, font.HintingNone)
		if err != nil {
			return nil, err
		}
		face.glyphs[r] = glyph{true, ems(adv), ems(-b.Min.Y), ems(b.Max.Y)}
		face.advances[r] = ems(adv)
	}
	return face, nil
}

var plainSigns = strings.NewReplacer("\u202f", "\u00a0", "\u2009", "\u00a0", "\u2011", "-", "\n", " ", "\t", " ")

// plainLetters is the letters that stay as they are in any text: both faces have them, and
// they are neither replaced nor put together with others.
var plainLetters = sync.OnceValue(func() *[lastRune]bool {
	var out [lastRune]bool
	fs := faces()
	for r := range rune(lastRune) {
		if s := string(r); fs[regular].has(r) && fs[bold].has(r) && plainSigns.Replace(s) == s {
			out[r] = norm.NFC.IsNormalString(s) && norm.NFC.PropertiesString(s).BoundaryBefore()
		}
	}
	return &out
})

// printable brings a text to the letters the faces have: composed accents, and
// plain signs for typographic blanks and hyphens. A sign that is still missing is
// an error: a box on paper would be read as a printing fault.
func printable(s string) (string, error) {
	s = strings.TrimSpace(s)
	known, plain := plainLetters(), true
	for _, r := range s {
		if uint32(r) >= lastRune || !known[r] {
			plain = false
			break
		}
	}
	if plain {
		return s, nil
	}
	fs := faces()
	s = plainSigns.Replace(norm.NFC.String(s))
	for _, r := range s {
		if !fs[regular].has(r) || !fs[bold].has(r) {
			return "", fmt.Errorf("the sheet's type has no sign for %q in %q", r, s)
		}
	}
	return s, nil
}

// textWidth is how far a text moves the pen, in mm, at a size in points.
func textWidth(s string, w weight, size float64) float64 {
	return textEms(s, w) * size * point
}

// textEms is how far a text moves the pen, in ems: its width at any size by textWidth's
// one multiplication.
//
// Advances are whole 2048ths, so that sums of them are exact: the lengths of a text's
// words and blanks make the length of the text to the last digit.
func textEms(s string, w weight) (ems float64) {
	f := &faces()[w].advances
	for _, r := range s {
		if uint32(r) < lastRune {
			ems += f[r]
		}
	}
	return ems
}

// inkExtent is how far the ink of a text reaches above and below its line, in mm.
func inkExtent(s string, w weight, size float64) (above, below float64) {
	above, below = inkEms(s, w)
	return above * size * point, below * size * point
}

// inkEms is the same in ems.
func inkEms(s string, w weight) (above, below float64) {
	f := faces()[w]
	for _, r := range s {
		if uint32(r) < lastRune {
			g := &f.glyphs[r]
			above, below = max(above, g.above), max(below, g.below)
		}
	}
	return above, below
}

// headInks is the ink of a high letter in ems, which every first line keeps room for.
var headInks = sync.OnceValue(func() (out [2]float64) {
	for w := range out {
		out[w], _ = inkEms("Ál", weight(w))
	}
	return out
})

// headInk is the room above the line of a first line, in mm.
func headInk(w weight, size float64) float64 { return headInks()[w] * size * point }

// capHeight is the height of a capital letter of both faces, in ems.
const capHeight = 1480.0 / 2048
