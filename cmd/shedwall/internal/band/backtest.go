package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// How a guide tries its own odds: dates are made from a stretch of years, as they
// would have been printed then, and held against the year that followed; then the
// stretch moves on by a year. Stretches are of thirty years, as in print, where the
// longest record leaves leastTried years after the first of them; shorter, down to
// frost.FullYears, where it does not; and shorter records try nothing.
const leastTried = 10

// A place takes part in a stretch when at least four fifths of its years are usable.
const usableShare = 0.8

// TriedLimits are the temperatures tried: 32, 28 and 24 F.
var TriedLimits = [...]quantity.Celsius{0, -2.2, -4.4}

// Way is how past years enter a date.
type Way uint8

// PlainYears: as they were. Shifted: moved to the present climate. Printed: what
// the sheet says, for careful dates the safer of the two.
const (
	PlainYears Way = iota
	Shifted
	Printed
)

// Ways is every way.
var Ways = [...]Way{PlainYears, Shifted, Printed}

func (w Way) String() string { return [...]string{"plain", "shifted", "printed"}[w] }

// BackTest is how the odds of a guide's own stations and bands would have fared.
type BackTest struct {
	Train       int // years each date was made from; 0 = the records are too short to try anything
	First, Last int // calendar years tried
	Stations    []Score
	Bands       []Score
	Places      []PlaceScore // stations in the region's order, then bands in the given one
}

// PlaceScore is the scores of one station or band.
type PlaceScore struct {
	ID     string
	IsBand bool
	Scores []Score
}

// Score is how often dates of one kind were passed: how often it froze after a last
// date or before a first. Odds were promised. One place in one year counts once.
// Error is one standard error of Passed; places tried in one year count as one piece
// of evidence, since they share its weather.
type Score struct {
	Event  record.Event
	Limit  quantity.Celsius
	Odds   quantity.Odds
	Way    Way
	Tried  int
	Passed float64 // share, 0 to 1; NaN where nothing was tried
	Error  float64 // NaN with fewer than two years
}

// Find is the score of one kind; false where it was never tried.
func Find(scores []Score, e record.Event, limit quantity.Celsius, odds quantity.Odds, w Way) (Score, bool) {
	for _, s := range scores {
		if s.Event == e && s.Limit == limit && s.Odds == odds && s.Way == w {
			return s, s.Tried > 0
		}
	}
	return Score{}, false
}

// trial is one date of each way held against the year after. cluster names the trials
// that share their weather.
type trial struct {
	cluster int
	event   record.Event
	limit   int // index into TriedLimits
	odds    quantity.Odds
	passed  [len(Ways)]float64
}

// BackTest tries the region's stations, each from its own record alone, and bands as
// the stations blend into them. It uses whole records, not only the years in print.
// A band has no record of its own: its dates are held against what each of its
// stations did the year after at the threshold it was asked for, by weight.
func (r *Region) BackTest(bands []catalog.Band) BackTest {
	b, trials := r.tryAll(bands)
	var stations, blends []trial
	for i := range b.Places {
		b.Places[i].Scores = score(trials[i])
		if b.Places[i].IsBand {
			blends = append(blends, trials[i]...)
		} else {
			stations = append(stations, trials[i]...)
		}
	}
	b.Stations, b.Bands = score(stations), score(blends)
	return b
}

// tryAll is a back-test before it is scored, and the trials of each of its places.
func (r *Region) tryAll(bands []catalog.Band) (BackTest, [][]trial) {
	whole := r.whole()
	var b BackTest
	for _, s := range whole.Stations {
		b.Places = append(b.Places, PlaceScore{ID: s.Row.ID})
	}
	for i := range bands {
		b.Places = append(b.Places, PlaceScore{ID: bands[i].ID, IsBand: true})
	}
	trials := make([][]trial, len(b.Places))
	if b.Train = whole.train(); b.Train == 0 {
		return b, trials
	}
	b.First, b.Last = whole.first+b.Train, whole.last
	byYear := make([][][]trial, b.Last-b.First+1)
	each(len(byYear), func(n int) { byYear[n] = whole.tryYear(b.First+n, b.Train, bands) })
	for _, places := range byYear {
		for i, x := range places {
			trials[i] = append(trials[i], x...)
		}
	}
	return b, trials
}

// tryYear is the trials of one year of the whole region r: of each station, then each band.
func (r *Region) tryYear(year, train int, bands []catalog.Band) [][]trial {
	trials := make([][]trial, len(r.Stations)+len(bands))
	then := r.during(year-train, year-1)
	for i := range r.Stations {
		if alone, ok := then.stations[i]; ok {
			trials[i] = r.try(alone, []int{i}, year, train)
		}
	}
	if then.blend != nil {
		for k := range bands {
			trials[len(r.Stations)+k] = r.try(then.blend.Climate(&bands[k]), then.used, year, train)
		}
	}
	return trials
}

// whole is the region of the stations with records, with every year of those: a published
// table has no years to try.
func (r *Region) whole() *Region {
	o := &Region{Hemisphere: r.Hemisphere, Plain: r.Plain, first: math.MaxInt, last: math.MinInt}
	for _, s := range r.Stations {
		if s.Table != nil {
			continue
		}
		k := *s
		k.heard = nil
		years := frost.Minima(s.Record).LastYears(math.MaxInt32)
		k.First, k.Last = years.From, years.To
		o.Stations = append(o.Stations, &k)
		o.first, o.last = min(o.first, k.First), max(o.last, k.Last)
	}
	for _, s := range o.Stations {
		s.takeMeans(o.first, o.last, o.Hemisphere)
	}
	return o
}

