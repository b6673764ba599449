package words

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
)

// spanish is the built-in book of Spanish.
func spanish(t testing.TB, u Units) *Book {
	t.Helper()
	f, err := os.Open("../../../../data/builtin/words.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := slices.Index(rows[0], "es")
	var entries []Entry
	for _, r := range rows[1:] {
		if !catalog.IsTextKey(r[0]) {
			entries = append(entries, Entry{Key: r[0], Text: map[string]string{"en": r[1], "es": r[at]}})
		}
	}
	var faults diag.List
	b := NewBook(entries, "es", u, &faults)
	if faults.Len() > 0 {
		t.Fatal(faults.Sorted())
	}
	return b
}

// TestSpanishWhole: no phrase lacks its Spanish, and what is put in is the same.
func TestSpanishWhole(t *testing.T) {
	b := spanish(t, Both)
	english := book(t, Both)
	for key, text := range english.text {
		if !b.Has(key) {
			t.Errorf("%s has no Spanish", key)
			continue
		}
		have, want := Slots(b.text[key].text), Slots(text.text)
		slices.Sort(have)
		slices.Sort(want)
		if !slices.Equal(slices.Compact(have), slices.Compact(want)) {
			t.Errorf("%s puts in %v, the English %v", key, have, want)
		}
	}
}

// Forms: the norms of the Spanish academies for dates, lists and minus signs; the decimal
// point and the comma for thousands as in Mexico, Central America and the United States.
func TestSpanishForms(t *testing.T) {
	b := spanish(t, Both)
	md := func(m, d int) quantity.MonthDay { return quantity.MonthDay{Month: m, Day: d} }
	for _, c := range []struct{ got, want string }{
		{b.Date(md(5, 12)), "12 de mayo"},
		{b.DateShort(md(1, 3)), "3 ene"},
		{b.DateFull(quantity.DayOf(2026, 2, 1)), "1 de febrero de 2026"},
		{b.DateRange(md(5, 3), md(5, 12)), "3–12 de mayo"},
		{b.DateRange(md(4, 28), md(5, 12)), "28 de abril a 12 de mayo"},
		{b.DateRangeShort(md(5, 3), md(5, 12)), "3–12 may"},
		{b.Days(1), "1 día"}, {b.Days(2), "2 días"},
		{b.Odds(quantity.Careful), "1 año de cada 10"}, {b.Odds(quantity.Half), "la mitad de los años"},
		{b.And("ajo", "papa", "haba"), "ajo, papa y haba"},
		{b.And("eneldo", "hinojo"), "eneldo e hinojo"},
		{b.And("agua", "hielo"), "agua y hielo"},
		{b.Number(1234.5, 1), "1,234.5"},
		{b.Temp(-2.2, Up), "−2.2 °C (28 °F)"}, // 28.04 F, as in English
		{b.Temp(-9.46, Up), "−9.4 °C (15 °F)"},
		{b.Diff(2.75, Down), "2.7 °C (5 °F)"},
		{b.Height(680), "680 m (2,230 pies)"}, // 2,231 ft
		{spanish(t, FahrenheitOnly).Temp(-2.2, Up), "28 °F"},
		{spanish(t, CelsiusOnly).Height(680), "680 m"},
	} {
		if got := strings.ReplaceAll(c.got, nbsp, " "); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestBeside(t *testing.T) {
	for _, c := range []struct{ a, b, want string }{
		{"in {range}", "adentro {range}", "in/adentro {range}"},
		{"{items} and {last}", "{items} y {last}", "{items} and/y {last}"},
		{"May", "may", "May"},
		{"harvest", "cosechar", "harvest/cosechar"},
		{"set out", "trasplantar afuera", "set out / trasplantar afuera"},
		{"{guide}, edition {n}", "{guide}, edición {n}", "{guide}, edition/edición {n}"},
		{"{days} later", "más de {days}", "más de {days} later"},
		{"{a} {b}", "{b} {a}", "{a} {b} / {b} {a}"},
		{"Not here:", "Aquí no:", "Not here / Aquí no:"},
	} {
		if got := Beside(c.a, c.b); got != c.want {
			t.Errorf("%q and %q: %q, want %q", c.a, c.b, got, c.want)
		}
	}
	pair := Pair(book(t, Both), spanish(t, Both))
	md := quantity.MonthDay{Month: 1, Day: 3}
	if got := pair.DateShort(md); got != "3 Jan/ene" {
		t.Errorf("a date in two languages: %q", got)
	}
	if got := pair.Number(1234.5, 1); got != "1,234.5" {
		t.Errorf("a number in two languages: %q", got)
	}
}

// TestGapsAreCounted: of many gaps the first are told one by one and all are counted.
func TestGapsAreCounted(t *testing.T) {
	var entries []Entry
	for i := range 30 {
		entries = append(entries, Entry{Key: string(rune('a'+i%26)) + strings.Repeat("x", i), Text: map[string]string{"en": "text"}})
	}
	entries = append(entries, Entry{Key: "z", Text: map[string]string{"en": "yes", "fr": "oui"}})
	var faults diag.List
	b := NewBook(entries, "fr", Both, &faults)
	if n := faults.Len(); n != mostTold+1 {
		t.Errorf("%d faults", n)
	}
	last := false
	for _, f := range faults.Sorted() {
		last = last || strings.HasPrefix(f.What, "30 texts in all")
	}
	if !last {
		t.Error("the gaps were not counted")
	}
	if b.T("z") != "oui" || b.T("a") != "[a]" || len(b.Unknown()) != 0 {
		t.Errorf("%q, %q, unknown %v", b.T("z"), b.T("a"), b.Unknown())
	}
	if b.T("nothing"); !slices.Equal(b.Unknown(), []string{"nothing"}) {
		t.Errorf("a key of no row: %v", b.Unknown())
	}
}

// TestLanguageOfNoColumn: a language that no column of words.csv has is one fault.
func TestLanguageOfNoColumn(t *testing.T) {
	var faults diag.List
	NewBook([]Entry{{Key: "yes", Text: map[string]string{"en": "yes", "es": "sí"}}, {Key: "no", Text: map[string]string{"en": "no"}}}, "fr", Both, &faults)
	all := faults.Sorted()
	if len(all) != 1 || all[0].ID != "words-no-language" || all[0].Severity != diag.Error || !strings.Contains(all[0].Expected, "en, es") {
		t.Errorf("%v", all)
	}
}

// TestSpoken: whose text is in which language, by hand for a guide in Spanish with a
// crop of its own, read in Spanish and in English.
func TestSpoken(t *testing.T) {
	entries := []Entry{
		{Key: "crop.tomato.name", Text: map[string]string{"es": "Tomate"}},
		{Key: "crop.oca.name", Text: map[string]string{"en": "Oca root"}},
	}
	own := map[string]bool{"crop.oca.name": true, "crop.ulluco.name": true}
	es, en := NewSpoken(entries, "es", "es", own), NewSpoken(entries, "en", "es", own)
	for _, c := range []struct {
		s               *Spoken
		key, text, want string
	}{
		{es, "crop.tomato.name", "Tomato", "Tomate"},
		{es, "crop.oca.name", "Oca", "Oca"},
		{es, "crop.kale.name", "Kale", "Kale"}, // built in, not translated: told
		{en, "crop.tomato.name", "Tomato", "Tomato"},
		{en, "crop.oca.name", "Oca", "Oca root"},
		{en, "crop.ulluco.name", "Ulluco", "Ulluco"}, // the publisher's, not translated: told
	} {
		if got := c.s.Say(c.key, c.text); got != c.want {
			t.Errorf("%s in %s: %q, want %q", c.key, c.s.language, got, c.want)
		}
	}
	for s, want := range map[*Spoken]string{es: "crop.kale.name", en: "crop.ulluco.name"} {
		var faults diag.List
		s.Tell(&faults)
		if all := faults.Sorted(); len(all) != 1 || !strings.HasPrefix(all[0].What, want) {
			t.Errorf("%s: told %v, want %s", s.language, all, want)
		}
	}
	if a, b := Unreviewed([]Entry{
		{Key: "a", Text: map[string]string{"es": "a"}, Review: map[string]string{"es": "reviewed"}},
		{Key: "b", Text: map[string]string{"es": "b"}, Review: map[string]string{"es": "sourced"}},
		{Key: "c", Text: map[string]string{"es": "c"}, Review: map[string]string{"es": "unreviewed"}},
		{Key: "d", Text: map[string]string{"es": "d"}},
		{Key: "e"},
	}, "es"); a != 2 || b != 4 {
		t.Errorf("%d of %d not reviewed, want 2 of 4", a, b)
	}
}
