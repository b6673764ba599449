package sitecheck

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// mostGrade is the school grade that is enough to read any text of the guide, after
// J. P. Kincaid, R. P. Fishburne, R. L. Rogers and B. S. Chissom, "Derivation of new
// readability formulas for Navy enlisted personnel", Research Branch Report 8-75, Naval
// Technical Training Command, 1975:
//
//	grade = 0.39 x words / sentences + 11.8 x syllables / words - 15.59
//
// Every text is held to it by itself, and so is every page. A text is a phrase of
// words.csv, a note of a built-in table or a paragraph of prose that holds a sentence of
// four words or more; labels, headings and cells of one or two words are none. No word
// is let off: names of crops and terms of the trade count as they are spoken.
const mostGrade = 8.0

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

var (
	endOfSentence = regexp.MustCompile(`[.!?]+["”’)*]*(?:\s|$)`)
	wordOfText    = regexp.MustCompile(`[A-Za-z0-9][A-Za-z0-9'’.,-]*`)
)

// readingOf counts the sentences of a text. Colons and semicolons end none, although the
// formula's authors let them; sentences under four words are left out, since they would
// make up for long ones.
func readingOf(text string) (out reading) {
	if !endOfSentence.MatchString(text) {
		return out
	}
	for _, sentence := range endOfSentence.Split(text, -1) {
		words := wordOfText.FindAllString(sentence, -1)
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

// typical is what stands on the demo's pages in the place of the slots of phrases: those
// of one line share a value.
var typical = map[string][]string{
	"12 May":             {"date", "from", "to", "first", "last", "half", "printed", "hand_from", "hand_to", "house_from", "house_to"},
	"12":                 {"n", "all", "base_n", "few", "full", "train", "missing", "next", "winters", "weeks", "spread", "colder", "warmer", "usable", "slow", "quick"},
	"5 days":             {"days", "fall", "spring", "hand_spring", "hand_fall", "house_spring", "house_fall"},
	"12 dates":           {"dates", "moved"},
	"80 km (50 miles)":   {"reach"},
	"28 °F (-2 °C)":      {"temp", "limit", "freeze", "hard", "ground", "soil", "base", "opens", "outside", "still", "windy", "middle", "usual", "tonight"},
	"2 °F (1 °C)":        {"diff", "degree", "keep", "margin", "most", "range"},
	"1 year in 10":       {"odds", "careful", "share"},
	"Ambrel Floor":       {"band", "bands"},
	"Ambrel Mill":        {"station", "stations", "event"},
	"Thessock Valley":    {"guide"},
	"Thessock Growers":   {"publisher"},
	"edition 3":          {"edition"},
	"K7QX":               {"code"},
	"tomato":             {"crop", "row"},
	"tomato and pepper":  {"crops", "names"},
	"sow outside":        {"action"},
	"low tunnel":         {"cover", "covers", "hand"},
	"high tunnel":        {"house"},
	"sow outside 12 May": {"rest", "give", "reason"},
	"from 12 to 15 June": {"after", "before"},
	"A":                  {"letter", "group", "column"},
	"100 m (330 ft)":     {"height"},
	"400 to 600 m":       {"heights"},
	"8 in the morning":   {"hour"},
	"60 km/h (37 mph)":   {"gust"},
	"floor and glazing":  {"figures"},
	"March and April":    {"months"},
	"April":              {"month"},
	"English":            {"language"},
	" (the 2023 map)":    {"map"},
	"12 reports":         {"reports", "safe", "harmed"},
	"28 and 4 make 24":   {"sums"},
	"°F":                 {"unit"},
	"an electrician":     {"who"},
	"6a":                 {"zone"},
	"office@example.org": {"contact"},
}

// filled is a phrase with typical values in its slots.
func filled(t *testing.T, key, phrase string) string {
	return slot.ReplaceAllStringFunc(phrase, func(s string) string {
		for value, names := range typical {
			if slices.Contains(names, strings.Trim(s, "{}")) {
				return value
			}
		}
		t.Errorf("%s: no typical value for %s", key, s)
		return s
	})
}

// pageOfTexts is the texts that a reader meets together.
type pageOfTexts struct {
	all   reading
	count int
}

// holdToGrade fails the test for each text, and each page, over mostGrade.
func holdToGrade(t *testing.T, pages map[string]*pageOfTexts, page, key, text string) {
	t.Helper()
	r := readingOf(text)
	if r.sentences == 0 {
		return
	}
	if pages[page] == nil {
		pages[page] = &pageOfTexts{}
	}
	pages[page].count++
	pages[page].all.add(r)
	if g := r.grade(); g > mostGrade {
		t.Errorf("%s: grade %.1f: %s", key, g, text)
	}
}

func holdPages(t *testing.T, pages map[string]*pageOfTexts) {
	t.Helper()
	texts := 0
	for _, page := range sorted(pages) {
		texts += pages[page].count
		g := pages[page].all.grade()
		t.Logf("%-30s grade %4.1f, %3d texts", page, g, pages[page].count)
		if g > mostGrade {
			t.Errorf("%s: grade %.1f", page, g)
		}
	}
	t.Logf("%d texts", texts)
}

// TestPhrasesArePlain: every English phrase of words.csv that holds a sentence; those
// whose keys begin alike stand on one kind of page.
func TestPhrasesArePlain(t *testing.T) {
	keys, phrases := column(t, "data/builtin/words.csv", "key"), column(t, "data/builtin/words.csv", "en")
	pages := map[string]*pageOfTexts{}
	for i, key := range keys {
		if !endOfSentence.MatchString(phrases[i]) {
			continue
		}
		kind, _, _ := strings.Cut(key, ".")
		holdToGrade(t, pages, kind, key, filled(t, key, phrases[i]))
	}
	holdPages(t, pages)
}

// measure is a figure with its unit, and the same in another unit after it. Notes of
// tables hold many; Flesch (1949) leaves figures out where a text has many, since they
// are looked up and not read. One short word stands for each here.
var measure = regexp.MustCompile(`-?\d[\d.,/]*(?:(?:-| to | and |–)-?\d[\d.,]*)*(?: ?(?:°[CF]|%|g/m²|g/m2|oz|cm|inches|in|m|ft|W)\b)?(?: \([^()]*\d[^()]*\))?`)

// TestNotesArePlain: every note and caution of the built-in tables.
func TestNotesArePlain(t *testing.T) {
	pages := map[string]*pageOfTexts{}
	for _, c := range [][3]string{{"crops", "crop", "note"}, {"covers", "cover", "note"}, {"hazards", "hazard", "caution"}, {"layers", "layers", "note"},
		{"structures", "structure", "note"}, {"pots", "pot", "note"}, {"logged", "logged", "note"}} {
		file := "data/builtin/" + c[0] + ".csv"
		ids, notes := column(t, file, c[1]), column(t, file, c[2])
		for i, id := range ids {
			holdToGrade(t, pages, c[0], file+" "+id, measure.ReplaceAllString(notes[i], "ten"))
		}
	}
	holdPages(t, pages)
}

var (
	markdownBlock = regexp.MustCompile(`\n\s*\n|\n(?:[-*]|\d+\.) |\s*\|\s*`)
	markdownLink  = regexp.MustCompile(`!?\[([^\]]*)\]\([^)]*\)`)
)

// TestProseIsPlain: every paragraph of the demo's English Markdown.
func TestProseIsPlain(t *testing.T) {
	pages := map[string]*pageOfTexts{}
	top := filepath.Join(proof.Root(t), "content")
	err := filepath.WalkDir(top, func(name string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(name) != ".md" {
			return err
		}
		rel, _ := filepath.Rel(top, name)
		rel = filepath.ToSlash(rel)
		if strings.HasPrefix(rel, "es/") {
			return nil
		}
		b, err := os.ReadFile(name)
		for _, text := range markdownBlock.Split("\n"+string(b), -1) {
			if text = strings.TrimLeft(strings.Join(strings.Fields(strings.ReplaceAll(markdownLink.ReplaceAllString(text, "$1"), "**", "")), " "), "-> "); !strings.HasPrefix(text, "#") {
				holdToGrade(t, pages, rel, rel, text)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(pages) < 20 {
		t.Errorf("only %d texts were read", len(pages))
	}
	holdPages(t, pages)
}

// TestReading: by hand. "The cat sat on the mat. It was a warm night." has 11 words and
// 11 syllables in 2 sentences: 0.39 x 5.5 + 11.8 - 15.59 = -1.645. A text that is not
// plain is found.
func TestReading(t *testing.T) {
	r := readingOf("The cat sat on the mat. It was a warm night.")
	if r != (reading{2, 11, 11}) {
		t.Errorf("%+v", r)
	}
	if g := r.grade(); g < -1.646 || g > -1.644 {
		t.Errorf("grade %.3f", g)
	}
	// 12 words, 12+... syllables: un-til, tem-per-a-ture, pro-tec-tion, ad-di-tion-al, in-su-la-tion
	hard := "Until temperature recovers, additional insulation provides necessary protection for establishing transplants."
	if g := readingOf(hard).grade(); g < 16 {
		t.Errorf("grade %.1f of a hard sentence", g)
	}
	if r := readingOf("careful last freeze"); r.sentences != 0 {
		t.Errorf("a label counts as %+v", r)
	}
}
