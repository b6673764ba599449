package publish

import (
	"fmt"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/render"
)

// liveSite is the site of one good state of a guide. Each file is made when it is asked
// for, and once.
type liveSite struct {
	*press
	key   mark // of all that drafts are made from
	bands []*liveBand
	used  [][]bool // drafts that the builders of this site know of, by language and band

	inputs func() (*inputs, error)
	parts  func() ([][]page.Part, error) // by language and band
	moved  func() ([]page.Part, error)   // by language

	busy  chan struct{}
	files sync.Map // path -> *madeFile
}

// madeFile is a file once it was asked for.
type madeFile struct {
	once sync.Once
	data []byte
	ok   bool
	err  error
}

// liveBand is what is made of a band before its pages. Sites that differ in the wording of
// texts alone share it.
type liveBand struct {
	mu     sync.Mutex
	plans  []plan.CropPlan
	drafts []*page.Draft // by language
}

// newLiveSite is the site of a guide without faults, with what it can use of the last one.
func newLiveSite(g *Guide, last *liveSite) (*liveSite, error) {
	s := &liveSite{key: g.draftKey(), busy: last.busyWith()}
	p := &press{guide: g}
	var err error
	if p.templates, err = g.templates(); err != nil {
		return nil, err
	}
	s.press = p
	s.inputs = sync.OnceValues(func() (*inputs, error) { return g.readInputs(p.in.Ledger) })
	made := sync.OnceValue(s.madeOf)
	if last != nil && last.key == s.key {
		p.in, s.bands = last.in, last.bands
		p.in.Texts, p.in.Ledger, p.in.Made = g.Texts, g.newLedger(p.in.Tables), made
		for i, l := range last.languages {
			b := l.Again(g.voices[i].texts, p.in.Ledger, made)
			p.languages = append(p.languages, language{b, b.Frame()})
		}
	} else {
		p.in = g.input(nil)
		p.in.Made = made
		for _, v := range g.voices {
			b := page.NewBuilder(v.in(p.in, g.languages()))
			p.languages = append(p.languages, language{b, b.Frame()})
		}
		for range p.in.Bands {
			s.bands = append(s.bands, &liveBand{drafts: make([]*page.Draft, len(p.languages))})
		}
	}
	if len(p.languages) > 1 {
		page.Beside(p.languages[0].Builder, p.languages[1].Builder)
	}
	for range p.languages {
		s.used = append(s.used, make([]bool, len(s.bands)))
	}
	s.parts = sync.OnceValues(s.everyPart)
	s.moved = sync.OnceValues(s.movedParts)
	return s, nil
}

// draftKey is of all that drafts are made from: every table, record and kept edition, and
// which texts there are in each language.
func (g *Guide) draftKey() mark {
	l := g.loader
	var texts []string
	for _, v := range g.voices {
		for _, d := range v.texts.All() {
			texts = append(texts, v.Code, d.ID, d.Foreign)
		}
	}
	return markOf(l.own.key, l.tables.key, l.stations.key, l.printed.key, markOf(texts))
}

// busyWith is the queue of those who make files: as many at once as there are processors,
// over all sites.
func (s *liveSite) busyWith() chan struct{} {
	if s == nil {
		return make(chan struct{}, runtime.GOMAXPROCS(0))
	}
	return s.busy
}

// get is a file by its path from the top of the site; false where the site has none.
func (s *liveSite) get(name string) ([]byte, bool, error) {
	x, _ := s.files.LoadOrStore(name, &madeFile{})
	f := x.(*madeFile)
	f.once.Do(func() {
		s.busy <- struct{}{}
		defer func() { <-s.busy }()
		defer caught(&f.err)
		f.data, f.ok, f.err = s.make(name)
	})
	if !f.ok {
		s.files.Delete(name) // names that nobody has are without end
	}
	return f.data, f.ok, f.err
}

