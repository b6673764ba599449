package sitecheck

import (
	"encoding/json"
	"fmt"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// tagTree is a PDF's objects as qpdf tells them.
type tagTree struct{ objects map[string]map[string]any }

func readTags(file string) (*tagTree, error) {
	out, err := exec.Command("qpdf", "--json=2", "--json-key=qpdf", file).Output()
	if err != nil {
		return nil, fmt.Errorf("qpdf --json: %w", err)
	}
	var all struct {
		QPDF []json.RawMessage
	}
	if err := json.Unmarshal(out, &all); err != nil || len(all.QPDF) < 2 {
		return nil, fmt.Errorf("qpdf --json told nothing: %v", err)
	}
	t := &tagTree{}
	return t, json.Unmarshal(all.QPDF[1], &t.objects)
}

// get is the dictionary that a value is or leads to.
func (t *tagTree) get(v any) map[string]any {
	if ref, ok := v.(string); ok {
		v = t.objects["obj:"+ref]["value"]
		if v == nil {
			if s, ok := t.objects["obj:"+ref]["stream"].(map[string]any); ok {
				v = s["dict"]
			}
		}
	}
	d, _ := v.(map[string]any)
	return d
}

func (t *tagTree) list(v any) []any {
	if ref, ok := v.(string); ok && strings.HasSuffix(ref, " R") {
		v = t.objects["obj:"+ref]["value"]
	}
	l, ok := v.([]any)
	if !ok && v != nil {
		return []any{v}
	}
	return l
}

func textOfPDF(v any) string {
	s, _ := v.(string)
	return strings.TrimPrefix(s, "u:")
}

// tagFaults looks at the structure of a PDF: outline, order of the tab key, heading cells
// with their scope, rows of one length, words for every figure, headings that leave out
// no level, and no mark on a page that is neither in the tree nor an artifact.
func tagFaults(file string) (wrong []string, figures []string, err error) {
	t, err := readTags(file)
	if err != nil {
		return nil, nil, err
	}
	root := t.get(t.get(t.objects["trailer"]["value"])["/Root"])
	if t.get(root["/Outlines"])["/First"] == nil {
		wrong = append(wrong, "no outline")
	}
	pages := t.list(t.get(root["/Pages"])["/Kids"])
	for i, p := range pages {
		d := t.get(p)
		if d["/Tabs"] != "/S" {
			wrong = append(wrong, fmt.Sprintf("page %d: the tab key does not follow the structure", i+1))
		}
		if d["/StructParents"] == nil {
			wrong = append(wrong, fmt.Sprintf("page %d is not tied to the structure", i+1))
		}
	}
	level := 0
	tags := map[string]int{}
	var walk func(v any, cells *[]int)
	walk = func(v any, cells *[]int) {
		d := t.get(v)
		tag, _ := d["/S"].(string)
		if tag == "" {
			return // marked content
		}
		tags[tag]++
		attributes := t.get(d["/A"])
		switch tag {
		case "/TH":
			if s := attributes["/Scope"]; s != "/Column" && s != "/Row" {
				wrong = append(wrong, fmt.Sprintf("a heading cell has the scope %v", s))
			}
		case "/Figure":
			alt := textOfPDF(d["/Alt"])
			if strings.TrimSpace(alt) == "" {
				wrong = append(wrong, "a figure without words")
			}
			figures = append(figures, alt)
		case "/H1", "/H2", "/H3", "/H4", "/H5", "/H6":
			n := int(tag[2] - '0')
			if n > level+1 {
				wrong = append(wrong, fmt.Sprintf("a heading of level %d follows one of level %d", n, level))
			}
			level = n
		}
		kids := t.list(d["/K"])
		if tag == "/Table" {
			cells = &[]int{}
		}
		if tag == "/TR" && cells != nil {
			*cells = append(*cells, len(kids))
		}
		for _, k := range kids {
			walk(k, cells)
		}
		if tag == "/Table" {
			if c := slices.Compact(slices.Sorted(slices.Values(*cells))); len(c) != 1 {
				wrong = append(wrong, fmt.Sprintf("a table has rows of %v cells", c))
			}
		}
	}
	for _, k := range t.list(t.get(root["/StructTreeRoot"])["/K"]) {
		walk(k, nil)
	}
	if tags["/H1"] == 0 || tags["/P"]+tags["/Table"]+tags["/L"] == 0 {
		wrong = append(wrong, fmt.Sprintf("the structure holds only %v", tags))
	}
	return append(wrong, looseMarks(file)...), figures, nil
}

var painting = regexp.MustCompile(`^(S|s|f|F|f\*|B|B\*|b|b\*|Tj|TJ|'|"|Do|sh)$`)

// looseMarks finds marks that stand outside of every marked content: a reading program
// would not know whether to tell of them.
func looseMarks(file string) (wrong []string) {
	out, err := exec.Command("qpdf", "--qdf", "--object-streams=disable", "--stream-data=uncompress", "--decode-level=generalized", file, "-").Output()
	if err != nil {
		return []string{fmt.Sprintf("qpdf --qdf: %v", err)}
	}
	depth, loose, artifacts := 0, 0, 0
	stream := false
	for line := range strings.Lines(string(out)) {
		line = strings.TrimRight(line, "\r\n")
		switch {
		case line == "stream":
			stream, depth = true, 0
		case line == "endstream":
			stream = false
		case !stream:
		case strings.HasSuffix(line, " BMC"), strings.HasSuffix(line, " BDC"):
			depth++
			if strings.HasPrefix(line, "/Artifact") {
				artifacts++
			}
		case line == "EMC":
			depth--
		default:
			if f := strings.Fields(line); depth == 0 && len(f) > 0 && len(line) < 200 && painting.MatchString(f[len(f)-1]) && strings.IndexFunc(line, func(r rune) bool { return r > 126 || r < 32 }) < 0 {
				loose++
			}
		}
	}
	if loose > 0 {
		wrong = append(wrong, fmt.Sprintf("%d marks are neither tagged nor artifacts", loose))
	}
	if artifacts == 0 {
		wrong = append(wrong, "no artifacts: grid and rules would be read out")
	}
	return wrong
}

// kindOfPDF is the rule that made a PDF: bands/slopes/sheet-2-a4.pdf is of the kind
// bands/ID/sheet.pdf.
var (
	paperEnd  = regexp.MustCompile(`-(a4|a3|letter|tabloid)\.pdf$`)
	numberEnd = regexp.MustCompile(`-\d+\.pdf$`)
	oneBand   = regexp.MustCompile(`(^|/)bands/[^/]+/`)
)

func kindOfPDF(name string) string {
	return oneBand.ReplaceAllString(numberEnd.ReplaceAllString(paperEnd.ReplaceAllString(name, ".pdf"), ".pdf"), "${1}bands/ID/")
}

// TestTagsOfEveryKind looks at the structure of the largest PDF of every kind, in each
// language, the bound guide and posters among them.
func TestTagsOfEveryKind(t *testing.T) {
	proof.Need(t, "pdf")
	dir := bookletSite(t)
	s := readSite(t, dir)
	largest := map[string]string{}
	for _, name := range sorted(s.files) {
		if k := kindOfPDF(name); path.Ext(name) == ".pdf" && len(s.files[name]) > len(s.files[largest[k]]) {
			largest[k] = name
		}
	}
	for _, kind := range []string{"guide.pdf", "poster.pdf", "bands/ID/sheet.pdf", "bands/ID/tonight.pdf", "bands/ID/worksheet.pdf", "bands/ID/tasks.pdf", "es/guide.pdf"} {
		if largest[kind] == "" {
			t.Errorf("the guide has no %s", kind)
		}
	}
	for _, kind := range sorted(largest) {
		name := largest[kind]
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			file := filepath.Join(dir, filepath.FromSlash(name))
			wrong, figures, err := tagFaults(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range wrong {
				t.Errorf("%s: %s", name, w)
			}
			if isSheet(name) {
				sheetTwins(t, s, name, figures)
			}
		})
	}
}

