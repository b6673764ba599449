package render

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
)

// TestInkOfMarks: by hand. A square of 10 x 10 mm and a line of 100 mm, 0.25 mm wide =
// 2 dots of 0.127 mm = 0.254 mm, on a paper of 100 x 100 mm: (100 + 25.4) / 10000.
func TestInkOfMarks(t *testing.T) {
	d := &drawing{width: 100, height: 100}
	d.fill(fill{box: rect{0, 0, 10, 10}})
	d.strokes(strokes{width: 0.25, segs: []seg{{0, 50, 100, 50}}})
	if got := d.ink(); math.Abs(got-0.01254) > 1e-9 {
		t.Errorf("%.5f, want 0.01254", got)
	}
	d.strokes(strokes{width: 0.25, dash: dash{1, 3}, segs: []seg{{0, 50, 100, 50}}}) // a quarter of it
	if got := d.ink(); math.Abs(got-0.013175) > 1e-9 {
		t.Errorf("dashed: %.6f, want 0.013175", got)
	}
}

// TestInkOfASheet sets the estimate beside the dots that a rasterizer paints at 200 dpi
// in two tones. Half a percent of the paper is granted: the painter fills every dot that
// a line touches.
func TestInkOfASheet(t *testing.T) {
	proof.Need(t, "pdf")
	s := slopes()
	want, err := SheetInk(s, A4)
	if err != nil {
		t.Fatal(err)
	}
	pdf, err := SheetPDF(s, A4)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "s.pdf"), pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("pdftoppm", "-r", "200", "-mono", filepath.Join(dir, "s.pdf"), filepath.Join(dir, "s")).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	got := blackShare(t, filepath.Join(dir, "s-1.pbm"))
	t.Logf("estimate %.2f %%, painted %.2f %%", 100*want, 100*got)
	if math.Abs(got-want) > 0.005 {
		t.Errorf("estimate %.2f %%, painted %.2f %%", 100*want, 100*got)
	}
	if want < 0.01 || want > 0.12 {
		t.Errorf("a sheet of %.1f %% black: too pale or too dark to be one", 100*want)
	}
}

// blackShare is the share of black dots of a picture of two tones (PBM, P4).
func blackShare(t *testing.T, file string) float64 {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var w, h int
	if _, err := fmt.Sscanf(strings.SplitN(string(data[:40]), "\n", 3)[1], "%d %d", &w, &h); err != nil {
		t.Fatal(err)
	}
	rows := data[len(data)-(w+7)/8*h:]
	black := 0
	for _, b := range rows {
		black += bytes.Count([]byte(fmt.Sprintf("%08b", b)), []byte("1"))
	}
	return float64(black) / float64(w*h)
}
