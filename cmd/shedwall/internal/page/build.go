package page

import (
	"strconv"
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/edition"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/prose"
	"shedwall/cmd/shedwall/internal/score"
	"shedwall/cmd/shedwall/internal/words"
)

// Input is everything pages are made from. It is only read.
type Input struct {
	Tables *catalog.Tables
	Region *band.Region
	Bands  []BandInput // in the order of the pages
	Texts  *prose.Library

	// Planner made the plans of the bands, or is to make them; nil = pages work out again
	// what it knows of structures.
	Planner *plan.Planner

	Book *words.Book

	Language  Language   // that the pages are written in
	Booklet   bool       // the bound guide and posters are made too
	Languages []Language // all of the guide's, its own first

	// Fitting says whether the sheets of one wall fit on their papers (render knows);
	// nil = all do.
	Fitting func() Fitting

	// LeafFits says the same of a leaf.
	LeafFits func(*Leaf) error

	// Reports are growers' reports set against the printed dates, asked for once in each
	// language; nil = there are none.
	Reports func() score.Result

	// Previous is what the latest earlier edition printed; nil = none was kept.
	Previous *catalog.Edition

	// Kept is what was printed under the guide's present number; nil = it was not kept.
	Kept *catalog.Edition

	// Keeping says that what these pages print is being kept now.
	Keeping bool

	// Made says what the guide is made by and from; it is asked after the last band.
	Made func() Made

	// Ledger takes what these pages print, all bands before Rest; nil = nobody asks.
	Ledger *edition.Ledger
}

// BandInput is one band with its climate and the plans of every crop.
type BandInput struct {
	Climate *band.Climate
	Plans   []plan.CropPlan
}

// Guide is every page of a guide.
type Guide struct {
	Site *Site
	Part
}

// File is a file beside the pages. It is written when it is asked for, so that one of many
// takes up room no longer than until it lies where it belongs.
type File struct {
	Path  string // with extension
	write func(room []byte) []byte
}

// Content is what stands in the file, written from the beginning of room as far as that goes.
func (f File) Content(room []byte) []byte { return f.write(room[:0]) }

// Build makes all pages at once; a Builder makes them part by part. It cannot fail:
// what is missing is said in words on the page. Links of the publisher's texts that
// lead nowhere are shown as plain words; CheckLinks tells about them.
func Build(in Input) *Guide {
	b := NewBuilder(in)
	g := &Guide{Site: b.Frame()}
	for i := range in.Bands {
		g.add(b.Band(i, in.Bands[i].Plans).Settled())
	}
	for first := 0; first == 0 || first < len(in.Bands); first += GroupSize {
		var plans [][]plan.CropPlan
		for _, x := range in.Bands[first:min(first+GroupSize, len(in.Bands))] {
			plans = append(plans, x.Plans)
		}
		for i := range in.Tables.Crops {
			g.add(b.Crop(i, first, plans).Settled())
		}
	}
	for _, make := range b.Rest() {
		g.add(make().Settled())
	}
	return g
}

// text is a page that holds nothing but a publisher's text.
func (b *builder) text(d *prose.Doc) *Page {
	p := b.newPage(d.ID, HTML(d.ID), d.Title, d.Title)
	if d.Foreign != "" {
		p.Blocks[0] = Heading{Level: 1, Text: []Inline{{Text: d.Title, Lang: d.Foreign}}}
	}
	p.add(b.untranslated(d)...)
	p.add(Prose{Doc: d, Link: b.proseLink, Size: b.Texts.PictureSize})
	return p
}

// t is a phrase.
func (b *builder) t(key string, pairs ...string) string { return b.words.T(key, pairs...) }

// say is a phrase as inline text.
func (b *builder) say(key string, pairs ...string) []Inline { return plain(b.words.T(key, pairs...)) }

func plain(s string) []Inline { return []Inline{{Text: s}} }

// quiet is a cell of a table of dates: set back where it says that there is none.
func (b *builder) quiet(s string) []Inline {
	return []Inline{{Text: s, Soft: s == b.t("window.not_done") || s == b.t("calendar.covers.little") || s == b.t("days.none")}}
}

