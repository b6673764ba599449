package page

import (
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// Terms is words with their meaning, each a place that other pages lead to.
type Terms struct {
	Items []Term
}

// Term is one of them. ID is its anchor.
type Term struct {
	ID          string
	Name, Means []Inline
}

func (Terms) block() {}

// glossary is the words that are explained, in no order: pages sort them as their
// language does.
var glossary = []string{
	"band", "bolt", "careful", "class", "cloche", "cover_line", "cover_night", "days", "degree_days", "edition",
	"estimate", "frame", "freeze", "gain", "groups", "half", "harden", "harmed", "high_tunnel", "hollow", "inside",
	"low_tunnel", "row_cover", "shut_open", "station", "tonight", "wall_sheet", "window", "worksheet", "zone",
}

// oddsLink leads to the one place that explains the odds.
func (b *builder) oddsLink() Inline { return link(b.t("nav.odds"), HTML(WordsPath)+"#odds") }

// wordsPage explains the odds and the guide's words.
func (b *builder) wordsPage() *Page {
	p := b.newPage(WordsPath, HTML(WordsPath), b.t("words_page.title"), b.t("words_page.description"))
	p.add(Para{Lead: true, Text: b.say("words_page.lead")})
	careful, half := b.words.Odds(quantity.Careful), b.words.Odds(quantity.Half)
	p.add(b.heading(2, "odds", "words_page.h.odds"))
	for _, n := range []string{"1", "2", "3", "4"} {
		key := "words_page.odds." + n
		if n == "3" {
			key = b.madeFrom(key, key+".tables")
		}
		p.add(para(Inline{Text: b.t(key, "careful", careful, "half", half)}))
	}
	p.add(para(link(b.t("nav.quality"), HTML(QualityPath))))
	p.add(b.heading(2, "words", "words_page.h.words"))
	t := Terms{}
	for _, id := range glossary {
		t.Items = append(t.Items, Term{ID: "word-" + id, Name: b.say("glossary." + id + ".term"), Means: b.say("glossary."+id+".means",
			"careful", careful, "half", half, "freeze", b.words.Temp(0, words.Down), "hard", b.words.Temp(-2.2, words.Down), "ground", b.words.Temp(2, words.Up))})
	}
	sortByName(t.Items, func(t Term) string { return t.Name[0].Text })
	p.add(t)
	return p
}
