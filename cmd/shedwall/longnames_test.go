package main

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/publish"
	"shedwall/content"
	"shedwall/data"
	"shedwall/templates"
)

// longest is a name as long as a table may hold, of words as long as they may be, with
// letters as wide as they come.
func longest(i int) string {
	letters := strings.Repeat("wmaonereghklimwstuvdfbp", 4)
	word := func(n int) string { return strings.ToUpper(letters[i%20:i%20+1]) + letters[i%20+1:i%20+n] }
	return word(26) + " " + word(21)
}

// Names as long as check lets pass have room on every sheet, card, list and poster, in two
// languages too.
func TestLongestNamesPublish(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(filepath.Join(dir, "data"), data.FS); err != nil {
		t.Fatal(err)
	}
	write := func(name string, rows [][]string) {
		var b strings.Builder
		if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		putText(t, filepath.Join(dir, name), b.String())
	}
	for _, table := range []string{"crops", "covers", "pots", "structures"} {
		builtin := readRows(t, "../../data/builtin/"+table+".csv")
		own := [][]string{{builtin[0][0], "name"}}
		for i, r := range builtin[1:] {
			own = append(own, []string{r[0], longest(i)})
		}
		write("data/"+table+".csv", own)
	}
	for _, table := range []string{"bands", "stations"} {
		own := readRows(t, "../../data/"+table+".csv")
		for i, r := range own[1:] {
			r[1] = longest(i)
		}
		write("data/"+table+".csv", own)
	}
	g, err := publish.Load(os.DirFS(dir), folders{"data": data.FS, "content": content.FS, "templates": templates.FS})
	if err != nil || g.Faults.HasErrors() {
		t.Fatal(err, g.Faults.Sorted())
	}
	g.Booklet = true
	if _, err := g.Publish(filepath.Join(t.TempDir(), "site"), nil); err != nil {
		t.Error(err)
	}
}
