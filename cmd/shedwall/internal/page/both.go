package page

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/words"
)

// Beside has a guide's sheets made in two languages as well: names, keys and rules of
// both on one sheet, main's first. They lie with main's pages; the other's lead there,
// so main's Band comes before the other's.
func Beside(main, other *Builder) {
	main.b.beside, other.b.leads = other.b, main.b
	names := map[string]string{}
	other.b.Tables.Texts(func(key string, text *string) { names[key] = *text })
	main.b.pair = &pairWords{
		book: words.Pair(main.b.words, other.b.words),
		tables: main.b.Tables.In(func(key, text string) string {
			t := names[key]
			crop := strings.HasPrefix(key, "crop.") && strings.HasSuffix(key, ".name")
			if t == "" || crop && max(utf8.RuneCountInString(text), utf8.RuneCountInString(t)) > besideLetters {
				return text
			}
			return words.Beside(text, t)
		}),
	}
}

// besideLetters is the most letters of a crop's name that has room beside its like in a row of a
// sheet in two languages; where one is longer, main's stands alone.
const besideLetters = 28

// pairWords is the phrases and tables of two languages side by side.
type pairWords struct {
	book   *words.Book
	tables *catalog.Tables
}

// pairWall is the wall of a band in the builder's language and the one beside it.
type pairWall struct{ first, second Wall }

// bothSheets is a band's wall sheets in two languages; none where there is no other.
func (b *builder) bothSheets(m *bandPage, plans []plan.CropPlan) []*Sheet {
	other := b.beside
	if other == nil {
		return nil
	}
	at := slices.IndexFunc(other.made, func(o *bandPage) bool { return o.row().ID == m.row().ID })
	if at < 0 {
		return nil
	}
	second := other.made[at]
	pair := pairWall{first: m.wall, second: other.wallOf(second, other.named(plans))}
	other.walls.Store(m.row().ID, pair.second)
	w := Wall{Tables: b.pair.tables, Book: b.pair.book, Plans: renamed(plans, b.pair.tables), Fitting: b.Fitting, pair: &pair}
	row := *m.row()
	row.Name = words.Beside(m.row().Name, second.row().Name)
	w.Climate = climateOf(m.in.Climate, &row, m.in.Climate.Region)
	out := w.Sheets()
	for i, s := range out {
		s.Path = bothPath(row.ID, i+1)
	}
	return out
}

// renamed is plans with the crops of other tables.
func renamed(plans []plan.CropPlan, t *catalog.Tables) []plan.CropPlan {
	rows := map[string]*catalog.Crop{}
	for i := range t.Crops {
		rows[t.Crops[i].ID] = &t.Crops[i]
	}
	out := slices.Clone(plans)
	for i := range out {
		if c := rows[out[i].Crop.ID]; c != nil {
			out[i].Crop = c
		}
	}
	return out
}

// sayBoth gives a sheet in two languages its lead and its foot, one language after the other.
func (w Wall) sayBoth(s *Sheet, plans []plan.CropPlan) {
	s.Lead = nil
	s.HeadCode = w.pair.first.Book.T("sheet.head.code") // the column is too narrow for two words
	for _, one := range []Wall{w.pair.first, w.pair.second} {
		s.Lead = append(s.Lead, strings.Join(append([]string{one.Book.T("sheet.both.lead")}, one.leadEstimates()...), " "))
		for _, line := range one.footLines(one.footFor(one.own(plans))) {
			if !slices.Contains(s.Foot, line) {
				s.Foot = append(s.Foot, line)
			}
		}
	}
}

// addVersions gives a sheet in two languages its rows in words as they stand on the sheets of
// each.
func (w Wall) addVersions(s *Sheet, plans []plan.CropPlan, codes map[string]string, number int, part sheetPart, cut bool) {
	if w.pair == nil {
		return
	}
	s.Versions = nil
	for _, one := range []Wall{w.pair.first, w.pair.second} {
		v := one.sheet(one.own(plans), codes)
		one.nameSheet(v, number, part, cut)
		s.Versions = append(s.Versions, SheetVersion{v, one.Book.T("sheet.in_words")})
	}
}

