package main

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// TestThirdLanguage: a column of words.csv, of a language that the program brings no word
// of, makes a whole third language: its pages, sheets and tables stand beside the
// others, and a phrase left out shows as its key.
func TestThirdLanguage(t *testing.T) {
	f, err := os.Open(filepath.Join(proof.Root(t), "data", "builtin", "words.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var column bytes.Buffer
	w := csv.NewWriter(&column)
	_ = w.Write([]string{"key", "pt", "review_pt"})
	left := 0
	for _, r := range rows[1:] {
		text := strings.ReplaceAll(r[3], "ción", "ção") // as far as the test goes, that is Portuguese
		switch {
		case r[0] == "language.name":
			text = "Português"
		case strings.HasPrefix(r[0], "quality."):
			left++
			continue
		}
		if text != "" {
			_ = w.Write([]string{r[0], text, "unreviewed"})
		}
	}
	w.Flush()
	dir := tableGuide(t, map[string]string{
		"data/guide.csv":    smallGuide + "languages,en es pt\n",
		"data/stations.csv": "station,name,latitude,longitude,elevation_m,position\nmill,Mill,44.2,-38.1,410,slope\n",
		"data/bands.csv":    "band,name,low_m,high_m,position\nlow,Low Slopes,350,500,slope\n",
		"data/freeze.csv":   "station,event,below_c,odds_percent,date\nmill,last,0,50,05-18\nmill,first,0,50,09-28\n",
		"data/words.csv":    column.String(),
	})
	file := published(t, dir)
	crop := file("pt/crops/tomato.html")
	for _, want := range []string{`<html lang="pt">`, "<h1>Tomate</h1>",
		`href="../../crops/tomato.html" lang="en"`, `href="../../es/crops/tomato.html" lang="es"`} {
		if !strings.Contains(crop, want) {
			t.Errorf("pt/crops/tomato.html lacks %s", want)
		}
	}
	if crop := file("crops/tomato.html"); !strings.Contains(crop, `href="../pt/crops/tomato.html" lang="pt" hreflang="pt" rel="alternate">Português<`) {
		t.Error("the English page does not lead to the third language")
	}
	if quality := file("pt/quality.html"); left == 0 || !strings.Contains(quality, "[quality.title]") {
		t.Error("a phrase that was left out does not show as its key")
	}
	for _, name := range []string{"pt/bands/low/sheet.html", "pt/bands/low/sheet-a4.pdf", "pt/bands/low/calendar.csv", "pt/crops/tomato.md", "es/bands/low/sheet.html"} {
		if len(file(name)) == 0 {
			t.Errorf("%s is empty", name)
		}
	}
	if !strings.Contains(file("pt/bands/low/calendar.csv"), "Tomate") {
		t.Error("the table of dates is not in the third language")
	}
}
