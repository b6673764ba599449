package main

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shedwall/content"
	"shedwall/data"
)

// BenchmarkPublishRow is what somebody waits for who changed one row of crops.csv: the
// program begun anew over the site of the demo guide that it made before, the row another
// each time.
//
// It works in memory where the system has a folder for that: ext4 gives no inode anew within
// minutes of its deletion and looks past each of these for every new file, so that a dozen
// publishes in a row on a disk are slower than the one that is meant.
func BenchmarkPublishRow(b *testing.B) {
	top, err := os.MkdirTemp("/dev/shm", "shedwall-*")
	if err != nil {
		top = b.TempDir()
	} else {
		defer os.RemoveAll(top)
	}
	program, guide := filepath.Join(top, "shedwall"), filepath.Join(top, "guide")
	run := func(name string, args ...string) *exec.Cmd {
		cmd := exec.Command(name, args...)
		if out, err := cmd.CombinedOutput(); err != nil {
			b.Fatalf("%v: %s", err, out)
		}
		return cmd
	}
	run("go", "build", "-o", program, ".")
	for folder, fsys := range map[string]fs.FS{"data": data.FS, "content": content.FS} {
		if err := os.CopyFS(filepath.Join(guide, folder), own{fsys}); err != nil {
			b.Fatal(err)
		}
	}
	n := 0
	publish := func() *exec.Cmd {
		n++
		row := fmt.Sprintf("crop,days_low,days_high,source\narugula,%d,60,own\n", 35+n%2)
		if err := os.WriteFile(filepath.Join(guide, "data/crops.csv"), []byte(row), 0o644); err != nil {
			b.Fatal(err)
		}
		return run(program, "publish", "--guide", guide, "--out", filepath.Join(top, "site"))
	}
	publish()
	var used, worst time.Duration
	for b.Loop() {
		began := time.Now()
		state := publish().ProcessState
		worst = max(worst, time.Since(began))
		used += state.UserTime() + state.SystemTime()
	}
	b.ReportMetric(float64(used.Milliseconds())/float64(b.N), "CPU-ms/op")
	b.ReportMetric(worst.Seconds(), "s-slowest")
}

// own is a folder without the tables that the program has.
type own struct{ fs.FS }

func (o own) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(o.FS, name)
	var out []fs.DirEntry
	for _, e := range entries {
		if e.Name() != "builtin" && !strings.HasSuffix(e.Name(), ".go") {
			out = append(out, e)
		}
	}
	return out, err
}
