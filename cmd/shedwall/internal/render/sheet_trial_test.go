package render

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestLeastHeight: at no scale is a sheet lower than the height that is told from the
// lengths of its texts alone.
func TestLeastHeight(t *testing.T) {
	tried := 0
	for _, c := range sheetCases() {
		clean, err := cleanSheet(c.sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, area := range []sheetArea{printArea(), Letter.area(), A4.area()} {
			for _, m := range scales() {
				if m.runIn {
					continue
				}
				p, err := trialOf(textsOf(clean), area).plan(m, math.Inf(1))
				if err != nil {
					continue
				}
				tried++
				if fixed, least := p.fixed(), p.leastFixed(); least > fixed+lessThan {
					t.Errorf("%s, %s, scale %v: said to be at least %.2f mm without rows, and is %.2f", c.name, area.name, m.scale, least, fixed)
				}
				if rows, least := p.rowsNeed(), p.leastRows(); least > rows+lessThan {
					t.Errorf("%s, %s, scale %v: rows said to be at least %.2f mm, and are %.2f", c.name, area.name, m.scale, least, rows)
				}
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d plans were tried", tried)
	}
}

// TestSameScale: the scale chosen is the first that fits when each is worked out whole.
func TestSameScale(t *testing.T) {
	for _, c := range sheetCases() {
		clean, err := cleanSheet(c.sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, area := range []sheetArea{printArea(), Letter.area(), A4.area()} {
			got, _ := layoutSheet(c.sheet, area)
			var want *drawing
			for _, m := range scales() {
				if m.ownLane > 0 && clean.OwnDates == "" {
					continue
				}
				fresh := trialOf(textsOf(clean), area)
				if p, err := fresh.plan(m, math.Inf(1)); err == nil && p.fixed()+p.rowsNeed() <= fresh.room {
					want = p.draw()
					break
				}
			}
			if (got == nil) != (want == nil) {
				t.Errorf("%s, %s: fits %v, want %v", c.name, area.name, got != nil, want != nil)
				continue
			}
			if got == nil {
				continue
			}
			a, _ := got.play(newSVG("x", "x", got))
			b, _ := want.play(newSVG("x", "x", want))
			if string(a) != string(b) {
				t.Errorf("%s, %s: another drawing", c.name, area.name)
			}
		}
	}
}

// TestFitsA4 holds what Fitting relies on: the print page is as wide as A4 and lower.
func TestFitsA4(t *testing.T) {
	a, p := A4.area().box, printArea().box
	if a.x1-a.x0 != p.x1-p.x0 || a.y1-a.y0 < p.y1-p.y0+30 {
		t.Errorf("A4 %v, print page %v", a, p)
	}
}

// evenedPlainly breaks lines as evened does, step by step and word by word.
func evenedPlainly(s string, w weight, size, width, least float64) (lines []string, ok bool) {
	words := strings.FieldsFunc(s, func(r rune) bool { return r == ' ' })
	space := textWidth(" ", w, size)
	wrap := func(width float64) (lines []string, ok bool) {
		ok = true
		at := 0.0
		for i, word := range words {
			wide := textWidth(word, w, size)
			if i > 0 && at+space+wide <= width {
				at += space + wide
				lines[len(lines)-1] += " " + word
				continue
			}
			lines, at, ok = append(lines, word), wide, ok && wide <= width
		}
		return lines, ok
	}
	lines, ok = wrap(width)
	for narrow := width * 0.97; len(lines) > 1 && narrow > least; narrow *= 0.97 {
		even, fits := wrap(narrow)
		if !fits || len(even) > len(lines) {
			break
		}
		lines = even
	}
	return lines, ok
}

func TestEvenedAsPlainly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var text strings.Builder
		for range rapid.IntRange(0, 25).Draw(t, "words") {
			text.WriteString(rapid.SampledFrom([]string{"sow", "2", "Mar–8", "i", "aña", "Wednesday's", ""}).Draw(t, "word") + " ")
		}
		s := text.String()
		size := rapid.Float64Range(7, 14).Draw(t, "size")
		width := 1 + textWidth(s, bold, size)*rapid.Float64Range(0.1, 1.1).Draw(t, "share")
		least := width * rapid.SampledFrom([]float64{0.5, 0.92}).Draw(t, "least")
		got, ok := evened(s, bold, size, width, least)
		want, wantOK := evenedPlainly(s, bold, size, width, least)
		if ok != wantOK || !slices.Equal(got, want) {
			t.Errorf("%q, %v, want %q, %v", got, ok, want, wantOK)
		}
	})
}

// TestEvenedOnce: what was kept is what would be made again, beside others that differ in
// one thing alone, and once more have been kept than there is room for.
func TestEvenedOnce(t *testing.T) {
	const text = "Careful dates: harm in 1 year in 10. Half-and-half dates: harm in half the years."
	for i := range mostKept + 10 {
		size := 8 + float64(i%100)/50
		width := 40 + float64(i/100)
		for _, w := range []weight{regular, bold, regular} {
			got, ok := evenedOnce(text, w, size, width, width/2)
			if want, wantOK := evened(text, w, size, width, width/2); ok != wantOK || !slices.Equal(got, want) {
				t.Fatalf("%v, %v, %v: %q, want %q", w, size, width, got, want)
			}
		}
	}
	if n := len(keptLines.made); n > mostKept {
		t.Errorf("%d are kept", n)
	}
}
