package publish

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// The mark of a program is the one that Go's own tool reads out of it, and programs that
// differ in one word have different ones.
func TestBuildID(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("programs of this system are summed as a whole")
	}
	dir := t.TempDir()
	ids := map[string]bool{}
	for _, word := range []string{"frost", "thaw"} {
		source := filepath.Join(dir, word+".go")
		if err := os.WriteFile(source, []byte("package main\n\nfunc main() { println(\""+word+"\") }\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		built := filepath.Join(dir, word)
		for _, marked := range []bool{true, false} {
			args := []string{"build", "-o", built, source}
			if !marked {
				args = []string{"build", "-ldflags=-buildid=mine", "-o", built, source}
			}
			if out, err := exec.Command("go", args...).CombinedOutput(); err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			want, err := exec.Command("go", "tool", "buildid", built).Output()
			if err != nil {
				t.Fatal(err)
			}
			switch id := buildID(built); {
			case marked && (id == "" || id != strings.TrimSpace(string(want))):
				t.Errorf("mark %q, by go tool buildid %q", id, want)
			case !marked && id != "":
				t.Errorf("a mark that anybody can write is taken: %q", id)
			case marked:
				ids[id] = true
			}
		}
		if id := buildID(source); id != "" {
			t.Errorf("a file that is no program has the mark %q", id)
		}
	}
	if len(ids) != 2 {
		t.Errorf("two programs, marks %v", ids)
	}
}

// The running program has something that tells it from others.
func TestProgram(t *testing.T) {
	if program() == "" {
		t.Error("this program cannot be told from others: nothing would be kept")
	}
}
