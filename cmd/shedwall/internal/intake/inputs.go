package intake

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/table"
)

// Inputs is every table and record that a guide is made from, by path, sorted: the tables
// that are read, the records of its stations, the editions that were kept. Files that
// nothing reads are left out, whatever they hold.
func Inputs(guide fs.FS, records map[string]*record.Daily, freeze map[string]*record.Freeze, editions []int) []string {
	used := map[string]bool{}
	for _, t := range knownTables {
		used[path.Join(dataFolder, t)] = true
	}
	for _, d := range records {
		used[d.File] = true
	}
	for _, f := range freeze {
		for _, name := range f.Files {
			used[name] = true
		}
		if f.Normals != nil {
			used[f.Normals.File] = true
		}
	}
	for _, n := range editions {
		used[EditionFile(n)] = true
	}
	return slices.DeleteFunc(slices.Sorted(maps.Keys(used)), func(name string) bool {
		info, err := fs.Stat(guide, name)
		return err != nil || !info.Mode().IsRegular()
	})
}

// PublicCopy is a file of a guide as others may have it: reports.csv without its private
// columns and without texts that hold an address or a telephone number, any other file as
// it is.
func PublicCopy(guide fs.FS, name string) ([]byte, error) {
	if name == path.Join(dataFolder, "reports.csv") {
		return publicReports(guide), nil
	}
	return fs.ReadFile(guide, name)
}

// publicReports is reports.csv with the columns that pages are made from and no others.
// Every row stays in its place.
func publicReports(guide fs.FS) []byte {
	var doubts diag.List // told where the table is read
	l := newLoader(guide, guide, &doubts)
	rows := read[reportRow](l, "reports", figure.Own, optional, table.Spec{Open: privateHeading, Formulas: true})
	var heads []string
	var out [][]string
	for i := range rows {
		cells := rows[i].public()
		if heads == nil {
			for _, c := range cells {
				heads = append(heads, c.At().Heading)
			}
			out = append(out, heads)
		}
		line := make([]string, len(cells))
		for k, c := range cells {
			if line[k] = c.Text(); personal(line[k]) && slices.Contains([]string{"note", "place", "grower"}, c.Heading()) {
				line[k] = ""
			}
			line[k] = unrun(line[k])
		}
		out = append(out, line)
	}
	var buf bytes.Buffer
	w := csv.NewWriter(&buf)
	_ = w.WriteAll(out) // a bytes.Buffer does not fail
	return buf.Bytes()
}

// unrun keeps a spreadsheet from running what a grower wrote: such a text gets an
// apostrophe in front. Readings below zero stay as they are.
func unrun(s string) string {
	if s == "" || !strings.ContainsRune("=+-@＝", []rune(s)[0]) || reReading.MatchString(s) {
		return s
	}
	return "'" + s
}

// public is the cells of a row that pages are made from.
func (r *reportRow) public() []table.Cell {
	return []table.Cell{r.Date, r.Band, r.Crop, r.Outcome, r.Place, r.Grower, r.Height, r.Stage, r.Layers, r.Touched, r.Outside, r.Inside, r.Note}
}
