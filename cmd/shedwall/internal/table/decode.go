package table

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"shedwall/cmd/shedwall/internal/diag"
)

// decode turns the bytes of a file into UTF-8 text whose lines end in \n. It
// reports what the file is where it is no table, and is false then.
//
// Read are UTF-8 and UTF-16 with a byte-order mark, UTF-8 without one, and
// Windows-1252, which is told. A file that mixes encodings, or is UTF-16 without
// a mark, is refused by name.
func (s *sheet) decode(data []byte) (string, bool) {
	if len(data) > MaxBytes {
		s.fault(diag.Fault{
			ID: "table-too-large", What: fmt.Sprintf("the file is larger than %d MB", MaxBytes>>20),
			Expected: fmt.Sprintf("a table of at most %d MB", MaxBytes>>20), Cure: "keep only the rows of this guide in it",
		})
		return "", false
	}
	if what, cure := foreign(data); what != "" {
		s.fault(diag.Fault{ID: "table-not-csv", What: what, Expected: "a CSV table: text, one row a line", Cure: cure})
		return "", false
	}
	text, ok := s.unicode(data)
	if !ok {
		return "", false
	}
	// Editors count \r\n, \n and \r alike as one line end.
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	if strings.TrimSpace(text) == "" {
		s.fault(diag.Fault{
			ID: "table-empty", What: "the file is empty",
			Expected: "a row of headings and rows under it", Cure: "save the table again, or delete the file if it is not needed",
		})
		return "", false
	}
	return text, s.conflictFree(text) && s.commentsOnly(text)
}

// foreign names a file that is no CSV table, by its first bytes; "" where
// nothing speaks against a table.
func foreign(data []byte) (what, cure string) {
	const spreadsheet = "open it in the spreadsheet program and save it as CSV"
	head := bytes.ToLower(bytes.TrimSpace(bytes.TrimPrefix(data[:min(len(data), 512)], []byte("\ufeff"))))
	starts := func(p string) bool { return bytes.HasPrefix(data, []byte(p)) }
	switch {
	case starts("PK\x03\x04"), starts("PK\x05\x06"):
		return "this is a spreadsheet or zip file (.xlsx or .ods), not a CSV table", spreadsheet
	case starts("\xd0\xcf\x11\xe0"):
		return "this is an old spreadsheet file (.xls), not a CSV table", spreadsheet
	case starts("%PDF"):
		return "this is a PDF, not a CSV table", "type the table into a spreadsheet and save it as CSV"
	case starts("\x1f\x8b"):
		return "this is a compressed file, not a CSV table", "unpack it first"
	case starts("{\\rtf"):
		return "this is a word processor's file, not a CSV table", "save the table from a spreadsheet as CSV"
	case bytes.HasPrefix(head, []byte("<!doctype")), bytes.HasPrefix(head, []byte("<html")),
		bytes.HasPrefix(head, []byte("<?xml")), bytes.HasPrefix(head, []byte("<table")):
		return "this is a web page (HTML) or XML, not a CSV table: perhaps an error page saved in its place",
			"download the table again, or save it from the spreadsheet as CSV"
	case bytes.HasPrefix(head, []byte("version https://git-lfs.github.com/spec/")):
		return "this is a pointer of Git LFS, not the table itself", "fetch the real file with: git lfs pull"
	}
	return "", ""
}

// unicode decodes to UTF-8 without a byte-order mark.
func (s *sheet) unicode(data []byte) (string, bool) {
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe\x00\x00")), bytes.HasPrefix(data, []byte("\x00\x00\xfe\xff")):
		return s.refuseUTF16("the file is UTF-32")
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		return s.fromUTF16(data[2:], func(b []byte) uint16 { return uint16(b[0]) | uint16(b[1])<<8 })
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		return s.fromUTF16(data[2:], func(b []byte) uint16 { return uint16(b[1]) | uint16(b[0])<<8 })
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if n := bytes.Count(data, []byte{0}); n > 0 {
		// Latin text in UTF-16 has a zero in every second byte.
		if n*5 >= len(data)*2 {
			return s.refuseUTF16("the file looks like UTF-16 without a byte-order mark")
		}
		s.fault(diag.Fault{
			At: place(data, bytes.IndexByte(data, 0)), ID: "character-nul", What: fmt.Sprintf("the text holds zero bytes (%d), the first here", n),
			Expected: "text only", Cure: "save the table again from the spreadsheet as CSV UTF-8; the file may be damaged",
		})
		return "", false
	}
	if utf8.Valid(data) {
		return string(data), true
	}
	return s.fromWindows(data)
}

func (s *sheet) refuseUTF16(what string) (string, bool) {
	s.fault(diag.Fault{
		ID: "encoding-unmarked", What: what, Expected: "UTF-8, or UTF-16 with a byte-order mark",
		Cure: "save the table again as \"CSV UTF-8\"",
	})
	return "", false
}

