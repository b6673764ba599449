package intake

import (
	"fmt"
	"maps"
	"math"
	"path"
	"slices"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// table is the table of a station, made where there is none yet.
func (x *freezeReader) table(id string) *record.Freeze {
	if x.out[id] == nil {
		x.out[id] = &record.Freeze{Station: id}
	}
	return x.out[id]
}

// station gives a station what a by-station file says of it.
func (x *freezeReader) station(id, file string, p publishedStation, t *teller) {
	f := x.table(id)
	if p.normals != nil {
		if f.Normals != nil {
			t.add(diag.Fault{
				ID: "freeze-twice", What: fmt.Sprintf("station %s has monthly normals in %s already", id, path.Base(f.Normals.File)),
				Expected: "one table of monthly normals a station", Cure: "keep one of the two files",
			})
			return
		}
		f.Normals = p.normals
	}
	if len(p.freeze.Rows) > 0 {
		if x.datedTwice(id, file, t) {
			return
		}
		f.From, f.To, f.Years = p.freeze.From, p.freeze.To, p.freeze.Years
		f.Rows, f.Spans = slices.Clone(p.freeze.Rows), slices.Clone(p.freeze.Spans)
	}
	f.Files = append(f.Files, file)
}

// datedTwice reports dates from a second publication.
func (x *freezeReader) datedTwice(id, file string, t *teller) bool {
	first, dated := x.dates[id]
	if dated {
		t.add(diag.Fault{
			ID: "freeze-twice", What: fmt.Sprintf("station %s has published freeze dates already, from %s", id, path.Base(first)),
			Expected: "one table of freeze dates a station: two are of different years", Cure: "keep one of the two, the newer as a rule",
		})
	}
	x.dates[id] = file
	return dated
}

// fixed gives a station its line of a file by variable. Several such files make one
// table together.
func (x *freezeReader) fixed(id, file string, f *fixedFile, t *teller) bool {
	wanted := id
	if m := x.mapped[id].mapping.Station; m != "" {
		wanted = m
	}
	wanted = strings.ToUpper(strings.TrimPrefix(wanted, "GHCND:"))
	row, dated := f.rows[wanted]
	span, spanned := f.spans[wanted]
	if !dated && !spanned {
		return slices.Contains(f.stations, wanted) // it is meant, although nothing is known
	}
	table := x.table(id)
	if first, ok := x.dates[id]; ok && !isFixedName(first) {
		return !x.datedTwice(id, file, t)
	}
	x.dates[id] = file
	if dated {
		if slices.ContainsFunc(table.Rows, func(r record.FreezeRow) bool { return sameRow(r, row) }) {
			t.add(diag.Fault{
				ID: "freeze-twice", What: fmt.Sprintf("another file has the same temperature and odds for station %s", id),
				Expected: "each file once", Cure: "keep one of the two",
			})
			return true
		}
		table.Rows = append(table.Rows, row)
	}
	if spanned {
		table.Spans = append(table.Spans, span)
	}
	table.From, table.To = 1981, 2010 // the only years for which NCEI published such files
	table.Files = append(table.Files, file)
	return true
}

func isFixedName(file string) bool { return reFixedName.MatchString(stem(file) + ".") }

// sameRow says that two rows answer one question. Thresholds are one to 0.1 C.
func sameRow(a, b record.FreezeRow) bool {
	return a.Event == b.Event && roundTenth(a.Below) == roundTenth(b.Below) && a.Odds == b.Odds
}

func roundTenth(t quantity.Celsius) float64 { return math.Round(float64(t) * 10) }

// typed lays the rows of freeze.csv over what was read.
func (x *freezeReader) typed(rows map[string][]record.FreezeRow, ids []string) {
	for _, id := range ids {
		for _, r := range rows[id] {
			f := x.table(id)
			f.Typed = true
			f.Rows = append(slices.DeleteFunc(f.Rows, func(old record.FreezeRow) bool { return sameRow(old, r) }), r)
			if !slices.Contains(f.Files, r.At.File) {
				f.Files = append(f.Files, r.At.File)
			}
		}
	}
	x.tellUnlisted(rows, ids)
}

// tellUnlisted reports typed rows of stations that the guide does not have.
func (x *freezeReader) tellUnlisted(rows map[string][]record.FreezeRow, ids []string) {
	for _, id := range slices.Sorted(maps.Keys(rows)) {
		if slices.Contains(ids, id) {
			continue
		}
		cure := "add it to stations.csv, or delete the row"
		if near := diag.Nearest(id, ids); near != "" {
			cure = fmt.Sprintf("did you mean %q?", near)
		} else if len(ids) == 1 {
			cure = fmt.Sprintf("did you mean %q, the only station there? Else %s", ids[0], cure)
		}
		for _, r := range rows[id] {
			x.faults.Add(diag.Fault{
				At: r.StationAt, ID: "freeze-station-unlisted", What: fmt.Sprintf("station %q is not in stations.csv", id), Expected: "the id of a station", Cure: cure,
			})
		}
	}
}

// finish looks at a station's table as a whole. Typed dates must be in order; what is
// smoothed by a publisher may lie a day on the wrong side and is put in order later.
func (x *freezeReader) finish(id string) {
	f := x.out[id]
	if f == nil {
		return
	}
	if len(f.Rows) == 0 {
		x.faults.Add(diag.Fault{
			At: diag.Position{File: f.Files[0]}, ID: "freeze-only-months", Severity: diag.Warning,
			What:     fmt.Sprintf("station %s has monthly normals without freeze dates, and no date can be made from means", id),
			Expected: "the station's annual and seasonal normals too, or dates in data/freeze.csv", Cure: "add them; until then the means are not used",
		})
		delete(x.out, id)
		return
	}
	list := outOfSeason(f.Rows, x.hemisphere)
	if early, found := lastBeforeFirst(f.Rows, x.hemisphere); found && f.Typed && len(list) == 0 {
		list = append(list, early)
	}
	if len(list) > 0 {
		x.faults.Add(list...)
		delete(x.out, id)
		return
	}
	r, wrong := misordered(f.Rows)
	if wrong == "" && f.Typed {
		r, wrong = crossed(f.Rows)
	}
	if wrong != "" {
		x.faults.Add(diag.Fault{
			At: r.At, ID: "freeze-order", What: wrong, Expected: "rarer harm, and harm to tenderer plants, later in spring and earlier in fall",
			Cure: "look at both dates and at what the odds mean: the chance of harm after a last or before a first date",
		})
		delete(x.out, id)
	}
}

// crossed finds two thresholds, one of them typed, whose dates at the same odds are the
// wrong way round.
func crossed(rows []record.FreezeRow) (record.FreezeRow, string) {
	for _, cold := range rows {
		for _, warm := range rows {
			typed := cold.At.File == freezeTable || warm.At.File == freezeTable
			if !typed || cold.Event != warm.Event || cold.Odds != warm.Odds || cold.Below >= warm.Below || cold.State != record.FreezeDate || warm.State != record.FreezeDate {
				continue
			}
			if way := daysOn(cold, warm); way < 0 {
				return cold, fmt.Sprintf("the %s date for %.1f C, %v, lies on the wrong side of that for %.1f C, %v", cold.Event, float64(cold.Below), cold.Date, float64(warm.Below), warm.Date)
			}
		}
	}
	return record.FreezeRow{}, ""
}

// daysOn is how many days nearer to midsummer the date of b is than that of a, the
// shorter way round the year.
func daysOn(a, b record.FreezeRow) int {
	const year = quantity.SlotsPerYear
	way := (int(quantity.North.SlotOf(b.Date)-quantity.North.SlotOf(a.Date))+3*year/2)%year - year/2
	if a.Event == record.First {
		return -way
	}
	return way
}

// behindRecord tells that a table is not used because its station has a record.
func behindRecord(f *record.Freeze) diag.Fault {
	return diag.Fault{
		At: diag.Position{File: f.Files[0]}, ID: "freeze-not-used", Severity: diag.Notice,
		What: fmt.Sprintf("station %s has a daily record, which answers more than its published table: the table is not used", f.Station),
	}
}
