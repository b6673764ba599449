package band

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// hiding is a region whose stations are hidden in turn: own is each one's own
// half-and-half date at 0 C, others the region without it, hidden its climate there.
type hiding struct {
	region *Region
	others []*Region
	hidden []*Climate
	own    [2][]float64
}

func hide(r *Region) hiding {
	h := hiding{region: r}
	for i, s := range r.Stations {
		others := r.without(i)
		h.others = append(h.others, others)
		h.hidden = append(h.hidden, others.climateAt(nil, s.site, s.declared, s.given))
		for _, e := range events {
			h.own[e] = append(h.own[e], half(r.alone(i), e))
		}
	}
	return h
}

// half is a climate's half-and-half date at 0 C.
func half(c *Climate, e record.Event) float64 {
	a := c.Date(e, quantity.Half, Gate{Limit: 0})
	if a.State != Dated {
		return math.NaN()
	}
	return a.Exact
}

// miss is the mean size (days) of what a guess of each hidden station is off, over the
// stations and over the guesses of each.
func (h hiding) miss(e record.Event, guess func(i int) []float64) float64 {
	sum := 0.0
	for i := range h.region.Stations {
		list := guess(i)
		for _, g := range list {
			sum += math.Abs(g-h.own[e][i]) / float64(len(list)) / float64(len(h.region.Stations))
		}
	}
	return sum
}

// nearest is the index of the station of a region that is least apart from a place.
func nearest(r *Region, apart func(s site) float64) int {
	best := 0
	for i, s := range r.Stations {
		if apart(s.site) < apart(r.Stations[best].site) {
			best = i
		}
	}
	return best
}

// byAltitude is the date of the station nearest in height.
func (h hiding) byAltitude(e record.Event, i int) (float64, site) {
	here := h.region.Stations[i].site
	k := nearest(h.others[i], func(s site) float64 { return math.Abs(float64(s.low - here.low)) })
	return half(h.others[i].alone(k), e), h.others[i].Stations[k].site
}

// hopkins moves that date by four days for each degree of latitude, each five degrees of
// longitude and each 400 ft of height, later in spring northward, eastward and upward, the
// other way round in fall (Hopkins 1918, Monthly Weather Review Supplement 9; from memory).
func (h hiding) hopkins(e record.Event, i int) float64 {
	date, there := h.byAltitude(e, i)
	here := h.region.Stations[i].site
	later := 4*(here.latitude-there.latitude) + 4.0/5*(here.longitude-there.longitude) + 4*(here.low-there.low).Feet()/400
	if e == record.First {
		later = -later
	}
	return date + later
}

// regression is the line of the other stations' dates over their heights.
func (h hiding) regression(e record.Event, i int) float64 {
	var n, sz, sd, szz, szd float64
	for k, s := range h.others[i].Stations {
		z, d := float64(s.site.low), half(h.others[i].alone(k), e)
		n, sz, sd, szz, szd = n+1, sz+z, sd+d, szz+z*z, szd+z*d
	}
	slope := (szd - sz*sd/n) / (szz - sz*sz/n)
	return sd/n + slope*(float64(h.region.Stations[i].site.low)-sz/n)
}

// evenings are the days of a year from which a garden's readings are drawn: 15 March to
// 31 May for spring, 1 September to 15 November for fall.
func evenings(e record.Event, year int) (from, to quantity.Day) {
	if e == record.Last {
		return day(year, 3, 15), day(year, 5, 31)
	}
	return day(year, 9, 1), day(year, 11, 15)
}

// draw takes ten different days at random, by a seed alone.
func draw(from, to quantity.Day, seed uint64) map[quantity.Day]bool {
	days := map[quantity.Day]bool{}
	for len(days) < 10 {
		seed = seed*6364136223846793005 + 1442695040888963407
		days[from+quantity.Day((seed>>33)%uint64(to-from+1))] = true
	}
	return days
}

// readings are what a hidden station read on some days: its garden's thermometer.
func readings(s *Station, from, to quantity.Day, on func(quantity.Day) bool) (out []Reading) {
	for d := from; d <= to; d++ {
		if v := s.Record.MinOn(d); v.Known() && on(d) {
			out = append(out, Reading{d, v.Celsius()})
		}
	}
	return out
}

// withReadings is the guesses of a hidden station with ten evenings of each year in turn.
func (h hiding) withReadings(e record.Event, i int) (out []float64) {
	s, nights := h.region.Stations[i], h.hidden[i].Nights()
	for year := s.First; year <= s.Last; year++ {
		from, to := evenings(e, year)
		days := draw(from, to, uint64(1000*i+year))
		list := readings(s, from, to, func(d quantity.Day) bool { return days[d] })
		by, compared := nights.Unlike(list)
		share := ReadingShare(compared, 1, len(h.others[i].Stations))
		out = append(out, half(h.hidden[i].Warmer(e, by*quantity.Kelvins(share)), e))
	}
	return out
}

