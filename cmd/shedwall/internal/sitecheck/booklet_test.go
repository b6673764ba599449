package sitecheck

import (
	"encoding/csv"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// booklet is one band of the demo guide with the bound guide and posters: every kind of
// page and of PDF, in both languages.
var booklet = sync.OnceValues(func() (string, error) {
	program, err := program()
	if err != nil {
		return "", err
	}
	folder, site := filepath.Join(scratch, "booklet-from"), filepath.Join(scratch, "booklet")
	if err := os.Mkdir(folder, 0o755); err != nil {
		return "", err
	}
	if out, code := run(program, folder, nil, "publish", "--only", "vellick_heights", "--booklet", "--out", site); code != 0 {
		return "", fmt.Errorf("publishing the booklet: exit %d\n%s", code, out)
	}
	return site, nil
})

func bookletSite(t *testing.T) string {
	t.Helper()
	site, err := booklet()
	if err != nil {
		t.Fatal(err)
	}
	return site
}

func writeFile(t *testing.T, name string, content []byte) {
	t.Helper()
	if err := os.WriteFile(name, content, 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestBookletPages holds the pages that only --booklet makes to the rules of all pages.
func TestBookletPages(t *testing.T) {
	s := readSite(t, bookletSite(t))
	for _, check := range checks {
		if check.name == "twins" {
			continue // the other sheets are looked at in the whole demo
		}
		t.Run(check.name, func(t *testing.T) { report(t, check.find(s)) })
	}
}

// statements are the required statement of the demo guide, long and short, in each of
// its languages.
func statements(t *testing.T) []string {
	t.Helper()
	var out []string
	take := func(file string, keys ...string) {
		f, err := os.Open(filepath.Join(proof.Root(t), "data", file))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		r := csv.NewReader(f)
		r.FieldsPerRecord = -1
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			if slices.Contains(keys, row[0]) {
				out = append(out, squeezed(row[1]))
			}
		}
	}
	take("guide.csv", "statement", "statement_short")
	take("words.csv", "guide.statement", "guide.statement_short")
	if len(out) != 4 {
		t.Fatalf("%d statements, want a long and a short one in two languages", len(out))
	}
	return out
}

var notLetter = regexp.MustCompile(`[^\pL\pN]+`)

// squeezed is the letters of a text: lines broken and hyphens set on paper do not matter.
func squeezed(s string) string { return notLetter.ReplaceAllString(s, "") }

// TestStatementOnEveryPage: the statement that a publisher must print stands, long or
// short, on every page of the site and on every page of paper of every kind of PDF.
func TestStatementOnEveryPage(t *testing.T) {
	proof.Need(t, "pdf")
	required := statements(t)
	has := func(text string) bool {
		text = squeezed(text)
		return slices.ContainsFunc(required, func(s string) bool { return strings.Contains(text, s) })
	}
	for _, dir := range []string{demoSite(t), bookletSite(t)} {
		s := readSite(t, dir)
		for _, p := range s.pages {
			if !has(wordsOf(p.root)) {
				t.Errorf("%s: the required statement is not on it", p.path)
			}
		}
	}
	dir := bookletSite(t)
	s := readSite(t, dir)
	pages, seen := 0, map[string]bool{}
	for _, name := range sorted(s.files) {
		if path.Ext(name) != ".pdf" || seen[kindOfPDF(name)+path.Base(name)] {
			continue
		}
		seen[kindOfPDF(name)+path.Base(name)] = true
		out, err := exec.Command("pdftotext", filepath.Join(dir, filepath.FromSlash(name)), "-").Output()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for i, text := range strings.Split(strings.TrimSuffix(string(out), "\f"), "\f") {
			pages++
			if !has(text) {
				t.Errorf("%s: page %d lacks the required statement", name, i+1)
			}
		}
	}
	t.Logf("%d pages of paper", pages)
	if pages < 50 {
		t.Errorf("only %d pages of paper were looked at", pages)
	}
}

// TestLinksOverHTTP asks a plain host for everything that the pages lead to: names that
// a host would not find, or would find only by their folder, are told.
func TestLinksOverHTTP(t *testing.T) {
	dir := bookletSite(t)
	s := readSite(t, dir)
	host := httptest.NewServer(http.FileServer(http.Dir(dir)))
	defer host.Close()
	client := host.Client()
	client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	asked := map[string]bool{}
	for _, p := range s.pages {
		base, err := url.Parse(host.URL + "/" + p.path)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range references(p) {
			u, err := base.Parse(r.target)
			if err != nil || u.Host != base.Host {
				continue
			}
			u.Fragment = ""
			// A file server sends index.html on to its folder; a reader lands there too.
			address := strings.TrimSuffix(u.String(), "index.html")
			if asked[address] {
				continue
			}
			asked[address] = true
			answer, err := client.Head(address)
			if err != nil {
				t.Fatal(err)
			}
			answer.Body.Close()
			if answer.StatusCode != http.StatusOK {
				t.Errorf("%s: %q: the host answers %s", p.path, r.target, answer.Status)
			}
		}
	}
	if len(asked) < 100 {
		t.Errorf("only %d addresses were asked for", len(asked))
	}
	t.Logf("%d addresses", len(asked))
}
