package render

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

func papersOf(c sheetCase) []Paper {
	if c.name == "45 rows" {
		return []Paper{A3, Tabloid}
	}
	return []Paper{Letter, A4}
}

// TestSheetPDFSame: the same sheet gives the same bytes, alone and beside others.
func TestSheetPDFSame(t *testing.T) {
	cases := sheetCases()
	want := make([][]byte, len(cases))
	for i, c := range cases {
		var err error
		if want[i], err = SheetPDF(c.sheet, papersOf(c)[0]); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
	}
	var all sync.WaitGroup
	for range 2 {
		for i, c := range cases {
			all.Go(func() {
				got, err := SheetPDF(c.sheet, papersOf(c)[0])
				if err != nil || !bytes.Equal(got, want[i]) {
					t.Errorf("%s: other bytes the second time (%v)", c.name, err)
				}
			})
		}
	}
	all.Wait()
}

// TestPDFIsBlack: no operator sets a colour, and so everything is black; artifacts
// open with BMC, for which no properties are needed (BDC needs some: ISO 32000-1, 14.6).
func TestPDFIsBlack(t *testing.T) {
	s := slopes()
	d := mustLayout(t, s, A4.area())
	c := newPDF(A4, pdfFacts{title: s.Title(), lang: s.Lang})
	d.marksTo(c)
	c.unmark()
	stream := string(c.out)
	if m := regexp.MustCompile(`(?m)\s(g|G|rg|RG|k|K|sc|SC|scn|SCN|cs|CS|gs|sh|Do)$`).FindString(stream); m != "" {
		t.Errorf("the operator%s", m)
	}
	if strings.Contains(stream, "/Artifact BDC") || !strings.Contains(stream, "/Artifact BMC") {
		t.Error("artifacts open in the wrong way")
	}
	if open, shut := strings.Count(stream, "BMC")+strings.Count(stream, "BDC"), strings.Count(stream, "EMC"); open != shut {
		t.Errorf("%d pieces of marked content begin and %d end", open, shut)
	}
}

func TestSheetPDFDate(t *testing.T) {
	s := slopes()
	s.Dated = "1 February 2026"
	if _, err := SheetPDF(s, A4); err == nil {
		t.Error("a date that is not year-month-day was taken")
	}
}

