package band

import "shedwall/cmd/shedwall/internal/quantity"

// Days turns the slot at which a gate opens into the slot of the action: some days
// earlier, and then by a table. nil leaves it as it is.
type Days struct {
	before quantity.Slot
	table  []int16 // briefNever for NoSlot; nil = the slot itself
}

// NewDays is so many days before the slot, never before slot 0, and by a table of slots
// (NoSlot where no slot of the action will do any more), if not nil, from that day's
// place in it; days beyond its end take its last. It must not decrease.
func NewDays(before quantity.Slot, table []quantity.Slot) *Days {
	d := &Days{before: before}
	if len(table) > 0 {
		d.table = make([]int16, len(table))
	}
	for i, s := range table {
		d.table[i] = briefSlot(s)
	}
	return d
}

// Earlier is the same from so many more days before.
func (d *Days) Earlier(days quantity.Slot) *Days { return &Days{d.before + days, d.table} }

// Of is the slot of the action.
func (d *Days) Of(s quantity.Slot) quantity.Slot {
	if d == nil {
		return s
	}
	if t := d.of(int16(s)); t != briefNever {
		return quantity.Slot(t)
	}
	return NoSlot
}

func (d *Days) of(s int16) int16 {
	s = max(0, s-int16(d.before))
	if d.table != nil {
		s = d.table[min(int(s), len(d.table)-1)]
	}
	return s
}

// action is of, of a slot of a vector.
func (d *Days) action(s int16) int16 {
	if d == nil || s == briefNothing || s == briefNever {
		return s
	}
	return d.of(s)
}

// lastUntil is the last slot of two season years that is turned into one no later than
// until, so that a night after it is one after until; -1 where none is.
func (d *Days) lastUntil(until quantity.Slot) quantity.Slot {
	low, high := quantity.Slot(-1), quantity.Slot(2*quantity.SlotsPerYear-1)
	for low < high {
		if m := (low + high + 1) / 2; quantity.Slot(d.of(int16(m))) <= until {
			low = m
		} else {
			high = m - 1
		}
	}
	return low
}

func briefSlot(s quantity.Slot) int16 {
	if s == NoSlot {
		return briefNever
	}
	return int16(s)
}
