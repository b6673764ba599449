package plan

import (
	"slices"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// A band is planned a few thousand windows at a time, and most of them ask what another
// has asked: this file keeps what was answered, and the room in which plans are kept.

// dateKey identifies a question to the climate: what each gate compares, whatever it is
// made of, the event and the level of odds, and what turns its days into others.
type dateKey struct {
	seed  uint32 // plants, settingOut, sownUnseen or the number of an emergence
	gates [maxGates]uint32
}

const maxGates = 5

// What the days of gates are turned into: nothing, days of setting out, days of sowing
// where nobody knows when a seed comes up, from firstSeed on days of sowing by an
// emergence.
const (
	plants uint32 = iota
	settingOut
	sownUnseen
	firstSeed
)

// told is the part of an answer that a plan needs.
type told struct {
	slot      quantity.Slot
	plusMinus int16
	decides   int8 // no more than maxGates
	state     band.State
}

func toldBy(a *band.Answer) told {
	return told{a.Slot, int16(a.PlusMinus), int8(a.Decides), a.State}
}

// date asks the climate, once for each question, in brief; while a date is being explained,
// at length.
func (b *bandPlan) date(e record.Event, odds quantity.Odds, seed uint32, gates []band.Gate) told {
	if b.trace != nil {
		kept := slices.Clone(gates)
		a := b.climate.Date(e, odds, kept...)
		*b.trace = append(*b.trace, Traced{For: b.action, Event: e, Odds: odds, Gates: kept, Answer: a})
		return toldBy(&a)
	}
	if len(gates) == 1 && gates[0].Series == band.Night { // others are on no curve, and to draw them is much work
		if b.curves == nil {
			b.curves = b.climate.Curves()
		}
		if a, ok := b.curves.At(e, odds, gates[0]); ok {
			return toldBy(a)
		}
	}
	key := dateKey{seed: seed}
	var put [maxGates]*band.Question
	for i := range gates {
		put[i] = b.climate.Question(e, odds, &gates[i])
		key.gates[i] = uint32(put[i].ID + 1)
	}
	t, ok := b.dates[key]
	if !ok {
		a := b.climate.BriefOf(put[:len(gates)], gates)
		t = toldBy(&a)
		b.dates[key] = t
	}
	return t
}

// alone is date of a single gate of plants.
func (b *bandPlan) alone(e record.Event, odds quantity.Odds, gate band.Gate) told {
	return b.date(e, odds, plants, []band.Gate{gate})
}

// ofCrop is what is asked again and again of the crop that is being planned.
type ofCrop struct {
	crop            *catalog.Crop
	limits          limits
	seed            *seed // of its emergence
	emerges         [2]*emergence
	sowing, setting span
	hot             Stretch // see bandPlan.hot
	whyHot          []Reason
	hotKnown        bool
	growth          growth // see bandPlan.ripens
	grows           bool
	growthKnown     bool
	cold            [2][2]*coldMarks // by event and stage, young and grown; nil = not asked yet, or not known
}

// of is the memory of a crop; it holds one crop at a time.
func (b *bandPlan) of(c *catalog.Crop) *ofCrop {
	if b.current == nil || b.current.crop != c {
		x := &ofCrop{crop: c, limits: limitsOf(c, b.p.classes[c.Class]), sowing: fromSowing(c), setting: fromSetOut(c)}
		x.seed = b.seedOf(c, &x.limits)
		b.current = x
	}
	return b.current
}

// room is where windows and their reasons are kept, many to an allocation but each no
// larger than what memory is given out for by the page (32 KiB).
type room struct {
	windows []Window
	reasons []Reason
	work    []Work
	spans   []CoverSpan
	papers  [actions][]Reason
}

// actions is how many there are.
const actions = 5

// place is room for a list of n windows.
func (r *room) place(n int) []Window {
	if len(r.windows) < n {
		r.windows = make([]Window, 250)
	}
	out := r.windows[:0:n]
	r.windows = r.windows[n:]
	return out
}

// keep moves the reasons of windows from the paper they were gathered on to where they
// stay. open is the same windows in open ground, none while that is planned: what covers do
// not change has the same reasons.
func (r *room) keep(ws, open []Window) {
	for i := range ws {
		w := &ws[i]
		switch {
		case len(w.Reasons) == 0:
			w.Reasons = nil
		case i < len(open) && slices.Equal(w.Reasons, open[i].Reasons):
			w.Reasons = open[i].Reasons
		default:
			w.Reasons = stay(w.Reasons, &r.reasons, 800)
		}
	}
}

// stay moves a list to where it stays: the beginning of room, of which there is more by so
// many.
func stay[T any](list []T, room *[]T, many int) []T {
	n := len(list)
	if n == 0 {
		return nil
	}
	if len(*room) < n {
		*room = make([]T, max(n, many))
	}
	out := (*room)[:n:n]
	*room = (*room)[n:]
	copy(out, list)
	return out
}

// paper is a list for the reasons of a window, the kth of those being planned.
func (r *room) paper(k int) []Reason {
	if r.papers[k] == nil {
		r.papers[k] = make([]Reason, 0, 32)
	}
	return r.papers[k][:0]
}
