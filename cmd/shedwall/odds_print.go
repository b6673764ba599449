package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// printedOdds are the chances of a freeze after a last date, or before a first.
var printedOdds = []quantity.Odds{quantity.Careful, quantity.Half, 0.90}

var events = []record.Event{record.Last, record.First}

// oddsHeader is the heading row of --csv; others check against it.
func oddsHeader(w io.Writer) error {
	_, err := fmt.Fprintln(w, "station,event,below_c,odds_percent,date,years_used,years_without,years_unusable,note")
	return err
}

// csv prints one row for each event, temperature and chance.
func (o oddsOf) csv(w io.Writer, limits []threshold) error {
	out := csv.NewWriter(w)
	for _, e := range events {
		for _, t := range limits {
			for _, odds := range printedOdds {
				a := o.climate.Date(e, t.c, odds)
				date := ""
				if a.State == frost.Dated {
					date = o.hemisphere.MonthDay(a.Slot).String()
				}
				out.Write([]string{
					plainText(o.record.Station), e.String(), number(float64(t.c), 2), percent(odds), date,
					strconv.Itoa(a.Used), strconv.Itoa(a.Without), strconv.Itoa(a.Unusable), note(a, odds),
				})
			}
		}
	}
	out.Flush()
	return out.Error()
}

// plainText keeps a spreadsheet from taking a station's name for a formula.
func plainText(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t", rune(s[0])) {
		return "'" + s
	}
	return s
}

func percent(o quantity.Odds) string { return strconv.Itoa(int(math.Round(float64(o) * 100))) }

