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

// printable brings a text to the letters the faces have: composed accents, and
// plain signs for typographic blanks and hyphens. A sign that is still missing is
// an error: a box on paper would be read as a printing fault.
func printable(s string) (string, error) {
	s = norm.NFC.String(strings.TrimSpace(s))
	fs := faces()
	// Most texts have nothing to be replaced and lack no sign: one pass tells.
	plain := true
	for _, r := range s {
		if !fs[regular].has(r) || !fs[bold].has(r) || r == '\u202f' || r == '\u2009' || r == '\u2011' {
			plain = false
			break
		}
	}
	if plain {
		return s, nil
	}
	s = plainSigns.Replace(s)
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
func textEms(s string, w weight) float64 { return addEms(0, s, w) }

// addEms is the same for a text that follows another, whose length it adds to letter by
// letter: the sum is the one that the whole text would give, to the last digit.
func addEms(ems float64, s string, w weight) float64 {
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

// paragraph is a text ready to be broken into lines: where its words stand in it, and
// their widths in mm. Texts are broken far more often than drawn, at size after size, so
// nothing here is copied or allocated before the lines are known.
type paragraph struct {
	text  string
	words []wordAt
	space float64
	even  bool // one blank between any two words, none elsewhere between them
}

// wordAt is a word: text[from:to].
type wordAt struct {
	from, to int
	width    float64
}

// paragraphOf takes a text apart. The words go into room, from its start.
func paragraphOf(s string, w weight, size float64, room []wordAt) paragraph {
	t := paragraph{text: s, words: room[:0], space: textWidth(" ", w, size), even: true}
	for at := 0; at < len(s); {
		end := strings.IndexByte(s[at:], ' ')
		if end < 0 {
			end = len(s) - at
		}
		if end > 0 {
			if n := len(t.words); n > 0 && t.words[n-1].to+1 < at {
				t.even = false
			}
			t.words = append(t.words, wordAt{at, at + end, textWidth(s[at:at+end], w, size)})
		}
		at += end + 1
	}
	return t
}

// wrap breaks the text into lines of a given width. Appended to ends is the first word of
// the line after each; widest is the width of the widest line; ok is false where a single
// word is wider than the line.
func (t *paragraph) wrap(width float64, ends []int) (_ []int, widest float64, ok bool) {
	ok = true
	at := 0.0
	for i := range t.words {
		w := t.words[i].width
		if i > 0 && at+t.space+w <= width {
			at += t.space + w
			widest = max(widest, at)
			continue
		}
		if i > 0 {
			ends = append(ends, i)
		}
		at = w
		widest = max(widest, at)
		ok = ok && w <= width
	}
	if len(t.words) > 0 {
		ends = append(ends, len(t.words))
	}
	return ends, widest, ok
}

// line is the words from first to before after, one blank between them.
func (t *paragraph) line(first, after int) string {
	if t.even {
		return t.text[t.words[first].from:t.words[after-1].to]
	}
	var b strings.Builder
	for i := first; i < after; i++ {
		if i > first {
			b.WriteByte(' ')
		}
		b.WriteString(t.text[t.words[i].from:t.words[i].to])
	}
	return b.String()
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
	return evenedOnce(s, w, size, width, width*0.92)
}

// linesNeeded is how many lines balanced breaks a text into.
func linesNeeded(s string, w weight, size, width float64) (lines int, ok bool) {
	if strings.IndexByte(s, ' ') < 0 {
		if s == "" {
			return 0, true
		}
		return 1, textWidth(s, w, size) <= width
	}
	var words [48]wordAt
	t := paragraphOf(s, w, size, words[:])
	var room [12]int
	ends, _, ok := t.wrap(width, room[:0])
	return len(ends), ok
}

// keptLines are paragraphs that were broken into lines. The same lead and foot stand on
// every sheet of a band, on each at several papers, and are tried for each row that a
// sheet may or may not take.
var keptLines struct {
	sync.Mutex
	made map[brokenText][]string
}

// brokenText is a text and all that its lines depend on.
type brokenText struct {
	text               string
	weight             weight
	size, width, least float64
}

// mostKept is how many are kept: more than a band has, at all its sizes.
const mostKept = 2000

// evenedOnce is evened for a paragraph that will be asked for again. The lines are not to
// be changed.
func evenedOnce(s string, w weight, size, width, least float64) (lines []string, ok bool) {
	key := brokenText{s, w, size, width, least}
	keptLines.Lock()
	lines, ok = keptLines.made[key]
	keptLines.Unlock()
	if ok {
		return lines, true
	}
	if lines, ok = evened(s, w, size, width, least); !ok {
		return lines, false
	}
	keptLines.Lock()
	defer keptLines.Unlock()
	if keptLines.made == nil || len(keptLines.made) >= mostKept {
		keptLines.made = map[brokenText][]string{}
	}
	keptLines.made[key] = lines
	return lines, true
}

// evened breaks a text into the fewest lines and evens them out as far as least mm.
func evened(s string, w weight, size, width, least float64) (lines []string, ok bool) {
	var words [48]wordAt
	t := paragraphOf(s, w, size, words[:])
	var room [2][12]int
	ends, widest, ok := t.wrap(width, room[0][:0])
	spare := room[1][:0]
	for narrow := width * 0.97; len(ends) > 1 && narrow > least; narrow *= 0.97 {
		if widest <= narrow {
			continue // the lines are no wider as they are, and would break where they do
		}
		even, wide, fits := t.wrap(narrow, spare)
		if !fits || len(even) > len(ends) {
			break
		}
		ends, spare, widest = even, ends[:0], wide
	}
	if len(ends) > 0 {
		lines = make([]string, 0, len(ends))
	}
	from := 0
	for _, end := range ends {
		lines = append(lines, t.line(from, end))
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
	if textWidth(s, regular, size) <= width { // as one line in any case: blanks are alike
		return []string{strings.ReplaceAll(s, "\u00a0", " ")}, size, true
	}
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
