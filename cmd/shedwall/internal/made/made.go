// Package made invents whole guides of any size, to see how the program holds up under
// them: regions with bands, stations of thirty years of weather, crops and covers, as
// plausible as need be and the same bytes each time. Tests and benchmarks import it, and
// the command made/region writes such a guide into a folder; the program never does.
package made

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
)

// Size says how much of everything a made guide has.
type Size struct {
	Bands    int      // 1 or more
	Stations int      // 1 or more
	Crops    int      // 1 or more: those that come with the program first, then further kinds of them
	Layers   int      // sets of covers that are planned, 1 to MostLayers
	Years    int      // of daily records, to the end of 2024; 10 or more
	Also     []string // languages beside English
	Settings []string // further rows of guide.csv: "name,value"
	Seed     uint64   // another seed is another region
}

// Usual is the size that the figures in DEVELOPERS.md are about, with so many bands.
func Usual(bands int) Size {
	return Size{Bands: bands, Stations: 12, Crops: 100, Layers: 15, Years: 30, Settings: []string{"pdf,first_sheet"}, Seed: 1}
}

// Files is the guide, by paths from the top of its folder. The program's folder gives the
// crops that come with it.
func (s Size) Files(program fs.FS) (map[string][]byte, error) {
	if s.Bands < 1 || s.Stations < 1 || s.Crops < 1 || s.Years < 10 || s.Layers < 1 || s.Layers > MostLayers {
		return nil, fmt.Errorf("a made guide has a band, a station, a crop, 10 years and 1 to %d sets of covers at least: %+v", MostLayers, s)
	}
	land := newLand(s)
	crops, err := s.crops(program)
	if err != nil {
		return nil, err
	}
	covers, layers := s.covers()
	files := map[string][]byte{
		"data/guide.csv":    s.guide(land),
		"data/bands.csv":    land.bandTable(),
		"data/places.csv":   land.placeTable(),
		"data/stations.csv": land.stationTable(),
		"data/crops.csv":    crops,
		"data/covers.csv":   covers,
		"data/layers.csv":   layers,
	}
	if len(s.Also) > 0 {
		files["data/words.csv"] = s.words(land)
	}
	maps.Copy(files, land.records(s.Years))
	return files, nil
}

// Write puts the guide into a folder, which is made.
func (s Size) Write(dir string, program fs.FS) error {
	files, err := s.Files(program)
	if err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(file, files[name], 0o644); err != nil {
			return err
		}
	}
	return nil
}

func (s Size) guide(l *land) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "setting,value\ntitle,%s\npublisher,%s Garden Circle\ncontact,circle@shedwall.example\n", l.title(), l.name)
	fmt.Fprintf(&b, "edition,1\nedition_date,2026-02-01\nlanguage,en\nyears,%d-%d\n", lastYear-s.Years+1, lastYear)
	b.WriteString("statement," + statement + "\n")
	b.WriteString("silence,band-gap\n")
	if len(s.Also) > 0 {
		b.WriteString("languages,en")
		for _, code := range s.Also {
			b.WriteString(" " + code)
		}
		b.WriteByte('\n')
	}
	for _, row := range s.Settings {
		b.WriteString(row + "\n")
	}
	return b.Bytes()
}

// statement stands on every page of a made guide.
const statement = "An invented region: nothing here is to be planted by."

// words gives the further languages the guide's own texts, as they stand in English: of a
// made guide nobody reads more.
func (s Size) words(l *land) []byte {
	all := [][]string{append([]string{"key"}, s.Also...)}
	add := func(key, text string) {
		row := []string{key}
		for range s.Also {
			row = append(row, text)
		}
		all = append(all, row)
	}
	add("guide.title", l.title())
	add("guide.statement", statement)
	for _, x := range l.stations {
		add("station."+x.id+".observed_at", observedAt)
		add("station."+x.id+".where_to_read", whereToRead)
	}
	return rows(all...)
}

// rows is a table as a file.
func rows(all ...[]string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.WriteAll(all); err != nil {
		panic(err) // a buffer takes everything
	}
	return b.Bytes()
}

func whole(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) }
