package sitecheck

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// everyFile reads all files under a folder, dot-files too, by path with slashes.
func everyFile(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			files[name], err = os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// sameFiles fails the test where two folders differ.
func sameFiles(t *testing.T, got, want map[string][]byte) {
	t.Helper()
	for _, name := range sorted(want) {
		if content, ok := got[name]; !ok {
			t.Errorf("%s: missing", name)
		} else if !bytes.Equal(content, want[name]) {
			t.Errorf("%s: other bytes, from byte %d on", name, firstDifference(content, want[name]))
		}
	}
	for _, name := range sorted(got) {
		if _, ok := want[name]; !ok {
			t.Errorf("%s: was not there before", name)
		}
	}
}

func firstDifference(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}

// publish runs the publish command from a folder and fails the test if it does not
// end as wanted.
func publish(t *testing.T, wantCode int, dir string, env []string, args ...string) string {
	t.Helper()
	path, err := program()
	if err != nil {
		t.Fatal(err)
	}
	out, code := run(path, dir, env, append([]string{"publish"}, args...)...)
	if code != wantCode {
		t.Fatalf("publish %s: exit %d, want %d\n%s", strings.Join(args, " "), code, wantCode, out)
	}
	return out
}

// TestSameBytes publishes the demo guide once more: from this repository instead of
// from inside the program, in another time zone and language, on one thread.
func TestSameBytes(t *testing.T) {
	first := everyFile(t, demoSite(t))
	again := filepath.Join(t.TempDir(), "again")
	publish(t, 0, proof.Root(t), []string{"TZ=Pacific/Kiritimati", "LANG=tr_TR.UTF-8", "LC_ALL=tr_TR.UTF-8", "GOMAXPROCS=1"}, "--out", again)
	sameFiles(t, everyFile(t, again), first)
}

// TestPublishOver publishes over an older site: dot-files stay, pages that are no
// longer made go.
func TestPublishOver(t *testing.T) {
	out := filepath.Join(t.TempDir(), "site")
	publish(t, 0, t.TempDir(), nil, "--out", out)
	keep := []byte("kept\n")
	for _, name := range []string{".keep", filepath.Join(".host", "settings")} {
		path := filepath.Join(out, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, keep, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	publish(t, 0, t.TempDir(), nil, "--out", out)
	got := everyFile(t, out)
	for _, name := range []string{".keep", ".host/settings"} {
		if !bytes.Equal(got[name], keep) {
			t.Errorf("%s: not kept", name)
		}
		delete(got, name)
	}
	sameFiles(t, got, everyFile(t, demoSite(t)))
}

// TestFailedPublish shows that a guide with faults leaves the last good site as it
// was, exit 1, and says where the fault is.
func TestFailedPublish(t *testing.T) {
	out := filepath.Join(t.TempDir(), "site")
	publish(t, 0, t.TempDir(), nil, "--out", out)
	guide := t.TempDir()
	if err := os.Mkdir(filepath.Join(guide, "data"), 0o755); err != nil {
		t.Fatal(err)
	}
	bands := "band,name,low_m,high_m,position\nx,X,nine,10,floor\n"
	if err := os.WriteFile(filepath.Join(guide, "data", "bands.csv"), []byte(bands), 0o644); err != nil {
		t.Fatal(err)
	}
	said := publish(t, 1, t.TempDir(), nil, "--guide", guide, "--out", out)
	if !strings.Contains(said, "data/bands.csv") {
		t.Errorf("the faulty table is not named in\n%s", said)
	}
	sameFiles(t, everyFile(t, out), everyFile(t, demoSite(t)))
}
