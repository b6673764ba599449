package table

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"shedwall/cmd/shedwall/internal/diag"
)

// FuzzRead holds that no file brings the reader down, that every fault stands
// within the file, and that a table without faults, written plainly and read
// again, is the same table.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"crop,name,kill_c\nkale,Kale,-9.5\n", "\ufeff\"crop\";kill_c\r\nkale;-9,5\r\n", "crop\tkill_f\rkale\t28 °F\r",
		"Title\n\ncrop,name,es\nkale,\"a\nb\",col\n\nSource: me,,\n", "crop,kill\nkale,28F\nbean,<-2 C*\n",
		"crop,height_m\nkale,\"1,250.5\"\nbean,1'250\n", "crop,weeks\nkale,2-4\nbean,4-Feb\n", "crop,name\nkale,\"x\nbean,y\n",
		"crop,name\nkale,jalape\xf1o\n", "\xff\xfec\x00r\x00o\x00p\x00\n\x00a\x00", "crop,kill_c\nkale,−4†\nＫＡＬＥ,?\n", "sep=;\ncrop;name\nkale;x\n",
	} {
		f.Add([]byte(seed))
	}
	for _, pattern := range []string{"../../../../data/*.csv", "../../../../data/builtin/*.csv"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			f.Fatal(pattern, err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data[:min(len(data), 3000)])
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var faults diag.List
		rows := Read[crop]("t.csv", data, Spec{Open: func(h string) bool { return h == "es" }}, &faults)
		lines := 1 + bytes.Count(data, []byte("\n")) + bytes.Count(data, []byte("\r"))
		more := make([]bool, len(rows)) // whether a row says something in the columns that cellTexts leaves out
		for i, r := range rows {
			more[i] = slices.ContainsFunc(r.More, func(x Extra) bool { return clean(x.Cell.text) != "" })
		}
		texts := cellTexts(rows)
		for _, r := range rows {
			r.ID.KeyID([]string{"kale"})
			r.Kill.Amount(degrees)
			r.Gain.Amount(kelvins)
			r.Height.Amount(heights)
			r.Weeks.Range()
			r.Weeks.Amount(weeks)
			r.Start.Word("inside", "set_out")
			r.Edible.YesNo()
		}
		for _, f := range faults.Sorted() {
			if f.At.File != "t.csv" || f.At.Line < 0 || f.At.Line > lines || f.At.Column < 0 || f.At.Column > len(data)+1 {
				t.Errorf("fault outside the file of %d lines: %s", lines, f)
			}
			if _, ok := diag.Explain(f.ID); !ok {
				t.Errorf("%s is not explained", f.ID)
			}
		}
		if len(rows) == 0 || faults.HasErrors() {
			return
		}
		var again diag.List
		plain := plainCSV(texts)
		got := cellTexts(Read[crop]("t.csv", []byte(plain), Spec{}, &again))
		// A row that said more may be a remark without it, or the headings once more; then it is
		// told. Each row is a line now.
		for _, f := range slices.Backward(again.Sorted()) {
			if i := f.At.Line - 2; f.ID == "row-note" && more[i] {
				texts = slices.Delete(texts, i, i+1)
			}
		}
		if !slices.EqualFunc(got, texts, slices.Equal) {
			for _, f := range again.Sorted() {
				t.Log(f)
			}
			t.Errorf("read again: got %q, want %q", got, texts)
		}
	})
}

// FuzzNumber holds that a cell is read as a number within its range or refused with a
// fault, and that the number written plainly is the same number.
func FuzzNumber(f *testing.F) {
	for _, s := range []string{"-9.5", "-9,5", "1 250", "1'250", "1.250,5", "28F", "-2.2 °C", "<900", "900+", "~-4", "c. -4", "-4 (1)", "-4†", "010", "0x10", "1e3", "NaN", "٣", "½", "2-4", "4-Feb", "−4", "- 4", "3000 ft"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if strings.ContainsAny(s, "\"\r\n\x00") || !utf8.ValidString(s) || len(s) > 200 {
			return
		}
		read := func(cell string) (float64, bool, diag.List) {
			var faults diag.List
			rows := Read[crop]("t.csv", []byte("crop,kill_c\nkale,\""+cell+"\"\n"), Spec{}, &faults)
			if len(rows) != 1 {
				return 0, false, faults
			}
			v, known := rows[0].Kill.Amount(degrees).Get()
			return v.Value, known, faults
		}
		v, known, faults := read(s)
		if !known {
			return
		}
		if math.IsNaN(v) || math.IsInf(v, 0) || faults.HasErrors() {
			t.Fatalf("%q is %v, %v", s, v, faults.Sorted())
		}
		if again, known, faults := read(strconv.FormatFloat(v, 'f', -1, 64)); !known || again != v {
			t.Errorf("%q is %v, written plainly %v %v", s, v, again, faults.Sorted())
		}
	})
}

// cellTexts is every named cell of every row, in the order of the struct.
func cellTexts(rows []crop) [][]string {
	var out [][]string
	for i := range rows {
		rows[i].More = nil
		var row []string
		Each(&rows[i], func(c *Cell) { row = append(row, clean(c.text)) })
		out = append(out, row)
	}
	return out
}

// plainCSV writes rows under the canonical headings.
func plainCSV(rows [][]string) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write([]string{"crop", "name", "kill_c", "gain_k", "height_m", "weeks", "start", "edible", "note"})
	w.WriteAll(rows)
	return b.String()
}

// BenchmarkRead reads a table of 1 MB and asks for its numbers.
func BenchmarkRead(b *testing.B) {
	var t strings.Builder
	t.WriteString("crop,name,kill_c,gain_k,height_m,weeks,start,edible,note\n")
	for i := 0; t.Len() < 1<<20; i++ {
		fmt.Fprintf(&t, "crop_%d,\"Crop, number %d\",-%d.%d,1.5,%d,6,inside,yes,Sow thin and early\n", i, i, i%9, i%10, 500+i%700)
	}
	data := []byte(t.String())
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		var faults diag.List
		rows := Read[crop]("t.csv", data, Spec{}, &faults)
		for _, r := range rows {
			r.ID.KeyID(nil)
			r.Kill.Amount(degrees)
			r.Gain.Amount(kelvins)
			r.Height.Amount(heights)
		}
		if faults.Len() != 0 {
			b.Fatal(faults.Sorted())
		}
	}
}
