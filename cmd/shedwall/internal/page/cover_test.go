package page

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// tableAt is the table of a page with an anchor.
func tableAt(p *Page, id string) (Table, bool) {
	for _, x := range p.Blocks {
		if t, ok := x.(Table); ok && t.ID == id {
			return t, true
		}
	}
	return Table{}, false
}

// coverPage is the page of a cover of the invented guide after a change of its tables.
func coverPage(t *testing.T, id string, change func(*catalog.Tables)) (*Page, *Guide) {
	t.Helper()
	tb := tables()
	change(tb)
	g := Build(input(t, tb, quantity.North, nil))
	return pageAt(t, g, "covers/"+id), g
}

func coverOf(tb *catalog.Tables, id string) *catalog.Cover {
	return &tb.Covers[slices.IndexFunc(tb.Covers, func(c catalog.Cover) bool { return c.ID == id })]
}

// A price and years make a price of each extra week: 24 for three years is 8 a year, by
// the weeks that the same row counts. What nobody gave is no column and no 0.
func TestWeekPriceOnPages(t *testing.T) {
	p, _ := coverPage(t, "tunnel", func(tb *catalog.Tables) {
		tb.Guide.Currency = "$"
		c := coverOf(tb, "tunnel")
		c.Price, c.Years = known(24.0), known(3.0)
	})
	buys, ok := tableAt(p, "buys-table")
	if !ok || len(buys.Head) != 6 {
		t.Fatalf("no column of money: %v", buys.Head)
	}
	days := regexp.MustCompile(`^(\d+) days?`)
	priced := 0
	for _, row := range buys.Rows {
		sum := 0
		for _, c := range []int{1, 3} {
			if m := days.FindStringSubmatch(strings.ReplaceAll(textOf(row[c]), "\u00a0", " ")); m != nil {
				n, _ := strconv.Atoi(m[1])
				sum += n
			}
		}
		want := "it buys no days here"
		if sum > 0 {
			want = fmt.Sprintf("$%.2f a week", 8/(float64(sum)/7))
			priced++
		}
		if got := textOf(row[5]); got != want && got != strings.Replace(want, ".00", "", 1) && got != "no days to divide by" {
			t.Errorf("%s: %q for %d days, want %q", textOf(row[0]), got, sum, want)
		}
	}
	if priced == 0 {
		t.Error("no band has a price")
	}
	for name, change := range map[string]func(c *catalog.Cover){
		"no years": func(c *catalog.Cover) { c.Price = known(24.0) },
		"no price": func(c *catalog.Cover) { c.Years = known(3.0) },
	} {
		p, _ := coverPage(t, "tunnel", func(tb *catalog.Tables) {
			c := coverOf(tb, "tunnel")
			c.Price, c.Years = figure.Of[float64]{}, figure.Of[float64]{}
			change(c)
		})
		buys, _ := tableAt(p, "buys-table")
		switch name {
		case "no price":
			if len(buys.Head) != 5 {
				t.Errorf("a column of money without a price: %v", buys.Head)
			}
		default:
			for _, row := range buys.Rows {
				if got := textOf(row[5]); got != "how long it lasts is not known" {
					t.Errorf("%s: %q", textOf(row[0]), got)
				}
			}
		}
	}
}

// A cut list of common beds stands on the page of a cover on hoops and on no other. By
// hand for the raised bed of 4 x 8 ft with hoops 2 ft high: half a circle of 1.915 m and
// two legs of 0.15 m are 2.215 m of hoop, rounded up; the cloth is 1.915 + 0.610 m wide
// and 2.438 + 2 x (0.610 + 0.305) = 4.267 m long.
func TestCutListOnPages(t *testing.T) {
	p, g := coverPage(t, "fabric", func(tb *catalog.Tables) { coverOf(tb, "fabric").Hoops = true })
	cut, ok := tableAt(p, "cut-table")
	if !ok || len(cut.Rows) < 4 {
		t.Fatalf("%d beds", len(cut.Rows))
	}
	want := []string{"1.22 m (4 ft) by 2.44 m (8 ft)", "0.61 m (2 ft)", "3, 1.22 m (4 ft) apart", "2.22 m (7 ft 4 in)", "2.53 m (8 ft 4 in) by 4.27 m (14 ft)", "9", "8"}
	for i, w := range want {
		if got := strings.ReplaceAll(textOf(cut.Rows[0][i]), "\u00a0", " "); got != w {
			t.Errorf("%s: %q, want %q", cut.Head[i], got, w)
		}
	}
	if !strings.Contains(pageText(p), "Crossed hoops, or two hoops beside each other, are the stronger form") {
		t.Error("the stronger form of hoops is not named")
	}
	if _, ok := tableAt(pageAt(t, g, "covers/sheet"), "cut-table"); ok {
		t.Error("a sheet without hoops has a cut list")
	}
}

