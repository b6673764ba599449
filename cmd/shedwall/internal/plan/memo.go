package plan

import (
	"math"
	"strconv"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/season"
)

// A band is planned a few thousand windows at a time, and most of them ask what another
// has asked: this file keeps what was answered.

// dateKey identifies a question to the climate: what each gate compares, whatever it is
// made of. Gates that count back to a sowing date carry the id of the seed.
type dateKey struct {
	seed  uint64 // number of the seed's name, event and level of odds
	gates [maxGates]gateKey
}

const maxGates = 5

type gateKey struct {
	threshold uint64 // bits of a float
	what      uint64 // series and count; 0 = no gate
}

// told is the part of an answer that a plan needs.
type told struct {
	slot      quantity.Slot
	plusMinus int32
	decides   int16
	state     band.State
}

func toldBy(a band.Answer) told {
	return told{a.Slot, int32(a.PlusMinus), int16(a.Decides), a.State}
}

func (t told) answer() band.Answer {
	return band.Answer{State: t.state, Slot: t.slot, PlusMinus: int(t.plusMinus), Decides: int(t.decides)}
}

// date asks the climate, once for each question, in brief; while a date is being explained,
// at length.
func (b *bandPlan) date(e record.Event, odds quantity.Odds, seed string, gates ...band.Gate) band.Answer {
	if b.trace != nil {
		a := b.climate.Date(e, odds, gates...)
		*b.trace = append(*b.trace, Traced{For: b.action, Event: e, Odds: odds, Gates: gates, Answer: a})
		return a
	}
	if len(gates) == 1 {
		if a, ok := b.climate.Curves().At(e, odds, gates[0]); ok {
			return *a
		}
	}
	key := dateKey{seed: b.number(seed)<<2 | uint64(e)<<1 | uint64(level(odds))}
	for i := range gates {
		g := &gates[i]
		key.gates[i] = gateKey{math.Float64bits(float64(band.Shift{}.Threshold(g.Limit, g.Allowance, g.Gain))), uint64(g.Series) + 1 | uint64(g.Count)<<8}
	}
	t, ok := b.dates[key]
	if !ok {
		t = toldBy(b.climate.Brief(e, odds, gates...))
		b.dates[key] = t
	}
	return t.answer()
}

// number is the number of a seed's name.
func (b *bandPlan) number(seed string) uint64 {
	switch seed {
	case "":
		return 0
	case b.lastSeed:
		return b.lastNumber
	}
	n, ok := b.seedNumbers[seed]
	if !ok {
		if b.seedNumbers == nil {
			b.seedNumbers = map[string]uint64{}
		}
		n = uint64(len(b.seedNumbers) + 1)
		b.seedNumbers[seed] = n
	}
	b.lastSeed, b.lastNumber = seed, n
	return n
}

// ofCrop is what is asked again and again of the crop that is being planned.
type ofCrop struct {
	crop            *catalog.Crop
	seed            string // id of its emergence table, and the table
	table           []season.Point
	keys            [2]string // names of the emergence used, by level of odds
	sowKeys         [2]string
	emerges         [2]*emergence
	sowing, setting span
}

// of is the memory of a crop; it holds one crop at a time.
func (b *bandPlan) of(c *catalog.Crop) *ofCrop {
	if b.current.crop == c {
		return &b.current
	}
	x := ofCrop{crop: c, sowing: fromSowing(c), setting: fromSetOut(c)}
	x.seed, x.table = b.seedTable(c)
	for k := range x.keys {
		if days, ok := c.EmergeDays.Get(); len(x.table) > 0 && b.soil[k] != nil {
			x.keys[k] = x.seed
		} else if ok {
			x.keys[k] = "days:" + strconv.Itoa(days)
		}
		x.sowKeys[k] = "sow " + strconv.Itoa(k) + " " + x.keys[k] // a careful sowing comes up by careful soil, also where half the years are asked
	}
	b.current = x
	return &b.current
}

// keep moves the reasons of windows from the paper they were gathered on to where they
// stay.
func (b *bandPlan) keep(ws []Window) {
	n := 0
	for i := range ws {
		n += len(ws[i].Reasons)
	}
	if len(b.kept) < n {
		b.kept = make([]Reason, max(n, 512))
	}
	for i := range ws {
		m := copy(b.kept, ws[i].Reasons)
		ws[i].Reasons, b.kept = b.kept[:m:m], b.kept[m:]
		if m == 0 {
			ws[i].Reasons = nil
		}
	}
}

// paper is a list for the reasons of a window, the kth of those being planned.
func (b *bandPlan) paper(k int) []Reason {
	if b.papers[k] == nil {
		b.papers[k] = make([]Reason, 0, 32)
	}
	return b.papers[k][:0]
}
