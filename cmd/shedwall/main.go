// Command shedwall turns a folder of tables and prose into a regional growing
// guide: a web site that needs no server, the same pages as Markdown, and
// calendars to print. See README.md.
package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"github.com/alecthomas/kong"

	"shedwall/cmd/shedwall/internal/publish"
	"shedwall/content"
	"shedwall/data"
	"shedwall/templates"
)

// Exit codes: done; faults in the guide; wrong usage; could not read or write.
const (
	exitDone   = 0
	exitFaults = 1
	exitUsage  = 2
	exitIO     = 3
)

// errFaults ends a command whose faults have been printed already.
var errFaults = errors.New("the guide has faults")

// usageError is a wrong use of the command line that kong cannot see.
type usageError struct{ error }

// version is said by --version.
const version = publish.Version

type commands struct {
	Version kong.VersionFlag `help:"Print the version and do nothing else."`

	Publish PublishCmd `cmd:"" help:"Check, compute and write the site; the old site is replaced only when all went well."`
	Preview PreviewCmd `cmd:"" help:"Show pages in the browser as you edit, with faults on them; write nothing."`
	Check   CheckCmd   `cmd:"" help:"Print every fault of the guide at once; write nothing."`
	Explain ExplainCmd `cmd:"" help:"Show the arithmetic behind a date, or what a fault means."`
	Odds    OddsCmd    `cmd:"" help:"Print the frost odds of any daily record."`
	Score   ScoreCmd   `cmd:"" help:"Compare growers' reports with the dates that the guide prints."`
	Trial   TrialCmd   `cmd:"" help:"Work out a cover's gain from two loggers, one under it and one in the open."`
	Begin   BeginCmd   `cmd:"" help:"Write the smallest guide into a new folder; it publishes at once."`
	Moved   MovedCmd   `cmd:"" help:"Tell what moved since an earlier edition, which cell moved it, and which printed sheets are still right."`
}

// env is what commands use of the world outside.
type env struct {
	stdout, stderr io.Writer
	defaults       fs.FS                // data/, content/ and templates/ that come with the program
	terminal       func(io.Writer) bool // whether somebody looks at what is written there
}

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is main with everything handed in. Results go to stdout, messages to stderr.
func run(args []string, stdout, stderr io.Writer) int {
	e := &env{stdout: stdout, stderr: stderr, defaults: folders{"data": data.FS, "content": content.FS, "templates": templates.FS}, terminal: isTerminal}
	exited := -1
	parser, err := kong.New(&commands{},
		kong.Name("shedwall"),
		kong.Description("Turns frost records, crop cold limits and covers into a growing guide for every zone and altitude."),
		kong.Writers(stdout, stderr),
		kong.WithHyphenPrefixedParameters(true),
		kong.Vars{"version": "shedwall " + version},
		kong.Exit(func(code int) { exited = code }),
		kong.Bind(e),
	)
	if err != nil {
		fmt.Fprintln(stderr, "shedwall:", err)
		return exitUsage
	}
	ctx, err := parser.Parse(args)
	if exited == 0 { // --help has been printed
		return exitDone
	}
	if err != nil {
		fmt.Fprintln(stderr, "shedwall:", err)
		return exitUsage
	}
	err = ctx.Run(e)
	var usage usageError
	var out publish.OutError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errFaults):
		return exitFaults
	case errors.As(err, &usage), errors.As(err, &out):
		fmt.Fprintln(stderr, "shedwall:", err)
		return exitUsage
	}
	fmt.Fprintln(stderr, "shedwall:", err)
	return exitIO
}
