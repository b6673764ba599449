package intake

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/table"
)

// Tables reads every table of a guide. guide is the publisher's folder, with its
// tables in data/; defaults holds the program's own in data/builtin/ and the
// demo's in data/. A guide without a data folder is the demo.
//
// The publisher's crops, classes, germination, covers, layers, hazards, sources,
// exceptions and words lie over the built-in ones cell by cell: an absent column
// and a blank cell keep what is built in, "unknown" removes it, use = no drops
// the row. Guide, stations, bands and places are the publisher's alone.
//
// Rows keep the order of the tables, built-in first. All faults are added to
// faults; the tables are as complete as the faults allow.
func Tables(guide, defaults fs.FS, faults *diag.List) *catalog.Tables {
	return TablesBeside(guide, defaults, faults, func(*catalog.Tables) {})
}

// TablesBeside is Tables, and tells known as soon as the guide's settings, its stations and
// the hemisphere are read, of which nothing changes any more: who reads records need not
// wait for the rest.
func TablesBeside(guide, defaults fs.FS, faults *diag.List, known func(*catalog.Tables)) *catalog.Tables {
	l := newLoader(guide, defaults, faults)
	t := &catalog.Tables{}
	words, wordsRead := ahead(l, wordLayout)
	l.checkFolder()
	l.readSources(t)
	l.readExceptions()
	l.readGuide(&t.Guide)
	l.readStations(t)
	l.readBands(t)
	t.Hemisphere = hemisphere(t)
	known(t)
	l.readPlaces(t)
	l.readClasses(t)
	l.readGermination(t)
	l.readCrops(t)
	l.readCovers(t)
	l.readStructures(t)
	l.readLayers(t)
	joinStructures(t)
	l.readSheets(t)
	l.readReports(t)
	l.readHazards(t)
	l.readLogged(t)
	l.readPots(t)
	l.readWords(t, words)
	wordsRead()
	l.unusedExceptions()
	return t
}

// hemisphere is that of most stations with a latitude, of the first where they are even:
// one wrong sign should not turn the year of all the others. Without any it is that of
// the first band with a latitude, else north.
func hemisphere(t *catalog.Tables) quantity.Hemisphere {
	var stations [2]int
	first := -1
	for _, s := range t.Stations {
		if lat, known := s.Latitude.Get(); known {
			h := quantity.HemisphereOf(lat)
			if stations[h]++; first < 0 {
				first = int(h)
			}
		}
	}
	switch {
	case stations[quantity.South] > stations[quantity.North]:
		return quantity.South
	case stations[quantity.South] < stations[quantity.North]:
		return quantity.North
	case first >= 0:
		return quantity.Hemisphere(first)
	}
	for _, b := range t.Bands {
		if lat, known := b.Latitude.Get(); known {
			return quantity.HemisphereOf(lat)
		}
	}
	return quantity.North
}

// loader reads the tables of one guide and knows what joins them.
type loader struct {
	guide, defaults fs.FS
	faults          *diag.List

	sources    map[string]bool
	sourceIDs  []string // the same, sorted
	exceptions map[figure.Owner]map[[3]string]*exception
	inOrder    []*exception
	shapes     map[string]*shape   // table -> its rows and headings
	builtin    map[string][]string // table -> ids of the built-in rows
	dropped    map[string]diag.Position
	ownText    map[string]bool // keys of texts in the publisher's own tables
}

// shape is what exceptions may name of a table.
type shape struct {
	rows     map[string]bool
	headings []string
}

const dataFolder, builtinFolder = "data", "data/builtin"

func newLoader(guide, defaults fs.FS, faults *diag.List) *loader {
	l := &loader{
		guide: guide, defaults: defaults, faults: faults,
		sources:    map[string]bool{},
		exceptions: map[figure.Owner]map[[3]string]*exception{figure.BuiltIn: {}, figure.Own: {}},
		builtin:    map[string][]string{},
		shapes:     map[string]*shape{}, dropped: map[string]diag.Position{}, ownText: map[string]bool{},
	}
	if _, err := fs.Stat(guide, dataFolder); errors.Is(err, fs.ErrNotExist) {
		l.guide = defaults // the demo
	}
	return l
}

// need says what a missing file means.
type need uint8

const (
	optional  need = iota
	advisable      // a warning
	required       // a fault
)

