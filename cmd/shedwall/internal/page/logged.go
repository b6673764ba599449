package page

import (
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// loggedPart is what thermometers found under a cover or structure: it stands beside
// every published range, which is seldom the whole of it.
func (b *builder) loggedPart(id string) []Block {
	t := Table{ID: "logged-table", Caption: b.t("logged.caption"), RowHeads: true, Head: []string{
		b.t("logged.head.nights"), b.t("logged.head.low"), b.t("logged.head.middle"), b.t("logged.head.high"), b.t("logged.head.what"), b.t("figures.head.source")}}
	colder := false
	for i := range b.Tables.Logged {
		g := &b.Tables.Logged[i]
		if !slices.Contains(g.On, id) {
			continue
		}
		nights := b.t("logged.nights." + g.Which.String() + ".some")
		if n, ok := g.Nights.Get(); ok {
			nights = b.words.N("logged.nights."+g.Which.String(), n)
		}
		ends := "logged." + g.Spread.String()
		low, high := b.warmer(g.Low), b.warmer(g.High)
		if g.Spread == catalog.Ends {
			low, high = b.t(ends, "diff", low), b.t(ends, "diff", high)
		}
		note := g.Note
		if note == "" {
			note = b.t("logged.no_note")
		}
		t.Rows = append(t.Rows, [][]Inline{plain(nights), plain(low), plain(b.warmer(g.Middle)), plain(high), plain(note), b.source(g.Low.Source)})
		if m, ok := g.Middle.Get(); ok && m < 0 {
			colder = true
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	out := []Block{b.heading(2, "logged", "logged.h"), para(Inline{Text: b.t("logged.intro")}), t}
	if colder {
		out = append(out, Note{Kind: "caution", Label: b.t("note.colder_inside"), Text: b.say("logged.colder_inside")})
	}
	return out
}

// warmer is a difference in words: "0.4 °C colder", "1 °C warmer", "no difference".
func (b *builder) warmer(f figure.Of[quantity.Kelvins]) string {
	k, ok := f.Get()
	switch {
	case !ok:
		return b.t("not_known")
	case k > -0.05 && k < 0.05:
		return b.t("logged.alike")
	case k < 0:
		return b.t("logged.colder", "diff", b.words.Diff(-k, 0))
	}
	return b.t("logged.warmer", "diff", b.words.Diff(k, 0))
}
