package intake

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// FreezeTables reads what is published of a guide's stations in place of a daily
// record: NCEI's normals among the files of data/records, which recognise themselves,
// and the dates of data/freeze.csv, which lie over them row by row. The map holds a
// table for each station that has one.
//
// A by-station file belongs to the station whose id its STATION column or its name
// bears (mill.csv, mill-monthly.csv, annualseasonal_1991-2020_USW00094765.csv), or to
// the one whose row in data/records.csv names it (file) or its STATION (station_id).
// Of the files of many stations each station takes its own lines, by its id or by its
// station_id. A station may have one table of dates and one of monthly normals.
//
// Everything wrong is told, also files that belong to no station.
func FreezeTables(guide fs.FS, tables *catalog.Tables, faults *diag.List) map[string]*record.Freeze {
	x := &freezeReader{faults: faults, hemisphere: tables.Hemisphere, out: map[string]*record.Freeze{}, dates: map[string]string{}}
	var told diag.List // Records tells what is wrong with records.csv
	r := &recordReader{guide: guide, faults: &told, told: map[string]bool{}}
	for i := range tables.Stations {
		r.ids = append(r.ids, tables.Stations[i].ID)
	}
	if len(r.ids) == 0 {
		Freeze(guide, faults) // its cells are looked at; that nobody owns them has its cause in stations.csv
		return x.out
	}
	x.mapped = r.mapped()
	for _, file := range publishedFiles(guide) {
		x.read(guide, file, r.ids)
	}
	x.typed(Freeze(guide, faults), r.ids)
	for _, id := range r.ids {
		x.finish(id)
	}
	return x.out
}

// freezeReader puts tables together, station by station.
type freezeReader struct {
	faults     *diag.List
	hemisphere quantity.Hemisphere
	mapped     map[string]recordSource
	out        map[string]*record.Freeze
	dates      map[string]string // station -> by-station file its dates are from, "" for files by variable
}

// publishedFiles lists the files of data/records that hold published normals, in the
// order of their names. Others are daily records.
func publishedFiles(guide fs.FS) []string {
	entries, err := fs.ReadDir(guide, recordsFolder)
	if err != nil {
		return nil // Records tells
	}
	var out []string
	for _, e := range entries {
		if file := path.Join(recordsFolder, e.Name()); !e.IsDir() && !strings.HasPrefix(e.Name(), ".") && isPublished(guide, file) {
			out = append(out, file)
		}
	}
	return out
}

// isPublished looks at the beginning of a file.
func isPublished(guide fs.FS, file string) bool {
	f, err := guide.Open(file)
	if err != nil {
		return false
	}
	defer f.Close()
	const enough = 4 << 10
	head, _ := io.ReadAll(io.LimitReader(f, enough)) // what cannot be read is told where it is read whole
	if bytes.HasPrefix(head, []byte{0x1f, 0x8b}) {
		z, err := gzip.NewReader(bytes.NewReader(head))
		if err != nil {
			return false
		}
		head, _ = io.ReadAll(io.LimitReader(z, enough)) // it ends in the middle
	}
	head = toUTF8(head)
	return isNormals(head) || isFixed(head)
}

// read reads one file and gives its stations what is theirs.
func (x *freezeReader) read(guide fs.FS, file string, ids []string) {
	t := &teller{file: file}
	defer func() { t.flush(x.faults) }()
	data, err := fs.ReadFile(guide, file)
	if err != nil {
		t.add(diag.Fault{ID: "file-unreadable", What: "it cannot be read: " + reason(err), Expected: "a file that can be read", Cure: "check that you may read it"})
		return
	}
	text, ok := unpack(data, t)
	if !ok {
		return
	}
	claimed, names := 0, []string(nil)
	if isFixed(text) {
		f := readFixed(file, text, t)
		if f == nil {
			return
		}
		names = f.stations
		for _, id := range ids {
			if x.fixed(id, file, f, t) {
				claimed++
			}
		}
	} else {
		list := readNormals(file, text, t)
		if list == nil {
			return
		}
		for _, p := range list {
			names = append(names, p.id)
		}
		for _, id := range ids {
			if p := x.theirs(id, file, list, ids); p != nil {
				x.station(id, file, *p, t)
				claimed++
			}
		}
	}
	if claimed == 0 {
		t.add(diag.Fault{
			ID: "freeze-unclaimed", Severity: diag.Warning, What: "these published normals belong to no station of the guide; they are of " + someNames(names),
			Expected: "a station's id in the file's name, or a row in data/records.csv that names the file", Cure: "rename it after the station, or take it out of the folder",
		})
	}
}

func someNames(names []string) string {
	const some = 5
	list := strings.Join(names[:min(some, len(names))], ", ")
	if more := len(names) - some; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}

// theirs is what a by-station file says of a station of the guide; nil where it is not
// for it.
func (x *freezeReader) theirs(id, file string, list []publishedStation, ids []string) *publishedStation {
	m := x.mapped[id]
	for i := range list {
		p := &list[i]
		switch {
		case m.mapping.Station != "" && sameStation(p.id, m.mapping.Station),
			m.mapping.Station == "" && sameStation(p.id, id),
			len(list) == 1 && m.file == file,
			len(list) == 1 && named(file, ids) == id && !x.other(file, p.id, id):
			return p
		}
	}
	return nil
}

// other says that records.csv gives a file, or the station it is of, to another station.
func (x *freezeReader) other(file, published, id string) bool {
	for station, m := range x.mapped {
		if station != id && (m.file == file || m.mapping.Station != "" && sameStation(m.mapping.Station, published)) {
			return true
		}
	}
	return false
}

// named is the longest station id that stands in a file's name as a word of its own,
// "" for none.
func named(file string, ids []string) string {
	name, best := " "+plainWords(stem(file))+" ", ""
	for _, id := range ids {
		if len(id) > len(best) && strings.Contains(name, " "+plainWords(id)+" ") {
			best = id
		}
	}
	return best
}

func plainWords(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune("-_. ", r) }), " ")
}
