package sitecheck

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"shedwall/cmd/shedwall/internal/proof"
)

// printsWhole looks at sheets as a browser printed them: every word of the drawing is on
// the paper, and none reaches into the strip that printers leave blank.
func printsWhole(t *testing.T, s *site, prints string) {
	t.Helper()
	proof.Need(t, "pdf")
	names, err := filepath.Glob(filepath.Join(prints, "*.pdf"))
	if err != nil || len(names) < 8 { // two sizes of two kinds, at least, on two papers
		t.Fatalf("%d printed sheets, %v", len(names), err)
	}
	for _, name := range names {
		base := strings.TrimSuffix(filepath.Base(name), ".pdf")
		page, _, _ := strings.Cut(strings.ReplaceAll(base, "+", "/"), ".html.")
		p := s.page(page + ".html")
		if p == nil {
			t.Errorf("%s: printed, but no page", base)
			continue
		}
		words, edge := printedWords(t, name)
		const blank = 4.0 // mm: a quarter of an inch less what a printer's grip may shift
		if edge < blank {
			t.Errorf("%s: a word stands %.1f mm from the edge of the paper", base, edge)
		}
		for _, n := range p.elements("text") {
			if w := squeezed(wordsOf(n)); n.Namespace == "svg" && w != "" && !strings.Contains(words, w) {
				t.Errorf("%s: %q is not on the paper", base, wordsOf(n))
			}
		}
	}
	t.Logf("%d printed sheets", len(names))
}

var (
	wordBox = regexp.MustCompile(`<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)</word>`)
	pageBox = regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)">`)
)

// printedWords is the letters of a PDF in its own order, and how near to an edge of the
// paper any word comes, in mm.
func printedWords(t *testing.T, file string) (string, float64) {
	t.Helper()
	out := filepath.Join(t.TempDir(), "words.html")
	if said, err := exec.Command("pdftotext", "-bbox", file, out).CombinedOutput(); err != nil {
		t.Fatalf("%s: %v %s", file, err, said)
	}
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	size := pageBox.FindStringSubmatch(string(data))
	if size == nil {
		t.Fatalf("%s: no page", file)
	}
	wide, high := number(size[1]), number(size[2])
	edge := math.Inf(1)
	var text strings.Builder
	for _, m := range wordBox.FindAllStringSubmatch(string(data), -1) {
		edge = min(edge, number(m[1]), number(m[2]), wide-number(m[3]), high-number(m[4]))
		text.WriteString(squeezed(html.UnescapeString(m[5])))
	}
	const point = 25.4 / 72
	return text.String(), edge * point
}
