package preview

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"shedwall/cmd/shedwall/internal/publish"
)

// Both measure from the moment a file is saved until the page that shows it has come
// through the server, on the demo guide as it is; each save says something new. cpu-ms is
// the work in it, of all threads, where the system tells: on a machine that does other
// things as well, the time is longer than that.

func BenchmarkPreviewMarkdown(b *testing.B) {
	for _, page := range []struct{ file, path string }{
		{"content/crops/kale.md", "crops/kale.html"},
		{"content/index.md", "index.html"},
		{"content/covers/tunnel.md", "covers/tunnel.html"},
		{"content/bands/thessock_slopes.md", "bands/thessock_slopes/index.html"},
	} {
		b.Run(page.file, func(b *testing.B) {
			dir := demo(b)
			file := filepath.Join(dir, filepath.FromSlash(page.file))
			text, err := os.ReadFile(file)
			if err != nil {
				b.Fatal(err)
			}
			saved(b, dir, page.path, func(i int) (string, []byte, string) {
				new := fmt.Sprintf("Save number %d.", i)
				return file, append(bytes.Clone(text), "\n\n"+new+"\n"...), new
			})
		})
	}
}

func BenchmarkPreviewCropRow(b *testing.B) {
	for _, page := range []string{"crops/kale.html", "bands/thessock_slopes/index.html", "bands/thessock_slopes/sheet.html"} {
		b.Run(page, func(b *testing.B) {
			dir := demo(b)
			saved(b, dir, page, func(i int) (string, []byte, string) {
				new := fmt.Sprintf("Kale %d", i)
				row := fmt.Sprintf("crop,name,young_damage_c,source\nkale,%s,%.1f,practice\n", new, -3-0.1*float64(i%20))
				return filepath.Join(dir, "data", "crops.csv"), []byte(row), new
			})
		})
	}
}

// demo is the demo guide in a folder of its own.
func demo(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	for _, top := range []string{"data", "content", "templates"} {
		if err := os.CopyFS(filepath.Join(dir, top), os.DirFS(filepath.Join(root, top))); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

const root = "../../../.."

// start serves a guide until the test ends, and gives its address.
func start(t testing.TB, dir string, say io.Writer) string {
	t.Helper()
	l, err := Listen("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() {
		done <- Serve(ctx, l, publish.OpenLive(os.DirFS(dir), os.DirFS(root)), say)
	}()
	t.Cleanup(func() {
		stop()
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	return Address(l)
}

// saved measures saves of a file until a page that holds something new was served.
func saved(b *testing.B, dir, page string, save func(i int) (file string, data []byte, new string)) {
	at := start(b, dir, io.Discard)
	get := func() []byte {
		r, err := http.Get(at + page)
		if err != nil {
			b.Fatal(err)
		}
		defer r.Body.Close()
		data, err := io.ReadAll(r.Body)
		if err != nil || r.StatusCode != http.StatusOK {
			b.Fatal(r.Status, err)
		}
		return data
	}
	get()
	n := 0
	var worst time.Duration
	busy := time.Duration(0)
	for b.Loop() {
		n++
		file, data, new := save(n)
		if err := os.WriteFile(file, data, 0o644); err != nil {
			b.Fatal(err)
		}
		began, work := time.Now(), worked()
		if !bytes.Contains(get(), []byte(new)) {
			b.Fatalf("%s does not show save %d", page, n)
		}
		worst = max(worst, time.Since(began))
		busy += worked() - work
	}
	b.ReportMetric(float64(worst)/1e6, "worst-ms")
	b.ReportMetric(float64(busy)/1e6/float64(n), "cpu-ms/op")
}
