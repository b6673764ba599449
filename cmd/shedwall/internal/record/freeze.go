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

// FreezeState says what stands where a published table could have a date.
type FreezeState uint8

// The two states without a date are opposites: where it can freeze in any month no
// date is safe; where it never freezes, or in too few years for a date at these odds,
// none is needed.
const (
	FreezeDate FreezeState = iota
	FreezeAnyMonth
	FreezeNever
)

func (s FreezeState) String() string {
	return [...]string{"date", "any month", "never"}[s]
}

// FreezeRow is one date of a published freeze table: with chance Odds the
// station falls to Below after (Last) or before (First) the date. Odds are always
// the chance of harm, however the publisher words it. Date means something only in
// State FreezeDate.
type FreezeRow struct {
	Event Event
	Below quantity.Celsius
	Odds  quantity.Odds
	State FreezeState
	Date  quantity.MonthDay
	At    figure.Cell

	StationAt figure.Cell // of a typed row: the cell that names the station
}

// SpanRow is one length of the frost-free season of a published table: with chance
// Odds the season, in which the station does not fall to Below, is shorter than Days.
type SpanRow struct {
	Below quantity.Celsius
	Odds  quantity.Odds
	Days  int
	At    figure.Cell
}

// Freeze is what is published of a station in place of a daily record. Rows are in
// no particular order; of one event, threshold and odds there is one row.
type Freeze struct {
	Station  string
	Files    []string // where the rows are from, for explanations
	From, To int      // calendar years behind them; 0 = not said
	Years    int      // fewest usable years behind a row; 0 = not said
	Typed    bool     // some rows were typed by hand, so nobody says what is behind them
	Rows     []FreezeRow
	Spans    []SpanRow
	Normals  *Normals // nil = none published
}

// Normals are mean daily minima and maxima by month, [0] = January, over the
// calendar years From to To (0 = not said).
type Normals struct {
	Min, Max [12]quantity.Celsius
	HasMax   bool // Max is known too
	From, To int
	File     string
}
