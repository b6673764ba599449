package page

import (
	"slices"
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/quantity"
)

// PosterRows is how many crops stand on one poster; PosterBands how many bands.
const (
	PosterRows  = 45
	PosterBands = 6
)

// Poster is one large sheet (A3 or Tabloid) with bands side by side: a row a crop, in
// each column its bars over the months and its dates in type.
type Poster struct {
	Path                       string // "poster", "poster-2"
	Lang, Title, Name, Edition string
	Dated, Code, CodeText      string
	Lead                       string
	Months                     []Month
	Days                       int
	HeadCrop                   string
	Bands                      []PosterBand
	Rows                       []PosterRow
	KeyTitle                   string
	Key                        []KeyEntry
	Foot                       []string
}

// PosterBand is a column: its name, where it lies, and its freeze lines.
type PosterBand struct {
	Name, Where string
	Marks       []SheetMark
}

// PosterRow is a crop in every band of the poster.
type PosterRow struct {
	Name     string
	GroupEnd bool // a heavier line under the row
	Cells    []PosterCell
}

// PosterCell is a crop in one band: nothing drawn, and Dates says so, where it has no
// season there. Sentence is the same in words.
type PosterCell struct {
	Bars            []Bar
	Dates, Sentence string
}

// posterColumn is what a band leaves for the posters.
type posterColumn struct {
	band   PosterBand
	crops  []posterCrop // in the order of the plans
	covers []KeyEntry   // that its sheets name by their letters
	sheet  *Sheet       // any of the band, for what all sheets share; nil = none
}

type posterCrop struct {
	name  string
	group byte
	cell  PosterCell
}

// posterColumnOf takes from a band's wall sheets what its column of a poster shows.
func posterColumnOf(m *bandPage) posterColumn {
	rows := map[string]SheetRow{}
	c := posterColumn{band: PosterBand{Name: m.row().Name}}
	for i, s := range m.sheets {
		if i == 0 {
			c.sheet, c.band.Where = s, s.Where
			c.band.Marks = s.Marks
		}
		for _, k := range s.CoverKey {
			if !slices.Contains(c.covers, k) {
				c.covers = append(c.covers, k)
			}
		}
		for _, r := range s.Rows {
			rows[r.Name] = r
		}
	}
	for i := range m.in.Plans {
		p := &m.in.Plans[i]
		x := posterCrop{name: p.Crop.Name, group: p.Group}
		if r, ok := rows[p.Crop.Name]; ok {
			x.cell = PosterCell{Bars: r.Bars, Dates: r.Dates, Sentence: r.Sentence}
		}
		c.crops = append(c.crops, x)
	}
	return c
}

// posters is every poster of the guide: up to PosterBands bands and PosterRows crops a
// sheet. Crops stand in groups by the cold that harms them, as on the wall sheets, and
// by name within a group; one without a season in any band is left out.
func (b *builder) posters() []*Poster {
	var out []*Poster
	n := len(b.Bands)
	for first := 0; b.whole() && first < n; first += PosterBands {
		var columns []posterColumn
		for i := first; i < min(first+PosterBands, n); i++ {
			columns = append(columns, b.chapters.rows[i])
		}
		rows := posterRows(columns, b.t("poster.none"))
		for at := 0; at < len(rows); at += PosterRows {
			out = append(out, b.poster(columns, rows[at:min(at+PosterRows, len(rows))]))
		}
	}
	for i, p := range out {
		p.Path = PosterPath(i + 1)
		p.Name = b.t("poster.name", "n", strconv.Itoa(i+1), "of", strconv.Itoa(len(out)))
		p.Code = codeOf(p)
		p.CodeText = b.t("poster.code", "code", p.Code)
	}
	return out
}

// PosterPath is poster n (from 1), without extension.
func PosterPath(n int) string {
	if n == 1 {
		return "poster"
	}
	return "poster-" + strconv.Itoa(n)
}

type groupedRow struct {
	PosterRow
	group byte
}

// posterRows joins columns to rows.
func posterRows(columns []posterColumn, none string) []groupedRow {
	var rows []groupedRow
	at := map[string]int{}
	for i, c := range columns {
		for _, x := range c.crops {
			k, ok := at[x.name]
			if !ok {
				k = len(rows)
				at[x.name] = k
				r := groupedRow{group: x.group, PosterRow: PosterRow{Name: x.name, Cells: make([]PosterCell, len(columns))}}
				for j := range r.Cells {
					r.Cells[j] = PosterCell{Dates: none, Sentence: none}
				}
				rows = append(rows, r)
			}
			if x.cell.Sentence != "" {
				rows[k].Cells[i] = x.cell
			}
		}
	}
	rows = slices.DeleteFunc(rows, func(r groupedRow) bool {
		return !slices.ContainsFunc(r.Cells, func(c PosterCell) bool { return len(c.Bars) > 0 })
	})
	sortByName(rows, func(r groupedRow) string { return string(r.group) + r.Name })
	for i := range rows {
		rows[i].GroupEnd = i+1 < len(rows) && rows[i+1].group != rows[i].group
	}
	return rows
}