// tellBoth gives each sheet in two languages as much of the lead of its languages as there is
// room for above its rows: how to read type and bars, and the freezes of half the years; of
// only one of them rather the freezes. That dates are estimates stands on all.
func (w Wall) tellBoth(sheets []*Sheet) {
	if w.pair == nil {
		return
	}
	both := [2]Wall{w.pair.first, w.pair.second}
	for i := range sheets {
		for _, part := range []struct{ how, half bool }{{true, true}, {false, true}, {true, false}} {
			more := *sheets[i]
			more.Lead = nil
			for _, one := range both {
				parts := []string{one.Book.T("sheet.both.lead")}
				if part.how {
					parts[0] = one.Book.T("sheet.lead.careful")
				}
				if line := one.leadHalf(); part.half && line != "" {
					parts = append(parts, line)
				}
				more.Lead = append(more.Lead, strings.Join(append(parts, one.leadEstimates()...), " "))
			}
			if w.fitsMore(&more) {
				sheets[i] = &more
				break
			}
		}
	}
}

// bothLink is what pages of the other language say of a sheet in two languages. The sheets
// themselves are not kept: a guide has many bands.
type bothLink struct{ path, first, last string }

func linksTo(sheets []*Sheet) []bothLink {
	out := make([]bothLink, len(sheets))
	for i, s := range sheets {
		out[i] = bothLink{s.Path, s.Rows[0].Code, s.Rows[len(s.Rows)-1].Code}
	}
	return out
}

// bothLinks leads from a band's page to its sheets in two languages; each leads on to
// its PDFs.
func (b *builder) bothLinks(m *bandPage) []Block {
	main, up, other := b, "", b.beside
	if b.leads != nil {
		main, up, other = b.leads, "../", b.leads
	}
	made, ok := main.bothMade.Load(m.row().ID)
	if !ok {
		return nil
	}
	p := para(Inline{Text: b.t("band.sheets.both", "language", b.t("language."+other.words.Language())) + " "})
	for i, s := range made.([]bothLink) {
		if i > 0 {
			p.Text = append(p.Text, Inline{Text: " · "})
		}
		what := b.t("band.sheets.both.name", "n", strconv.Itoa(i+1), "first", s.first, "last", s.last)
		p.Text = append(p.Text, link(what, up+HTML(s.path)))
	}
	return []Block{p}
}

// nameSheet gives a sheet its name.
func (w Wall) nameSheet(s *Sheet, number int, part sheetPart, cut bool) {
	s.Name = w.Book.T("sheet.name", "n", strconv.Itoa(number), "part", w.partName(part.key))
	if cut {
		s.Name += w.Book.T("sheet.from_to", "first", s.Rows[0].Code, "last", s.Rows[len(s.Rows)-1].Code)
	}
	if w.pair != nil {
		s.Name = w.Book.T("sheet.both.name", "n", strconv.Itoa(number), "first", s.Rows[0].Code, "last", s.Rows[len(s.Rows)-1].Code)
	}
}

// markKey begins the phrase at a freeze line: a shorter one where two languages share
// the room.
func (w Wall) markKey() string {
	if w.pair != nil {
		return "sheet.both.mark."
	}
	return "sheet.mark."
}

// datesKey begins the phrases of a row's dates in type: with the letters of the bars
// where two languages share the room.
func (w Wall) datesKey() string {
	if w.pair != nil {
		return "sheet.both.dates."
	}
	return "sheet.dates."
}

// bothRows is the most crops on a sheet in two languages: rules in both leave room for
// no more.
const bothRows = 14

// mostRows is the most crops to try on a sheet.
func (w Wall) mostRows() int {
	if w.pair != nil {
		return bothRows
	}
	return SheetRows
}
