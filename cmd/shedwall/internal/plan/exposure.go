package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Weather is what can break a cover beside the cold.
type Weather string

// The three kinds of weather that a band's table names months for.
const (
	Wind Weather = "wind"
	Snow Weather = "snow"
	Hail Weather = "hail"
)

// Asks is what weather asks of a cover.
type Asks string

// OutOfUse and TakeDown rule a cover out in the months: it is not counted on. Sweep
// keeps it in use for one who clears it. Stands: its source says that it bears the
// weather, or snow may lie on it. Stronger: no limit is stated, so a stronger form of it
// is asked for, without a promise. Unsaid: nobody says what the weather does to it.
const (
	OutOfUse Asks = "out"
	TakeDown Asks = "take-down"
	Sweep    Asks = "sweep"
	Stands   Asks = "stands"
	Stronger Asks = "stronger"
	Unsaid   Asks = "unsaid"
)

// Exposure is what one kind of weather asks of a cover in a band.
type Exposure struct {
	Cover  string
	By     Weather
	Asks   Asks
	Months catalog.Months

	Gust, Limit float64     // km/h, of wind; 0 = not known
	At          figure.Cell // the cell of the cover's table behind it; of the band's where that is blank
}

// RuledOut says whether the cover is not counted on in the months.
func (e Exposure) RuledOut() bool { return e.Asks == OutOfUse || e.Asks == TakeDown }

// Exposures is what the weather of a band asks of a cover, in the order wind, snow,
// hail. Nothing for a kind of weather whose months nobody gave, or that is declared to
// have none.
func Exposures(b *catalog.Band, c *catalog.Cover) []Exposure {
	var out []Exposure
	add := func(by Weather, months figure.Of[catalog.Months], ask func(*Exposure)) {
		m, known := months.Get()
		if !known || m.Count() == 0 {
			return
		}
		e := Exposure{Cover: c.ID, By: by, Months: m, Asks: Unsaid, At: months.Cell}
		ask(&e)
		out = append(out, e)
	}
	add(Wind, b.WindMonths, func(e *Exposure) {
		e.Gust, _ = b.Gust.Get()
		limit, stated := c.WindLimit.Get()
		switch {
		case !stated || e.Gust == 0:
			e.Asks = Stronger
			if c.Kind == catalog.Mulch {
				e.Asks = Unsaid
			}
		case e.Gust > limit:
			e.Asks = OutOfUse
		default:
			e.Asks = Stands
		}
		if stated {
			e.Limit, e.At = limit, c.WindLimit.Cell
		}
	})
	add(Snow, b.SnowMonths, func(e *Exposure) {
		rule, said := c.Snow.Get()
		if !said {
			return
		}
		e.At = c.Snow.Cell
		e.Asks = map[catalog.SnowRule]Asks{catalog.SnowSweep: Sweep, catalog.SnowTakeDown: TakeDown, catalog.SnowLies: Stands}[rule]
	})
	add(Hail, b.HailMonths, func(e *Exposure) {
		rule, said := c.Hail.Get()
		if !said {
			return
		}
		e.At = c.Hail.Cell
		e.Asks = map[catalog.HailRule]Asks{catalog.HailHolds: Stands, catalog.HailBreaks: OutOfUse}[rule]
	})
	return out
}

// outMonths is the months in which a band's weather rules a cover out.
func outMonths(b *catalog.Band, c *catalog.Cover) (m catalog.Months) {
	if b == nil || c == nil {
		return 0
	}
	for _, e := range Exposures(b, c) {
		if e.RuledOut() {
			m |= e.Months
		}
	}
	return m
}

func outermost(layers string) string {
	if ids := catalog.SplitLayers(layers); len(ids) > 0 {
		return ids[0]
	}
	return ""
}

// OutMonths is the months in which the weather of a band rules layers out; none for
// open ground and for layers without a cover of the guide.
func (p *Planner) OutMonths(b *catalog.Band, layers string) catalog.Months {
	return outMonths(b, p.book.Cover(outermost(layers)))
}

