package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// writeWeather is the script command "weather FILE FROM TO [MEAN]": an invented daily
// record of whole calendar years, made by rule so that every run has the same. Minima are a
// cosine of the year around the mean, 4 C where none is given, with noise of a few degrees from a linear congruential generator.
func writeWeather(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 || len(args) > 4 {
		ts.Fatalf("usage: weather FILE FROM TO [MEAN]")
	}
	mean := 4.0
	if len(args) == 4 {
		var err error
		mean, err = strconv.ParseFloat(args[3], 64)
		ts.Check(err)
	}
	from, err := strconv.Atoi(args[1])
	ts.Check(err)
	to, err := strconv.Atoi(args[2])
	ts.Check(err)
	var b strings.Builder
	b.WriteString("date,tmin_c,tmax_c\n")
	seed, noise := uint32(7), 0.0
	for day := time.Date(from, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() <= to; day = day.AddDate(0, 0, 1) {
		seed = seed*1664525 + 1013904223
		noise = 0.7*noise + 4*(float64(seed>>8)/float64(1<<24)-0.5)
		low := mean - 10*math.Cos(2*math.Pi*float64(day.YearDay()-20)/365) + noise
		fmt.Fprintf(&b, "%s,%.1f,%.1f\n", day.Format("2006-01-02"), low, low+10)
	}
	file := ts.MkAbs(args[0])
	ts.Check(os.MkdirAll(filepath.Dir(file), 0o755))
	ts.Check(os.WriteFile(file, []byte(b.String()), 0o644))
}
