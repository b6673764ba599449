package table

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"shedwall/cmd/shedwall/internal/diag"
)

// utf16le is text in UTF-16, little end first, without a mark.
func utf16le(s string) string {
	var b strings.Builder
	for _, u := range utf16.Encode([]rune(s)) {
		b.WriteByte(byte(u))
		b.WriteByte(byte(u >> 8))
	}
	return b.String()
}

func utf16be(s string) string {
	b := []byte(utf16le(s))
	for i := 0; i+1 < len(b); i += 2 {
		b[i], b[i+1] = b[i+1], b[i]
	}
	return string(b)
}

func TestEncodingsAndLineEnds(t *testing.T) {
	const bom = "\ufeff"
	want := []string{"kale|Col piña|-9.5c", "bean|Bean|0.5c"}
	lf := "crop,name,kill_c\nkale,Col piña,-9.5\nbean,Bean,0.5\n"
	for name, data := range map[string]string{
		"UTF-8":                           lf,
		"UTF-8 with mark":                 bom + lf,
		"mark and quoted first heading":   bom + strings.Replace(lf, "crop", `"crop"`, 1),
		"UTF-16 little end first":         "\xff\xfe" + utf16le(lf),
		"UTF-16 big end first":            "\xfe\xff" + utf16be(lf),
		"CRLF":                            strings.ReplaceAll(lf, "\n", "\r\n"),
		"CR":                              strings.ReplaceAll(lf, "\n", "\r"),
		"all three":                       "crop,name,kill_c\r\nkale,Col piña,-9.5\rbean,Bean,0.5\n",
		"no end of the last line":         strings.TrimSuffix(lf, "\n"),
		"letters composed of two (NFD)":   strings.ReplaceAll(lf, "ñ", "n\u0303"),
		"empty columns on the right":      "crop,name,kill_c,,\nkale,Col piña,-9.5,,\nbean,Bean,0.5,,\n",
		"short rows":                      "crop,name,kill_c,weeks,note\nkale,Col piña,-9.5\nbean,Bean,0.5,\n",
		"spaces before quotes":            "crop, name, kill_c\nkale, \"Col piña\", -9.5\nbean, Bean, 0.5\n",
		"no-break and other thin spaces":  "crop,name,kill_c\n\u00a0kale,Col\u202fpiña,\u2009-9.5\nbean,Bean\u00a0,0.5\n",
		"columns in another order":        "kill_c,crop,name\n-9.5,kale,Col piña\n0.5,bean,Bean\n",
		"blank lines between rows":        "\n\ncrop,name,kill_c\n\nkale,Col piña,-9.5\n,,\nbean,Bean,0.5\n\n\n",
		"direction marks around a number": "crop,name,kill_c\nkale,Col piña,\u200e-9.5\u202c\nbean,Bean,0.5\n",
	} {
		rows, faults := readCrops(data)
		if !slices.Equal(rows, want) {
			t.Errorf("%s: got %q", name, rows)
		}
		for _, f := range faults {
			if f.ID != "id-read" {
				t.Errorf("%s: %s", name, f)
			}
		}
	}
}

func TestWindows1252IsToldWithLineAndLetter(t *testing.T) {
	rows, faults := readCrops("crop,name,kill_c\njalapeno,jalape\xf1o \x92x\x92,-2 \xb0C\n")
	if want := []string{"jalapeno|jalapeño ’x’|-2c"}; !slices.Equal(rows, want) {
		t.Errorf("got %q", rows)
	}
	if len(faults) != 1 || faults[0].Severity != diag.Notice ||
		!strings.HasPrefix(faults[0].String(), `t.csv:2:16: note: byte F1 read as 'ñ'`) || !strings.Contains(faults[0].What, "4 such characters: ñ’°") {
		t.Errorf("got %v", faults)
	}
}

