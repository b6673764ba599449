package render

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// The same leaf gives the same bytes, alone and beside others.
func TestLeafPDFSame(t *testing.T) {
	cases := leafCases()
	want := make([][]byte, len(cases))
	for i, c := range cases {
		var err error
		if want[i], err = LeafPDF(c.leaf, Letter); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
	}
	var all sync.WaitGroup
	for i, c := range cases {
		all.Go(func() {
			if got, err := LeafPDF(c.leaf, Letter); err != nil || !bytes.Equal(got, want[i]) {
				t.Errorf("%s: other bytes the second time (%v)", c.name, err)
			}
		})
	}
	all.Wait()
}

// No operator sets a colour: everything is black.
func TestLeafPDFIsBlack(t *testing.T) {
	d, err := layoutLeaf(leaf(twoCards(12)), A4.leafArea())
	if err != nil {
		t.Fatal(err)
	}
	c := newPDF(A4, pdfFacts{title: "x", lang: "en"})
	d.marksTo(c)
	c.unmark()
	if m := regexp.MustCompile(`(?m)\s(g|G|rg|RG|k|K|sc|SC|scn|SCN|cs|CS|gs|sh|Do)$`).FindString(string(c.out)); m != "" {
		t.Errorf("the operator%s", m)
	}
}

// Programs of others find one sound tagged page with its fonts inside.
func TestLeafPDFTools(t *testing.T) {
	proof.Need(t, "pdf")
	for _, c := range leafCases() {
		for _, p := range []Paper{Letter, A4} {
			pdf, err := LeafPDF(c.leaf, p)
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			if out := tool(t, pdf, "qpdf", "--check", "FILE"); !strings.Contains(out, "No syntax or stream encoding errors found") || strings.Contains(out, "WARNING") {
				t.Errorf("%s, %s: %s", c.name, p.Name, out)
			}
			info := tool(t, pdf, "pdfinfo", "FILE")
			for _, want := range []string{`Tagged: +yes`, `Pages: +1\n`, `Suspects: +no`} {
				if !regexp.MustCompile(want).MatchString(info) {
					t.Errorf("%s, %s: no %s in\n%s", c.name, p.Name, want, info)
				}
			}
		}
	}
}

// The structure of a card: its heading, then unit, boxes with their words, rule, table
// and texts; each empty box says what it is for; the table has a heading row and a
// heading column. The second card follows the first.
func TestLeafPDFStructure(t *testing.T) {
	proof.Need(t, "pdf")
	l := leaf(twoCards(4))
	pdf, err := LeafPDF(l, A4)
	if err != nil {
		t.Fatal(err)
	}
	file := readPDF(t, pdf)
	root := file.get(file.trailer, "/Root")
	if root["/Lang"] != "u:en" || file.get(root, "/MarkInfo")["/Marked"] != true {
		t.Errorf("language %v, marked %v", root["/Lang"], file.get(root, "/MarkInfo"))
	}
	document := file.dict(file.list(file.get(root, "/StructTreeRoot"), "/K")[0])
	one := []string{"H1", "P", "Figure", "P", "P", "P", "Figure", "P", "P", "P", "Figure", "P", "P", "P", "Table", "P", "P", "P"}
	want := append(append(slices.Clone(one), one...), "P", "P")
	if got := file.outline(document, 1); !slices.Equal(got, want) {
		t.Errorf("%v\nwant %v", got, want)
	}
	var table map[string]any
	says := 0
	for _, k := range file.list(document, "/K") {
		switch d := file.dict(k); d["/S"] {
		case "/Table":
			table = d
		case "/Figure":
			if strings.HasPrefix(d["/Alt"].(string), "u:empty box ") && len(file.list(file.get(d, "/A"), "/BBox")) == 4 {
				says++
			}
		}
	}
	if says != 6 {
		t.Errorf("%d of 6 boxes say what they are for", says)
	}
	parts := file.list(table, "/K")
	for _, th := range file.list(file.dict(file.list(file.dict(parts[0]), "/K")[0]), "/K") {
		if a := file.get(file.dict(th), "/A"); a["/Scope"] != "/Column" {
			t.Errorf("heading cell %v", a)
		}
	}
	for _, r := range file.list(file.dict(parts[1]), "/K") {
		if got := file.outline(file.dict(r), 1); !slices.Equal(got, []string{"TH", "TD", "TD", "TD", "TD"}) {
			t.Errorf("row %v", got)
		}
	}
}

// The text read back in the order of the page: the first card whole, then the second,
// words of two lines apart.
func TestLeafPDFText(t *testing.T) {
	proof.Need(t, "pdf")
	l := leaf(twoCards(4))
	pdf, err := LeafPDF(l, Letter)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(tool(t, pdf, "pdftotext", "-raw", "FILE", "-")), " ")
	for range 2 {
		for _, want := range []string{"Slopes: tonight", "Forecast low at Mill", "and", "How my garden differs", "make", "My garden tonight", "Between two rows, take the colder one.", "Box 3", "no cover", "colder", "pick today", "high tunnel over row cover", "Kale"} {
			_, after, ok := strings.Cut(text, want)
			if !ok {
				t.Fatalf("%q is not in the text after what came before it: %.300s", want, text)
			}
			text = after
		}
	}
	if !strings.Contains(text, "Sheet code K7QF") || !strings.Contains(text, "Everyone is welcome") {
		t.Errorf("the foot is missing: %s", text)
	}
}

func BenchmarkLeafPDF(b *testing.B) {
	l := leaf(twoCards(12))
	for b.Loop() {
		if _, err := LeafPDF(l, Letter); err != nil {
			b.Fatal(err)
		}
	}
}