// number prints x with at most so many decimals, without trailing zeros.
func number(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.ContainsRune(s, '.') {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// note says in words why there is no date, or what to think of it.
func note(a frost.Answer, odds quantity.Odds) string {
	switch a.State {
	case frost.Dated:
		if a.Estimate {
			return fmt.Sprintf("estimate from %d years", a.Used)
		}
		return ""
	case frost.NoneNeeded:
		return "freezes in fewer than " + percent(odds) + " % of years"
	case frost.NeverFreezes:
		return "never freezes"
	case frost.AnyMonth:
		return "may freeze in any month"
	case frost.TooFewYears:
		return "too few years"
	}
	return "not known"
}

// inWords is a chance as people say it.
func inWords(o quantity.Odds) string {
	switch o {
	case quantity.Careful:
		return "1 year in 10"
	case quantity.Half:
		return "half the years"
	}
	return "9 years in 10"
}

// print writes the odds of one station for people.
func (o oddsOf) print(w io.Writer, limits []threshold) error {
	d := o.record
	var b strings.Builder
	fmt.Fprintf(&b, "%s: daily minima from %s to %s, in steps of %s.\n", d.Station, fullDate(d.Start), fullDate(d.End()-1), stepInWords(d.Step))
	if o.years.Len() == 1 {
		fmt.Fprintf(&b, "Used here: the year %d.\n", o.years.From)
	} else {
		fmt.Fprintf(&b, "Used here: the %d years %d to %d.\n", o.years.Len(), o.years.From, o.years.To)
	}
	if o.neverFreezes(limits) {
		fmt.Fprintf(&b, "\nIt never freezes here: in none of these years did the air get as cold as %s.\n", warmestAsked(limits))
	} else {
		o.table(&b, record.Last, limits)
		o.table(&b, record.First, limits)
		if strings.Contains(b.String(), "±") {
			b.WriteString("\n± is the sampling error in days: had other years of the same climate been measured, two dates in three would lie that close.\n")
		}
		o.seasons(&b, limits)
		o.present(&b, limits)
	}
	o.winter(&b)
	o.remarks(&b, limits)
	_, err := io.WriteString(w, b.String())
	return err
}

// table prints one event: a row for each temperature, a column for each chance.
func (o oddsOf) table(b *strings.Builder, e record.Event, limits []threshold) {
	title := "Last freeze, in spring: the air falls to the temperature again after the date in"
	if e == record.First {
		title = "First freeze, in fall: the air has fallen to the temperature before the date in"
	}
	fmt.Fprintf(b, "\n%s\n", title)
	w := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	fmt.Fprint(w, "  \t")
	for _, odds := range printedOdds {
		fmt.Fprint(w, inWords(odds), "\t")
	}
	fmt.Fprintln(w, "years used")
	for _, t := range limits {
		fmt.Fprintf(w, "  %s\t", t.inBothUnits())
		var a frost.Answer
		for _, odds := range printedOdds {
			a = o.climate.Date(e, t.c, odds)
			fmt.Fprint(w, o.cell(a), "\t")
		}
		fmt.Fprintln(w, yearsUsed(a, o.years.Len()))
	}
	w.Flush()
}

// cell is a date with its error, or why there is none.
func (o oddsOf) cell(a frost.Answer) string {
	switch a.State {
	case frost.Dated:
		s := shortDate(o.hemisphere.MonthDay(a.Slot)) + " ± " + strconv.Itoa(int(math.Ceil(a.PlusMinus)))
		if a.Estimate {
			s += " (estimate)"
		}
		return s
	case frost.NoneNeeded:
		return "fewer years freeze"
	case frost.NeverFreezes:
		return "never freezes"
	case frost.AnyMonth:
		return "any month"
	case frost.TooFewYears:
		return "too few years"
	}
	return "not known"
}

func yearsUsed(a frost.Answer, of int) string {
	s := fmt.Sprintf("%d of %d", a.Used, of)
	switch {
	case a.Without == a.Used && a.Used > 0:
		s += ", none with a freeze"
	case a.Without > 0:
		s += fmt.Sprintf(", %d without a freeze", a.Without)
	}
	return s
}

// neverFreezes says that no temperature asked for was reached in any used year.
func (o oddsOf) neverFreezes(limits []threshold) bool {
	for _, t := range limits {
		for _, e := range events {
			if o.climate.PlainDate(e, t.c, quantity.Half).State != frost.NeverFreezes {
				return false
			}
		}
	}
	return len(limits) > 0
}

func warmestAsked(limits []threshold) string {
	warmest := limits[0]
	for _, t := range limits {
		if t.c > warmest.c {
			warmest = t
		}
	}
	return warmest.inBothUnits()
}

// seasons prints the middle frost-free span for each temperature.
func (o oddsOf) seasons(b *strings.Builder, limits []threshold) {
	b.WriteString("\nFrom the last freeze to the first, in the middle year\n")
	w := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	for _, t := range limits {
		m := o.climate.Span(t.c)
		text := map[frost.AnswerState]string{
			frost.Dated:        daysOrAllYear(m.Days),
			frost.NoneNeeded:   "all year: half the winters or more pass without",
			frost.NeverFreezes: "all year",
			frost.TooFewYears:  "too few years",
		}[m.State]
		if m.State == frost.Dated && m.Estimate {
			text += " (estimate)"
		}
		fmt.Fprintf(w, "  %s\t%s\n", t.inBothUnits(), text)
	}
	w.Flush()
}

// present says how far the years were moved to the present climate, and what they
// gave as they were. Nothing where there is no trend, or it was not asked for.
func (o oddsOf) present(b *strings.Builder, limits []threshold) {
	last, known := o.climate.TrendOf(record.Last)
	first, _ := o.climate.TrendOf(record.First)
	if o.climate.Plain || !known || math.Abs(float64(last)) < 0.05 && math.Abs(float64(first)) < 0.05 {
		return
	}
	fmt.Fprintf(b, "\nThese dates are for the climate of %d: in ten years, nights of the last freeze have become %s, those of the first %s.\n", o.years.To, inTenYears(last), inTenYears(first))
	b.WriteString("Half of that is taken into account, 1 C at most; a date with 1 year in 10 is the safer of with and without it. Without (--plain):\n")
	w := tabwriter.NewWriter(b, 0, 0, 3, ' ', 0)
	fmt.Fprintf(w, "  \tlast, %s\tlast, %s\tfirst, %s\tfirst, %s\n", inWords(quantity.Careful), inWords(quantity.Half), inWords(quantity.Careful), inWords(quantity.Half))
	for _, t := range limits {
		fmt.Fprintf(w, "  %s", t.inBothUnits())
		for _, e := range events {
			for _, odds := range []quantity.Odds{quantity.Careful, quantity.Half} {
				fmt.Fprintf(w, "\t%s", o.cell(o.climate.PlainDate(e, t.c, odds)))
			}
		}
		fmt.Fprintln(w)
	}
	w.Flush()
}

// inTenYears words a trend.
func inTenYears(k quantity.Kelvins) string {
	if k < 0 {
		return number(float64(-k), 1) + " C colder"
	}
	return number(float64(k), 1) + " C warmer"
}

// winter prints the coldest night of the year and the zone that follows from it.
func (o oddsOf) winter(b *strings.Builder) {
	plain, now, used := o.climate.ColdestNight()
	if used < frost.LeastYears {
		return
	}
	fmt.Fprintf(b, "\nColdest night of a winter: %s C (%s F) on average of %d winters, hardiness zone %s", number(float64(plain), 1), number(plain.Fahrenheit(), 1), used, frost.Zone(plain))
	if !o.climate.Plain && math.Abs(float64(now-plain)) >= 0.05 {
		fmt.Fprintf(b, "; with half of its trend %s C (%s F), zone %s", number(float64(now), 1), number(now.Fahrenheit(), 1), frost.Zone(now))
	}
	b.WriteString(".\n")
}

// remarks prints how thresholds were compared and what was left out.
func (o oddsOf) remarks(b *strings.Builder, limits []threshold) {
	var lines []string
	for _, t := range limits {
		r := frost.RoundWarm(t.c, o.record.Step)
		if math.Abs(float64(r.Celsius()-t.c)) > 0.05 {
			lines = append(lines, fmt.Sprintf("%s was compared as %s C, the next reading of this record on the warmer side.", t.inBothUnits(), number(float64(r.Celsius()), 2)))
		}
	}
	lines = append(lines, fmt.Sprintf("A year is not used if more than %d days are missing between its date and midsummer, or, where it did not freeze, in its five cold months.", frost.MaxMissing))
	x := o.record.Dropped
	for _, left := range []struct {
		n    int
		what string
	}{
		{x.Flagged, "marked doubtful by the provider"}, {x.Implausible, "below -90 C or above 60 C"},
		{2 * x.MinOverMax, "of days whose minimum is above their maximum"}, {x.Contradicted, "given twice with different values"},
	} {
		if left.n > 0 {
			lines = append(lines, fmt.Sprintf("Left out: %d readings %s.", left.n, left.what))
		}
	}
	b.WriteString("\n" + strings.Join(lines, "\n") + "\n")
}

// inBothUnits is the temperature in the unit asked, the other behind it.
func (t threshold) inBothUnits() string {
	c, f := number(float64(t.c), 1)+" C", number(t.c.Fahrenheit(), 1)+" F"
	if t.inF {
		return f + " (" + c + ")"
	}
	return c + " (" + f + ")"
}

func stepInWords(s record.StepKind) string {
	return [...]string{"0.01 C", "0.1 C", "half degrees C", "whole degrees C", "whole degrees F"}[s]
}

var monthNames = [...]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

func shortDate(d quantity.MonthDay) string {
	return fmt.Sprintf("%d %s", d.Day, monthNames[d.Month-1])
}

func fullDate(d quantity.Day) string {
	y, m, day := d.Date()
	return fmt.Sprintf("%s %d", shortDate(quantity.MonthDay{Month: m, Day: day}), y)
}

// daysOrAllYear words a span: one that runs through a winter is all year.
func daysOrAllYear(days int) string {
	if days > 365 {
		return "all year: the middle span runs through a winter"
	}
	return count(days, "day")
}
