package band

import (
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Station is a weather station made ready: its record climbed, its means taken,
// its offset from the region's lapse line known. Where a published table stands in
// place of a record, Table is that table, Record is empty and Last lies before First.
type Station struct {
	Row    *catalog.Station
	Record *record.Daily
	First  int // calendar years used, inclusive
	Last   int

	Table *record.Freeze
	tabled

	site     site
	declared quantity.Kelvins
	given    bool // the publisher gave the offset
	climbs   climbs

	drift      [2][]quantity.Kelvins // by event, per calendar year from First: see frost.Drift
	trendMeans [2][]float64          // by event, per calendar year from First: mean minimum of frost.TrendMonths

	means     [2][]float64 // by event: mean minimum of the season, per calendar year from Region.first
	maxMeans  []float64    // mean maximum of the spring months, likewise
	winter    []float64    // lowest minimum of the winter ending in the year, likewise
	hasMaxima bool         // of any day of the record

	soil      []float64 // mean soil temperature by slot of the season year, NaN = no data
	low, high []float64 // mean minimum and maximum by slot of the season year, smoothed over two weeks, NaN = no data

	heard *heard // of this station as it stands: a copy that is changed has none

	winterNow []float64 // winter as it would be at present, see frost.AtPresent
}

// Region is all stations of a guide and what they say together: lapse rates and
// each station's offset by event.
type Region struct {
	Hemisphere quantity.Hemisphere
	Plain      bool // dates are made from the years as they were: no shift to the present climate
	Stations   []*Station
	Left       []string // stations without a usable record or table, by id

	Lapse       [2]quantity.KelvinsPerMetre // of minima, by event
	WinterLapse quantity.KelvinsPerMetre    // of the mean annual extreme minimum
	MaxLapse    quantity.KelvinsPerMetre    // of maxima

	offsets [2][]quantity.Kelvins // by event and station
	winters []quantity.Kelvins

	// MissDays is the leave-one-station-out error of median dates at 0 C by event:
	// root mean square, days. 0 with fewer than three stations.
	MissDays [2]float64
	Misses   []Miss

	first, last int // calendar years any station uses
}

// Weather is what a region is made from, by station id: daily records, and published
// tables of stations without one. Course draws a year through monthly means, a value
// for each slot of the season year; without it monthly normals tell nothing of soil.
type Weather struct {
	Records map[string]*record.Daily
	Tables  map[string]*record.Freeze
	Course  func(monthly [12]float64) []float64
}

// NewRegion is the region of stations that have records.
func NewRegion(rows []catalog.Station, records map[string]*record.Daily, from, to int, h quantity.Hemisphere) *Region {
	return RegionOf(rows, Weather{Records: records}, from, to, h)
}

// RegionOf makes the stations ready that have an elevation and a record with years
// to use, or a published table. Years FROM-TO limit the calendar years of records;
// both 0 = the last 30 of each. Records and tables are not changed.
func RegionOf(rows []catalog.Station, w Weather, from, to int, h quantity.Hemisphere) *Region {
	r := &Region{Hemisphere: h, first: math.MaxInt, last: math.MinInt}
	made := make([]*Station, len(rows))
	each(len(rows), func(i int) { made[i] = newStation(&rows[i], w, from, to, h) })
	for i, s := range made {
		if s == nil {
			r.Left = append(r.Left, rows[i].ID)
			continue
		}
		r.Stations = append(r.Stations, s)
		if a, b := s.years(); a <= b {
			r.first, r.last = min(r.first, a), max(r.last, b)
		}
	}
	if r.first > r.last {
		r.first, r.last = 0, -1
	}
	each(len(r.Stations), func(i int) {
		if s := r.Stations[i]; s.Table != nil {
			s.takeNormals(r.first, r.last, h, w.Course)
		} else {
			s.takeMeans(r.first, r.last, h)
		}
	})
	r.fit()
	r.leaveOneOut()
	for _, s := range r.Stations {
		s.heard = newHeard()
	}
	return r
}

// each does something with the numbers from 0 to n-1, as many at a time as there are
// processors.
func each(n int, do func(i int)) {
	var next atomic.Int64
	var hands sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		hands.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	hands.Wait()
}

// newStation is a station with its place and what it answers from; nil where its
// height is not known, or nothing is.
func newStation(row *catalog.Station, w Weather, from, to int, h quantity.Hemisphere) *Station {
	z, ok := row.Elevation.Get()
	if !ok {
		return nil
	}
	s := &Station{Row: row}
	if d := w.Records[row.ID]; d != nil && len(d.Min) > 0 {
		s.Record = d
		s.First, s.Last = yearsUsed(d, from, to)
		if s.First > s.Last {
			return nil
		}
		s.climbs, s.hasMaxima = climb(d, h), hasMaxima(d)
	} else if f := w.Tables[row.ID]; f != nil {
		s.useTable(f, h)
	} else {
		return nil
	}
	s.declared, s.given = declaredOffset(row.Offset, row.Position)
	lat, a := row.Latitude.Get()
	lon, b := row.Longitude.Get()
	pos, _ := row.Position.Get()
	s.site = site{lat, lon, a && b, z, z, pos}
	return s
}

// UsePlainYears makes all dates from the years as they were, the errors of hidden
// stations too.
func (r *Region) UsePlainYears() {
	r.Plain = true
	r.leaveOneOut()
}

// yearsUsed is the calendar years FROM-TO that the record touches, or its last 30.
func yearsUsed(d *record.Daily, from, to int) (first, last int) {
	if from == 0 && to == 0 {
		y := frost.Minima(d).LastYears(frost.DefaultYears)
		return y.From, y.To
	}
	a, _, _ := d.Start.Date()
	b, _, _ := (d.End() - 1).Date()
	return max(a, from), min(b, to)
}

// takeMeans fills the yearly means over the region's years; years outside the
// station's own are NaN.
func (s *Station) takeMeans(first, last int, h quantity.Hemisphere) {
	own := func(v []float64) []float64 {
		for i := range v {
			if y := first + i; y < s.First || y > s.Last {
				v[i] = math.NaN()
			}
		}
		return v
	}
	region, used := frost.Years{From: first, To: last}, frost.Years{From: s.First, To: s.Last}
	minima, maxima := frost.Minima(s.Record), frost.Series{Start: s.Record.Start, Values: s.Record.Max}
	for _, e := range []record.Event{record.Last, record.First} {
		from, to := frost.TrendMonths(e, h)
		s.trendMeans[e] = minima.MonthMeans(from, to, used)
		s.drift[e] = frost.Drift(s.trendMeans[e])
		from, to = seasonMonths(e, h)
		s.means[e] = own(minima.MonthMeans(from, to, region))
	}
	from, to := seasonMonths(record.Last, h)
	s.maxMeans = own(maxima.MonthMeans(from, to, region))
	s.winter = own(s.climbs.night.WinterLows(region))
	s.winterNow = slices.Clone(s.winter)
	copy(s.winterNow[s.First-first:], frost.AtPresent(s.winter[s.First-first:s.Last-first+1]))
	s.soil = s.curveOf(soilOf(s.Record).Values, h)
	s.low, s.high = s.curveOf(s.Record.Min, h), s.curveOf(s.Record.Max, h)
}

// seasonFor is the season year that holds an event of a calendar year.
func seasonFor(e record.Event, year int, h quantity.Hemisphere) int {
	season, _ := frost.Years{From: year, To: year}.Seasons(e, h)
	return season
}

// fit works out lapse rates and offsets from the region's stations. Declared
// positions are a matter of still nights: they are taken out of the means of spring
// and fall nights, not out of winter's coldest nights, which come with wind, nor out
// of maxima; a publisher's own offset holds in winter too.
func (r *Region) fit() {
	declared := func(s *Station) (quantity.Kelvins, bool) { return s.declared, s.given }
	// Of maxima and of a winter's coldest nights, which come with wind that stirs the
	// hollows, only what was measured holds: what is declared speaks of still nights.
	undeclared := func(*Station) (quantity.Kelvins, bool) { return 0, false }
	for _, e := range []record.Event{record.Last, record.First} {
		r.Lapse[e], r.offsets[e] = line(r.Stations, func(s *Station) []float64 { return s.means[e] }, declared, DefaultLapse)
	}
	r.WinterLapse, r.winters = line(r.Stations, func(s *Station) []float64 { return s.winter }, undeclared, DefaultLapse)
	r.MaxLapse, _ = line(r.Stations, func(s *Station) []float64 { return s.maxMeans }, undeclared, DefaultMaxLapse)
}

// line fits a lapse through the stations' means and returns each station's offset
// from it, in the order of the stations: the publisher's where given; else the
// measured one (the mean of thirty years tells it to a few tenths); the declared
// one where the station has no mean, or stands alone.
func line(stations []*Station, means func(*Station) []float64, declared func(*Station) (quantity.Kelvins, bool), fallback quantity.KelvinsPerMetre) (quantity.KelvinsPerMetre, []quantity.Kelvins) {
	byStation := make([][]float64, len(stations))
	for i, s := range stations {
		byStation[i] = means(s)
	}
	mean := stationLevels(byStation)
	var levels []level
	for i, s := range stations {
		if !math.IsNaN(mean[i]) {
			o, _ := declared(s)
			levels = append(levels, level{s.site.low, o, quantity.Celsius(mean[i])})
		}
	}
	lapse := fitLapse(levels, fallback)
	var base float64 // the line at elevation 0
	for _, l := range levels {
		base += (float64(l.mean) - float64(l.declared) + float64(lapse)*float64(l.elevation)) / float64(len(levels))
	}
	offsets := make([]quantity.Kelvins, len(stations))
	for i, s := range stations {
		o, given := declared(s)
		offsets[i] = o
		if !given && !math.IsNaN(mean[i]) && len(levels) > 1 {
			offsets[i] = quantity.Kelvins(mean[i] + float64(lapse)*float64(s.site.low) - base)
		}
	}
	return lapse, offsets
}

// FirstYear and LastYear are the first and last calendar year that any station's
// dates are made from; LastYear is the lower where there is no station.
func (r *Region) FirstYear() int { return r.first }

// LastYear: see FirstYear.
func (r *Region) LastYear() int { return r.last }