func (s *liveSite) make(name string) ([]byte, bool, error) {
	switch {
	case name == page.StylePath:
		return s.templates.Style(), true, nil
	case strings.HasPrefix(name, page.InputsFolder+"/"):
		return s.input(name)
	case slices.Contains(s.guide.Texts.Pictures(), name):
		picture, err := s.guide.Texts.Picture(name)
		return picture.Data, true, err
	}
	at := 0
	for i, l := range s.languages {
		if folder := l.frame.Language.Folder; folder != "" && strings.HasPrefix(name, folder) {
			at = i
		}
	}
	name = strings.TrimPrefix(name, s.languages[at].frame.Language.Folder)
	if id, ok := strings.CutPrefix(name, "bands/"); ok {
		id, _, _ = strings.Cut(id, "/")
		i := slices.IndexFunc(s.in.Bands, func(b page.BandInput) bool { return b.Climate.Band.ID == id })
		if i < 0 {
			return nil, false, nil
		}
		data, ok, err := s.ofBand(at, i, name)
		if ok || err != nil {
			return data, ok, err
		}
		return s.ofMoved(at, name)
	}
	stem, isPage := pageOf(name)
	if isPage {
		for i := range s.in.Tables.Crops {
			if own := page.CropPath(s.in.Tables.Crops[i].ID); stem == own || strings.HasPrefix(stem, own+"/") {
				p, err := s.cropPage(at, i, stem)
				if err != nil {
					return nil, false, err
				}
				if p != nil {
					return s.text(at, p, name)
				}
			}
		}
		need, make := s.languages[at].RestPage(stem)
		if make != nil {
			if err := s.ready(at, need); err != nil {
				return nil, false, err
			}
			return s.text(at, make(), name)
		}
	}
	if stem == page.MovedPath || name == page.MovedFile {
		return s.ofMoved(at, name)
	}
	return nil, false, nil
}

// pageOf is the path of the page whose HTML or Markdown file has a name.
func pageOf(name string) (stem string, ok bool) {
	for _, ext := range []string{".html", ".md"} {
		if stem, ok = strings.CutSuffix(name, ext); ok {
			return stem, true
		}
	}
	return strings.TrimSuffix(name, path.Ext(name)), false
}

// text is a page as HTML or Markdown, by its file's name.
func (s *liveSite) text(at int, p *page.Page, name string) ([]byte, bool, error) {
	l := s.languages[at]
	if file := page.HTML(p.Path); name == file {
		data, err := s.templates.HTML(l.frame, p)
		return data, true, err
	} else if twin, ok := page.Twin(file); ok && twin == name {
		data, err := s.templates.Markdown(l.frame, p)
		return data, true, err
	}
	return nil, false, nil
}

// input is one of the guide's own files.
func (s *liveSite) input(name string) ([]byte, bool, error) {
	in, err := s.inputs()
	if err != nil {
		return nil, false, err
	}
	if name == page.SumsFile {
		return in.checksums(), true, nil
	}
	for _, own := range in.names {
		if page.InputFilePath(own) == name {
			return in.data[own], true, nil
		}
	}
	return nil, false, nil
}

// madeOf is what the page for the next one says of the inputs; nothing where they cannot
// be read, which asking for one of them tells.
func (s *liveSite) madeOf() page.Made {
	in, err := s.inputs()
	if err != nil {
		return page.Made{}
	}
	return in.made
}

// plansOf is the plans of a band; the caller holds its lock.
func (s *liveSite) plansOf(i int) []plan.CropPlan {
	b := s.bands[i]
	if b.plans == nil {
		b.plans = s.guide.plan(s.in.Bands[i].Climate.Band.ID)
	}
	return b.plans
}

// draft is the draft of a band in a language, known to that language's builder, after the
// one in the guide's own, to which others lead; the caller holds the band's lock.
func (s *liveSite) draft(at, i int) *page.Draft {
	if at > 0 {
		s.draft(0, i)
	}
	b := s.bands[i]
	if b.drafts[at] == nil {
		b.drafts[at] = s.languages[at].Draft(i, s.plansOf(i))
	}
	if !s.used[at][i] {
		s.languages[at].Use(b.drafts[at])
		s.used[at][i] = true
	}
	return b.drafts[at]
}

// ofBand is a file of a band.
func (s *liveSite) ofBand(at, i int, name string) ([]byte, bool, error) {
	b := s.bands[i]
	b.mu.Lock()
	defer b.mu.Unlock()
	l, d := s.languages[at], s.draft(at, i)
	stem, isPage := pageOf(name)
	if isPage {
		if p := l.BandPage(d, stem); p != nil {
			return s.text(at, p, name)
		}
	}
	part := l.Papers(d)
	for _, x := range part.Sheets {
		if name == page.HTML(x.Path) {
			s.twins(i)
			data, err := sheetHTML(l, x)
			return data, true, named(x.Band, x.Name, err)
		}
		for _, paper := range sheetPapers(x) {
			if name == page.SheetPDF(x.Path, paper.Name) {
				data, err := render.SheetPDF(x, paper)
				return data, true, named(x.Band, x.Name, err)
			}
		}
	}
	for _, x := range part.Calendars {
		if name == x.Path {
			return render.ICS(x), true, nil
		}
	}
	return ofLeavesAndFiles(part, name)
}

