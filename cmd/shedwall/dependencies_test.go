package main_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

var (
	reRequired   = regexp.MustCompile(`(?m)^(?:require )?\s*([a-z][^\s]*/[^\s]*) (v[0-9][^\s]*)`)
	reDependency = regexp.MustCompile(`(?m)^\| ([^ |]+) \| (v?[0-9][^ |]*) \| ([^|]+) \| ([^|\n]+) \|$`)
)

// licenceWords stand in the text of a licence.
var licenceWords = map[string]string{
	"MIT": "Permission is hereby granted, free of charge", "BSD-3-Clause": "Redistribution and use in source and binary forms",
	"Apache-2.0": "Apache License", "MPL-2.0": "Mozilla Public License",
}

// The table of dependencies in DEVELOPERS.md is what go.mod and .ci/package.json
// require, with the same versions; the licence is the one that lies beside each module.
func TestDependenciesAreListed(t *testing.T) {
	root := proof.Root(t)
	text := func(name string) string {
		b, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	want := map[string]string{}
	for _, m := range reRequired.FindAllStringSubmatch(text("go.mod"), -1) {
		want[m[1]] = m[2]
	}
	modules := len(want)
	var node struct{ Dependencies, DevDependencies map[string]string }
	if err := json.Unmarshal([]byte(text(".ci/package.json")), &node); err != nil {
		t.Fatal(err)
	}
	for _, list := range []map[string]string{node.Dependencies, node.DevDependencies} {
		for name, version := range list {
			want[name] = version
		}
	}
	if modules < 20 || len(want) == modules {
		t.Errorf("%d modules and %d packages were read", modules, len(want)-modules)
	}
	licences := map[string]string{}
	for _, m := range reDependency.FindAllStringSubmatch(text("DEVELOPERS.md"), -1) {
		name, version, licence := m[1], m[2], m[3]
		switch {
		case want[name] == "":
			t.Errorf("%s is listed twice or required nowhere", name)
		case want[name] != version:
			t.Errorf("%s is listed as %s, required is %s", name, version, want[name])
		case licenceWords[licence] == "":
			t.Errorf("%s: nobody looked yet whether the licence %s lets us use it", name, licence)
		}
		licences[name] = licence
		delete(want, name)
	}
	for name := range want {
		t.Errorf("%s is not in the table of dependencies", name)
	}
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Path}} {{.Dir}}", "all").Output()
	if err != nil {
		t.Skip("the go command does not tell where modules lie, so that licences cannot be looked up: ", err)
	}
	looked := 0
	for line := range strings.Lines(string(out)) {
		name, dir, _ := strings.Cut(strings.TrimSpace(line), " ")
		licence, listed := licences[name]
		if !listed || dir == "" {
			continue
		}
		files, _ := filepath.Glob(filepath.Join(dir, "LICEN[SC]E*"))
		more, _ := filepath.Glob(filepath.Join(dir, "COPYING*"))
		found := false
		for _, file := range append(files, more...) {
			b, err := os.ReadFile(file)
			found = found || err == nil && strings.Contains(strings.Join(strings.Fields(string(b)), " "), licenceWords[licence])
		}
		if !found {
			t.Errorf("%s is listed as %s, and no licence beside it says so", name, licence)
		}
		looked++
	}
	if looked < 10 {
		t.Errorf("the licences of %d modules only were looked at", looked)
	}
}
