package intake

import (
	"fmt"
	"slices"
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

// reading is one day's row in hundredths of a degree C; a side without a value is
// quantity.Missing.
type reading struct {
	day      quantity.Day
	min, max quantity.Hundredths
	line     int32
}

// readings is what a file says about one station, before days are put in order.
type readings struct {
	station string
	days    []reading
	wholeF  bool // every value was a whole number of degrees F
	dropped record.Dropped
}

// add takes a row in hundredths of a degree C; noReading where a side has none.
func (s *readings) add(day quantity.Day, low, high int, line int32) {
	a, b := s.plausible(low), s.plausible(high)
	if a.Known() || b.Known() {
		s.days = append(s.days, reading{day, a, b, line})
	}
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

// daily puts the readings in order of days. The same day again with the same value
// is one reading; with another value there is none, since nobody can say which is
// right. A minimum above its maximum drops both. alone says that the file holds no
// other station: then a record without minima stops, else it is left out and told.
func (s *readings) daily(t *teller, alone bool) (record.Daily, bool) {
	if !slices.ContainsFunc(s.days, func(r reading) bool { return r.min.Known() }) {
		t.add(s.noMinima(alone))
		return record.Daily{}, false
	}
	start, end := s.days[0].day, s.days[0].day+1
	for _, r := range s.days {
		start, end = min(start, r.day), max(end, r.day+1)
	}
	n := int(end - start)
	d := record.Daily{
		Station: s.station, Start: start, Dropped: s.dropped,
		Min: noReadings(n), Max: noReadings(n), Lines: make([]int32, n),
	}
	contradicted := s.fill(&d, d.Min, func(r reading) quantity.Hundredths { return r.min })
	contradicted = max(contradicted, s.fill(&d, d.Max, func(r reading) quantity.Hundredths { return r.max }))
	for i := range d.Min {
		if d.Min[i].Known() && d.Max[i].Known() && d.Min[i] > d.Max[i] {
			d.Min[i], d.Max[i] = quantity.Missing, quantity.Missing
			d.Dropped.MinOverMax++
		}
	}
	d.Step = stepOf(d.Min, d.Max, s.wholeF)
	s.judge(&d, contradicted, t)
	return d, true
}

// fill puts one side of the readings into its days and gives the number of days
// that contradict themselves. A day's line is that of its first minimum, else of its
// first maximum.
func (s *readings) fill(d *record.Daily, into []quantity.Hundredths, side func(reading) quantity.Hundredths) int {
	contradicted := map[int]bool{}
	for _, r := range s.days {
		i, v := int(r.day-d.Start), side(r)
		switch {
		case !v.Known() || contradicted[i]:
		case !into[i].Known():
			into[i] = v
			if d.Lines[i] == 0 {
				d.Lines[i] = r.line
			}
		case into[i] == v:
			d.Dropped.Repeated++
		default:
			contradicted[i] = true
			into[i] = quantity.Missing
			d.Dropped.Contradicted++
		}
	}
	return len(contradicted)
}

func noReadings(n int) []quantity.Hundredths {
	v := make([]quantity.Hundredths, n)
	for i := range v {
		v[i] = quantity.Missing
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

// judge reports records that can be read but are hardly what was meant.
func (s *readings) judge(d *record.Daily, contradicted int, t *teller) {
	kept := 0
	for i := range d.Min {
		if d.Min[i].Known() || d.Max[i].Known() {
			kept++
		}
	}
	if n := kept + contradicted; float64(contradicted) > manyContradicted*float64(n) {
		t.add(diag.Fault{
			ID: "record-several-a-day", What: fmt.Sprintf("%d of %d days of station %s stand in the file more than once with different values", contradicted, n, s.station),
			Expected: "one minimum and one maximum a day", Cure: "if there are several stations in the file, name the column that tells them apart; hourly readings must be made into daily ones first",
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

// stepOf is the step of the readings: the coarsest of whole F, whole C, half C and
// 0.1 C that every kept value fits.
func stepOf(low, high []quantity.Hundredths, wholeF bool) record.StepKind {
	if wholeF {
		return record.WholeF
	}
	whole, half, tenth := true, true, true
	for _, side := range [2][]quantity.Hundredths{low, high} {
		for _, v := range side {
			if v.Known() {
				whole, half, tenth = whole && v%100 == 0, half && v%50 == 0, tenth && v%10 == 0
			}
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
