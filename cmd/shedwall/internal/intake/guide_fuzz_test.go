package intake

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/edition"
	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/quantity"
)

// realFiles is the beginning of every file of the demo that a pattern names.
func realFiles(t testing.TB, pattern string, most int) map[string][]byte {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(proof.Root(t), filepath.FromSlash(pattern)))
	if err != nil || len(names) == 0 {
		t.Fatalf("%s: %d files, %v", pattern, len(names), err)
	}
	out := map[string][]byte{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if len(data) > most {
			data = data[:bytes.LastIndexByte(data[:most], '\n')+1]
		}
		out[filepath.Base(name)] = data
	}
	return out
}

// FuzzGuide holds that no table of a guide brings the reader of guides down, whichever it
// stands for, and that every fault is explained and names a file.
func FuzzGuide(f *testing.F) {
	defaults := fstest.MapFS{}
	for name, data := range realFiles(f, "data/builtin/*.csv", 1500) {
		defaults["data/builtin/"+name] = &fstest.MapFile{Data: data}
	}
	base := map[string]string{}
	for name, data := range realFiles(f, "data/*.csv", 4000) {
		f.Add(name, data)
		base["data/"+name] = string(data)
	}
	for name, data := range realFiles(f, "data/builtin/*.csv", 2000) {
		f.Add(name, data)
	}
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		if !fsName(name) || len(data) > 20_000 {
			return
		}
		guide := fstest.MapFS{}
		for _, needed := range []string{"guide.csv", "stations.csv", "bands.csv", "places.csv"} {
			guide["data/"+needed] = &fstest.MapFile{Data: []byte(base["data/"+needed])}
		}
		guide["data/"+name] = &fstest.MapFile{Data: data}
		var faults diag.List
		tables := Tables(guide, defaults, &faults)
		if tables == nil {
			t.Fatal("no tables")
		}
		for _, f := range faults.Sorted() {
			if _, ok := diag.Explain(f.ID); !ok || f.What == "" || f.At.File == "" {
				t.Errorf("%v is not explained or stands nowhere", f)
			}
		}
	})
}

func fsName(name string) bool {
	for _, known := range knownTables {
		if name == known {
			return true
		}
	}
	return false
}

// FuzzEdition holds that a kept edition that can be read is written as it was.
func FuzzEdition(f *testing.F) {
	f.Add(edition.Write(inventedEdition()))
	for _, data := range realFiles(f, "data/editions/*.csv", 4000) {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		read := func(data []byte) (any, int) {
			var faults diag.List
			e := Edition(fstest.MapFS{"data/editions/2.csv": {Data: data}}, 2, &faults)
			if e == nil {
				return nil, faults.Len()
			}
			again := edition.Write(e)
			var none diag.List
			if got := Edition(fstest.MapFS{"data/editions/2.csv": {Data: again}}, 2, &none); !reflect.DeepEqual(got, e) {
				t.Errorf("written and read again: %+v\nwant %+v\n%v\n%s", got, e, none.Sorted(), again)
			}
			return e, faults.Len()
		}
		if e, told := read(data); e == nil && told == 0 {
			t.Error("refused without a word")
		}
	})
}

// FuzzDate holds that a text is read as a date that exists and is read again from its
// plain form, or refused with a reason and a cure.
func FuzzDate(f *testing.F) {
	for _, s := range []string{"2026-03-05", "05-18", "6-may", "Sept. 3", "3 de mayo de 2024", "29 Feb", "5/6", "5/6/68", "45413", "12th March, 2020", "0-0", "Mai 6", "1 МАЯ"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, what, cure := readDate(s, true)
		if what != "" {
			if cure == "" || d != (date{}) {
				t.Errorf("%q: %v refused, cure %q", s, d, cure)
			}
			return
		}
		year, plain := d.year, fmt.Sprintf("%02d-%02d", d.month, d.day)
		if year == 0 {
			year = 2000
		} else {
			plain = fmt.Sprintf("%04d-%s", d.year, plain)
		}
		if !quantity.ValidDate(year, d.month, d.day) {
			t.Errorf("%q is read as %v", s, d)
		}
		if again, what, _ := readDate(plain, true); again != d || what != "" {
			t.Errorf("%q is %v, its plain form %s is %v %s", s, d, plain, again, strings.TrimSpace(what))
		}
	})
}
