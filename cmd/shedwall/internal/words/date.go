package words

import (
	"math"
	"strconv"
	"sync/atomic"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Month is the name of a month, 1 to 12.
func (b *Book) Month(m int) string { return b.T("month." + strconv.Itoa(m)) }

// MonthShort is its short form, for axes and sheets.
func (b *Book) MonthShort(m int) string { return b.T("month.short." + strconv.Itoa(m)) }

// Date is "12 May".
func (b *Book) Date(d quantity.MonthDay) string {
	return b.dates.of(d, func() string { return b.T("date", "day", strconv.Itoa(d.Day), "month", b.Month(d.Month)) })
}

// DateShort is "12 May" with the short name of the month.
func (b *Book) DateShort(d quantity.MonthDay) string {
	return b.datesShort.of(d, func() string { return b.T("date.short", "day", strconv.Itoa(d.Day), "month", b.MonthShort(d.Month)) })
}

// dayWords is the dates of a year in words, each worked out when it is first asked for: a
// guide says the same few hundred again and again. Two goroutines may work out the same.
type dayWords [13][32]atomic.Pointer[string]

// of is a date in words; what is no date is worked out each time.
func (w *dayWords) of(d quantity.MonthDay, make func() string) string {
	if d.Month < 0 || d.Month >= len(w) || d.Day < 0 || d.Day >= len(w[0]) {
		return make()
	}
	at := &w[d.Month][d.Day]
	if s := at.Load(); s != nil {
		return *s
	}
	s := make()
	at.Store(&s)
	return s
}

// DateFull is "12 May 2026".
func (b *Book) DateFull(day quantity.Day) string {
	y, m, d := day.Date()
	return b.T("date.full", "day", strconv.Itoa(d), "month", b.Month(m), "year", strconv.Itoa(y))
}

// DateRange is "3-12 May" or "28 April to 12 May", or one date where both are equal.
func (b *Book) DateRange(from, to quantity.MonthDay) string {
	switch {
	case from == to:
		return b.Date(from)
	case from.Month == to.Month && from.Day < to.Day:
		return b.T("date.range_month", "from", strconv.Itoa(from.Day), "to", strconv.Itoa(to.Day), "month", b.Month(from.Month))
	}
	return b.T("range.words", "from", b.Date(from), "to", b.Date(to))
}

// DateRangeShort is "3-12 May" or "28 Apr-12 May", for sheets.
func (b *Book) DateRangeShort(from, to quantity.MonthDay) string {
	switch {
	case from == to:
		return b.DateShort(from)
	case from.Month == to.Month && from.Day < to.Day:
		return b.T("date.range_month.short", "from", strconv.Itoa(from.Day), "to", strconv.Itoa(to.Day), "month", b.MonthShort(from.Month))
	}
	return b.DateShort(from) + "\u2013" + b.DateShort(to)
}

// Days is "1 day" or "12 days".
func (b *Book) Days(n int) string { return b.N("days", n) }

// PlusMinus is "give or take 3 days".
func (b *Book) PlusMinus(n int) string { return b.T("plus_minus", "days", b.Days(n)) }

// Odds is a chance in words: "1 year in 10", "half the years", "3 years in 10".
// The chance is that of harm, and is rounded up to whole tenths or to one in a
// whole number of years.
func (b *Book) Odds(o quantity.Odds) string {
	p := float64(o)
	switch {
	case p <= 0:
		return b.T("odds.never")
	case p >= 1:
		return b.T("odds.always")
	case math.Abs(p-0.5) < 0.005:
		return b.T("odds.half")
	}
	if n := math.Floor(1/p + 1e-9); p < 0.5 && math.Abs(1/p-n) < 0.01 || p < 0.1 {
		return b.T("odds.one_in", "n", b.Int(int(n)))
	}
	return b.T("odds.of_ten", "n", b.Int(int(math.Ceil(p*10-1e-9))))
}
