package publish

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/render"
)

// Summary counts what was written.
type Summary struct{ Bands, Pages, Sheets, Files int }

// Publish writes the site of a guide without faults to out and swaps it in. only
// limits it to some bands, as if the guide had no others; empty = all. On any error
// the old site stays as it was.
func (g *Guide) Publish(out string, only []string) (sum Summary, err error) {
	site, err := openStage(out)
	if err != nil {
		return sum, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, site.drop())
		}
	}()
	pages, err := g.Pages(only)
	if err != nil {
		return sum, err
	}
	if err := g.write(site, pages); err != nil {
		return sum, err
	}
	sum = Summary{Bands: len(pages.Bands), Pages: len(pages.Pages), Sheets: len(pages.Sheets), Files: len(site.files)}
	return sum, site.commit()
}

// Site is a guide's pages with the bands they were made for.
type Site struct {
	*page.Guide
	Bands []page.BandInput
}

// Pages computes every page, sheet and table of the guide.
func (g *Guide) Pages(only []string) (Site, error) {
	t := *g.Tables
	if len(only) > 0 {
		t.Bands = slices.DeleteFunc(slices.Clone(t.Bands), func(b catalog.Band) bool { return !slices.Contains(only, b.ID) })
	}
	in := page.Input{Tables: &t, Region: g.Region, Texts: g.Texts, Book: g.Book, Fits: render.SheetFits, LeafFits: render.LeafFits, Bands: make([]page.BandInput, len(t.Bands))}
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	for i := range t.Bands {
		work.Go(func() error {
			c := g.climate[t.Bands[i].ID]
			in.Bands[i] = page.BandInput{Climate: c, Plans: g.Planner.Band(c)}
			return nil
		})
	}
	if err := work.Wait(); err != nil {
		return Site{}, err
	}
	built := page.Build(in)
	if missing := g.Book.Missing(); len(missing) > 0 {
		return Site{}, fmt.Errorf("words.csv has no phrase in %q for %v", g.Book.Language(), missing)
	}
	return Site{built, in.Bands}, nil
}

// write renders everything into the stage, both cores at work.
func (g *Guide) write(site *stage, s Site) error {
	templates, err := g.templates()
	if err != nil {
		return err
	}
	var mu sync.Mutex
	put := func(name string, data []byte, err error) error {
		if err != nil {
			return err
		}
		mu.Lock()
		defer mu.Unlock()
		return site.write(name, data)
	}
	if err := put(page.StylePath, templates.Style(), nil); err != nil {
		return err
	}
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	for _, p := range s.Pages {
		work.Go(func() error {
			html, err := templates.HTML(s.Site, p)
			if err := put(page.HTML(p.Path), html, err); err != nil {
				return err
			}
			twin, ok := page.Twin(page.HTML(p.Path))
			if !ok {
				return nil
			}
			text, err := templates.Markdown(s.Site, p)
			return put(twin, text, err)
		})
	}
	for _, sheet := range s.Sheets {
		work.Go(func() error {
			html, err := render.SheetHTML(sheet, page.FrameOf(sheet, g.Book))
			if err := put(page.HTML(sheet.Path), html, err); err != nil {
				return fmt.Errorf("%s, %s: %w", sheet.Band, sheet.Name, err)
			}
			for _, paper := range []render.Paper{render.Letter, render.A4} {
				pdf, err := render.SheetPDF(sheet, paper)
				if err := put(page.SheetPDF(sheet.Path, paper.Name), pdf, err); err != nil {
					return fmt.Errorf("%s, %s: %w", sheet.Band, sheet.Name, err)
				}
			}
			return nil
		})
	}
	for _, leaf := range s.Leaves {
		work.Go(func() error {
			for _, paper := range []render.Paper{render.Letter, render.A4} {
				pdf, err := render.LeafPDF(leaf, paper)
				if err := put(page.LeafPDF(leaf.Path, paper.Name), pdf, err); err != nil {
					return fmt.Errorf("%s, %s: %w", leaf.Band, leaf.Name, err)
				}
			}
			return nil
		})
	}
	for _, f := range s.Files {
		work.Go(func() error { return put(f.Path, f.Content, nil) })
	}
	for _, p := range g.Texts.Pictures() {
		work.Go(func() error {
			data, err := g.picture(p)
			return put(p, data, err)
		})
	}
	return work.Wait()
}

// templates are the publisher's own over the program's.
func (g *Guide) templates() (*render.Pages, error) {
	var layers []fs.FS
	for _, from := range []fs.FS{g.files, g.defaults} {
		if sub, err := fs.Sub(from, "templates"); err == nil {
			layers = append(layers, sub)
		}
	}
	return render.LoadPages(layers...)
}

func (g *Guide) picture(p string) ([]byte, error) {
	f, err := g.Texts.OpenPicture(path.Clean(p))
	if err != nil {
		return nil, err
	}
	data, err := io.ReadAll(f)
	return data, errors.Join(err, f.Close())
}
