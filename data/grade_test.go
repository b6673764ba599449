package data

import (
	"encoding/csv"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The fixed text of pages is to be read by anyone who left school at fourteen: at most
// US grade 8 by Flesch and Kincaid (Kincaid and others 1975, Research Branch Report 8-75):
//
//	grade = 0.39 x words / sentences + 11.8 x syllables / words - 15.59
//
// Counted are phrases of words.csv that are sentences: they end with a full stop, a
// question mark or an exclamation mark, and have four words or more; labels, headings and names are
// not. Phrases of one kind of page, which share the first part of their key, are
// counted together, as a reader meets them. What is put in ({date}, {band}) counts as a
// word of two syllables, a figure as one of one. Trade terms count as they are. No single phrase may be over mostPhrase: one sentence that nobody
// can follow is not made good by easy ones around it.
const (
	mostGrade  = 8.0
	mostPhrase = 12.0
)

func TestFixedTextIsPlain(t *testing.T) {
	f, err := os.Open("builtin/words.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	type phrase struct {
		key  string
		read reading
	}
	kinds := map[string][]phrase{}
	for _, row := range rows[1:] {
		kind, _, _ := strings.Cut(row[0], ".")
		if tableText[kind] {
			continue // notes of built-in tables: their own rule is their source's
		}
		if r := readingOf(row[1]); r.sentences > 0 {
			kinds[kind] = append(kinds[kind], phrase{row[0], r})
			if g := r.grade(); g > mostPhrase && r.words > 8 {
				t.Errorf("%s: grade %.1f: %s", row[0], g, row[1])
			}
		}
	}
	var names []string
	for kind := range kinds {
		names = append(names, kind)
	}
	slices.Sort(names)
	for _, kind := range names {
		var all reading
		for _, p := range kinds[kind] {
			all.add(p.read)
		}
		if all.sentences < 2 {
			continue // one sentence is no page
		}
		if g := all.grade(); g > mostGrade {
			slices.SortFunc(kinds[kind], func(a, b phrase) int { return int(100 * (b.read.weight() - a.read.weight())) })
			worst := ""
			for _, p := range kinds[kind][:min(4, len(kinds[kind]))] {
				worst += fmt.Sprintf("; %s %.1f", p.key, p.read.grade())
			}
			t.Errorf("%s: grade %.1f over %d sentences%s", kind, g, all.sentences, worst)
		} else {
			t.Logf("%s: grade %.1f over %d sentences", kind, g, all.sentences)
		}
	}
}

// tableText is the first parts of the keys of texts that stand in tables.
var tableText = map[string]bool{"crop_note": true, "source": true, "hazard": true, "layers": true, "structure": true, "pot": true, "logged": true}

// reading is what the formula counts.
type reading struct{ sentences, words, syllables int }

func (r *reading) add(o reading) {
	r.sentences += o.sentences
	r.words += o.words
	r.syllables += o.syllables
}

func (r reading) grade() float64 {
	return 0.39*float64(r.words)/float64(r.sentences) + 11.8*float64(r.syllables)/float64(r.words) - 15.59
}

// weight is how much a phrase lifts the grade of its page.
func (r reading) weight() float64 { return (r.grade() - mostGrade) * float64(r.words) }

var (
	slot     = regexp.MustCompile(`\{[a-z_]+\}`)
	endOf    = regexp.MustCompile(`[.!?]+(?:\s|$)`)
	wordOf   = regexp.MustCompile(`[A-Za-z0-9][A-Za-z0-9'’.,-]*`)
	vowels   = regexp.MustCompile(`[aeiouy]+`)
	silentE  = regexp.MustCompile(`[^aeiouyl]e$|[^aeiouytd]ed$|[^aeiouyscxz]es$`)
	isFigure = regexp.MustCompile(`^[0-9]`)
)

// readingOf counts the sentences of a text. A colon or semicolon ends none.
func readingOf(text string) reading {
	if !strings.ContainsAny(text, ".?!") {
		return reading{}
	}
	var out reading
	for _, s := range endOf.Split(slot.ReplaceAllString(text, "early"), -1) {
		words := wordOf.FindAllString(s, -1)
		if len(words) < 4 {
			continue
		}
		out.sentences++
		out.words += len(words)
		for _, w := range words {
			out.syllables += syllables(w)
		}
	}
	return out
}

func syllables(word string) int {
	if isFigure.MatchString(word) {
		return 1
	}
	n := 0
	for part := range strings.SplitSeq(strings.ToLower(strings.Trim(word, ".,'’")), "-") {
		k := len(vowels.FindAllString(part, -1))
		if silentE.MatchString(part) && k > 1 {
			k--
		}
		n += max(1, k)
	}
	return n
}

// TestReading: by hand. "The cat sat on the mat. It was a warm night." has 11 words and
// 11 syllables in 2 sentences: 0.39 x 5.5 + 11.8 - 15.59 = -1.645.
func TestReading(t *testing.T) {
	r := readingOf("The cat sat on the mat. It was a warm night.")
	if r != (reading{2, 11, 11}) {
		t.Errorf("%+v", r)
	}
	if g := r.grade(); g < -1.66 || g > -1.63 {
		t.Errorf("grade %.3f", g)
	}
	for word, want := range map[string]int{"frost": 1, "temperature": 4, "harvest": 2, "covered": 2, "planted": 2, "table": 2, "places": 2, "frames": 1, "sow": 1, "half-and-half": 3, "1995": 1} {
		if got := syllables(word); got != want {
			t.Errorf("%s: %d, want %d", word, got, want)
		}
	}
}
