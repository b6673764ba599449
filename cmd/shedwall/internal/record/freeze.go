package record

import (
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Event is the spring or the fall side of the frost-free season.
type Event uint8

// Last is the last freeze of a season year (spring), First the first (fall).
const (
	Last Event = iota
	First
)

func (e Event) String() string { return [...]string{"last", "first"}[e] }

// FreezeRow is one date of a published freeze table: with chance Odds the
// station falls to Below after (Last) or before (First) the date. Odds are always
// the chance of harm, however the publisher words it.
type FreezeRow struct {
	Event Event
	Below quantity.Celsius
	Odds  quantity.Odds
	Date  quantity.MonthDay
	At    figure.Cell
}
