package quantity

import "fmt"

// Day is a civil day, counted from 1 January 1970 (proleptic Gregorian calendar).
type Day int32

// MonthDay is a date without a year. Month 1-12, Day 1-31.
type MonthDay struct{ Month, Day int }

// DayOf is the civil day of a date. The date must exist: see ValidDate.
//
// Days are counted in years that begin on 1 March, which puts the leap day last.
func DayOf(year, month, day int) Day {
	y := year
	if month <= 2 {
		y--
	}
	era := floorDiv(y, 400)
	yoe := y - era*400
	doy := (153*((month+9)%12)+2)/5 + day - 1
	doe := yoe*365 + yoe/4 - yoe/100 + doy
	return Day(era*146097 + doe - 719468)
}

// Date is the year, month and day of d.
func (d Day) Date() (year, month, day int) {
	z := int(d) + 719468
	era := floorDiv(z, 146097)
	doe := z - era*146097
	yoe := (doe - doe/1460 + doe/36524 - doe/146096) / 365
	doy := doe - (365*yoe + yoe/4 - yoe/100)
	mp := (5*doy + 2) / 153
	day = doy - (153*mp+2)/5 + 1
	month = mp + 3
	if month > 12 {
		month -= 12
	}
	year = yoe + era*400
	if month <= 2 {
		year++
	}
	return year, month, day
}

// ISO is a day as YYYY-MM-DD (ISO 8601, calendar date, extended format), years 0 to 9999.
func (d Day) ISO() string {
	year, month, day := d.Date()
	return fmt.Sprintf("%04d-%02d-%02d", year, month, day)
}

func floorDiv(a, b int) int {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

// Leap says whether a Gregorian year has a 29 February.
func Leap(year int) bool { return year%4 == 0 && (year%100 != 0 || year%400 == 0) }

// DaysIn is the number of days of a month (29 for February of a leap year).
func DaysIn(year, month int) int {
	switch month {
	case 2:
		if Leap(year) {
			return 29
		}
		return 28
	case 4, 6, 9, 11:
		return 30
	}
	return 31
}

// ValidDate says whether the date exists.
func ValidDate(year, month, day int) bool {
	return month >= 1 && month <= 12 && day >= 1 && day <= DaysIn(year, month)
}

// Hemisphere tells on which side of the equator a guide lies.
type Hemisphere uint8

// The season year begins on 1 August in the north and on 1 February in the south.
const (
	North Hemisphere = iota
	South
)

// HemisphereOf is South for a negative latitude (degrees), else North.
func HemisphereOf(latitude float64) Hemisphere {
	if latitude < 0 {
		return South
	}
	return North
}

// SlotsPerYear is the length of a season year in slots: 29 February has a slot
// of its own in every year and is simply unused in common years, so that one
// calendar date has one slot.
const SlotsPerYear = 366

// Slot is a calendar date counted from the beginning of a season year (slot 0 =
// 1 August in the north, 1 February in the south), 29 February included.
//
// A plan follows plants from one winter over the summer into the next, so slots
// run on: 0-365 hold the cold season whose end is the spring, 366-731 the season
// year after it, whose beginning is the fall. Slot 366 is the same calendar date
// as slot 0, a year later.
type Slot int32

var monthStart = [13]int{0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335, 366}

func (h Hemisphere) origin() int {
	if h == South {
		return monthStart[1] // 1 February
	}
	return monthStart[7] // 1 August
}

// SlotOf is the slot, 0 to 365, of a calendar date.
func (h Hemisphere) SlotOf(md MonthDay) Slot {
	return Slot((monthStart[md.Month-1] + md.Day - 1 - h.origin() + SlotsPerYear) % SlotsPerYear)
}

// MonthDay is the calendar date of a slot; slots beyond one season year wrap.
func (h Hemisphere) MonthDay(s Slot) MonthDay {
	n := (int(s)%SlotsPerYear + SlotsPerYear + h.origin()) % SlotsPerYear
	m := 1
	for monthStart[m] <= n {
		m++
	}
	return MonthDay{m, n - monthStart[m-1] + 1}
}

// SeasonOf gives the season year of a civil day, named by the calendar year in
// which it begins, and the slot (0-365) within it.
func (h Hemisphere) SeasonOf(d Day) (season int, s Slot) {
	y, m, dd := d.Date()
	s = h.SlotOf(MonthDay{m, dd})
	first := 8
	if h == South {
		first = 2
	}
	if m < first {
		y--
	}
	return y, s
}

// SeasonStart is the civil day on which season year s begins.
func (h Hemisphere) SeasonStart(season int) Day {
	if h == South {
		return DayOf(season, 2, 1)
	}
	return DayOf(season, 8, 1)
}

// DayAt is the civil day of a slot of season year s; slots from 366 on lie in the
// season years after it. The slot of 29 February in a common year gives 1 March.
func (h Hemisphere) DayAt(season int, s Slot) Day {
	season, s = season+floorDiv(int(s), SlotsPerYear), Slot((int(s)%SlotsPerYear+SlotsPerYear)%SlotsPerYear)
	start, end := h.SeasonStart(season), h.SeasonStart(season+1)
	d := start + Day(s)
	if end-start < SlotsPerYear && s > h.SlotOf(MonthDay{2, 29}) {
		d--
	}
	return d
}

// String prints the date as MM-DD, the form of tables.
func (md MonthDay) String() string {
	if m, d := md.Month, md.Day; m >= 0 && m <= 12 && d >= 0 && d <= 31 { // tables have hundreds of thousands
		at := (m*32 + d) * len("MM-DD")
		return monthDays[at : at+len("MM-DD")]
	}
	return fmt.Sprintf("%02d-%02d", md.Month, md.Day)
}

// monthDays is every date of a year as tables write it, side by side.
var monthDays = func() string {
	out := make([]byte, 0, 13*32*len("MM-DD"))
	for m := range 13 {
		for d := range 32 {
			out = fmt.Appendf(out, "%02d-%02d", m, d)
		}
	}
	return string(out)
}()
