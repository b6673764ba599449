package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/publish"
)

// BeginCmd writes the smallest guide.
type BeginCmd struct {
	Dir  string   `arg:"" help:"Folder for the new guide; made if it is not there, refused if it is not empty." name:"dir"`
	Copy []string `help:"Also copy these built-in tables into it, to be edited (crops, covers, ...; comma between)." placeholder:"TABLE"`
}

// Run writes the files and says what to replace first.
func (c *BeginCmd) Run(e *env) error {
	if strings.TrimSpace(c.Dir) == "" {
		return usageError{errors.New("name the folder for the new guide: shedwall begin DIR")}
	}
	known, err := publish.BuiltInTables(e.defaults)
	if err != nil {
		return err
	}
	for i, name := range c.Copy {
		name = strings.TrimSuffix(strings.TrimSpace(name), ".csv")
		if !slices.Contains(known, name) {
			return usageError{unknown("built-in table", name, known)}
		}
		c.Copy[i] = name
	}
	slices.Sort(c.Copy)
	files, err := publish.Begin(c.Dir, e.defaults, slices.Compact(c.Copy))
	if errors.Is(err, publish.ErrNotEmpty) {
		return usageError{fmt.Errorf("%s: %w", filepath.ToSlash(c.Dir), err)}
	}
	if err != nil {
		return err
	}
	dir := filepath.ToSlash(filepath.Clean(c.Dir))
	w := &lastingWriter{w: e.stdout}
	fmt.Fprintf(w, "a new guide in %s:\n", dir)
	for _, f := range files {
		fmt.Fprintf(w, "  %-20s %s\n", f.Name, f.What)
	}
	fmt.Fprintf(w, `
look at it:          shedwall publish --guide %[1]s     then open %[1]s/public/index.html
replace first:
  1. data/stations.csv and data/freeze.csv: your weather station and its two average dates;
     better than two dates is its daily record, as data/records/NAME.csv, and freeze.csv deleted
  2. data/bands.csv:  the altitudes at which your readers garden
  3. data/guide.csv:  who you are, and the date of the edition
  4. data/places.csv: the villages that readers look up
  5. content/index.md: your own welcome
what is still wrong or made up: shedwall check --guide %[1]s
`, dir)
	return w.err
}