// withRecord is the guess with the offset that every night of the season in thirty years
// gives: what a garden could know at the very best.
func (h hiding) withRecord(e record.Event, i int) float64 {
	s, nights := h.region.Stations[i], h.hidden[i].Nights()
	var list []Reading
	for year := s.First; year <= s.Last; year++ {
		a, b := seasonMonths(e, h.region.Hemisphere)
		list = append(list, readings(s, day(year, a, 1), day(year, b, quantity.DaysIn(year, b)), func(quantity.Day) bool { return true })...)
	}
	by, _ := nights.Unlike(list)
	return half(h.hidden[i].Warmer(e, by), e)
}

// Ways to guess a hidden station's half-and-half dates at 0 C, 1975-2004, side by side:
// days off on average over the 17 stations. Nothing but place, and readings where it says
// so, is taken from the hidden one; nothing is declared but where it says so. Bounds are
// what was asked of the guide before it was tried.
func TestTrentinoWaysToGuess(t *testing.T) {
	stations, records := trentino(t)
	plain := func(rows []catalog.Station) hiding {
		r := NewRegion(rows, records, 1975, 2004, quantity.North)
		r.UsePlainYears()
		return hide(r)
	}
	h := plain(stations)
	var without []catalog.Station
	for _, s := range stations {
		if s.ID != "B6130" {
			without = append(without, s)
		}
	}
	noCorvara, withPositions := plain(without), plain(declared(stations))
	present := hide(NewRegion(stations, records, 1975, 2004, quantity.North))
	one := func(guess func(e record.Event, i int) float64) func(record.Event) func(int) []float64 {
		return func(e record.Event) func(int) []float64 {
			return func(i int) []float64 { return []float64{guess(e, i)} }
		}
	}
	guide := func(h hiding) func(record.Event) func(int) []float64 {
		return one(func(e record.Event, i int) float64 { return half(h.hidden[i], e) })
	}
	rows := []struct {
		name        string
		of          hiding
		guess       func(record.Event) func(int) []float64
		last, first float64 // days off at most; 0 = for comparison only
	}{
		{"nearest station by altitude", h, one(func(e record.Event, i int) float64 { d, _ := h.byAltitude(e, i); return d }), 0, 0},
		{"Hopkins's rule from that station", h, one(h.hopkins), 0, 0},
		{"regression of dates on elevation", h, one(h.regression), 0, 0},
		{"the guide, nothing declared", h, guide(h), 8, 8},
		{"the guide, positions declared", withPositions, guide(withPositions), 0, 0},
		{"the guide, present climate", present, guide(present), 0, 0},
		{"the guide, Corvara neither used nor scored", noCorvara, guide(noCorvara), 7, 7.5},
		{"ten readings of the season, any year", h, func(e record.Event) func(int) []float64 { return func(i int) []float64 { return h.withReadings(e, i) } }, 0, 0},
		{"offset of the full record", h, one(h.withRecord), 4, 5},
	}
	miss := map[string][2]float64{}
	table := []string{fmt.Sprintf("%-44s %6s %6s", "days off on average", "last", "first")}
	for _, r := range rows {
		last, first := r.of.miss(record.Last, r.guess(record.Last)), r.of.miss(record.First, r.guess(record.First))
		miss[r.name] = [2]float64{last, first}
		line := fmt.Sprintf("%-44s %6.2f %6.2f", r.name, last, first)
		if r.last > 0 {
			line += fmt.Sprintf("   at most %.1f and %.1f", r.last, r.first)
		}
		table = append(table, line)
		if r.last > 0 && !(last <= r.last && first <= r.first) {
			t.Errorf("%s: %.2f and %.2f days off, want at most %.1f and %.1f", r.name, last, first, r.last, r.first)
		}
	}
	t.Log("\n" + strings.Join(table, "\n"))
	none, ten := miss["the guide, nothing declared"], miss["ten readings of the season, any year"]
	if none[record.Last]-ten[record.Last] < 0.7 {
		t.Errorf("ten spring readings: last %.2f days off, without %.2f; want at least 0.7 better", ten[record.Last], none[record.Last])
	}
	if ten[record.First] > none[record.First] {
		t.Errorf("ten fall readings: first %.2f days off, without %.2f; want no worse", ten[record.First], none[record.First])
	}
	for _, name := range []string{"nearest station by altitude", "Hopkins's rule from that station", "regression of dates on elevation"} {
		if miss[name][0] <= none[0] || miss[name][1] <= none[1] {
			t.Errorf("%s beats the guide", name)
		}
	}
}
