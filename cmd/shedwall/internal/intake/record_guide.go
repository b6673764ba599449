package intake

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/table"
)

const (
	recordsFolder = "data/records"
	recordsTable  = "data/records.csv"
	freezeTable   = "data/freeze.csv"
)

// recordRow is a row of records.csv: how the record of a station is to be read.
// Only records whose layout is not known need one.
type recordRow struct {
	Station   table.Cell `csv:"station" table:"key"`
	File      table.Cell `csv:"file"`               // in data/records; the station's own file if blank
	Date      table.Cell `csv:"date_columns"`       // heading, or three joined by +: year+month+day
	DayOfYear table.Cell `csv:"day_of_year_column"` // heading; date_columns is then the year's
	Tmin      table.Cell `csv:"tmin_column"`
	Tmax      table.Cell `csv:"tmax_column"`
	Unit      table.Cell `csv:"unit"`           // c, f, tenths_c
	Missing   table.Cell `csv:"missing"`        // further texts for "no reading", separated by ;
	StationIn table.Cell `csv:"station_column"` // heading
	StationID table.Cell `csv:"station_id"`     // what that column says for this station
	Note      table.Cell `csv:"note"`
}

// recordSource is where a station's record comes from.
type recordSource struct {
	station string
	file    string // path in the guide folder
	mapping Mapping
	at      diag.Position // what named it, for faults
}

// Records reads the records of a guide's stations: of each station the file in
// data/records that bears its id (mill.csv, mill.dly, mill.csv.gz), or what a row of
// data/records.csv says, several stations from one file included. The map holds a
// record for each station that has one. Stations without a record or a published table,
// files that belong to no station, and everything wrong in the files are told. Readings
// after the date of the edition are left out and told: one wrong year would else move the
// years that are used. Files of published normals are left to FreezeTables.
func Records(guide fs.FS, tables *catalog.Tables, faults *diag.List) map[string]*record.Daily {
	var doubts diag.List // FreezeTables tells them itself
	r := &recordReader{
		guide: guide, faults: faults, read: map[string]*readRecord{}, told: map[string]bool{},
		tables: FreezeTables(guide, tables, &doubts), normals: publishedFiles(guide), doubtful: doubts.HasErrors(),
	}
	for i := range tables.Stations {
		r.ids = append(r.ids, tables.Stations[i].ID)
	}
	out := map[string]*record.Daily{}
	if len(r.ids) == 0 {
		return out // what is wrong with stations.csv was told: all files would seem to belong to nobody
	}
	sources := r.sources(tables)
	uses := map[string]int{}
	for _, s := range sources {
		uses[s.file]++
	}
	r.readAll(sources, uses)
	for _, s := range sources {
		d, ok := r.daily(s, uses[s.file] > 1)
		if ok = ok && upTo(&d, tables.Guide.EditionDate, faults); ok {
			d.Station = s.station
			out[s.station] = &d
		}
	}
	r.tellEmpty(tables, sources)
	return out
}

// recordReader reads each file once, however many stations it serves.
type recordReader struct {
	guide  fs.FS
	faults *diag.List
	ids    []string
	read   map[string]*readRecord // by recordSource.key
	told   map[string]bool        // stations whose missing record has been told

	tables   map[string]*record.Freeze // stations with a published table
	normals  []string                  // files that hold published normals
	doubtful bool                      // some published table has faults of its own
}

// sources says, in the order of the stations, where each one's record is.
func (r *recordReader) sources(tables *catalog.Tables) []recordSource {
	files := r.files()
	mapped := r.mapped()
	claimed := map[string]bool{}
	var out []recordSource
	for i := range tables.Stations {
		st := &tables.Stations[i]
		s, isMapped := mapped[st.ID]
		own := files[st.ID]
		switch {
		case isMapped && slices.Contains(r.normals, s.file), isMapped && s.file == "" && len(own) == 0 && r.tables[st.ID] != nil:
			continue
		case isMapped && s.file != "":
		case len(own) > 1:
			for _, f := range own {
				claimed[f] = true
			}
			r.told[st.ID] = true
			r.faults.Add(diag.Fault{
				At: diag.Position{File: own[1]}, ID: "record-file-twice", What: fmt.Sprintf("station %s has two records: %s and %s", st.ID, path.Base(own[0]), path.Base(own[1])),
				Expected: "one file a station", Cure: "delete one, or name the right one in data/records.csv",
			})
			continue
		case len(own) == 1:
			s.file = own[0]
		case isMapped:
			r.told[st.ID] = true
			r.faults.Add(diag.Fault{
				At: s.at, ID: "record-file-unknown", What: fmt.Sprintf("there is no record of %s in %s", st.ID, recordsFolder),
				Expected: "a file named " + st.ID + ".csv or .dly, or the column file", Cure: "name the file",
			})
			continue
		default:
			continue
		}
		if !isMapped {
			s.at = diag.Position{File: s.file}
		}
		s.station = st.ID
		claimed[s.file] = true
		out = append(out, s)
	}
	r.tellUnclaimed(files, claimed)
	return out
}

