package page

import (
	"bytes"
	"encoding/csv"
	"testing"
)

func TestCellsThatSpreadsheetsWouldRun(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "Kale": "Kale", "-2": "-2", "-2.5": "-2.5", "12-5": "12-5",
		"=1+1": "'=1+1", "+49 30": "'+49 30", "@home": "'@home", "-x": "'-x", "-": "'-", "-inf": "'-inf", "-1e3": "'-1e3", "+5": "+5", "-2+3": "'-2+3",
		"\t=1": "'\t=1", "\r=1": "'\r=1",
	} {
		if got := safeCell(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}

// Rows are what Go's own writer of such tables writes with CRLF at the end of lines.
func TestRowsOfCells(t *testing.T) {
	cells := []string{"", "Kale", "Bean, fava", `a "quoted" word`, " leading", "two\nlines", "two\r\nlines", "-2", "=1+1", "ñandú", "a,\"b\"\nc", ",", `"`}
	for i := range cells {
		row := append(append([]string{"first"}, cells[i:]...), cells[:i]...)
		var want bytes.Buffer
		w := csv.NewWriter(&want)
		w.UseCRLF = true
		safe := make([]string, len(row))
		for k, c := range row {
			safe[k] = safeCell(c)
		}
		if err := w.Write(safe); err != nil {
			t.Fatal(err)
		}
		w.Flush()
		if got := appendRow(nil, row...); string(got) != want.String() {
			t.Errorf("%q, want %q", got, want.Bytes())
		}
	}
}
