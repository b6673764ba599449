package main_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// rooms says what each package under internal is for and which others it may import;
// the standard library is open to all but as said below. A line changed here is a
// change of design: make it because the design is better so, never to get a build
// through. Tests may import anything. A room that is not built yet is no fault.
const rooms = `
quantity | temperatures, differences, metres, season days, odds        |
diag     | positions, messages, fault ids with their explanation       |
figure   | a value, known or not, with its cell and source             | diag quantity
record   | daily series with explicit gaps, published freeze tables    | figure quantity
catalog  | crops, covers, layers, bands, reports: typed rows and joins | figure quantity diag
table    | one CSV file to rows of cells that know their place         | diag figure
intake   | the guide folder over the built-in tables, station files    | table catalog record figure quantity diag
prose    | Markdown to blocks and pictures                             | diag
words    | language, plurals, dates, numbers, rounding to the safe side | figure quantity diag
frost    | staircases, odds, winter lows, zones                        | record figure quantity
season   | sun, day length, degree days, soil, emergence               | record figure quantity
band     | lapse, blending, positions, leaving one station out         | frost record catalog figure quantity
cover    | gains, layers, heat balance, nights                         | frost season record catalog figure quantity
plan     | crop x layers x band to windows and tasks, with reasons     | catalog record frost season band cover figure quantity
score    | growers' reports against the odds                           | catalog record frost season band cover plan figure quantity
edition  | sheet codes, the ledger, what moved                         | catalog record frost season band cover plan figure quantity
check    | rules over more than one table                              | catalog record prose words frost season band cover plan diag figure quantity
page     | pages without a format; every output path and link          | catalog record frost season band cover plan score edition prose words diag figure quantity
render   | pages to HTML, Markdown, SVG, PDF, calendars                | page prose diag quantity
publish  | the stages in order; writes and swaps the site              | ALL-BUT table
preview  | a local server over publish                                 | publish diag
`

// scienceRooms compute and nothing else: no files, network, log, chance or clock, so
// that the same records give the same dates anywhere, and a test needs no set-up.
const scienceRooms = "quantity figure record catalog frost season band cover plan score edition"

// noScience are the standard packages closed to them, with all below.
var noScience = []string{"os", "io/fs", "net", "log", "math/rand"}

// clockRooms alone may ask the clock: to show progress and to wait for a save.
const clockRooms = "publish preview"

