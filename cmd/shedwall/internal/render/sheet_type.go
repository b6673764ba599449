package render

import (
	"fmt"
	"strings"

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

// typeface is the measures of one face. Texts are measured a hundred times for each that
// is drawn, and the letters of most lie in a few lines of cache.
type typeface struct {
	advances [lastRune]float64 // how far a letter moves the pen, in ems
	inks     [lastRune]ink
}

// ink is how far a letter's ink reaches above and below the line (below is positive
// downwards), in units of the font.
type ink struct {
	there        bool
	above, below int16
}

// lastRune ends the letters that are looked up: the Go fonts hold Latin, Greek,
// Cyrillic and signs, all below it.
const lastRune = 0x2700

// has says whether the face has a letter.
func (f *typeface) has(r rune) bool { return uint32(r) < lastRune && f.inks[r].there }

// faces are the two faces, and plainLetters the letters that stay as they are in any text:
// both faces have them, and they are neither replaced nor put together with others.
var faces, plainLetters = func() (out [2]*typeface, plain *[lastRune]bool) {
	plain = new([lastRune]bool)
	for w, letters := range ready.letters {
		f := &typeface{}
		for _, l := range letters {
			if l.letter < ' ' {
				continue // a glyph, but no letter
			}
			f.advances[l.letter] = float64(l.advance) / unitsPerEm
			f.inks[l.letter] = ink{true, l.above, l.below}
			plain[l.letter] = l.plain
		}
		out[w] = f
	}
	return out, plain
}()

var plainSigns = strings.NewReplacer("\u202f", "\u00a0", "\u2009", "\u00a0", "\u2011", "-", "\n", " ", "\t", " ")

// printable brings a text to the letters the faces have: composed accents, and
// plain signs for typographic blanks and hyphens. A sign that is still missing is
// an error: a box on paper would be read as a printing fault.
func printable(s string) (string, error) {
	s = strings.TrimSpace(s)
	plain := true
	for _, r := range s {
		if uint32(r) >= lastRune || !plainLetters[r] {
			plain = false
			break
		}
	}
	if plain {
		return s, nil
	}
	s = plainSigns.Replace(norm.NFC.String(s))
	for _, r := range s {
		if !faces[regular].has(r) || !faces[bold].has(r) {
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
	f := &faces[w].advances
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
	f := faces[w]
	var up, down int16
	for _, r := range s {
		if uint32(r) < lastRune {
			g := &f.inks[r]
			up, down = max(up, g.above), max(down, g.below)
		}
	}
	return float64(up) / unitsPerEm, float64(down) / unitsPerEm
}

// headInks is the ink of a high letter in ems, which every first line keeps room for.
var headInks = func() (out [2]float64) {
	for w := range out {
		out[w], _ = inkEms("Ál", weight(w))
	}
	return out
}()

// headInk is the room above the line of a first line, in mm.
func headInk(w weight, size float64) float64 { return headInks[w] * size * point }

// capHeight is the height of a capital letter of both faces, in ems.
const capHeight = 1480.0 / 2048
