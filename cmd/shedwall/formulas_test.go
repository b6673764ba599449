package main_test

import (
	"encoding/csv"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// reTag is how a comment says where a formula comes from: [source thom59], several tags
// with blanks between. Tags are ids of data/builtin/sources.csv.
var reTag = regexp.MustCompile(`\[source ([a-z0-9_ ]+)\]`)

// reCited is a publication named in words, "Cunnane 1978" or "Parton and Logan 1981".
var reCited = regexp.MustCompile(`\b[A-Z][a-z]+(?:(?:,? (?:and|[A-Z][a-z]+))* [A-Z][a-z]+| et al\.)? (?:18|19|20)[0-9]{2}\b`)

// dates are words that stand before a year without naming a publication.
var dates = regexp.MustCompile(`^(January|February|March|April|May|June|July|August|September|October|November|December|Since|From|Until|In) `)

// taggedFormulas is the tags that comments of the science rooms name, by the files that
// name them, and the places where a publication is named without one.
func taggedFormulas(t *testing.T, root string, rooms []string) (tags map[string][]string, untagged []string) {
	t.Helper()
	tags = map[string][]string{}
	for _, room := range rooms {
		files, err := filepath.Glob(filepath.Join(root, "cmd", "shedwall", "internal", room, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files, %v", room, len(files), err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue // checks name their sources beside each figure
			}
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, name, nil, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			for _, comment := range file.Comments {
				text := strings.Join(strings.Fields(comment.Text()), " ")
				found := reTag.FindAllStringSubmatch(text, -1)
				for _, m := range found {
					for tag := range strings.FieldsSeq(m[1]) {
						tags[tag] = append(tags[tag], room+"/"+filepath.Base(name))
					}
				}
				for _, cited := range reCited.FindAllString(text, -1) {
					if !dates.MatchString(cited) && len(found) == 0 {
						untagged = append(untagged, set.Position(comment.Pos()).String()+": "+cited)
					}
				}
			}
		}
	}
	return tags, untagged
}

// Every formula whose comment names a publication has its tag, and every tag is a row of
// the table of sources, which readers of a guide see.
func TestFormulasHaveSources(t *testing.T) {
	root := proof.Root(t)
	tags, untagged := taggedFormulas(t, root, strings.Fields(scienceRooms))
	for _, u := range untagged {
		t.Errorf("%s has no tag such as [source thom59]", u)
	}
	f, err := os.Open(filepath.Join(root, "data", "builtin", "sources.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for tag, files := range tags {
		if !slices.ContainsFunc(rows, func(r []string) bool { return r[0] == tag }) {
			t.Errorf("%s: [source %s] is not in data/builtin/sources.csv", files[0], tag)
		}
	}
	if len(tags) < 15 {
		t.Errorf("%d tags only: %v", len(tags), tags)
	}
}

// TestFormulasHaveSourcesFails shows that the rule finds a publication without a tag, and
// reads tags over the end of a line.
func TestFormulasHaveSourcesFails(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "cmd", "shedwall", "internal", "frost")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	const text = `package frost
// A is by Parton and Logan 1981.
func A() {}
// B is by Thom 1959 [source
// thom59 other].
func B() {}
// C holds since May 1990.
func C() {}
`
	if err := os.WriteFile(filepath.Join(dir, "a.go"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	tags, untagged := taggedFormulas(t, root, []string{"frost"})
	if len(untagged) != 1 || !strings.HasSuffix(untagged[0], "a.go:2:1: Parton and Logan 1981") || len(tags) != 2 || len(tags["thom59"]) != 1 || len(tags["other"]) != 1 {
		t.Errorf("%v, %v", tags, untagged)
	}
}
