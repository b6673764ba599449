package plan

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/season"
)

// seed is what is known of how seeds emerge: a germination table or, where it has no
// points, days whatever the soil.
type seed struct {
	points []season.Point
	least  quantity.Celsius // with carried, the points are carried down to this
	days   int

	carried, fixed bool
}

// emergenceKey names an emergence of a band: a table of the guide, nil for fixed days.
type emergenceKey struct {
	table   *seed
	least   quantity.Celsius
	carried bool
	days    int
	odds    int
	gain    quantity.Kelvins // of the soil
}

// emergence answers both ways: when a seed sown on a slot comes up
// (season.NotEmerged: never), and the earliest sowing of the spring that comes up no
// earlier than a slot (band.NoSlot: none). Spring sowings begin on the first day of
// the second half of the season year, as soil is followed from there: a seed that
// lies in the ground all winter is another matter.
type emergence struct {
	number uint32 // from firstSeed, within a band
	up     []quantity.Slot

	// Sowings that come up no earlier than a slot; than youngDays before it; and than the
	// day after that.
	young, grown, large *band.Days
}

// unseen stands for the emergence of a seed of which nobody knows when it comes up: it is
// sown on the day on which it must be safe.
var unseen = &emergence{number: sownUnseen, young: band.NewDays(0, nil), grown: whenGrown, large: whenLarge}

// emerges is the emergence of a crop's seed at a level of odds; unseen where neither
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
	k, s := level(odds), b.of(c).seed
	key := emergenceKey{odds: k, gain: gain}
	tabled := len(s.points) > 0 && b.soilAt(k) != nil
	switch {
	case tabled:
		key.table, key.least, key.carried = b.p.seeds[c.Germination], s.least, s.carried
	case s.fixed: // in any soil
		key = emergenceKey{days: s.days}
	default:
		return unseen
	}
	if e := b.emergence[key]; e != nil {
		return e
	}
	var up []quantity.Slot
	if tabled {
		soil := b.soilAt(k)
		if gain != 0 {
			soil = make([]float64, len(b.soilAt(k)))
			for s, t := range b.soilAt(k) {
				soil[s] = t + float64(gain)
			}
		}
		up = season.Emergence(s.points, soil)
	} else {
		up = make([]quantity.Slot, 2*quantity.SlotsPerYear)
		for d := range up {
			up[d] = quantity.Slot(d + s.days)
		}
	}
	e := newEmergence(up, springStart(b.climate.Region.Hemisphere))
	e.number = firstSeed + uint32(len(b.emergence))
	b.emergence[key] = e
	return e
}

func newEmergence(up []quantity.Slot, spring quantity.Slot) *emergence {
	var room [2 * quantity.SlotsPerYear]quantity.Slot
	sow, s := room[:len(up)], 0
	for want := range up {
		if want <= int(spring) {
			s = want
		}
		for s < len(up)-1 && int(up[s]) < want {
			s++
		}
		if sow[want] = quantity.Slot(s); up[s] == season.NotEmerged {
			sow[want] = band.NoSlot
		}
	}
	e := &emergence{up: up, young: band.NewDays(0, sow)}
	e.grown, e.large = e.young.Earlier(youngDays), e.young.Earlier(youngDays-1)
	return e
}

// seedOf is what is known of a crop's seed. A table that begins above the crop's least
// soil temperature, with seeds emerging in its first column, is carried down to that
// temperature, where the rate is taken as none: below its first column nobody counted, but
// the seed does come up there.
func (b *bandPlan) seedOf(c *catalog.Crop, l *limits) *seed {
	var s seed
	if table := b.p.seeds[c.Germination]; table != nil {
		s.points = table.points
	}
	s.days, s.fixed = c.EmergeDays.Get()
	if len(s.points) == 0 || s.points[0].Days == 0 {
		return &s
	}
	if least, ok := l.soil.Get(); ok && least < s.points[0].Soil {
		s.least, s.carried = least, true
		s.points = append([]season.Point{{Soil: least}}, s.points...)
	}
	return &s
}

// emergenceCell is the cell behind the days to come up: the name of the germination table
// where that and soil temperatures are known, else the fixed number of days.
func (b *bandPlan) emergenceCell(c *catalog.Crop, odds quantity.Odds) *figure.Cell {
	if len(b.of(c).seed.points) > 0 && b.soilAt(level(odds)) != nil {
		return &c.GerminationCell
	}
	return &c.EmergeDays.Cell
}
