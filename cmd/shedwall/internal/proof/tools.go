package proof

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// tools is what each kind of check needs beside Go: programs on the path, and
// files under .ci that "npm ci --prefix .ci" brings.
var tools = map[string]struct{ programs, files []string }{
	"browser": {
		programs: []string{"node", "chromium"},
		files:    []string{"node_modules/playwright-core/package.json", "node_modules/axe-core/package.json"},
	},
	"html": {
		programs: []string{"node", "java"},
		files:    []string{"node_modules/vnu-jar/build/dist/vnu.jar", "node_modules/html-validate/package.json"},
	},
	"ics": {
		programs: []string{"node"},
		files:    []string{"node_modules/ical.js/package.json"},
	},
	"pdf": {programs: []string{"qpdf", "pdfinfo", "pdffonts", "pdftotext"}},
}

// Need skips the test, saying what is missing, where the tools of a kind of check
// ("browser", "html", "ics", "pdf") are absent; where SHEDWALL_REQUIRE names the kind, it
// fails the test instead, so that a check meant to run cannot be lost in silence.
func Need(t testing.TB, kind string) {
	t.Helper()
	need, ok := tools[kind]
	if !ok {
		t.Fatalf("no kind of check is called %q", kind)
	}
	var absent []string
	for _, program := range need.programs {
		if _, err := exec.LookPath(program); err != nil {
			absent = append(absent, program)
		}
	}
	for _, file := range need.files {
		file = filepath.Join(Root(t), ".ci", file)
		if _, err := os.Stat(file); err != nil {
			absent = append(absent, file)
		}
	}
	if len(absent) > 0 {
		Absent(t, kind, strings.Join(absent, ", ")+" not found (.ci/run installs them)")
	}
	Ran(t, kind)
}

// Ran notes that a test has what a kind of check needs and goes on.
func Ran(t testing.TB, kind string) {
	t.Helper()
	note(t, kind, "ran")
}

// Absent ends the test because something it needs is not there: a failure where
// SHEDWALL_REQUIRE, a list with commas, names the kind, else a skip that says why.
func Absent(t testing.TB, kind, why string) {
	t.Helper()
	note(t, kind, "not")
	if slices.Contains(strings.Split(os.Getenv("SHEDWALL_REQUIRE"), ","), kind) {
		t.Fatalf("%s checks are required here, but %s", kind, why)
	}
	t.Skipf("%s checks left out: %s", kind, why)
}

// note adds "KIND ran|not PROGRAM TEST" to the file named in SHEDWALL_PROOF_LOG, from
// which .ci/run counts how many proofs ran; without it nothing is noted.
func note(t testing.TB, kind, outcome string) {
	t.Helper()
	name := os.Getenv("SHEDWALL_PROOF_LOG")
	if name == "" {
		return
	}
	log, err := os.OpenFile(name, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		t.Fatal(err)
	}
	defer log.Close()
	if _, err := fmt.Fprintln(log, kind, outcome, filepath.Base(os.Args[0]), t.Name()); err != nil {
		t.Fatal(err)
	}
}

// Root is the folder of the project: the nearest one upwards that holds go.mod.
func Root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod above the test's folder")
		}
		dir = up
	}
}