func link(text, href string) Inline { return Inline{Text: text, Href: href} }

// heardLink is a link whose first words stand beside it for those who see the page.
func heardLink(heard, text, href string) Inline {
	return Inline{Heard: heard + ": ", Text: text, Href: href}
}

// para and heading shorten what every page writes.
func para(text ...Inline) Para { return Para{Text: text} }

func (b *builder) heading(level int, id, key string, pairs ...string) Heading {
	return Heading{Level: level, ID: id, Text: b.say(key, pairs...)}
}

// contentsOf leads to the headings of blocks that have an anchor, one after another.
func (b *builder) contentsOf(blocks []Block) Block {
	c := Contents{Name: b.t("frame.contents")}
	for _, x := range blocks {
		if h, ok := x.(Heading); ok && h.ID != "" && len(h.Text) > 0 {
			c.Items = append(c.Items, link(h.Text[0].Text, "#"+h.ID))
		}
	}
	return c
}

// newPage starts a page with its title and main heading.
func (b *builder) newPage(path, nav, title, description string) *Page {
	full := b.t("page.title", "page", title, "guide", b.Tables.Guide.Title)
	if path == IndexPath {
		full = title
	}
	p := &Page{Path: path, Lang: b.words.Language(), Title: full, Description: description, Nav: nav,
		Blocks: []Block{Heading{Level: 1, Text: plain(title)}}}
	p.add(b.begunNote()...)
	return p
}

func (p *Page) add(blocks ...Block) { p.Blocks = append(p.Blocks, blocks...) }

// site is the frame of all pages.
func (b *builder) site() *Site {
	g := b.Tables.Guide
	s := &Site{
		Title: g.Title, Lang: b.words.Language(),
		Edition:  b.edition(),
		SkipText: b.t("frame.skip"), NavName: b.t("frame.nav"), FootName: b.t("frame.foot"), TwinText: b.t("frame.twin"),
		Nav: []NavEntry{
			{HTML(FindPath), b.t("nav.find")},
			{BandsPlace, b.t("nav.bands")},
			{HTML(CropsPath), b.t("nav.crops")},
			{HTML(IndexPath) + "#covers", b.t("nav.covers")},
			{HTML(SafetyPath), b.t("nav.safety")},
			{HTML(QualityPath), b.t("nav.quality")},
			{HTML(SourcesPath), b.t("nav.sources")},
		},
	}
	about := []Inline{b.publisher(), {Text: " · " + s.Edition + " · "}, b.contact()}
	s.Foot = append(s.Foot, about, b.footLinks())
	if g.UseUntil != "" {
		s.Foot = append(s.Foot, b.say("frame.until", "date", g.UseUntil))
	}
	if g.Statement != "" {
		s.Foot = append(s.Foot, plain(g.Statement))
	}
	b.languageFrame(s)
	return s
}

func (b *builder) edition() string {
	g := b.Tables.Guide
	return b.t("frame.edition", "n", strconv.Itoa(g.Edition), "date", b.words.DateFull(g.EditionDate))
}

// contact is the publisher's mail or web address as a link where it is one.
func (b *builder) contact() Inline {
	c := b.Tables.Guide.Contact
	text := b.t("frame.contact", "contact", c)
	if a := address(c); a != "" {
		return link(text, a)
	}
	return Inline{Text: text}
}

// address is a link target for a mail or web address as people type it, "" where
// it is neither. Only these reach a page: an address in a table could be anything.
func address(s string) string {
	s = strings.TrimSpace(s)
	lower := strings.ToLower(s)
	switch {
	case strings.ContainsAny(s, " \t\r\n\"<>\\"):
		return ""
	case strings.HasPrefix(lower, "https://"), strings.HasPrefix(lower, "http://"):
		return s
	case strings.HasPrefix(lower, "mailto:"):
		return "mailto:" + s[len("mailto:"):]
	case strings.HasPrefix(lower, "www."):
		return "https://" + s
	case !strings.ContainsAny(s, ":/") && strings.Count(s, "@") == 1 && strings.Contains(s[strings.Index(s, "@"):], "."):
		return "mailto:" + s
	}
	return ""
}

