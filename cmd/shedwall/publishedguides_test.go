package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shedwall/content"
	"shedwall/data"
	"shedwall/templates"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/publish"
	"shedwall/cmd/shedwall/internal/quantity"
)

// guideCrops says which of our crops a published guide means, where its word is not
// our id.
var guideCrops = map[string]string{
	"snap bean": "bean_snap", "green bean": "bean_snap", "pole bean": "bean_snap", "lima bean": "bean_lima",
	"sweet corn": "corn_sweet", "sweet corn, early": "corn_sweet",
	"summer squash": "squash_summer", "winter squash": "squash_winter", "squash": "squash_summer", "cantaloupe": "melon", "muskmelon": "melon",
	"leaf lettuce": "lettuce_leaf", "lettuce": "lettuce_leaf", "head lettuce": "lettuce_head", "swiss chard": "chard",
	"onion sets": "onion_set", "onion": "onion_bulb", "onion, dry, seed": "onion_bulb", "onion, green": "onion_green",
}

// guideRow is one planting window of a published guide, counted in the open.
type guideRow struct {
	place, last, first, crop string
	action                   plan.Action
	from                     quantity.Slot
}

// publishedRows are the spring windows of places that print both average freeze dates:
// at most twenty of a place, with a first day, a half month or weeks from the last freeze.
func publishedRows(t *testing.T) []guideRow {
	rows := readRows(t, proof.ReferenceFile(t, "windows.csv"))
	column := map[string]int{}
	for i, h := range rows[0] {
		column[h] = i
	}
	count := map[string]int{}
	var out []guideRow
	for _, r := range rows[1:] {
		get := func(name string) string { return r[column[name]] }
		action := map[string]plan.Action{"sow outside": plan.SowOutside, "set out": plan.SetOut}[get("action")]
		row := guideRow{place: get("guide_id"), last: get("avg_last_freeze"), first: get("avg_first_freeze"), action: action}
		row.crop = strings.ToLower(get("crop"))
		if id, ok := guideCrops[row.crop]; ok {
			row.crop = id
		}
		row.crop = strings.ReplaceAll(row.crop, " ", "_")
		switch {
		case row.last == "" || row.first == "" || action == "" || get("under_cover") != "none" || get("season") == "fall",
			!slices.Contains([]string{"day", "week offset", "half-month"}, get("precision")), count[row.place] == 20:
			continue
		case len(get("from")) == len("04-15"):
			row.from = slotOf(t, get("from"))
		case strings.Contains(get("offset_anchor"), "last") && get("offset_from_weeks") != "":
			weeks, err := strconv.ParseFloat(get("offset_from_weeks"), 64)
			if err != nil {
				t.Fatal(err)
			}
			row.from = slotOf(t, row.last) + quantity.Slot(math.Round(7*weeks))
		default:
			continue
		}
		count[row.place]++
		out = append(out, row)
	}
	return out
}

// soilOf is the least soil of a crop, 0 where not known.
func soilOf(c *catalog.Crop) quantity.Celsius {
	t, _ := c.SoilMin.Get()
	return t
}

// slotOf is the slot of a date "MM-DD".
func slotOf(t *testing.T, s string) quantity.Slot {
	var md quantity.MonthDay
	if _, err := fmt.Sscanf(s, "%d-%d", &md.Month, &md.Day); err != nil {
		t.Fatalf("date %q: %v", s, err)
	}
	return quantity.North.SlotOf(md)
}

