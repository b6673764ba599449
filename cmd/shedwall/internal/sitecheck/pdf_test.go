package sitecheck

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// papers are the sizes in points (1/72 inch) by the end of a file's name: US Letter
// 8.5 x 11 in; ISO 216 A4 210 x 297 mm and A3 297 x 420 mm; Tabloid 11 x 17 in.
var papers = map[string][2]float64{
	"-letter.pdf":  {612, 792},
	"-a4.pdf":      {595.276, 841.890},
	"-a3.pdf":      {841.890, 1190.551},
	"-tabloid.pdf": {792, 1224},
}

// pdfFaults looks at one wall sheet: sound, one page of the right size, tagged, with
// title and language, every font inside.
func pdfFaults(t *testing.T, file, lang string) (wrong []string) {
	t.Helper()
	say := func(format string, args ...any) {
		wrong = append(wrong, path.Base(filepath.ToSlash(file))+": "+fmt.Sprintf(format, args...))
	}
	if out, code := run("qpdf", ".", nil, "--check", file); code != 0 {
		say("qpdf --check: exit %d: %s", code, lastLine(out))
		return wrong
	}

	info := map[string]string{}
	out, _ := run("pdfinfo", ".", nil, file)
	for line := range strings.Lines(out) {
		key, value, _ := strings.Cut(line, ":")
		info[key] = strings.TrimSpace(value)
	}
	if info["Title"] == "" {
		say("no title")
	}
	if info["Tagged"] != "yes" {
		say("not tagged")
	}
	if info["Pages"] != "1" {
		say("%s pages", info["Pages"])
	}
	for end, want := range papers {
		if !strings.HasSuffix(file, end) {
			continue
		}
		var width, height float64
		if _, err := fmt.Sscanf(info["Page size"], "%f x %f", &width, &height); err != nil {
			say("page size %q: %v", info["Page size"], err)
		}
		const slack = 0.5 // point; pdfinfo and writers round
		if math.Abs(width-want[0]) > slack || math.Abs(height-want[1]) > slack {
			say("page size %g x %g, want %g x %g", width, height, want[0], want[1])
		}
	}

	wrong = append(wrong, fontFaults(file)...)

	catalog, err := pdfCatalog(file)
	if err != nil {
		say("%v", err)
		return wrong
	}
	if got := strings.TrimPrefix(catalog.Lang, "u:"); got != lang {
		say("language %q, want that of the page, %q", got, lang)
	}
	if !catalog.MarkInfo.Marked || catalog.StructTreeRoot == nil {
		say("the catalog does not say that it is tagged")
	}
	if !catalog.ViewerPreferences.DisplayDocTitle {
		say("a viewer would show the file's name instead of its title")
	}
	return wrong
}

// fontFaults finds fonts that are not inside the file, or that do not say which
// letters they draw, so that text could not be copied or read aloud.
func fontFaults(file string) (wrong []string) {
	out, code := run("pdffonts", ".", nil, file)
	lines := strings.Split(strings.TrimSpace(out), "\n")
	const head = 2
	if code != 0 || len(lines) <= head {
		return []string{fmt.Sprintf("%s: no font: a sheet without text? %s", filepath.Base(file), lastLine(out))}
	}
	for _, line := range lines[head:] {
		f := strings.Fields(line) // name, type, encoding, embedded, subset, Unicode, object, generation
		n := len(f)
		if n < 6 || f[n-5] != "yes" || f[n-4] != "yes" || f[n-3] != "yes" {
			wrong = append(wrong, fmt.Sprintf("%s: font not embedded, not cut to its letters, or without letters: %s", filepath.Base(file), strings.Join(f, " ")))
		}
	}
	return wrong
}

// catalog is the part of a PDF's catalog that readers' software goes by.
type catalog struct {
	Lang     string `json:"/Lang"`
	MarkInfo struct {
		Marked bool `json:"/Marked"`
	} `json:"/MarkInfo"`
	StructTreeRoot    any `json:"/StructTreeRoot"`
	ViewerPreferences struct {
		DisplayDocTitle bool `json:"/DisplayDocTitle"`
	} `json:"/ViewerPreferences"`
}

// pdfCatalog reads the catalog with qpdf, which opens compressed objects too.
func pdfCatalog(file string) (catalog, error) {
	var c catalog
	out, err := exec.Command("qpdf", "--json=2", "--json-key=qpdf", file).Output()
	if err != nil {
		return c, fmt.Errorf("qpdf --json: %w", err)
	}
	var all struct{ QPDF []map[string]json.RawMessage }
	if err := json.Unmarshal(out, &all); err != nil {
		return c, err
	}
	if len(all.QPDF) < 2 {
		return c, fmt.Errorf("qpdf --json told nothing")
	}
	var trailer struct {
		Value struct {
			Root string `json:"/Root"`
		}
	}
	if err := json.Unmarshal(all.QPDF[1]["trailer"], &trailer); err != nil {
		return c, err
	}
	var root struct{ Value catalog }
	err = json.Unmarshal(all.QPDF[1]["obj:"+trailer.Value.Root], &root)
	return root.Value, err
}

