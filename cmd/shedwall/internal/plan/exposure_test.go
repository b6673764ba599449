package plan

import (
	"fmt"
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// What each kind of weather asks of a cover, and the cell that says so.
func TestExposures(t *testing.T) {
	at := func(line int) diag.Position { return diag.Position{File: "covers.csv", Line: line} }
	months := figure.Is(catalog.MonthSet(5), diag.Position{File: "bands.csv", Line: 2}, "")
	wind := func(limit float64) catalog.Cover { return catalog.Cover{WindLimit: figure.Is(limit, at(3), "")} }
	gust := known(80.0)
	for _, x := range []struct {
		what  string
		band  catalog.Band
		cover catalog.Cover
		want  string
	}{
		{"gusts above its limit", catalog.Band{WindMonths: months, Gust: gust}, wind(65), "[wind out covers.csv:3]"},
		{"gusts of its limit", catalog.Band{WindMonths: months, Gust: gust}, wind(80), "[wind stands covers.csv:3]"},
		{"no gust given", catalog.Band{WindMonths: months}, wind(80), "[wind stronger covers.csv:3]"},
		{"no limit stated", catalog.Band{WindMonths: months, Gust: gust}, catalog.Cover{}, "[wind stronger bands.csv:2]"},
		{"mulch has no frame to strengthen", catalog.Band{WindMonths: months, Gust: gust}, catalog.Cover{Kind: catalog.Mulch}, "[wind unsaid bands.csv:2]"},
		{"swept of snow", catalog.Band{SnowMonths: months}, catalog.Cover{Snow: figure.Is(catalog.SnowSweep, at(4), "")}, "[snow sweep covers.csv:4]"},
		{"down before snow", catalog.Band{SnowMonths: months}, catalog.Cover{Snow: figure.Is(catalog.SnowTakeDown, at(4), "")}, "[snow take-down covers.csv:4]"},
		{"snow lies on it", catalog.Band{SnowMonths: months}, catalog.Cover{Snow: figure.Is(catalog.SnowLies, at(4), "")}, "[snow stands covers.csv:4]"},
		{"nobody says what snow does", catalog.Band{SnowMonths: months}, catalog.Cover{}, "[snow unsaid bands.csv:2]"},
		{"hail breaks it", catalog.Band{HailMonths: months}, catalog.Cover{Hail: figure.Is(catalog.HailBreaks, at(5), "")}, "[hail out covers.csv:5]"},
		{"it holds hail", catalog.Band{HailMonths: months}, catalog.Cover{Hail: figure.Is(catalog.HailHolds, at(5), "")}, "[hail stands covers.csv:5]"},
		{"declared to have none", catalog.Band{WindMonths: known(catalog.Months(0)), Gust: gust}, wind(65), "[]"},
		{"nobody gave months", catalog.Band{Gust: gust}, wind(65), "[]"},
	} {
		var got []string
		for _, e := range Exposures(&x.band, &x.cover) {
			got = append(got, fmt.Sprintf("%s %s %s:%d", e.By, e.Asks, e.At.File, e.At.Line))
		}
		if fmt.Sprint(got) != x.want {
			t.Errorf("%s: %v, want %s", x.what, got, x.want)
		}
	}
}

// Months that rule a cover out move its dates, by hand from plainYears. Pepper under
// tunnel and fabric is set out on 31 March and safe to 31 October; in open ground from
// 8 June and to 31 August. A month in between pushes the start behind it, at the latest
// to open ground's own; in fall the end before it. The tunnel outside bears the weather
// for the fabric under it.
func TestExposureMovesDates(t *testing.T) {
	day := func(b Bound) string {
		if b.State != Dated {
			return fmt.Sprint(b.State)
		}
		x := quantity.North.MonthDay(b.Slot)
		return fmt.Sprintf("%d-%d", x.Day, x.Month)
	}
	dates := func(months []int, limit float64, snow bool, layers string) (from, to string, why bool) {
		c := place(44, nil)
		c.Band.WindMonths, c.Band.Gust = known(catalog.MonthSet(months...)), known(90.0)
		tables := shed(pepper())
		for i := range tables.Covers {
			switch {
			case snow:
				c.Band.SnowMonths, c.Band.WindMonths = c.Band.WindMonths, figure.Of[catalog.Months]{}
				tables.Covers[i].Snow = known(catalog.SnowSweep)
			case tables.Covers[i].ID == "tunnel":
				tables.Covers[i].WindLimit = known(limit)
			}
		}
		p := planned(t, c, tables)
		l := p.Layers[slices.IndexFunc(p.Layers, func(l LayerPlan) bool { return l.Layers == layers })]
		w, _ := l.Find(careful, SetOut)
		safe, _ := l.Find(careful, LastSafeDay)
		return day(w.From), day(safe.To), slices.ContainsFunc(w.Reasons, func(r Reason) bool { return r.Kind == ReasonWeather && r.Of == "tunnel" })
	}
	for _, x := range []struct {
		what     string
		months   []int
		limit    float64
		layers   string
		from, to string
		why      bool
	}{
		{"no such month", nil, 80, "tunnel+fabric", "31-3", "31-10", false},
		{"a tunnel that bears it", []int{4, 5, 9, 10}, 90, "tunnel+fabric", "31-3", "31-10", false},
		{"months outside of its use", []int{1, 7}, 80, "tunnel+fabric", "31-3", "31-10", false},
		{"April", []int{4}, 80, "tunnel+fabric", "1-5", "31-10", true},
		{"May", []int{5}, 80, "tunnel+fabric", "1-6", "31-10", true},
		{"June, to the end", []int{6}, 80, "tunnel+fabric", "8-6", "31-10", true},
		{"October", []int{10}, 80, "tunnel+fabric", "31-3", "30-9", false},
		{"September", []int{9}, 80, "tunnel+fabric", "31-3", "31-8", false},
		{"spring and fall", []int{4, 10}, 80, "tunnel+fabric", "1-5", "30-9", true},
		{"fabric alone says nothing of wind", []int{4, 5, 9, 10}, 80, "fabric", "30-5", "9-9", false},
	} {
		from, to, why := dates(x.months, x.limit, false, x.layers)
		if from != x.from || to != x.to || why != x.why {
			t.Errorf("%s: %s to %s, reason %v; want %s to %s, %v", x.what, from, to, why, x.from, x.to, x.why)
		}
	}
	if from, to, _ := dates([]int{4, 10}, 80, true, "tunnel+fabric"); from != "31-3" || to != "31-10" {
		t.Errorf("swept of snow, it stays in use: %s to %s", from, to)
	}
}
