package plan

import (
	"slices"
	"strconv"
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
	housed  bool      // structures are among the covers
	books   *sync.Map // *band.Climate -> cover.Book with structures
	classes map[string]*catalog.Class
	seeds   map[string][]season.Point
}

// NewPlanner prepares the tables for planning.
func NewPlanner(t *catalog.Tables) *Planner {
	p := &Planner{tables: t, book: cover.NewBook(t), books: &sync.Map{}, classes: map[string]*catalog.Class{}, seeds: map[string][]season.Point{}}
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
		p.seeds[g.ID] = points
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
// for several bands at once.
func (p *Planner) Band(c *band.Climate) []CropPlan { return p.BandWith(c, nil) }

// BandWith is Band where some crops have been planned before: kept is the plan of a crop
// as an equal row was planned by an equal planner for an equal climate, false where there
// is none. A crop is planned by itself, so the others need not be looked at again.
func (p *Planner) BandWith(c *band.Climate, kept func(*catalog.Crop) (CropPlan, bool)) []CropPlan {
	var b *bandPlan // made when the first crop needs it
	offered := p.offered
	out := make([]CropPlan, len(p.tables.Crops))
	for i := range p.tables.Crops {
		row := &p.tables.Crops[i]
		if kept != nil {
			if x, ok := kept(row); ok {
				out[i], out[i].Crop = x, row
				continue
			}
		}
		if b == nil {
			if b = p.bandOf(c); p.housed {
				offered = b.book.Offered(p.tables)
			}
		}
		out[i] = b.crop(row, offered)
	}
	slices.SortStableFunc(out, func(x, y CropPlan) int {
		if x.Group != y.Group {
			return int(x.Group) - int(y.Group)
		}
		return strings.Compare(x.Crop.Name, y.Crop.Name)
	})
	return out
}

// Crop plans one crop for one band under the given sets of layers ("" = open
// ground is always first).
func (p *Planner) Crop(c *band.Climate, crop *catalog.Crop, layers []string) CropPlan {
	b := p.bandOf(c)
	return b.crop(crop, layers)
}

// bandPlan is what planning one band needs again and again.
type bandPlan struct {
	p         *Planner
	climate   *band.Climate
	soil      [2][]float64             // mean soil by slot, careful and half
	emergence [2]map[string]*emergence // by germination id
	slow      Stretch                  // winter days too short to grow
	sunLost   bool                     // ... because of a ridge
	heats     map[heatKey][2]band.Answer
	sums      map[sumKey][]float64 // degree days before each slot
	days      [2][2][]float64      // mean minimum and maximum by slot, careful and half
	dates     map[dateKey]told     // questions already answered
	current   ofCrop

	seedNumbers map[string]uint64
	lastSeed    string
	lastNumber  uint64

	papers   [5][]Reason
	kept     []Reason
	gains    map[string]cover.Gain
	cooled   coolings
	book     cover.Book // the guide's, with structures worked out for this band
	counting counting
	open     *LayerPlan                // the crop's plan in open ground, while layers are planned
	ruledOut map[string]catalog.Months // by layers, see outMonths
	trace    *[]Traced                 // filled when a date is being explained
	action   Action                    // ... and the action whose date it is
}

// emergence answers both ways: when a seed sown on a slot comes up
// (season.NotEmerged: never), and the earliest sowing of the spring that comes up no
// earlier than a slot (band.NoSlot: none). Spring sowings begin on the first day of
// the second half of the season year, as soil is followed from there: a seed that
// lies in the ground all winter is another matter.
type emergence struct {
	up  []quantity.Slot
	sow []quantity.Slot
}

// back is the earliest spring sowing that comes up no earlier than a slot; the slot
// itself where emergence is not known.
func (e *emergence) back(up quantity.Slot) quantity.Slot {
	if e == nil {
		return up
	}
	return e.sow[max(0, min(int(up), len(e.sow)-1))]
}

func (p *Planner) bandOf(c *band.Climate) *bandPlan {
	b := &bandPlan{p: p, climate: c.Remembering(), book: p.BookFor(c), dates: map[dateKey]told{}, gains: map[string]cover.Gain{}}
	for k, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
		b.soil[k] = c.Soil(odds)
		b.emergence[k] = map[string]*emergence{}
	}
	b.slow, b.sunLost = SlowDays(c)
	return b
}

