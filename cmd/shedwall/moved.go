package main

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"text/tabwriter"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/edition"
	"shedwall/cmd/shedwall/internal/publish"
)

// MovedCmd tells what changed since an edition that was kept.
type MovedCmd struct {
	Guide string `help:"Folder of the guide." default:"." type:"existingdir"`
	Since int    `help:"Number of the edition to compare with; the latest before the guide's own if left out." placeholder:"N"`
}

// Run prints what moved since an edition: why, the dates, and which printed sheets are
// still right. Nothing is written.
func (c *MovedCmd) Run(e *env) error {
	guide, err := e.guideFolder(c.Guide)
	if err != nil {
		return err
	}
	g, err := e.load(guide)
	if err != nil {
		return err
	}
	if g.Faults.HasErrors() {
		return tellErrors(e, g)
	}
	before, err := c.before(g)
	if err != nil {
		return err
	}
	if g.Faults.HasErrors() {
		return tellErrors(e, g)
	}
	now, err := g.Printed()
	if err != nil {
		return err
	}
	return printMoved(e.stdout, edition.Compare(before, now))
}

// before is the edition to compare with.
func (c *MovedCmd) before(g *publish.Guide) (*catalog.Edition, error) {
	if c.Since != 0 {
		for _, n := range g.Numbers {
			if n == c.Since {
				return g.EditionOf(n), nil
			}
		}
		return nil, usageError{fmt.Errorf("edition %d was not kept; kept: %s", c.Since, keptNumbers(g))}
	}
	if g.Previous == nil {
		return nil, usageError{fmt.Errorf("no edition before edition %d was kept; kept: %s. `shedwall publish --keep-edition` keeps one; --since names it", g.Tables.Guide.Edition, keptNumbers(g))}
	}
	return g.Previous, nil
}

func keptNumbers(g *publish.Guide) string {
	if len(g.Numbers) == 0 {
		return "none"
	}
	text := ""
	for i, n := range g.Numbers {
		if i > 0 {
			text += ", "
		}
		text += strconv.Itoa(n)
	}
	return text
}

// tellErrors prints the faults that stop a command.
func tellErrors(e *env, g *publish.Guide) error {
	for _, f := range g.Faults.Sorted() {
		if f.Severity == diag.Error {
			fmt.Fprintln(e.stderr, f)
		}
	}
	return errFaults
}

// printMoved prints the comparison.
func printMoved(out io.Writer, m *edition.Moved) error {
	w := &lastingWriter{w: out}
	careful := ""
	if n := m.Careful(); len(m.Changes) > 0 {
		careful = fmt.Sprintf(" (%s, of which the pages tell, and %d of half the years)", count(n, "careful date"), len(m.Changes)-n)
	}
	fmt.Fprintf(w, "edition %d (%s) against edition %d (%s): %s moved, came or went%s; %d are as they were\n",
		m.Before.Number, m.Before.Date, m.Now.Number, m.Now.Date, count(len(m.Changes), "date"), careful, m.Kept)
	if len(m.Causes) > 0 {
		fmt.Fprint(w, "\nwhy\n")
		moved := make([]int, len(m.Causes))
		for i := range m.Changes {
			for _, k := range m.Changes[i].Causes {
				moved[k]++
			}
		}
		for i, c := range m.Causes {
			if c.Kind == edition.ByCovers && (i == 0 || m.Causes[i-1].Kind != edition.ByCovers) {
				fmt.Fprint(w, "\nno cell, but what follows: other covers suit a crop best, and its dates under them came or went\n")
			}
			fmt.Fprintf(w, "%4d  %s  (%s)\n", i+1, c, count(moved[i], "date"))
		}
	}
	if len(m.Changes) > 0 {
		fmt.Fprint(w, "\ndates\n")
		t := tabwriter.NewWriter(w, 0, 8, 2, ' ', 0)
		fmt.Fprintln(t, "band\tcrop\tcovers\tyears in 10\taction\twas\tnow\tdays\twhy\tsheet")
		for i := range m.Changes {
			fmt.Fprintln(t, movedLine(&m.Changes[i]))
		}
		if err := t.Flush(); err != nil {
			return err
		}
	}
	if len(m.Sheets) > 0 {
		fmt.Fprint(w, "\nprinted sheets\n")
		t := tabwriter.NewWriter(w, 0, 8, 2, ' ', 0)
		for _, s := range m.Sheets {
			fmt.Fprintf(t, "%s\t%s\t%s\n", s.Sheet.Code, s.Sheet.Path, sheetWords(s))
		}
		if err := t.Flush(); err != nil {
			return err
		}
	}
	return w.err
}

func movedLine(c *edition.Change) string {
	covers, sheet := c.Key.Layers, "-"
	if covers == "" {
		covers = "open"
	}
	if c.Was != nil && c.Was.Sheet != "" {
		sheet = c.Was.Sheet + " " + c.Was.Code
	}
	days := "-"
	if c.Was != nil && c.Now != nil {
		days = fmt.Sprintf("%+d %+d", c.FromDays, c.ToDays)
	}
	why := ""
	for i, k := range c.Causes {
		if i > 0 {
			why += ","
		}
		why += strconv.Itoa(k + 1)
	}
	return fmt.Sprintf("%s\t%s\t%s\t%d\t%s\t%s\t%s\t%s\t%s\t%s", c.Key.Band, c.Key.Crop, covers, c.Key.Percent/10, c.Key.Action, windowText(c.Was), windowText(c.Now), days, why, sheet)
}

func windowText(r *catalog.EditionRow) string {
	if r == nil {
		return "none"
	}
	end := func(b catalog.EditionBound) string {
		switch {
		case b.State == catalog.EditionDated:
			return b.Date.String()
		case b.Gate != "":
			return string(b.State) + " (" + b.Gate + ")"
		}
		return string(b.State)
	}
	from, to := end(r.From), end(r.To)
	if from == to {
		return from
	}
	return from + ".." + to
}

func sheetWords(s edition.SheetState) string {
	switch {
	case s.Same:
		return "unchanged"
	case s.Right:
		return "every date still holds; new code " + s.NowCode
	case s.NowCode == "":
		return "no such sheet any more"
	case s.Moved == 0:
		return "changed; new code " + s.NowCode
	}
	return count(s.Moved, "date") + " moved; new code " + s.NowCode
}

// lastingWriter keeps the first error, so that many small prints need no check each.
type lastingWriter struct {
	w   io.Writer
	err error
}

func (l *lastingWriter) Write(p []byte) (int, error) {
	n, err := l.w.Write(p)
	l.err = errors.Join(l.err, err)
	return n, err
}
