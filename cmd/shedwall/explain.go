package main

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/publish"
	"shedwall/cmd/shedwall/internal/quantity"
)

// ExplainCmd explains dates and faults.
type ExplainCmd struct {
	Date  ExplainDateCmd  `cmd:"" help:"The arithmetic behind a date, cell by cell."`
	Fault ExplainFaultCmd `cmd:"" help:"What a fault means, with a wrong row and the right one."`
}

// ExplainFaultCmd prints the explanation of a fault id.
type ExplainFaultCmd struct {
	ID string `arg:"" help:"Id of a fault, as printed in brackets behind it."`
}

// Run prints what a fault means, or the nearest known id.
func (c *ExplainFaultCmd) Run(e *env) error {
	x, ok := diag.Explain(c.ID)
	if !ok {
		return usageError{unknown("fault", c.ID, diag.IDs())}
	}
	fmt.Fprintf(e.stdout, "%s: %s\n\n%s\n\nWrong:\n%s\n\nRight:\n%s\n", x.ID, x.Title, x.Why, indent(x.Wrong), indent(x.Right))
	return nil
}

func indent(s string) string {
	return "    " + strings.ReplaceAll(strings.TrimRight(s, "\n"), "\n", "\n    ")
}

// unknown says that there is no such name and proposes the nearest.
func unknown(what, name string, known []string) error {
	if near := diag.Nearest(name, known); near != "" {
		return fmt.Errorf("there is no %s %q; did you mean %q?", what, name, near)
	}
	if len(known) > 0 && len(known) <= 40 {
		return fmt.Errorf("there is no %s %q; there are: %s", what, name, strings.Join(known, ", "))
	}
	return fmt.Errorf("there is no %s %q", what, name)
}

// ExplainDateCmd prints the arithmetic behind one window or all of them.
type ExplainDateCmd struct {
	Guide  string `help:"Folder of the guide." default:"." type:"existingdir"`
	Band   string `help:"Band id." required:""`
	Crop   string `help:"Crop id." required:""`
	Layers string `help:"Covers together, outermost first: tunnel+fabric; open ground if left out, or open."`
	Action string `help:"sow-inside, sow-outside, set-out, harvest or last-safe-day; all if left out."`
	Odds   string `help:"careful (1 year in 10 is worse) or half." default:"careful" enum:"careful,half"`
}

// Run prints the explanation.
func (c *ExplainDateCmd) Run(e *env) error {
	g, err := load(e, c.Guide)
	if err != nil {
		return err
	}
	bandIDs, cropIDs := g.BandIDs(), g.CropIDs()
	climate, ok := g.Climate(c.Band)
	if !ok {
		return usageError{unknown("band", c.Band, bandIDs)}
	}
	crop, ok := g.Crop(c.Crop)
	if !ok {
		return usageError{unknown("crop", c.Crop, cropIDs)}
	}
	if c.Layers == openGround {
		c.Layers = ""
	}
	if c.Layers != "" && !g.Planner.Gain(c.Layers).Known {
		return usageError{unknown("set of layers with a known gain", c.Layers, g.Planner.Offered())}
	}
	odds := quantity.Careful
	if c.Odds == "half" {
		odds = quantity.Half
	}
	x := g.Planner.Explain(climate, crop, c.Layers, odds)
	var actions []string
	for _, w := range x.Windows {
		actions = append(actions, string(w.Action))
	}
	w := arithmetic{out: e.stdout, g: g, climate: climate, x: x, odds: odds}
	found := false
	for _, win := range x.Windows {
		if c.Action == "" || plan.Action(c.Action) == win.Action {
			w.window(win)
			found = true
		}
	}
	if !found {
		return usageError{unknown("action of "+c.Crop, c.Action, actions)}
	}
	return nil
}

// openGround is how tables of sheets name no cover at all.
const openGround = "open"

// load reads a guide and prints its faults; a guide with faults is not used.
func load(e *env, dir string) (*publish.Guide, error) {
	guide, err := e.guideFolder(dir)
	if err != nil {
		return nil, err
	}
	g, err := e.load(guide)
	if err != nil {
		return nil, err
	}
	if g.Faults.HasErrors() {
		for _, f := range g.Faults.Sorted() {
			if f.Severity == diag.Error {
				fmt.Fprintln(e.stderr, f)
			}
		}
		return nil, errFaults
	}
	return g, nil
}
