package band

import (
	"math"
	"sync"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// keeping is what was worked out for the plans and pages of a band and may be asked for
// again. Several goroutines may use it at once, of which two may work out the same.
type keeping struct {
	mutex   sync.Mutex
	said    map[uint64]*vector // what the stations said, by question
	answers map[single]Answer
	slopes  map[slopeOf]float64
	things  map[any]*made

	// What Forget leaves, for pages about all bands: little of each.
	nights map[single]Answer // without parts
	cooled map[coolingOf]Answer
	held   map[any]*made

	under *keeping // that of the band for one that is like it (see beside), whose stations say the same; else nil

	drawing sync.Mutex
	curves  *Curves // nil = nobody has asked for them
}

// single is a question with one gate.
type single struct {
	event     record.Event
	odds      quantity.Odds
	series    Series
	limit     quantity.Celsius
	allowance quantity.Kelvins
	gain      quantity.Kelvins
	count     int
	plain     bool
}

// coolingOf is the question of Cools.
type coolingOf struct {
	odds  quantity.Odds
	limit quantity.Celsius
	days  int
}

// slopeOf is the question of DaysPerHundredMetres.
type slopeOf struct {
	event record.Event
	plain bool
}

// mostAnswers is how many answers are kept. Pages ask for some fifty; a caller with
// endless questions gets no endless memory.
const mostAnswers = 500

func newKeeping() *keeping {
	k := &keeping{nights: map[single]Answer{}, cooled: map[coolingOf]Answer{}, held: map[any]*made{}}
	k.clear()
	return k
}

func (k *keeping) clear() {
	k.said, k.answers = map[uint64]*vector{}, map[single]Answer{}
	k.slopes, k.things = map[slopeOf]float64{}, map[any]*made{}
}

// beside is for a climate whose dates are others but whose stations are those of k's.
func (k *keeping) beside() *keeping {
	out := newKeeping()
	out.under = k
	return out
}

func (k *keeping) vector(key uint64) *vector {
	if k.under != nil {
		return k.under.vector(key)
	}
	k.mutex.Lock()
	defer k.mutex.Unlock()
	return k.said[key]
}

func (k *keeping) keep(key uint64, v *vector) {
	if k.under != nil {
		k.under.keep(key, v)
		return
	}
	k.mutex.Lock()
	defer k.mutex.Unlock()
	k.said[key] = v
}

// remembered is what ask says to a question, asked once and remembered in one of the maps of k, of
// at most so many answers. A question may be asked twice at a time: both hear the same.
func remembered[Q comparable, A any](k *keeping, in *map[Q]A, most int, q Q, ask func() A) A {
	k.mutex.Lock()
	a, ok := (*in)[q]
	k.mutex.Unlock()
	if ok {
		return a
	}
	a = ask()
	k.mutex.Lock()
	defer k.mutex.Unlock()
	if len(*in) < most {
		(*in)[q] = a
	}
	return a
}

func (k *keeping) answer(q single, ask func() Answer) Answer {
	return remembered(k, &k.answers, mostAnswers, q, ask)
}

// night is answer for what has no parts, kept for good.
func (k *keeping) night(q single, ask func() Answer) Answer {
	return remembered(k, &k.nights, mostAnswers, q, ask)
}

// cooling is the same for soil in fall.
func (k *keeping) cooling(q coolingOf, ask func() Answer) Answer {
	return remembered(k, &k.cooled, mostAnswers, q, ask)
}

func (k *keeping) slope(q slopeOf, ask func() float64) float64 {
	return remembered(k, &k.slopes, math.MaxInt, q, ask)
}

// curvesOf is nil where there are none: see Warmer.
func (k *keeping) curvesOf(c *Climate) *Curves {
	if k.under != nil {
		return nil
	}
	k.drawing.Lock()
	defer k.drawing.Unlock()
	if k.curves == nil {
		k.curves = newCurves(c)
	}
	return k.curves
}

// Keep is what make makes for a band, made once for every copy of its climate until it is
// told to forget. key is of a type of the caller's own; what is made must not be changed,
// and making it must not ask for it.
func (c *Climate) Keep(key any, make func() any) any {
	return c.kept.thing(func(k *keeping) map[any]*made { return k.things }, key, make)
}

// Hold is Keep for what is small and asked for when a band was told to forget: it is held
// for good.
func (c *Climate) Hold(key any, make func() any) any {
	return c.kept.thing(func(k *keeping) map[any]*made { return k.held }, key, make)
}

// HoldPlace is Hold for what hangs on the place alone and not on how warm it is: gardens
// warmer or colder than the band (see Warmer) have the same.
func (c *Climate) HoldPlace(key any, make func() any) any {
	k := c.kept
	for k.under != nil {
		k = k.under
	}
	return k.thing(func(k *keeping) map[any]*made { return k.held }, key, make)
}

// made is something that is made once; who asks for it meanwhile waits.
type made struct {
	once  sync.Once
	value any
}

func (k *keeping) thing(in func(*keeping) map[any]*made, key any, make func() any) any {
	k.mutex.Lock()
	x := in(k)[key]
	if x == nil {
		x = &made{}
		in(k)[key] = x
	}
	k.mutex.Unlock()
	x.once.Do(func() { x.value = make() })
	return x.value
}

// Forget lets go of what was kept for a band's plans and own pages, so that a guide of many
// bands need not hold it for all. What is asked for later is worked out again, and is the
// same.
func (c *Climate) Forget() {
	c.kept.mutex.Lock()
	c.kept.clear()
	c.kept.mutex.Unlock()
	c.kept.drawing.Lock()
	c.kept.curves = nil
	c.kept.drawing.Unlock()
}