// twoDates is a guide of one station at 500 m with nothing but its two average dates.
func twoDates(t *testing.T, last, first string) *publish.Guide {
	dir := t.TempDir()
	month := [...]string{"", "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}
	word := func(s string) string {
		md := quantity.North.MonthDay(slotOf(t, s))
		return fmt.Sprintf("%d %s", md.Day, month[md.Month])
	}
	for name, text := range map[string]string{
		"guide.csv":    "setting,value\ntitle,T\npublisher,P\ncontact,a@example.org\nedition,1\nedition_date,2026-01-01\nlanguage,en\n",
		"stations.csv": "station,name,elevation_m\ns,S,500\n",
		"bands.csv":    "band,name,low_m,high_m,position\nb,B,499,501,slope\n",
		"freeze.csv":   fmt.Sprintf("station,event,below_c,odds_percent,date\ns,last,0,50,%s\ns,first,0,50,%s\n", word(last), word(first)),
	} {
		if err := os.MkdirAll(filepath.Join(dir, "data"), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "data", name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	g, err := publish.Load(os.DirFS(dir), folders{"data": data.FS, "content": content.FS, "templates": templates.FS})
	if err != nil || g.Faults.HasErrors() {
		t.Fatal(err, g.Faults.Sorted())
	}
	return g
}

// Half-and-half starts against published regional guides (extension services and clubs
// of eight places; sources beside the table), each made from its two average freeze dates
// alone. Guides print one date that growers live with, counted from the average freeze:
// that is the half-and-half one; the careful one must be later. The bounds are wide
// because a guide sows by habit, in half months and for a whole state: half of all rows
// within 10 days, nine in ten within 21. Where we miss by more: melons and winter squash
// wait for warm soil, which two dates know nothing of; early maize and lettuce are sown
// into frost that their class figure does not stand; cabbages are set out hardened. Rows
// that frost does not hold at all, so that soil alone would, are listed and not scored.
func TestAgainstPublishedGuides(t *testing.T) {
	guides := map[string]*publish.Guide{}
	crops := map[string]bool{}
	var off []float64
	for _, r := range publishedRows(t) {
		g := guides[r.place]
		if g == nil {
			g = twoDates(t, r.last, r.first)
			guides[r.place] = g
		}
		crop, ok := g.Crop(r.crop)
		if !ok {
			continue
		}
		climate, _ := g.Climate("b")
		p := g.Planner.Crop(climate, crop, nil)
		half, a := p.Layers[0].Find(quantity.Half, r.action)
		careful, b := p.Layers[0].Find(quantity.Careful, r.action)
		if !a || !b || half.From.State != plan.Dated || careful.From.State != plan.Dated {
			if a && half.From.State == plan.Open {
				t.Logf("%-8s %-16s %-11s only soil decides: not scored", r.place, r.crop, r.action)
			}
			continue // a start that our table does not have, or a season too short by two dates
		}
		d := float64(half.From.Slot - r.from)
		off = append(off, math.Abs(d))
		crops[r.crop] = true
		date := func(s quantity.Slot) string { return quantity.North.MonthDay(s).String() }
		t.Logf("%-8s %-16s %-11s guide %s, half %s (%+3.0f), careful %s", r.place, r.crop, r.action, date(r.from), date(half.From.Slot), d, date(careful.From.Slot))
		if careful.From.Slot < half.From.Slot {
			t.Errorf("%s, %s: careful before half", r.place, r.crop)
		}
		switch {
		case d < -21 && crop.SoilMin.Known():
			t.Logf("  missed: the guide waits for soil (ours needs %.1f C) or sows by habit; two dates know no soil", float64(soilOf(crop)))
		case d < -21:
			t.Logf("  missed: the guide is later than frost asks, by habit or for soil that no source of ours gives")
		case d > 21:
			t.Logf("  missed: the guide starts it before its damage figure allows, into frost that hardened plants stand or that it covers")
		}
	}
	slices.Sort(off)
	median, nine := off[len(off)/2], off[len(off)*9/10]
	t.Logf("%d rows of %d places, %d crops: half within %.0f days, nine in ten within %.0f", len(off), len(guides), len(crops), median, nine)
	if len(guides) < 6 || len(crops) < 20 {
		t.Errorf("only %d places and %d crops", len(guides), len(crops))
	}
	if median > 10 || nine > 21 {
		t.Errorf("half within %.0f days, nine in ten within %.0f; want 10 and 21", median, nine)
	}
}
