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
}

// lastRune ends the letters that are looked up: the Go fonts hold Latin, Greek,
// Cyrillic and signs, all below it.
const lastRune = 0x2700

// glyph is a letter's measures; its zero where the face has no such letter.
func (f *typeface) glyph(r rune) glyph {
	if r < 0 || r >= lastRune {
		return glyph{}
	}
	return f.glyphs[r]
}

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
	}
	return face, nil
}

var plainSigns = strings.NewReplacer("\u202f", "\u00a0", "\u2009", "\u00a0", "\u2011", "-", "\n", " ", "\t", " ")

// printable brings a text to the letters the faces have: composed accents, and
// plain signs for typographic blanks and hyphens. A sign that is still missing is
// an error: a box on paper would be read as a printing fault.
func printable(s string) (string, error) {
	s = norm.NFC.String(strings.TrimSpace(s))
	s = plainSigns.Replace(s)
	for _, r := range s {
		if !faces()[regular].glyph(r).there || !faces()[bold].glyph(r).there {
			return "", fmt.Errorf("the sheet's type has no sign for %q in %q", r, s)
		}
	}
	return s, nil
}

// textWidth is how far a text moves the pen, in mm, at a size in points.
func textWidth(s string, w weight, size float64) float64 {
	var ems float64
	f := faces()[w]
	for _, r := range s {
		ems += f.glyph(r).advance
	}
	return ems * size * point
}

// inkExtent is how far the ink of a text reaches above and below its line, in mm.
func inkExtent(s string, w weight, size float64) (above, below float64) {
	f := faces()[w]
	for _, r := range s {
		g := f.glyph(r)
		above, below = max(above, g.above), max(below, g.below)
	}
	return above * size * point, below * size * point
}

// capHeight is the height of a capital letter of both faces, in ems.
const capHeight = 1480.0 / 2048

// paragraph is a text ready to be broken into lines: its words and their widths in mm.
type paragraph struct {
	list   []string
	widths []float64
	space  float64
}

func paragraphOf(s string, w weight, size float64) paragraph {
	out := paragraph{space: textWidth(" ", w, size)}
	for _, word := range strings.Split(s, " ") {
		if word != "" {
			out.list = append(out.list, word)
			out.widths = append(out.widths, textWidth(word, w, size))
		}
	}
	return out
}

// wrap counts the lines of a given width. ends holds the first word of the line
// after each; ok is false where a single word is wider than the line.
func (t paragraph) wrap(width float64) (ends []int, ok bool) {
	ok = true
	at := 0.0
	for i, w := range t.widths {
		if i > 0 && at+t.space+w <= width {
			at += t.space + w
			continue
		}
		if i > 0 {
			ends = append(ends, i)
		}
		at = w
		ok = ok && w <= width
	}
	if len(t.list) > 0 {
		ends = append(ends, len(t.list))
	}
	return ends, ok
}

// balanced breaks a text at blanks into the fewest lines no wider than width mm,
// and evens them out: no last line of a single word. ok is false where a single
// word is too wide.
func balanced(s string, w weight, size, width float64) (lines []string, ok bool) {
	return evened(s, w, size, width, width/2)
}

// filled is balanced for running text: lines stay at least 0.92 of the width, so that
// a paragraph of two lines is not set as a narrow column.
func filled(s string, w weight, size, width float64) (lines []string, ok bool) {
	return evened(s, w, size, width, width*0.92)
}

// evened breaks a text into the fewest lines and evens them out as far as least mm.
func evened(s string, w weight, size, width, least float64) (lines []string, ok bool) {
	t := paragraphOf(s, w, size)
	ends, ok := t.wrap(width)
	for narrow := width * 0.97; len(ends) > 1 && narrow > least; narrow *= 0.97 {
		even, fits := t.wrap(narrow)
		if !fits || len(even) > len(ends) {
			break
		}
		ends = even
	}
	from := 0
	for _, end := range ends {
		lines = append(lines, strings.Join(t.list[from:end], " "))
		from = end
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

// setPhrases sets dates on at most two lines, broken between phrases ("sow 6
// Mar-8 Apr · pick 10 May on") where they let it; on three where two are not enough,
// as in languages of longer words.
func setPhrases(s string, size, width float64) (lines []string, set float64, ok bool) {
	phrases := strings.Split(s, " · ")
	for i, p := range phrases {
		phrases[i] = strings.ReplaceAll(p, " ", "\u00a0")
	}
	whole := strings.Join(phrases, "\u00a0· ")
	if lines, set, ok = setText(whole, regular, size, size, width, 2); !ok {
		if lines, set, ok = setText(s, regular, size, size, width, 2); ok {
			return lines, set, ok
		}
		if lines, set, ok = setText(whole, regular, size, size, width, 3); !ok {
			return setText(s, regular, size, size, width, 3)
		}
	}
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], "\u00a0", " ")
	}
	return lines, set, true
}
