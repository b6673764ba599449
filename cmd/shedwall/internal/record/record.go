// Package record holds what a weather station wrote down: a daily series of
// minimum and maximum temperatures with explicit gaps, or a published freeze
// table. It is pure data; reading files is intake's job.
package record

import "shedwall/cmd/shedwall/internal/quantity"

// Daily is a daily record of one station. Min[i] and Max[i] belong to the day
// Start+i; a day without a reading is quantity.Missing. Both slices have the
// same length.
type Daily struct {
	Station string // id, as in stations.csv
	File    string // path within the guide folder, for explanations
	Start   quantity.Day
	Min     []quantity.Hundredths
	Max     []quantity.Hundredths

	// Step is the smallest difference between readings, in hundredths of a
	// degree: 10 for a file in 0.1 C, 100 for whole C, 56 for whole F (0.556 K
	// rounded up), 1 where no coarser step fits. Thresholds are rounded to the
	// warmer reading at this step before they are compared.
	Step StepKind

	// Lines maps a day index to the line of File it came from; nil when unknown
	// (a binary or compressed layout still has lines once unpacked).
	Lines []int32

	Dropped Dropped

	// Changes are what the file tells of the station itself: moves, other hours of
	// reading. Either can shift a record by half a degree or more. In order of days.
	Changes []Change
}

// Change is something that is different at a station from Day on. Before and After are
// as the file has them: a place as "44.2000 N, 72.1000 W, 300 m", an hour as "17:00".
type Change struct {
	Day           quantity.Day
	What          ChangeKind
	Before, After string
}

// ChangeKind is what changed.
type ChangeKind uint8

// Moved: the station stands elsewhere. OtherHour: its minimum is read at another hour.
const (
	Moved ChangeKind = iota
	OtherHour
)

func (k ChangeKind) String() string { return [...]string{"moved", "hour"}[k] }

// StepKind is the step of a record's readings.
type StepKind uint8

// The steps that records come in.
const (
	HundredthC StepKind = iota
	TenthC
	HalfC
	WholeC
	WholeF
)

// Dropped counts readings that were in the file but are not used, and why.
type Dropped struct {
	Flagged      int // the provider's quality flag says doubtful
	Sentinel     int // a number that means "missing", such as -9999
	Implausible  int // outside -90 to 60 C
	MinOverMax   int // days whose minimum is above their maximum: both dropped
	Repeated     int // readings given again with an equal value: one kept
	Contradicted int // readings given again with another value: none kept
}

// End is the day after the last day of the record.
func (d *Daily) End() quantity.Day { return d.Start + quantity.Day(len(d.Min)) }

// MinOn is the minimum of a day, quantity.Missing outside the record.
func (d *Daily) MinOn(day quantity.Day) quantity.Hundredths { return on(d.Min, int(day-d.Start)) }

// MaxOn is the maximum of a day, quantity.Missing outside the record.
func (d *Daily) MaxOn(day quantity.Day) quantity.Hundredths { return on(d.Max, int(day-d.Start)) }

func on(v []quantity.Hundredths, i int) quantity.Hundredths {
	if i < 0 || i >= len(v) {
		return quantity.Missing
	}
	return v[i]
}

// LineOf is the line of File that a day's reading came from, 0 if not kept.
func (d *Daily) LineOf(day quantity.Day) int {
	i := int(day - d.Start)
	if i < 0 || i >= len(d.Lines) {
		return 0
	}
	return int(d.Lines[i])
}