// files lists data/records by the station id that each file's name says.
func (r *recordReader) files() map[string][]string {
	entries, err := fs.ReadDir(r.guide, recordsFolder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		r.faults.Add(unreadable(recordsFolder, err))
	}
	out := map[string][]string{}
	for _, e := range entries {
		name := e.Name()
		if e.IsDir() || strings.HasPrefix(name, ".") || strings.EqualFold(stem(name), "readme") || slices.Contains(r.normals, path.Join(recordsFolder, name)) {
			continue
		}
		id := strings.ToLower(stem(name))
		out[id] = append(out[id], path.Join(recordsFolder, name))
	}
	return out
}

func unreadable(file string, err error) diag.Fault {
	var pathErr *fs.PathError
	if errors.As(err, &pathErr) {
		err = pathErr.Err // the path is said already
	}
	return diag.Fault{
		At: diag.Position{File: file}, ID: "record-file-unreadable", What: "it cannot be read: " + err.Error(),
		Expected: "a file that can be read", Cure: "check that it is there and that you may read it",
	}
}

// mapped reads data/records.csv, if there is one.
func (r *recordReader) mapped() map[string]recordSource {
	out := map[string]recordSource{}
	data, err := fs.ReadFile(r.guide, recordsTable)
	if errors.Is(err, fs.ErrNotExist) {
		return out
	}
	if err != nil {
		r.faults.Add(unreadable(recordsTable, err))
		return out
	}
	for _, row := range table.Read[recordRow](recordsTable, data, table.Spec{Owner: figure.Own}, r.faults) {
		id := row.Station.KeyID(r.ids)
		if id == "" {
			continue
		}
		if !slices.Contains(r.ids, id) {
			cure := "add it to stations.csv, or delete the row"
			if near := diag.Nearest(id, r.ids); near != "" {
				cure = fmt.Sprintf("did you mean %q?", near)
			}
			row.Station.Fault("record-station-unlisted", fmt.Sprintf("station %q is not in stations.csv", id), "the id of a station", cure)
			continue
		}
		if _, twice := out[id]; twice {
			row.Station.Fault("record-row-twice", fmt.Sprintf("station %q has a row already", id), "one row a station", "delete one of the rows")
			continue
		}
		s := recordSource{at: row.Station.At(), mapping: row.mapping()}
		if name := row.File.Text(); name != "" {
			if s.file = path.Join(recordsFolder, name); !fs.ValidPath(name) || strings.Contains(name, `\`) {
				r.told[id] = true
				row.File.Fault("record-file-unknown", fmt.Sprintf("%q is no file in %s", name, recordsFolder), "a file name such as mill.csv", "copy the file into "+recordsFolder+" and name it here")
				continue
			}
		}
		out[id] = s
	}
	return out
}

func (row recordRow) mapping() Mapping {
	m := Mapping{
		DayOfYear: row.DayOfYear.Text(), Tmin: row.Tmin.Text(), Tmax: row.Tmax.Text(),
		StationColumn: row.StationIn.Text(), Station: row.StationID.Text(),
	}
	if date := row.Date.Text(); date != "" {
		m.Date = SplitColumns(date, "+")
		if n := len(m.Date); n != 1 && n != 3 || n == 3 && m.DayOfYear != "" {
			row.Date.Fault("record-columns-wrong", fmt.Sprintf("%q names %d columns", date, n), "one heading, or three as in year+month+day; with day_of_year the year alone", "name one or three headings")
			m.Date = nil
		}
	}
	if u := row.Unit.Word("c", "f", "tenths_c"); u != "" {
		m.Unit = RecordUnits[u]
	}
	if texts := row.Missing.Text(); texts != "" {
		m.Missing = SplitColumns(texts, ";")
	}
	return m
}

// SplitColumns takes a list apart at a separator; spaces around the parts and empty
// parts are dropped.
func SplitColumns(list, separator string) []string {
	var out []string
	for part := range strings.SplitSeq(list, separator) {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// readRecord is what a file says when it is read in one way, with its faults until the
// first station that wants it tells them.
type readRecord struct {
	list   []record.Daily
	faults diag.List
}

// key is the way in which a station's file is read. A file that serves several is read
// once, for all of them.
func (s recordSource) key(shared bool) (string, Mapping) {
	m := s.mapping
	if shared {
		m.Station = ""
	}
	return fmt.Sprintf("%s %+v", s.file, m), m
}

// readAll reads the files of sources, as many at a time as there are processors. uses is
// how many stations each serves.
func (r *recordReader) readAll(sources []recordSource, uses map[string]int) {
	var hands sync.WaitGroup
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	for _, s := range sources {
		key, m := s.key(uses[s.file] > 1)
		if r.read[key] != nil {
			continue
		}
		x := &readRecord{}
		r.read[key] = x
		free <- struct{}{}
		hands.Go(func() {
			defer func() { <-free }()
			if data, err := fs.ReadFile(r.guide, s.file); err != nil {
				x.faults.Add(unreadable(s.file, err))
			} else {
				x.list = Record(s.file, data, m, &x.faults)
			}
		})
	}
	hands.Wait()
}

// daily is the record of one station. shared says that the file serves several.
func (r *recordReader) daily(s recordSource, shared bool) (record.Daily, bool) {
	key, _ := s.key(shared)
	x := r.read[key]
	r.faults.Merge(x.faults)
	x.faults = diag.List{}
	list := x.list
	if len(list) == 1 && (s.mapping.Station == "" || !shared) {
		return list[0], true
	}
	wanted := s.mapping.Station
	if wanted == "" {
		wanted = s.station
	}
	var names []string
	for _, d := range list {
		if sameStation(d.Station, wanted) {
			return d, true
		}
		names = append(names, d.Station)
	}
	if len(list) > 0 {
		f := diag.Fault{
			At: s.at, ID: "record-station-unknown", What: fmt.Sprintf("%s holds several stations, and none is called %q", s.file, wanted),
			Expected: "one of " + strings.Join(names[:min(len(names), 20)], ", "),
			Cure:     "say in data/records.csv which one it is (station_id)",
		}
		r.faults.Add(f)
	}
	return record.Daily{}, false
}

// tellUnclaimed reports files in data/records that no station uses.
func (r *recordReader) tellUnclaimed(files map[string][]string, claimed map[string]bool) {
	for id, list := range files {
		for _, f := range list {
			if claimed[f] {
				continue
			}
			cure := "name it after a station, or take it out of the folder"
			if near := diag.Nearest(id, r.ids); near != "" {
				cure = fmt.Sprintf("did you mean station %q?", near)
			}
			r.faults.Add(diag.Fault{
				At: diag.Position{File: f}, ID: "record-file-unclaimed", Severity: diag.Warning,
				What: "no station is called " + id + ", so this record is not used", Expected: "the id of a station in stations.csv", Cure: cure,
			})
		}
	}
}

// tellEmpty reports stations from which no date can be made, and published tables
// that stand behind a record.
func (r *recordReader) tellEmpty(tables *catalog.Tables, sources []recordSource) {
	has := map[string]bool{}
	for _, s := range sources {
		has[s.station] = true
	}
	for i := range tables.Stations {
		st := &tables.Stations[i]
		switch f := r.tables[st.ID]; {
		case has[st.ID] && f != nil:
			r.faults.Add(behindRecord(f))
			continue
		case has[st.ID], f != nil, r.told[st.ID], r.doubtful:
			continue
		}
		f := diag.Fault{
			At: st.Cell, ID: "record-none", Severity: diag.Warning, What: fmt.Sprintf("station %q has no record, so nothing is made from it", st.ID),
			Expected: fmt.Sprintf("a file %s/%s.csv or .dly, published normals, or dates in %s", recordsFolder, st.ID, freezeTable), Cure: "add one of them, or delete the station",
		}
		if len(sources) == 0 && len(r.tables) == 0 {
			f.Severity = diag.Error // without a single record or table there is no guide
		}
		r.faults.Add(f)
	}
}
