// Package words says everything that pages say: fixed phrases in the guide's
// language, plurals, dates, numbers and temperatures. It exists so that no page
// holds a phrase or a rounding rule of its own. A language is a column of
// words.csv; a phrase that a language lacks is shown as its key and listed, and
// never taken from another language in silence.
package words

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/diag"
)

// Entry is one row of words.csv.
type Entry struct {
	Key    string
	Text   map[string]string // language -> phrase, with {name} where something is put in
	Review map[string]string // language -> "reviewed", "unreviewed" or ""
	Cell   diag.Position
}

// Units says which units are printed.
type Units uint8

// Both prints Celsius with Fahrenheit behind it, and metres with feet.
const (
	Both Units = iota
	CelsiusOnly
	FahrenheitOnly
)

// Book is the phrases of one language. It may be used by several goroutines.
type Book struct {
	language string
	units    Units
	text     map[string]phrase
	plural   func(n int) string

	known   map[string]bool // every key of words.csv, with a text in this language or without
	mu      sync.Mutex
	missing map[string]bool

	dates, datesShort dayWords
}

// NewBook makes the book of one language. Phrases that are blank in that
// language, and phrases that put in something the English one does not know,
// are told to faults. A guide that names no language is told so where its settings are
// read; its phrases are the English ones then, and not one fault each.
func NewBook(entries []Entry, language string, units Units, faults *diag.List) *Book {
	if language == "" {
		language = "en"
	}
	b := &Book{language: language, units: units, text: map[string]phrase{}, known: map[string]bool{}, missing: map[string]bool{}}
	rule, ok := pluralRules[language]
	if !ok {
		rule = pluralRules["en"]
		faults.Add(diag.Fault{At: diag.Position{File: "data/guide.csv"}, ID: "words-language", Severity: diag.Warning,
			What:     fmt.Sprintf("there is no rule for plurals in the language %q", language),
			Expected: "one of " + strings.Join(languages(), ", "), Cure: `one and many are told apart as in English`})
	}
	b.plural = rule
	blanks := 0
	spoken := slices.ContainsFunc(entries, func(e Entry) bool { return e.Text[language] != "" })
	if !spoken && len(entries) > 0 {
		faults.Add(diag.Fault{At: diag.Position{File: "data/guide.csv"}, ID: "words-no-language",
			What:     fmt.Sprintf("words.csv has no phrase in the language %q", language),
			Expected: "one of the languages that words.csv has a column for: " + strings.Join(spokenIn(entries), ", "),
			Cure:     fmt.Sprintf("add a column %s to your data/words.csv and translate the phrases, or take the language out of guide.csv", language)})
	}
	for _, e := range entries {
		b.known[e.Key] = true
		text := e.Text[language]
		if text == "" && !spoken {
			continue
		}
		if text == "" {
			if blanks++; blanks <= mostTold {
				faults.Add(diag.Fault{At: e.Cell, ID: "words-missing", Severity: diag.Warning,
					What:     fmt.Sprintf("the phrase %q has no text in the language %q", e.Key, language),
					Expected: fmt.Sprintf("a translation of %q", e.Text["en"]), Cure: "write it; until then pages show the key"})
			}
			continue
		}
		if extra := strange(text, e.Text["en"]); extra != "" && e.Text["en"] != "" {
			faults.Add(diag.Fault{At: e.Cell, ID: "words-placeholder",
				What:     fmt.Sprintf("the phrase %q puts in {%s}, which nothing fills", e.Key, extra),
				Expected: "only what stands in braces in the English phrase", Cure: "mend the name in braces"})
			continue
		}
		b.text[e.Key] = phraseOf(text)
	}
	tellRest(faults, "words-missing", language, blanks)
	b.tellPaper(faults)
	return b
}

// mostTold is how many gaps of a language are told one by one; of more, how many there
// are is told once.
const mostTold = 20

func tellRest(faults *diag.List, id, language string, n int) {
	if n > mostTold {
		faults.Add(diag.Fault{At: diag.Position{File: "data/words.csv"}, ID: id, Severity: diag.Warning,
			What: fmt.Sprintf("%d texts in all are missing in the language %q; the first %d are told one by one", n, language, mostTold),
			Cure: fmt.Sprintf("fill the column %s of your data/words.csv", language)})
	}
}

// onPaper begin the phrases of what is printed and pinned up.
var onPaper = []string{"sheet.", "month.", "date", "days.", "tonight.", "worksheet.", "leaf.", "tasks.", "slips.", "fall."}

