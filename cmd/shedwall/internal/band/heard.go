package band

import (
	"math"
	"sync"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// heard is what a station said of its nights, by the threshold as readings are compared
// with it. Bands differ in what they shift a threshold by, but readings come in tenths or
// whole degrees: of hundreds of bands most ask a station what another has asked. It may be
// used by several goroutines at once. A nil heard keeps nothing.
type heard struct {
	mutex  sync.Mutex
	nights map[nightOf]*vector
	things map[any]*made
}

// nightOf is a question about nights as it is put to a station.
type nightOf struct {
	threshold quantity.Hundredths
	event     record.Event
	shifted   bool
}

// Bounds of what is kept of each station. Of nights, some 300 bytes apiece: more than there
// are tenths of a degree between the coldest and the warmest threshold of crops, twice two
// events. Records with finer steps fill it with what is hardly asked twice.
const (
	mostNights = 3000
	mostThings = 500
)

func newHeard() *heard {
	return &heard{things: map[any]*made{}, nights: map[nightOf]*vector{}}
}

// Keep is what make makes of a station's own record and years, made once for all bands of
// the region. key is of a type of the caller's own; what is made must not be changed, and
// making it must not ask for it. Only so many are kept; beyond that it is made each time.
func (s *Station) Keep(key any, make func() any) any {
	h := s.heard
	if h == nil {
		return make()
	}
	h.mutex.Lock()
	x := h.things[key]
	if x == nil {
		x = &made{}
		if len(h.things) < mostThings {
			h.things[key] = x
		}
	}
	h.mutex.Unlock()
	x.once.Do(func() { x.value = make() })
	return x.value
}

// night is what a station of at most maxYears years says of nights at a threshold.
func (c *Climate) night(s *Station, e record.Event, shifted bool, compared quantity.Hundredths) *vector {
	key := nightOf{compared, e, shifted}
	if h := s.heard; h != nil {
		h.mutex.Lock()
		v := h.nights[key]
		h.mutex.Unlock()
		if v != nil {
			return v
		}
	}
	v := &vector{years: s.Last - s.First + 1}
	c.fill(v, s, e, shifted, Night, compared)
	if h := s.heard; h != nil {
		h.mutex.Lock()
		defer h.mutex.Unlock()
		if len(h.nights) < mostNights {
			h.nights[key] = v
		}
	}
	return v
}

// list is a vector year by year.
func (v *vector) list() []year {
	out := make([]year, v.years)
	for _, t := range v.told[:v.used] {
		y := &out[t.year()]
		switch slot := t.slot(); slot {
		case briefNothing:
			y.slot = nothing
		case briefNever:
			y.slot = never
		default:
			y.slot = float64(slot)
		}
	}
	for k := range out {
		switch {
		case v.blind>>k&1 == 1:
			out[k].slot = math.NaN()
		case v.midsummer>>k&1 == 1:
			out[k].midsummer = true
		}
	}
	return out
}
