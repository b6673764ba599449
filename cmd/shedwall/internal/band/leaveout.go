package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Miss is one station hidden and guessed from the others: how far off the
// half-and-half date at 0 C was.
type Miss struct {
	Station   string
	Event     record.Event
	Guessed   float64 // slot
	Seen      float64 // slot from the station's own record
	Days      float64 // Guessed - Seen
	Elevation quantity.Metres

	// The same as dates are printed, rounded to the safe side.
	GuessedDay, SeenDay quantity.Slot
}

// DaysPrinted is how many days the guess is late, or early where below 0, as printed.
func (m *Miss) DaysPrinted() int { return int(m.GuessedDay - m.SeenDay) }

// leaveOneOut hides each station in turn and fills Misses and MissDays. Nothing
// of the hidden station but its place and declared position is used. Stations
// that do not freeze every second year, or in any month, are not scored.
func (r *Region) leaveOneOut() {
	r.Misses, r.MissDays = nil, [2]float64{}
	if len(r.Stations) < 3 {
		return
	}
	var squares [2]float64
	var scored [2]int
	for i, s := range r.Stations {
		others := r.without(i)
		at := s.site
		c := others.climateAt(nil, at, s.declared, s.given)
		self := r.alone(i)
		for _, e := range []record.Event{record.Last, record.First} {
			gate := Gate{Series: Night, Limit: 0}
			guess, seen := c.Date(e, quantity.Half, gate), self.Date(e, quantity.Half, gate)
			if guess.State != Dated || seen.State != Dated {
				continue
			}
			d := guess.Exact - seen.Exact
			r.Misses = append(r.Misses, Miss{s.Row.ID, e, guess.Exact, seen.Exact, d, at.low, guess.Slot, seen.Slot})
			squares[e] += d * d
			scored[e]++
		}
	}
	for e := range squares {
		if scored[e] > 0 {
			r.MissDays[e] = math.Sqrt(squares[e] / float64(scored[e]))
		}
	}
}

// MeanMiss is the mean size of the misses of an event in days and how many
// stations were scored.
func (r *Region) MeanMiss(e record.Event) (days float64, stations int) {
	for _, m := range r.Misses {
		if m.Event == e {
			days += math.Abs(m.Days)
			stations++
		}
	}
	if stations > 0 {
		days /= float64(stations)
	}
	return days, stations
}

// without is the region as the other stations alone would have made it.
func (r *Region) without(out int) *Region {
	o := &Region{Hemisphere: r.Hemisphere, Plain: r.Plain, first: r.first, last: r.last}
	for i, s := range r.Stations {
		if i != out {
			o.Stations = append(o.Stations, s)
		}
	}
	o.fit()
	return o
}

// alone is the climate of a station's own spot, from its own record.
func (r *Region) alone(i int) *Climate {
	o := &Region{Hemisphere: r.Hemisphere, Plain: r.Plain, first: r.first, last: r.last, Stations: []*Station{r.Stations[i]}}
	o.fit()
	s := r.Stations[i]
	return o.climateAt(nil, s.site, o.offsets[record.Last][0], true)
}

// Station gives the climate of a station's own spot from its own record alone,
// for pages that show what a record says before it is carried anywhere.
func (r *Region) Station(id string) (*Climate, bool) {
	for i, s := range r.Stations {
		if s.Row.ID == id {
			c := r.alone(i)
			c.Band = &catalog.Band{ID: id, Name: s.Row.Name, Low: figure.Is(s.site.low, s.Row.Cell, ""), High: figure.Is(s.site.high, s.Row.Cell, "")}
			return c, true
		}
	}
	return nil, false
}
