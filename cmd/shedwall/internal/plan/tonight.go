package plan

import (
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Degrees is the scale a tonight card is written in: one a card, so that no figure
// can be read on the wrong one.
type Degrees uint8

// The two scales.
const (
	InCelsius Degrees = iota
	InFahrenheit
)

// ForecastMargin is by how much a forecast low is taken to be too warm: 2 C on a
// card in Celsius, 4 F on one in Fahrenheit. Common practice; no source was found.
func (d Degrees) ForecastMargin() quantity.Kelvins {
	if d == InFahrenheit {
		return quantity.FromFahrenheitDifference(4)
	}
	return 2
}

// Number is a temperature on the scale.
func (d Degrees) Number(t quantity.Celsius) float64 {
	if d == InFahrenheit {
		return t.Fahrenheit()
	}
	return float64(t)
}

// Difference is a difference of temperatures on the scale.
func (d Degrees) Difference(k quantity.Kelvins) float64 {
	if d == InFahrenheit {
		return k.Fahrenheit()
	}
	return float64(k)
}

// Celsius is the temperature of a number on the scale.
func (d Degrees) Celsius(n float64) quantity.Celsius {
	if d == InFahrenheit {
		return quantity.FromFahrenheit(n)
	}
	return quantity.Celsius(n)
}

// Step is the finest step between the rows of a card: half a degree Celsius, one
// degree Fahrenheit.
func (d Degrees) Step() float64 {
	if d == InFahrenheit {
		return 1
	}
	return 0.5
}

// slack is how near to a threshold a row still counts as being at it. Tables keep
// limits in tenths of a degree Celsius: the 20 F of a source is -6.7 C, or 19.94 F, and
// must not make a row of 20 F a safe one.
func (d Degrees) slack() float64 {
	if d == InFahrenheit {
		return 0.1
	}
	return 0.06
}

// Tonight tells from a garden's low what its crops need for the night. Forecast
// margin and gains are in it, so a gardener reads the row of the low as forecast for
// the garden.
type Tonight struct {
	Degrees Degrees
	Groups  [4]TonightGroup // A to D
	Rows    []TonightRow    // warmest first; the last one is for anything colder
	Tender  []TenderYoung   // young plants for which one column to the right is not enough
	Unknown []*catalog.Crop // crops without a cold figure, of which the card says nothing
}

// TenderYoung is a crop whose young plants are to be read in a column further right
// than the next one; 0 = in none, they come in.
type TenderYoung struct {
	Crop  *catalog.Crop
	Own   byte // the crop's group
	Group byte
}

// TonightGroup is one column of a card.
type TonightGroup struct {
	Group byte
	Crops []*catalog.Crop // by name
	// Limit is the warmest screen air (C) that harms a grown crop of this group, no
	// colder than the limit of the group before. Known is false where no figure makes
	// one.
	Limit quantity.Celsius
	Known bool
	By    *catalog.Crop // the crop whose figure Limit is
}

// TonightRow holds for every low at or above Low and below that of the row before
// it; the last row of a card, Colder, for every low below Low.
type TonightRow struct {
	Low    float64 // on the card's scale
	Colder bool
	Needs  [4]Need // by group
}

// Need is what a group needs for one night.
type Need struct {
	State  NeedState
	Layers string // of Covered: the lightest offered layers that hold
}

// NeedState says which kind of need it is.
type NeedState uint8

// NeedUnknown: no figure tells. Uncovered: open ground does. Covered: layers do.
// PickToday: nothing offered holds; what is ready is picked, what can be carried comes
// in.
const (
	NeedUnknown NeedState = iota
	Uncovered
	Covered
	PickToday
)

// Tonight makes a card for the planned crops, of at most so many rows. A row holds
// where the low stays above the warmest harmful temperature of its group, with the
// forecast margin on top and the covers' low gain off:
//
//	low > limit + margin - gain        the same threshold as for dates, see band.Shift
//
// Only layers whose low gain is above 0 hold anything. Rows that find no room are thinned
// out, see Thin.
//
// Gains are those of a band's own book, see BookFor. Houses are not on the card,
// neither structures nor covers heavier than hand work: none can be put over a bed tonight.
func (p *Planner) Tonight(c *band.Climate, plans []CropPlan, d Degrees, most int) Tonight {
	t := Tonight{Degrees: d}
	book := p.BookFor(c)
	t.Groups, t.Unknown = p.tonightGroups(plans)
	t.Tender = p.tenderYoung(plans, t.Groups)
	var warm []string
	for _, id := range p.OfferedIn(c) {
		if g := book.Gain(id); g.Known && g.Low > 0 && !p.stands(id) {
			warm = append(warm, id)
		}
	}
	t.Rows = tonightRows(book, t, warm)
	for len(t.Rows) > max(most, fewestRows) && t.Thin() {
	}
	return t
}

// fewestRows is what any card has room for: one row a group for open ground and one
// for anything colder. No card is thinned out to fewer.
const fewestRows = 5

// Thin takes one row out and says whether there was one to take. Lows of a row that is gone
// are read in the row below it, so that somebody may take a heavier cover than needed, never a
// lighter one. Where a group begins to need a cover at all, which wall sheets tell too, no
// row is taken; where covers stop to hold, only when no other is left; and of those the one
// for the fewest degrees.
func (t *Tonight) Thin() bool {
	rows, take, best := t.Rows, 0, 0.0
	const held = 1000.0 // degrees: a row that is taken only after all others
	for k := 1; k < len(rows)-1; k++ {
		cost := rows[k-1].Low - rows[k].Low
		open := false
		for i, n := range rows[k].Needs {
			below := rows[k+1].Needs[i]
			open = open || (n.State == Uncovered) != (below.State == Uncovered)
			if n.State != below.State && below.State == PickToday {
				cost += held
			}
		}
		if !open && (take == 0 || cost < best) {
			take, best = k, cost
		}
	}
	if take == 0 {
		return false
	}
	t.Rows = slices.Delete(slices.Clone(rows), take, take+1)
	if last := len(t.Rows) - 1; take == last {
		t.Rows[last].Low = t.Rows[last-1].Low
	}
	return true
}

// OpenFrom is the coldest low on the card's scale at which a group, A to D, needs no cover;
// false where no figure tells.
func (t *Tonight) OpenFrom(group byte) (float64, bool) {
	for k := len(t.Rows) - 1; k >= 0; k-- {
		if r := &t.Rows[k]; !r.Colder && r.Needs[group-'A'].State == Uncovered {
			return r.Low, true
		}
	}
	return 0, false
}

// YoungIn is the column in which young plants of a crop of a group are read, A to D: the next
// one, or the one that the crop's own figure asks for. Those that come in, as all of D do, are
// read in D: it tells the nights.
func (t *Tonight) YoungIn(crop string, group byte) byte {
	for _, x := range t.Tender {
		if x.Crop.ID == crop {
			if x.Group == 0 {
				return 'D'
			}
			return x.Group
		}
	}
	return min(group+1, 'D')
}

// tonightGroups finds each group's limit.
func (p *Planner) tonightGroups(plans []CropPlan) (groups [4]TonightGroup, unknown []*catalog.Crop) {
	for i := range groups {
		groups[i].Group = 'A' + byte(i)
	}
	for i := range plans {
		c := plans[i].Crop
		air, ok := harmfulAir(c, limitsOf(c, p.classes[c.Class]).grown)
		if !ok {
			unknown = append(unknown, c)
			continue
		}
		g := &groups[plans[i].Group-'A']
		g.Crops = append(g.Crops, c)
		if !g.Known || air > g.Limit {
			g.Limit, g.Known, g.By = air, true, c
		}
	}
	for k := 1; k < len(groups); k++ {
		if left := &groups[k-1]; left.Known && (!groups[k].Known || groups[k].Limit < left.Limit) {
			groups[k].Limit, groups[k].Known, groups[k].By = left.Limit, true, left.By
		}
	}
	return groups, unknown
}

// harmfulAir is the warmest screen air that harms a crop by one of its limits: a leaf is
// colder than the air about it, by the careful allowance.
func harmfulAir(c *catalog.Crop, limit figure.Of[quantity.Celsius]) (quantity.Celsius, bool) {
	t, ok := limit.Get()
	var leaf quantity.Kelvins
	if c.Basis == catalog.Plant {
		leaf = allowanceCareful
	}
	return band.Shift{}.Threshold(t, leaf, 0), ok
}

// tenderYoung finds where the rule of thumb fails that young plants, and plants not yet
// hardened in fall, are read one column to the right. A crop without a figure for young
// plants is not found: the rule is all that is known of them.
func (p *Planner) tenderYoung(plans []CropPlan, groups [4]TonightGroup) []TenderYoung {
	var out []TenderYoung
	for i := range plans {
		c, l := plans[i].Crop, limitsOf(plans[i].Crop, p.classes[plans[i].Crop.Class])
		air, ok := harmfulAir(c, l.young)
		own := int(plans[i].Group - 'A')
		if last := len(groups) - 1; !ok || !l.grown.Known() || own == last {
			continue // D has no column to the right: its young plants come in anyhow
		}
		k := own + 1
		for k < len(groups) && groups[k].Limit < air {
			k++
		}
		switch {
		case k == len(groups):
			out = append(out, TenderYoung{Crop: c, Own: plans[i].Group})
		case k > own+1:
			out = append(out, TenderYoung{c, plans[i].Group, groups[k].Group})
		}
	}
	return out
}

// tonightRows works the rows out: a row wherever the answer of a group changes, labelled
// with the coldest low for which it holds, on the finest step of the scale.
func tonightRows(book cover.Book, t Tonight, warm []string) []TonightRow {
	step := t.Degrees.Step()
	var lows []float64
	for _, g := range t.Groups {
		if !g.Known {
			continue
		}
		for _, id := range append([]string{""}, warm...) {
			above := t.Degrees.Number(tonightThreshold(book, t.Degrees, g, id)) + t.Degrees.slack()
			lows = append(lows, step*(math.Floor(above/step)+1))
		}
	}
	if len(lows) == 0 {
		return nil
	}
	slices.Sort(lows)
	lows = slices.Compact(lows)
	slices.Reverse(lows)
	var rows []TonightRow
	for _, low := range lows {
		r := TonightRow{Low: low, Needs: needs(book, t, warm, low)}
		if n := len(rows); n > 0 && rows[n-1].Needs == r.Needs {
			rows[n-1].Low = low
			continue
		}
		rows = append(rows, r)
	}
	coldest := lows[len(lows)-1]
	return append(rows, TonightRow{Low: coldest, Colder: true, Needs: needs(book, t, warm, coldest-step)})
}

// needs is what each group needs at a low: the first of open ground and the warming
// layers, lightest first, under which the low stays above the threshold.
func needs(book cover.Book, t Tonight, warm []string, low float64) (out [4]Need) {
	for i, g := range t.Groups {
		if !g.Known {
			continue
		}
		out[i].State = PickToday
		for _, id := range append([]string{""}, warm...) {
			if low > t.Degrees.Number(tonightThreshold(book, t.Degrees, g, id))+t.Degrees.slack() {
				out[i] = Need{State: Covered, Layers: id}
				if id == "" {
					out[i].State = Uncovered
				}
				break
			}
		}
	}
	return out
}

// tonightThreshold is the forecast low at or below which a group may be harmed under
// layers. The low is the garden's own, so nothing lies between it and the place: the
// shift is empty, and the forecast margin stands with the allowance.
func tonightThreshold(book cover.Book, d Degrees, g TonightGroup, layers string) quantity.Celsius {
	return band.Shift{}.Threshold(g.Limit, d.ForecastMargin(), book.Gain(layers).Low)
}
