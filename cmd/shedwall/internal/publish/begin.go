package publish

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
)

// ErrNotEmpty refuses to begin a guide among files of somebody's.
var ErrNotEmpty = errors.New("the folder is not empty: a new guide begins in a folder of its own")

// BeginFile is a file of a new guide with what it is for.
type BeginFile struct{ Name, What, Text string }

// beginTables are the smallest guide: fifteen rows in five tables, of which freeze.csv goes
// once there is a record. Who begins a guide finds every row to be replaced here.
var beginTables = []BeginFile{
	{"data/guide.csv", "8 settings: what the guide is called, and who answers for it", `setting,value
title,` + catalog.BeginTitle + `
publisher,` + catalog.BeginPublisher + `
contact,` + catalog.BeginContact + `
edition,1
edition_date,` + catalog.BeginDate + `
language,en
statement,` + catalog.BeginStatement + `
use_until,the next edition
`},
	{"data/stations.csv", "1 weather station: where it is, how high, and where it sits", `station,name,latitude,longitude,elevation_m,position,zone,where_to_read
` + catalog.BeginStation + `,` + catalog.BeginName + `,44.0,-38.0,300,slope,5b,
`},
	{"data/freeze.csv", "its 2 average freeze dates, last in spring and first in fall", `station,event,below_c,odds_percent,date
` + catalog.BeginStation + `,last,0,50,` + catalog.BeginLast + `
` + catalog.BeginStation + `,first,0,50,` + catalog.BeginFirst + `
`},
	{"data/bands.csv", "2 bands: parts of the region, each between two altitudes", `band,name,low_m,high_m,position,zone
lower_slopes,` + catalog.BeginBands[0] + `,200,350,slope,5b
upper_slopes,` + catalog.BeginBands[1] + `,350,500,slope,5a
`},
	{"data/places.csv", "2 places that readers look up to find their band", `place,elevation_m,position
` + catalog.BeginPlaces[0] + `,280,slope
` + catalog.BeginPlaces[1] + `,420,slope
`},
}

// beginTexts are what a new guide says of itself until somebody writes something better.
var beginTexts = []BeginFile{
	{"content/index.md", "what the front page says; write your own welcome here", `# ` + catalog.BeginWelcome + `

This guide was just begun. Its dates come from a made-up weather station. Do not plant by them.

Replace these first, in this order:

1. The weather station in data/stations.csv, and its two average freeze dates in data/freeze.csv. Better than two dates: the station's daily record.
2. The bands in data/bands.csv: which altitudes do your readers garden at?
3. Who you are, in data/guide.csv.
4. The places in data/places.csv.

Then write your own welcome over this text, in content/index.md.
`},
	{"README.md", "the same steps, for you", `# Your guide, step by step

Where the terminal does not find ` + "`shedwall`" + `, type ` + "`go run ./cmd/shedwall publish --guide DIR`" + ` in the folder of the
program, DIR being this folder; so with every command.

1. Look at what is here: ` + "`shedwall publish`" + `, then open public/index.html. Every date is made up so far.
2. data/stations.csv: the name, place and altitude of your weather station, where it sits (hollow, floor of a valley,
   slope or ridge), and where readers can read it (where_to_read; may stay empty, like the zone). Change the word
   ` + catalog.BeginStation + ` to a short name of your own, with no spaces, here and in freeze.csv. Altitude in feet: rename the heading
   elevation_m to elevation_ft.
3. data/freeze.csv: the station's average last freeze in spring and average first freeze in fall, as month and day. Below
   0 C is 32 F: rename below_c to below_f if you have it so. Better: save the station's daily record, as you downloaded
   it, as data/records/NAME.csv (NAME as in stations.csv), and delete freeze.csv. Then dates carry real odds.
4. data/bands.csv: the parts of your region; the zone may stay empty. ` + "`shedwall check --bands`" + ` proposes rows that fit
   your stations and places.
5. data/guide.csv: who you are, the date of this edition (calendar files begin there), until when it may be used, and the
   statement that your printed pages must carry.
6. data/places.csv: villages and roads that readers look up.
7. content/index.md: your own welcome.
8. ` + "`shedwall check`" + ` tells what is still wrong or still made up, each with its cell and its cure. Then publish again.

Crops, covers and their figures come with the program. To change one, put a table of its name into data/ with only the
rows and columns that differ.
`},
}

// BuiltInTables is the names of the tables that Begin can copy, sorted.
func BuiltInTables(defaults fs.FS) ([]string, error) {
	entries, err := fs.ReadDir(defaults, "data/builtin")
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		if name, ok := strings.CutSuffix(e.Name(), ".csv"); ok {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out, nil
}

// Begin writes the smallest guide into a folder that is absent or empty but for dot-files,
// with copies of built-in tables where asked for, and returns the files in the order in
// which to look at them. The names of the tables must be among BuiltInTables.
func Begin(dir string, defaults fs.FS, tables []string) ([]BeginFile, error) {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			return nil, ErrNotEmpty
		}
	}
	files := slices.Concat(beginTables, beginTexts)
	copies, err := beginCopies(defaults, tables)
	if err != nil {
		return nil, err
	}
	files = append(files, copies...)
	for _, f := range files {
		name := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return nil, err
		}
		if err := os.WriteFile(name, []byte(f.Text), 0o644); err != nil {
			return nil, err
		}
	}
	return files, os.MkdirAll(filepath.Join(dir, "data", "records"), 0o755)
}

// beginCopies are built-in tables with the sources of their single cells: a copied row
// would else give its own source to all of them.
func beginCopies(defaults fs.FS, tables []string) ([]BeginFile, error) {
	var out []BeginFile
	for _, name := range tables {
		data, err := fs.ReadFile(defaults, path.Join("data/builtin", name+".csv"))
		if err != nil {
			return nil, err
		}
		out = append(out, BeginFile{"data/" + name + ".csv", "a copy of the built-in table; delete what you do not change", string(data)})
	}
	if len(tables) == 0 || slices.Contains(tables, "exceptions") {
		return out, nil
	}
	data, err := fs.ReadFile(defaults, "data/builtin/exceptions.csv")
	if err != nil {
		return nil, err
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("data/builtin/exceptions.csv: %w", err)
	}
	kept := slices.DeleteFunc(rows[1:], func(r []string) bool { return !slices.Contains(tables, r[0]) })
	if len(kept) == 0 {
		return out, nil
	}
	var buf bytes.Buffer
	if err := csv.NewWriter(&buf).WriteAll(append(rows[:1:1], kept...)); err != nil {
		return nil, err
	}
	return append(out, BeginFile{"data/exceptions.csv", "where single cells of the copies are from", buf.String()}), nil
}
