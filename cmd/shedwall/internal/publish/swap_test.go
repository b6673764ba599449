package publish

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// tree is every file below a folder with its text.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(p)
		rel, _ := filepath.Rel(dir, p)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func put(t *testing.T, file, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func write(t *testing.T, out string, files map[string]string) {
	t.Helper()
	s, err := openStage(out)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		if err := s.write(name, []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.commit(); err != nil {
		t.Fatal(err)
	}
}

// A new site takes the old one's place whole: files of the old one that are not in
// the new one go, dot-files at the top stay, and nothing is left beside it.
func TestSwap(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	write(t, out, map[string]string{"index.html": "one", "bands/a/index.html": "a"})
	put(t, filepath.Join(out, ".htaccess"), "mine")
	put(t, filepath.Join(out, ".well-known", "x"), "mine too")
	write(t, out, map[string]string{"index.html": "two", "crops/kale.html": "kale"})
	got := tree(t, out)
	delete(got, manifestName)
	want := map[string]string{"index.html": "two", "crops/kale.html": "kale", ".htaccess": "mine", ".well-known/x": "mine too"}
	if len(got) != len(want) {
		t.Errorf("site holds %v", got)
	}
	for name, text := range want {
		if got[name] != text {
			t.Errorf("%s holds %q, want %q", name, got[name], text)
		}
	}
	left, err := os.ReadDir(parent)
	if err != nil || len(left) != 1 {
		t.Errorf("beside the site: %v, %v", left, err)
	}
}

// An unfinished stage leaves the old site as it was and goes without a trace.
func TestDroppedStage(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	write(t, out, map[string]string{"index.html": "one"})
	before := tree(t, out)
	s, err := openStage(out)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.write("index.html", []byte("two")); err != nil {
		t.Fatal(err)
	}
	if err := s.drop(); err != nil {
		t.Fatal(err)
	}
	after := tree(t, out)
	if len(after) != len(before) || after["index.html"] != "one" {
		t.Errorf("the old site changed: %v", after)
	}
	if left, _ := os.ReadDir(parent); len(left) != 1 {
		t.Errorf("beside the site: %v", left)
	}
}

// A folder with files of somebody else, a link and a file are refused.
func TestForeignFolders(t *testing.T) {
	parent := t.TempDir()
	foreign := filepath.Join(parent, "photos")
	put(t, filepath.Join(foreign, "beach.jpg"), "sand")
	mixed := filepath.Join(parent, "mixed")
	write(t, mixed, map[string]string{"index.html": "one"})
	put(t, filepath.Join(mixed, "bands", "notes.txt"), "mine")
	file := filepath.Join(parent, "file")
	put(t, file, "text")
	link := filepath.Join(parent, "link")
	if err := os.Symlink(foreign, link); err != nil {
		t.Fatal(err)
	}
	for out, why := range map[string]string{foreign: "beach.jpg", mixed: "bands/notes.txt", file: "is a file", link: "is a link"} {
		if _, err := openStage(out); err == nil || !strings.Contains(err.Error(), why) {
			t.Errorf("%s: %v, want a refusal that says %q", out, err, why)
		}
	}
	dots := filepath.Join(parent, "dots")
	put(t, filepath.Join(dots, ".keep"), "")
	s, err := openStage(dots)
	if err != nil {
		t.Fatalf("a folder with nothing but dot-files: %v", err)
	}
	for _, name := range []string{"../out", "/abs", "a/../../b", ""} {
		if err := s.write(name, nil); err == nil {
			t.Errorf("wrote %q", name)
		}
	}
	if err := s.drop(); err != nil {
		t.Fatal(err)
	}
	names := []string{}
	for _, e := range mustRead(t, parent) {
		names = append(names, e.Name())
	}
	if slices.ContainsFunc(names, func(n string) bool { return strings.Contains(n, ".next-") }) {
		t.Errorf("stages left: %v", names)
	}
}

func mustRead(t *testing.T, dir string) []os.DirEntry {
	t.Helper()
	e, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// Where a file cannot have a second name it is copied, but only as it was found.
func TestTakenOverWithoutLinks(t *testing.T) {
	linkFile = func(string, string) error { return errors.New("no links here") }
	defer func() { linkFile = os.Link }()
	parent := t.TempDir()
	old := filepath.Join(parent, "old.html")
	put(t, old, "as it was")
	s, err := openStage(filepath.Join(parent, "public"))
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.drop(); err != nil {
			t.Error(err)
		}
	}()
	was := quickOf([]byte("as it was")).String()
	if err := s.adopt("a.html", sum([]byte("as it was")), was, old); err != nil {
		t.Fatal(err)
	}
	if data, err := os.ReadFile(filepath.Join(s.dir, "a.html")); err != nil || string(data) != "as it was" {
		t.Errorf("%q, %v", data, err)
	}
	put(t, old, "as it is ")
	if err := s.adopt("b.html", sum([]byte("as it was")), was, old); err == nil || !strings.Contains(err.Error(), "changed while") {
		t.Errorf("a file that was changed meanwhile: %v", err)
	}
}
