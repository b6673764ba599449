package sitecheck

import (
	"os/exec"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// TestBegunSaysSoEverywhere: a guide that was just begun publishes, and every page, and
// every page of paper that stands alone, says that its dates are made up: a sheet pinned
// up outlasts the page that it came from.
func TestBegunSaysSoEverywhere(t *testing.T) {
	proof.Need(t, "pdf")
	program, err := program()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if out, code := run(program, dir, nil, "begin", "new"); code != 0 {
		t.Fatalf("begin: exit %d\n%s", code, out)
	}
	if out, code := run(program, dir, nil, "publish", "--guide", "new", "--booklet"); code != 0 {
		t.Fatalf("publish: exit %d\n%s", code, out)
	}
	site := filepath.Join(dir, "new", "public")
	s := readSite(t, site)
	const warning = "Not your dates yet"
	for _, p := range s.pages {
		if !strings.Contains(wordsOf(p.root), warning) {
			t.Errorf("%s does not say %q", p.path, warning)
		}
	}
	papers := 0
	for _, name := range sorted(s.files) {
		if path.Ext(name) != ".pdf" {
			continue
		}
		papers++
		out, err := exec.Command("pdftotext", "-l", "3", filepath.Join(site, filepath.FromSlash(name)), "-").Output()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if !strings.Contains(squeezed(string(out)), squeezed(warning)) {
			t.Errorf("%s does not say %q", name, warning)
		}
	}
	if papers < 20 {
		t.Errorf("only %d PDFs", papers)
	}
}
