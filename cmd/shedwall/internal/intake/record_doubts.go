package intake

import (
	"fmt"
	"math"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// A minimum this far below those of both neighbour days, in months whose minima are warm
// enough for gardens to grow, is hardly a night's. Among the 666,000 minima of 32 real
// stations eight are, and all look like slips: TestDoubtfulMinimaOfRealRecords lists them.
const (
	farBelow = 1100 // hundredths of a degree
	growing  = 500  // hundredths of a degree C: minima of the months in which gardens grow
)

// longZeros is how many days in a row minima of exactly 0 are no weather any more: at the
// same stations, whole degrees among them, eight is the most.
const longZeros = 10

// The readings that a dead logger or a formula makes of a blank cell, 0 C and 0 F.
var zeros = [2]quantity.Hundredths{0, -1778}

// doubts tells minima that look like slips: they are used as they are. All of them are
// told, since one alone moves dates of fall by days.
func doubts(d *record.Daily, t *teller) {
	var warm *[12]bool
	for i := 0; i < len(d.Min); {
		v, n := d.Min[i], 1
		if v == zeros[0] || v == zeros[1] {
			for i+n < len(d.Min) && d.Min[i+n] == v {
				n++
			}
		}
		day := d.Start + quantity.Day(i)
		before, after := d.MinOn(day-1), d.MinOn(day+quantity.Day(n))
		deep := v.Known() && before.Known() && after.Known() && min(before, after)-v >= farBelow
		if deep {
			if warm == nil {
				warm = warmMonths(d)
			}
			_, month, _ := day.Date()
			deep = warm[month-1]
		}
		switch {
		case n >= longZeros, deep && n > 1:
			t.add(diag.Fault{
				At: lineOf(d, day), ID: "record-zeros", Severity: diag.Warning,
				What:     fmt.Sprintf("from %s to %s of station %s each of %d minima is exactly %s", day.ISO(), (day + quantity.Day(n-1)).ISO(), d.Station, n, degrees(v)),
				Expected: "readings, and an empty cell where there is none", Cure: "look at the station's own sheet: where nothing was read, blank the cells; they are used as they are",
			})
		case deep:
			t.add(diag.Fault{
				At: lineOf(d, day), ID: "record-minimum-low", Severity: diag.Warning,
				What:     fmt.Sprintf("the minimum of %s of station %s is %s, between %s and %s on the days beside it", day.ISO(), d.Station, degrees(v), degrees(before), degrees(after)),
				Expected: fmt.Sprintf("less than %d C below both, as nights of these months are", farBelow/100), Cure: "look at the station's own sheet or at stations near by: if it is a slip, blank the cell; it is used as it is",
			})
		}
		i += n
	}
}

// warmMonths says of each month whether its minima, all years together, are at least
// growing on average.
func warmMonths(d *record.Daily) *[12]bool {
	var warm [12]bool
	var sum, n [12]int
	for i, v := range d.Min {
		if v.Known() {
			_, month, _ := (d.Start + quantity.Day(i)).Date()
			sum[month-1] += int(v)
			n[month-1]++
		}
	}
	for m := range warm {
		warm[m] = n[m] > 0 && sum[m] >= growing*n[m]
	}
	return &warm
}

func lineOf(d *record.Daily, day quantity.Day) diag.Position {
	return diag.Position{Line: d.LineOf(day)}
}

// degrees is a reading in words, in both units: a reader knows the file's.
func degrees(v quantity.Hundredths) string {
	c := float64(v) / 100
	return fmt.Sprintf("%s C (%d F)", decimal(c), int(math.Round(quantity.Celsius(c).Fahrenheit())))
}

// upTo leaves out of a record what lies after the date of the edition, 0 where it is not
// known, and tells it: nobody has read a thermometer in a year to come. It says whether
// anything is left.
func upTo(d *record.Daily, edition quantity.Day, faults *diag.List) bool {
	if edition == 0 || d.End() <= edition+1 {
		return true
	}
	keep := max(0, int(edition+1-d.Start))
	after, first := 0, quantity.Day(0)
	for i := len(d.Min) - 1; i >= keep; i-- {
		if d.Min[i].Known() || d.Max[i].Known() {
			after++
			first = d.Start + quantity.Day(i)
		}
	}
	f := diag.Fault{
		At: lineOf(d, first), ID: "record-after-edition", Severity: diag.Warning,
		What:     fmt.Sprintf("readings from %s on (%s) lie after the date of the edition, %s: they are not used", first.ISO(), days(after), edition.ISO()),
		Expected: "days up to the date of the edition", Cure: "look at the year in this line; if it is right, set edition_date in data/guide.csv to a day after the last reading",
	}
	f.At.File = d.File
	for keep > 0 && !d.Min[keep-1].Known() && !d.Max[keep-1].Known() {
		keep-- // the gap before a wrong year is no part of the record
	}
	if keep == 0 {
		f.Severity = diag.Error
		f.What = fmt.Sprintf("all readings lie after the date of the edition, %s, from %s on", edition.ISO(), first.ISO())
	}
	faults.Add(f)
	d.Min, d.Max = d.Min[:keep], d.Max[:keep]
	if d.Lines != nil {
		d.Lines = d.Lines[:keep]
	}
	return keep > 0
}

// A gap of this many days before the last readings of a record, fewer than a year of them,
// is taken for a slip in the year: common practice, no source.
const (
	longGap   = 3 * 366
	fewIsland = 366
)

// strayYear tells readings that stand alone at the end of a record, years after the
// others: the years that are used are counted back from them.
func strayYear(d *record.Daily, t *teller) {
	gap, n, first := 0, 0, 0
	for i := len(d.Min) - 1; i >= 0 && n < fewIsland; i-- {
		if d.Min[i].Known() || d.Max[i].Known() {
			if gap >= longGap {
				day := d.Start + quantity.Day(first)
				t.add(diag.Fault{
					At: lineOf(d, day), ID: "record-year-apart", Severity: diag.Warning,
					What:     fmt.Sprintf("the last readings of station %s, from %s on (%s), come after %d years without any", d.Station, day.ISO(), days(n), gap/366),
					Expected: "a record without such a gap at its end", Cure: "look at the year in this line: the years that are used are counted back from the last reading",
				})
				return
			}
			gap, first = 0, i
			n++
			continue
		}
		gap++
	}
}

func days(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}
