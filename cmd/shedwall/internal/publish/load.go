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

	files    fs.FS   // the guide folder, or the defaults
	sources  sources // of files, before anything else was read
	defaults fs.FS
}

// Load reads a guide folder over the defaults that come with the program. A folder
// without data/ builds the demo. The error is a folder that cannot be read; what
// is wrong with its contents is in Faults.
func Load(guide, defaults fs.FS) (*Guide, error) {
	g := &Guide{files: guide, defaults: defaults}
	own := true
	if _, err := fs.Stat(guide, "data"); err != nil {
		g.files, own = defaults, false
	}
	g.sources = readSources(g.files)
	g.Tables = intake.Tables(g.files, defaults, &g.Faults)
	g.Faults.Merge(check.Tables(g.Tables))
	g.Records = intake.Records(g.files, g.Tables, &g.Faults)
	g.Freeze = intake.FreezeTables(g.files, g.Tables, &g.Faults)
	texts, err := readTexts(g.files, defaults, own, &g.Faults)
	if err != nil {
		return nil, err
	}
	g.readEditions()
	g.speak(texts)
	g.Faults.Silence(g.Tables.Guide.Silence)
	if g.Faults.HasErrors() {
		return g, nil
	}
	t := g.Tables
	g.Region = g.region()
	g.Faults.Merge(check.Records(t, g.Region))
	g.Faults.Silence(t.Guide.Silence)
	if t.Guide.PlainYears {
		g.Region.UsePlainYears()
	}
	g.climate = map[string]*band.Climate{}
	for i := range t.Bands {
		g.climate[t.Bands[i].ID] = g.Region.Climate(&t.Bands[i])
	}
	g.Planner = plan.NewPlanner(t)
	return g, nil
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
