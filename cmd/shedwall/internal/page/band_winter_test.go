package page

import (
	"fmt"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
)

// A band's page says for each limit known, the coldest first, in how many winters the air
// stays above it, as the pages of the crops do; crops that fare alike share a row. A
// guide without such a limit has no table.
func TestBandWinter(t *testing.T) {
	in := tables()
	for i := range in.Crops {
		in.Crops[i].WinterKill = known(quantity.Celsius(-4))
	}
	in.Crops[0].WinterKill = known(quantity.Celsius(-30))
	in.Crops[1].WinterKill = known(quantity.Celsius(-4.5)) // fares as those of -4 C
	g := Build(input(t, in, quantity.North, nil))
	table := func(path string) (rows [][]string) {
		for _, b := range pageAt(t, g, path).Blocks {
			x, ok := b.(Table)
			if !ok || x.ID != "winter-table" {
				continue
			}
			for _, r := range x.Rows {
				var cells []string
				for _, c := range r {
					text := ""
					for _, in := range c {
						text += in.Text
					}
					cells = append(cells, text)
				}
				rows = append(rows, cells)
			}
		}
		return rows
	}
	band := table("bands/slopes/index")
	if len(band) != 2 || band[0][1] != in.Crops[0].Name || len(in.Crops) > 2 && strings.Count(band[1][1], " · ") != len(in.Crops)-2 {
		t.Fatalf("rows %q", band)
	}
	for k, crop := range []string{in.Crops[0].ID, in.Crops[1].ID} {
		for _, row := range table("crops/" + crop) {
			if row[0] == in.Bands[0].Name && fmt.Sprint(row[1:]) != fmt.Sprint(band[k][2:]) {
				t.Errorf("%s: %q on its page, %q on the band's", crop, row[1:], band[k][2:])
			}
		}
	}
	if !strings.Contains(band[1][0], "to −4") {
		t.Errorf("row of two limits: %q", band[1][0])
	}
	if fmt.Sprint(band[0][2:]) == fmt.Sprint(band[1][2:]) {
		t.Errorf("-30 and -4 C alike: %q", band)
	}
	for i := range in.Crops {
		in.Crops[i].WinterKill.State = 0
	}
	if g = Build(input(t, in, quantity.North, nil)); table("bands/slopes/index") != nil {
		t.Error("a table without limits")
	}
}

// TestWinterOutOfReach: a band too far from every record has no zone, and its page says why,
// where it tells of its zone and where of its winters; so does a crop's.
func TestWinterOutOfReach(t *testing.T) {
	tb := tables()
	for i := range tb.Crops {
		tb.Crops[i].WinterKill = known(quantity.Celsius(-20))
	}
	for i := range tb.Bands {
		tb.Bands[i].Latitude, tb.Bands[i].Longitude = known(46.0), known(-38.0) // over 200 km north
	}
	tb.Bands[0].DeclaredZone = known("6a")
	g := Build(input(t, tb, quantity.North, nil))
	for path, want := range map[string]int{BandPath("slopes"): 2, BandPath("hollow"): 2, CropPath("kale"): 1} {
		text := strings.ReplaceAll(pageText(pageAt(t, g, path)), "\u00a0", " ")
		if got := strings.Count(text, "80 km (50 miles)"); got != want || strings.Contains(text, "By the records this band is in zone") {
			t.Errorf("%s says %d times how far winters are carried, want %d", path, got, want)
		}
	}
	if text := pageText(pageAt(t, g, BandPath("slopes"))); !strings.Contains(text, "6a (declared)") {
		t.Error("the zone that the guide declares is left out")
	}
}
