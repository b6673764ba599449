package plan

import (
	"sort"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/season"
)

// temperature is a figure of a table in degrees.
type temperature = figure.Of[quantity.Celsius]

// SlowDays is the winter days of a band on which growth all but stops, after the summer
// planned: shorter than ShortDay hours of day, or with the sun behind a ridge by the
// band's own row. sun says that the ridge makes it longer. None where neither happens.
func SlowDays(c *band.Climate) (slow Stretch, sun bool) {
	from, _ := c.Band.SunLostFrom.Get()
	to, _ := c.Band.SunLostTo.Get()
	x := c.HoldPlace(slowKey{from, to}, func() any {
		slow, sun := slowDays(c)
		return slowTime{slow, sun}
	}).(slowTime)
	return x.slow, x.sun
}

// slowKey is the key of a band's slowTime, which pages of crops ask for again and again:
// the days on which its row says that the sun is lost and comes back.
type slowKey struct{ from, to quantity.MonthDay }

type slowTime struct {
	slow Stretch
	sun  bool
}

func slowDays(c *band.Climate) (slow Stretch, sun bool) {
	h := c.Region.Hemisphere
	if lat, ok := c.Latitude(); ok {
		if from, to, short := season.ShortDays(lat, ShortDay, h); short {
			slow = Stretch{from, to, Light}
		}
	}
	from, a := c.Band.SunLostFrom.Get()
	to, b := c.Band.SunLostTo.Get()
	if !a || !b {
		return slow, false
	}
	lost := Stretch{h.SlotOf(from) + quantity.SlotsPerYear, h.SlotOf(to) + quantity.SlotsPerYear, Light}
	switch {
	case !lost.Exists():
		return slow, false
	case !slow.Exists():
		return lost, true
	}
	sun = lost.From < slow.From || lost.To > slow.To
	slow.From, slow.To = min(slow.From, lost.From), max(slow.To, lost.To)
	return slow, sun
}

// HardenOff is when plants raised inside are hardened off: the week before each day of
// setting out, so from a week before the first to the day before the last (a week: common
// practice, extension services say one to two). false where nothing is set out by date.
func HardenOff(setOut Window) (from, to quantity.Slot, ok bool) {
	if setOut.Action != SetOut || !setOut.Exists() || setOut.From.State != Dated {
		return 0, 0, false
	}
	to = setOut.From.Slot - 1
	if setOut.To.State == Dated {
		to = setOut.To.Slot - 1
	}
	return setOut.From.Slot - hardening, to, true
}

// sumKey names a running sum of degree days.
type sumKey struct {
	base, ceiling quantity.Celsius
	odds          quantity.Odds
}

// noCeiling is above all weather.
const noCeiling quantity.Celsius = 60

// sumsOf is the degree days before each slot of three season years, by the band's mean
// course of minima and maxima (the single sine); nil where it is not known. No night gain
// enters them.
func (b *bandPlan) sumsOf(c *catalog.Crop, odds quantity.Odds) []float64 {
	base, ok := c.Base.Get()
	if !ok {
		return nil
	}
	return b.sumsAbove(base, c, odds)
}

// sumsAbove is the same above any base.
func (b *bandPlan) sumsAbove(base quantity.Celsius, c *catalog.Crop, odds quantity.Odds) []float64 {
	key := sumKey{base, noCeiling, odds}
	if t, ok := c.Ceiling.Get(); ok {
		key.ceiling = t
	}
	sums, asked := b.sums[key]
	if asked {
		return sums
	}
	if k := level(odds); b.days[k][0] == nil {
		b.days[k][0], b.days[k][1] = b.climate.Days(odds)
	}
	if low, high := b.days[level(odds)][0], b.days[level(odds)][1]; low != nil && high != nil {
		sums = make([]float64, 3*quantity.SlotsPerYear+1)
		var of [quantity.SlotsPerYear]float64
		for k := range of {
			of[k] = season.DegreeDaysSine(quantity.Celsius(low[k]), quantity.Celsius(high[k]), key.base, key.ceiling)
		}
		for s := range len(sums) - 1 {
			sums[s+1] = sums[s] + of[s%quantity.SlotsPerYear]
		}
	}
	if b.sums == nil {
		b.sums = map[sumKey][]float64{}
	}
	b.sums[key] = sums
	return sums
}

// usual is the start for which days to harvest are counted: the first in open ground, also
// under covers; the first there is where open ground has none.
func (b *bandPlan) usual(s *span, odds quantity.Odds, from Bound) quantity.Slot {
	if u := s.usual[level(odds)]; b.open != nil && u.State == Dated {
		return u.Slot
	}
	return b.begin(from)
}

// warmUntil is the last start that by end still collects the degree days which the usual
// start, on from, has collected after as many days: days are counted in spring and summer,
// and in fall each is worth less. false where nobody knows the base temperature.
func (b *bandPlan) warmUntil(c *catalog.Crop, odds quantity.Odds, from, end quantity.Slot, days int) (last quantity.Slot, need float64, ok bool) {
	sums := b.sumsOf(c, odds)
	if sums == nil || int(from)+days >= len(sums) || from < 0 || int(end)+1 >= len(sums) {
		return 0, 0, false
	}
	need = sums[int(from)+days] - sums[from]
	after := sort.Search(int(end)+1, func(s int) bool { return sums[end+1]-sums[s] < need-1e-9 })
	return quantity.Slot(after - 1), need, true
}
