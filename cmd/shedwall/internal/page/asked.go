package page

import (
	"slices"

	"shedwall/cmd/shedwall/internal/edition"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/prose"
)

// Draft is what the pages of a band stand on: its sheets, leaves and lists, made from its
// plans. It is most of the work, and of the publisher's texts it knows only which there
// are. So a Draft serves every builder whose input differs in the wording of texts alone.
type Draft struct {
	i int
	m *bandPage
}

// Again is a builder whose input differs in Texts, Ledger and Made alone: it goes on from
// what this one worked out.
func (w *Builder) Again(texts *prose.Library, ledger *edition.Ledger, made func() Made) *Builder {
	in := w.b.Input
	in.Texts, in.Ledger, in.Made = texts, ledger, made
	out := NewBuilder(in)
	out.b.planner, out.b.made = w.b.planner, w.b.made
	return out
}

// Draft makes the draft of band i of the input.
func (w *Builder) Draft(i int, plans []plan.CropPlan) *Draft {
	return &Draft{i, w.b.planned(w.b.made[i], plans)}
}

// Use makes known to other pages what the sheets of a band show: pages of covers, and the
// band's own in another language, come after it.
func (w *Builder) Use(d *Draft) {
	w.b.drawn.add(d.m.sheets)
	if w.b.beside != nil {
		w.b.bothMade.Store(d.m.row().ID, linksTo(d.m.both))
	}
}

// Part is everything about a band, of which the whole guide's pages take notice.
func (w *Builder) Part(d *Draft) Part {
	b, m := w.b, d.m
	form := b.reportLeaf(m)
	part := b.papers(m, form)
	for _, x := range b.bandPages(m, form) {
		part.add(x.part())
	}
	b.keepChapter(d.i, m)
	b.keep(m, part)
	return part
}

// Papers is what a band has beside its pages of text: sheets, leaves, table, calendar.
func (w *Builder) Papers(d *Draft) Part {
	return w.b.papers(d.m, w.b.reportLeaf(d.m))
}

// BandPage is one page of a band by its path; nil where the band has no such page.
func (w *Builder) BandPage(d *Draft, path string) *Page {
	return onePage(w.b.bandPages(d.m, w.b.reportLeaf(d.m)), path)
}

// Need says what a page waits for.
type Need uint8

// Nothing; Use of every band; Part of every band.
const (
	NeedNothing Need = iota
	NeedDrafts
	NeedParts
)

// RestPage is one of the pages of Rest by its path, made when asked for; nil where there is
// no such page. Those about what moved are in Moved.
func (w *Builder) RestPage(path string) (need Need, page func() *Page) {
	for _, x := range w.b.restPages() {
		if x.path == path {
			return x.need, x.make
		}
	}
	return NeedNothing, nil
}

// Moved is the pages, slips and table about what moved since an earlier edition; it needs
// the Part of every band in every language.
func (w *Builder) Moved() Part { return w.b.movedPart() }

// ofPath is a page that can be made apart from others.
type ofPath struct {
	path string
	need Need
	make func() *Page

	ofCrops func() any // what Later.Of is; nil = the page is made from the whole table of crops
}

// noCrops is ofCrops of a page that says nothing of crops.
func noCrops() any { return nil }

// part is the page, made at once or to be made later.
func (x ofPath) part() Part {
	if x.ofCrops == nil {
		return Part{Pages: []*Page{x.make()}}
	}
	return Part{Later: []Later{{x.path, x.ofCrops(), x.make}}}
}

func onePage(all []ofPath, path string) *Page {
	if i := slices.IndexFunc(all, func(x ofPath) bool { return x.path == path }); i >= 0 {
		return all[i].make()
	}
	return nil
}

// bandPages is the pages of text of a band.
func (b *builder) bandPages(m *bandPage, form *Leaf) []ofPath {
	id := m.row().ID
	of := func(path string, make func(*bandPage) *Page) ofPath {
		return ofPath{path: path, make: func() *Page { return make(m) }}
	}
	out := []ofPath{of(BandPath(id), b.band), of(TonightPath(id), b.tonightPage), of(WorksheetPath(id), b.worksheetPage), of(SentencesPath(id), b.sentences), of(AgainPath(id), b.againPage)}
	if len(b.Tables.Pots) > 0 {
		pots := of(PotsPath(id), b.potsPage)
		pots.ofCrops = noCrops
		out = append(out, pots)
	}
	return append(out, of(TasksPath(id), b.tasksPage), of(SlipsPath(id), b.sowPage), of(FallPath(id), b.fallPage),
		ofPath{path: ReportPath(id), make: func() *Page { return b.reportPage(m, form) }})
}

// papers is what a band has beside them.
func (b *builder) papers(m *bandPage, form *Leaf) Part {
	part := Part{Sheets: slices.Concat(m.sheets, m.both), Files: []File{m.csv}, Calendars: []*Calendar{b.calendarFor(m)}}
	if b.Tables.Guide.FirstPDF {
		return part // the pages of text say what the leaves say
	}
	for _, l := range []*Leaf{m.hand.tonight, m.hand.worksheet, m.work.list, m.work.slips, m.work.fall, form} {
		if l != nil {
			part.Leaves = append(part.Leaves, l)
		}
	}
	return part
}

// restPages is the pages that speak of all bands, of covers, and the publisher's own texts.
func (b *builder) restPages() []ofPath {
	of := func(path string, make func() *Page) ofPath { return ofPath{path: path, make: make} }
	quality := of(QualityPath, b.quality)
	quality.ofCrops = func() any { return b.figureCounts() }
	out := []ofPath{of(IndexPath, b.index), of(FindPath, b.find), quality, of(SafetyPath, b.safety), of(SourcesPath, b.sourcePage),
		of(CropsPath, b.crops), of(WordsPath, b.wordsPage), of(GrowersPath, b.growers), of(AccessPath, b.accessibility)}
	for _, c := range everyCover(b.Tables) {
		page := of(CoverPath(c.ID), func() *Page { return b.cover(c) })
		page.need, page.ofCrops = NeedDrafts, func() any { return b.onSheets(c) }
		out = append(out, page)
	}
	for _, d := range b.further {
		out = append(out, of(d.ID, func() *Page { return b.text(d) }))
	}
	out = append(out, of(HandoverPath, b.handover))
	if b.whole() {
		whole := of(WholePath, b.wholePage)
		whole.need = NeedParts
		out = append(out, whole)
	}
	return out
}
