package season

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/quantity"
)

// checkRow is a row of the table of published check values: its inputs by name.
type checkRow struct {
	id, expected     string
	in               map[string]string
	tolerance, value float64
}

func (r checkRow) number(t *testing.T, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r.in[name], 64)
	if err != nil {
		t.Fatalf("%s: %s: %v", r.id, name, err)
	}
	return v
}

func readTable(t *testing.T, file string) [][]string {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// otherMethods are rows of formulas that this guide does not use; and one whose published
// value the table itself marks as wrong.
var otherMethods = map[string]string{
	"FAO56": "another formula", "Keisling1982": "another formula", "single_triangle": "another rule", "thermal_time": "one base for all: misses the cold end",
}

// Every row of day length, degree days, emergence and soil that one of our formulas can
// answer comes out within the row's own tolerance (the rows name their documents). Dates of
// short days may be a day off, and monthly means and days are asked with the longitude west
// where the row gives one.
func TestPublishedChecks(t *testing.T) {
	rows := readTable(t, proof.ReferenceFile(t, "checks.csv"))
	seeds := map[string][]Point{}
	for _, g := range readTable(t, "../../../../data/builtin/germination.csv")[1:] {
		soil, _ := strconv.ParseFloat(g[1], 64)
		days, _ := strconv.ParseFloat(g[2], 64) // none = 0
		seeds[g[0]] = append(seeds[g[0]], Point{quantity.Celsius(soil), days})
	}
	counts := map[string]int{}
	for _, row := range rows[1:] {
		kind := strings.SplitN(row[0], "-", 2)[0]
		if kind != "DL" && kind != "GDD" && kind != "EMG" && kind != "SOIL" {
			continue
		}
		r := checkRow{id: row[0], expected: row[3], in: map[string]string{}}
		for _, part := range strings.Split(row[2], ";") {
			if name, value, ok := strings.Cut(part, "="); ok {
				r.in[name] = value
			}
		}
		r.tolerance, _ = strconv.ParseFloat(row[4], 64)
		r.value, _ = strconv.ParseFloat(strings.Fields(row[3])[0], 64)
		if why := otherMethods[r.in["method"]]; why != "" || r.id == "GDD-06" || strings.Contains(r.in["quantity"], "G_monthly") {
			counts[kind+" left out"]++
			continue
		}
		got, ok := r.ours(t, seeds)
		switch {
		case !ok:
			t.Errorf("%s: nothing answers %v", r.id, r.in)
		case math.IsNaN(got): // checked by itself
		case math.Abs(got-r.value) > r.tolerance+1e-9:
			t.Errorf("%s: %.5f, published %s within %v", r.id, got, r.expected, r.tolerance)
		}
		counts[kind]++
	}
	t.Log("rows by kind: ", fmt.Sprint(counts))
	for kind, least := range map[string]int{"DL": 44, "GDD": 12, "EMG": 25, "SOIL": 15} {
		if counts[kind] < least {
			t.Errorf("%s: only %d rows", kind, counts[kind])
		}
	}
}

// ours is what our formulas say of a row.
func (r checkRow) ours(t *testing.T, seeds map[string][]Point) (float64, bool) {
	switch {
	case strings.HasPrefix(r.id, "DL"):
		return r.daylight(t)
	case r.in["method"] == "single_sine" || strings.HasPrefix(r.in["method"], "double_sine or single_sine"):
		return DegreeDaysSine(r.celsius(t, "tmin"), r.celsius(t, "tmax"), r.celsius(t, "lower"), r.celsius(t, "upper")), true
	case r.in["method"] == "simple_average":
		return DegreeDaysMean(r.celsius(t, "tmin"), r.celsius(t, "tmax"), r.celsius(t, "lower")), true
	case r.in["method"] == "86/50":
		days := r.in["days"]
		if days == "" {
			days = r.in["tmax"] + "/" + r.in["tmin"]
		}
		sum := 0.0
		for _, d := range strings.Split(days, "|") { // in degrees F throughout
			var high, low float64
			if _, err := fmt.Sscanf(d, "%g/%g", &high, &low); err != nil {
				t.Fatal(r.id, err)
			}
			sum += DegreeDaysClamped(quantity.Celsius(low), quantity.Celsius(high), 50, 86)
		}
		return sum, true
	case strings.HasPrefix(r.id, "EMG"):
		rate := Rate(seeds[r.in["crop"]], r.celsius(t, "soil_C"))
		return 1 / rate, rate > 0
	case strings.HasPrefix(r.id, "SOIL"):
		return r.soil(t)
	}
	return 0, false
}

func (r checkRow) celsius(t *testing.T, name string) quantity.Celsius {
	return quantity.Celsius(r.number(t, name))
}

func (r checkRow) daylight(t *testing.T) (float64, bool) {
	latitude, west := r.number(t, "lat"), 0.0
	if r.in["lon_west"] != "" {
		west = r.number(t, "lon_west") / 360
	}
	date := func(s string) float64 {
		var m, d int
		if _, err := fmt.Sscanf(s, "%d-%d", &m, &d); err != nil {
			t.Fatal(r.id, err)
		}
		return doy(m, d)
	}
	switch q := r.in["quantity"]; {
	case q == "monthly_mean":
		m, sum := int(r.number(t, "month")), 0.0
		for d := 1; d <= quantity.DaysIn(2023, m); d++ {
			sum += DayLength(latitude, doy(m, d)+west)
		}
		return sum / float64(quantity.DaysIn(2023, m)), true
	case strings.HasPrefix(q, "sunrise"):
		return 12 - r.number(t, "EoT_min")/60 - DayLength(latitude, date(r.in["date"]))/2, true
	case q == "first_and_last_day_below":
		from, to, ok := ShortDays(latitude, r.number(t, "threshold_h"), quantity.North)
		a, b, _ := strings.Cut(r.expected, "|")
		for k, s := range []quantity.Slot{from, to} {
			md := quantity.North.MonthDay(s)
			if off := doy(md.Month, md.Day) - date([]string{a, b}[k]); math.Abs(off) > 1 {
				t.Errorf("%s: %v, want %s", r.id, md, r.expected)
			}
		}
		return math.NaN(), ok
	case q == "" && r.in["date"] != "":
		return DayLength(latitude, date(r.in["date"])+west), true
	}
	return 0, false
}

func (r checkRow) soil(t *testing.T) (float64, bool) {
	diffusion, day := 0.0, 86400.0
	for name, squareMetres := range map[string]float64{"D_mm2_s": 1e-6 * day, "D_cm2_day": 1e-4, "D_m2_s": day, "D_m2_day": 1} {
		if r.in[name] != "" {
			diffusion = r.number(t, name) * squareMetres
		}
	}
	period := yearDays * 1.0
	if r.in["period_s"] != "" {
		period = r.number(t, "period_s") / day
	}
	if r.in["period_d"] != "" {
		period = r.number(t, "period_d")
	}
	switch q := r.in["quantity"]; {
	case q == "D_cm2_per_day":
		return diffusion * 1e4, true
	case q == "damping_depth" && r.in["D_m2_s"] != "" && period > 300:
		return DampingDepth(diffusion, period), true // in metres
	case q == "damping_depth":
		return DampingDepth(diffusion, period) * 100, true
	case q == "depth_where_amplitude_5pct":
		return DampingDepth(diffusion, yearDays) * math.Log(20), true
	case q == "max":
		s := Soil{Mean: r.celsius(t, "Tmean"), Swing: quantity.Kelvins(r.number(t, "A0")), Coldest: r.number(t, "t0"), Diffusion: diffusion}
		return float64(s.Warmest(r.number(t, "z_m"))), true
	case q == "day_of_max":
		s := Soil{Mean: 15, Swing: 15, Coldest: r.number(t, "t0"), Diffusion: 0.05}
		best := 1.0
		for d := 1.0; d <= yearDays; d++ {
			if s.At(0, d) > s.At(0, best) {
				best = d
			}
		}
		return best, true
	}
	return 0, false
}
