package prose

import (
	"cmp"
	"path"
	"slices"
	"strings"
)

// languageFolder takes the folder of a language off an id: "es/crops/kale" is es and
// "crops/kale". Texts that lie in no such folder are in the guide's own language.
func languageFolder(id string) (lang, rest string) {
	top, rest, in := strings.Cut(id, "/")
	if !in || len(top) != 2 || strings.Trim(top, "abcdefghijklmnopqrstuvwxyz") != "" {
		return "", id
	}
	return top, rest
}

func (l *Library) add(lang string, d *Doc) {
	if l.spoken[lang] == nil {
		l.spoken[lang] = map[string]*Doc{}
	}
	l.spoken[lang][d.ID] = d
}

// everyLanguage is every text of every language.
func (l *Library) everyLanguage() []*Doc {
	if l == nil {
		return nil
	}
	out := l.All()
	for _, docs := range l.spoken {
		for _, d := range docs {
			out = append(out, d)
		}
	}
	slices.SortStableFunc(out, func(a, b *Doc) int {
		return cmp.Or(cmp.Compare(a.lang, b.lang), cmp.Compare(path.Dir(a.ID), path.Dir(b.ID)), cmp.Compare(a.Order, b.Order), cmp.Compare(a.ID, b.ID))
	})
	return out
}

// In is the library in one language; main is the guide's own. A text comes from the
// language's folder, or from the top of the content folder where that is in the
// language: the publisher's own texts are in main, the defaults in English. Where a
// text has no translation, it is there as it stands, marked as Foreign. A default's
// translation never stands for a text that the publisher wrote anew.
func (l *Library) In(lang, main string) *Library {
	if l == nil {
		return nil
	}
	out := &Library{docs: map[string]*Doc{}, spoken: map[string]map[string]*Doc{}, images: l.images}
	there := l.spoken[lang]
	for id, d := range there {
		out.docs[id] = d
	}
	for id, d := range l.docs {
		written := "en"
		if d.Own {
			written = main
		}
		t := there[id]
		switch {
		case t != nil && (t.Own || !d.Own && written != lang):
			// The translation stands.
		case written == lang:
			out.docs[id] = d
		default:
			foreign := *d
			foreign.Foreign = written
			out.docs[id] = &foreign
		}
	}
	return out
}
