package page

import (
	"slices"
	"sync"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/prose"
	"shedwall/cmd/shedwall/internal/words"
)

// GroupSize is the most bands that stand on one page of a crop. A guide with more
// bands has further pages, see Builder.Crop.
const GroupSize = 50

// Part is some of a guide's pages with what lies beside them.
type Part struct {
	Pages  []*Page
	Later  []Later
	Sheets []*Sheet
	Leaves []*Leaf // tonight cards and worksheets
	Files  []File  // tables for spreadsheets

	Calendars []*Calendar
}

// Later is a page that is yet to be made. It is made from all that the guide says but for its
// table of crops, and of that table from Of alone: where nothing of these is another than
// before, the page would be the same and need not be made.
type Later struct {
	Path string
	Of   any // nil = nothing of the table of crops
	Make func() *Page
}

// Settled is the part with every page made.
func (p Part) Settled() Part {
	pages := slices.Clone(p.Pages)
	for _, x := range p.Later {
		pages = append(pages, x.Make())
	}
	p.Pages, p.Later = pages, nil
	return p
}

func (p *Part) add(q Part) {
	p.Pages = append(p.Pages, q.Pages...)
	p.Later = append(p.Later, q.Later...)
	p.Sheets = append(p.Sheets, q.Sheets...)
	p.Leaves = append(p.Leaves, q.Leaves...)
	p.Files = append(p.Files, q.Files...)
	p.Calendars = append(p.Calendars, q.Calendars...)
}

// Builder makes a guide's pages in one language part by part, so that a guide of any
// size fits into memory: it keeps a few dates of each band and no plan. Every band is
// made, then what speaks of all of them:
//
//	b := NewBuilder(in)
//	for i := range in.Bands { use(b.Band(i, plans)) }
//	for each group of GroupSize bands, for i := range in.Tables.Crops { use(b.Crop(i, first, plans)) }
//	for _, make := range b.Rest() { use(make()) }
//
// Its methods, and the functions that Rest gives, may be called by several goroutines at
// once; those of Rest after the last Band.
type Builder struct{ b *builder }

// NewBuilder prepares the pages of a guide. Of in.Bands it reads the climates only.
func NewBuilder(in Input) *Builder {
	b := &builder{Input: in, words: in.Book, planner: plan.NewPlanner(in.Tables), covers: cover.NewBook(in.Tables), sources: map[string]*catalog.Source{}, drawn: &drawn{}, cropRow: map[string]*catalog.Crop{}}
	if in.Planner != nil {
		b.planner = b.planner.Sharing(in.Planner)
	}
	for i := range in.Tables.Crops {
		b.cropRow[in.Tables.Crops[i].ID] = &in.Tables.Crops[i]
	}
	for i := range in.Tables.Sources {
		b.sources[in.Tables.Sources[i].ID] = &in.Tables.Sources[i]
	}
	b.offered = b.covers.Offered(in.Tables) // structures apart: their gain is a band's
	b.further = furtherTexts(in.Texts, paths(in.Tables, nil))
	b.paths = paths(in.Tables, in.Texts)
	for i := range in.Bands {
		m := b.outline(in.Bands[i].Climate)
		m.number = i
		b.made = append(b.made, m)
	}
	return &Builder{b}
}

// Frame is what stands around every page.
func (w *Builder) Frame() *Site { return w.b.site() }

// Book is the phrases the pages are made with.
func (w *Builder) Book() *words.Book { return w.b.words }

// Band is everything that is about band i of the input alone.
func (w *Builder) Band(i int, plans []plan.CropPlan) Part {
	d := w.Draft(i, plans)
	w.Use(d)
	return w.Part(d)
}

// Crop is the page of crop i of the tables on which the bands from first on stand, with
// the plans of each of them; the bands of a page are GroupSize, on the last page what
// is left. It says nothing of other crops.
func (w *Builder) Crop(i, first int, plans [][]plan.CropPlan) Part {
	row := &w.b.Tables.Crops[i]
	return Part{Later: []Later{{CropPagePath(row.ID, first/GroupSize+1), row, func() *Page {
		g := group{first: first}
		for k, p := range plans {
			m := *w.b.made[first+k]
			m.in = &BandInput{m.in.Climate, w.b.named(p)}
			g.bands = append(g.bands, &m)
		}
		return w.b.crop(row, g)
	}}}}
}

// Rest makes the pages that speak of all bands, of covers, and the publisher's own texts,
// each function a part of them.
func (w *Builder) Rest() []func() Part {
	var parts []func() Part
	for _, x := range w.b.restPages() {
		parts = append(parts, x.part)
	}
	return append(parts, w.Moved)
}

// builder holds what every page needs. While pages are made it is only read, but for
// drawn.
type builder struct {
	Input
	words     *words.Book
	planner   *plan.Planner
	covers    cover.Book
	offered   []string
	paths     map[string]string
	sources   map[string]*catalog.Source
	made      []*bandPage // every band's outline
	further   []*prose.Doc
	drawn     *drawn
	beside    *builder // of the language that stands beside this one on sheets; nil = none
	leads     *builder // of the language whose sheets in two languages this one leads to; nil = none
	pair      *pairWords
	walls     sync.Map // band -> its wall, where the sheets in two languages were made first
	handed    sync.Map // band -> *sharedWork, where another language has made it
	bothMade  sync.Map // band -> links to its sheets in two languages
	chapters  chapters
	cropRow   map[string]*catalog.Crop
	houseMemo sync.Map // structure id -> []housed
}

// group is some bands that stand together on the pages of crops, with their plans.
type group struct {
	first int // number of the first band
	bands []*bandPage
}

// drawn is which covers any wall sheet has in its key.
type drawn struct {
	mu   sync.Mutex
	keys map[KeyEntry]bool
}

func (d *drawn) add(sheets []*Sheet) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.keys == nil {
		d.keys = map[KeyEntry]bool{}
	}
	for _, s := range sheets {
		for _, k := range s.CoverKey {
			d.keys[k] = true
		}
	}
}

func (d *drawn) has(k KeyEntry) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.keys[k]
}
