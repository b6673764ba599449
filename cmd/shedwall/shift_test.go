package main_test

import (
	"fmt"
	"go/ast"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// shiftFile alone turns altitude and cover into degrees of a threshold, so that no
// date can be shifted twice, or by two rules.
const shiftFile = "cmd/shedwall/internal/band/shift.go"

// lapseFitters work a lapse rate out of the stations and need its line for that; they
// shift nothing.
var lapseFitters = []string{"cmd/shedwall/internal/band/region.go: line"}

// shiftFaults finds where a lapse rate is multiplied by something, or a gain added to
// a temperature, outside shiftFile. It goes by names, so a name must say what it is.
func shiftFaults(files []source) (wrong []string) {
	for _, f := range files {
		if f.name == shiftFile || roomOf(f.name) == "" {
			continue
		}
		for _, decl := range f.file.Decls {
			name := ""
			if function, ok := decl.(*ast.FuncDecl); ok {
				name = function.Name.Name
			}
			ast.Inspect(decl, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.BinaryExpr:
					if n.Op == token.MUL && (mentions(n.X, "lapse") || mentions(n.Y, "lapse")) && !slices.Contains(lapseFitters, f.name+": "+name) {
						wrong = append(wrong, fmt.Sprintf("%s: %s: multiplies by a lapse rate", f.name, name))
					}
				case *ast.CallExpr:
					if method, ok := n.Fun.(*ast.SelectorExpr); ok && method.Sel.Name == "Plus" && slices.ContainsFunc(n.Args, func(a ast.Expr) bool { return mentions(a, "gain") }) {
						wrong = append(wrong, fmt.Sprintf("%s: %s: adds a gain to a temperature", f.name, name))
					}
				}
				return true
			})
		}
	}
	return wrong
}

// mentions says whether an expression holds a name with that word in it.
func mentions(e ast.Expr, word string) bool {
	found := false
	ast.Inspect(e, func(n ast.Node) bool {
		if id, ok := n.(*ast.Ident); ok && strings.Contains(strings.ToLower(id.Name), word) {
			found = true
		}
		return !found
	})
	return found
}

func TestOneShift(t *testing.T) {
	files, err := sources(os.DirFS(filepath.Join("..", "..")))
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(files, func(f source) bool { return f.name == shiftFile }) {
		t.Fatalf("%s is gone", shiftFile)
	}
	for _, w := range shiftFaults(files) {
		t.Errorf("%s; only %s does", w, shiftFile)
	}
}

// TestOneShiftFails shows that the rule finds a second shift.
func TestOneShiftFails(t *testing.T) {
	const body = `package p
func dates() { t := limit.Plus(-c.Gain.Low); u := k + float64(r.WinterLapse) * height }
func fine() { v := lapse + 1; w := t.Plus(offset); x := gain * 2 }`
	files, err := sources(fstest.MapFS{
		"cmd/shedwall/internal/plan/a.go": {Data: []byte(body)},
		shiftFile:                         {Data: []byte(body)},
	})
	if err != nil {
		t.Fatal(err)
	}
	got := shiftFaults(files)
	want := []string{
		"cmd/shedwall/internal/plan/a.go: dates: adds a gain to a temperature",
		"cmd/shedwall/internal/plan/a.go: dates: multiplies by a lapse rate",
	}
	if !slices.Equal(got, want) {
		t.Errorf("found %q, want %q", got, want)
	}
}
