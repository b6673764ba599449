package plan

import (
	"math"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Work is what an early start, or a late end, under layers costs in work at careful
// odds: nights on which they must be on and days on which they must be opened again,
// between the covered date and the one of open ground, in a middling year and in a
// bad one (1 in 10 is worse).
type Work struct {
	Action   Action        // SowOutside or SetOut: the early start; LastSafeDay: the late end
	From, To quantity.Slot // first and last evening of the stretch

	Needed  Nights // minima at or below what harms the uncovered plant
	Prudent Nights // ... or within 2 K of it: nobody knows the morning by the evening

	// ShutAndOpen is days that need the layers at night and then get as warm as their
	// vent temperature. Not known where no layer has one.
	ShutAndOpen Nights
	VentKnown   bool
}

// Nights is whole nights or days: of the middling year to the nearest, of the bad one
// rounded up.
type Nights struct{ Middling, Bad int }

// works is the work of every date that the layers make earlier or later. Nothing
// where no station has ten years of nights to count.
//
// A start counts from the plant: set out, or come up. It is young for four weeks. A
// cover that buys no day costs nothing and has no entry. Where open ground has no date
// (it may freeze in any month) the stretch of a start reaches to the end of the season
// year, and that of the end begins with the next.
func (b *bandPlan) works(c *catalog.Crop, l *limits, layers *layered, open, covered *LayerPlan) []Work {
	var out []Work
	for _, a := range []Action{SowOutside, SetOut} {
		o, x := open.Find(quantity.Careful, a)
		w, y := covered.Find(quantity.Careful, a)
		begun := w.Exists() || w.To.State == NotKnown && (w.From.State == Dated || w.From.State == Open)
		if !x || !y || !begun || o.From.State == Open || o.From.State == NotKnown {
			continue
		}
		from, to := springStart(b.climate.Region.Hemisphere), quantity.Slot(quantity.SlotsPerYear-1)
		if w.From.State == Dated {
			from = w.From.Slot
		}
		if o.From.State == Dated {
			to = o.From.Slot
		}
		if a == SowOutside {
			from, to = b.comesUp(c, from), b.comesUp(c, to)
		}
		to = min(to, quantity.SlotsPerYear-1)
		if work, ok := b.work(a, record.Last, c, layers, from, to, l); ok {
			out = append(out, work)
		}
	}
	o, x := open.Find(quantity.Careful, LastSafeDay)
	w, y := covered.Find(quantity.Careful, LastSafeDay)
	if x && y && w.To.State == Dated && (o.To.State == Dated || o.To.State == Never) && w.To.EndKnown() && o.To.EndKnown() {
		from := quantity.Slot(quantity.SlotsPerYear)
		if o.To.State == Dated {
			from = o.To.Slot
		}
		if work, ok := b.work(LastSafeDay, record.First, c, layers, from, w.To.Slot, l); ok {
			out = append(out, work)
		}
	}
	return out
}

// comesUp is when a seed sown on a slot comes up by careful odds; the slot itself
// where emergence is not known or never happens.
func (b *bandPlan) comesUp(c *catalog.Crop, s quantity.Slot) quantity.Slot {
	if e := b.emerges(c, quantity.Careful); int(s) < len(e.up) && e.up[s] < quantity.SlotsPerYear*2 {
		return e.up[s]
	}
	return s
}

// work counts one stretch of evenings, from the first to the one before the day on
// which open ground is as safe. The minimum dated D belongs to the evening of D-1.
func (b *bandPlan) work(a Action, e record.Event, c *catalog.Crop, layers *layered, first, safe quantity.Slot, l *limits) (Work, bool) {
	w := Work{Action: a, From: first, To: safe - 1, VentKnown: layers.ventKnown}
	list := [2]stretch{{limit: &l.grown, from: first + 1, to: safe}}
	stretches := list[:1]
	if e == record.Last {
		grown := first + youngDays
		list = [2]stretch{{limit: &l.young, from: first + 1, to: min(safe, grown)}, {limit: &l.grown, from: grown + 1, to: safe}}
		stretches = list[:]
	}
	n, allowance := &b.counting, stillAir(c)
	for i := range stretches {
		s := &stretches[i]
		if limit, ok := s.limit.Get(); ok && s.from <= s.to {
			of := &b.of(c).cold[e][i]
			if of[0] == nil {
				of[0], of[1] = n.marksOf(b.climate, e, limit, allowance), n.marksOf(b.climate, e, limit, allowance+cover.Prudent)
			}
			s.needed, s.prudent = of[0], of[1]
		}
		if e == record.First {
			s.from, s.to = s.from-quantity.SlotsPerYear, s.to-quantity.SlotsPerYear
		}
	}
	var needed, prudent, open blended
	for station, weight := range n.weights(b.climate, e) {
		if weight == 0 || safe <= first {
			continue
		}
		y := n.years(b.climate, e, station)
		n.sum[0], n.sum[1], n.sum[2] = n.sum[0][:0], n.sum[1][:0], n.sum[2][:0]
		for i := range stretches {
			s := &stretches[i]
			if s.needed == nil {
				continue
			}
			cold := s.needed.at(b.climate, y, e, station)
			n.add(0, y, cold, nil, s.from, s.to)
			n.add(1, y, s.prudent.at(b.climate, y, e, station), nil, s.from, s.to)
			if layers.ventKnown {
				n.add(2, y, cold, n.warm(b.climate, e, station, layers.vent), s.from, s.to)
			}
		}
		needed.add(n.sum[0], weight)
		prudent.add(n.sum[1], weight)
		open.add(n.sum[2], weight)
	}
	w.Needed, w.Prudent, w.ShutAndOpen = needed.nights(), prudent.nights(), open.nights()
	return w, needed.weight > 0
}

// stretch is slots, both included, in which a plant stands a limit.
type stretch struct {
	limit    *temperature
	from, to quantity.Slot

	needed, prudent *coldMarks // nil = nothing to count
}

// stillAir is how much colder than the air a leaf is on half the nights, where the crop's
// limits are of plants; the prudent nights have the rest.
func stillAir(c *catalog.Crop) quantity.Kelvins {
	if c.Basis == catalog.Plant {
		return allowanceHalf
	}
	return 0
}

// blended is prices of stations by weight.
type blended struct {
	price  cover.Price
	weight float64
}

func (s *blended) add(counts []int, weight float64) {
	if p, ok := cover.PriceOf(counts); ok {
		s.price.Middling += weight * p.Middling
		s.price.Bad += weight * p.Bad
		s.weight += weight
	}
}

func (s *blended) nights() Nights {
	if s.weight == 0 {
		return Nights{}
	}
	return Nights{int(math.Round(s.price.Middling / s.weight)), int(math.Ceil(s.price.Bad/s.weight - rounding))}
}

// counting keeps what was laid out and marked of each station, for one band.
type counting struct {
	laid    [2][]*cover.Years // by event and station
	nights  map[coldKey]*coldMarks
	days    map[warmKey]*cover.Marks
	heavy   [2][]float64 // by event: weights of the stations that are counted
	sum     [3][]int     // by year: needed, prudent, shut and open
	scratch []int
}

type coldKey struct {
	event     record.Event
	limit     quantity.Celsius
	allowance quantity.Kelvins
}

// coldMarks is the cold nights of a limit at each station, marked as they are asked for.
type coldMarks struct {
	coldKey
	marks []*cover.Marks
}

type warmKey struct {
	event   record.Event
	station int
	vent    quantity.Celsius
}

// leastWeight is the share in the band's dates below which a station is not counted:
// it would change no whole night.
const leastWeight = 0.05

// leastYears is how many years a station must have to be counted, as cover.PriceOf.
const leastYears = 10

func (n *counting) weights(c *band.Climate, e record.Event) []float64 {
	if n.heavy[e] == nil {
		n.heavy[e] = make([]float64, len(c.Region.Stations))
		for i := range n.heavy[e] {
			if w := c.Weight(i); w >= leastWeight && len(c.CountSeasons(e, i)) >= leastYears {
				n.heavy[e][i] = w
			}
		}
	}
	return n.heavy[e]
}

func (n *counting) years(c *band.Climate, e record.Event, station int) *cover.Years {
	if n.laid[e] == nil {
		n.laid[e] = make([]*cover.Years, len(c.Region.Stations))
	}
	if n.laid[e][station] == nil {
		s := c.Region.Stations[station]
		n.laid[e][station] = s.Keep(laidKey{e}, func() any {
			return cover.Lay(s.Record, c.Region.Hemisphere, c.CountSeasons(e, station))
		}).(*cover.Years)
	}
	return n.laid[e][station]
}

// laidKey is the key of a station's years.
type laidKey struct{ record.Event }

// marksOf is the cold nights of a limit.
func (n *counting) marksOf(c *band.Climate, e record.Event, limit quantity.Celsius, allowance quantity.Kelvins) *coldMarks {
	key := coldKey{e, limit, allowance}
	m := n.nights[key]
	if m == nil {
		m = &coldMarks{key, make([]*cover.Marks, len(c.Region.Stations))}
		if n.nights == nil {
			n.nights = map[coldKey]*coldMarks{}
		}
		n.nights[key] = m
	}
	return m
}

// at is the cold nights of a station, laid out in y.
func (m *coldMarks) at(c *band.Climate, y *cover.Years, e record.Event, station int) *cover.Marks {
	if m.marks[station] == nil {
		m.marks[station] = y.Cold(c.NightThresholds(e, quantity.Careful, station, m.limit, m.allowance))
	}
	return m.marks[station]
}

func (n *counting) warm(c *band.Climate, e record.Event, station int, vent quantity.Celsius) *cover.Marks {
	key := warmKey{e, station, vent}
	m, ok := n.days[key]
	if !ok {
		m = n.years(c, e, station).Warm(c.DayThreshold(e, quantity.Careful, station, vent))
		if n.days == nil {
			n.days = map[warmKey]*cover.Marks{}
		}
		n.days[key] = m
	}
	return m
}

// add counts a stretch into a sum by year.
func (n *counting) add(k int, y *cover.Years, m, and *cover.Marks, from, to quantity.Slot) {
	if len(n.sum[k]) == 0 {
		n.sum[k] = y.Counts(n.sum[k], m, and, from, to)
		return
	}
	n.scratch = y.Counts(n.scratch, m, and, from, to)
	for i, v := range n.scratch {
		if v == cover.NotCounted || n.sum[k][i] == cover.NotCounted {
			n.sum[k][i] = cover.NotCounted
			continue
		}
		n.sum[k][i] += v
	}
}
