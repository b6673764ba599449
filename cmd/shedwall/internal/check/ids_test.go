package check

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
)

// literals collects the string literals that look like fault ids from Go files.
func literals(t *testing.T, patterns ...string) map[string]bool {
	t.Helper()
	id := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)+$`)
	found := map[string]bool{}
	for _, p := range patterns {
		files, err := filepath.Glob(p)
		if err != nil || len(files) == 0 {
			t.Fatalf("no files %s: %v", p, err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
					if s, err := strconv.Unquote(l.Value); err == nil && id.MatchString(s) {
						found[s] = true
					}
				}
				return true
			})
		}
	}
	return found
}

// TestEveryFaultIsExplained holds both ways that what the rooms of tables say can
// be looked up: no fault without an explanation, no explanation without a fault.
func TestEveryFaultIsExplained(t *testing.T) {
	used := literals(t, "../table/*.go", "../intake/table_*.go", "../intake/normals_*.go", "*.go")
	explained := literals(t, "../diag/ids_table.go", "../diag/ids_intake.go", "../diag/ids_freeze.go", "../diag/ids_check.go", "../diag/ids_sheets.go", "../diag/ids_months.go", "../diag/ids_reports.go", "../diag/ids_pots.go")
	for _, id := range slices.Sorted(maps.Keys(used)) {
		if !explained[id] {
			t.Errorf("%s is used and not explained", id)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(explained)) {
		if !used[id] {
			t.Errorf("%s is explained and not used", id)
		}
		e, ok := diag.Explain(id)
		if !ok {
			t.Errorf("%s is not registered", id)
			continue
		}
		for part, text := range map[string]string{"title": e.Title, "why": e.Why, "wrong row": e.Wrong, "right row": e.Right} {
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s has no %s", id, part)
			}
		}
		if e.Wrong == e.Right && e.ID != "layers-dropped" {
			t.Errorf("%s: the wrong row is the right one", id)
		}
		if strings.HasSuffix(e.Title, ".") || strings.Contains(e.Title, "\n") || !strings.HasSuffix(e.Why, ".") {
			t.Errorf("%s: a title is one line without a full stop, a why is made of sentences", id)
		}
	}
	if len(used) < 60 {
		t.Errorf("only %d ids were found: has the search lost its way?", len(used))
	}
}
