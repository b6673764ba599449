package render

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"shedwall/cmd/shedwall/internal/page"
	"shedwall/cmd/shedwall/internal/proof"
)

// BenchmarkSheet sets a sheet's PDF, as we draw it, beside the same sheet's page printed
// by a browser that is warm; its launch and its first print do not count.
func BenchmarkSheet(b *testing.B) {
	s := slopes()
	b.Run("pdf", func(b *testing.B) {
		size := 0
		for b.Loop() {
			pdf, err := SheetPDF(s, Letter)
			if err != nil {
				b.Fatal(err)
			}
			size = len(pdf)
		}
		b.ReportMetric(float64(size)/1000, "kB")
	})
	b.Run("browser", func(b *testing.B) {
		proof.Need(b, "browser")
		html, err := SheetHTML(s, page.SheetFrame{})
		if err != nil {
			b.Fatal(err)
		}
		file := filepath.Join(b.TempDir(), "sheet.html")
		if err := os.WriteFile(file, html, 0o644); err != nil {
			b.Fatal(err)
		}
		const times = 20
		cmd := exec.Command("node", "printing.mjs", file, "letter", strconv.Itoa(times))
		cmd.Dir = filepath.Join(proof.Root(b), ".ci")
		cmd.Stderr = os.Stderr
		out, err := cmd.Output()
		if err != nil {
			b.Fatal(err)
		}
		var told struct {
			Took  []float64 // milliseconds
			Bytes float64
		}
		if err := json.Unmarshal(out, &told); err != nil || len(told.Took) != times {
			b.Fatalf("%v in %s", err, out)
		}
		slices.Sort(told.Took)
		b.ReportMetric(told.Took[times/2]*1e6, "ns/op") // the middle one of twenty
		b.ReportMetric(told.Bytes/1000, "kB")
	})
}
