package plan

import (
	"slices"
	"strings"
	"sync"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/season"
)

// ShortDay is the day length in hours below which growth all but stops: a
// growers' rule, no trial found.
const ShortDay = 10.0

// Allowances for limits measured on the plant: a leaf is colder than screen air
// under a clear sky, by 2 K on half the nights and 4 K on one in ten (Valentia's
// grass minimum: 2.3 K median, 4.2 K at 90 %; a mild site, an upper bound for
// taller leaves).
const (
	allowanceHalf    quantity.Kelvins = 2
	allowanceCareful quantity.Kelvins = 4
)

// Planner plans the crops of a guide. It only reads the tables.
type Planner struct {
	tables  *catalog.Tables
	book    cover.Book
	offered []string
	housed  bool    // structures are among the covers
	worked  *worked // whose books of bands are this one's too
	classes map[string]*catalog.Class
	seeds   map[string]*seed
}

// NewPlanner prepares the tables for planning.
func NewPlanner(t *catalog.Tables) *Planner {
	p := &Planner{tables: t, book: cover.NewBook(t), worked: &worked{}, classes: map[string]*catalog.Class{}, seeds: map[string]*seed{}}
	p.offered = p.book.Offered(t)
	p.findHoused()
	for i := range t.Classes {
		p.classes[t.Classes[i].ID] = &t.Classes[i]
	}
	for _, g := range t.Germination {
		var points []season.Point
		for _, pt := range g.Points {
			days, _ := pt.Days.Get() // not known = none emerged = 0
			points = append(points, season.Point{Soil: pt.Soil, Days: days})
		}
		p.seeds[g.ID] = &seed{points: points}
	}
	return p
}

// Offered is every set of layers that is planned, lightest first.
func (p *Planner) Offered() []string { return p.offered }

// Gain is the gain of a set of layers as planned with.
func (p *Planner) Gain(layers string) cover.Gain { return p.book.Gain(layers) }

// With is the planner of tables that differ from its own in their crops alone: what it
// worked out for a band's structures holds for both.
func (p *Planner) With(t *catalog.Tables) *Planner {
	out := *p
	out.tables = t
	return &out
}

// Band plans every crop for one band, by group and then name. It is safe to call
// for several bands at once; see BandOfMany.
func (p *Planner) Band(c *band.Climate) []CropPlan { return p.BandWith(c, nil) }

// BandWith is Band where some crops have been planned before: kept is the plan of a crop
// as an equal row was planned by an equal planner for an equal climate, false where there
// is none. A crop is planned by itself, so the others need not be looked at again.
func (p *Planner) BandWith(c *band.Climate, kept func(*catalog.Crop) (CropPlan, bool)) []CropPlan {
	out := make([]CropPlan, len(p.tables.Crops))
	var fresh []*CropPlan
	for i := range out {
		row := &p.tables.Crops[i]
		if kept != nil {
			if x, ok := kept(row); ok {
				out[i], out[i].Crop = x, row
				continue
			}
		}
		out[i].Crop = row
		fresh = append(fresh, &out[i])
	}
	if len(fresh) > 0 {
		p.sideBySide(c, fresh)
	}
	return ordered(out)
}

// sideBySide plans crops for a band, the two levels of odds at the same time: what they ask
// has little in common.
func (p *Planner) sideBySide(c *band.Climate, plans []*CropPlan) {
	offered := p.OfferedIn(c)
	for _, x := range plans {
		*x = begun(x.Crop, len(offered))
	}
	each := func(fill func(*bandPlan, *CropPlan, []*layered)) {
		b := p.bandOf(c)
		layers := b.layersUnder(offered)
		b.expect(len(plans) * (1 + len(layers)))
		for _, x := range plans {
			fill(b, x, layers)
		}
	}
	var half sync.WaitGroup
	half.Go(func() { each((*bandPlan).half) })
	each((*bandPlan).careful)
	half.Wait()
}

// BandOfMany is Band for who plans as many bands at once as there are processors: it takes
// one of them, and somewhat less work than Band.
func (p *Planner) BandOfMany(c *band.Climate) []CropPlan {
	b, out := p.bandOf(c), make([]CropPlan, len(p.tables.Crops))
	layers := b.layersUnder(p.OfferedIn(c))
	b.expect(2 * len(out) * (1 + len(layers)))
	for i := range out {
		out[i] = b.crop(&p.tables.Crops[i], layers)
	}
	return ordered(out)
}

// ordered puts plans in order.
func ordered(plans []CropPlan) []CropPlan {
	slices.SortStableFunc(plans, func(x, y CropPlan) int {
		if x.Group != y.Group {
			return int(x.Group) - int(y.Group)
		}
		return strings.Compare(x.Crop.Name, y.Crop.Name)
	})
	return plans
}

// Crop plans one crop for one band under the given sets of layers ("" = open
// ground is always first).
func (p *Planner) Crop(c *band.Climate, crop *catalog.Crop, layers []string) CropPlan {
	b := p.bandOf(c)
	return b.crop(crop, b.layersUnder(layers))
}

// bandPlan is what planning one band needs again and again.
type bandPlan struct {
	p       *Planner
	climate *band.Climate
	curves  *band.Curves  // nil = not asked for yet
	soil    [2]*[]float64 // mean soil by slot, careful and half; nil = not asked for yet
	slow    Stretch       // winter days too short to grow
	sunLost bool          // ... because of a ridge
	book    cover.Book    // the guide's, with structures worked out for this band

	emergence map[emergenceKey]*emergence
	sums      map[sumKey][]float64 // degree days before each slot
	days      [2][2][]float64      // mean minimum and maximum by slot, careful and half
	dates     map[dateKey]told     // questions already answered
	cooled    coolings
	counting  counting
	layers    map[string]*layered
	current   *ofCrop
	room      room

	only   Action     // the one action whose window is asked for; "" = all are
	open   *LayerPlan // the crop's plan in open ground, while layers are planned
	trace  *[]Traced  // filled when a date is being explained
	action Action     // ... and the action whose date it is
}

func (p *Planner) bandOf(c *band.Climate) *bandPlan {
	b := &bandPlan{p: p, climate: c.Remembering(), book: p.BookFor(c), dates: map[dateKey]told{}, emergence: map[emergenceKey]*emergence{}}
	b.slow, b.sunLost = SlowDays(c)
	return b
}

// soilAt is the band's mean soil by slot at a level of odds, nil where it is not known.
func (b *bandPlan) soilAt(level int) []float64 {
	if b.soil[level] == nil {
		soil := b.climate.Soil([2]quantity.Odds{quantity.Careful, quantity.Half}[level])
		b.soil[level] = &soil
	}
	return *b.soil[level]
}

// expect makes room for as many answers as so many windows of starts ask for.
func (b *bandPlan) expect(windows int) { b.dates = make(map[dateKey]told, windows) }

func level(odds quantity.Odds) int {
	if odds == quantity.Half {
		return 1
	}
	return 0
}

// springStart is the slot with which the spring half of the season year begins: 1
// February in the north, 1 August in the south.
func springStart(h quantity.Hemisphere) quantity.Slot {
	if h == quantity.South {
		return h.SlotOf(quantity.MonthDay{Month: 8, Day: 1})
	}
	return h.SlotOf(quantity.MonthDay{Month: 2, Day: 1})
}
