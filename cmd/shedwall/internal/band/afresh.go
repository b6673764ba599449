package band

import "maps"

// Afresh is the climate without what callers kept with it (Keep, Hold): for a guide that
// is planned again with other tables. What its stations say is known to it as before.
func (c *Climate) Afresh() *Climate {
	k := c.kept
	fresh := newKeeping()
	fresh.under = k.under
	k.mutex.Lock()
	fresh.said, fresh.answers = maps.Clone(k.said), maps.Clone(k.answers)
	fresh.slopes, fresh.nights = maps.Clone(k.slopes), maps.Clone(k.nights)
	fresh.cooled = maps.Clone(k.cooled)
	k.mutex.Unlock()
	k.drawing.Lock()
	fresh.curves = k.curves
	k.drawing.Unlock()
	out := *c
	out.kept = fresh
	return &out
}
