// Package sitecheck publishes the demo guide as a user would, with the built
// program, and looks at what came out: links, words, HTML, colours, focus, print,
// PDF. It knows nothing of the rooms inside, so it holds whatever they become. Each
// check also runs over a small faulty site in testdata and must find its faults.
package sitecheck

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
)

// scratch holds the built program and the published guides of this run.
var scratch string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "sitecheck")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	scratch = dir
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

// program is the path of the program, built once.
var program = sync.OnceValues(func() (string, error) {
	root, err := filepath.Abs("../../../..")
	if err != nil {
		return "", err
	}
	if err := lookAtSources(root); err != nil {
		return "", err
	}
	path := filepath.Join(scratch, "shedwall")
	if runtime.GOOS == "windows" {
		path += ".exe"
	}
	build := exec.Command("go", "build", "-o", path, "./cmd/shedwall")
	build.Dir = root
	if out, err := build.CombinedOutput(); err != nil {
		return "", fmt.Errorf("building the program: %v\n%s", err, out)
	}
	return path, nil
})

// published is the demo guide, published once from an empty folder: the tables,
// prose and templates are those inside the program.
var published = sync.OnceValues(func() (string, error) {
	path, err := program()
	if err != nil {
		return "", err
	}
	empty, site := filepath.Join(scratch, "empty"), filepath.Join(scratch, "demo")
	if err := os.Mkdir(empty, 0o755); err != nil {
		return "", err
	}
	if out, code := run(path, empty, nil, "publish", "--out", site); code != 0 {
		return "", fmt.Errorf("publishing the demo guide: exit %d\n%s", code, out)
	}
	return site, nil
})

// demoSite is the folder of the published demo guide; tests only read it.
func demoSite(t *testing.T) string {
	t.Helper()
	site, err := published()
	if err != nil {
		t.Fatal(err)
	}
	return site
}

// lookAtSources asks for the state of every source file, so that go test, which
// keeps the results of tests whose inputs did not change, sees the sources as
// inputs: the program is built by a command it knows nothing of.
func lookAtSources(root string) error {
	for _, dir := range []string{"cmd", "content", "data", "templates", ".ci"} {
		err := filepath.WalkDir(filepath.Join(root, dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.Name() == "node_modules" {
				return filepath.SkipDir
			}
			_, err = os.Stat(path)
			return err
		})
		if err != nil {
			return err
		}
	}
	_, err := os.Stat(filepath.Join(root, "go.sum"))
	return err
}

// run runs a program in a folder with more environment and returns all it printed
// and its exit code, -1 where it did not start.
func run(path, dir string, env []string, args ...string) (string, int) {
	cmd := exec.Command(path, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	if cmd.ProcessState == nil {
		return err.Error(), -1
	}
	return string(out), cmd.ProcessState.ExitCode()
}

// report fails the test with each thing that is wrong.
func report(t *testing.T, wrong []string) {
	t.Helper()
	const most = 40
	for i, w := range wrong {
		if i == most {
			t.Errorf("and %d more", len(wrong)-most)
			break
		}
		t.Error(w)
	}
}
