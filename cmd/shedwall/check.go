package main

import (
	"encoding/json"
	"fmt"

	"shedwall/cmd/shedwall/internal/diag"
)

// CheckCmd prints every fault of a guide.
type CheckCmd struct {
	Guide string `help:"Folder of the guide." default:"." type:"existingdir"`
	JSON  bool   `name:"json" help:"One JSON object a line instead of text."`
	Page  string `help:"Also write the faults as a page of its own, FILE.html, to be read in a browser." placeholder:"FILE"`
	Bands bool   `help:"Also print a bands.csv that fits the stations and places; done by itself where the guide has no bands."`
}

// jsonFault is a fault as --json prints it.
type jsonFault struct {
	File     string `json:"file"`
	Line     int    `json:"line,omitempty"`
	Column   int    `json:"column,omitempty"`
	Cell     string `json:"cell,omitempty"`
	Heading  string `json:"heading,omitempty"`
	Severity string `json:"severity"`
	What     string `json:"what"`
	Expected string `json:"expected,omitempty"`
	Cure     string `json:"cure,omitempty"`
	ID       string `json:"id"`
}

// Run prints faults to stdout, a count to stderr, and ends with exit code 1 where
// anything stops a publish.
func (c *CheckCmd) Run(e *env) error {
	if err := pageName(c.Page); err != nil {
		return err
	}
	guide, err := e.guideFolder(c.Guide)
	if err != nil {
		return err
	}
	g, err := e.load(guide)
	if err != nil {
		return err
	}
	counts := map[diag.Severity]int{}
	out := json.NewEncoder(e.stdout)
	out.SetEscapeHTML(false)
	for _, f := range g.Faults.Sorted() {
		counts[f.Severity]++
		if c.JSON {
			err = out.Encode(jsonFault{f.At.File, f.At.Line, f.At.Column, f.At.Cell, f.At.Heading, f.Severity.String(), f.What, f.Expected, f.Cure, f.ID})
		} else {
			_, err = fmt.Fprintln(e.stdout, f)
		}
		if err != nil {
			return err
		}
	}
	if c.Page != "" {
		if err := writeFaultsPage(g, c.Page); err != nil {
			return err
		}
	}
	if c.Bands || len(g.Tables.Bands) == 0 && !c.JSON {
		fmt.Fprintln(e.stderr, "bands that fit the stations and places, ready to be saved as data/bands.csv:")
		if some, err := g.ProposeBands(e.stdout); err != nil {
			return err
		} else if !some {
			fmt.Fprintln(e.stderr, "none: no station has a record and an elevation yet")
		}
	}
	fmt.Fprintf(e.stderr, "%s, %s, %s\n", count(counts[diag.Error], "fault"), count(counts[diag.Warning], "warning"), count(counts[diag.Notice], "note"))
	if counts[diag.Error] > 0 {
		return errFaults
	}
	return nil
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
