package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shedwall/cmd/shedwall/internal/proof"
)

// tinyGuide writes a whole guide of one band, two crops and two covers, so that a publish
// takes a fraction of a second; n is its edition, and in the title.
func tinyGuide(t *testing.T, dir string, n int) {
	t.Helper()
	keep := map[string]string{"crops": " kale tomato ", "covers": " fabric tunnel "}
	files := map[string]string{}
	for name, text := range scriptGuide {
		files[name] = text
	}
	files["guide.csv"] = strings.NewReplacer("Upper Alder", fmt.Sprintf("Upper Alder %d.", n), "edition,1", fmt.Sprint("edition,", n)).Replace(files["guide.csv"])
	for table, ids := range keep {
		builtin, err := os.ReadFile(filepath.Join(proof.Root(t), "data", "builtin", table+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		rows := strings.TrimSuffix(table, "s") + ",use\n"
		for line := range strings.Lines(string(builtin)) {
			id, _, _ := strings.Cut(line, ",")
			if !strings.HasPrefix(line, "#") && id+"s" != table && !strings.Contains(ids, " "+id+" ") {
				rows += id + ",no\n"
			}
		}
		files[table+".csv"] = rows
	}
	if err := os.MkdirAll(filepath.Join(dir, "data"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, "data", name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// manifestHolds says what is wrong with a site by the list of checksums in it.
func manifestHolds(dir string) error {
	list, err := os.ReadFile(filepath.Join(dir, ".shedwall"))
	if err != nil {
		return err
	}
	listed, found := 0, 0
	for line := range strings.Lines(string(list)) {
		sum, name, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "  ")
		data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil {
			return err
		}
		if got := sha256.Sum256(data); hex.EncodeToString(got[:]) != sum {
			return fmt.Errorf("%s has not the checksum of the manifest", name)
		}
		listed++
	}
	err = filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() && !strings.HasPrefix(d.Name(), ".shedwall") {
			found++
		}
		return err
	})
	if err == nil && (found != listed || found == 0) {
		return fmt.Errorf("%d files, %d in the manifest", found, listed)
	}
	return err
}

func names(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return strings.Join(out, " ")
}

// The program itself, killed at 50 moments of a publish that also keeps its edition: half
// of them by a clock, half when so many files of the new site are written, both drawn by a
// seeded generator. After each the site is the old one or the new one, whole; every 25th
// publish may come to its end and leaves nothing beside the site or among the editions.
func TestKilledPublish(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "public")
	start := func(n int) (*exec.Cmd, *bytes.Buffer) {
		tinyGuide(t, dir, n)
		cmd := exec.Command("shedwall", "publish", "--guide", dir, "--keep-edition")
		told := &bytes.Buffer{}
		cmd.Stderr = told
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		return cmd, told
	}
	toEnd := func(n int) (took time.Duration) {
		began := time.Now()
		if cmd, told := start(n); cmd.Wait() != nil {
			t.Fatalf("publish %d: %s", n, told)
		}
		took = time.Since(began)
		if got := names(t, dir); got != "data public" {
			t.Fatalf("beside the site after publish %d: %s", n, got)
		}
		if got := names(t, filepath.Join(dir, "data", "editions")); strings.Contains(got, "part") {
			t.Fatalf("among the editions after publish %d: %s", n, got)
		}
		return took
	}
	took := toEnd(1)
	list, err := os.ReadFile(filepath.Join(out, ".shedwall"))
	if err != nil {
		t.Fatal(err)
	}
	files := strings.Count(string(list), "\n")
	dice := rand.New(rand.NewPCG(7, 51))
	now, kept, put, left := 1, 0, 0, 0
	for k := range 50 {
		next := k + 2
		if k%25 == 24 {
			took = toEnd(next)
			now = next
			next += 100
		}
		cmd, told := start(next)
		if share := dice.Float64(); k%2 == 0 {
			time.Sleep(time.Duration(share * float64(took)))
		} else {
			awaitFiles(dir, int(share*float64(files)), 4*took)
		}
		_ = cmd.Process.Kill()
		if _ = cmd.Wait(); cmd.ProcessState.Exited() && cmd.ProcessState.ExitCode() > 0 && told.Len() > 0 {
			t.Fatalf("publish %d ended by itself: %s", next, told)
		}
		if names(t, dir) != "data public" {
			left++
		}
		if err := manifestHolds(out); err != nil {
			t.Fatalf("kill %d: %v", k, err)
		}
		page, err := os.ReadFile(filepath.Join(out, "index.html"))
		switch {
		case err == nil && bytes.Contains(page, fmt.Appendf(nil, "Upper Alder %d.<", now)):
			kept++
		case err == nil && bytes.Contains(page, fmt.Appendf(nil, "Upper Alder %d.<", next)):
			now = next
			put++
		default:
			t.Fatalf("kill %d left neither site %d nor site %d: %v", k, now, next, err)
		}
	}
	toEnd(1000)
	t.Logf("%d kills left the old site, %d the new one; %d left something to mend", kept, put, left)
	if kept == 0 || left == 0 {
		t.Errorf("no kill came in time: %d old, %d new, %d with leftovers", kept, put, left)
	}
}

// awaitFiles waits until the site being made beside the old one has so many files, or for
// the time given.
func awaitFiles(dir string, count int, most time.Duration) {
	for end := time.Now().Add(most); time.Now().Before(end); time.Sleep(2 * time.Millisecond) {
		stages, _ := filepath.Glob(filepath.Join(dir, ".public.next-*"))
		for _, stage := range stages {
			n := 0
			_ = filepath.WalkDir(stage, func(p string, d os.DirEntry, err error) error {
				if d != nil && !d.IsDir() {
					n++
				}
				return nil
			})
			if n > count {
				return
			}
		}
	}
}
