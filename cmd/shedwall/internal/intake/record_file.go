package intake

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"path"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/record"
)

// maxRecordBytes keeps a wrong or hostile file from filling the memory: 150 years
// of a hundred stations fit.
const maxRecordBytes = 256 << 20

// Record reads one file of daily temperatures into one record a station, in the
// order in which stations first appear. Layouts that recognise themselves by their
// content need no mapping:
//
//   - GHCN-Daily fixed width (.dly), tenths of a degree C, quality flags;
//   - the NOAA CSV export (STATION, DATE, TMIN, TMAX; attributes where present);
//   - our own plain layout (date, tmin_c, tmax_c or tmin_f, tmax_f; station where
//     there are several);
//   - any table whose headings can be read in one way only, which is then told.
//
// Everything else needs a mapping, and what a mapping says wins. The file may be
// gzip-compressed; text may be UTF-8, UTF-16 with a mark or Windows-1252; lines may
// end in LF, CR LF or CR; cells may be separated by commas, semicolons or tabs.
//
// Blank cells and the usual words and numbers for "missing" are gaps. Readings
// that cannot be used are left out and counted in record.Dropped. Whatever could be
// read in two ways (a unit not said, 3/4/2001) is a fault. Where there is a fault of
// severity Error the records must not be used, and are nil.
func Record(file string, data []byte, m Mapping, faults *diag.List) []record.Daily {
	t := &teller{file: file}
	defer t.flush(faults)
	text, ok := unpack(data, t)
	if !ok {
		return nil
	}
	if isNormals(text) || isFixed(text) {
		t.add(diag.Fault{
			ID: "record-is-published", What: "these are published normals, not a daily record", Expected: "one row a day, or one line a month (.dly)",
			Cure: "in a guide they may stand in data/records in place of a record; to look at odds alone, download the station's daily record",
		})
		return nil
	}
	var raw []readings
	if isDly(text) {
		raw = readDly(text, m, t)
	} else {
		raw = readCSV(text, m, t)
	}
	if t.failed {
		return nil
	}
	var out []record.Daily
	for i := range raw {
		if raw[i].station == "" {
			raw[i].station = stationOf(file, m)
		}
		if d, ok := raw[i].daily(t, len(raw) == 1); ok {
			d.File = file
			out = append(out, d)
		}
	}
	if t.failed {
		return nil
	}
	return out
}

// stationOf names the station of a file that does not: what the mapping says, else
// the file's name without its endings.
func stationOf(file string, m Mapping) string {
	if m.Station != "" {
		return m.Station
	}
	return stem(file)
}

// stem is a file's name without folder and endings: "records/KBOS.csv.gz" is KBOS.
func stem(file string) string {
	name := path.Base(strings.ReplaceAll(file, `\`, "/"))
	name = strings.TrimSuffix(name, ".gz")
	return strings.TrimSuffix(name, path.Ext(name))
}

// unpack turns the bytes of a record file into UTF-8 text with LF line ends.
func unpack(data []byte, t *teller) ([]byte, bool) {
	if bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
		var ok bool
		if data, ok = gunzip(data, t); !ok {
			return nil, false
		}
	}
	if len(data) > maxRecordBytes {
		t.add(diag.Fault{
			ID: "record-too-large", What: fmt.Sprintf("the file holds more than %d MB", maxRecordBytes>>20),
			Expected: "the daily record of a few stations", Cure: "keep only the stations of this guide in it",
		})
		return nil, false
	}
	if what, cure := notARecord(data); what != "" {
		t.add(diag.Fault{ID: "record-not-text", What: what, Expected: "a text file of daily temperatures", Cure: cure})
		return nil, false
	}
	if isDly(data) {
		return data, true // digits and letters in fixed places: nothing to decode
	}
	data = toUTF8(data)
	if bytes.IndexByte(data, '\r') >= 0 { // editors count CR LF, LF and CR alike as one line end
		data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	if len(bytes.TrimSpace(data)) == 0 {
		t.add(diag.Fault{
			ID: "record-empty", What: "the file is empty", Expected: "a daily record: one row a day, or one line a month (.dly)",
			Cure: "download the record again",
		})
		return nil, false
	}
	return data, true
}

func gunzip(data []byte, t *teller) ([]byte, bool) {
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err == nil {
		data, err = io.ReadAll(io.LimitReader(z, maxRecordBytes+1))
	}
	if err != nil {
		t.add(diag.Fault{
			ID: "record-not-text", What: "the compressed file is broken: " + err.Error(), Expected: "a whole .gz file",
			Cure: "download it again, or unpack it and use the text",
		})
		return nil, false
	}
	return data, true
}

// notARecord names a file that is no text of readings by its first bytes.
func notARecord(data []byte) (what, cure string) {
	head := bytes.ToLower(bytes.TrimSpace(bytes.TrimPrefix(data[:min(len(data), 256)], []byte("\ufeff"))))
	switch {
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return "this is a spreadsheet or zip file", "unpack it, or open it in the spreadsheet program and save it as CSV"
	case bytes.HasPrefix(head, []byte("<")):
		return "this is a web page: perhaps an error page saved in place of the record", "download the record again"
	case bytes.HasPrefix(head, []byte("version https://git-lfs.")):
		return "this is a pointer of Git LFS, not the record itself", "fetch the real file with: git lfs pull"
	case bytes.HasPrefix(data, []byte("%PDF")):
		return "this is a PDF", "ask the station's keeper for the readings as CSV"
	}
	return "", ""
}

// toUTF8 decodes UTF-16 with a byte-order mark and Windows-1252; of a record only
// headings and names can hold other letters than ASCII, so nothing is told.
func toUTF8(data []byte) []byte {
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		return fromUTF16(data[2:], 0, 1)
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		return fromUTF16(data[2:], 1, 0)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if utf8.Valid(data) {
		return data
	}
	if out, err := charmap.Windows1252.NewDecoder().Bytes(data); err == nil {
		return out
	}
	return data
}

func fromUTF16(data []byte, low, high int) []byte {
	units := make([]uint16, 0, len(data)/2)
	for i := 0; i+1 < len(data); i += 2 {
		units = append(units, uint16(data[i+low])|uint16(data[i+high])<<8)
	}
	return []byte(string(utf16.Decode(units)))
}

// maxTold is how many faults of one kind are listed of one file; a record has
// thousands of rows, and the twentieth of a kind teaches nothing new.
const maxTold = 20

// teller collects the faults of one file, at most maxTold of a kind, and says how
// many more there were.
type teller struct {
	file   string
	list   []diag.Fault
	counts []toldCount
	failed bool // an Error is among them
}

type toldCount struct {
	first diag.Fault
	n     int
}

func (t *teller) add(f diag.Fault) {
	f.At.File = t.file
	if f.Severity == diag.Error {
		t.failed = true
	}
	for i := range t.counts {
		if t.counts[i].first.ID == f.ID {
			t.counts[i].n++
			if t.counts[i].n <= maxTold {
				t.list = append(t.list, f)
			}
			return
		}
	}
	t.counts = append(t.counts, toldCount{f, 1})
	t.list = append(t.list, f)
}

func (t *teller) flush(to *diag.List) {
	to.Add(t.list...)
	for _, c := range t.counts {
		if more := c.n - maxTold; more > 0 {
			to.Add(diag.Fault{
				At: diag.Position{File: t.file}, ID: c.first.ID, Severity: c.first.Severity,
				What: fmt.Sprintf("%d more of the same kind in this file", more),
				Cure: "mend the ones listed first; often one cause stands behind all",
			})
		}
	}
}