// tool runs a program on a sheet written to a file.
func tool(t *testing.T, pdf []byte, name string, args ...string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(file, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		if a == "FILE" {
			args[i] = file
		}
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// TestSheetPDFTools asks programs of others: qpdf finds no error, and pdfinfo one
// tagged page of the right size with its fonts inside. Sizes in points of 1/72 inch:
// Letter 8.5 x 11 in, A4 210 x 297 mm, A3 297 x 420 mm, Tabloid 11 x 17 in.
func TestSheetPDFTools(t *testing.T) {
	proof.Need(t, "pdf")
	sizes := map[string]string{"letter": "612 x 792 pts", "a4": "595.28 x 841.89 pts", "a3": "841.89 x 1190.55 pts", "tabloid": "792 x 1224 pts"}
	for _, c := range sheetCases() {
		for _, p := range papersOf(c) {
			c.sheet.Dated = "2026-02-01"
			pdf, err := SheetPDF(c.sheet, p)
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			if out := tool(t, pdf, "qpdf", "--check", "FILE"); !strings.Contains(out, "No syntax or stream encoding errors found") || strings.Contains(out, "WARNING") {
				t.Errorf("%s, %s: %s", c.name, p.Name, out)
			}
			info := tool(t, pdf, "pdfinfo", "FILE")
			for _, want := range []string{
				`Title: +` + regexp.QuoteMeta(c.sheet.Title()) + `\n`, `Tagged: +yes`, `Pages: +1\n`, `Suspects: +no`,
				`Page size: +` + regexp.QuoteMeta(sizes[p.Name]), `CreationDate: +Sun Feb +1 00:00:00 2026`, `Metadata Stream: +yes`,
			} {
				if !regexp.MustCompile(want).MatchString(info) {
					t.Errorf("%s, %s: no %s in\n%s", c.name, p.Name, want, info)
				}
			}
			for _, line := range strings.Split(strings.TrimSpace(tool(t, pdf, "pdffonts", "FILE")), "\n")[2:] {
				if !regexp.MustCompile(`^[A-Z]{6}\+Go.* yes yes yes `).MatchString(line) {
					t.Errorf("%s, %s: font not embedded, cut down and readable: %s", c.name, p.Name, line)
				}
			}
		}
	}
}

// TestSheetPDFText reads the text back in the order of the page: heading, rows by
// code, keys, foot.
func TestSheetPDFText(t *testing.T) {
	proof.Need(t, "pdf")
	s := slopes()
	pdf, err := SheetPDF(s, Letter)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(tool(t, pdf, "pdftotext", "-raw", "FILE", "-")), " ")
	want := []string{s.Band, s.Name, s.Where, s.Lead[0], s.Lead[1], s.Marks[0].Label, s.Marks[1].Label}
	for _, r := range s.Rows {
		want = append(want, r.Code+" "+r.Name, r.Dates)
		if r.Covered != "" {
			want = append(want, r.Covered)
		}
	}
	want = append(want, s.KeyTitle, "sow inside", s.CoverKeyTitle, "low tunnel")
	want = append(want, s.Foot...)
	rest := text
	for _, w := range want {
		_, after, ok := strings.Cut(rest, w)
		if !ok {
			t.Fatalf("%q is not in the text after what came before it: %.200s", w, rest)
		}
		rest = after
	}
}

// TestSheetPDFStructure walks the structure tree as qpdf reads it.
func TestSheetPDFStructure(t *testing.T) {
	proof.Need(t, "pdf")
	s := slopes()
	s.Lang = "es-MX"
	pdf, err := SheetPDF(s, A4)
	if err != nil {
		t.Fatal(err)
	}
	file := readPDF(t, pdf)
	root := file.get(file.trailer, "/Root")
	if root["/Lang"] != "u:es-MX" {
		t.Errorf("the language is %v", root["/Lang"])
	}
	if id := file.list(file.trailer, "/ID"); len(id) != 2 {
		t.Errorf("the file's own id: %v", id)
	}
	if file.get(root, "/MarkInfo")["/Marked"] != true || file.get(root, "/ViewerPreferences")["/DisplayDocTitle"] != true {
		t.Error("not marked as tagged, or the title is not shown")
	}
	pages := file.list(file.get(root, "/Pages"), "/Kids")
	pg := file.dict(pages[0])
	if len(pages) != 1 || pg["/Tabs"] != "/S" || pg["/StructParents"] != float64(0) {
		t.Errorf("the page: %v", pg)
	}

	tree := file.get(root, "/StructTreeRoot")
	top := file.list(tree, "/K")
	if len(top) != 1 {
		t.Fatalf("%d elements at the top", len(top))
	}
	document := file.dict(top[0])
	got := file.outline(document, 1)
	want := []string{"H1"}
	for range 3 + len(s.Lead) + len(s.Marks) { // name, place, edition
		want = append(want, "P")
	}
	want = append(want, "Table")
	for range 2 + len(s.Key) + len(s.CoverKey) + len(s.Foot) {
		want = append(want, "P")
	}
	if document["/S"] != "/Document" || !slices.Equal(got, want) {
		t.Errorf("%v: %v, want %v", document["/S"], got, want)
	}

	var table map[string]any
	for _, k := range file.list(document, "/K") {
		if d := file.dict(k); d["/S"] == "/Table" {
			table = d
		}
	}
	parts := file.list(table, "/K")
	if got := file.outline(table, 3); got[0] != "THead>TR>TH" || len(parts) != 2 {
		t.Errorf("table: %v", got)
	}
	for _, th := range file.list(file.dict(file.list(file.dict(parts[0]), "/K")[0]), "/K") {
		if a := file.get(file.dict(th), "/A"); a["/Scope"] != "/Column" || a["/O"] != "/Table" {
			t.Errorf("heading cell %v", a)
		}
	}
	rows := file.list(file.dict(parts[1]), "/K")
	if len(rows) != len(s.Rows) {
		t.Fatalf("%d rows, want %d", len(rows), len(s.Rows))
	}
	for i, r := range rows {
		cells := file.list(file.dict(r), "/K")
		if got, want := file.outline(file.dict(r), 2), []string{"TD", "TH", "TD", "TD>Figure"}; !slices.Equal(got, want) {
			t.Fatalf("row %d: %v, want %v", i, got, want)
		}
		if a := file.get(file.dict(cells[1]), "/A"); a["/Scope"] != "/Row" {
			t.Errorf("row %d: the name is not the row's heading: %v", i, a)
		}
		figure := file.dict(file.list(file.dict(cells[3]), "/K")[0])
		if figure["/Alt"] != "u:"+s.Rows[i].Sentence {
			t.Errorf("row %d says %v, want %q", i, figure["/Alt"], s.Rows[i].Sentence)
		}
		if box := file.list(file.get(figure, "/A"), "/BBox"); len(box) != 4 {
			t.Errorf("row %d: its figure has the box %v", i, box)
		}
	}

	// Each piece of marked content belongs to the element that lists it.
	nums := file.list(file.get(tree, "/ParentTree"), "/Nums")
	owners, _ := file.value(nums[1]).([]any)
	if len(owners) == 0 {
		t.Fatal("no way from marked content to the tree")
	}
	for id, owner := range owners {
		if !slices.Contains(file.list(file.dict(owner), "/K"), any(float64(id))) {
			t.Errorf("marked content %d is not in the element said to hold it", id)
		}
	}
	text := tool(t, pdf, "pdfinfo", "-struct-text", "FILE")
	for _, r := range s.Rows {
		for _, cell := range []string{r.Code, r.Name, strings.TrimSpace(r.Dates + " " + r.Covered)} {
			if !strings.Contains(text, `"`+cell+`"`+"\n") {
				t.Errorf("no cell holds %q", cell)
			}
		}
	}
	if outline := file.get(root, "/Outlines"); outline["/Count"] != float64(1+len(s.Rows)) {
		t.Errorf("outline: %v", outline)
	}
}

// pdfFile is a PDF as qpdf tells it in JSON: objects by "obj:7 0 R", text strings
// with "u:" before them.
type pdfFile struct {
	objects map[string]struct{ Value any }
	trailer map[string]any
}

func readPDF(t *testing.T, pdf []byte) pdfFile {
	t.Helper()
	var out struct {
		QPDF []json.RawMessage
	}
	if err := json.Unmarshal([]byte(tool(t, pdf, "qpdf", "--json=2", "--json-key=qpdf", "FILE")), &out); err != nil {
		t.Fatal(err)
	}
	f := pdfFile{}
	if err := json.Unmarshal(out.QPDF[1], &f.objects); err != nil {
		t.Fatal(err)
	}
	f.trailer, _ = f.objects["trailer"].Value.(map[string]any)
	return f
}

// value follows a reference.
func (f pdfFile) value(v any) any {
	if s, ok := v.(string); ok {
		if o, ok := f.objects["obj:"+s]; ok {
			return o.Value
		}
	}
	return v
}

func (f pdfFile) dict(v any) map[string]any {
	d, _ := f.value(v).(map[string]any)
	return d
}

func (f pdfFile) get(d map[string]any, key string) map[string]any { return f.dict(d[key]) }

func (f pdfFile) list(d map[string]any, key string) []any {
	l, _ := f.value(d[key]).([]any)
	return l
}

// outline names the elements under d, each with its first child down to depth.
func (f pdfFile) outline(d map[string]any, depth int) []string {
	var out []string
	for _, k := range f.list(d, "/K") {
		kid := f.dict(k)
		if kid == nil {
			continue // a piece of marked content
		}
		name := strings.TrimPrefix(fmt.Sprint(kid["/S"]), "/")
		if depth > 1 {
			if below := f.outline(kid, depth-1); len(below) > 0 {
				name += ">" + below[0]
			}
		}
		out = append(out, name)
	}
	return out
}

// TestOnePlaceForPDF: the PDF library is imported by one file and no other.
func TestOnePlaceForPDF(t *testing.T) {
	root := filepath.Join(proof.Root(t), "cmd")
	var users []string
	err := filepath.WalkDir(root, func(path string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		src, err := os.ReadFile(path)
		if err == nil && bytes.Contains(src, []byte(`"github.com/carlos7ags/folio`)) {
			users = append(users, filepath.Base(path))
		}
		return err
	})
	if want := []string{"pdf_font.go"}; err != nil || !slices.Equal(users, want) {
		t.Errorf("%v import it, want %v (%v)", users, want, err)
	}
}

func BenchmarkSheetPDF(b *testing.B) {
	s := slopes()
	for b.Loop() {
		out, err := SheetPDF(s, Letter)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(out)), "bytes/sheet")
	}
}
