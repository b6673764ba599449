//go:build unix

package main_test

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
	"time"

	"shedwall/cmd/shedwall/internal/made"
	"shedwall/cmd/shedwall/internal/proof"
)

// BenchmarkRegion publishes made regions of 10, 100 and 1,000 bands, each in a process of
// its own, and tells what that took: 100 crops under 15 sets of covers, 12 stations of 30
// years, one language, pages as HTML and Markdown and each band's first sheet on both
// papers. Run it with -benchtime 1x; DEVELOPERS.md has the command.
func BenchmarkRegion(b *testing.B) {
	for _, bands := range []int{10, 100, 1000} {
		b.Run(fmt.Sprintf("bands=%d", bands), func(b *testing.B) {
			guide, site := b.TempDir(), filepath.Join(b.TempDir(), "site")
			if err := made.Usual(bands).Write(guide, os.DirFS(proof.Root(b))); err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if err := os.RemoveAll(site); err != nil { // else it would be taken over
					b.Fatal(err)
				}
				start := time.Now()
				cmd := exec.Command("shedwall", "publish", "--guide", guide, "--out", site)
				out, err := cmd.CombinedOutput()
				if err != nil {
					b.Fatalf("%v\n%s", err, out)
				}
				took := time.Since(start)
				usage := cmd.ProcessState.SysUsage().(*syscall.Rusage)
				work := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
				peak := float64(usage.Maxrss) / 1000 // of kB, as Linux counts; bytes on macOS
				if runtime.GOOS == "darwin" {
					peak /= 1000
				}
				files, size := weigh(b, site)
				n := float64(bands)
				b.ReportMetric(took.Seconds(), "s")
				b.ReportMetric(work.Seconds(), "CPU-s")
				b.ReportMetric(1000*work.Seconds()/n, "CPU-ms/band")
				b.ReportMetric(peak, "MB-peak")
				b.ReportMetric(peak/n, "MB-peak/band")
				b.ReportMetric(float64(files), "files")
				b.ReportMetric(float64(size)/1e6, "MB-site")
				b.ReportMetric(0, "ns/op") // seconds say it
			}
		})
	}
}

// weigh is how many files a folder has, and their bytes.
func weigh(t testing.TB, dir string) (files int, size int64) {
	t.Helper()
	err := filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if err == nil {
			files, size = files+1, size+info.Size()
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files, size
}
