package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"runtime"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/publish"
)

// PublishCmd builds the site.
type PublishCmd struct {
	Guide string   `help:"Folder of the guide." default:"." type:"existingdir"`
	Out   string   `help:"Folder for the site; public in the guide folder if left out." placeholder:"DIR"`
	Only  []string `help:"Make these bands' pages and sheets only (band ids, comma between); for a quick look." placeholder:"BAND"`

	Booklet     bool `help:"Also make guide.pdf, the whole guide to be bound, and posters with all bands side by side (A3 and Tabloid)."`
	Ink         bool `help:"Also tell how much of the paper each wall sheet makes black."`
	KeepEdition bool `help:"Also keep what is printed in data/editions/N.csv of the guide folder, to tell later what moved."`
}

// Run checks, computes, writes and swaps. With any fault nothing is written and
// the old site stays.
func (c *PublishCmd) Run(e *env) error {
	defer runtime.KeepAlive(collectSeldom())
	guide, err := e.guideFolder(c.Guide)
	if err != nil {
		return err
	}
	out := c.Out
	if out == "" {
		out = filepath.Join(c.Guide, "public")
	}
	g, err := e.load(guide)
	if err != nil {
		return err
	}
	for _, id := range c.Only {
		if _, ok := g.Climate(id); !ok && !g.Faults.HasErrors() {
			return usageError{unknown("band", id, g.BandIDs())}
		}
	}
	for _, f := range g.Faults.Sorted() {
		if f.Severity != diag.Notice {
			fmt.Fprintln(e.stderr, f)
		}
	}
	if g.Faults.HasErrors() {
		fmt.Fprintln(e.stderr, "nothing written: mend the faults above; `shedwall explain fault ID` explains each")
		return errFaults
	}
	if c.KeepEdition {
		if err := keepable(c); err != nil {
			return err
		}
		g.KeepIn = c.Guide
	}
	g.Booklet, g.Ink = c.Booklet, c.Ink
	line := newProgress(e)
	g.Tell = line.tell
	sum, err := g.Publish(out, c.Only)
	line.end()
	if errors.Is(err, publish.ErrKept) {
		return tellKept(e, g)
	}
	if err != nil {
		return err
	}
	for _, x := range sum.Ink {
		fmt.Fprintf(e.stdout, "%4.1f %% black  %s\n", 100*x.Share, x.Path)
	}
	fmt.Fprintf(e.stdout, "%s and %s for %s in %s\n", count(sum.Pages, "page"), count(sum.Sheets, "sheet"), count(sum.Bands, "band"), filepath.ToSlash(out))
	return nil
}