// file is the content of a file, and whether there is one. A file that is missing
// although needed, or cannot be read, is reported.
func (l *loader) file(fsys fs.FS, name string, n need) ([]byte, bool) {
	f, err := fsys.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		if n != optional {
			sev := diag.Error
			if n == advisable {
				sev = diag.Warning
			}
			l.faults.Add(diag.Fault{
				At: diag.Position{File: name}, ID: "file-missing", Severity: sev, What: "this file is missing",
				Expected: "a guide has " + whatFor[path.Base(name)], Cure: "write the file: a row of headings and the rows under it",
			})
		}
		return nil, false
	}
	var data []byte
	if err == nil {
		defer f.Close()
		// One byte more than allowed is enough for the reader of tables to say so.
		var b bytes.Buffer
		if info, e := f.Stat(); e == nil {
			b.Grow(int(min(info.Size(), table.MaxBytes)) + bytes.MinRead)
		}
		_, err = b.ReadFrom(io.LimitReader(f, table.MaxBytes+1))
		data = b.Bytes()
	}
	if err != nil {
		l.faults.Add(diag.Fault{
			At: diag.Position{File: name}, ID: "file-unreadable", What: "this file cannot be read: " + reason(err),
			Expected: "a file that may be read", Cure: "close it in other programs and look at its permissions",
		})
		return nil, false
	}
	return data, true
}

// reason is an error without the path, which the position has.
func reason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

// whatFor says what each table of the publisher is for.
var whatFor = map[string]string{
	"guide.csv":    "its settings in data/guide.csv",
	"stations.csv": "its weather stations in data/stations.csv",
	"bands.csv":    "its zone-and-altitude bands in data/bands.csv",
	"places.csv":   "the places that readers look up in data/places.csv",
}

// knownTables are the files that a data folder may hold.
var knownTables = []string{
	"guide.csv", "stations.csv", "bands.csv", "places.csv", "records.csv", "freeze.csv", "reports.csv", "sheets.csv",
	"crops.csv", "classes.csv", "germination.csv", "covers.csv", "layers.csv", "structures.csv", "hazards.csv", "pots.csv",
	"sources.csv", "exceptions.csv", "words.csv",
}

// checkFolder warns of files in the data folder that nothing reads: a table with
// a mistyped name would be left out without a word.
func (l *loader) checkFolder() {
	entries, err := fs.ReadDir(l.guide, dataFolder)
	if err != nil {
		l.faults.Add(diag.Fault{
			At: diag.Position{File: dataFolder}, ID: "file-unreadable", What: "this folder cannot be read: " + reason(err),
			Expected: "a folder with the tables of the guide", Cure: "look at its name and permissions",
		})
		return
	}
	for _, e := range entries {
		name := e.Name()
		ext := strings.ToLower(path.Ext(name))
		table := slices.Contains([]string{".csv", ".tsv", ".txt", ".xlsx", ".xls", ".ods"}, ext)
		if e.IsDir() || !table || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~") || slices.Contains(knownTables, name) {
			continue
		}
		base := strings.TrimSuffix(strings.ToLower(name), ext)
		near := diag.Nearest(base+".csv", knownTables)
		f := diag.Fault{
			At: diag.Position{File: path.Join(dataFolder, name)}, ID: "file-unknown", Severity: diag.Warning,
			What: "nothing reads this file", Expected: "one of " + strings.Join(knownTables, ", "), Cure: "rename it, or keep it elsewhere",
		}
		switch {
		case near != "" && ext == ".csv":
			f.Expected, f.Cure = "", fmt.Sprintf("did you mean %q?", near)
		case near != "":
			f.Expected, f.Cure = "", fmt.Sprintf("save it as CSV with the name %q", near)
		}
		l.faults.Add(f)
	}
}

// read reads one of the publisher's tables or of the built-in ones. Rows are nil
// where there is no such file.
func read[T any](l *loader, name string, owner figure.Owner, n need, spec table.Spec) []T {
	fsys, folder := l.guide, dataFolder
	if owner == figure.BuiltIn {
		fsys, folder = l.defaults, builtinFolder
	}
	file := path.Join(folder, name+".csv")
	data, ok := l.file(fsys, file, n)
	if !ok {
		return nil
	}
	spec.Owner = owner
	spec.MustHaveRows = n == required
	return table.Read[T](file, data, spec, l.faults)
}