// exposed is the first day of a start under layers in view of the months that rule
// them out: between it and the day on which open ground is as safe the layers must be
// counted on every night, so it comes after the last such month in between, at the
// latest with open ground's own day. Where open ground has no such day, the layers are
// needed to the end of the season year. Film that warms the soil must lie there so many days
// ahead of the start.
func (b *bandPlan) exposed(layers *layered, a Action, odds quantity.Odds, from Bound, ahead quantity.Slot, why *[]Reason) Bound {
	out := layers.out
	if out == 0 || b.open == nil || from.State != Dated && from.State != Open {
		return from
	}
	w := b.open.Window(odds, a)
	if w == nil || w.From.State == Open || w.From.State == NotKnown {
		return from
	}
	first, until := from.Slot-ahead, quantity.Slot(quantity.SlotsPerYear)
	if from.State == Open {
		first = springStart(b.climate.Region.Hemisphere)
	}
	if w.From.State == Dated {
		until = w.From.Slot
	}
	s := Left(b.climate.Region.Hemisphere, out, record.Last, first, until)
	if s == first {
		return from
	}
	*why = append(*why, Reason{Kind: ReasonWeather, Number: float64(s - 1), Unit: UnitSlot, Gate: Exposed, Of: layers.outermost, cell: layers.ruled})
	if s += ahead; s >= until {
		return w.From
	}
	return Bound{State: Dated, Slot: s, PlusMinus: from.PlusMinus, Gate: Exposed}
}

// Left is the date of layers that weather leaves, where it rules them out in some months:
// in spring the first day from covered on after which no such month comes before open, the
// day on which open ground is as safe; in fall the last day to covered before which none
// comes after open.
func Left(h quantity.Hemisphere, out catalog.Months, e record.Event, covered, open quantity.Slot) quantity.Slot {
	if out == 0 {
		return covered
	}
	if e == record.Last {
		for s := open - 1; s >= covered; s-- {
			if out.Has(h.MonthDay(s).Month) {
				return s + 1
			}
		}
		return covered
	}
	for s := open + 1; s <= covered; s++ {
		if out.Has(h.MonthDay(s).Month) {
			return s - 1
		}
	}
	return covered
}

// cut is the last safe day under layers in view of the months that rule them out: the day
// before the first such month after open ground's own last day, which is never cut.
func (b *bandPlan) cut(layers *layered, odds quantity.Odds, to Bound, why *[]Reason) Bound {
	out := layers.out
	if out == 0 || b.open == nil || to.State != Dated && to.State != Open {
		return to
	}
	w := b.open.Window(odds, LastSafeDay)
	if w == nil || w.To.State == Open || w.To.State == NotKnown {
		return to
	}
	first, end := quantity.Slot(quantity.SlotsPerYear), to.Slot
	if w.To.State == Dated {
		first = w.To.Slot + 1
	}
	if to.State == Open {
		end = first + quantity.SlotsPerYear/2
	}
	s := Left(b.climate.Region.Hemisphere, out, record.First, end, first-1)
	if s == end {
		return to
	}
	*why = append(*why, Reason{Kind: ReasonWeather, Number: float64(s + 1), Unit: UnitSlot, Gate: Exposed, Of: layers.outermost, cell: layers.ruled})
	if s < first {
		return w.To
	}
	return Bound{State: Dated, Slot: s, PlusMinus: to.PlusMinus, Gate: Exposed}
}

// Exposed returns the layers of a band that are offered and ruled out in some months,
// with what rules them out.
func (p *Planner) Exposed(c *band.Climate) map[string][]Exposure {
	out := map[string][]Exposure{}
	for _, id := range p.offered {
		cv := p.book.Cover(outermost(id))
		if cv == nil {
			continue
		}
		for _, e := range Exposures(c.Band, cv) {
			if e.RuledOut() {
				out[id] = append(out[id], e)
			}
		}
	}
	return out
}
