package sitecheck

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"golang.org/x/net/html"

	tables "shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/proof"
)

// spoken is a run of text of a page with the language it is marked with.
type spoken struct{ lang, text string }

// spokenIn is every run of text of a page, those that only reading programs get too.
func spokenIn(p *sitePage) []spoken {
	var out []spoken
	var walk func(n *html.Node, lang string)
	walk = func(n *html.Node, lang string) {
		if n.Type == html.ElementNode {
			if l, ok := attr(n, "lang"); ok {
				lang = l
			}
			if n.Data == "style" || n.Data == "script" || n.Data == "code" || n.Data == "pre" {
				return
			}
			for _, key := range []string{"aria-label", "alt", "title"} {
				if v, ok := attr(n, key); ok {
					out = append(out, spoken{lang, v})
				}
			}
			if name, _ := attr(n, "name"); n.Data == "meta" && name == "description" {
				v, _ := attr(n, "content")
				out = append(out, spoken{lang, v})
			}
		}
		if n.Type == html.TextNode && strings.TrimSpace(n.Data) != "" {
			out = append(out, spoken{lang, strings.Join(strings.Fields(n.Data), " ")})
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c, lang)
		}
	}
	walk(p.root, "")
	return out
}

var (
	letters = regexp.MustCompile(`[\p{L}'’]+`)
	noWord  = regexp.MustCompile(`\S*(?:@|/|\.[a-z]|[0-9]|_)\S*`)
)

// words is the words of a text, in small letters, without what looks like an address,
// a checksum, a file or a column of a table.
func words(text string) []string {
	text = noWord.ReplaceAllString(strings.ToLower(text), " ")
	return letters.FindAllString(text, -1)
}

