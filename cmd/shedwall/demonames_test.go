package main

import (
	"bytes"
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shedwall/data"
)

// commonWords are the words of the demo's names that any guide may use.
var commonWords = strings.Fields("and floor slopes slope upper hollow ridge heights mill bench school saddle halt nether seed shed circle growing guide for valley")

// demoNames is every word by which the demo can be told: of its publisher and title, its
// stations, bands and places.
func demoNames(t *testing.T) []string {
	t.Helper()
	var out []string
	for name, columns := range map[string][]string{"guide": {"value"}, "stations": {"station", "name"}, "bands": {"band", "name"}, "places": {"place"}} {
		text, err := fs.ReadFile(data.FS, name+".csv")
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows[1:] {
			if name == "guide" && row[0] != "publisher" && row[0] != "title" {
				continue
			}
			for i, heading := range rows[0] {
				if !slices.Contains(columns, heading) {
					continue
				}
				for _, w := range strings.FieldsFunc(row[i], func(r rune) bool { return r == ' ' || r == '_' }) {
					if w = strings.ToLower(w); !slices.Contains(commonWords, w) {
						out = append(out, w)
					}
				}
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Nothing that speaks of the demo reaches the guide of anybody else, in any language: the
// texts that come with the program are the demo's own, but for the general ones.
func TestNoNameOfTheDemoInOtherGuides(t *testing.T) {
	names := demoNames(t)
	if len(names) != 8 { // ambrel harrowgap lanterrow millfoot quillet sumpney thessock vellick
		t.Errorf("the demo is told by %q: has a common word come in?", names)
	}
	dir := filepath.Join(t.TempDir(), "new")
	var out, messages bytes.Buffer
	if code := run([]string{"begin", dir}, &out, &messages); code != exitDone {
		t.Fatal(messages.String())
	}
	settings := filepath.Join(dir, "data", "guide.csv")
	text, err := os.ReadFile(settings)
	if err != nil {
		t.Fatal(err)
	}
	putText(t, settings, string(text)+"languages,en es\npdf,first_sheet\n")
	published(t, dir)
	files := filesBelow(t, filepath.Join(dir, "public"))
	for name, text := range files {
		lower := strings.ToLower(name + "\n" + string(text))
		for _, n := range names {
			if strings.Contains(lower, n) {
				t.Errorf("%s speaks of %q", name, n)
			}
		}
		if strings.Contains(lower, "mill box") || strings.Contains(lower, "three of us") {
			t.Errorf("%s has the demo's own words", name)
		}
	}
	for _, general := range []string{"how.html", "safety.html", "quality.html", "es/how.html", "crops/tomato.html", "covers/tunnel.html"} {
		if files[general] == nil {
			t.Errorf("the general text %s is missing", general)
		}
	}
	if !strings.Contains(string(files["how.html"]), "Four letters") {
		t.Error("how.html has lost its text")
	}
}
