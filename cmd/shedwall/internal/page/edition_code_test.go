package page

import (
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/quantity"
)

// TestCodeOfKeptRows: the codes of sheets, whose rows are written once for all sheets of a
// wall, are those of the sheets written whole.
func TestCodeOfKeptRows(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	for i := range in.Bands {
		one := Wall{Tables: in.Tables, Book: in.Book, Climate: in.Bands[i].Climate, Plans: in.Bands[i].Plans}
		kept := one.keeping()
		both := one
		both.pair = &pairWall{kept, kept}
		for _, w := range []Wall{one, both} {
			sheets := w.Sheets()
			if len(sheets) == 0 {
				t.Fatal("no sheets")
			}
			for _, s := range sheets {
				if want := w.code(s); s.Code != want {
					t.Errorf("%s: code %s, written whole %s", s.Path, s.Code, want)
				}
			}
		}
	}
	whole := Wall{Tables: in.Tables, Book: in.Book, Climate: in.Bands[0].Climate}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{`"Rows":null`, `\"Rows":null`, `","Rows":null,"`, "<&>\u2028", ""}))
		row := rapid.Custom(func(t *rapid.T) SheetRow {
			r := SheetRow{Name: text.Draw(t, "name"), Dates: text.Draw(t, "dates"), Sentence: text.Draw(t, "sentence")}
			if rapid.Bool().Draw(t, "with bars") {
				r.Bars = []Bar{{From: rapid.Int().Draw(t, "from"), Letter: text.Draw(t, "letter")}}
				r.Covers = []CoverLine{}
			}
			return r
		})
		s := &Sheet{Name: text.Draw(t, "sheet"), Lead: []string{text.Draw(t, "lead")}, KeyTitle: text.Draw(t, "key")}
		kept := whole.keeping()
		for i := range rapid.IntRange(0, 3).Draw(t, "rows") {
			r := row.Draw(t, "row")
			r.Code = string(rune('A' + i))
			s.Rows = append(s.Rows, r)
		}
		want := whole.code(s)
		for range 2 { // the second time from what was kept
			if got := kept.code(s); got != want {
				t.Fatalf("code %s, written whole %s", got, want)
			}
		}
	})
}