func level(odds quantity.Odds) int {
	if odds == quantity.Half {
		return 1
	}
	return 0
}

// emerges is the emergence of a crop's seed at a level of odds; nil where neither
// a germination table with soil temperatures nor days to emerge are known.
func (b *bandPlan) emerges(c *catalog.Crop, odds quantity.Odds) *emergence {
	x, k := b.of(c), level(odds)
	if x.emerges[k] == nil {
		x.emerges[k] = b.emergesIn(c, odds, 0)
	}
	return x.emerges[k]
}

// emergesIn is the same in soil that is warmer by a gain.
func (b *bandPlan) emergesIn(c *catalog.Crop, odds quantity.Odds, gain quantity.Kelvins) *emergence {
	k := level(odds)
	x := b.of(c)
	id, table := warmer(x.seed, gain), x.table
	days, fixed := c.EmergeDays.Get()
	if len(table) == 0 || b.soil[k] == nil {
		if !fixed {
			return nil
		}
		id = "days:" + strconv.Itoa(days)
	}
	if e := b.emergence[k][id]; e != nil {
		return e
	}
	e := &emergence{}
	if len(table) > 0 && b.soil[k] != nil {
		soil := b.soil[k]
		if gain != 0 {
			soil = make([]float64, len(b.soil[k]))
			for s, t := range b.soil[k] {
				soil[s] = t + float64(gain)
			}
		}
		e.up = season.Emergence(table, soil)
	} else {
		e.up = make([]quantity.Slot, 2*quantity.SlotsPerYear)
		for s := range e.up {
			e.up[s] = quantity.Slot(s + days)
		}
	}
	e.sow = make([]quantity.Slot, len(e.up))
	s, spring := 0, int(springStart(b.climate.Region.Hemisphere))
	for want := range e.sow {
		s = max(s, min(want, spring))
		for s < len(e.up)-1 && int(e.up[s]) < want {
			s++
		}
		e.sow[want] = quantity.Slot(s)
		if e.up[s] == season.NotEmerged {
			e.sow[want] = band.NoSlot
		}
	}
	b.emergence[k][id] = e
	return e
}

// seedTable is the crop's emergence table and a name for it. A table that begins
// above the crop's least soil temperature, with seeds emerging in its first column, is
// carried down to that temperature, where the rate is taken as none: below its first
// column nobody counted, but the seed does come up there.
func (b *bandPlan) seedTable(c *catalog.Crop) (id string, table []season.Point) {
	id, table = c.Germination, b.p.seeds[c.Germination]
	if len(table) == 0 || table[0].Days == 0 {
		return id, table
	}
	least, ok := limitsOf(c, b.p.classes[c.Class]).soil.Get()
	if !ok || least >= table[0].Soil {
		return id, table
	}
	id += " from " + strconv.FormatFloat(float64(least), 'f', -1, 64)
	return id, append([]season.Point{{Soil: least}}, table...)
}

// springStart is the slot with which the spring half of the season year begins: 1
// February in the north, 1 August in the south.
func springStart(h quantity.Hemisphere) quantity.Slot {
	if h == quantity.South {
		return h.SlotOf(quantity.MonthDay{Month: 8, Day: 1})
	}
	return h.SlotOf(quantity.MonthDay{Month: 2, Day: 1})
}

// gain of layers as planned with at a level of odds: the low end for careful
// dates, the typical one for half-and-half dates, and never below 0, because a
// grower whom a cover does not help simply does not gain by it: a careful date is
// then the open ground's.
func (b *bandPlan) gain(layers string, odds quantity.Odds) quantity.Kelvins {
	g, ok := b.gains[layers]
	if !ok {
		g = b.book.Gain(layers)
		b.gains[layers] = g
	}
	if odds == quantity.Half {
		return max(g.Typical, 0)
	}
	return max(g.Low, 0)
}
