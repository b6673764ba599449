package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestReadmeRowsAreAGuide types the rows that README.md shows into a folder and checks
// it: they must be a guide without a fault.
func TestReadmeRowsAreAGuide(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	files := map[string]string{}
	name := ""
	for _, line := range strings.Split(string(readme), "\n") {
		text, typed := strings.CutPrefix(line, "    ")
		switch {
		case !typed:
			name = ""
		case strings.HasPrefix(text, "data/"):
			name, _, _ = strings.Cut(text, " ")
		case name != "":
			files[name] += text + "\n"
		}
	}
	for _, n := range []string{"guide", "stations", "bands", "places", "freeze"} {
		if files["data/"+n+".csv"] == "" {
			t.Fatalf("README shows no rows of %s.csv", n)
		}
	}
	// The other required settings, which README only names.
	files["data/guide.csv"] += "publisher,P\ncontact,post@example.org\nedition,1\nedition_date,2026-02-01\nlanguage,en\n"
	for n, text := range files {
		path := filepath.Join(dir, n)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var out, messages bytes.Buffer
	if code := run([]string{"check", "--guide", dir}, &out, &messages); code != exitDone {
		t.Errorf("exit %d:\n%s%s", code, out.String(), messages.String())
	}
}