// clock is what may not be asked of package time elsewhere; Local is the machine's.
var clock = []string{"Now", "Since", "Until", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer", "Sleep", "Local"}

// libraries are kept behind one room each, so that their traps are met in one place.
var libraries = map[string]string{
	"github.com/gocarina/gocsv":     "table",
	"github.com/yuin/goldmark":      "prose",
	"github.com/Masterminds":        "render",
	"github.com/carlos7ags/folio":   "render",
	"github.com/klauspost/compress": "render",
}

// testRooms are for tests alone; embedded hold the demo guide and the defaults, and
// only the command hands them down.
const (
	testRooms = "proof sitecheck made"
	embedded  = "content data templates"
	module    = "shedwall/"
	inside    = "shedwall/cmd/shedwall/internal/"
)

// room is one line of the table.
type room struct {
	name, job string
	uses      []string
	words     string // what it may use, as printed
	level     int    // 1 + the highest level it may use
}

// parseRooms reads the table; a room may use only rooms above it, so there is no circle.
func parseRooms(table string) ([]room, error) {
	var all []room
	known := map[string]room{}
	for line := range strings.Lines(strings.TrimSpace(table)) {
		parts := strings.Split(line, "|")
		if len(parts) != 3 {
			return nil, fmt.Errorf("a line has room | job | uses: %q", line)
		}
		r := room{name: strings.TrimSpace(parts[0]), job: strings.TrimSpace(parts[1]), uses: strings.Fields(parts[2])}
		r.words = strings.Join(r.uses, " ")
		if len(r.uses) > 0 && r.uses[0] == "ALL-BUT" {
			r.words = "every room above but " + strings.Join(r.uses[1:], " ")
			not := r.uses[1:]
			r.uses = slices.DeleteFunc(slices.Sorted(maps.Keys(known)), func(name string) bool { return slices.Contains(not, name) })
		}
		for _, use := range r.uses {
			if _, ok := known[use]; !ok {
				return nil, fmt.Errorf("%s may use %s, which does not stand above it", r.name, use)
			}
			r.level = max(r.level, known[use].level)
		}
		r.level++
		if _, twice := known[r.name]; twice {
			return nil, fmt.Errorf("%s stands twice", r.name)
		}
		known[r.name] = r
		all = append(all, r)
	}
	return all, nil
}

// source is one Go file that is not a test.
type source struct {
	name string // with slashes, from the project's root
	file *ast.File
}

// sources parses every Go file of the project under root, tests left out.
func sources(root fs.FS) ([]source, error) {
	var all []source
	for _, dir := range append([]string{"cmd"}, strings.Fields(embedded)...) {
		if _, err := fs.Stat(root, dir); err != nil {
			continue
		}
		err := fs.WalkDir(root, dir, func(name string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() && d.Name() == "testdata" {
				return fs.SkipDir
			}
			if path.Ext(name) != ".go" || strings.HasSuffix(name, "_test.go") {
				return nil
			}
			text, err := fs.ReadFile(root, name)
			if err != nil {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, text, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			all = append(all, source{name, file})
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}

// roomOf is the room of a file: "" for the command itself and the embedding packages.
func roomOf(name string) string {
	rest, ok := strings.CutPrefix(name, "cmd/shedwall/internal/")
	if !ok {
		return ""
	}
	first, _, _ := strings.Cut(rest, "/")
	return first
}

// under says whether an import path is a package or lies below it.
func under(path, parent string) bool {
	return path == parent || strings.HasPrefix(path, parent+"/")
}

// roomFaults compares the imports of all files with the table.
func roomFaults(all []room, files []source) (wrong []string) {
	allowed := map[string][]string{}
	for _, r := range all {
		allowed[r.name] = r.uses
	}
	for _, f := range files {
		name := roomOf(f.name)
		uses, known := allowed[name]
		helper := slices.Contains(strings.Fields(testRooms), name)
		if name != "" && !known && !helper {
			wrong = append(wrong, fmt.Sprintf("%s: %s is not a room of the table", f.name, name))
			continue
		}
		science := slices.Contains(strings.Fields(scienceRooms), name)
		for _, spec := range f.file.Imports {
			p, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				continue // the parser has seen it
			}
			say := func(why string) { wrong = append(wrong, fmt.Sprintf("%s: imports %s: %s", f.name, p, why)) }
			if science && slices.ContainsFunc(noScience, func(closed string) bool { return under(p, closed) }) {
				say("a science room reads no files, network, log or chance")
			}
			for library, home := range libraries {
				if under(p, library) && name != home {
					say("only " + home + " may")
				}
			}
			if first, _, _ := strings.Cut(strings.TrimPrefix(p, module), "/"); strings.HasPrefix(p, module) && slices.Contains(strings.Fields(embedded), first) {
				if path.Dir(f.name) != "cmd/shedwall" {
					say("only the command hands down what is embedded")
				}
				continue
			}
			used, ours := strings.CutPrefix(p, inside)
			if !ours {
				continue
			}
			used, _, _ = strings.Cut(used, "/")
			switch {
			case used == name || helper:
			case slices.Contains(strings.Fields(testRooms), used):
				say("it is for tests")
			case name != "" && !slices.Contains(uses, used):
				say(name + " may not use " + used)
			}
		}
		if name != "" && !helper && !slices.Contains(strings.Fields(clockRooms), name) {
			wrong = append(wrong, clockFaults(f)...)
		}
	}
	return wrong
}

// clockFaults finds where a file asks the clock or the machine's time zone.
func clockFaults(f source) (wrong []string) {
	alias := ""
	for _, spec := range f.file.Imports {
		if spec.Path.Value == `"time"` {
			alias = "time"
			if spec.Name != nil {
				alias = spec.Name.Name
			}
		}
	}
	if alias == "" {
		return nil
	}
	ast.Inspect(f.file, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if pkg, ok := sel.X.(*ast.Ident); ok && pkg.Name == alias && slices.Contains(clock, sel.Sel.Name) {
				wrong = append(wrong, fmt.Sprintf("%s: time.%s: only %s may ask the clock", f.name, sel.Sel.Name, clockRooms))
			}
		}
		return true
	})
	return wrong
}

func TestRoomImports(t *testing.T) {
	all, err := parseRooms(rooms)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range strings.Fields(scienceRooms + " " + clockRooms) {
		if !slices.ContainsFunc(all, func(r room) bool { return r.name == name }) {
			t.Errorf("%s has a rule but is no room", name)
		}
	}
	files, err := sources(os.DirFS(filepath.Join("..", "..")))
	if err != nil {
		t.Fatal(err)
	}
	if len(files) == 0 {
		t.Fatal("found no Go file")
	}
	for _, w := range roomFaults(all, files) {
		t.Error(w)
	}
}

// TestRoomFaults shows that each rule can fail: a small tree with one fault a file.
func TestRoomFaults(t *testing.T) {
	all, err := parseRooms(rooms)
	if err != nil {
		t.Fatal(err)
	}
	tree := fstest.MapFS{}
	put := func(name, imports, body string) {
		tree[name] = &fstest.MapFile{Data: []byte("package p\nimport (\n" + imports + "\n)\n" + body)}
	}
	const internal = "cmd/shedwall/internal/"
	put(internal+"frost/a.go", `"shedwall/cmd/shedwall/internal/plan"`, "")
	put(internal+"frost/b.go", `"net/http"; "os"; "math"; "osmosis"`, "")
	put(internal+"frost/c.go", `"time"`, "var now = time.Now; var day time.Month")
	put(internal+"words/a.go", `clock "time"`, "var here = clock.Local")
	put(internal+"preview/a.go", `"time"; "os"`, "var now = time.Now")
	put(internal+"intake/a.go", `"github.com/gocarina/gocsv"; "shedwall/data"`, "")
	put(internal+"render/a.go", `"github.com/carlos7ags/folio/core"; "github.com/Masterminds/sprig/v3"; "github.com/yuin/goldmark"`, "")
	put(internal+"publish/a.go", `"shedwall/cmd/shedwall/internal/render"; "shedwall/cmd/shedwall/internal/table"`, "")
	put(internal+"attic/a.go", ``, "")
	put(internal+"proof/a.go", `"os"`, "")
	put(internal+"plan/a_test.go", `"os"`, "")
	put("cmd/shedwall/main.go", `"os"; "shedwall/data"; "shedwall/cmd/shedwall/internal/table"; "shedwall/cmd/shedwall/internal/proof"`, "")
	files, err := sources(tree)
	if err != nil {
		t.Fatal(err)
	}
	got := roomFaults(all, files)
	want := []string{
		`cmd/shedwall/internal/attic/a.go: attic is not a room of the table`,
		`cmd/shedwall/internal/frost/a.go: imports shedwall/cmd/shedwall/internal/plan: frost may not use plan`,
		`cmd/shedwall/internal/frost/b.go: imports net/http: a science room reads no files, network, log or chance`,
		`cmd/shedwall/internal/frost/b.go: imports os: a science room reads no files, network, log or chance`,
		`cmd/shedwall/internal/frost/c.go: time.Now: only publish preview may ask the clock`,
		`cmd/shedwall/internal/intake/a.go: imports github.com/gocarina/gocsv: only table may`,
		`cmd/shedwall/internal/intake/a.go: imports shedwall/data: only the command hands down what is embedded`,
		`cmd/shedwall/internal/publish/a.go: imports shedwall/cmd/shedwall/internal/table: publish may not use table`,
		`cmd/shedwall/internal/render/a.go: imports github.com/yuin/goldmark: only prose may`,
		`cmd/shedwall/internal/words/a.go: time.Local: only publish preview may ask the clock`,
		`cmd/shedwall/main.go: imports shedwall/cmd/shedwall/internal/proof: it is for tests`,
	}
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("found\n\t%s\nwant\n\t%s", strings.Join(got, "\n\t"), strings.Join(want, "\n\t"))
	}
}

// TestRoomTable shows that a table with a circle, a gap or a repeat is refused.
func TestRoomTable(t *testing.T) {
	for _, bad := range []string{"a|job|b\nb|job|a", "a|job|", "a|job|\na|job|", "a|job"} {
		_, err := parseRooms(bad)
		if good := bad == "a|job|"; (err == nil) != good {
			t.Errorf("%q: %v", bad, err)
		}
	}
}
