package record

import "shedwall/cmd/shedwall/internal/quantity"

// Moment is a minute by a logger's own clock, counted from the beginning of 1 January
// 1970. What the clock was set to, nobody knows but its owner.
type Moment int64

// Day is the civil day and Minute the minute of it, 0 to 1439.
func (m Moment) Day() quantity.Day { return quantity.Day(floorDiv(int64(m), dayMinutes)) }

// Minute: see Day.
func (m Moment) Minute() int { return int(int64(m) - floorDiv(int64(m), dayMinutes)*dayMinutes) }

const dayMinutes = 24 * 60

// MomentOf is a minute of a day.
func MomentOf(d quantity.Day, minute int) Moment {
	return Moment(int64(d)*dayMinutes + int64(minute))
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

// Reading is one temperature of a logger.
type Reading struct {
	At    Moment
	Value quantity.Hundredths // known
}

// Logger is the readings of one logger or hourly station, in the order of time. Steps
// may be uneven and there may be gaps.
type Logger struct {
	File     string
	Readings []Reading

	// Zone is how far the clock is ahead of Greenwich, in minutes, where the file's
	// times say so (Zoned): "2018-03-19T06:10-05:00".
	Zone  int
	Zoned bool
}