func lastLine(out string) string {
	lines := strings.Split(strings.TrimSpace(out), "\n")
	return lines[len(lines)-1]
}

// bandIndex is the page of a band, in either language.
var bandIndex = regexp.MustCompile(`^(es/)?bands/[^/]+/index\.html$`)

func TestDemoSheets(t *testing.T) {
	proof.Need(t, "pdf")
	dir := demoSite(t)
	s := readSite(t, dir)
	sheets, leaves, looked := 0, 0, 0
	ends := map[string][]string{} // of each kind and paper, by size
	for _, name := range sorted(s.files) {
		switch {
		case path.Ext(name) != ".pdf":
			continue
		case isSheet(name):
			sheets++
		case isLeaf(name):
			leaves++
		default:
			continue
		}
		stem := name
		for end := range papers {
			stem = strings.TrimSuffix(stem, end)
		}
		if s.page(stem+".html") == nil {
			t.Errorf("%s: no page beside it", name)
			continue
		}
		kind := kindOfPDF(name) + paperEnd.FindString(name)
		ends[kind] = append(ends[kind], name)
	}
	for _, kind := range sorted(ends) {
		names := ends[kind]
		slices.SortFunc(names, func(a, b string) int { return len(s.files[a]) - len(s.files[b]) })
		for _, name := range slices.Compact([]string{names[0], names[len(names)-1]}) {
			looked++
			lang, _ := attr(s.page(paperEnd.ReplaceAllString(name, ".html")).elements("html")[0], "lang")
			for _, w := range pdfFaults(t, filepath.Join(dir, filepath.FromSlash(name)), lang) {
				t.Errorf("%s/%s", path.Dir(name), w)
			}
		}
	}
	bands := 0
	for _, p := range s.pages {
		if bandIndex.MatchString(p.path) {
			bands++
		}
	}
	if sheets == 0 || leaves != 4*bands || looked < 8 { // a card and a worksheet a band, on two papers
		t.Errorf("%d sheets, %d leaves of %d bands, %d looked at", sheets, leaves, bands, looked)
	}
	t.Logf("%d sheets, %d leaves, %d looked at", sheets, leaves, looked)
}

// TestPDFSeesFaults writes two poor PDFs by hand and shows that the checks find it.
func TestPDFSeesFaults(t *testing.T) {
	proof.Need(t, "pdf")
	const page = "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 500 792] /Resources << /Font << /F 5 0 R >> >> /Contents 6 0 R >>"
	poor := handPDF(
		"<< /Type /Catalog /Pages 2 0 R >>",
		"<< /Type /Pages /Kids [3 0 R 4 0 R] /Count 2 >>",
		page, page,
		"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
		"<< /Length 35 >>\nstream\nBT /F 12 Tf 72 700 Td (Kale) Tj ET \nendstream",
	)
	for name, c := range map[string]struct {
		content []byte
		want    []string
	}{
		"sheet-letter.pdf": {poor, []string{
			"sheet-letter.pdf: no title",
			"sheet-letter.pdf: not tagged",
			"sheet-letter.pdf: 2 pages",
			"sheet-letter.pdf: page size 500 x 792, want 612 x 792",
			"sheet-letter.pdf: font not embedded",
			`sheet-letter.pdf: language "", want that of the page, "en"`,
			"sheet-letter.pdf: the catalog does not say that it is tagged",
			"sheet-letter.pdf: a viewer would show the file's name instead of its title",
		}},
		"sheet-a4.pdf": {poor[:len(poor)/2], []string{"sheet-a4.pdf: qpdf --check: exit "}},
	} {
		file := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(file, c.content, 0o644); err != nil {
			t.Fatal(err)
		}
		got := pdfFaults(t, file, "en")
		if len(got) != len(c.want) {
			t.Errorf("%s: found\n\t%s", name, strings.Join(got, "\n\t"))
			continue
		}
		for i, want := range c.want {
			if !strings.HasPrefix(got[i], want) {
				t.Errorf("%s: %q, want %q", name, got[i], want)
			}
		}
	}
}

// handPDF puts objects, the first of them the catalog, into a PDF file.
func handPDF(objects ...string) []byte {
	var b strings.Builder
	b.WriteString("%PDF-1.4\n")
	index := fmt.Sprintf("xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for i, object := range objects {
		index += fmt.Sprintf("%010d 00000 n \n", b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, object)
	}
	start := b.Len()
	fmt.Fprintf(&b, "%strailer\n<< /Root 1 0 R /Size %d >>\nstartxref\n%d\n%%%%EOF\n", index, len(objects)+1, start)
	return []byte(b.String())
}