func (s *sheet) fromUTF16(data []byte, unit func([]byte) uint16) (string, bool) {
	units := make([]uint16, 0, len(data)/2)
	for i := 0; i+1 < len(data); i += 2 {
		units = append(units, unit(data[i:]))
	}
	runes := utf16.Decode(units)
	text := string(runes)
	if bad := strings.IndexAny(text, "\ufffd\x00"); bad >= 0 || len(data)%2 != 0 {
		at := diag.Position{}
		if bad >= 0 {
			at = place([]byte(text), bad)
		}
		s.fault(diag.Fault{
			At: at, ID: "encoding-unreadable", What: "the file is marked as UTF-16 but is broken",
			Expected: "whole UTF-16 characters", Cure: "save the table again as \"CSV UTF-8\"",
		})
		return "", false
	}
	return text, true
}

// fromWindows decodes Windows-1252, the usual encoding of older spreadsheet
// exports, and tells where. The five bytes that it does not define, and a file
// that also holds proper UTF-8 letters, are refused.
func (s *sheet) fromWindows(data []byte) (string, bool) {
	var out strings.Builder
	out.Grow(len(data) + len(data)/8)
	first, count, seen := -1, 0, ""
	for i := 0; i < len(data); {
		b := data[i]
		if b < utf8.RuneSelf {
			out.WriteByte(b)
			i++
			continue
		}
		if r, size := utf8.DecodeRune(data[i:]); r != utf8.RuneError || size > 1 {
			s.refuseMixed(data, i)
			return "", false
		}
		r := charmap.Windows1252.DecodeByte(b)
		if r == utf8.RuneError || r >= 0x80 && r < 0xa0 {
			s.fault(diag.Fault{
				At: place(data, i), ID: "encoding-unreadable", What: fmt.Sprintf("byte %02X is no letter in UTF-8 nor in Windows-1252", b),
				Expected: "UTF-8", Cure: "save the table again as \"CSV UTF-8\"",
			})
			return "", false
		}
		if first < 0 {
			first = i
		}
		count++
		if !strings.ContainsRune(seen, r) && len(seen) < 40 {
			seen += string(r)
		}
		out.WriteRune(r)
		i++
	}
	s.fault(diag.Fault{
		At: place(data, first), ID: "encoding-windows", Severity: diag.Notice,
		What:     fmt.Sprintf("byte %02X read as %q: the file is not UTF-8 and was read as Windows-1252 (%d such characters: %s)", data[first], charmap.Windows1252.DecodeByte(data[first]), count, seen),
		Expected: "UTF-8", Cure: "look whether these letters are right, and save the table as \"CSV UTF-8\"",
	})
	return out.String(), true
}

// refuseMixed reports a file in which both UTF-8 letters and bytes that are not UTF-8
// stand; neither reading of the whole file would be right.
func (s *sheet) refuseMixed(data []byte, letter int) {
	bad := 0
	for bad < len(data) {
		r, size := utf8.DecodeRune(data[bad:])
		if r == utf8.RuneError && size <= 1 {
			break
		}
		bad += size
	}
	r, _ := utf8.DecodeRune(data[letter:])
	s.fault(diag.Fault{
		At: place(data, bad), ID: "encoding-mixed",
		What:     fmt.Sprintf("byte %02X is not UTF-8, but %q on line %d is", data[bad], r, place(data, letter).Line),
		Expected: "one encoding in the whole file, UTF-8", Cure: "retype the letter here and save the table as \"CSV UTF-8\"",
	})
}

// place is the line and the character column of a byte, counting bytes that are
// not UTF-8 as one character each, as an editor shows them.
func place(data []byte, at int) diag.Position {
	line, start := 1, 0
	for i := 0; i < at; i++ {
		if data[i] == '\n' || data[i] == '\r' && (i+1 == len(data) || data[i+1] != '\n') {
			line++
			start = i + 1
		}
	}
	return diag.Position{Line: line, Column: utf8.RuneCount(data[start:at]) + 1}
}

// conflictFree reports the marks that a version control program leaves in a file
// that two people changed: both versions of a row stand in it.
func (s *sheet) conflictFree(text string) bool {
	line := 0
	for l := range strings.Lines(text) {
		line++
		if strings.HasPrefix(l, "<<<<<<< ") || strings.HasPrefix(l, ">>>>>>> ") {
			s.fault(diag.Fault{
				At: diag.Position{Line: line, Column: 1}, ID: "table-conflict", What: fmt.Sprintf("%q marks rows that two people changed", l[:7]),
				Expected: "one version of each row", Cure: "choose between the versions and delete the marked lines",
			})
			return false
		}
	}
	return true
}

// commentsOnly reports a file of nothing but lines that start with #. It is true
// where there is something else.
func (s *sheet) commentsOnly(text string) bool {
	for l := range strings.Lines(text) {
		if l = strings.TrimSpace(l); l != "" && l[0] != '#' {
			return true
		}
	}
	s.fault(diag.Fault{
		ID: "table-empty", What: "the file holds only lines that start with #",
		Expected: "a row of headings and rows under it", Cure: "take the # away from the table's lines, or delete the file",
	})
	return false
}
