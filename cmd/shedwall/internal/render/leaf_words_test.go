package render

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// TestMeasured: a measured text is as long as its letters one after the other, to the last
// digit, and takes as many lines as are drawn.
func TestMeasured(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.SampledFrom([]rune("  abcñWi.,–·0123456789\u00a0")), 0, 120, -1).Draw(t, "text")
		w := weight(rapid.IntRange(0, 1).Draw(t, "weight"))
		size := rapid.Float64Range(6, 20).Draw(t, "size")
		var room wordRoom
		words := measure(text, w, &room)
		if want := textEms(text, w); words.ems != want {
			t.Fatalf("%v ems, want %v", words.ems, want)
		}
		for _, width := range []float64{words.width(size), words.width(size) / 2, 12} {
			got, gotOK := words.lines(size, width)
			lines, ok := balanced(text, w, size, width)
			if len(strings.TrimSpace(text)) > 0 && (got != len(lines) || gotOK != ok) {
				t.Errorf("%q in %v mm: %d lines (%v), drawn %d (%v)", text, width, got, gotOK, len(lines), ok)
			}
		}
	})
}

// TestRunningCountsLines: what is counted to lay a leaf out is what is drawn.
func TestRunningCountsLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		letters := rapid.StringOfN(rapid.SampledFrom([]rune("  abcñWi.,–·0123456789/")), 0, 80, -1)
		var m leafMeasurer
		words := m.running(letters.Draw(t, "lead"), letters.Draw(t, "text"))
		size := rapid.Float64Range(6, 20).Draw(t, "size")
		all := words.lead.width(size) + words.text.width(size) + widthOf(blankEms(regular), size)
		for _, width := range []float64{all, all / 2, 15} {
			var rows []lineRun
			drawn, err := words.rowsOf(size, width, &rows)
			counted, err2 := words.rowsOf(size, width, nil)
			if counted != drawn || (err == nil) != (err2 == nil) || err == nil && drawn != len(byLine(rows)) {
				t.Errorf("%d lines (%v), drawn %d (%v)", counted, err2, drawn, err)
			}
		}
	})
}

// TestRoomier: halving finds what trying one after the other would.
func TestRoomier(t *testing.T) {
	for _, c := range leafCases() {
		l, err := MeasureLeaf(c.leaf)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []float64{leastLeafScale, 0.9, 0.95, 1} {
			m := leafMeasuresAt(s)
			plan, err := l.fit(A4.leafArea(), &m)
			if err != nil {
				continue
			}
			want := plan
			for more := 1.4; more > 0.05; more -= 0.1 {
				roomy := m
				roomy.rowPad += more
				if p, err := l.fit(A4.leafArea(), &roomy); err == nil {
					want = p
					break
				}
			}
			if got := l.roomier(A4.leafArea(), plan); got.m.rowPad != want.m.rowPad {
				t.Errorf("%s at %v: %v mm beside the words of a row, want %v", c.name, s, got.m.rowPad, want.m.rowPad)
			}
		}
	}
}

// TestPlainLetters: a text of letters that are taken as they are comes out of printable's
// long way unchanged too.
func TestPlainLetters(t *testing.T) {
	n := 0
	for r, plain := range plainLetters {
		if !plain {
			continue
		}
		n++
		// With a sign that sends the whole text the long way round.
		got, err := printable("a" + string(rune(r)) + "e\u2011")
		if want := "a" + string(rune(r)) + "e-"; err != nil || got != want || utf8.RuneCountInString(got) != 4 {
			t.Errorf("%q: %q, want %q (%v)", rune(r), got, want, err)
		}
	}
	if n < 400 {
		t.Errorf("only %d letters are plain", n)
	}
}