// column is the texts of one column of a table of the project.
func column(t *testing.T, file, heading string) []string {
	t.Helper()
	f, err := os.Open(filepath.Join(proof.Root(t), file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := slices.Index(rows[0], heading)
	if at < 0 {
		t.Fatalf("%s has no column %s", file, heading)
	}
	var out []string
	for _, r := range rows[1:] {
		out = append(out, r[at])
	}
	return out
}

// prose is every text of a content folder, without those in folders of languages
// unless lang names one.
func prose(t *testing.T, lang string) []string {
	t.Helper()
	var out []string
	top := filepath.Join(proof.Root(t), "content")
	err := filepath.WalkDir(top, func(name string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(name) != ".md" {
			return err
		}
		rel, _ := filepath.Rel(top, name)
		inES := strings.HasPrefix(filepath.ToSlash(rel), "es/")
		if inES != (lang == "es") {
			return nil
		}
		b, err := os.ReadFile(name)
		out = append(out, string(b))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

var slot = regexp.MustCompile(`\{\w+\}`)

// englishOnly is every word of three letters or more that the English of the demo
// uses and its Spanish does not.
func englishOnly(t *testing.T) map[string]bool {
	t.Helper()
	english, other := map[string]bool{}, map[string]bool{}
	add := func(set map[string]bool, texts []string) {
		for _, text := range texts {
			for _, w := range words(slot.ReplaceAllString(text, " ")) {
				set[w] = true
			}
		}
	}
	const builtin = "data/builtin/"
	add(english, column(t, builtin+"words.csv", "en"))
	add(other, column(t, builtin+"words.csv", "es"))
	add(other, column(t, "data/words.csv", "es"))
	for _, c := range [][2]string{{"crops", "name"}, {"crops", "note"}, {"covers", "name"}, {"covers", "note"}, {"hazards", "caution"},
		{"hazards", "defer"}, {"layers", "note"}, {"structures", "name"}, {"structures", "note"}, {"pots", "name"}, {"pots", "note"}} {
		add(english, column(t, builtin+c[0]+".csv", c[1]))
	}
	add(english, prose(t, ""))
	add(other, prose(t, "es"))
	// Names of places, of the publisher and of people's letters stay as they are.
	add(other, column(t, "data/stations.csv", "name"))
	add(other, column(t, "data/places.csv", "place"))
	add(other, column(t, "data/guide.csv", "value")[1:2])
	out := map[string]bool{}
	for w := range english {
		if len(w) > 2 && !other[w] {
			out[w] = true
		}
	}
	if len(out) < 1000 {
		t.Fatalf("only %d words are English alone: the lists were not read", len(out))
	}
	return out
}

// leftEnglish is the runs of Spanish pages that hold an English word and are not
// marked as English.
func leftEnglish(pages []*sitePage, english map[string]bool) []string {
	var faults []string
	for _, p := range pages {
		for _, run := range spokenIn(p) {
			if run.lang != "es" {
				continue
			}
			for _, w := range words(run.text) {
				if english[w] {
					faults = append(faults, p.path+": \""+run.text+"\" holds \""+w+"\"")
					break
				}
			}
		}
	}
	return faults
}

// demo is the demo's site once it is read: its pages are only looked at.
var demo struct {
	once sync.Once
	site *site
}

func parsedDemo(t *testing.T) *site {
	t.Helper()
	demo.once.Do(func() { demo.site = readSite(t, demoSite(t)) })
	if demo.site == nil {
		t.Fatal("the demo's site could not be read")
	}
	return demo.site
}

// TestSpanishIsSpanish: no English word is left on the Spanish pages of the demo but
// in names and in what is marked as English, such as the titles of sources.
func TestSpanishIsSpanish(t *testing.T) {
	s := parsedDemo(t)
	var pages []*sitePage
	for _, p := range s.pages {
		if strings.HasPrefix(p.path, "es/") {
			pages = append(pages, p)
		}
	}
	if len(pages) < 100 {
		t.Fatalf("%d Spanish pages", len(pages))
	}
	english := englishOnly(t)
	report(t, leftEnglish(pages, english))

	// And the test would tell: the English page of the same kind is full of them.
	if found := leftEnglish([]*sitePage{asSpanish(t, s.files["index.html"])}, english); len(found) < 20 {
		t.Errorf("only %d English runs were found on an English page", len(found))
	}
}

// asSpanish is an English page that claims to be Spanish.
func asSpanish(t *testing.T, page []byte) *sitePage {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(bytes.ReplaceAll(page, []byte(`<html lang="en">`), []byte(`<html lang="es">`))))
	if err != nil {
		t.Fatal(err)
	}
	return &sitePage{path: "index.html", root: root}
}

// TestLanguagesMirrored: every page stands in both languages under the same name, says
// its language, and leads to the same page in the other one.
func TestLanguagesMirrored(t *testing.T) {
	s := parsedDemo(t)
	for _, p := range s.pages {
		if strings.Contains(p.path, "sheet") || strings.HasPrefix(p.path, "inputs/") {
			continue // sheets may be cut in another way
		}
		own, other, twin := "en", "es", "es/"+p.path
		if rest, ok := strings.CutPrefix(p.path, "es/"); ok {
			own, other, twin = "es", "en", rest
		}
		if lang, _ := attr(p.elements("html")[0], "lang"); lang != own {
			t.Errorf("%s says it is in %q", p.path, lang)
		}
		if s.page(twin) == nil {
			t.Errorf("%s does not stand in %s", p.path, other)
			continue
		}
		leads := func(name string) bool {
			return slices.ContainsFunc(p.elements(name), func(n *html.Node) bool {
				href, _ := attr(n, "href")
				hreflang, _ := attr(n, "hreflang")
				target, _, _ := strings.Cut(resolve(p.path, href), "#")
				return hreflang == other && target == twin
			})
		}
		if !leads("link") || !leads("a") {
			t.Errorf("%s does not lead to %s", p.path, twin)
		}
	}
}

// resolve is where a relative address leads from a page.
func resolve(from, href string) string {
	return filepath.ToSlash(filepath.Join(filepath.Dir(from), filepath.FromSlash(href)))
}

// TestKeysOfTablesNameRows: every built-in text of a table in words.csv belongs to a
// row, so that a mistyped key is not lost in silence.
func TestKeysOfTablesNameRows(t *testing.T) {
	rows := map[string][]string{}
	for kind, files := range map[string][][2]string{
		"crop": {{"crops", "crop"}}, "class": {{"classes", "class"}}, "cover": {{"covers", "cover"}, {"structures", "structure"}},
		"layers": {{"layers", "layers"}}, "hazard": {{"hazards", "hazard"}}, "pot": {{"pots", "pot"}}, "logged": {{"logged", "logged"}}, "source": {{"sources", "source"}},
	} {
		for _, f := range files {
			rows[kind] = append(rows[kind], column(t, "data/builtin/"+f[0]+".csv", f[1])...)
		}
	}
	for _, key := range column(t, "data/builtin/words.csv", "key") {
		parts := strings.Split(key, ".")
		if tables.IsTextKey(key) && !strings.HasPrefix(key, "source.read.") && !slices.Contains(rows[parts[0]], parts[1]) {
			t.Errorf("%s belongs to no row", key)
		}
	}
}