func TestFilesThatAreNoTable(t *testing.T) {
	lf := "crop,name\nkale,Kale\n"
	for _, c := range []struct{ name, data, id, says string }{
		{"nothing", "", "table-empty", "empty"},
		{"mark only", "\ufeff", "table-empty", "empty"},
		{"blank lines", "\r\n \n\t\n", "table-empty", "empty"},
		{"comments only", "# crops\n# to follow\n", "table-empty", "start with #"},
		{"headings only", "crop,name\n", "table-no-rows", "no rows"},
		{"headings and a note", "crop,name\nSource: me,\n", "table-no-rows", "no rows"},
		{"workbook", "PK\x03\x04\x14\x00", "table-not-csv", ".xlsx"},
		{"old workbook", "\xd0\xcf\x11\xe0\xa1\xb1", "table-not-csv", ".xls"},
		{"error page", "\n<!DOCTYPE html>\n<title>404</title>", "table-not-csv", "HTML"},
		{"error page with a mark", "\ufeff<html>", "table-not-csv", "HTML"},
		{"PDF", "%PDF-1.7", "table-not-csv", "PDF"},
		{"gzip", "\x1f\x8b\x08", "table-not-csv", "compressed"},
		{"LFS pointer", "version https://git-lfs.github.com/spec/v1\noid sha256:4d7a\nsize 12\n", "table-not-csv", "LFS"},
		{"UTF-16 without mark", utf16le(lf), "encoding-unmarked", "UTF-16"},
		{"UTF-16 without mark, big end first", utf16be(lf), "encoding-unmarked", "UTF-16"},
		{"UTF-32", "\xff\xfe\x00\x00c\x00\x00\x00", "encoding-unmarked", "UTF-32"},
		{"half a character", "\xff\xfe" + utf16le(lf) + "x", "encoding-unreadable", "broken"},
		{"lone surrogate", "\xff\xfe" + utf16le(lf) + "\x00\xd8", "encoding-unreadable", "broken"},
		{"zero byte", "crop,name\nkale,Ka\x00le\n", "character-nul", "zero"},
		{"byte of no encoding", "crop,name\nkale,Ka\x81le\n", "encoding-unreadable", "81"},
		{"two encodings", "crop,name\nkale,piña\nbean,pi\xf1a\n", "encoding-mixed", "F1"},
		{"two versions", "crop,name\n<<<<<<< mine\nkale,a\n=======\nkale,b\n>>>>>>> theirs\n", "table-conflict", "<<<<<<<"},
		{"another table", "station,elevation_m\nmill,612\n", "heading-row-missing", "none of the first"},
		{"no headings", "kale,-4\nbean,0\n", "heading-row-missing", "none of the first"},
		{"very large", strings.Repeat("x", MaxBytes+1), "table-too-large", "20 MB"},
		{"very wide", "crop" + strings.Repeat(",name", MaxColumns) + "\nkale\n", "table-too-wide", "201 columns"},
	} {
		rows, faults := readCrops(c.data)
		if len(rows) != 0 || len(faults) == 0 {
			t.Errorf("%s: rows %q, faults %v", c.name, rows, faults)
			continue
		}
		if f := faults[0]; f.ID != c.id || !strings.Contains(f.What, c.says) || f.Cure == "" {
			t.Errorf("%s: %v", c.name, faults)
		}
		if _, ok := diag.Explain(c.id); !ok {
			t.Errorf("%s: %s is not explained", c.name, c.id)
		}
	}
}

// TestPlaces holds that positions are what an editor and a spreadsheet show. The
// expected places were counted by hand in the text below.
func TestPlaces(t *testing.T) {
	data := "\ufeffTitle,,\r\n" + // line 1
		"\r\n" + // line 2
		"crop,name,kill_c\r\n" + // line 3
		"kale,\"a\r\nb, ñ\",x1\r\n" + // lines 4 and 5; the cell x1 is on line 5
		"\r\n" + // line 6
		"bean,ñandú,x2\r\n" + // line 7
		"pea, \"q\"\"q\" ,x3\r\n" + // line 8: something after the quote
		"rye,\"\",  x4\r\n" // line 9
	_, faults := readCrops(data)
	var got []string
	for _, f := range faults {
		got = append(got, f.At.String()+" "+f.ID)
	}
	want := []string{
		"t.csv:1:1 row-title",
		// In the spreadsheet the two lines of the name are one row, 4; empty lines count.
		"t.csv:5:7, cell C4 (kill_c) number-unreadable",
		"t.csv:7:12, cell C6 (kill_c) number-unreadable",
		"t.csv:8:11 quote-broken", // the closing quote
		"t.csv:9:10, cell C8 (kill_c) number-unreadable",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestLongRowsAndManyFaultsStop(t *testing.T) {
	_, faults := readCrops("crop,name\nkale,\"" + strings.Repeat("x", MaxRowBytes) + "\"\nbean,Bean\n")
	if got := complaints(faults); !slices.Equal(got, []string{"2:row-too-large"}) {
		t.Errorf("got %q", got)
	}
	_, faults = readCrops("crop,kill_c\n" + strings.Repeat("kale,x\n", 3000))
	if n := len(faults); n != maxFaults+1 || faults[n-1].ID != "faults-too-many" {
		t.Errorf("%d faults, the last %v", n, faults[n-1])
	}
	_, faults = readCrops("crop,name\n" + strings.Repeat("kale,\"x\n", 3000))
	if n := len(faults); n < maxBrokenRows || n > maxBrokenRows+3 || !slices.Contains(complaints(faults), "22:faults-too-many") {
		t.Errorf("%d faults: %q", n, complaints(faults))
	}
}

// TestColumnNames compares with spreadsheets: after Z comes AA,
// after ZZ comes AAA.
func TestColumnNames(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := columnName(i); got != want {
			t.Errorf("column %d is %s, got %s", i, want, got)
		}
	}
}

func TestMessages(t *testing.T) {
	_, faults := readCrops("crop,kill_c,weeks\nkale,\"-9,5\",4-Feb\nbean,-0.5,55-65\npea,½,\n")
	var got []string
	for _, f := range faults {
		got = append(got, f.String())
	}
	want := []string{
		`t.csv:2:6, cell B2 (kill_c): "-9,5" would be -9.5 with a decimal comma, but this file writes decimals with a point; expected a number of degrees such as -2.2; write decimals with a point in the whole file [number-decimals-mixed]`,
		`t.csv:2:13, cell C2 (weeks): "4-Feb" looks like 2-4 that a spreadsheet changed into a date; expected a number of weeks such as 6; type the number again in a column formatted as text [number-date]`,
		`t.csv:3:11, cell C3 (weeks): "55-65" is a range; expected a number of weeks such as 6; write one number; ranges go into a low and a high column [number-range]`,
		`t.csv:4:5, cell B4 (kill_c): "½" has a fraction; expected a number of degrees such as -2.2; write it as a decimal number [number-unreadable]`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
