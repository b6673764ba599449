package publish

import (
	"cmp"
	"fmt"
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/prose"
	"shedwall/cmd/shedwall/internal/words"
)

// voice is a guide in one of its languages: phrases, texts, and the names and notes of
// tables.
type voice struct {
	page.Language
	book   *words.Book
	texts  *prose.Library
	tables *catalog.Tables // with names in the language
}

// speak makes a guide's languages ready, its own first, and tells what they lack.
func (g *Guide) speak(texts *prose.Library) {
	t := g.Tables
	main := t.Guide.Language
	codes := t.Guide.Languages
	if len(codes) == 0 {
		codes = []string{cmp.Or(main, "en")}
	}
	phrases, spoken := entries(t.Words), entries(t.Spoken)
	of := make([]func(*diag.List) voice, len(codes))
	for i, code := range codes {
		of[i] = aside(func(faults *diag.List) voice {
			v := voice{
				Language: page.Language{Code: code, Folder: page.LanguageFolder(code, codes[0])},
				book:     words.NewBook(phrases, code, words.Units(t.Guide.Units), faults),
				texts:    texts.In(code, codes[0]),
			}
			if v.Name = code; v.book.Has("language.name") {
				v.Name = v.book.T("language.name")
			}
			page.CheckLinks(t, v.texts, faults)
			said := words.NewSpoken(spoken, code, codes[0], t.OwnText)
			v.tables = t.In(said.Say)
			said.Tell(faults)
			v.Unreviewed, v.All = words.Unreviewed(slices.Concat(phrases, spoken), code)
			if v.Unreviewed > 0 && v.All > 0 {
				faults.Add(diag.Fault{At: diag.Position{File: "data/words.csv"}, ID: "words-unreviewed", Severity: diag.Notice,
					What: fmt.Sprintf("%d of %d phrases in the language %q were not yet reviewed by a native speaker", v.Unreviewed, v.All, code),
					Cure: fmt.Sprintf("write reviewed into the column review_%s of your data/words.csv for those that are", code)})
			}
			return v
		})
	}
	for _, spoken := range of {
		g.voices = append(g.voices, spoken(&g.Faults))
	}
	g.Book, g.Texts = g.voices[0].book, g.voices[0].texts
}

// languages is every language of the guide, its own first.
func (g *Guide) languages() []page.Language {
	out := make([]page.Language, len(g.voices))
	for i, v := range g.voices {
		out[i] = v.Language
	}
	return out
}

// in is what the pages of one language are made from.
func (v voice) in(base page.Input, all []page.Language) page.Input {
	asked := map[string]bool{} // bands
	for i := range base.Tables.Bands {
		asked[base.Tables.Bands[i].ID] = true
	}
	t := *v.tables
	t.Bands = slices.DeleteFunc(slices.Clone(t.Bands), func(b catalog.Band) bool { return !asked[b.ID] })
	in := base.In(&t)
	in.Book, in.Texts, in.Language, in.Languages = v.book, v.texts, v.Language, all
	return in
}
