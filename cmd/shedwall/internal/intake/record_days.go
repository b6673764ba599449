package intake

import (
	"fmt"
	"strings"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Years a record may speak of. Others are slips: an allocation for every day
// between 0199 and 1999 would be the price of one.
const (
	firstYear = 1700
	lastYear  = 2199
)

func plausibleYear(y int) bool { return y >= firstYear && y <= lastYear }

// Temperatures a thermometer in a screen may have shown, in hundredths of a
// degree C: -89.2 and 56.7 are the coldest and hottest known.
const (
	coldest = -9000
	hottest = 6000
)

// noReading is no value of a reading.
const noReading = -1 << 31

// readings is what a file says about one station, in order of days from first; days
// that were not read, and those before and after the file's own, are quantity.Missing.
type readings struct {
	station string
	first   quantity.Day
	sides   [2][]quantity.Hundredths // minima, maxima
	lines   []int32                  // of the day's first minimum, else of its first maximum; 0 = none

	from, to     quantity.Day             // days read: from up to, not including, to
	seen         [2]bool                  // anything was read of a side
	contradicted [2]map[quantity.Day]bool // days given with different values

	wholeF  bool // every value was a whole number of degrees F
	tenthC  bool // the file's values are whole tenths of a degree C
	dropped record.Dropped
	changes []record.Change // what the file tells of the station
}

// The sides of a reading.
const (
	minima = iota
	maxima
)

// add takes a row in hundredths of a degree C; noReading where a side has none.
func (s *readings) add(day quantity.Day, low, high int, line int32) {
	s.reach(day, day+1)
	s.put(minima, day, s.plausible(low), line)
	s.put(maxima, day, s.plausible(high), line)
}

func (s *readings) plausible(v int) quantity.Hundredths {
	switch {
	case v == noReading:
		return quantity.Missing
	case v < coldest || v > hottest:
		s.dropped.Implausible++
		return quantity.Missing
	}
	return quantity.Hundredths(v)
}

// put takes one reading of a day within reach. The same day again with the same value
// is one reading; with another value there is none, since nobody can say which is right.
func (s *readings) put(side int, day quantity.Day, v quantity.Hundredths, line int32) {
	if !v.Known() {
		return
	}
	i := day - s.first
	at := &s.sides[side][i]
	switch {
	case !at.Known() && !s.contradicted[side][day]:
		*at = v
		if side == minima || s.lines[i] == 0 {
			s.lines[i] = line
		}
		s.saw(side, day)
	case !at.Known():
	case *at == v:
		s.dropped.Repeated++
	default:
		if s.contradicted[side] == nil {
			s.contradicted[side] = map[quantity.Day]bool{}
		}
		s.contradicted[side][day] = true
		*at = quantity.Missing
		s.dropped.Contradicted++
	}
}

// saw widens the days read by one.
func (s *readings) saw(side int, day quantity.Day) {
	if !s.seen[minima] && !s.seen[maxima] {
		s.from, s.to = day, day+1
	}
	s.seen[side] = true
	s.from, s.to = min(s.from, day), max(s.to, day+1)
}

// reach makes room for the days a up to, not including, b. Room doubles, so that files in
// any order are read in time.
func (s *readings) reach(a, b quantity.Day) {
	n := quantity.Day(len(s.lines))
	if n > 0 && a >= s.first && b <= s.first+n {
		return
	}
	const spare = 1024 // days
	first, end := a, b+spare
	if n > 0 {
		first, end = s.first, s.first+n
		if a < first {
			first = a - max(spare, n)
		}
		if b > end {
			end = b + max(spare, n)
		}
	}
	at := int(s.first - first)
	if n == 0 {
		at = 0
	}
	for side := range s.sides {
		grown := noReadings(int(end - first))
		copy(grown[at:], s.sides[side])
		s.sides[side] = grown
	}
	lines := make([]int32, end-first)
	copy(lines[at:], s.lines)
	s.first, s.lines = first, lines
}

// daily is the readings as a record of the days that were read. A minimum above its
// maximum drops both. alone says that the file holds no other station: then a record
// without minima stops, else it is left out and told.
func (s *readings) daily(t *teller, alone bool) (record.Daily, bool) {
	if !s.seen[minima] {
		t.add(s.noMinima(alone))
		return record.Daily{}, false
	}
	a, b := s.from-s.first, s.to-s.first
	d := record.Daily{
		Station: s.station, Start: s.from, Dropped: s.dropped,
		Min: s.sides[minima][a:b:b], Max: s.sides[maxima][a:b:b], Lines: s.lines[a:b:b],
	}
	kept := 0
	for i := range d.Min {
		if d.Min[i] > d.Max[i] && d.Max[i].Known() {
			d.Min[i], d.Max[i] = quantity.Missing, quantity.Missing
			d.Dropped.MinOverMax++
		}
		if d.Min[i].Known() || d.Max[i].Known() {
			kept++
		}
	}
	d.Step = s.step(&d)
	d.Changes = s.changes
	tellChanges(s.station, s.changes, t)
	doubts(&d, t)
	strayYear(&d, t)
	s.judge(&d, kept, max(len(s.contradicted[minima]), len(s.contradicted[maxima])), t)
	return d, true
}

func noReadings(n int) []quantity.Hundredths {
	v := make([]quantity.Hundredths, n)
	if n > 0 {
		v[0] = quantity.Missing
	}
	for i := 1; i < n; i *= 2 { // copying is faster than setting each
		copy(v[i:], v[:i])
	}
	return v
}

func (s *readings) noMinima(alone bool) diag.Fault {
	f := diag.Fault{
		ID: "record-no-minima", What: "station " + s.station + " has no daily minimum that can be used",
		Expected: "daily minimum temperatures: frost is told by them alone",
		Cure:     "name the column of minima, or use the file that holds them",
	}
	if !alone {
		f.Severity = diag.Warning
		f.Cure = "it is left out"
	}
	return f
}

// Shares of readings or days above which a file is not what it seems to be.
const (
	manyContradicted = 0.10 // of the days: several readings a day, or several stations
	manyImplausible  = 0.01 // of the readings: another unit or another quantity
	manyMinOverMax   = 0.02 // of the days: columns mixed up
)

// judge reports records that can be read but are hardly what was meant, by how many days
// were kept and how many contradict themselves.
func (s *readings) judge(d *record.Daily, kept, contradicted int, t *teller) {
	if n := kept + contradicted; float64(contradicted) > manyContradicted*float64(n) {
		t.add(diag.Fault{
			ID: "record-several-a-day", What: fmt.Sprintf("%d of %d days of station %s stand in the file more than once with different values", contradicted, n, s.station),
			Expected: "one minimum and one maximum a day", Cure: "if there are several stations in the file, name the column that tells them apart; hourly readings must be made into daily ones first",
		})
	} else if contradicted > 0 {
		day := s.firstContradicted()
		t.add(diag.Fault{
			At: lineOf(d, day), ID: "record-contradicted", Severity: diag.Warning,
			What:     fmt.Sprintf("station %s has %s in the file more than once with different values, the first %s: none of these values is used", s.station, days(contradicted), day.ISO()),
			Expected: "one minimum and one maximum a day", Cure: "look which of the rows is right and delete the other",
		})
	}
	if n := d.Dropped.Implausible; float64(n) > manyImplausible*float64(n+2*kept) {
		t.add(diag.Fault{
			ID: "record-implausible", What: fmt.Sprintf("%d readings of station %s lie below -90 C or above 60 C", n, s.station),
			Expected: "air temperatures", Cure: "check the unit and the columns",
		})
	}
	if n := d.Dropped.MinOverMax; float64(n) > manyMinOverMax*float64(n+kept) {
		t.add(diag.Fault{
			ID: "record-min-over-max", What: fmt.Sprintf("on %d of %d days of station %s the minimum is above the maximum", n, n+kept, s.station),
			Expected: "minima at or below maxima", Cure: "check whether the two columns were mixed up",
		})
	}
}

// firstContradicted is the first day that stands in the file with different values.
func (s *readings) firstContradicted() quantity.Day {
	first := s.to
	for _, side := range s.contradicted {
		for day := range side {
			first = min(first, day)
		}
	}
	return first
}

// step is the step of a record's readings: the coarsest of whole F, whole C, half C and
// 0.1 C that every kept value fits.
func (s *readings) step(d *record.Daily) record.StepKind {
	if s.wholeF {
		return record.WholeF
	}
	whole, half, tenth := true, true, true
	for _, side := range [2][]quantity.Hundredths{d.Min, d.Max} {
		for _, v := range side {
			if v == quantity.Missing {
				continue
			}
			if half {
				whole, half = whole && v%100 == 0, v%50 == 0
			} else if s.tenthC {
				break // nothing is left to be found out
			}
			tenth = tenth && (s.tenthC || v%10 == 0)
		}
	}
	switch {
	case whole:
		return record.WholeC
	case half:
		return record.HalfC
	case tenth:
		return record.TenthC
	}
	return record.HundredthC
}

// recordStations gathers readings by station, in the order of the file.
type recordStations struct {
	only  string // read this one alone, "" for all
	list  []readings
	index map[string]int
	other []string // ids passed over, in order, each once
	seen  map[string]bool
}

func newRecordStations(only string) *recordStations {
	return &recordStations{only: only, index: map[string]int{}, seen: map[string]bool{}}
}

// of is the place for a station's readings, nil where it is not wanted.
func (s *recordStations) of(id string) *readings {
	i, ok := s.index[id]
	if !ok {
		if s.only != "" && !sameStation(id, s.only) {
			if !s.seen[id] {
				s.seen[id] = true
				s.other = append(s.other, id)
			}
			return nil
		}
		i = len(s.list)
		s.index[id] = i
		s.list = append(s.list, readings{station: id})
	}
	return &s.list[i]
}

// sameStation compares ids; NOAA's export writes GHCND: before them.
func sameStation(a, b string) bool {
	const prefix = "GHCND:"
	return strings.EqualFold(strings.TrimPrefix(a, prefix), strings.TrimPrefix(b, prefix))
}

// found is what was gathered; a station asked for that is not there is a fault.
func (s *recordStations) found(t *teller) []readings {
	if len(s.list) > 0 {
		return s.list
	}
	switch {
	case len(s.other) > 0:
		const some = 20
		names := strings.Join(s.other[:min(some, len(s.other))], ", ")
		if more := len(s.other) - some; more > 0 {
			names += fmt.Sprintf(" and %d more", more)
		}
		f := diag.Fault{
			ID: "record-station-unknown", What: fmt.Sprintf("station %q is not in this file", s.only),
			Expected: "one of " + names, Cure: "write the station as the file does",
		}
		if near := diag.Nearest(s.only, s.other); near != "" {
			f.Cure = fmt.Sprintf("did you mean %q?", near)
		}
		t.add(f)
	case !t.failed:
		t.add(diag.Fault{
			ID: "record-no-minima", What: "the file holds no daily temperatures", Expected: "daily minimum temperatures: frost is told by them alone",
			Cure: "use the file that holds them",
		})
	}
	return nil
}
