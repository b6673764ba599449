package catalog

import (
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// Outcome is what became of the plants of a grower's report.
type Outcome uint8

// What growers tell. Overheated and Crushed say nothing about frost dates.
const (
	Unhurt Outcome = iota
	Harmed
	Killed
	Overheated
	Crushed
)

// Outcomes is every outcome with the word used in tables.
var Outcomes = map[string]Outcome{"unhurt": Unhurt, "harmed": Harmed, "killed": Killed, "overheated": Overheated, "crushed": Crushed}

func (o Outcome) String() string {
	return [...]string{"unhurt", "harmed", "killed", "overheated", "crushed"}[o]
}

// Report is a row of reports.csv: what happened to one crop of one garden on one day.
// It holds no private column; the reader passes those over.
type Report struct {
	Year    int // 0 = not said
	On      quantity.MonthDay
	Band    string // id
	Crop    string // id
	Place   string // as the grower names it; may be empty
	Grower  string // initials; may be empty
	Height  figure.Of[quantity.Metres]
	Young   bool   // not yet four weeks out
	Layers  string // covers over the plants, outermost first; "" = none
	Touched bool   // the cover lay on the leaves
	Outside figure.Of[quantity.Celsius]
	Inside  figure.Of[quantity.Celsius]
	Outcome Outcome
	Note    string
	Cell    diag.Position
}

// Parked is a report that nobody can place: its date, crop or band is not clear. It is
// told to the publisher and counted, never guessed at and never printed.
type Parked struct {
	Cell diag.Position
	Why  string // the id of the fault that tells it
}
