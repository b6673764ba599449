package page

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// cropLetter is the crops that begin with one letter.
type cropLetter struct {
	letter string
	id     string // anchor on the page of all crops
	table  Table
}

// cropLetters is every crop by its name, under its first letter.
func (b *builder) cropLetters() []cropLetter {
	var out []cropLetter
	for _, e := range b.cropEntries() {
		c := e.crop
		r, _ := utf8.DecodeRuneInString(bare(e.name))
		letter := string(unicode.ToUpper(r))
		if n := len(out); n == 0 || out[n-1].letter != letter {
			out = append(out, cropLetter{letter: letter, id: "letter-" + strings.ToLower(letter), table: Table{
				Caption: b.t("crops_page.caption", "letter", letter), RowHeads: true,
				Head: []string{b.t("crops_page.crop"), b.t("crops_page.latin"), b.t("crops_page.kind")}}})
		}
		latin := []Inline{{Text: c.Latin, Lang: "la"}}
		if c.Latin == "" {
			latin = plain(b.t("not_known"))
		}
		t := &out[len(out)-1].table
		t.Rows = append(t.Rows, [][]Inline{b.entryName(e), latin, plain(b.t("crops." + c.Group))})
	}
	return out
}

// crops is the page of all crops from A to Z.
func (b *builder) crops() *Page {
	p := b.newPage(CropsPath, HTML(CropsPath), b.t("crops_page.title"), b.t("crops_page.description"))
	p.add(Para{Lead: true, Text: b.say("crops_page.lead")})
	letters := b.cropLetters()
	jumps := Contents{Name: b.t("crops_page.letters"), Letters: true}
	for _, l := range letters {
		jumps.Items = append(jumps.Items, link(l.letter, "#"+l.id))
	}
	p.add(jumps)
	for _, l := range letters {
		p.add(Heading{Level: 2, ID: l.id, Text: plain(l.letter)}, l.table)
	}
	return p
}

// cropJumps leads from another page to the letters of the page of all crops.
func (b *builder) cropJumps() []Block {
	jumps := Contents{Name: b.t("crops_page.letters"), Letters: true}
	for _, l := range b.cropLetters() {
		jumps.Items = append(jumps.Items, link(l.letter, HTML(CropsPath)+"#"+l.id))
	}
	return []Block{para(Inline{Text: b.t("index.crops.intro") + " "}, link(b.t("index.crops.all"), HTML(CropsPath))), jumps}
}

// bare is a name without accents, so that é is sorted with e; ñ, a letter of its own,
// follows n.
func bare(s string) string {
	var out strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(s)) {
		switch {
		case r == '\u0303': // tilde
			out.WriteRune('~')
		case !unicode.Is(unicode.Mn, r):
			out.WriteRune(r)
		}
	}
	return out.String()
}

// sortByName sorts as people look names up, capitals and accents apart.
func sortByName[T any](items []T, name func(T) string) {
	type entry struct {
		name string
		item T
	}
	entries := make([]entry, len(items))
	for i, x := range items {
		entries[i] = entry{bare(name(x)), x}
	}
	slices.SortStableFunc(entries, func(a, c entry) int { return cmp.Compare(a.name, c.name) })
	for i, e := range entries {
		items[i] = e.item
	}
}
