package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/record"
)

// TrialCmd works out a cover's gain from two loggers, one under it and one in the open.
type TrialCmd struct {
	Inside  string `arg:"" help:"Readings from under the cover: a table with time and temperature."`
	Outside string `arg:"" help:"Readings of the same nights in the open, at the same height."`

	InsideClock  clockFlag `help:"Set the inside logger's clock forward or back: -5h, +1h, 90m; 0h says that it is right." placeholder:"TIME"`
	OutsideClock clockFlag `help:"The same for the outside one." placeholder:"TIME"`

	InsideTime         string `help:"Column of date and time." placeholder:"COL"`
	InsideTemperature  string `help:"Column of temperatures." placeholder:"COL"`
	InsideUnit         string `help:"Unit of the temperatures: c or f." enum:",c,f" default:"" placeholder:"UNIT"`
	OutsideTime        string `help:"Column of date and time." placeholder:"COL"`
	OutsideTemperature string `help:"Column of temperatures." placeholder:"COL"`
	OutsideUnit        string `help:"Unit of the temperatures: c or f." enum:",c,f" default:"" placeholder:"UNIT"`

	Cover string `help:"Id of the cover in covers.csv, for the row to copy." default:"our_cover" placeholder:"ID"`
	Chart string `help:"Write a chart of the nights to this file (SVG)." placeholder:"FILE" type:"path"`
}

// clockFlag is a time by which a clock is set, and whether one was given. It may
// begin with a hyphen.
type clockFlag struct {
	minutes int
	given   bool
}

// Decode takes one time such as -5h or 1h30m.
func (c *clockFlag) Decode(ctx *kong.DecodeContext) error {
	var s string
	if err := ctx.Scan.PopValueInto("time", &s); err != nil {
		return err
	}
	d, err := time.ParseDuration(strings.ReplaceAll(strings.TrimSpace(s), "\u2212", "-"))
	if err != nil || d%time.Minute != 0 || d.Abs() > 48*time.Hour {
		return fmt.Errorf("%q is no time to set a clock by: write -5h, +1h or 90m", s)
	}
	c.minutes, c.given = int(d/time.Minute), true
	return nil
}

// Run pairs the nights and prints what the cover gained. Clocks that do not agree end
// it with exit code 1: minima of different nights tell nothing.
func (c *TrialCmd) Run(e *env) error {
	if same, err := sameFile(c.Inside, c.Outside); err != nil {
		return err
	} else if same {
		return usageError{fmt.Errorf("%s is given twice: a trial needs one file from under the cover and one from the open", c.Inside)}
	}
	var faults diag.List
	inside, okIn, err := readLogger(c.Inside, intake.LoggerMapping{Time: c.InsideTime, Temperature: c.InsideTemperature, Unit: intake.RecordUnits[c.InsideUnit]}, &faults)
	if err != nil {
		return err
	}
	outside, okOut, err := readLogger(c.Outside, intake.LoggerMapping{Time: c.OutsideTime, Temperature: c.OutsideTemperature, Unit: intake.RecordUnits[c.OutsideUnit]}, &faults)
	if err != nil {
		return err
	}
	var trial cover.Trial
	if okIn && okOut {
		inside, outside = c.setClocks(inside, outside)
		c.checkClocks(inside, outside, &faults)
		trial = cover.NewTrial(inside, outside)
		if n := len(trial.Nights); n < cover.FewNights {
			faults.Add(diag.Fault{At: diag.Position{File: c.Inside}, ID: "trial-no-nights", What: fmt.Sprintf("%s in common with %s, %s left out for gaps", count(n, "night"), c.Outside, count(trial.Gaps, "night")),
				Expected: fmt.Sprintf("at least %d nights that both loggers saw", cover.FewNights), Cure: "give two files of the same weeks; look at the clocks"})
		}
	}
	for _, f := range faults.Sorted() {
		fmt.Fprintln(e.stderr, f)
	}
	if faults.HasErrors() {
		return errFaults
	}
	if c.Chart != "" {
		var b bytes.Buffer
		trialChart(&b, trial, c.Cover)
		if err := os.WriteFile(c.Chart, b.Bytes(), 0o644); err != nil {
			return err
		}
	}
	return c.print(e.stdout, trial, inside, outside)
}

// sameFile says whether two names are of one file, or of two with the same bytes.
func sameFile(a, b string) (bool, error) {
	one, err := os.ReadFile(a)
	if err != nil {
		return false, err
	}
	two, err := os.ReadFile(b)
	return bytes.Equal(one, two), err
}

func readLogger(file string, m intake.LoggerMapping, faults *diag.List) (record.Logger, bool, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return record.Logger{}, false, err
	}
	l, ok := intake.Logger(file, data, m, faults)
	return l, ok, nil
}

// setClocks moves the clocks as asked, and the inside one to the outside one's time
// zone where both files say theirs.
func (c *TrialCmd) setClocks(inside, outside record.Logger) (in, out record.Logger) {
	minutes := c.InsideClock.minutes
	if inside.Zoned && outside.Zoned {
		minutes += outside.Zone - inside.Zone
	}
	return cover.Set(inside, minutes), cover.Set(outside, c.OutsideClock.minutes)
}

// Differences of clocks, in minutes: from an hour and a half on nothing but the clock
// explains them; less may be a cover that is slow to warm.
const (
	clocksApart = 90
	clocksNear  = 45
)

func (c *TrialCmd) checkClocks(inside, outside record.Logger, faults *diag.List) {
	ahead, sure := cover.ClockAhead(inside, outside)
	off := max(ahead, -ahead)
	if !sure || off < clocksNear {
		return
	}
	way, set := "ahead of", c.InsideClock.minutes-ahead
	if ahead < 0 {
		way = "behind"
	}
	f := diag.Fault{
		At: diag.Position{File: c.Inside}, ID: "trial-clock",
		What:     fmt.Sprintf("this clock runs %s %s that of %s: mornings come so much earlier or later in its readings", spoken(off), way, filepath.Base(c.Outside)),
		Expected: "two clocks that agree", Cure: fmt.Sprintf("say --inside-clock %s, or --inside-clock 0h if the clock is right", clockText(set)),
	}
	switch {
	case off < clocksApart:
		f.ID, f.Severity, f.Expected = "trial-clock-hour", diag.Notice, ""
	case c.InsideClock.given || c.OutsideClock.given:
		f.Severity = diag.Warning // it was said which clock is right
	}
	faults.Add(f)
}

// spoken is minutes in words: "5 hours", "1 hour", "1.5 hours".
func spoken(minutes int) string {
	if minutes == 60 {
		return "1 hour"
	}
	return number(float64(minutes)/60, 1) + " hours"
}

// clockText is minutes as the flag takes them: -5h, 1h30m.
func clockText(minutes int) string {
	s := ""
	if minutes < 0 {
		s, minutes = "-", -minutes
	}
	s += fmt.Sprintf("%dh", minutes/60)
	if m := minutes % 60; m > 0 {
		s += fmt.Sprintf("%dm", m)
	}
	return s
}
