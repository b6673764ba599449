package band

import "sync"

// keeping is what was worked out for the plans and pages of a band and may be asked for
// again. Several goroutines may use it at once, of which two may work out the same.
type keeping struct {
	mutex sync.Mutex
	said  map[uint64]*vector // what the stations said, by question

	drawing sync.Mutex
	curves  *Curves // nil = not worked out
}

func (k *keeping) vector(key uint64) *vector {
	k.mutex.Lock()
	defer k.mutex.Unlock()
	return k.said[key]
}

func (k *keeping) keep(key uint64, v *vector) {
	k.mutex.Lock()
	defer k.mutex.Unlock()
	k.said[key] = v
}

func (k *keeping) curvesOf(c *Climate) *Curves {
	k.drawing.Lock()
	defer k.drawing.Unlock()
	if k.curves == nil {
		k.curves = c.workOutCurves()
	}
	return k.curves
}

// Forget lets go of what was kept for a band's plans, so that a guide of many bands need
// not hold it for all. What is asked for later is worked out again, and is the same.
func (c *Climate) Forget() {
	c.kept.mutex.Lock()
	c.kept.said = map[uint64]*vector{}
	c.kept.mutex.Unlock()
	c.kept.drawing.Lock()
	c.kept.curves = nil
	c.kept.drawing.Unlock()
}
