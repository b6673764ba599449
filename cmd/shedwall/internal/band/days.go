package band

import "shedwall/cmd/shedwall/internal/quantity"

// Days turns the slot at which a gate opens into the slot of the action: some days
// earlier, and then by a table. nil leaves it as it is.
type Days struct {
	before int
	table  []int16 // by slot; briefNever for NoSlot
	same   bool    // the table is sameSlots, and the slots beyond it are the same too
}

// sameSlots is the slots of two season years, for Days without a table: most slots are found
// by one look-up, in a table or in this.
var sameSlots = func() []int16 {
	out := make([]int16, 2*quantity.SlotsPerYear)
	for s := range out {
		out[s] = int16(s)
	}
	return out
}()

// NewDays is so many days before the slot, never before slot 0, and by a table of slots
// (NoSlot where no slot of the action will do any more), if not empty, from that day's
// place in it; days beyond its end take its last. It must not decrease.
func NewDays(before quantity.Slot, table []quantity.Slot) *Days {
	if len(table) == 0 {
		return &Days{int(before), sameSlots, true}
	}
	d := &Days{before: int(before), table: make([]int16, len(table))}
	for i, s := range table {
		d.table[i] = briefSlot(s)
	}
	return d
}

// Earlier is the same from so many more days before.
func (d *Days) Earlier(days quantity.Slot) *Days { return &Days{d.before + int(days), d.table, d.same} }

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
	switch k := max(0, int(s)-d.before); {
	case k < len(d.table):
		return d.table[k]
	case d.same:
		return int16(k)
	}
	return d.table[len(d.table)-1]
}

// asItIs is the Days that nil stands for.
var asItIs = NewDays(0, nil)

// action is of, of a slot of a vector; not of nil.
func (d *Days) action(s int16) int16 {
	if k := int(s) - d.before; uint(k) < uint(len(d.table)) {
		return d.table[k]
	}
	return d.beyond(s)
}

// beyond is action of what lies outside the table.
func (d *Days) beyond(s int16) int16 {
	if s == briefNothing || s == briefNever {
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
