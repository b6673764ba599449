package band

import (
	"math"
	"sync"
	"sync/atomic"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// The grid of temperatures of curves: every tenth of a degree C
// from curveFrom to curveTo.
const (
	curveFrom = -30.0
	curveTo   = 15.0
	perDegree = 10
	curveLen  = (curveTo-curveFrom)*perDegree + 1
)

// Curves is a band's dates for every tenth of a degree from -30 to 15 C, both events,
// careful and half-and-half odds: what Brief says of a single night gate, worked out once,
// when it is first asked for, so that every other time it is a look-up.
type Curves struct {
	levels [2]curvesOfLevel
}

// curvesOfLevel is those of one level of odds.
type curvesOfLevel struct {
	points [2][]atomic.Pointer[Answer] // by event; index 0 is curveFrom

	mutex   sync.Mutex
	climate *Climate // remembering
}

// Curves is a band's curves; nil of a climate that Warmer gives. They may be asked by
// several goroutines at once.
func (c *Climate) Curves() *Curves { return c.kept.curvesOf(c) }

func newCurves(c *Climate) *Curves {
	k := &Curves{}
	for i := range k.levels {
		level := &k.levels[i]
		level.climate = c.remembering(0)
		for e := range level.points {
			level.points[e] = make([]atomic.Pointer[Answer], curveLen)
		}
	}
	return k
}

// At is what Brief says of a single gate. false where that is not on
// the curves: it is no night gate, or turns its slots into others', or its limit with
// allowance and gain lies off the grid, or the odds are neither careful nor half-and-half, or
// there are no curves. Then Brief must be asked. Nothing is rounded, so that a page and its
// explanation cannot differ. The answer must not be changed.
func (k *Curves) At(e record.Event, odds quantity.Odds, g Gate) (*Answer, bool) {
	if k == nil || g.Series != Night || g.Days != nil || odds != quantity.Careful && odds != quantity.Half {
		return nil, false
	}
	tenths := float64(Shift{}.Threshold(g.Limit, g.Allowance, g.Gain)) * perDegree
	near := math.Round(tenths)
	i := int(near) - curveFrom*perDegree
	if math.Abs(tenths-near) > 1e-6 || i < 0 || i >= curveLen {
		return nil, false
	}
	level := &k.levels[levelOf(odds)]
	if a := level.points[e][i].Load(); a != nil {
		return a, true
	}
	return level.workOut(e, odds, i), true
}

// workOut fills in a point, unless somebody else has done so meanwhile.
func (k *curvesOfLevel) workOut(e record.Event, odds quantity.Odds, i int) *Answer {
	k.mutex.Lock()
	defer k.mutex.Unlock()
	point := &k.points[e][i]
	if a := point.Load(); a != nil {
		return a
	}
	g := Gate{Limit: limitAt(i)}
	a := k.climate.BriefOf([]*Question{k.climate.ask(e, odds, &g)}, []Gate{g})
	point.Store(&a)
	return &a
}

// limitAt is the temperature at an index of the grid.
func limitAt(i int) quantity.Celsius {
	return quantity.Celsius(float64(i+curveFrom*perDegree) / perDegree)
}
