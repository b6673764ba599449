package publish

import (
	"errors"
	"io/fs"
	"slices"
	"sync"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/render"
)

// Summary counts what was written.
type Summary struct {
	Bands, Pages, Sheets, Files int
	Kept                        int        // files taken over from the site before, since nothing changed for them
	Ink                         []SheetInk // where the guide asks for it
}

// Publish writes the site of a guide without faults to out and swaps it in. only
// limits it to some bands, as if the guide had no others; empty = all. On any error
// the old site stays as it was.
func (g *Guide) Publish(out string, only []string) (sum Summary, err error) {
	pressed := make(chan *press, 1)
	go func() { pressed <- newPress(g, only) }() // beside the stage
	site, err := openStage(out)
	if err != nil {
		return sum, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, site.drop())
		}
	}()
	seal := g.sealed(only)
	var old keepable
	if seal != "" {
		old = readKeepable(site.out)
		if g.idle(old, seal) {
			sum, sum.Kept = old.sum, old.sum.Files
			return sum, site.drop()
		}
	}
	p := <-pressed
	p.site, p.old = site, old
	if seal != "" {
		p.base, _ = fingerprint(program(), g.sources.content, g.sources.templates, p.reach())
	}
	if err := p.run(); err != nil {
		return sum, err
	}
	p.sum.Files = len(site.files)
	sortInk(p.sum.Ink)
	p.sign(seal)
	undo, err := g.keepEdition(p.in.Ledger)
	if err != nil {
		return sum, err
	}
	if err := site.commit(); err != nil {
		return sum, errors.Join(err, undo())
	}
	return p.sum, nil
}

// idle says that there is nothing to do: the site is whole, and this program made it from
// the same files. How black sheets are is told only while they are made, and an edition is
// kept only then.
func (g *Guide) idle(old keepable, seal string) bool {
	return old.seal == seal && !g.Ink && g.KeepIn == "" && old.whole()
}

// sign gives a finished site the marks of what its files were made from.
func (p *press) sign(seal string) {
	still := make(chan bool, 1)
	go func() { still <- p.guide.sources == readSources(p.guide.files) }()
	from := ancestry{seal: seal, sum: p.sum, keys: p.keys, quick: p.site.quick}.write()
	if <-still { // else something changed while it was read: nobody can say from what the pages are
		p.site.from = from
	}
}

// reach is the names of all that pages may lead to: a text may lead to any of them.
func (p *press) reach() (names []string) {
	t := p.in.Tables
	for _, b := range t.Bands {
		names = append(names, b.ID)
	}
	for _, c := range t.Crops {
		names = append(names, c.ID)
	}
	for _, c := range t.Covers {
		names = append(names, c.ID)
	}
	for _, l := range p.languages {
		names = append(names, l.frame.Language.Folder)
	}
	return names
}

// input is what pages are made from, without plans.
func (g *Guide) input(only []string) page.Input {
	t := *g.Tables
	if len(only) > 0 {
		t.Bands = slices.DeleteFunc(slices.Clone(t.Bands), func(b catalog.Band) bool { return !slices.Contains(only, b.ID) })
	}
	in := page.Input{Tables: &t, Region: g.Region, Texts: g.Texts, Book: g.Book, Fitting: func() page.Fitting { return render.NewFitting() }, LeafFits: render.LeafFits, Reports: sync.OnceValue(g.reports), Previous: g.Previous, Kept: g.Kept, Keeping: g.KeepIn != ""}
	in.Booklet, in.Planner = g.Booklet, g.Planner
	in.Ledger = g.newLedger(&t)
	for i := range t.Bands {
		in.Bands = append(in.Bands, page.BandInput{Climate: g.climate[t.Bands[i].ID]})
	}
	return in
}

// templates are the publisher's own over the program's.
func (g *Guide) templates() (*render.Pages, error) {
	got := g.loader.pages.take(g.files, g.loader.watched, func() mark { return "" }, &g.Faults, func(files fs.FS, _ *diag.List) readTemplates {
		var layers []fs.FS
		for _, from := range []fs.FS{files, g.defaults} {
			if sub, err := fs.Sub(from, "templates"); err == nil {
				layers = append(layers, sub)
			}
		}
		pages, err := render.LoadPages(layers...)
		return readTemplates{pages, err}
	})
	return got.pages, got.err
}

type readTemplates struct {
	pages *render.Pages
	err   error
}