func (b *builder) poster(columns []posterColumn, rows []groupedRow) *Poster {
	g := b.Tables.Guide
	p := &Poster{Lang: b.words.Language(), Title: b.t("poster.title"), Edition: b.t("sheet.edition", "guide", g.Title, "edition", strconv.Itoa(g.Edition)),
		Dated: isoDate(g.EditionDate), Lead: strings.TrimSpace(begunText(b.Tables, b.words) + " " + b.t("poster.lead", "careful", b.words.Odds(quantity.Careful))), HeadCrop: b.t("sheet.head.crop"),
		KeyTitle: b.t("sheet.key"), Days: quantity.SlotsPerYear}
	if slices.ContainsFunc(b.made, func(m *bandPage) bool { return b.estimateOf(m) != "" }) {
		p.Lead += " " + firstUpper(b.t("leaf.estimate")) + "."
	}
	for _, c := range columns {
		p.Bands = append(p.Bands, c.band)
		if c.sheet != nil {
			p.Months, p.Key = c.sheet.Months, c.sheet.Key
		}
	}
	for _, r := range rows {
		p.Rows = append(p.Rows, r.PosterRow)
	}
	about := []string{g.Publisher, g.Contact}
	if g.Address != "" {
		about = append(about, g.Address)
	}
	if g.UseUntil != "" {
		about = append(about, b.t("sheet.foot.until", "date", g.UseUntil))
	}
	if covers := coverLetters(columns); covers != "" {
		p.Foot = append(p.Foot, b.t("label", "name", b.t("sheet.cover_key"))+" "+covers)
	}
	p.Foot = append(p.Foot, b.t("sheet.foot.groups"), strings.Join(about, " · "))
	if g.Statement != "" {
		p.Foot = append(p.Foot, g.Statement)
	}
	return p
}

// posterPage is a poster as a table in words.
func (b *builder) posterPage(s *Poster) *Page {
	p := b.newPage(s.Path, "", s.Name, b.t("poster.description"))
	p.add(Para{Lead: true, Text: plain(s.Lead)}, para(link("A3 (PDF)", SheetPDF(s.Path, "a3")), Inline{Text: " · "}, link("Tabloid (PDF)", SheetPDF(s.Path, "tabloid"))))
	t := Table{RowHeads: true, Head: []string{s.HeadCrop}, Caption: b.t("poster.caption", "first", s.Rows[0].Name, "last", s.Rows[len(s.Rows)-1].Name)}
	for _, c := range s.Bands {
		t.Head = append(t.Head, c.Name)
	}
	for _, r := range s.Rows {
		row := [][]Inline{plain(r.Name)}
		for _, c := range r.Cells {
			row = append(row, plain(c.Dates))
		}
		t.Rows = append(t.Rows, row)
	}
	p.add(t)
	return p
}

// Booklet is what a publisher asks for beside the site: the whole guide to be bound, and
// posters. Whole is nil where the guide has too many bands for it.
type Booklet struct {
	Whole       *Page
	Facts       BookFacts
	Posters     []*Poster
	PosterPages []*Page
}

// BookFacts is what stands on the cover and at the foot of a bound guide.
type BookFacts struct {
	Title, Edition, Publisher, Contact, Lang, Dated, Statement, StatementShort, Until string
	Contents                                                                          string // "Contents"
	Page                                                                              string // "page {n}", with the braces
}

// Booklet is made after the last Band.
func (w *Builder) Booklet() Booklet {
	b := w.b
	if !b.whole() {
		return Booklet{}
	}
	g := b.Tables.Guide
	out := Booklet{Whole: b.wholePage(), Posters: b.posters(), Facts: BookFacts{Title: g.Title, Edition: b.edition(), Publisher: g.Publisher,
		Contact: b.t("frame.contact", "contact", g.Contact), Lang: b.words.Language(), Dated: isoDate(g.EditionDate), Statement: g.Statement, StatementShort: strings.TrimSpace(begunText(b.Tables, b.words) + " " + g.Short),
		Contents: b.t("whole.contents"), Page: b.t("whole.page", "n", "{n}")}}
	if g.UseUntil != "" {
		out.Facts.Until = b.t("frame.until", "date", g.UseUntil)
	}
	for _, p := range out.Posters {
		out.PosterPages = append(out.PosterPages, b.posterPage(p))
	}
	return out
}

// coverLetters explains the letters of covers on a poster: "N high tunnel · T low tunnel".
func coverLetters(columns []posterColumn) string {
	var keys []string
	for _, c := range columns {
		for _, k := range c.covers {
			if s := k.Letter + " " + k.Text; !slices.Contains(keys, s) {
				keys = append(keys, s)
			}
		}
	}
	slices.Sort(keys)
	return strings.Join(keys, " · ")
}

// bookletLinks leads to the bound guide and to the posters.
func (b *builder) bookletLinks() Para {
	out := para(link(b.t("whole.pdf"), WholePath+".pdf"))
	for _, x := range b.posters() {
		out.Text = append(out.Text, Inline{Text: " · "}, link(x.Name, HTML(x.Path)))
	}
	return out
}
