package content

import (
	"encoding/csv"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"

	"shedwall/data"
)

// rowsOf is the ids in the first column of a table.
func rowsOf(t *testing.T, table string) map[string]bool {
	t.Helper()
	f, err := data.FS.Open(table)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]bool{}
	for _, row := range all[1:] {
		ids[row[0]] = true
	}
	return ids
}

// TestTextsBelongToRows: a text in a sub-folder is about a row of a table, and
// every demo band has one.
func TestTextsBelongToRows(t *testing.T) {
	tables := map[string]string{"bands": "bands.csv", "covers": "builtin/covers.csv", "crops": "builtin/crops.csv"}
	for _, name := range names(t, FS) {
		folder := strings.TrimPrefix(strings.TrimPrefix(path.Dir(name), "es"), "/")
		if folder == "" {
			continue
		}
		if folder == "." || folder == "images" || folder == "stories" {
			continue
		}
		if id := strings.TrimSuffix(path.Base(name), ".md"); !rowsOf(t, tables[folder])[id] {
			t.Errorf("%s: no row %q in %s", name, id, tables[folder])
		}
	}
	for id := range rowsOf(t, "bands.csv") {
		if _, err := fs.Stat(FS, "bands/"+id+".md"); err != nil {
			t.Errorf("band %s has no text", id)
		}
	}
}

// TestTextsArePlainMarkdown: the first line is the title, no raw HTML, and links
// inside the folder lead somewhere.
func TestTextsArePlainMarkdown(t *testing.T) {
	link := regexp.MustCompile(`\]\(([^)]*)\)`)
	for _, name := range names(t, FS) {
		if path.Dir(name) == "images" {
			continue
		}
		text, err := fs.ReadFile(FS, name)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(string(text), "# ") || strings.Count("\n"+string(text), "\n# ") != 1 {
			t.Errorf("%s: the first line is the title, and there is one", name)
		}
		if strings.ContainsAny(string(text), "<{") {
			t.Errorf("%s: raw HTML or a template mark", name)
		}
		for _, m := range link.FindAllStringSubmatch(string(text), -1) {
			if target := path.Join(path.Dir(name), m[1]); !strings.Contains(m[1], ":") {
				if _, err := fs.Stat(FS, target); err != nil {
					t.Errorf("%s: the link %q leads nowhere", name, m[1])
				}
			}
		}
	}
}
