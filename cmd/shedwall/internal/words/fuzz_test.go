package words

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
)

// FuzzPhrases holds that any phrase in any language can be read, filled and set beside
// another; that a value's own braces are never filled; and that a missing phrase shows as
// its key.
func FuzzPhrases(f *testing.F) {
	file, err := os.Open("../../../../data/builtin/words.csv")
	if err != nil {
		f.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		f.Fatal(err)
	}
	for i, row := range rows {
		if i%8 == 1 {
			f.Add(row[0], row[1], row[3], "{name} 680 m")
		}
	}
	f.Add("k", "{a}{b", "}{{a}}", "{a}")
	f.Fuzz(func(t *testing.T, key, en, es, value string) {
		var faults diag.List
		entries := []Entry{{Key: key, Text: map[string]string{"en": en, "es": es}}, {Key: "list.and", Text: map[string]string{"en": "{first} and {last}", "es": "{first} y {last}"}}}
		a, b := NewBook(entries, "en", Both, &faults), NewBook(entries, "es", Both, &faults)
		for _, book := range []*Book{a, b, Pair(a, b)} {
			var pairs []string
			for _, name := range Slots(en) {
				pairs = append(pairs, name, value)
			}
			got := book.T(key, pairs...)
			if book.Has(key) && len(pairs) == 0 && got == "["+key+"]" && en != got && es != got {
				t.Errorf("%q shows as its key", key)
			}
			book.And(en, es, value)
			book.N(key, len(value), pairs...)
		}
		p := phraseOf("{x}{y}")
		if got := p.filled([]string{"x", value, "y", "z"}); got != value+"z" {
			t.Errorf("%q put in is %q", value, got)
		}
		for _, fault := range faults.Sorted() {
			if _, ok := diag.Explain(fault.ID); !ok {
				t.Errorf("%s is not explained", fault.ID)
			}
		}
	})
}

// FuzzNumbers holds that a printed number is read back as the number, rounded as it says.
func FuzzNumbers(f *testing.F) {
	for _, x := range []float64{0, -0.04, 1234.5, -999999.995, 0.05, 1e9} {
		f.Add(x, uint8(1))
	}
	var faults diag.List
	book := NewBook([]Entry{{Key: "number.decimal", Text: map[string]string{"en": "."}}, {Key: "number.group", Text: map[string]string{"en": ","}}}, "en", Both, &faults)
	f.Fuzz(func(t *testing.T, x float64, places uint8) {
		if math.IsNaN(x) || math.Abs(x) > 1e12 || places > 3 {
			return
		}
		s := book.Number(x, int(places))
		back, err := strconv.ParseFloat(strings.NewReplacer(",", "", "−", "-").Replace(s), 64)
		half := 0.5 * math.Pow(10, -float64(places))
		if err != nil || math.Abs(back-x) > half*1.000001+math.Abs(x)*1e-15 {
			t.Errorf("%v to %d places is %q: %v, %v", x, places, s, back, err)
		}
		if strings.HasPrefix(s, "−0") && back == 0 || strings.HasPrefix(s, "-") {
			t.Errorf("%v to %d places is %q", x, places, s)
		}
	})
}
