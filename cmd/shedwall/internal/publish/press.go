package publish

import (
	"fmt"
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"

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

	made page.Made // of the guide's own files, known once every band is made

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

func newPress(g *Guide, site *stage, only []string) *press {
	p := &press{guide: g, site: site, in: g.input(only)}
	p.in.Made = func() page.Made { return p.made }
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
	for first := 0; first == 0 || first < len(p.in.Bands); first += page.GroupSize {
		if err := p.group(first, min(first+page.GroupSize, len(p.in.Bands))); err != nil {
			return err
		}
	}
	if err := p.takeInputs(); err != nil {
		return err
	}
	w := newWork()
	for _, l := range p.languages {
		w.do(func() error { p.part(w, l, l.Rest()); return nil })
		if p.guide.Booklet {
			w.do(func() error { p.booklet(w, l); return nil })
		}
	}
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
	if err := w.wait(); err != nil {
		return err
	}
	for _, l := range p.languages {
		if missing := l.Book().Unknown(); len(missing) > 0 {
			return fmt.Errorf("words.csv has no phrase in %q for %v", l.Book().Language(), missing)
		}
	}
	return nil
}

// group writes the bands from first to before after, then the pages of crops that
// they stand on.
func (p *press) group(first, after int) error {
	plans := make([][]plan.CropPlan, after-first)
	w := newWork()
	for k := range plans {
		w.do(func() error {
			plans[k] = p.guide.Planner.Band(p.in.Bands[first+k].Climate)
			parts := make([]page.Part, len(p.languages))
			for i, l := range p.languages {
				parts[i] = l.Band(first+k, plans[k])
			}
			page.TwinsOf(parts, p.guide.languages())
			for i, l := range p.languages {
				w.do(func() error { p.part(w, l, parts[i]); return nil })
			}
			return nil
		})
	}
	if err := w.wait(); err != nil {
		return err
	}
	w = newWork()
	for i := range p.in.Tables.Crops {
		for _, l := range p.languages {
			w.do(func() error { p.part(w, l, l.Crop(i, first, plans)); return nil })
		}
	}
	return w.wait()
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
		w.do(func() error { return p.put(l.at(x.Path), render.ICS(x)) })
	}
	for _, x := range part.Files {
		w.do(func() error { return p.put(l.at(x.Path), x.Content) })
	}
}

func (p *press) page(l language, x *page.Page) error {
	file := page.HTML(x.Path)
	html, err := p.templates.HTML(l.frame, x)
	if err != nil {
		return err
	}
	if err := p.put(l.at(file), html); err != nil {
		return err
	}
	twin, ok := page.Twin(file)
	if !ok {
		return nil
	}
	text, err := p.templates.Markdown(l.frame, x)
	if err != nil {
		return err
	}
	return p.put(l.at(twin), text)
}

func (p *press) sheet(l language, x *page.Sheet) error {
	frame := page.FrameOf(x, l.Book())
	frame.Folder = l.frame.Language.Folder
	html, err := render.SheetHTML(x, frame)
	if err != nil {
		return err
	}
	if err := p.put(l.at(page.HTML(x.Path)), html); err != nil {
		return err
	}
	if x.NoPDF {
		return nil
	}
	for _, paper := range []render.Paper{render.Letter, render.A4} {
		pdf, err := render.SheetPDF(x, paper)
		if err != nil {
			return err
		}
		if err := p.put(l.at(page.SheetPDF(x.Path, paper.Name)), pdf); err != nil {
			return err
		}
	}
	return nil
}

func (p *press) leaf(l language, x *page.Leaf) error {
	for _, paper := range []render.Paper{render.Letter, render.A4} {
		pdf, err := render.LeafPDF(x, paper)
		if err != nil {
			return err
		}
		if err := p.put(l.at(page.LeafPDF(x.Path, paper.Name)), pdf); err != nil {
			return err
		}
	}
	return nil
}

// put adds a file to the stage.
func (p *press) put(name string, data []byte) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.site.write(name, data)
}

// named puts the band and the sheet before an error.
func named(band, sheet string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s, %s: %w", band, sheet, err)
}

// work is jobs that run as many at a time as there are processors. A job may add
// further ones. After the first error the jobs that have not begun are left out.
type work struct {
	jobs errgroup.Group
	busy chan struct{}
	once sync.Once
	stop chan struct{}
}

func newWork() *work {
	return &work{busy: make(chan struct{}, runtime.GOMAXPROCS(0)), stop: make(chan struct{})}
}

// do runs a job as soon as a processor is free.
func (w *work) do(job func() error) {
	w.jobs.Go(func() error {
		select {
		case <-w.stop:
			return nil
		case w.busy <- struct{}{}:
		}
		defer func() { <-w.busy }()
		err := job()
		if err != nil {
			w.once.Do(func() { close(w.stop) })
		}
		return err
	})
}

// wait returns when every job is done, with the first error.
func (w *work) wait() error { return w.jobs.Wait() }
