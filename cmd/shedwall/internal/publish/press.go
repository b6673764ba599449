package publish

import (
	"fmt"
	"slices"
	"sync"
	"sync/atomic"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/render"
)

// press makes a site from a guide, all cores at work. Bands are planned, paged,
// rendered and written a group at a time, and their plans let go once the crops' pages
// of that group are written: memory is that of one group, however many there are.
type press struct {
	guide     *Guide
	in        page.Input // bands and tables; the same in every language
	languages []language
	templates *render.Pages
	site      *stage

	only []string        // bands that are asked for; empty = all
	old  keepable        // the site that this one takes the place of
	base string          // fingerprint of what goes into every file; "" = nothing is kept
	keys map[string]keys // of what each file was made from

	inputs func() (*inputs, error) // the guide's own files, read once every band is made

	nextBand func() // tells that one more band is planned

	mu  sync.Mutex // for site and sum
	sum Summary
}

// language makes the pages of one language. Plans are the same in all.
type language struct {
	*page.Builder
	frame *page.Site
}

// at is where a file of the language lies in the site.
func (l language) at(name string) string { return l.frame.Language.Folder + name }

// files are those of the page at a path: HTML and, where there is one, its twin.
func (l language) files(path string) []string {
	html := page.HTML(path)
	if twin, ok := page.Twin(html); ok {
		return []string{l.at(html), l.at(twin)}
	}
	return []string{l.at(html)}
}

func newPress(g *Guide, only []string) *press {
	p := &press{guide: g, only: only, in: g.input(only), keys: map[string]keys{}}
	p.inputs = sync.OnceValues(func() (*inputs, error) { return g.readInputs(p.in.Ledger) })
	p.in.Made = func() page.Made {
		in, err := p.inputs()
		if err != nil {
			return page.Made{} // takeInputs ends the publish
		}
		return in.made
	}
	all := g.languages()
	for _, v := range g.voices {
		b := page.NewBuilder(v.in(p.in, all))
		p.languages = append(p.languages, language{b, b.Frame()})
	}
	if len(p.languages) > 1 {
		page.Beside(p.languages[0].Builder, p.languages[1].Builder)
	}
	return p
}

// run writes everything to the stage.
func (p *press) run() error {
	var err error
	if p.templates, err = p.guide.templates(); err != nil {
		return err
	}
	p.sum.Bands = len(p.in.Bands)
	p.nextBand = p.guide.steps("bands", 0, len(p.in.Bands))
	for first := 0; first == 0 || first < len(p.in.Bands); first += page.GroupSize {
		if err := p.group(first, min(first+page.GroupSize, len(p.in.Bands))); err != nil {
			return err
		}
	}
	for _, l := range p.languages {
		if missing := l.Book().Unknown(); len(missing) > 0 {
			return fmt.Errorf("words.csv has no phrase in %q for %v", l.Book().Language(), missing)
		}
	}
	return nil
}

// group writes the bands from first to before after. Once the last of them is planned it
// goes on to what waits for them all, while their own pages are still being written.
func (p *press) group(first, after int) error {
	plans := make([][]plan.CropPlan, after-first)
	w := newWork()
	planned := func() {
		p.crops(w, first, plans)
		if after == len(p.in.Bands) {
			p.rest(w)
		}
	}
	if len(plans) == 0 {
		planned()
	}
	var done atomic.Int64
	for k := range slices.Backward(plans) { // the last added is done first
		w.do(func() error {
			parts, err := p.band(first+k, &plans[k])
			if err != nil {
				return err
			}
			if int(done.Add(1)) == len(plans) {
				planned()
			}
			for i, l := range p.languages {
				w.do(func() error { p.part(w, l, parts[i]); return nil })
			}
			return nil
		})
	}
	return w.wait()
}

// band plans a band and makes its pages, a part in each language.
func (p *press) band(i int, plans *[]plan.CropPlan) ([]page.Part, error) {
	climate := p.in.Bands[i].Climate
	*plans = p.guide.Planner.BandOfMany(climate)
	parts := make([]page.Part, len(p.languages))
	for k, l := range p.languages {
		parts[k] = l.Band(i, *plans)
	}
	page.TwinsOf(parts, p.guide.languages())
	for k, l := range p.languages {
		if err := p.settle(l, &parts[k]); err != nil {
			return nil, err
		}
	}
	p.guide.Planner.Forget(climate) // pages of crops ask the plans alone
	p.nextBand()
	return parts, nil
}

// crops adds the pages of crops that a group of bands stands on.
func (p *press) crops(w *work, first int, plans [][]plan.CropPlan) {
	next := p.guide.steps("pages of crops", 0, len(p.in.Tables.Crops)*len(p.languages))
	for i := range p.in.Tables.Crops {
		for _, l := range p.languages {
			w.do(func() error { next(); return p.settled(w, l, l.Crop(i, first, plans)) })
		}
	}
}

