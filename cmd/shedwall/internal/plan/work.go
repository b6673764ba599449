package plan

import (
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
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

	// Warming is the nights on end, from From on, on which film lies to warm the soil; 0 =
	// none. They are among Needed and Prudent in every year, and their warm days are among
	// ShutAndOpen.
	Warming int
}

// Nights is whole nights or days: of the middling year to the nearest, of the bad one
// rounded up; of two season years at most.
type Nights struct{ Middling, Bad int16 }

// works is the work of every date that the layers make earlier or later. Nothing
// where no station has ten years of nights to count.
//
// A start counts from the plant: set out, or come up. It is young for four weeks. A
// cover that buys no day costs nothing and has no entry. Where open ground has no date
// (it may freeze in any month) the stretch of a start reaches to the end of the season
// year, and that of the end begins with the next.
func (b *bandPlan) works(c *catalog.Crop, l *limits, layers *layered, open, covered *LayerPlan) []Work {
	var list [3]Work
	out := list[:0]
	for _, a := range []Action{SowOutside, SetOut} {
		o, w := open.Window(quantity.Careful, a), covered.Window(quantity.Careful, a)
		if o == nil || w == nil {
			continue
		}
		begun := w.Exists() || w.To.State == NotKnown && (w.From.State == Dated || w.From.State == Open)
		if !begun || o.From.State == Open || o.From.State == NotKnown {
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
			from, to = b.comesUp(c, from, warmer(w, layers)), b.comesUp(c, to, 0)
		}
		to = min(to, quantity.SlotsPerYear-1)
		film, warms := Stretch{}, false
		if a == SowOutside {
			if film, warms = b.warming(c, layers, covered); warms {
				from = max(from, film.To+1)
			}
		}
		work, ok := b.work(a, record.Last, c, layers, from, to, l)
		if warms {
			work, ok = b.withFilm(work, layers, film)
		}
		if ok {
			out = append(out, work)
		}
	}
	o, w := open.Window(quantity.Careful, LastSafeDay), covered.Window(quantity.Careful, LastSafeDay)
	if o != nil && w != nil && w.To.State == Dated && (o.To.State == Dated || o.To.State == Never) && w.To.EndKnown() && o.To.EndKnown() {
		from := quantity.Slot(quantity.SlotsPerYear)
		if o.To.State == Dated {
			from = o.To.Slot
		}
		if work, ok := b.work(LastSafeDay, record.First, c, layers, from, w.To.Slot, l); ok {
			out = append(out, work)
		}
	}
	return stay(out, &b.room.work, 200)
}

// comesUp is when a seed sown on a slot comes up by careful odds, in soil that is warmer by
// a gain; the slot itself where emergence is not known or never happens.
func (b *bandPlan) comesUp(c *catalog.Crop, s quantity.Slot, gain quantity.Kelvins) quantity.Slot {
	e := b.emerges(c, quantity.Careful)
	if gain != 0 {
		e = b.emergesIn(c, quantity.Careful, gain)
	}
	if s >= 0 && int(s) < len(e.up) && e.up[s] < quantity.SlotsPerYear*2 {
		return e.up[s]
	}
	return s
}

// work is the price of one stretch of evenings, from the first to the one before the day on
// which open ground is as safe. The minimum dated D belongs to the evening of D-1.
func (b *bandPlan) work(a Action, e record.Event, c *catalog.Crop, layers *layered, first, safe quantity.Slot, l *limits) (Work, bool) {
	q := evenings{event: e, first: first, safe: safe, vent: math.Float64bits(float64(layers.vent)), ventKnown: layers.ventKnown}
	allowance, cold := stillAir(c), &b.of(c).cold[e]
	for stage, limit := range [2]*temperature{&l.young, &l.grown} {
		if t, ok := limit.Get(); ok && cold[stage] == nil {
			cold[stage] = b.counting.marksOf(b.climate, e, t, allowance)
		}
	}
	if q.grown = cold[1]; e == record.Last {
		q.young = cold[0]
	}
	p := b.counting.price(b.climate, q)
	return Work{Action: a, From: first, To: safe - 1, Needed: p.needed, Prudent: p.prudent, ShutAndOpen: p.open, VentKnown: layers.ventKnown}, p.known
}

// withFilm adds to the price of a start the nights on which film lies to warm the soil, and
// the days after them on which it must be opened.
func (b *bandPlan) withFilm(w Work, layers *layered, film Stretch) (Work, bool) {
	n := int16(film.To-film.From) + 1
	w.Action, w.From, w.To, w.VentKnown, w.Warming = SowOutside, film.From, max(w.To, film.To), layers.ventKnown, int(n)
	for _, x := range []*Nights{&w.Needed, &w.Prudent} {
		x.Middling, x.Bad = x.Middling+n, x.Bad+n
	}
	if !layers.ventKnown {
		return w, true
	}
	days, ok := b.counting.warmDays(b.climate, layers.vent, film.From+1, film.To+1)
	w.ShutAndOpen.Middling, w.ShutAndOpen.Bad = w.ShutAndOpen.Middling+days.Middling, w.ShutAndOpen.Bad+days.Bad
	return w, ok
}

// stillAir is how much colder than the air a leaf is on half the nights, where the crop's
// limits are of plants; the prudent nights have the rest.
func stillAir(c *catalog.Crop) quantity.Kelvins {
	if c.Basis == catalog.Plant {
		return allowanceHalf
	}
	return 0
}
