package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Stretch is days of one kind, both inclusive, in slots of a plan. The zero Stretch is
// none.
type Stretch struct {
	From, To quantity.Slot
	Gate     Gate
}

// Exists says that there is such a stretch.
func (s Stretch) Exists() bool { return s.To > 0 && s.To >= s.From }

// within is the part of a stretch between two days, none where they do not meet.
func (s Stretch) within(from, to quantity.Slot) Stretch {
	s.From, s.To = max(s.From, from), min(s.To, to)
	if !s.Exists() {
		return Stretch{}
	}
	return s
}

// Parts is a window as one or, with a gap in it, two windows without one.
func (w Window) Parts() []Window {
	if !w.Gap.Exists() {
		return []Window{w}
	}
	before, after := w, w
	before.Gap, after.Gap = Stretch{}, Stretch{}
	before.To = Bound{State: Dated, Slot: w.Gap.From - 1, Gate: w.Gap.Gate}
	after.From = Bound{State: Dated, Slot: w.Gap.To + 1, Gate: w.Gap.Gate}
	return []Window{before, after}
}

// heatKey identifies a question about hot weather.
type heatKey struct {
	series band.Series
	limit  quantity.Celsius
}

// hot is when the weather is too hot for a crop, in half the years as all that checks
// growth is asked: from the first to the last day around which a month's days are as hot as
// heat_c on average, or the month, day and night, as warm as heat_mean_c. With both figures the longer stretch.
// None where neither is known, or it does not get so hot.
func (b *bandPlan) hot(c *catalog.Crop) (Stretch, []Reason) {
	x := b.of(c)
	if !x.hotKnown || b.trace != nil { // an explanation notes each time it is asked
		x.hot, x.whyHot = b.hotOf(c)
		x.hotKnown = true
	}
	return x.hot, x.whyHot
}

func (b *bandPlan) hotOf(c *catalog.Crop) (out Stretch, why []Reason) {
	for _, x := range []struct {
		kind   ReasonKind
		series band.Series
		limit  *temperature
	}{{ReasonHeat, band.Hot, &c.Heat}, {ReasonHeatMean, band.Month, &c.HeatMean}} {
		t, ok := x.limit.Get()
		if !ok {
			continue
		}
		begins, ends := b.heat(x.series, t)
		if begins.State != band.Dated || ends.State != band.Dated || ends.Slot < begins.Slot {
			continue
		}
		why = append(why, Reason{Kind: x.kind, Number: float64(t), Unit: UnitCelsius, Gate: Heat, By: x.limit.Owner, cell: &x.limit.Cell})
		if !out.Exists() {
			out = Stretch{begins.Slot, ends.Slot, Heat}
			continue
		}
		out.From, out.To = min(out.From, begins.Slot), max(out.To, ends.Slot)
	}
	return out, why
}

// heat asks the climate once for each limit; at length while a date is being explained.
func (b *bandPlan) heat(series band.Series, limit quantity.Celsius) (begins, ends band.Answer) {
	if b.trace != nil {
		begins, ends = b.climate.Heat(series, quantity.Half, limit)
		gates := []band.Gate{{Series: series, Limit: limit}}
		*b.trace = append(*b.trace, Traced{For: b.action, Event: record.First, Odds: quantity.Half, Gates: gates, Answer: begins},
			Traced{For: b.action, Event: record.Last, Odds: quantity.Half, Gates: gates, Answer: ends})
		return begins, ends
	}
	a := b.climate.Keep(heatKey{series, limit}, func() any {
		begins, ends := b.climate.HeatWithoutParts(series, quantity.Half, limit)
		return [2]band.Answer{begins, ends}
	}).([2]band.Answer)
	return a[0], a[1]
}

// coolSeason says that hot weather spoils a crop where it stands: the hardy classes, which
// bolt or grow coarse. Tender crops want the summer; heat costs them flowers, which is
// said beside their harvest and moves no date. Plants that stay for years are there anyway.
func coolSeason(c *catalog.Crop) bool {
	return (c.Class == "hardy" || c.Class == "half_hardy") && !Lasting(c)
}

// avoidHeat keeps the harvest of a cool crop out of hot weather: in spring the last start
// is one that even slow kinds finish before it, the first of fall one whose quick kinds
// are ready after it. Where spring leaves no room for slow kinds, quick ones are reckoned
// with. Where no start at all avoids the heat nothing is moved: growers grow it all the
// same, and its harvest says that it is hot.
func (b *bandPlan) avoidHeat(c *catalog.Crop, w *Window, s *span) {
	if w.Layers == "" {
		s.usual[level(w.Odds)] = w.From
	}
	if !coolSeason(c) || !s.known || !w.Exists() {
		return
	}
	asked, moved := b.questions(), false
	defer func() {
		if !moved { // what changes nothing needs no explanation
			b.forget(asked, b.questions())
		}
	}()
	hot, why := b.hot(c)
	if !hot.Exists() {
		return
	}
	begin, end := b.begin(w.From), quantity.Slot(2*quantity.SlotsPerYear-1)
	if w.To.State == Dated {
		end = w.To.Slot
	}
	for _, days := range []int{s.high, s.low} {
		gap := Stretch{hot.From - quantity.Slot(days), hot.To - quantity.Slot(s.low), Heat}
		switch {
		case gap.From > end || gap.To < begin || gap.To < gap.From:
			return
		case gap.From <= begin && (days == s.high && s.high > s.low || gap.To >= end):
			continue
		case gap.From <= begin:
			w.From = Bound{State: Dated, Slot: gap.To + 1, Gate: Heat}
		case gap.To >= end:
			w.To = Bound{State: Dated, Slot: gap.From - 1, Gate: Heat}
		default:
			w.Gap = gap
		}
		moved = true
		w.Reasons = append(w.Reasons, why...)
		w.Reasons = append(w.Reasons, Reason{Kind: ReasonReady, Number: float64(days), Unit: UnitDays, Gate: Heat, cell: &c.DaysHigh.Cell})
		return
	}
}

// gapInside is the gap in sowing inside that a gap in setting out leaves: days on which a
// plant, raised for as long as it may be, is never ready outside the gap.
func gapInside(gap Stretch, low, high quantity.Slot) Stretch {
	if !gap.Exists() {
		return gap
	}
	return Stretch{gap.From - low, gap.To - high, gap.Gate}.within(-quantity.SlotsPerYear, 2*quantity.SlotsPerYear)
}
