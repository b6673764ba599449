package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/score"
)

// ScoreCmd compares growers' reports with the dates that the guide prints.
type ScoreCmd struct {
	Guide string `help:"Folder of the guide." default:"." type:"existingdir"`
}

// Run prints each report with what was printed for it, and the counts by band and by
// cover.
func (c *ScoreCmd) Run(e *env) error {
	g, err := load(e, c.Guide)
	if err != nil {
		return err
	}
	r := g.Score()
	if len(r.Judged)+r.Parked == 0 {
		fmt.Fprintln(e.stderr, "no report in data/reports.csv")
		return nil
	}
	return printScore(e.stdout, r)
}

var places = map[score.Place]string{score.NoDates: "no dates printed", score.Safe: "within careful dates", score.Even: "within half-and-half dates", score.Outside: "outside all dates"}

var told = map[score.Told]string{score.NotTold: "cannot be told", score.Spared: "no harm", score.HarmTold: "harm", score.Open: "either"}

func printScore(out io.Writer, r score.Result) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "report\tday\tband\tcrop\tcovers\toutcome\tprinted dates\tby the low")
	for _, j := range r.Judged {
		x := j.Report
		fmt.Fprintf(w, "%s:%d\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", x.Cell.File, x.Cell.Line, reportDay(x.Year, x.On), x.Band, x.Crop, openOr(x.Layers), x.Outcome, places[j.Place], told[j.Told])
	}
	fmt.Fprintln(w)
	fmt.Fprintln(w, "counted\treports\tcareful: harmed of\thalf: harmed of\toutside: harmed of\tlow right of\theat\tcrushed")
	line := func(name string, t score.Tally) {
		fmt.Fprintf(w, "%s\t%d\t%d of %d\t%d of %d\t%d of %d\t%d of %d\t%d\t%d\n", name, t.Reports, t.SafeHarmed, t.Safe, t.EvenHarmed, t.Even, t.OutsideHarmed, t.Outside, t.Right, t.Right+t.Wrong, t.Heat, t.Crush)
	}
	line("all", r.All)
	for _, t := range r.Bands {
		line(t.ID, t)
	}
	for _, t := range r.Covers {
		line(openOr(t.ID), t)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	verdict := map[score.Verdict]string{
		score.TooFew:  "too few reports within the careful dates to say anything about odds of 1 in 10 (ten are the least)",
		score.Kept:    "the harm within the careful dates agrees with odds of 1 in 10",
		score.TooMuch: "more harm within the careful dates than odds of 1 in 10 let expect: look at these dates",
	}
	_, err := fmt.Fprintf(out, "\n%s; %s parked\n", verdict[r.All.Verdict()], count(r.Parked, "report"))
	return err
}

func openOr(layers string) string {
	if layers == "" {
		return "open"
	}
	return layers
}

func reportDay(year int, d quantity.MonthDay) string {
	if year == 0 {
		return fmt.Sprintf("%02d-%02d", d.Month, d.Day)
	}
	return fmt.Sprintf("%04d-%02d-%02d", year, d.Month, d.Day)
}
