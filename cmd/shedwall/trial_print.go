package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"text/tabwriter"

	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// print is the result of a trial: what was read, the gain in one line, its quartiles,
// the hottest days, and rows to copy.
func (c *TrialCmd) print(w io.Writer, t cover.Trial, inside, outside record.Logger) error {
	out := &errWriter{w: w}
	out.print("inside   %s\n", loggerText(inside, c.InsideClock))
	out.print("outside  %s\n\n", loggerText(outside, c.OutsideClock))
	best, freezing := t.Best()
	which := ""
	if freezing {
		which = ", freezing ones"
	}
	out.print("gain typical %s K (%s), %s%s\n", k1(best.Middle), spanText(best, func(k quantity.Kelvins) float64 { return float64(k) }), count(best.Nights, "night"), which)
	out.print("           = %s F (%s)\n", strconv.FormatFloat(best.Middle.Fahrenheit(), 'f', 1, 64), spanText(best, quantity.Kelvins.Fahrenheit))
	if best.Nights < cover.FairNights {
		out.print("Fewer than %d nights do not tell the one in ten: take the range for a hint.\n", cover.FairNights)
	}
	out.print("The range leaves out one night in ten at either end.\n\n")

	tab := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(tab, "nights\tn\tquarter\tmiddle\t3 quarters\tcolder inside\t")
	for _, r := range []struct {
		name string
		s    cover.Spread
	}{{"freezing outside", t.Spread(cover.PairedNight.Freezing)}, {"all", t.Spread(nil)}} {
		if r.s.Nights == 0 {
			fmt.Fprintf(tab, "%s\t0\t\t\t\t\t\n", r.name)
			continue
		}
		fmt.Fprintf(tab, "%s\t%d\t%s K\t%s K\t%s K\t%d\t\n", r.name, r.s.Nights, k1(r.s.Quarter), k1(r.s.Middle), k1(r.s.ThreeQuarter), r.s.Colder)
	}
	tab.Flush()
	frozen := 0
	for _, n := range t.Nights {
		if n.Inside <= 0 {
			frozen++
		}
	}
	out.print("It froze inside on %s", count(frozen, "night"))
	if coldest, ok := coldestNight(t); ok {
		out.print("; on the coldest, to %s, it was %s C outside and %s C inside", dayText(coldest.Ends), c1(coldest.Outside), c1(coldest.Inside))
	}
	out.print(".\n")
	if t.Gaps > 0 {
		out.print("%s left out for gaps in a logger.\n", count(t.Gaps, "night"))
	}
	printPeaks(out, t)
	c.printRows(out, best, freezing, inside)
	return out.err
}

// hotDay is a maximum inside that harms fruit set and seedlings: 86 F.
const hotDay = quantity.Celsius(30)

func printPeaks(out *errWriter, t cover.Trial) {
	if len(t.Days) == 0 {
		return
	}
	hot, days := 0, slices.Clone(t.Days)
	for _, d := range days {
		if d.Inside >= hotDay {
			hot++
		}
	}
	slices.SortStableFunc(days, func(a, b cover.PairedDay) int {
		switch {
		case a.Inside > b.Inside:
			return -1
		case a.Inside < b.Inside:
			return 1
		}
		return 0
	})
	out.print("Days: %s C (86 F) or more inside on %d of %d. The hottest:\n", c1(hotDay), hot, len(days))
	for _, d := range days[:min(3, len(days))] {
		out.print("  %s: %s C inside, %s C outside\n", dayText(d.Day), c1(d.Inside), c1(d.Outside))
	}
}

// printRows prints the rows to copy into covers.csv and sources.csv. Gains are
// rounded down, so that nothing is promised that was not read.
func (c *TrialCmd) printRows(out *errWriter, s cover.Spread, freezing bool, inside record.Logger) {
	note := fmt.Sprintf("Own trial over %s%s, %s to %s.", count(s.Nights, "night"), map[bool]string{true: " with frost outside", false: ""}[freezing],
		dayText(inside.Readings[0].At.Day()), dayText(inside.Readings[len(inside.Readings)-1].At.Day()))
	out.print("\nFor covers.csv (a new cover also needs name, kind and letter):\n")
	rows := csv.NewWriter(out)
	rows.Write([]string{"cover", "gain_low_k", "gain_typical_k", "gain_high_k", "gain_stated", "source", "note"})
	rows.Write([]string{c.Cover, down(s.Low), down(s.Middle), down(s.High), "no", "our_trial", note})
	rows.Flush()
	out.print("For sources.csv:\n")
	rows.Write([]string{"source", "kind", "organisation", "title", "read"})
	rows.Write([]string{"our_trial", "own", "", "Own trial with two loggers", "own readings"})
	rows.Flush()
}

func loggerText(l record.Logger, c clockFlag) string {
	n := len(l.Readings)
	steps := make([]int, 0, n)
	for i := 1; i < n; i++ {
		steps = append(steps, int(l.Readings[i].At-l.Readings[i-1].At))
	}
	text := fmt.Sprintf("%s: %s", l.File, count(n, "reading"))
	if n > 1 {
		slices.Sort(steps)
		text += fmt.Sprintf(" from %s to %s, mostly %d minutes apart", dayText(l.Readings[0].At.Day()), dayText(l.Readings[n-1].At.Day()), steps[len(steps)/2])
	}
	if c.minutes != 0 {
		text += ", clock set by " + clockText(c.minutes)
	}
	return text
}

// spanText is the range of a gain, "1.6-2.4", with "to" where an end is below 0.
func spanText(s cover.Spread, unit func(quantity.Kelvins) float64) string {
	low, high := strconv.FormatFloat(zero(unit(s.Low)), 'f', 1, 64), strconv.FormatFloat(zero(unit(s.High)), 'f', 1, 64)
	if s.Low < 0 {
		return low + " to " + high
	}
	return low + "-" + high
}

func k1(k quantity.Kelvins) string { return strconv.FormatFloat(zero(float64(k)), 'f', 1, 64) }
func c1(c quantity.Celsius) string { return strconv.FormatFloat(zero(float64(c)), 'f', 1, 64) }

// zero keeps a small value below 0 from being printed as -0.0.
func zero(v float64) float64 {
	if v > -0.05 && v < 0 {
		return 0
	}
	return v
}

// down is a gain rounded down to a tenth.
func down(k quantity.Kelvins) string {
	return strconv.FormatFloat(floorTenth(float64(k)), 'f', 1, 64)
}

func coldestNight(t cover.Trial) (n cover.PairedNight, ok bool) {
	for i, x := range t.Nights {
		if i == 0 || x.Outside < n.Outside {
			n, ok = x, true
		}
	}
	return n, ok
}

func dayText(d quantity.Day) string {
	year, month, day := d.Date()
	return fmt.Sprintf("%d-%02d-%02d", year, month, day)
}

// errWriter keeps the first error of many small writes.
type errWriter struct {
	w   io.Writer
	err error
}

func (e *errWriter) Write(b []byte) (int, error) {
	if e.err == nil {
		_, e.err = e.w.Write(b)
	}
	return len(b), nil
}

func (e *errWriter) print(format string, args ...any) { fmt.Fprintf(e, format, args...) }