// tellPaper is a fault where a language lacks phrases of the printed sheets: keys in
// their place find no room there, and nobody could use them.
func (b *Book) tellPaper(faults *diag.List) {
	if len(b.text) == 0 {
		return // told already
	}
	var gaps []string
	for key := range b.known {
		if _, ok := b.text[key]; !ok && slices.ContainsFunc(onPaper, func(p string) bool { return strings.HasPrefix(key, p) }) {
			gaps = append(gaps, key)
		}
	}
	if len(gaps) == 0 {
		return
	}
	slices.Sort(gaps)
	faults.Add(diag.Fault{At: diag.Position{File: "data/words.csv"}, ID: "words-paper",
		What:     fmt.Sprintf("the language %q lacks %d phrases of the printed sheets: %s", b.language, len(gaps), strings.Join(gaps, " ")),
		Expected: "every phrase that is printed, before a language is published", Cure: fmt.Sprintf("fill them in, in the column %s of your data/words.csv", b.language)})
}

// Language is the two letters of the book's language.
func (b *Book) Language() string { return b.language }

// Has says whether there is a phrase for a key.
func (b *Book) Has(key string) bool { _, ok := b.text[key]; return ok }

// T is the phrase of a key. pairs are names and values for what stands in
// braces: T("band.where", "height", "680 m") fills {height}.
func (b *Book) T(key string, pairs ...string) string {
	p, ok := b.text[key]
	if !ok {
		b.mu.Lock()
		b.missing[key] = true
		b.mu.Unlock()
		return "[" + key + "]"
	}
	return p.filled(pairs)
}

// N is the phrase of a key for a number of things: key.one or key.other, as the
// language counts, with {n} filled by the number.
func (b *Book) N(key string, n int, pairs ...string) string {
	return b.T(key+"."+b.plural(n), append([]string{"n", b.Int(n)}, pairs...)...)
}

// Missing is every key that was asked for and is not there, sorted.
func (b *Book) Missing() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	out := make([]string, 0, len(b.missing))
	for k := range b.missing {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// Unknown is every key that was asked for and stands in no row of words.csv, sorted:
// a bug of the pages, or of a publisher's templates.
func (b *Book) Unknown() []string {
	return slices.DeleteFunc(b.Missing(), func(key string) bool { return b.known[key] })
}

// spokenIn is every language that entries have a text in, sorted.
func spokenIn(entries []Entry) []string {
	var out []string
	for _, e := range entries {
		for l, text := range e.Text {
			if text != "" && !slices.Contains(out, l) {
				out = append(out, l)
			}
		}
	}
	slices.Sort(out)
	return out
}

// strange is the first {name} of text that the English phrase does not have.
func strange(text, english string) string {
	for _, name := range Slots(text) {
		if !slices.Contains(Slots(english), name) {
			return name
		}
	}
	return ""
}

// Slots is the names in braces of a phrase, in order.
func Slots(text string) []string {
	var out []string
	for {
		_, after, ok := strings.Cut(text, "{")
		if !ok {
			return out
		}
		name, rest, ok := strings.Cut(after, "}")
		if !ok {
			return out
		}
		out, text = append(out, name), rest
	}
}

// And joins items as a list in words: "a, b and c".
func (b *Book) And(items ...string) string {
	if len(items) == 0 {
		return ""
	}
	if len(items) == 1 {
		return items[0]
	}
	last := len(items) - 1
	key := "list.and"
	if b.language == "es" && beginsWithI(items[last]) {
		key = "list.and.vowel"
	}
	return b.T(key, "items", strings.Join(items[:last], b.T("list.comma")+" "), "last", items[last])
}

// beginsWithI says whether a Spanish word begins with the sound of i, before which y
// is written e: "eneldo e hinojo", but "agua y hielo".
func beginsWithI(word string) bool {
	w := strings.ToLower(word)
	w, aspirated := strings.CutPrefix(w, "h")
	for _, i := range []string{"i", "í"} {
		if rest, ok := strings.CutPrefix(w, i); ok {
			return !aspirated || !strings.HasPrefix(rest, "e") && !strings.HasPrefix(rest, "a") && !strings.HasPrefix(rest, "o")
		}
	}
	return false
}

// Sentence begins s with a capital.
func Sentence(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// Int is a whole number with its groups of three set apart.
func (b *Book) Int(n int) string { return b.group(strconv.Itoa(n)) }

// Number is x with at most the given decimal places; ending zeros are dropped.
func (b *Book) Number(x float64, places int) string {
	s := strconv.FormatFloat(x, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	whole, part, found := strings.Cut(s, ".")
	s = b.group(whole)
	if found {
		s += b.T("number.decimal") + part
	}
	return s
}

// group sets thousands apart and writes a true minus sign.
func (b *Book) group(digits string) string {
	sign := ""
	if strings.HasPrefix(digits, "-") {
		sign, digits = "\u2212", digits[1:]
	}
	if len(digits) <= 3 {
		return sign + digits
	}
	sep := b.T("number.group")
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + sep + digits[i:]
	}
	return sign + digits
}
