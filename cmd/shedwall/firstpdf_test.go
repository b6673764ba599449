package main

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The setting pdf = first_sheet leaves of all PDFs the first wall sheet of each band, on
// both papers; the pages of all others are there, and no page leads to a PDF that is not.
func TestFirstSheetOnly(t *testing.T) {
	for _, c := range []struct {
		setting string
		others  bool
	}{{"pdf,first_sheet\n", false}, {"pdf,all\n", true}} {
		files := map[string]string{"data/guide.csv": smallGuide + c.setting}
		for name, text := range scriptGuide {
			if name != "guide.csv" {
				files["data/"+name] = text
			}
		}
		dir := tableGuide(t, files)
		published(t, dir)
		site := os.DirFS(filepath.Join(dir, "public"))
		var pdfs []string
		toPDF := regexp.MustCompile(`href="([^"]*\.pdf)"|\]\(([^)]*\.pdf)\)`)
		links := 0
		err := fs.WalkDir(site, ".", func(p string, d fs.DirEntry, err error) error {
			switch path.Ext(p) {
			case ".pdf":
				pdfs = append(pdfs, p)
			case ".html", ".md":
				text, err := fs.ReadFile(site, p)
				if err != nil {
					return err
				}
				for _, m := range toPDF.FindAllStringSubmatch(string(text), -1) {
					links++
					if _, err := fs.Stat(site, path.Join(path.Dir(p), m[1]+m[2])); err != nil {
						t.Errorf("%q: %s leads to %s: %v", c.setting, p, m[1]+m[2], err)
					}
				}
			}
			return err
		})
		if err != nil || links == 0 {
			t.Fatalf("%q: %d links to PDFs, %v", c.setting, links, err)
		}
		first := []string{"bands/slopes/sheet-a4.pdf", "bands/slopes/sheet-letter.pdf"}
		if !c.others && !slices.Equal(pdfs, first) {
			t.Errorf("%q: made %v", c.setting, pdfs)
		}
		if c.others && (len(pdfs) <= len(first) || !slices.Contains(pdfs, "bands/slopes/tonight-a4.pdf")) {
			t.Errorf("%q: made only %v", c.setting, pdfs)
		}
		for _, page := range []string{"sheet.html", "sheet-2.html", "tonight.html", "tasks.html", "report.html"} {
			if _, err := fs.Stat(site, "bands/slopes/"+page); err != nil {
				t.Errorf("%q: %v", c.setting, err)
			}
		}
		text, err := fs.ReadFile(site, "bands/slopes/index.html")
		if got := strings.Contains(string(text), "print its page"); err != nil || got == c.others {
			t.Errorf("%q: the band's page says to print the other sheets' pages: %v, %v", c.setting, got, err)
		}
	}
}
