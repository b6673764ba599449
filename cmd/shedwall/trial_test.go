package main

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/quantity"
)

// loggerPair writes forty days of two invented loggers at ten-minute steps, three
// readings in a hundred missing; the covered one 2.0 K warmer at night and much warmer
// by day, its clock ahead by so many minutes.
func loggerPair(t *testing.T, ahead int) (inside, outside string) {
	random := rand.New(rand.NewSource(3))
	var in, out strings.Builder
	in.WriteString("time,temperature_c\n")
	out.WriteString("time,temperature_f\n")
	row := func(b *strings.Builder, minute int, v float64) {
		if random.Float64() < 0.03 {
			return
		}
		y, m, d := (quantity.DayOf(2021, 3, 20) + quantity.Day(minute/1440)).Date()
		fmt.Fprintf(b, "%d-%02d-%02d %02d:%02d,%.1f\n", y, m, d, minute%1440/60, minute%60, v)
	}
	level := 0.0
	for day := range 40 {
		level = 0.6*level + 3*random.NormFloat64()
		for m := 0; m < 1440; m += 10 {
			hour := float64(m) / 60
			v := level + 5 - 6*math.Cos(2*math.Pi*(hour-5.5)/24) + 0.2*random.NormFloat64()
			row(&out, day*1440+m+1440, quantity.Celsius(v).Fahrenheit())
			v += 2
			if hour > 8 && hour < 17 {
				v += 15 * math.Sin(math.Pi*(hour-8)/9)
			}
			row(&in, day*1440+m+1440+ahead, v)
		}
	}
	return write(t, "tunnel.csv", in.String()), write(t, "garden.csv", out.String())
}

// gainLine reads "gain typical 2.0 K (1.6-2.4), 38 nights".
func gainLine(t *testing.T, out string) (typical float64, nights int) {
	t.Helper()
	found := regexp.MustCompile(`(?m)^gain typical (-?[0-9.]+) K \(-?[0-9.]+(?:-| to )-?[0-9.]+\), (\d+) nights`).FindStringSubmatch(out)
	if found == nil {
		t.Errorf("no line of the gain in %q", out)
		return math.NaN(), 0
	}
	typical, _ = strconv.ParseFloat(found[1], 64)
	nights, _ = strconv.Atoi(found[2])
	return typical, nights
}

func TestTrial(t *testing.T) {
	for _, ahead := range []int{0, 60} {
		inside, outside := loggerPair(t, ahead)
		chart := filepath.Join(t.TempDir(), "nights.svg")
		code, out, messages := shedwall("trial", inside, outside, "--cover", "tunnel", "--chart", chart)
		typical, nights := gainLine(t, out)
		if code != 0 || math.Abs(typical-2) > 0.2 || nights < 10 {
			t.Errorf("clock ahead by %d: exit %d, %.1f K over %d nights\n%s%s", ahead, code, typical, nights, out, messages)
		}
		if named := strings.Contains(messages, "this clock runs 1 hour ahead") && strings.Contains(messages, "[trial-clock-hour]"); named != (ahead == 60) {
			t.Errorf("clock ahead by %d: %q", ahead, messages)
		}
		if !strings.Contains(out, "\ncover,gain_low_k,gain_typical_k,gain_high_k,gain_stated,source,note\ntunnel,") || !strings.Contains(out, "\nour_trial,own,") {
			t.Errorf("no rows to copy:\n%s", out)
		}
		svg, err := os.ReadFile(chart)
		if err != nil || strings.Count(string(svg), "<circle") < 38 || !strings.Contains(string(svg), "<desc") {
			t.Errorf("chart: %v, %d bytes", err, len(svg))
		}
		if _, again, _ := shedwall("trial", inside, outside, "--cover", "tunnel"); again != out {
			t.Error("the same files give other words")
		}
	}
}

// Hours apart, the clocks are named and nothing is worked out; set right, the gain
// comes; insisted upon, it comes with a warning.
func TestTrialClocks(t *testing.T) {
	inside, outside := loggerPair(t, 300)
	code, out, messages := shedwall("trial", inside, outside)
	if code != 1 || out != "" || !strings.Contains(messages, "5 hours ahead") || !strings.Contains(messages, "--inside-clock -5h") {
		t.Errorf("exit %d\n%s%s", code, out, messages)
	}
	code, out, messages = shedwall("trial", inside, outside, "--inside-clock", "-5h")
	if typical, _ := gainLine(t, out); code != 0 || math.Abs(typical-2) > 0.2 || messages != "" {
		t.Errorf("set right: exit %d\n%s%s", code, out, messages)
	}
	code, out, messages = shedwall("trial", inside, outside, "--outside-clock", "5h")
	if typical, _ := gainLine(t, out); code != 0 || math.Abs(typical-2) > 0.2 {
		t.Errorf("the other one set: exit %d\n%s%s", code, out, messages)
	}
	code, _, messages = shedwall("trial", inside, outside, "--inside-clock", "0h")
	if code != 0 || !strings.Contains(messages, "warning") {
		t.Errorf("insisted upon: exit %d %s", code, messages)
	}
}

func TestTrialWrongUse(t *testing.T) {
	inside, outside := loggerPair(t, 0)
	other := write(t, "other.csv", "time,temperature_c\n2020-01-01 06:00,1\n2020-01-02 06:00,1\n")
	for _, c := range []struct {
		args []string
		code int
		say  string
	}{
		{[]string{"trial", inside}, 2, "outside"},
		{[]string{"trial", inside, outside, "--inside-clock", "-5"}, 2, "write -5h"},
		{[]string{"trial", inside, outside, "--inside-unit", "k"}, 2, "inside-unit"},
		{[]string{"trial", inside, filepath.Join(t.TempDir(), "none.csv")}, 3, "none.csv"},
		{[]string{"trial", inside, other}, 1, "trial-no-nights"},
		{[]string{"trial", inside, outside, "--outside-temperature", "temp"}, 1, "logger-column-unknown"},
		{[]string{"trial", inside, outside, "--chart", filepath.Join(t.TempDir(), "no", "such", "folder.svg")}, 3, "folder.svg"},
	} {
		code, out, messages := shedwall(c.args...)
		if code != c.code || !strings.Contains(messages, c.say) || out != "" {
			t.Errorf("%v: exit %d, want %d: %s%s", c.args[2:], code, c.code, out, messages)
		}
	}
}

// The cold frame of Winona (C. Catlin, CC0): the command names the five hours and,
// with them mended, prints its nights.
func TestTrialOfTheRealPair(t *testing.T) {
	dir := filepath.Join(proof.RecordsDir(t), "loggers")
	inside, outside := filepath.Join(dir, "inside_coldframe_2018.csv"), filepath.Join(dir, "outside_winona_station_2018.csv")
	if _, err := os.Stat(inside); err != nil {
		proof.Absent(t, "records", err.Error())
	}
	code, _, messages := shedwall("trial", inside, outside)
	if code != 1 || !strings.Contains(messages, "5 hours ahead") {
		t.Errorf("exit %d %s", code, messages)
	}
	code, out, messages := shedwall("trial", inside, outside, "--inside-clock", "-5h")
	if typical, nights := gainLine(t, out); code != 0 || messages != "" || math.Abs(typical-0.3) > 0.4 || nights != 29 {
		t.Errorf("exit %d\n%s%s", code, out, messages)
	}
}