// sheetTwins compares the words of a sheet's figures with the table in words on its page.
func sheetTwins(t *testing.T, s *site, name string, figures []string) {
	p := s.page(paperEnd.ReplaceAllString(name, ".html"))
	if p == nil {
		t.Fatalf("%s: no page beside it", name)
	}
	var words []string
	for _, row := range p.elements("tr") {
		var last string
		for n := range row.ChildNodes() {
			if n.Data == "td" {
				last = wordsOf(n)
			}
		}
		if last != "" {
			words = append(words, last)
		}
	}
	if strings.Contains(path.Base(name), "-both") { // a table in each language, and figures in both at once
		if len(words) != 2*len(figures) {
			t.Errorf("%s: %d figures in two languages, %d rows on the page", name, len(figures), len(words))
		}
		return
	}
	for i := range figures {
		figures[i] = strings.Join(strings.Fields(figures[i]), " ")
	}
	if !slices.Equal(figures, words) {
		t.Errorf("%s: %d figures in words, %d rows on the page, or not the same words; first %q and %q", name, len(figures), len(words), first(figures), first(words))
	}
}

func first(s []string) string {
	if len(s) == 0 {
		return ""
	}
	return s[0]
}

// TestTagsSeeFaults writes a poor PDF by hand and shows what the looking finds in it.
func TestTagsSeeFaults(t *testing.T) {
	proof.Need(t, "pdf")
	pdf := handPDF(
		"<< /Type /Catalog /Pages 2 0 R /StructTreeRoot 5 0 R >>",
		"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
		"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] /Contents 4 0 R /Resources << >> >>",
		fmt.Sprintf("<< /Length %d >>\nstream\n%sendstream", len("0 0 m\n9 9 l\nS\n"), "0 0 m\n9 9 l\nS\n"),
		"<< /Type /StructTreeRoot /K [6 0 R] >>",
		"<< /Type /StructElem /S /Document /K [7 0 R 8 0 R 9 0 R] >>",
		"<< /Type /StructElem /S /H1 >>",
		"<< /Type /StructElem /S /H3 /K [10 0 R] >>",
		"<< /Type /StructElem /S /Table /K [11 0 R 12 0 R] >>",
		"<< /Type /StructElem /S /Figure >>",
		"<< /Type /StructElem /S /TR /K [13 0 R] >>",
		"<< /Type /StructElem /S /TR /K [13 0 R 13 0 R] >>",
		"<< /Type /StructElem /S /TH >>",
	)
	file := filepath.Join(t.TempDir(), "poor.pdf")
	writeFile(t, file, pdf)
	wrong, _, err := tagFaults(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"no outline", "page 1: the tab key does not follow the structure", "page 1 is not tied to the structure",
		"a heading of level 3 follows one of level 1", "a figure without words", "a heading cell has the scope <nil>",
		"a table has rows of [1 2] cells", "1 marks are neither tagged nor artifacts", "no artifacts: grid and rules would be read out",
	} {
		if !slices.Contains(wrong, want) {
			t.Errorf("not found: %s\nin\n\t%s", want, strings.Join(wrong, "\n\t"))
		}
	}
}
