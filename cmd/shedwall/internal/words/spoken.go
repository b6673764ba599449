package words

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"shedwall/cmd/shedwall/internal/diag"
)

// Spoken gives the texts of tables (names, notes, cautions) in one language. A text
// that stands in the publisher's own table is in the guide's own language, a built-in
// one in English; in any other language it is the text of its key in words.csv. A
// text that a language lacks is given as it stands in the table, and listed.
type Spoken struct {
	language, main string
	own            map[string]bool // keys of the publisher's own texts
	text           map[string]string
	missing        map[string]string // key -> text as it stands
}

// NewSpoken makes the texts of one language. main is the guide's own language, own the
// keys of texts in the publisher's own tables.
func NewSpoken(entries []Entry, language, main string, own map[string]bool) *Spoken {
	s := &Spoken{language: language, main: main, own: own, text: map[string]string{}, missing: map[string]string{}}
	for _, e := range entries {
		if t := e.Text[language]; t != "" {
			s.text[e.Key] = t
		}
	}
	return s
}

// Say is the text of a key in the language.
func (s *Spoken) Say(key, text string) string {
	if s.own[key] && s.language == s.main {
		return text
	}
	if t, ok := s.text[key]; ok {
		return t
	}
	if text != "" && !s.own[key] && s.language != "en" || s.own[key] {
		s.missing[key] = text
	}
	return text
}

// names are texts that need no translation.
var names = []string{"guide.contact", "guide.address", "guide.publisher", "guide.prepared_by", "guide.reviewed_by"}

// isName says whether a text may well be the same in every language.
func isName(key string) bool {
	return slices.Contains(names, key) || strings.HasPrefix(key, "station.") && strings.HasSuffix(key, ".name") ||
		strings.HasPrefix(key, "band.") && strings.HasSuffix(key, ".name")
}

// isAddress says whether a text is a web or mail address, or has no word at all.
func isAddress(text string) bool {
	return strings.Contains(text, ".") && !strings.Contains(text, " ") || !strings.ContainsFunc(text, unicode.IsLetter)
}

// Tell tells the texts that the language lacks, but for names of places and addresses:
// one by one, or all as one where the language has no text at all yet.
func (s *Spoken) Tell(faults *diag.List) {
	lacking := slices.DeleteFunc(slices.Sorted(maps.Keys(s.missing)), func(key string) bool { return isName(key) || isAddress(s.missing[key]) })
	if len(s.text) == 0 && len(lacking) > 1 {
		faults.Add(diag.Fault{At: diag.Position{File: "data/words.csv"}, ID: "words-text-missing", Severity: diag.Warning,
			What:     fmt.Sprintf("none of %d names and notes of tables has a text in the language %q; pages show them as they stand in the tables", len(lacking), s.language),
			Expected: fmt.Sprintf("rows such as %s with their text in the column %s", lacking[0], s.language), Cure: "write them into your data/words.csv"})
		return
	}
	defer tellRest(faults, "words-text-missing", s.language, len(lacking))
	for _, key := range lacking[:min(len(lacking), mostTold)] {
		faults.Add(diag.Fault{At: diag.Position{File: "data/words.csv"}, ID: "words-text-missing", Severity: diag.Warning,
			What:     fmt.Sprintf("%s has no text in the language %q; pages show it as it stands in the table: %q", key, s.language, short(s.missing[key])),
			Expected: fmt.Sprintf("a row %s with its text in the column %s", key, s.language), Cure: "write it into your data/words.csv"})
	}
}

func short(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:59]) + "…"
	}
	return s
}

// Unreviewed counts the phrases of a language that no native speaker has looked over
// and that were not read in a text published in it, and all that the language has.
func Unreviewed(entries []Entry, language string) (unreviewed, all int) {
	for _, e := range entries {
		if e.Text[language] == "" {
			continue
		}
		all++
		if r := e.Review[language]; r != "reviewed" && r != "sourced" {
			unreviewed++
		}
	}
	return unreviewed, all
}
