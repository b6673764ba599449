package sitecheck

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// needPDFCPU goes on where pdfcpu is installed. It is asked for apart from the other PDF
// tools: Debian has no package of it, and the rest can be proved without.
func needPDFCPU(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("pdfcpu"); err != nil {
		proof.Absent(t, "pdf", "pdfcpu not found (.ci/run installs it)")
	}
	proof.Ran(t, "pdf")
}

// refused is what pdfcpu has against files, all given to one process, and how many it
// took. It judges each object by what the standard asks of its kind; qpdf looks at the
// file's build alone. What it mends in silence of its exit code counts too. No settings of the machine's are read and no host is asked.
func refused(files []string) (wrong []string, sound int) {
	out, code := run("pdfcpu", ".", nil, append([]string{"validate", "--conf", "disable", "--offline"}, files...)...)
	for line := range strings.Lines(out) {
		switch line = strings.TrimSpace(line); {
		case line == "validation ok":
			sound++
		case line != "" && !strings.HasPrefix(line, "validating("):
			wrong = append(wrong, line)
		}
	}
	if code != 0 && len(wrong) == 0 {
		wrong = append(wrong, "pdfcpu ended badly and said nothing")
	}
	return wrong, sound
}

// TestSecondReaderTakesEveryPaper: the smallest and the largest PDF of every kind,
// language and paper pass a second checker, written by others than the first.
func TestSecondReaderTakesEveryPaper(t *testing.T) {
	needPDFCPU(t)
	dir := bookletSite(t)
	kinds := paperOfEachKind(readSite(t, dir))
	var files []string
	for _, kind := range sorted(kinds) {
		for _, name := range kinds[kind] {
			files = append(files, filepath.Join(dir, filepath.FromSlash(name)))
		}
	}
	wrong, sound := refused(files)
	report(t, wrong)
	if sound != len(files) || len(kinds) < 20 {
		t.Errorf("%d of %d files of %d kinds pass", sound, len(files), len(kinds))
	}
	t.Logf("%d files of %d kinds pass", sound, len(kinds))
}

// TestSecondReaderSeesFaults: a sound file passes; what is told of one cut in half, which
// pdfcpu mends and lets pass, and of one whose page lacks what every page must have,
// which qpdf lets pass, are faults.
func TestSecondReaderSeesFaults(t *testing.T) {
	needPDFCPU(t)
	const (
		catalog = "<< /Type /Catalog /Pages 2 0 R >>"
		pages   = "<< /Type /Pages /Kids [3 0 R] /Count 1 >>"
	)
	sound := handPDF(catalog, pages, "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 500 792] /Resources << >> >>")
	for name, c := range map[string]struct {
		content []byte
		want    string
	}{
		"sound.pdf": {sound, ""},
		"half.pdf":  {sound[:len(sound)/2], "pdfcpu repaired: catalog"},
		"bare.pdf":  {handPDF(catalog, pages, "<< /Type /Page /Parent 2 0 R /Resources << >> >>"), "required entry=MediaBox missing"},
	} {
		file := filepath.Join(t.TempDir(), name)
		writeFile(t, file, c.content)
		wrong, _ := refused([]string{file})
		if said := strings.Join(wrong, "\n"); c.want == "" && said != "" || !strings.Contains(said, c.want) {
			t.Errorf("%s: said %q, want %q", name, said, c.want)
		}
	}
}
