// Package publish runs the stages in order - read, check, compute, page, render,
// write - and puts a finished site in the place of the old one. It decides
// nothing about gardens or pages itself.
package publish

import (
	"io/fs"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/check"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/prose"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/score"
	"shedwall/cmd/shedwall/internal/season"
	"shedwall/cmd/shedwall/internal/words"
)

// Guide is a guide read, checked and, where it has no faults, made ready to
// answer for every band.
type Guide struct {
	Tables  *catalog.Tables
	Records map[string]*record.Daily
	Freeze  map[string]*record.Freeze // published tables, by station
	Texts   *prose.Library            // in the guide's own language, as is Book
	Book    *words.Book
	voices  []voice // every language, the guide's own first
	Faults  diag.List
	Ink     bool // tell how black each wall sheet is
	Booklet bool // publish the bound guide and posters too

	// Tell is told how far Publish is: what is being done, how much of it, and how much
	// there is (0: nobody knows). Several goroutines call it; nil = nobody asks.
	Tell func(what string, done, all int)

	Region  *band.Region // nil with faults
	Planner *plan.Planner
	climate map[string]*band.Climate
	editions

	loader *loader // that loaded it
	keys   planKeys

	files    fs.FS   // the guide folder, or the defaults
	sources  sources // of files, before anything else was read
	defaults fs.FS
}

// Load reads a guide folder over the defaults that come with the program. A folder
// without data/ builds the demo. The error is a folder that cannot be read; what
// is wrong with its contents is in Faults.
func Load(guide, defaults fs.FS) (*Guide, error) {
	return (&loader{guide: guide, defaults: defaults}).load()
}

// loader loads a guide step by step. One that watches the folder may load it again and
// again: it then does only those steps anew that have other inputs than the last time.
type loader struct {
	guide, defaults fs.FS
	watched         *watched // nil = for one time

	own      step[bool]
	tables   step[*readTables]
	stations step[stationData]
	texts    step[readText]
	printed  step[editions]
	made     step[*band.Region]
	climates map[string]*liveClimate
	planner  step[*plan.Planner]
	plans    keptPlans
	scored   step[score.Result]
	pages    step[readTemplates]
}

// stationData is what is known of the guide's stations.
type stationData struct {
	records map[string]*record.Daily
	freeze  map[string]*record.Freeze
}

type readText struct {
	texts *prose.Library
	err   error
}

// readTables is a guide's tables and, where the folder is watched, what tells parts of
// them from others.
type readTables struct {
	*catalog.Tables
	stations mark   // stations and the years that are used of them
	planned  mark   // all that plans are made from, but for crops
	all      mark   // all but phrases
	crops    []mark // by row
}

func (l *loader) load() (*Guide, error) {
	g := &Guide{files: l.guide, defaults: l.defaults, loader: l}
	if l.watched != nil {
		g.files = &reading{w: l.watched}
	}
	w, once := l.watched, func() mark { return "" }
	own := l.own.take(g.files, w, once, &g.Faults, func(files fs.FS, _ *diag.List) bool {
		_, err := fs.Stat(files, "data")
		return err == nil
	})
	if !own {
		g.files = l.defaults
	}
	read := func(faults *diag.List) readText {
		return l.texts.take(g.files, w, func() mark { return markOf(own) }, faults, func(files fs.FS, faults *diag.List) readText {
			x, err := readTexts(files, l.defaults, own, faults)
			return readText{x, err}
		})
	}
	if w == nil {
		sealed := make(chan struct{})
		go func() {
			defer close(sealed)
			program()
			g.sources = readSources(g.files)
		}()
		defer func() { <-sealed }()
		read = aside(read)
	}
	var tables *readTables
	var stationsOf func(*diag.List) stationData
	var printed func(*diag.List) editions
	known := func(t *catalog.Tables) { // asked for as soon as it is known what there is
		only := &catalog.Tables{Stations: t.Stations, Hemisphere: t.Hemisphere, Guide: catalog.Guide{EditionDate: t.Guide.EditionDate}} // so that nothing else of the tables enters
		stationsOf = func(faults *diag.List) stationData {
			return l.stations.take(g.files, w, func() mark { return markOf(own, tables.stations) }, faults, func(files fs.FS, faults *diag.List) stationData {
				return stationData{intake.Records(files, only, faults), intake.FreezeTables(files, only, faults)}
			})
		}
		edition := t.Guide.Edition
		printed = func(faults *diag.List) editions {
			return l.printed.take(g.files, w, func() mark { return markOf(own, edition) }, faults, func(files fs.FS, faults *diag.List) editions {
				return readEditions(files, edition, faults)
			})
		}
		if w == nil {
			stationsOf, printed = aside(stationsOf), aside(printed)
		}
	}
	tables = l.tables.take(g.files, w, func() mark { return markOf(own) }, &g.Faults, func(files fs.FS, faults *diag.List) *readTables {
		early := func(*catalog.Tables) {}
		if w == nil {
			early = known
		}
		t := &readTables{Tables: intake.TablesBeside(files, l.defaults, faults, early)}
		faults.Merge(check.Tables(t.Tables))
		if w != nil {
			t.tell()
		}
		return t
	})
	t := tables.Tables
	g.Tables = t
	if w != nil {
		known(t)
	}
	stations := stationsOf(&g.Faults)
	g.Records, g.Freeze = stations.records, stations.freeze
	texts := read(&g.Faults)
	if texts.err != nil {
		return nil, texts.err
	}
	g.editions = printed(&g.Faults)
	g.Faults.Merge(check.Begun(t, g.Freeze, texts.texts))
	g.speak(texts.texts)
	g.Faults.Silence(t.Guide.Silence)
	if g.Faults.HasErrors() {
		return g, nil
	}
	g.Region = l.made.take(g.files, w, func() mark { return markOf(l.stations.key, tables.stations) }, &g.Faults, func(fs.FS, *diag.List) *band.Region {
		r := g.region()
		if t.Guide.PlainYears {
			r.UsePlainYears()
		}
		return r
	})
	g.Faults.Merge(check.Records(t, g.Region))
	g.Faults.Silence(t.Guide.Silence)
	g.climate = map[string]*band.Climate{}
	for i := range t.Bands {
		row := &t.Bands[i]
		g.climate[row.ID] = l.climate(g, row)
	}
	g.Faults.Merge(check.Zones(t, g.Climate))
	g.Faults.Silence(t.Guide.Silence)
	g.Planner = l.planner.take(g.files, w, func() mark { return markOf(l.made.key, tables.planned) }, &g.Faults, func(fs.FS, *diag.List) *plan.Planner {
		if w == nil {
			return plan.NewPlanner(t)
		}
		return plan.NewPlanner(tables.forPlans())
	}).With(t)
	if w != nil {
		g.keys = l.planKeys(tables)
	}
	return g, nil
}

