package intake

import (
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/diag"
)

// Months in every way that people write them; blank is not known and none is declared.
// 60 mph = 96.56064 km/h, by hand.
func TestBandMonths(t *testing.T) {
	tables := loadClean(t, map[string]string{"data/bands.csv": `band,low_m,high_m,hail_months,windy_months,snow_months,wind_mph
a,100,200,4-6,"Nov - Feb, 5",none,60
b,200,300,4 5 6,noviembre a feb,,
c,300,400,apr;jun,all,"March, Sept. and set",unknown
`})
	want := [][3][]int{
		{{4, 5, 6}, {1, 2, 5, 11, 12}, nil},
		{{4, 5, 6}, {1, 2, 11, 12}, nil},
		{{4, 6}, {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, {3, 9}},
	}
	for i, b := range tables.Bands {
		hail, _ := b.HailMonths.Get()
		wind, _ := b.WindMonths.Get()
		snow, _ := b.SnowMonths.Get()
		for j, m := range []catalog.Months{hail, wind, snow} {
			if !slices.Equal(m.List(), want[i][j]) {
				t.Errorf("%s %d: %v, want %v", b.ID, j, m.List(), want[i][j])
			}
		}
	}
	if !tables.Bands[0].SnowMonths.Known() || tables.Bands[1].SnowMonths.Known() {
		t.Error("none is declared, a blank is not known")
	}
	if g, ok := tables.Bands[0].Gust.Get(); !ok || g < 96.5606 || g > 96.5607 {
		t.Errorf("gust %v", g)
	}
	if tables.Bands[1].Gust.Known() || tables.Bands[2].Gust.Known() {
		t.Error("a gust that nobody gave")
	}
}

// A word that is no month takes the whole cell away: half a set would read as calm.
func TestMonthsUnreadable(t *testing.T) {
	for _, cell := range []string{"spring", "3-13", "0", "Ap-Jun", "4-June-8", "06-Apr-2026"} {
		tables, faults := load(t, map[string]string{"data/bands.csv": "band,low_m,high_m,windy_months\na,100,200," + cell + "\n"})
		if !slices.ContainsFunc(faults, func(f diag.Fault) bool {
			return f.ID == "months-unreadable" && f.At.Line == 2 && f.At.Heading == "windy_months"
		}) {
			t.Errorf("%q: %v", cell, faults)
		}
		if tables != nil && len(tables.Bands) == 1 && tables.Bands[0].WindMonths.Known() {
			t.Errorf("%q is known", cell)
		}
	}
}

// What weather asks of a cover, and its price with the currency of the guide.
func TestCoverWeatherAndPrice(t *testing.T) {
	tables := loadClean(t, map[string]string{"data/covers.csv": "cover,snow,hail,wind_kmh,price,source\ntunnel,take down,breaks,70,21.50,bulletin\n"})
	i := slices.IndexFunc(tables.Covers, func(c catalog.Cover) bool { return c.ID == "tunnel" })
	c := tables.Covers[i]
	snow, _ := c.Snow.Get()
	hail, _ := c.Hail.Get()
	price, _ := c.Price.Get()
	wind, _ := c.WindLimit.Get()
	if snow != catalog.SnowTakeDown || hail != catalog.HailBreaks || price != 21.5 || wind != 70 {
		t.Errorf("read as %v %v %v %v", snow, hail, price, wind)
	}
	if f := tables.Covers[0]; f.Snow.Known() || f.Price.Known() {
		t.Error("blank is not known")
	}
}
