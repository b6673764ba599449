package plan

import (
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// establishWeeks is how long before the ground freezes a plant that is to live through
// the winter must be in its bed: six weeks (common practice, no trial found).
const establishWeeks = 6

// roots is the fewest days of a fall planting: where soil stays warm until the ground
// nearly freezes, roots come before cool soil.
const roots = 14

// groundFreezes: soil at sowing depth at freezing, by the running mean of air; under snow
// or mulch it comes later. staysFrozen is for how many days it must stay so: an early cold
// spell that thaws again keeps nothing from rooting.
const (
	groundFreezes = quantity.Celsius(0)
	staysFrozen   = 14
)

// PlantedInFall says whether a crop goes into the ground in fall and is harvested in the
// next summer, as garlic is.
func PlantedInFall(c *catalog.Crop) bool {
	return c.Start == catalog.Planted && c.Season == catalog.FallPlanted
}

// Lasting says whether a crop stays in its bed for years: those with a year of the first
// harvest. A perennial without one is grown as if it were none (a dahlia is lifted).
func Lasting(c *catalog.Crop) bool { return c.FirstYear.Known() }

// FallPlanting is planting in fall at one level of odds, and the harvest of the next
// summer. The slots are those of the fall that follows the summer planned for, so a
// harvest lies in the season year after it.
type FallPlanting struct {
	Plant, Harvest Window
	Missing        []Missing
}

// FallPlanting plans a crop that is or may be planted in fall; false for others.
func (p *Planner) FallPlanting(c *band.Climate, crop *catalog.Crop, odds quantity.Odds) (FallPlanting, bool) {
	if crop.Start != catalog.Planted || crop.Season == catalog.SpringPlanted {
		return FallPlanting{}, false
	}
	b := &bandPlan{p: p, climate: c.Remembering(), dates: map[dateKey]told{}, book: p.book}
	return b.fallPlanting(crop, odds), true
}

// fallWindows is the windows of a crop that is planted in fall alone; no layers change
// when that is.
func (b *bandPlan) fallWindows(c *catalog.Crop, layers string, odds quantity.Odds) []Window {
	f := b.fallPlanting(c, odds)
	f.Plant.Layers, f.Harvest.Layers = layers, layers
	return []Window{f.Plant, f.Harvest}
}

// coolings remembers when soil cools to a temperature.
type coolings map[coolKey]Bound

type coolKey struct {
	odds  quantity.Odds
	limit quantity.Celsius
}

// cools is when soil has cooled to a limit in fall; Open where it does not.
func (b *bandPlan) cools(odds quantity.Odds, limit quantity.Celsius, gate Gate) Bound {
	key := coolKey{odds, limit}
	bound, ok := b.cooled[key]
	if !ok {
		days := 1
		if gate == Ground {
			days = staysFrozen
		}
		bound = boundOf(b.climate.Cools(odds, limit, days), gate) // Open where it does not get as cold
		if b.cooled == nil {
			b.cooled = coolings{}
		}
		b.cooled[key] = bound
	}
	return bound
}

// fallPlanting is both windows. Planting begins so many weeks before the ground freezes,
// once soil has cooled in half the years (a thermometer tells that on the day), and ends
// so many weeks before, at the odds of the window. Where it does not freeze, nothing ends
// it. Harvest counts the days of the row from the day in spring on which soil is warm
// enough for growth.
func (b *bandPlan) fallPlanting(c *catalog.Crop, odds quantity.Odds) FallPlanting {
	out := FallPlanting{Plant: Window{Action: SowOutside, Odds: odds}, Harvest: Window{Action: Harvest, Odds: odds}}
	low, a := c.FallWeeksLow.Get()
	high, z := c.FallWeeksHigh.Get()
	if !a || !z {
		out.Missing = append(out.Missing, Missing{Figure: "fall_weeks_low"})
	} else {
		b.plantInFall(c, &out.Plant, low, high)
	}
	if !c.FallSoil.Known() {
		out.Missing = append(out.Missing, Missing{Figure: "fall_soil_c"})
	}
	b.harvestAfterFall(c, &out)
	return out
}

func (b *bandPlan) plantInFall(c *catalog.Crop, w *Window, low, high float64) {
	frozen := b.cools(w.Odds, groundFreezes, Ground)
	w.Reasons = append(w.Reasons, Reason{Kind: ReasonGround, Number: low, Unit: UnitWeeks, Gate: Ground, By: c.FallWeeksLow.Owner, cell: &c.FallWeeksLow.Cell})
	cooled := Bound{State: Open}
	if t, ok := c.FallSoil.Get(); ok {
		cooled = b.cools(quantity.Half, t, Cooling)
		w.Reasons = append(w.Reasons, Reason{Kind: ReasonCool, Number: float64(t), Unit: UnitCelsius, Gate: Cooling, By: c.FallSoil.Owner, cell: &c.FallSoil.Cell})
		if cooled.State == Open { // never as cold
			cooled = Bound{State: Never, Gate: Cooling}
		}
	}
	switch {
	case frozen.State == NotKnown || cooled.State == NotKnown:
		return
	case frozen.State == Never: // in any month: perpetual frost
		w.From, w.To = frozen, frozen
		return
	case frozen.State == Open:
		w.From, w.To = cooled, frozen
		if cooled.State == Never {
			w.To = cooled
		}
		return
	}
	w.From, w.To = frozen, frozen
	w.From.Slot -= quantity.Slot(7 * high)
	w.To.Slot -= quantity.Slot(7 * low)
	if cooled.State == Never || cooled.State == Dated && cooled.Slot > w.From.Slot {
		soon := w.To.Slot - roots
		if cooled.State == Dated && cooled.Slot <= soon {
			w.From = cooled
		} else {
			w.From.Slot = max(w.From.Slot, soon)
		}
	}
}

// harvestAfterFall fills in the harvest.
func (b *bandPlan) harvestAfterFall(c *catalog.Crop, out *FallPlanting) {
	t, warm := c.SoilMin.Get()
	low, x := c.DaysLow.Get()
	high, y := c.DaysHigh.Get()
	if !warm || !x || !y {
		out.Missing = append(out.Missing, Missing{Figure: "days_low"})
		return
	}
	if out.Plant.From.State == Never { // nothing is harvested that is not planted
		out.Harvest.From, out.Harvest.To = Bound{State: Never}, Bound{State: Never}
		return
	}
	grows := b.alone(record.Last, quantity.Half, band.Gate{Series: band.Soil, Limit: t}).bound(Growth)
	h := &out.Harvest
	h.Reasons = append(h.Reasons, Reason{Kind: ReasonSoil, Number: float64(t), Unit: UnitCelsius, Gate: Soil, By: c.SoilMin.Owner, cell: &c.SoilMin.Cell}, daysReason(&c.DaysLow))
	if grows.State != Dated {
		h.From, h.To = grows, grows
		return
	}
	h.From, h.To = grows, grows
	h.From.Slot += quantity.Slot(low) + quantity.SlotsPerYear
	h.To.Slot += quantity.Slot(high) + quantity.SlotsPerYear
}

// springWeeks is for how long crowns, tubers and young plants that are planted in spring go
// into the ground from the first day on: four weeks, while they are dormant and before
// summer. Published windows for crowns are three weeks long in Missouri [source mu_g6201],
// seven and eight in lists of Utah, Virginia and South Carolina that begin two months
// before the last freeze, where a careful first day comes later.
const springWeeks = 4

// PlantedInSpring says whether a crop that stays for years is planted in spring alone, as
// crowns of asparagus are.
func PlantedInSpring(c *catalog.Crop) bool {
	return c.Start == catalog.Planted && c.Season == catalog.SpringPlanted && Lasting(c)
}

// firstPlanting is the first careful day of planting: that of open ground, where it has one,
// so that covers, which make the first day earlier, make no last day earlier.
func (b *bandPlan) firstPlanting(lp *LayerPlan) Bound {
	for _, l := range []*LayerPlan{b.open, lp} {
		if l == nil {
			continue
		}
		if w := l.Window(quantity.Careful, SowOutside); w != nil && (w.From.State == Dated || w.From.State == Open) {
			return w.From
		}
	}
	return Bound{}
}

// established gives the windows of a crop that stays for years its last days of planting: not
// the last that comes to harvest in the first year but the last that roots before winter or,
// of what is planted in spring, the last of spring. Where the first harvest comes in a later
// year there is none to plan. first is the first careful day of planting.
func (b *bandPlan) established(c *catalog.Crop, ws []Window, first Bound) []Window {
	year, _ := c.FirstYear.Get()
	out := ws[:0]
	for _, w := range ws {
		if w.Action == Harvest && year > 1 {
			continue
		}
		out = append(out, w)
	}
	for i := range out {
		if w := &out[i]; w.Action == SowOutside || w.Action == SetOut {
			b.rootedBy(c, w, first, year <= 1)
		}
	}
	for i := range out {
		for _, set := range out {
			if out[i].Action == Harvest && set.Action == LastSafeDay && c.Start != catalog.Planted && out[i].From.State == Dated {
				picksLeaves(&out[i], set.To)
			}
			if out[i].Action == SowInside && set.Action == SetOut {
				out[i].Reasons = nil
				out[i].From, out[i].To = raising(c, &set, &out[i].Reasons)
			}
		}
	}
	if year <= 1 && c.Start == catalog.Planted {
		b.firstYear(c, out)
	}
	return out
}

// picksLeaves ends a harvest with the last safe day of the leaves: a hard winter ends them
// before it ends the plant.
func picksLeaves(h *Window, safe Bound) {
	h.To = safe
	h.Reasons = slices.DeleteFunc(h.Reasons, func(r Reason) bool { return r.Gate == Frost })
	if safe.State == Dated {
		h.Hot, h.Slow = h.Hot.within(h.From.Slot, safe.Slot), h.Slow.within(h.From.Slot, safe.Slot)
	}
}

// rootedBy ends a window of planting six weeks before the ground freezes; what is sown
// outside by as many weeks sooner as a plant is raised inside. What is planted in spring is
// planted within springWeeks of the first day. Where the first year brings a harvest
// (picked), there is no planting that even quick kinds come too late for.
func (b *bandPlan) rootedBy(c *catalog.Crop, w *Window, first Bound, picked bool) {
	if w.From.State != Dated && w.From.State != Open {
		return
	}
	if c.Start == catalog.Planted && picked && w.To.State == Never {
		if s, ok := w.TooShort(c); !ok || !s.QuickFits {
			return
		}
	}
	w.To = b.cools(w.Odds, groundFreezes, Ground)
	w.Reasons = append(w.Reasons, Reason{Kind: ReasonGround, Number: establishWeeks, Unit: UnitWeeks, Gate: Ground})
	if w.To.State == Dated {
		w.To.Slot -= 7 * establishWeeks
		if weeks, ok := c.WeeksInsideHigh.Get(); ok && w.Action == SowOutside && c.Start != catalog.Planted {
			w.To.Slot -= quantity.Slot(7 * weeks)
			w.Reasons = append(w.Reasons, Reason{Kind: ReasonWeeks, Number: weeks, Unit: UnitWeeks, Gate: Ground, cell: &c.WeeksInsideHigh.Cell})
		}
	}
	if PlantedInSpring(c) {
		last := max(b.begin(first), b.begin(w.From)) + 7*springWeeks
		if w.To.State == Open || w.To.State == Dated && last < w.To.Slot || w.To.State == NotKnown {
			w.To = Bound{State: Dated, Slot: last, PlusMinus: first.PlusMinus, Gate: Spring}
			w.Reasons[len(w.Reasons)-1] = Reason{Kind: ReasonSpring, Number: springWeeks, Unit: UnitWeeks, Gate: Spring}
		}
	}
	if w.From.State == Dated && w.To.State == Dated && w.To.Slot < w.From.Slot {
		w.To.State = Never
	}
}

// firstYear is the harvest of what stays for years, is planted and may be dug in its first
// year, as tubers are: it begins with the quick kinds, for slow ones are dug in the years
// after. Where even quick kinds are not ready there is no planting, see rootedBy.
func (b *bandPlan) firstYear(c *catalog.Crop, ws []Window) {
	var planted, harvest, safe *Window
	for i := range ws {
		switch ws[i].Action {
		case SowOutside:
			planted = &ws[i]
		case Harvest:
			harvest = &ws[i]
		case LastSafeDay:
			safe = &ws[i]
		}
	}
	if planted == nil || harvest == nil || safe == nil || harvest.From.State != Never || !planted.Exists() {
		return
	}
	from, _ := b.firstHarvest(c, harvest.Odds, planted, &b.of(c).sowing)
	if from.State != Dated || safe.To.State == Dated && from.Slot > safe.To.Slot {
		return
	}
	harvest.From, harvest.To = from, b.stands(c, safe.To, harvest.Odds, &harvest.Reasons)
	b.flag(c, harvest)
}

// LastPicked is the last day of a start that is still picked before the winter that follows:
// the end of its window; for crops that stay for years, whose window only leaves time to
// root, the end of the harvest less the days of the slow kinds. Never where the harvest
// comes in a later summer.
func (l *LayerPlan) LastPicked(c *catalog.Crop, a Action) Bound {
	w := l.Window(quantity.Careful, a)
	switch {
	case w == nil || PlantedInFall(c):
		return Bound{State: Never}
	case !Lasting(c):
		return w.To
	}
	h := l.Window(quantity.Careful, Harvest)
	if h == nil || h.From.State == Never || h.To.State == Never {
		return Bound{State: Never}
	}
	days, less := fromSowing(c), 0.0
	switch a {
	case SetOut:
		days = fromSetOut(c)
	case SowInside:
		days = fromSetOut(c)
		less, _ = c.WeeksInsideLow.Get()
	}
	if !days.known || h.To.State == NotKnown {
		return Bound{State: NotKnown}
	}
	if h.To.State != Dated || w.To.State != Dated {
		return w.To
	}
	last := h.To
	last.Slot -= quantity.Slot(days.high) + quantity.Slot(7*less)
	if w.To.Slot < last.Slot {
		return w.To
	}
	if w.From.State == Dated && last.Slot < w.From.Slot {
		return Bound{State: Never}
	}
	return last
}