// prose is a publisher's text with its links; nothing where there is none.
func (b *builder) prose(id string, shift int) []Block {
	d := b.Texts.Doc(id)
	if d == nil {
		return nil
	}
	return append(b.untranslated(d), Prose{Doc: d, Shift: shift, Link: b.proseLink, Size: b.Texts.PictureSize})
}

func (b *builder) proseLink(t prose.Target) string {
	return targetPath(t, b.paths)
}

// paths is the HTML file of every text and page that a publisher's text may link
// to, by the id used in links.
func paths(t *catalog.Tables, texts *prose.Library) map[string]string {
	out := map[string]string{}
	for _, p := range []string{IndexPath, FindPath, QualityPath, SafetyPath, SourcesPath, WordsPath, AccessPath, CropsPath, HandoverPath} {
		out[p] = HTML(p)
	}
	for i := range t.Bands {
		out["bands/"+t.Bands[i].ID] = HTML(BandPath(t.Bands[i].ID))
		for _, p := range []string{BandPath(t.Bands[i].ID), TonightPath(t.Bands[i].ID), WorksheetPath(t.Bands[i].ID), TasksPath(t.Bands[i].ID), SlipsPath(t.Bands[i].ID), FallPath(t.Bands[i].ID), AgainPath(t.Bands[i].ID), PotsPath(t.Bands[i].ID)} {
			out[p] = HTML(p)
		}
	}
	for i := range t.Crops {
		out["crops/"+t.Crops[i].ID] = HTML(CropPath(t.Crops[i].ID))
	}
	for _, c := range everyCover(t) {
		out["covers/"+c.ID] = HTML(CoverPath(c.ID))
	}
	for _, d := range furtherTexts(texts, out) {
		out[d.ID] = HTML(d.ID)
	}
	return out
}

// furtherTexts are the texts that are pages of their own: those that stand on no
// other page and in no folder of one.
func furtherTexts(texts *prose.Library, known map[string]string) []*prose.Doc {
	var out []*prose.Doc
	for _, d := range texts.All() {
		folder, _, in := strings.Cut(d.ID, "/")
		if known[d.ID] == "" && !(in && (folder == "bands" || folder == "crops" || folder == "covers")) {
			out = append(out, d)
		}
	}
	return out
}

func targetPath(t prose.Target, known map[string]string) string {
	fragment := ""
	if t.Fragment != "" {
		fragment = "#" + t.Fragment
	}
	if t.Doc == "" {
		return fragment
	}
	p, ok := known[t.Doc]
	if !ok {
		return ""
	}
	return p + fragment
}

// CheckLinks tells which links of the publisher's texts lead to no page of the
// guide, and which texts belong to no page.
func CheckLinks(t *catalog.Tables, texts *prose.Library, faults *diag.List) {
	known := paths(t, texts)
	names := make([]string, 0, len(known))
	for id := range known {
		names = append(names, id)
	}
	for _, d := range texts.All() {
		if known[d.ID] == "" && d.Own {
			f := diag.Fault{At: diag.Position{File: d.File}, ID: "prose-no-page", Severity: diag.Warning,
				What: "no page shows this text", Expected: "the id of a band, crop or cover of the guide"}
			if near := diag.Nearest(d.ID, names); near != "" {
				f.Cure = "perhaps " + strconv.Quote("content/"+near+".md") + " is meant"
			}
			faults.Add(f)
		}
		if d.Foreign != "" {
			continue // told in its own language
		}
		d.Targets(func(i prose.Inline) {
			if i.Kind != prose.Link || i.Target.Outside != "" || i.Target.Doc == "" || known[i.Target.Doc] != "" {
				return
			}
			f := diag.Fault{At: i.Target.At, ID: "prose-link-nowhere", What: "the guide has no page " + strconv.Quote(i.Target.Doc),
				Expected: "a page of the guide, such as ../crops/kale.md", Cure: "mend the path, or remove the link"}
			if !d.Own {
				f.Severity = diag.Notice // a default text may speak of a crop that this guide dropped
			}
			if near := diag.Nearest(i.Target.Doc, names); near != "" {
				f.Expected = "perhaps " + strconv.Quote(near)
			}
			faults.Add(f)
		})
	}
}