// Where months of wind rule a cover out, its page, its days and the band's page say so.
func TestWeatherOnPages(t *testing.T) {
	p, g := coverPage(t, "tunnel", func(tb *catalog.Tables) {
		coverOf(tb, "tunnel").WindLimit = known(65.0)
		for i := range tb.Bands {
			tb.Bands[i].WindMonths, tb.Bands[i].Gust = known(catalog.MonthRange(1, 11)), known(95.0)
		}
	})
	text := pageText(p)
	for _, want := range []string{"ot counted on in January to November: gusts of 95", "Where weather is named"} {
		if !strings.Contains(strings.ReplaceAll(text, "\u00a0", " "), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	buys, _ := tableAt(p, "buys-table")
	for _, row := range buys.Rows {
		for _, cell := range row[1:] {
			if got := textOf(cell); strings.Contains(got, "day") && !strings.HasPrefix(got, "no days") {
				t.Errorf("%s: %q under a tunnel that wind rules out till December", textOf(row[0]), got)
			}
		}
	}
	if band := pageText(pageAt(t, g, "bands/slopes/index")); !strings.Contains(band, "Not counted on in January to November") {
		t.Error("the band's page does not say that the tunnel is ruled out")
	}
}

// Every crop's page sets the layers on offer beside each other in each band: days in
// spring and fall, nights of work, shut-and-open days where a vent temperature is known.
func TestLayersComparedOnCropPages(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	g := Build(in)
	compared, nights, open := 0, 0, 0
	for i := range in.Tables.Crops {
		page := pageAt(t, g, "crops/"+in.Tables.Crops[i].ID)
		var tables []Table
		for _, x := range page.Blocks {
			if tb, ok := x.(Table); ok && len(tb.Head) == 8 {
				tables = append(tables, tb)
			}
		}
		for k := range in.Bands {
			p := in.Bands[k].Plans[slices.IndexFunc(in.Bands[k].Plans, func(p plan.CropPlan) bool { return p.Crop.ID == in.Tables.Crops[i].ID })]
			season := slices.ContainsFunc(p.Layers, func(l plan.LayerPlan) bool { return started(&l, quantity.Careful) || started(&l, quantity.Half) })
			if !season {
				continue
			}
			if len(tables) == 0 {
				t.Errorf("%s has a season in %s and no comparison", p.Crop.ID, in.Tables.Bands[k].ID)
				break
			}
			tb := tables[0]
			tables = tables[1:]
			if len(tb.Rows) != len(p.Layers) {
				t.Errorf("%s in %s: %d rows for %d sets of layers", p.Crop.ID, in.Tables.Bands[k].ID, len(tb.Rows), len(p.Layers))
			}
			compared++
			for r, row := range tb.Rows {
				work := textOf(row[6])
				if strings.Contains(work, "about") {
					nights++
				}
				if strings.Contains(work, "open by noon") {
					open++
				}
				if len(p.Layers[r].Work) > 0 && p.Layers[r].Work[0].Action != plan.LastSafeDay && started(&p.Layers[r], quantity.Careful) && !strings.Contains(work, "about") {
					t.Errorf("%s in %s under %q: %q, though the work was counted", p.Crop.ID, in.Tables.Bands[k].ID, p.Layers[r].Layers, work)
				}
			}
		}
	}
	if compared == 0 || nights == 0 || open == 0 {
		t.Errorf("%d comparisons, %d with nights of work, %d with days to open", compared, nights, open)
	}
}

// The band's page says in one sentence what the best covers buy, by hand and in a house;
// in a band of frost in any month it counts no days.
func TestBestCovers(t *testing.T) {
	for _, x := range []struct {
		name   string
		tables *catalog.Tables
		says   string
	}{
		{"by hand", tables(), "Of covers put up by hand, a plant that stands no frost gains the most days here from low tunnel over row cover on hoops:"},
		{"and in a house", withHouses(), "from lidded bin: 60 days in spring and 64 days in fall. Of houses, it gains most from high tunnel: "},
	} {
		in := input(t, x.tables, quantity.North, nil)
		b := NewBuilder(in).b
		m := b.planned(b.made[0], in.Bands[0].Plans)
		best := b.bestCovers(m)
		if len(best) != 1 {
			t.Fatalf("%s: %d blocks", x.name, len(best))
		}
		p := best[0].(Para)
		if len(p.Text) != 1 || !strings.Contains(strings.ReplaceAll(p.Text[0].Text, "\u00a0", " "), x.says) || strings.Contains(p.Text[0].Text, "{") {
			t.Errorf("%s: %v", x.name, p.Text)
		}
	}
}

// Cautions go by what a thing is: heat under film, walk-in houses, stored water, lamps.
func TestCautionsByKind(t *testing.T) {
	tb := tables()
	film := catalog.Structure{Cover: catalog.Cover{ID: "house", Kind: catalog.Film, Weight: catalog.HandWork + 1}, Water: known(200.0), HeatW: known(100.0), Heat: catalog.FilamentLamps}
	tb.Structures = []catalog.Structure{film}
	b := NewBuilder(input(t, tb, quantity.North, nil)).b
	for _, x := range []struct {
		cover catalog.Cover
		want  string
	}{
		{film.Cover, "all house film house structure water lamps"},
		{catalog.Cover{ID: "frame", Kind: catalog.Glass, Weight: 11}, "all frame glass"},
		{catalog.Cover{ID: "cloth", Kind: catalog.Fabric, Weight: 1}, "all cloth"},
	} {
		if got := strings.Join(b.hazardsOf(&x.cover), " "); got != x.want {
			t.Errorf("%s: %q, want %q", x.cover.ID, got, x.want)
		}
	}
}

// Where it may freeze in any month the sentence counts no days: it names what makes a
// season at all, by hand and in a house, or that nothing does.
func TestBestCoversOfAnyMonth(t *testing.T) {
	for _, x := range []struct {
		name  string
		wind  bool // all year, which no light cover bears
		house quantity.Kelvins
		says  string
	}{
		{"by hand and in a house", false, 6, "the lightest cover put up by hand that makes a season is row cover on hoops: from "},
		{"in a house alone", true, 6, "no cover put up by hand makes a season; the lightest house that does is high tunnel: from "},
		{"nothing known", true, -1, "none of these covers makes a season for a plant that stands no frost"},
	} {
		tb := withHouses()
		tb.Structures, tb.Covers = nil, tb.Covers[:2]
		tb.Covers[1].Gain.Low = known(x.house)
		if x.wind {
			tb.Covers[0].WindLimit = known(20.0)
			tb.Bands[0].WindMonths, tb.Bands[0].Gust = known(catalog.MonthRange(1, 12)), known(40.0)
			tb.Covers[1].WindLimit = known(60.0)
			if x.house < 0 {
				tb.Covers[1].WindLimit = known(20.0)
			}
		}
		in := input(t, tb, quantity.North, nil)
		b := NewBuilder(in).b
		m := b.planned(b.made[0], in.Bands[0].Plans)
		m.careful[record.Last].State = band.AnyMonth
		got := strings.ReplaceAll(b.bestCovers(m)[0].(Para).Text[0].Text, "\u00a0", " ")
		if !strings.HasPrefix(got, "It may freeze here in any month.") || !strings.Contains(got, x.says) || strings.Contains(got, "days") || strings.Contains(got, "{") {
			t.Errorf("%s: %q", x.name, got)
		}
	}
}

// Beside what was measured of two covers stands what the single ones come to, by hand
// from the invented guide: -1 + 1 and 2 + 2.2 K for 3 to 5 measured.
func TestMeasuredBesideSum(t *testing.T) {
	p, _ := coverPage(t, "fabric", func(*catalog.Tables) {})
	text := strings.ReplaceAll(pageText(p), "\u00a0", " ")
	if want := "3–5 °C (5–9 °F), from readings of both. Worked out from the single covers it would be 0–4.2 °C (0–7 °F). Measured once."; !strings.Contains(text, want) {
		t.Errorf("the page does not say %q", want)
	}
}