// aside begins work at once, beside what its caller does next, with faults of its own: they
// join the others when the result is asked for.
func aside[T any](work func(*diag.List) T) func(*diag.List) T {
	var own diag.List
	done := make(chan T, 1)
	go func() { done <- work(&own) }()
	return func(faults *diag.List) T {
		x := <-done
		faults.Merge(own)
		return x
	}
}

// liveClimate is the step of a band's climate.
type liveClimate struct {
	step[*band.Climate]
	of mark // of stations and row
}

// climate is a band's climate: without what plans and pages keep with it, whenever any
// table is another, since they keep what they made of the tables.
func (l *loader) climate(g *Guide, row *catalog.Band) *band.Climate {
	if l.watched == nil {
		return g.Region.Climate(row)
	}
	if l.climates == nil {
		l.climates = map[string]*liveClimate{}
	}
	x := l.climates[row.ID]
	of := markOf(l.made.key, row)
	if x == nil || x.of != of {
		x = &liveClimate{of: of}
		l.climates[row.ID] = x
	}
	return x.take(g.files, l.watched, func() mark { return markOf(of, l.tables.key) }, &g.Faults, func(fs.FS, *diag.List) *band.Climate {
		if x.done {
			return x.value.Afresh()
		}
		return g.Region.Climate(row)
	})
}

// region makes the guide's stations ready. Monthly normals become courses of the year
// here, since bands know nothing of seasons.
func (g *Guide) region() *band.Region {
	t := g.Tables
	w := band.Weather{Records: g.Records, Tables: g.Freeze, Course: func(monthly [12]float64) []float64 {
		return season.CurveOf(monthly, season.Harmonics).Slots(t.Hemisphere)
	}}
	return band.RegionOf(t.Stations, w, t.Guide.YearsFrom, t.Guide.YearsTo, t.Hemisphere)
}

func readTexts(guide, defaults fs.FS, own bool, faults *diag.List) (*prose.Library, error) {
	base, err := fs.Sub(defaults, "content")
	if err != nil {
		return nil, err
	}
	if !own {
		return prose.ReadFolder(nil, base, faults)
	}
	mine, err := fs.Sub(guide, "content")
	if err != nil {
		return nil, err
	}
	return prose.ReadFolder(mine, base, faults)
}

func entries(rows []catalog.Word) []words.Entry {
	out := make([]words.Entry, len(rows))
	for i, w := range rows {
		out[i] = words.Entry(w)
	}
	return out
}

// Climate is a band's climate by the band's id.
func (g *Guide) Climate(id string) (*band.Climate, bool) {
	c, ok := g.climate[id]
	return c, ok
}

// Crop is a crop by id.
func (g *Guide) Crop(id string) (*catalog.Crop, bool) {
	for i := range g.Tables.Crops {
		if g.Tables.Crops[i].ID == id {
			return &g.Tables.Crops[i], true
		}
	}
	return nil, false
}

// BandIDs is every band's id in the order of the table.
func (g *Guide) BandIDs() []string {
	var out []string
	for i := range g.Tables.Bands {
		out = append(out, g.Tables.Bands[i].ID)
	}
	return out
}

// CropIDs is every crop's id in the order of the table.
func (g *Guide) CropIDs() []string {
	var out []string
	for i := range g.Tables.Crops {
		out = append(out, g.Tables.Crops[i].ID)
	}
	return out
}
