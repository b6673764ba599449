package sitecheck

import (
	"bytes"
	"encoding/csv"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// paperOfEachKind is the smallest and the largest PDF of every kind, language and paper
// of a guide with its booklet, by kind and paper.
func paperOfEachKind(s *site) map[string][]string {
	kinds := map[string][]string{}
	for _, name := range sorted(s.files) {
		if path.Ext(name) == ".pdf" {
			kind := kindOfPDF(name) + paperEnd.FindString(name)
			kinds[kind] = append(kinds[kind], name)
		}
	}
	for kind, names := range kinds {
		slices.SortFunc(names, func(a, b string) int { return len(s.files[a]) - len(s.files[b]) })
		kinds[kind] = slices.Compact([]string{names[0], names[len(names)-1]})
	}
	return kinds
}

// TestEveryPaper: a PDF of every kind, the bound guide and the posters among them, is
// sound, of the size that its name says, tagged, in the language of its folder, with a
// title and with its type inside; and what is promised on one page of paper is on one.
func TestEveryPaper(t *testing.T) {
	proof.Need(t, "pdf")
	dir := bookletSite(t)
	kinds := paperOfEachKind(readSite(t, dir))
	several := []string{"guide.pdf", "tasks.pdf", "fall.pdf", "correction.pdf"} // lists that run on
	looked := 0
	for _, kind := range sorted(kinds) {
		for _, name := range kinds[kind] {
			looked++
			lang := "en"
			if strings.HasPrefix(name, "es/") {
				lang = "es"
			}
			for _, w := range pdfFaults(t, filepath.Join(dir, filepath.FromSlash(name)), lang) {
				if strings.HasSuffix(w, " 2 pages") && path.Base(kindOfPDF(name)) == "slips.pdf" {
					continue // both sides of one sheet, no more
				}
				if !strings.HasSuffix(w, " pages") || !slices.Contains(several, path.Base(kindOfPDF(name))) {
					t.Errorf("%s/%s", path.Dir(name), w)
				}
			}
		}
	}
	for _, kind := range []string{"guide.pdf", "es/guide.pdf", "poster.pdf-a3.pdf", "poster.pdf-tabloid.pdf", "bands/ID/report.pdf-a4.pdf", "es/bands/ID/tonight.pdf-letter.pdf"} {
		if len(kinds[kind]) == 0 {
			t.Errorf("no %s in %v", kind, sorted(kinds))
		}
	}
	t.Logf("%d kinds of paper, %d looked at", len(kinds), looked)
}

// calendarText is the parts of a calendar that people read; the rest is its format.
var calendarText = regexp.MustCompile(`(?m)^(?:SUMMARY|DESCRIPTION|CATEGORIES|X-WR-CALNAME|X-WR-CALDESC)[^:]*:(.*)$`)

// csvText is the cells of a table under its headings, without cells of one plain word:
// keys by which programs join rows are the same in every language.
func csvText(t *testing.T, name string, content []byte) string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(content)).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var text strings.Builder
	for _, row := range rows[1:] {
		for i, cell := range row {
			if heading := rows[0][i]; heading == "name" || heading == "causes" || strings.Contains(cell, " ") {
				text.WriteString(cell + "\n")
			}
		}
	}
	return text.String()
}

// TestSpanishPaperIsSpanish: what is printed in Spanish, and the lists, calendars and
// tables beside the pages, hold no English word either.
func TestSpanishPaperIsSpanish(t *testing.T) {
	proof.Need(t, "pdf")
	dir := bookletSite(t)
	s := readSite(t, dir)
	english := englishOnly(t)
	// Titles of sources and their publishers stay as they are; on pages they are marked so.
	for _, file := range []string{"data/builtin/sources.csv", "data/sources.csv"} {
		for _, heading := range []string{"title", "organisation", "address"} {
			for _, text := range column(t, file, heading) {
				for _, w := range words(text) {
					delete(english, w)
				}
			}
		}
	}
	texts := map[string]string{}
	for _, names := range paperOfEachKind(s) {
		for _, name := range names {
			if !strings.HasPrefix(name, "es/") || strings.Contains(name, "sheet-both") {
				continue
			}
			out, err := exec.Command("pdftotext", filepath.Join(dir, filepath.FromSlash(name)), "-").Output()
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			texts[name] = string(out)
		}
	}
	whole := parsedDemo(t) // one band alone would tell the others' names as those of bands that went
	for _, name := range sorted(whole.files) {
		if !strings.HasPrefix(name, "es/") {
			continue
		}
		switch path.Ext(name) {
		case ".ics":
			text := strings.ReplaceAll(string(whole.files[name]), "\r\n ", "") // lines are folded
			for _, m := range calendarText.FindAllStringSubmatch(text, -1) {
				texts[name] += m[1] + "\n"
			}
		case ".csv":
			texts[name] = csvText(t, name, whole.files[name])
		}
	}
	if len(texts) < 15 {
		t.Fatalf("only %d Spanish papers and lists: %v", len(texts), sorted(texts))
	}
	for _, name := range sorted(texts) {
		var found []string
		for _, w := range words(texts[name]) {
			if english[w] && !slices.Contains(found, w) {
				found = append(found, w)
			}
		}
		if len(found) > 0 {
			t.Errorf("%s holds %s", name, strings.Join(found, ", "))
		}
	}
	// And the test would tell: the English card is full of them.
	out, err := exec.Command("pdftotext", filepath.Join(dir, "bands", "vellick_heights", "tonight-a4.pdf"), "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, w := range words(string(out)) {
		if english[w] {
			n++
		}
	}
	if n < 50 {
		t.Errorf("only %d English words were found on an English card", n)
	}
}