// train is how many years dates are made from; 0 where no record is long enough.
func (r *Region) train() int {
	longest := 0
	for _, s := range r.Stations {
		longest = max(longest, s.Last-s.First+1)
	}
	if longest <= frost.FullYears {
		return 0
	}
	return min(max(longest-leastTried, frost.FullYears), frost.DefaultYears)
}

// asOf is a region as it would have been known after a stretch of years.
type asOf struct {
	stations map[int]*Climate // each station alone, by index in the whole region
	blend    *Region          // nil with no station
	used     []int            // blend's stations, as indexes in the whole region
}

// during is the whole region r as known from the years from-to alone: of the stations
// whose records span them.
func (r *Region) during(from, to int) asOf {
	a := asOf{stations: map[int]*Climate{}}
	blend := &Region{Hemisphere: r.Hemisphere, Plain: r.Plain, first: from, last: to}
	for i, s := range r.Stations {
		if s.First > from || s.Last < to {
			continue
		}
		k := s.during(from, to, r.first)
		blend.Stations = append(blend.Stations, k)
		a.used = append(a.used, i)
		alone := &Region{Hemisphere: r.Hemisphere, Plain: r.Plain, first: from, last: to, Stations: []*Station{k}}
		alone.fit()
		a.stations[i] = alone.climateAt(nil, k.site, alone.offsets[record.Last][0], true)
	}
	if len(blend.Stations) > 0 {
		blend.fit()
		a.blend = blend
	}
	return a
}

// during is a station of a region that begins in year first, cut to the years from-to,
// which it spans.
func (s *Station) during(from, to, first int) *Station {
	k := *s
	k.heard = newHeard() // bands ask it the same of these years
	cut := func(v []float64) []float64 { return v[from-first : to-first+1] }
	for e := range k.means {
		k.means[e] = cut(s.means[e])
		k.trendMeans[e] = s.trendMeans[e][from-s.First : to-s.First+1]
		k.drift[e] = frost.Drift(k.trendMeans[e])
	}
	k.maxMeans, k.winter = cut(s.maxMeans), cut(s.winter)
	k.winterNow = frost.AtPresent(k.winter)
	k.soil = nil // the soil of all years; not asked for
	k.First, k.Last = from, to
	return &k
}

// try is a place's trials of one year. c was made from the train years before; stations
// are those of c as indexes in the whole region r.
func (r *Region) try(c *Climate, stations []int, when, train int) (trials []trial) {
	c.memory = map[asked][]year{} // careful and half-and-half dates often ask the same of a year
	for _, e := range []record.Event{record.Last, record.First} {
		for limit, t := range TriedLimits {
			gates := []Gate{{Limit: t}}
			for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
				plain, shifted := c.DateBothWays(e, odds, gates...)
				if plain.State != Dated || shifted.State != Dated || float64(plain.Used) < usableShare*float64(train) {
					continue
				}
				printed := c.Region.printed(e, odds, func(now bool) Answer {
					if now {
						return shifted
					}
					return plain
				})
				x := trial{cluster: when, event: e, limit: limit, odds: odds}
				told := 0.0
				for way, a := range [...]Answer{plain, shifted, printed} {
					x.passed[way], told = r.passed(a, e, stations, when)
				}
				if told > 0 {
					trials = append(trials, x)
				}
			}
		}
	}
	return trials
}

// passed is the share of weight on stations where it froze after a last date or before
// a first, at the thresholds they were asked for, in a year; and the weight on those that
// can tell.
func (r *Region) passed(a Answer, e record.Event, stations []int, year int) (share, told float64) {
	for _, p := range a.Parts {
		s := r.Stations[stations[p.Station]]
		y := s.year(e, year, Night, p.Compared[0], r.Hemisphere)
		if year > s.Last || math.IsNaN(y.slot) {
			continue
		}
		told += p.Weight
		if e == record.Last && y.slot > float64(a.Slot) || e == record.First && y.slot < float64(a.Slot) {
			share += p.Weight
		}
	}
	return share / told, told
}

// score counts trials by kind, in a fixed order; kinds never tried are left out.
func score(trials []trial) []Score {
	var out []Score
	for _, e := range []record.Event{record.Last, record.First} {
		for limit, t := range TriedLimits {
			for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
				var kind []trial
				for _, x := range trials {
					if x.event == e && x.limit == limit && x.odds == odds {
						kind = append(kind, x)
					}
				}
				if len(kind) == 0 {
					continue
				}
				for _, w := range Ways {
					s := Score{Event: e, Limit: t, Odds: odds, Way: w, Tried: len(kind)}
					s.Passed, s.Error = clustered(kind, w)
					out = append(out, s)
				}
			}
		}
	}
	return out
}

// clustered is the share of trials passed and its standard error, the trials of a
// cluster taken as one piece of evidence:
//
//	se^2 = G/(G-1) * sum over clusters (sum in cluster (x - p))^2 / n^2
//
// n trials in G clusters; NaN with one cluster (Liang and Zeger 1986, Biometrika 73,
// 13-22, for a mean) [source liang86].
func clustered(trials []trial, w Way) (share, se float64) {
	n := float64(len(trials))
	for _, x := range trials {
		share += x.passed[w] / n
	}
	off := map[int]float64{}
	var order []int // sums must not depend on the order of a map
	for _, x := range trials {
		if _, seen := off[x.cluster]; !seen {
			order = append(order, x.cluster)
		}
		off[x.cluster] += x.passed[w] - share
	}
	squares := 0.0
	for _, c := range order {
		squares += off[c] * off[c]
	}
	g := float64(len(order))
	if g < 2 {
		return share, math.NaN()
	}
	return share, math.Sqrt(g / (g - 1) * squares / (n * n))
}