// rest adds what speaks of all bands, or of none.
func (p *press) rest(w *work) {
	p.guide.tell("pages of the whole guide", 0, 0)
	for _, l := range p.languages {
		for _, make := range slices.Backward(l.Rest()) { // the last added is done first
			w.do(func() error { return p.settled(w, l, make()) })
		}
		if p.guide.Booklet {
			w.do(func() error { p.booklet(w, l); return nil })
		}
	}
	w.do(p.takeInputs)
	w.do(func() error { return p.put(page.StylePath, p.templates.Style()) })
	for _, name := range p.guide.Texts.Pictures() {
		w.do(func() error {
			picture, err := p.guide.Texts.Picture(name)
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			return p.put(name, picture.Data)
		})
	}
}

// settled is part with the pages made that are yet to be.
func (p *press) settled(w *work, l language, part page.Part) error {
	if err := p.settle(l, &part); err != nil {
		return err
	}
	p.part(w, l, part)
	return nil
}

// settle makes those pages of a part that are yet to be made, but for those that the site
// before this one has from the same things.
func (p *press) settle(l language, part *page.Part) error {
	for _, x := range part.Later {
		kept, err := p.early(l.files(x.Path), p.guide.sources.butCrops, p.only, p.guide.Booklet, l.frame, x.Of)
		if err != nil {
			return err
		}
		if !kept {
			part.Pages = append(part.Pages, x.Make())
			continue
		}
		p.mu.Lock()
		p.sum.Pages++
		p.mu.Unlock()
	}
	part.Later = nil
	return nil
}

// part renders and writes some pages, a job each.
func (p *press) part(w *work, l language, part page.Part) {
	p.mu.Lock()
	p.sum.Pages += len(part.Pages)
	p.sum.Sheets += len(part.Sheets)
	p.mu.Unlock()
	for _, x := range part.Pages {
		w.do(func() error { return p.page(l, x) })
	}
	for _, x := range part.Sheets {
		w.do(func() error { return named(x.Band, x.Name, p.sheet(l, x)) })
		if p.guide.Ink {
			w.do(func() error { return p.ink(l, x) })
		}
	}
	for _, x := range part.Leaves {
		w.do(func() error { return named(x.Band, x.Name, p.leaf(l, x)) })
	}
	for _, x := range part.Calendars {
		w.do(func() error { return render.WithICS(x, func(ics []byte) error { return p.put(l.at(x.Path), ics) }) })
	}
	for _, x := range part.Files {
		w.do(func() error { return p.file(l, x) })
	}
}

func (p *press) page(l language, x *page.Page) error {
	files := l.files(x.Path)
	return p.once(files, func() error {
		err := p.templates.WithHTML(l.frame, x, func(html []byte) error { return p.put(files[0], html) })
		if err != nil || len(files) == 1 {
			return err
		}
		return p.templates.WithMarkdown(l.frame, x, func(text []byte) error { return p.put(files[1], text) })
	}, l.frame, x)
}

func (p *press) sheet(l language, x *page.Sheet) error {
	frame := page.FrameOf(x, l.Book(), l.frame)
	files := []string{l.at(page.HTML(x.Path))}
	if !x.NoPDF {
		for _, paper := range papers {
			files = append(files, l.at(page.SheetPDF(x.Path, paper.Name)))
		}
	}
	return p.once(files, func() error {
		measured, err := render.MeasureSheet(x)
		if err != nil {
			return err
		}
		if err := measured.WithHTML(frame, func(html []byte) error { return p.put(files[0], html) }); err != nil {
			return err
		}
		for i, file := range files[1:] {
			if err := measured.WithPDF(papers[i], func(pdf []byte) error { return p.put(file, pdf) }); err != nil {
				return err
			}
		}
		return nil
	}, frame, x)
}

func (p *press) leaf(l language, x *page.Leaf) error {
	var files []string
	for _, paper := range papers {
		files = append(files, l.at(page.LeafPDF(x.Path, paper.Name)))
	}
	return p.once(files, func() error {
		measured, err := render.MeasureLeaf(x)
		if err != nil {
			return err
		}
		for i, file := range files {
			if err := measured.WithPDF(papers[i], func(pdf []byte) error { return p.put(file, pdf) }); err != nil {
				return err
			}
		}
		return nil
	}, x)
}

func (p *press) file(l language, x page.File) error {
	room := fileRooms.Get().(*[]byte)
	defer fileRooms.Put(room)
	*room = x.Content(*room)
	return p.put(l.at(x.Path), *room)
}

// fileRooms are where tables for spreadsheets are written, one after another.
var fileRooms = sync.Pool{New: func() any { return new([]byte) }}

// papers are those that sheets and leaves are made for.
var papers = []render.Paper{render.Letter, render.A4}

// put adds a file to the stage. One that came out as before is taken over: a second name
// costs less than a second file.
func (p *press) put(name string, data []byte) error { return p.putSummed(name, sum(data), data) }

// putSummed is put for data whose SHA-256 is known.
func (p *press) putSummed(name, s string, data []byte) error {
	if p.old.sums[name] == s && p.old.untouched(name) {
		return p.site.adopt(name, s, p.old.quick[name], p.old.file(name))
	}
	return p.site.writeSummed(name, s, data)
}

// named puts the band and the sheet before an error.
func named(band, sheet string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s, %s: %w", band, sheet, err)
}
