package publish

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// wholeSite says what is wrong with a published folder: every file has the SHA-256 of its
// manifest, and no other file is there but dot-files at the top.
func wholeSite(dir string) error {
	list, err := os.ReadFile(filepath.Join(dir, manifestName))
	if err != nil {
		return err
	}
	want := map[string]string{}
	for line := range strings.Lines(string(list)) {
		sum, name, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "  ")
		if !ok {
			return fmt.Errorf("manifest line %q", line)
		}
		want[name] = sum
	}
	err = filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, _ := filepath.Rel(dir, p)
		if name = filepath.ToSlash(name); strings.HasPrefix(name, ".") {
			return nil
		}
		data, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		sum := sha256.Sum256(data)
		if want[name] != hex.EncodeToString(sum[:]) {
			return fmt.Errorf("%s has not the checksum of the manifest", name)
		}
		delete(want, name)
		return nil
	})
	if err == nil && len(want) > 0 {
		return fmt.Errorf("in the manifest but absent: %v", slices.Sorted(maps.Keys(want)))
	}
	return err
}

// generation is a site whose every page says which of them it is: few pages with an odd
// number, many with an even one, so that removing an old site takes its time too.
func generation(n int) map[string]string {
	pages := 40
	if n%2 == 0 {
		pages = 400
	}
	files := map[string]string{"index.html": fmt.Sprint(n)}
	for k := range pages {
		files[fmt.Sprintf("bands/%d/page%d.html", k%7, k)] = fmt.Sprint(n, " ", k)
	}
	return files
}

// TestKilledChild is the program that TestKilledAnywhere kills.
func TestKilledChild(t *testing.T) {
	out, n := os.Getenv("SHEDWALL_KILLED_OUT"), 0
	if out == "" {
		return
	}
	fmt.Sscan(os.Getenv("SHEDWALL_KILLED_GENERATION"), &n)
	pause := func() { time.Sleep(500 * time.Microsecond) }
	if os.Getenv("SHEDWALL_KILLED_BY") == "renames" {
		exchange = func(a, b string) error { return errors.ErrUnsupported }
		rename = func(from, to string) error { // with room before and after to be killed in
			pause()
			defer pause()
			return os.Rename(from, to)
		}
	}
	s, err := openStage(out)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range generation(n) {
		if err := s.write(name, []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.commit(); err != nil {
		t.Fatal(err)
	}
}

// A program killed at any moment between its start and its end leaves the old site or the
// new one, whole; where folders cannot be exchanged the next start may have to put it back
// first. What it left beside the site is gone then. 25 moments for each way to swap, drawn
// by a seeded generator, and more until both sites were met; where a busy machine makes runs
// longer the moments move with them.
func TestKilledAnywhere(t *testing.T) {
	for _, by := range []string{"exchange", "renames"} {
		t.Run(by, func(t *testing.T) {
			parent := t.TempDir()
			out := filepath.Join(parent, "public")
			child := func(n int) *exec.Cmd {
				cmd := exec.Command(os.Args[0], "-test.run=^TestKilledChild$", "-test.v")
				cmd.Env = append(os.Environ(), "SHEDWALL_KILLED_OUT="+out, fmt.Sprint("SHEDWALL_KILLED_GENERATION=", n), "SHEDWALL_KILLED_BY="+by)
				cmd.Stdout = &bytes.Buffer{}
				return cmd
			}
			var took [2]time.Duration // of a whole run to an even and to an odd generation
			for n := range 2 {
				start := time.Now()
				if cmd := child(n); cmd.Run() != nil {
					t.Fatal(cmd.Stdout)
				}
				took[n] = time.Since(start)
			}
			dice := rand.New(rand.NewPCG(7, 25))
			now, kept, put, left := 1, 0, 0, 0
			for k := 0; k < 25 || k < 100 && (kept == 0 || put == 0 || left == 0); k++ {
				next := now + 1
				cmd := child(next)
				if err := cmd.Start(); err != nil {
					t.Fatal(err)
				}
				share := dice.Float64() // of a run; every second one late, where sites are swapped and removed
				if k%2 == 1 {
					share = 0.6 + 0.5*share
				}
				time.Sleep(time.Duration(share * float64(took[next%2])))
				_ = cmd.Process.Kill()
				_ = cmd.Wait()

				switch done := cmd.ProcessState.ExitCode() == 0; { // the machine is slower or faster by now
				case share > 0.9 && !done:
					took[next%2] += took[next%2] / 4
				case share < 0.8 && done:
					took[next%2] -= took[next%2] / 4
				}
				if len(mustRead(t, parent)) > 1 {
					left++
				}
				if _, err := os.Stat(out); by == "exchange" || err == nil {
					if err := wholeSite(out); err != nil {
						t.Fatalf("kill %d: %v", k, err)
					}
				}
				s, err := openStage(out) // the next publish: it mends first
				if err != nil {
					t.Fatalf("after kill %d: %v", k, err)
				}
				if err := s.drop(); err != nil {
					t.Fatalf("after kill %d: %v", k, err)
				}
				if err := wholeSite(out); err != nil {
					t.Fatalf("mended after kill %d: %v", k, err)
				}
				page, err := os.ReadFile(filepath.Join(out, "index.html"))
				switch {
				case err == nil && string(page) == fmt.Sprint(now):
					kept++
				case err == nil && string(page) == fmt.Sprint(next):
					now = next
					put++
				default:
					t.Fatalf("after kill %d the site is number %s, %v; want %d or %d", k, page, err, now, next)
				}
				if beside := mustRead(t, parent); len(beside) != 1 {
					t.Fatalf("beside the site after kill %d: %v", k, beside)
				}
			}
			t.Logf("%d kills left the old site, %d the new one; %d left something to mend", kept, put, left)
			if kept == 0 || put == 0 || left == 0 {
				t.Errorf("the kills met one side only: %d old, %d new, %d with leftovers", kept, put, left)
			}
		})
	}
}
