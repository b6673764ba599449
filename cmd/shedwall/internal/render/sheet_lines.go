package render

import (
	"strings"
	"sync"
)

// wording is a printable text that has been measured once, in ems, and can be set at any
// size: sheets and leaves are tried at dozens of sizes and drawn at one.
type wording struct {
	text   string
	weight weight
	ems    float64 // length of the whole
	words  []wordAt
	even   bool // one blank between any two words
}

// wordAt is a word: text[from:to], and its length in ems.
type wordAt struct {
	from, to int32
	ems      float64
}

// wordRoom is where the words of many texts are kept side by side.
type wordRoom []wordAt

// measure takes a text apart into its words. They go into room, as far as it has any.
func measure(s string, w weight, room *wordRoom) wording {
	t := wording{text: s, weight: w, even: true}
	n := strings.Count(s, " ") + 1
	if len(*room) < n {
		*room = make([]wordAt, max(n, 200))
	}
	t.words, *room = (*room)[:0:n], (*room)[n:]
	for at := 0; at < len(s); {
		end := strings.IndexByte(s[at:], ' ')
		if end < 0 {
			end = len(s) - at
		}
		if end > 0 {
			if k := len(t.words); k > 0 && int(t.words[k-1].to)+1 < at {
				t.even = false
			}
			ems := textEms(s[at:at+end], w)
			t.words = append(t.words, wordAt{int32(at), int32(at + end), ems})
			t.ems += ems
		}
		at += end + 1
	}
	t.ems += float64(n-1) * blankEms(w)
	return t
}

// blankEms is the length of a blank in ems.
func blankEms(w weight) float64 { return faces[w].advances[' '] }

// width is textWidth of the whole.
func (t *wording) width(size float64) float64 { return widthOf(t.ems, size) }

// fitsLine says that the text stands on one line for sure. That it does not say so of one
// that just fills the line costs time alone.
func (t *wording) fitsLine(size, width float64) bool { return t.width(size) < width-lessThan }

// wrap breaks the text into lines of a given width. Appended to ends is the first word of
// the line after each; widest is the width of the widest line; ok is false where a single
// word is wider than the line.
func (t *wording) wrap(size, width float64, ends []int) (_ []int, widest float64, ok bool) {
	ok = true
	space := widthOf(blankEms(t.weight), size)
	at := 0.0
	for i := range t.words {
		w := widthOf(t.words[i].ems, size)
		if i > 0 && at+space+w <= width {
			at += space + w
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

// lines is how many lines balanced breaks the text into.
func (t *wording) lines(size, width float64) (lines int, ok bool) {
	if len(t.words) == 0 {
		return 0, true
	}
	if t.fitsLine(size, width) {
		return 1, true
	}
	var room [12]int
	ends, _, ok := t.wrap(size, width, room[:0])
	return len(ends), ok
}

// balanced breaks the text at blanks into the fewest lines no wider than width mm, and
// evens them out: no last line of a single word. ok is false where a single word is too
// wide.
func (t *wording) balanced(size, width float64) (lines []string, ok bool) {
	return t.evened(size, width, width/2)
}

// evened breaks the text into the fewest lines and evens them out as far as least mm.
func (t *wording) evened(size, width, least float64) (lines []string, ok bool) {
	var room [2][12]int
	ends, ok := t.breaks(size, width, least, &room)
	return linesOf(t.text, t.words, t.even, ends), ok
}

// breaks is where evened breaks lines: the first word of the line after each. The places
// go into room, as far as it has any.
func (t *wording) breaks(size, width, least float64, room *[2][12]int) (ends []int, ok bool) {
	ends, widest, ok := t.wrap(size, width, room[0][:0])
	spare := room[1][:0]
	for narrow := width * 0.97; len(ends) > 1 && narrow > least; narrow *= 0.97 {
		if widest <= narrow {
			continue // the lines are no wider as they are, and would break where they do
		}
		even, wide, fits := t.wrap(size, narrow, spare)
		if !fits || len(even) > len(ends) {
			break
		}
		ends, spare, widest = even, ends[:0], wide
	}
	return ends, ok
}

// linesOf is the lines of a text, one blank between any two words.
func linesOf(text string, words []wordAt, even bool, ends []int) []string {
	if len(ends) == 0 {
		return nil
	}
	lines := make([]string, 0, len(ends))
	from := 0
	for _, end := range ends {
		line := text[words[from].from:words[end-1].to]
		if !even {
			for i, w := range words[from:end] {
				if word := text[w.from:w.to]; i == 0 {
					line = word
				} else {
					line += " " + word
				}
			}
		}
		lines = append(lines, line)
		from = end
	}
	return lines
}

// balanced is the same for a text that is set once.
func balanced(s string, w weight, size, width float64) (lines []string, ok bool) {
	return evened(s, w, size, width, width/2)
}

// filled is balanced for running text: lines stay at least 0.92 of the width, so that
// a paragraph of two lines is not set as a narrow column.
func filled(s string, w weight, size, width float64) (lines []string, ok bool) {
	return evenedOnce(s, w, size, width, width*0.92)
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

func evened(s string, w weight, size, width, least float64) (lines []string, ok bool) {
	var words [96]wordAt
	var ends [2][12]int
	room := wordRoom(words[:])
	t := measure(s, w, &room)
	at, ok := t.breaks(size, width, least, &ends)
	return linesOf(s, t.words, t.even, at), ok
}

// setText fits a text into a width: first at the wanted size, then smaller down
// to floor, then on more lines at the floor size. ok is false when more lines
// than allowed are needed or a word is too wide.
func setText(s string, w weight, want, floor, width float64, maxLines int) (lines []string, size float64, ok bool) {
	if size, ok = oneLine(textWidth(s, w, want), want, floor, width); ok {
		return []string{s}, size, true
	}
	lines, ok = balanced(s, w, floor, width)
	return lines, floor, ok && len(lines) <= maxLines
}

// set is the same for a text that has been measured.
func (t *wording) set(want, floor, width float64, maxLines int) (lines []string, size float64, ok bool) {
	if size, ok = oneLine(t.width(want), want, floor, width); ok {
		return []string{t.text}, size, true
	}
	lines, ok = t.balanced(floor, width)
	return lines, floor, ok && len(lines) <= maxLines
}

// oneLine is the size from want down to floor at which a text of full mm at the wanted
// size stands on one line, if there is one.
func oneLine(full, want, floor, width float64) (size float64, ok bool) {
	if full <= width {
		return want, true
	}
	shrunk := want * width / full * 0.999
	return shrunk, shrunk >= floor
}

// phraseMark stands between the phrases of a row's dates.
const phraseMark = " · "

// setPhrases sets dates on at most two lines, broken between phrases ("sow 6
// Mar-8 Apr · pick 10 May on") where they let it; on three where two are not enough,
// as in languages of longer words.
func setPhrases(s string, size, width float64) (lines []string, set float64, ok bool) {
	if textWidth(s, regular, size) <= width { // as one line in any case: blanks are alike
		return []string{strings.ReplaceAll(s, "\u00a0", " ")}, size, true
	}
	phrases := strings.Split(s, phraseMark)
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
