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

// builtin reads the words that come with the program.
func builtin(t testing.TB) []Entry {
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
	var out []Entry
	for _, r := range rows[1:] {
		if catalog.IsTextKey(r[0]) {
			continue // a text of a table, in other languages
		}
		out = append(out, Entry{Key: r[0], Text: map[string]string{"en": r[1]}})
	}
	return out
}

func book(t testing.TB, u Units) *Book {
	var faults diag.List
	b := NewBook(builtin(t), "en", u, &faults)
	if faults.Len() > 0 {
		t.Fatal(faults.Sorted())
	}
	return b
}

func TestBuiltinKeysAreUnique(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range builtin(t) {
		if seen[e.Key] {
			t.Errorf("%s stands twice", e.Key)
		}
		if strings.TrimSpace(e.Text["en"]) == "" {
			t.Errorf("%s is blank", e.Key)
		}
		seen[e.Key] = true
	}
}

// Conversions by hand: F = 1.8 C + 32; a difference has no 32; 1 ft = 0.3048 m.
func TestMeasures(t *testing.T) {
	b := book(t, Both)
	for _, c := range []struct{ got, want string }{
		{b.Temp(0, Up), "0 °C (32 °F)"},
		{b.Temp(-2.2, Up), "−2.2 °C (28 °F)"},    // 28.04 F is the 28 F of the table
		{b.Temp(-2.2222, Up), "−2.2 °C (28 °F)"}, // 28 F exactly
		{b.Temp(-3.3333, Up), "−3.3 °C (26 °F)"}, // 26 F exactly
		{b.Temp(-4.4, Up), "−4.4 °C (24 °F)"},    // 24.08 F is within a tenth of 24
		{b.Temp(-9.5, Up), "−9.5 °C (15 °F)"},    // 14.9 F
		{b.Temp(-9.46, Up), "−9.4 °C (15 °F)"},   // 14.97 F
		{b.Temp(-9.46, Down), "−9.5 °C (15 °F)"}, // 14.97 F is within a tenth of 15
		{b.Temp(-0.04, Nearest), "0 °C (32 °F)"}, // no minus zero; 31.93 F
		{b.Diff(2.8, Down), "2.8 °C (5 °F)"},     // 5.04 F
		{b.Diff(2.75, Down), "2.7 °C (5 °F)"},    // 4.95 F is within a tenth of 5
		{b.DiffRange(1, 3), "1–3 °C (1–5 °F)"},   // 1.8 and 5.4 F
		{b.DiffRange(-1, 2), "−1 to 2 °C (−2 to 3 °F)"},
		{b.DiffRange(2, 2), "2 °C (3 °F)"},
		{b.Height(680), "680 m (2,230 ft)"}, // 2,231 ft
		{b.HeightRange(680, 880), "680–880 m (2,230–2,890 ft)"},
		{b.Int(-1234567), "−1,234,567"},
		{b.Number(0.05, 1), "0.1"},
		{b.Number(-0.04, 1), "0"},
		{b.NumberRange(4, 6, 1), "4–6"},
		{b.IntRange(50, 50), "50"},
	} {
		got := strings.ReplaceAll(c.got, nbsp, " ")
		if got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	if got := book(t, CelsiusOnly).Temp(-2.2, Up); got != "−2.2"+nbsp+"°C" {
		t.Errorf("Celsius only: %q", got)
	}
	if got := book(t, FahrenheitOnly).Height(680); got != "2,230"+nbsp+"ft" {
		t.Errorf("feet only: %q", got)
	}
}

// A limit may never be printed colder than it is by more than the slack that
// brings a converted figure back to its source: 0.1 F or 0.006 K. A cover's gain
// may never be printed larger by more than the same.
func TestRoundingIsSafe(t *testing.T) {
	for c := -4000; c <= 4000; c += 3 {
		k := float64(c) / 100
		if r := roundC(k, Up); r < k-0.0061 {
			t.Fatalf("%v C rounded up to %v", k, r)
		}
		if r := roundC(k, Down); r > k+0.0061 {
			t.Fatalf("%v C rounded down to %v", k, r)
		}
		f := k*1.8 + 32
		if r := roundF(f, Up); r < f-0.1001 || r > f+1 {
			t.Fatalf("%v F rounded up to %v", f, r)
		}
	}
}

func TestDates(t *testing.T) {
	b := book(t, Both)
	md := func(m, d int) quantity.MonthDay { return quantity.MonthDay{Month: m, Day: d} }
	for _, c := range []struct{ got, want string }{
		{b.Date(md(5, 12)), "12 May"},
		{b.DateShort(md(2, 29)), "29 Feb"},
		{b.DateRange(md(5, 3), md(5, 12)), "3–12 May"},
		{b.DateRange(md(4, 28), md(5, 12)), "28 April to 12 May"},
		{b.DateRange(md(5, 12), md(5, 12)), "12 May"},
		{b.DateRange(md(5, 12), md(5, 3)), "12 May to 3 May"}, // a year less nine days
		{b.DateRangeShort(md(12, 28), md(1, 3)), "28 Dec–3 Jan"},
		{b.DateFull(quantity.DayOf(2026, 2, 1)), "1 February 2026"},
		{b.Days(1), "1 day"},
		{b.PlusMinus(3), "give or take 3 days"},
		{b.And("a", "b", "c"), "a, b and c"},
		{b.And("a"), "a"},
		{b.And(), ""},
		{Sentence("élan vital"), "Élan vital"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestOdds(t *testing.T) {
	b := book(t, Both)
	for _, c := range []struct {
		odds quantity.Odds
		want string
	}{
		{quantity.Careful, "1 year in 10"}, {quantity.Half, "half the years"},
		{0.2, "1 year in 5"}, {0.05, "1 year in 20"}, {0.3, "3 years in 10"},
		{1.0 / 3, "1 year in 3"}, {0.9, "9 years in 10"}, {0, "no year"}, {1, "every year"},
		{0.43, "5 years in 10"}, // rounded up: never less harm than there is
		{0.03, "1 year in 33"},
	} {
		if got := b.Odds(c.odds); got != c.want {
			t.Errorf("%v: got %q, want %q", float64(c.odds), got, c.want)
		}
	}
}

func TestPhrases(t *testing.T) {
	var faults diag.List
	cell := diag.Position{File: "data/words.csv", Line: 3}
	b := NewBook([]Entry{
		{Key: "hello", Text: map[string]string{"en": "Hello {name}", "es": "Hola {name}"}, Cell: cell},
		{Key: "gap", Text: map[string]string{"en": "Gap"}, Cell: cell},
		{Key: "slip", Text: map[string]string{"en": "{n} nights", "es": "{noches} noches"}, Cell: cell},
	}, "es", Both, &faults)
	if got := b.T("hello", "name", "{name} Ñ"); got != "Hola {name} Ñ" {
		t.Errorf("got %q: what is put in must stay as it is", got)
	}
	if got := b.T("gap"); got != "[gap]" {
		t.Errorf("a gap is shown as its key, got %q", got)
	}
	if got := b.T("nothing"); got != "[nothing]" {
		t.Errorf("got %q", got)
	}
	if got := b.Missing(); !slices.Equal(got, []string{"gap", "nothing"}) {
		t.Errorf("missing %v", got)
	}
	var ids []string
	for _, f := range faults.Sorted() {
		ids = append(ids, f.ID)
	}
	if s := strings.Join(ids, " "); s != "words-placeholder words-missing" {
		t.Errorf("faults %s", s)
	}
}

// Categories by the Unicode CLDR table of plural rules for whole numbers.
func TestPlurals(t *testing.T) {
	for _, c := range []struct {
		lang string
		n    int
		want string
	}{
		{"en", 0, "other"}, {"en", 1, "one"}, {"es", 2, "other"}, {"fr", 0, "one"}, {"ja", 1, "other"},
		{"pl", 1, "one"}, {"pl", 22, "few"}, {"pl", 12, "many"}, {"pl", 21, "many"},
		{"ru", 21, "one"}, {"ru", 11, "many"}, {"cs", 3, "few"}, {"cs", 5, "other"},
	} {
		if got := pluralRules[c.lang](c.n); got != c.want {
			t.Errorf("%s %d: %s, want %s", c.lang, c.n, got, c.want)
		}
	}
	var faults diag.List
	NewBook(nil, "xx", Both, &faults)
	if fs := faults.Sorted(); len(fs) != 1 || fs[0].ID != "words-language" {
		t.Errorf("an unknown language is told, got %v", fs)
	}
}

func TestEveryFaultIsExplained(t *testing.T) {
	for _, id := range []string{"words-missing", "words-placeholder", "words-language", "words-no-language", "words-text-missing", "words-paper", "words-unreviewed"} {
		if e, ok := diag.Explain(id); !ok || e.Why == "" || e.Wrong == "" || e.Right == "" {
			t.Errorf("%s is not fully explained", id)
		}
	}
}

// TestNoLanguage: a guide without a language has English phrases and no fault for each.
func TestNoLanguage(t *testing.T) {
	var faults diag.List
	b := NewBook([]Entry{{Key: "yes", Text: map[string]string{"en": "yes", "es": "sí"}}, {Key: "no", Text: map[string]string{"en": "no"}}}, "", Both, &faults)
	if faults.Len() != 0 {
		t.Errorf("%d faults: %v", faults.Len(), faults.Sorted())
	}
	if b.T("yes") != "yes" || b.Language() != "en" {
		t.Errorf("%q in the language %q", b.T("yes"), b.Language())
	}
}