// sheetPapers is what a sheet has a PDF for.
func sheetPapers(x *page.Sheet) []render.Paper {
	if x.NoPDF {
		return nil
	}
	return papers
}

func sheetHTML(l language, x *page.Sheet) ([]byte, error) {
	frame := page.FrameOf(x, l.Book(), l.frame)
	return render.SheetHTML(x, frame)
}

// twins leads the sheets of a band to those in other languages; its lock is held.
func (s *liveSite) twins(i int) {
	parts := make([]page.Part, len(s.languages))
	for at, l := range s.languages {
		parts[at] = l.Papers(s.draft(at, i))
	}
	page.TwinsOf(parts, s.guide.languages())
}

func ofLeavesAndFiles(part page.Part, name string) ([]byte, bool, error) {
	for _, x := range part.Leaves {
		for _, paper := range papers {
			if name == page.LeafPDF(x.Path, paper.Name) {
				data, err := render.LeafPDF(x, paper)
				return data, true, named(x.Band, x.Name, err)
			}
		}
	}
	for _, x := range part.Files {
		if name == x.Path {
			return x.Content(nil), true, nil
		}
	}
	return nil, false, nil
}

// cropPage is the page of a crop at a path, for the group of bands that stands there; nil
// where there is no such page.
func (s *liveSite) cropPage(at, crop int, stem string) (*page.Page, error) {
	for first := 0; first == 0 || first < len(s.bands); first += page.GroupSize {
		after := min(first+page.GroupSize, len(s.bands))
		plans := make([][]plan.CropPlan, after-first)
		err := s.each(first, after, func(i int) error { plans[i-first] = s.plansOf(i); return nil })
		if err != nil {
			return nil, err
		}
		for _, p := range s.languages[at].Crop(crop, first, plans).Later {
			if p.Path == stem {
				return p.Make(), nil
			}
		}
	}
	return nil, nil
}

// each does something for the bands from first to before after, all processors at work,
// under the lock of each.
func (s *liveSite) each(first, after int, do func(i int) error) error {
	w := newWork()
	for i := first; i < after; i++ {
		w.do(func() (err error) {
			defer caught(&err)
			s.bands[i].mu.Lock()
			defer s.bands[i].mu.Unlock()
			return do(i)
		})
	}
	return w.wait()
}

// ready makes what a page waits for.
func (s *liveSite) ready(at int, need page.Need) error {
	switch need {
	case page.NeedDrafts:
		return s.each(0, len(s.bands), func(i int) error { s.draft(at, i); return nil })
	case page.NeedParts:
		_, err := s.parts()
		return err
	}
	return nil
}

// everyPart makes the pages of every band in every language.
func (s *liveSite) everyPart() ([][]page.Part, error) {
	out := make([][]page.Part, len(s.languages))
	for at := range out {
		out[at] = make([]page.Part, len(s.bands))
	}
	return out, s.each(0, len(s.bands), func(i int) error {
		for at, l := range s.languages {
			out[at][i] = l.Part(s.draft(at, i))
		}
		return nil
	})
}

// movedParts is what tells of moved dates in every language.
func (s *liveSite) movedParts() ([]page.Part, error) {
	if s.in.Ledger == nil {
		return make([]page.Part, len(s.languages)), nil
	}
	if _, err := s.parts(); err != nil {
		return nil, err
	}
	var out []page.Part
	for _, l := range s.languages {
		out = append(out, l.Moved())
	}
	return out, nil
}

// ofMoved is a file that tells of moved dates.
func (s *liveSite) ofMoved(at int, name string) ([]byte, bool, error) {
	parts, err := s.moved()
	if err != nil {
		return nil, false, err
	}
	stem, isPage := pageOf(name)
	for _, p := range parts[at].Pages {
		if isPage && p.Path == stem {
			return s.text(at, p, name)
		}
	}
	return ofLeavesAndFiles(parts[at], name)
}

// phrasesMissing are the phrases that pages asked for in vain: with them nothing would be
// published.
func (s *liveSite) phrasesMissing() []diag.Fault {
	var out []diag.Fault
	for _, l := range s.languages {
		if missing := l.Book().Unknown(); len(missing) > 0 {
			out = append(out, diag.Fault{At: diag.Position{File: "data/words.csv"}, ID: "words-missing",
				What: fmt.Sprintf("no phrase in %q for %s", l.Book().Language(), strings.Join(missing, ", ")), Cure: "give each a row and a text"})
		}
	}
	return out
}
