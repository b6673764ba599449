package intake

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/table"
)

type wordRow struct {
	Key      table.Cell `csv:"key" table:"name"`
	English  table.Cell `csv:"en"`
	ReviewEn table.Cell `csv:"review_en"`
	Note     table.Cell `csv:"note"`
	More     table.More `csv:"-"`
}

// languageHeading accepts a language's two letters, and review_ before them.
func languageHeading(h string) bool { return reLanguage.MatchString(strings.TrimPrefix(h, "review_")) }

var wordLayout = layout[wordRow]{
	name: "words",
	key:  func(r *wordRow) table.Cell { return r.Key },
	id:   func(r *wordRow, _ []string) string { return r.Key.Require("the key of a phrase") },
	open: languageHeading,
}

// readWords reads the phrases of the pages, and the texts of tables in other
// languages: the publisher's own words may give both, for rows of their own too.
func (l *loader) readWords(t *catalog.Tables, lay layout[wordRow]) {
	t.OwnText = l.ownText
	texts := map[string]bool{}
	t.Texts(func(key string, _ *string) {
		texts[key] = true
		if !l.inBuiltinTable(key) {
			t.OwnText[key] = true
		}
	})
	for _, j := range overlay(l, lay) {
		r := j.row
		isText := catalog.IsTextKey(j.id)
		if strings.HasPrefix(j.id, "band.") && isText && len(t.Bands) == 0 {
			continue // what is wrong with bands.csv was told
		}
		if j.own && (!isText || !texts[j.id]) {
			cure := "look at the keys of the built-in words"
			if near := diag.Nearest(j.id, append(keysOf(texts), l.builtin["words"]...)); near != "" {
				cure = fmt.Sprintf("did you mean %q?", near)
			}
			r.Key.Fault("word-key-unknown", fmt.Sprintf("no page uses a phrase with the key %q", j.id),
				"a key of the built-in words, or of a text in your tables: crop.ID.name, band.ID.name, hazard.ID.caution", cure)
			continue
		}
		w := catalog.Word{Key: j.id, Text: map[string]string{}, Review: map[string]string{}, Cell: r.Key.At()}
		w.Text["en"], w.Review["en"] = r.English.Phrase(), review(r.ReviewEn)
		for _, e := range r.More {
			if language, ok := strings.CutPrefix(e.Heading, "review_"); ok {
				w.Review[language] = review(e.Cell)
			} else {
				w.Text[e.Heading] = e.Cell.Phrase()
				if strings.HasSuffix(j.id, ".name") && (strings.HasPrefix(j.id, "crop.") || strings.HasPrefix(j.id, "band.")) {
					shortName(e.Cell, w.Text[e.Heading])
				}
			}
		}
		if isText {
			t.Spoken = append(t.Spoken, w)
		} else {
			t.Words = append(t.Words, w)
		}
	}
}

// review is how far a phrase was looked over: reviewed by someone who speaks the
// language, sourced where the word was read in a text published in it, else unreviewed.
func review(c table.Cell) string { return c.Word("reviewed", "sourced", "unreviewed") }
