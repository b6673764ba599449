package plan

import (
	"cmp"
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Vent says from when in spring a cover must be opened by day in a band, and until when
// in fall that lasts. Slots are whole days of the season year of the spring, those of
// fall one season year on, as in windows.
type Vent struct {
	Opens   quantity.Celsius // at this temperature, as the cover's table says
	Inside  bool             // ... read inside, else outside
	Outside quantity.Celsius // the maximum outside that stands for it

	// First is the day by which such a day has come in 1 year in 10 (Early) and in half
	// the years (Half), counted from the beginning of spring. Daily is the first day from
	// which on more days than not are so warm. Last is the day after which none comes in
	// half the years. A slot below 0 is not known.
	Early, Half, Daily, Last quantity.Slot

	Years int // years counted at the station that counts most
}

// rounding keeps sums of weights that should be whole from falling off by a day.
const rounding = 1e-6

// noDay stands for a day that is not known.
const noDay quantity.Slot = -1

// VentOf is when a cover must be opened in a band; false where nobody gave its opening
// temperature or no station has ten years of days to count.
//
// Quantiles are Hazen's at each station, weighted as the station counts in the band's
// dates, whole days rounded to the early side in spring and to the late side in fall.
func VentOf(c *band.Climate, cv *catalog.Cover) (Vent, bool) {
	t, ok := cv.Vent.Get()
	if !ok {
		return Vent{}, false
	}
	key := ventKey{t, cv.VentInside, c.Region.Plain}
	x := c.Hold(key, func() any {
		v, ok := ventAt(c, t, cv.VentInside)
		return ventAnswer{v, ok}
	}).(ventAnswer)
	return x.Vent, x.ok
}

// ventKey is all that tells covers apart in how they are opened.
type ventKey struct {
	opens         quantity.Celsius
	inside, plain bool
}

type ventAnswer struct {
	Vent
	ok bool
}

func ventAt(c *band.Climate, t quantity.Celsius, inside bool) (Vent, bool) {
	v := Vent{Opens: t, Inside: inside, Outside: cover.VentOutside(t, inside), Early: noDay, Half: noDay, Daily: noDay, Last: noDay}
	h := c.Region.Hemisphere
	start := springStart(h)
	var n counting
	var early, half, last, weight, fall float64
	share := make([]float64, quantity.SlotsPerYear)
	for station, w := range n.weights(c, record.Last) {
		if w == 0 {
			continue
		}
		spring := n.warmth(c, record.Last, station, v.Outside, start)
		if !spring.known {
			continue
		}
		early, half, weight = early+w*spring.early, half+w*spring.half, weight+w
		if f := n.warmth(c, record.First, station, v.Outside, start); f.known {
			last, fall = last+w*f.last, fall+w
		}
		v.Years = max(v.Years, spring.years)
		for s, x := range spring.share {
			share[s] += w * x
		}
	}
	if weight == 0 {
		return v, false
	}
	day := func(sum float64) quantity.Slot {
		if d := sum / weight; !math.IsInf(d, 0) {
			return quantity.Slot(math.Floor(d + rounding))
		}
		return noDay
	}
	v.Early, v.Half = day(early), day(half)
	if fall > 0 {
		v.Last = quantity.SlotsPerYear + quantity.Slot(math.Ceil(last/fall-rounding))
	}
	v.Daily = moreThanNot(share, weight, start)
	return v, true
}

// warmth is when days as warm come at a station: of spring, the day by which one has come
// in 1 year in 10 and in half the years, and the share of years in which each slot is as
// warm; of fall, the day after which none comes in half the years.
type warmth struct {
	known             bool // of ten years or more
	years             int
	early, half, last float64
	share             [quantity.SlotsPerYear]float64
}

// warmthKey is the key of a station's warmth: bands that share a threshold share that.
type warmthKey struct {
	event     record.Event
	threshold quantity.Hundredths
}

func (n *counting) warmth(c *band.Climate, e record.Event, station int, outside quantity.Celsius, start quantity.Slot) *warmth {
	at := c.DayThreshold(e, quantity.Careful, station, outside)
	return c.Region.Stations[station].Keep(warmthKey{e, at}, func() any {
		marks := n.years(c, e, station).Warm(at)
		w := &warmth{}
		if e == record.First {
			_, lasts := marks.Ends(0, start)
			w.last, w.known = hazen(lasts, 0.5)
			return w
		}
		firsts, _ := marks.Ends(start, quantity.SlotsPerYear)
		w.years = len(firsts)
		w.early, w.known = hazen(firsts, 0.1)
		w.half, _ = hazen(firsts, 0.5)
		for s := range w.share {
			w.share[s] = marks.Share(quantity.Slot(s))
		}
		return w
	}).(*warmth)
}

// moreThanNot is the first slot from start on whose week around it, and every later one for
// four weeks, has at least half its days so warm; noDay where there is none.
func moreThanNot(share []float64, weight float64, start quantity.Slot) quantity.Slot {
	run := 0
	for s := int(start); s+3 < len(share); s++ {
		sum := 0.0
		for k := s - 3; k <= s+3; k++ {
			sum += share[k]
		}
		if sum/(7*weight) < 0.5 {
			run = 0
			continue
		}
		if run++; run == 28 || s+4 == len(share) {
			return quantity.Slot(s - run + 1)
		}
	}
	return noDay
}

// hazen is a quantile of yearly slots at Hazen's positions; false with fewer than ten
// years. A year without such a day counts as infinitely late, and so may the quantile.
func hazen(slots []float64, share float64) (float64, bool) {
	n := len(slots)
	if n < leastYears {
		return 0, false
	}
	sorted := slices.Clone(slots)
	slices.Sort(sorted)
	rank := min(max(share*float64(n)-0.5, 0), float64(n-1))
	i := int(rank)
	if i+1 >= n || rank == float64(i) {
		return sorted[i], true
	}
	return sorted[i] + (sorted[i+1]-sorted[i])*(rank-float64(i)), true
}

// Uncover is the day from which a cover must be off by day, since the flowers of a crop
// need insects: its first picking less the days from an open flower to the fruit.
type Uncover struct {
	Crop   *catalog.Crop
	Layers string
	From   quantity.Slot
	Dated  bool // else nobody gave the days from flower to fruit, or nothing is started
	Days   figure.Of[int]
}

// Uncovers is the uncovering of every planned crop whose flowers need insects under every
// set of layers that keeps them out and has a season, by careful dates, in the order of the
// plans.
func (p *Planner) Uncovers(plans []CropPlan) []Uncover {
	var out []Uncover
	for i := range plans {
		c := plans[i].Crop
		if needs, said := c.NeedsInsect.Get(); !said || !needs {
			continue
		}
		for k := range plans[i].Layers {
			l := &plans[i].Layers[k]
			if h, ok := l.Find(quantity.Careful, Harvest); !p.keepsOut(l.Layers) || ok && (h.From.State == Never || h.To.State == Never) {
				continue // no season, so nothing to uncover
			}
			out = append(out, UncoverOf(c, l))
		}
	}
	return out
}

// UncoverOf is the uncovering of one crop under one set of layers by careful dates.
func UncoverOf(c *catalog.Crop, l *LayerPlan) Uncover {
	u := Uncover{Crop: c, Layers: l.Layers, Days: c.FruitDays}
	days, known := c.FruitDays.Get()
	w, ok := l.Find(quantity.Careful, Harvest)
	if known && ok && w.From.State == Dated && w.To.State != Never {
		u.From, u.Dated = w.From.Slot-quantity.Slot(days), true
	}
	return u
}

// keepsOut says whether any cover of the layers keeps insects out, by its table.
func (p *Planner) keepsOut(layers string) bool {
	for _, id := range catalog.SplitLayers(layers) {
		if c := p.book.Cover(id); c != nil {
			if out, said := c.InsectsOut.Get(); said && out {
				return true
			}
		}
	}
	return false
}

// LastUse is the last evening of spring on which layers are worth their work in a band:
// the last on which any crop planned under them still needs them by careful dates. From
// the morning after they earn nothing but shade.
type LastUse struct {
	Layers string
	Last   quantity.Slot
	Crop   *catalog.Crop // the crop that needs them longest; the first by name among equals
	Most   quantity.Slot // the evening by which nine in ten of the crops that use them are done
	Crops  int           // how many crops use them in spring
}

// LastUses is the last use of every set of layers that any planned crop uses in spring,
// in the order of the band's offered layers. A cover that is needed at any time of
// the year, spring and fall in one, has none.
func (p *Planner) LastUses(c *band.Climate, plans []CropPlan) []LastUse {
	ends := map[string][]quantity.Slot{}
	longest := map[string]LastUse{}
	for i := range plans {
		for k := range plans[i].Layers {
			l := &plans[i].Layers[k]
			last := noDay
			for _, s := range l.Covers {
				if s.Event == record.Last && s.To < quantity.SlotsPerYear-1 {
					last = max(last, s.To)
				}
			}
			if last == noDay {
				continue
			}
			ends[l.Layers] = append(ends[l.Layers], last)
			u, seen := longest[l.Layers]
			if !seen || last > u.Last || last == u.Last && cmp.Less(plans[i].Crop.Name, u.Crop.Name) {
				longest[l.Layers] = LastUse{Layers: l.Layers, Last: last, Crop: plans[i].Crop}
			}
		}
	}
	var out []LastUse
	for _, id := range p.OfferedIn(c) {
		u, ok := longest[id]
		if !ok {
			continue
		}
		e := ends[id]
		slices.Sort(e)
		u.Crops = len(e)
		u.Most = e[min(len(e)-1, (9*len(e)+9)/10-1)]
		out = append(out, u)
	}
	return out
}

// WeekPrice is what an extra week costs in money under a cover: its price spread over
// its years of use, for so many days bought a year in spring and fall. false where the
// price, the years or the days are not known or not above 0.
func WeekPrice(c *catalog.Cover, days int) (float64, bool) {
	price, a := c.Price.Get()
	years, b := c.Years.Get()
	if !a || !b || years <= 0 || price <= 0 || days <= 0 {
		return 0, false
	}
	return price / years / (float64(days) / 7), true
}
