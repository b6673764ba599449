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
type glyph struct{ advance, above, below float64 }

// typeface is one face: the font file without hint programs, and its measures.
type typeface struct {
	name   string
	ttf    []byte
	glyphs map[rune]glyph
}

// faces are the two faces, read once. The fonts are compiled in, so that a
// failure is our own bug.
var faces = sync.OnceValue(func() [2]*typeface {
	load := func(name string, ttf []byte) *typeface {
		f, err := loadFace(name, ttf)
		if err != nil {
			panic("render: " + err.Error())
		}
		return f
	}
	return [2]*typeface{load("Go Regular", goregular.TTF), load("Go Bold", gobold.TTF)}
})

func loadFace(name string, ttf []byte) (*typeface, error) {
	trimmed, err := trimFont(ttf)
	if err != nil {
		return nil, err
	}
	f, err := sfnt.Parse(trimmed)
	if err != nil {
		return nil, err
	}
	face := &typeface{name: name, ttf: trimmed, glyphs: map[rune]glyph{}}
	var buf sfnt.Buffer
	em := fixed.I(int(f.UnitsPerEm()))
	ems := func(v fixed.Int26_6) float64 { return float64(v) / float64(em) }
	for r := rune(0x20); r < 0x3000; r++ { // the Go fonts hold Latin, Greek, Cyrillic and signs
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
		face.glyphs[r] = glyph{ems(adv), ems(-b.Min.Y), ems(b.Max.Y)}
	}
	return face, nil
}

// printable brings a text to the letters the faces have: composed accents, and
// plain signs for typographic blanks and hyphens. A sign that is still missing is
// an error: a box on paper would be read as a printing fault.
func printable(s string) (string, error) {
	s = norm.NFC.String(strings.TrimSpace(s))
	s = strings.NewReplacer("\u202f", "\u00a0", "\u2009", "\u00a0", "\u2011", "-", "\n", " ", "\t", " ").Replace(s)
	for _, r := range s {
		if _, ok := faces()[regular].glyphs[r]; !ok {
			return "", fmt.Errorf("the sheet's type has no sign for %q in %q", r, s)
		}
	}
	return s, nil
}

// textWidth is how far a text moves the pen, in mm, at a size in points.
func textWidth(s string, w weight, size float64) float64 {
	var ems float64
	g := faces()[w].glyphs
	for _, r := range s {
		ems += g[r].advance
	}
	return ems * size * point
}

// inkExtent is how far the ink of a text reaches above and below its line, in mm.
func inkExtent(s string, w weight, size float64) (above, below float64) {
	g := faces()[w].glyphs
	for _, r := range s {
		above, below = max(above, g[r].above), max(below, g[r].below)
	}
	return above * size * point, below * size * point
}

// capHeight is the height of a capital letter of both faces, in ems.
const capHeight = 1480.0 / 2048

// wrapText breaks a text at blanks into lines no wider than width mm. A single
// word that is wider stays on a line of its own, and ok is false.
func wrapText(s string, w weight, size, width float64) (lines []string, ok bool) {
	ok = true
	var line string
	for _, word := range strings.Split(s, " ") {
		if word == "" {
			continue
		}
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if line != "" && textWidth(longer, w, size) > width {
			lines = append(lines, line)
			longer = word
		}
		if textWidth(longer, w, size) > width {
			ok = false
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines, ok
}

// balanced breaks a text like wrapText, then evens out the lines: no last line
// of a single word.
func balanced(s string, w weight, size, width float64) (lines []string, ok bool) {
	lines, ok = wrapText(s, w, size, width)
	if len(lines) < 2 {
		return lines, ok
	}
	for narrow := width * 0.96; narrow > width/2; narrow *= 0.96 {
		even, fits := wrapText(s, w, size, narrow)
		if !fits || len(even) > len(lines) {
			break
		}
		lines = even
	}
	return lines, ok
}

// setText fits a text into a width: first at the wanted size, then smaller down
// to floor, then on more lines at the floor size. ok is false when more lines
// than allowed are needed or a word is too wide.
func setText(s string, w weight, want, floor, width float64, maxLines int) (lines []string, size float64, ok bool) {
	full := textWidth(s, w, want)
	if full <= width {
		return []string{s}, want, true
	}
	if shrunk := want * width / full * 0.999; shrunk >= floor {
		return []string{s}, shrunk, true
	}
	lines, ok = balanced(s, w, floor, width)
	return lines, floor, ok && len(lines) <= maxLines
}
