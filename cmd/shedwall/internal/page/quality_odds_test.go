package page

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// chartOf is a chart of a page by its id.
func chartOf(p *Page, id string) (Chart, bool) {
	for _, b := range p.Blocks {
		if c, ok := b.(Chart); ok && c.ID == id {
			return c, true
		}
	}
	return Chart{}, false
}

func tableOf(t *testing.T, p *Page, id string) Table {
	t.Helper()
	for _, b := range p.Blocks {
		if x, ok := b.(Table); ok && x.ID == id {
			return x
		}
	}
	t.Fatalf("%s has no table %s", p.Path, id)
	return Table{}
}

func cellText(c []Inline) string {
	var b strings.Builder
	for _, in := range c {
		b.WriteString(in.Text)
	}
	return b.String()
}

// The quality page tells how the odds would have fared: chart and table say the same, and
// both what the back-test counted, from twenty years of the thirty.
func TestTriedOdds(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	p := pageAt(t, Build(in), QualityPath)
	tried := in.Region.BackTest(in.Tables.Bands)
	if tried.Train != 20 || tried.First != 2015 {
		t.Fatalf("from %d years, first %d", tried.Train, tried.First)
	}
	text := pageText(p)
	for _, words := range []string{"for every year from 2015 to 2024. Each time we took only the 20 years before it", "not long enough to do so with 30 years"} {
		if !strings.Contains(text, words) {
			t.Errorf("%q is not said", words)
		}
	}
	chart, ok := chartOf(p, "tried-chart")
	if !ok {
		t.Fatal("no chart")
	}
	row := 0
	for _, e := range []record.Event{record.Last, record.First} {
		for _, limit := range band.TriedLimits {
			careful, a := band.Find(tried.Stations, e, limit, quantity.Careful, band.Printed)
			half, b := band.Find(tried.Stations, e, limit, quantity.Half, band.Printed)
			if !a && !b {
				continue
			}
			middle := row*cellDays + cellDays/2
			for k, s := range []band.Score{careful, half} {
				if y := chart.Lines[k].Y[middle]; s.Tried > 0 && y != 100*s.Passed {
					t.Errorf("%v %.1f C, line %d: drawn at %.1f, counted %.1f", e, float64(limit), k, y, 100*s.Passed)
				}
			}
			if s := half; s.Tried > 0 {
				want := fmt.Sprintf("%.0f%%, give or take %.0f", 100*s.Passed, math.Ceil(100*s.Error))
				if got := cellText(chart.Twin.Rows[row][4]); got != want {
					t.Errorf("%v %.1f C: table says %q, want %q", e, float64(limit), got, want)
				}
			}
			row++
		}
	}
	if row != len(chart.Twin.Rows) || chart.Days != row*cellDays || row != len(chart.Months) {
		t.Errorf("%d cells, %d rows, %d days", row, len(chart.Twin.Rows), chart.Days)
	}
	if bands := tableOf(t, p, "tried-bands"); len(bands.Rows) != 3 {
		t.Errorf("%d bands tried, want 3", len(bands.Rows))
	}
}

// Both ways stand beside each other, and a guide of plain years says that it is one.
func TestPresentAndPlain(t *testing.T) {
	in := input(t, tables(), quantity.South, nil)
	p := pageAt(t, Build(in), QualityPath)
	dates := tableOf(t, p, "present")
	without, with := in.Bands[0].Climate.DateBothWays(record.Last, quantity.Half, band.Gate{Limit: 0})
	b := &builder{Input: in, words: in.Book}
	if a, z := cellText(dates.Rows[0][4]), cellText(dates.Rows[0][5]); a != b.answer(with) || z != b.answer(without) || len(dates.Rows) != 6 {
		t.Errorf("half-and-half with %s, without %s; want %s, %s", a, z, b.answer(with), b.answer(without))
	}
	if head := tableOf(t, p, "trends").Head; head[1] != "September to November" || head[2] != "March to May" {
		t.Errorf("in the south spring is %s, fall %s", head[1], head[2])
	}
	const off = "it is switched off"
	if strings.Contains(pageText(p), off) {
		t.Error("nobody switched it off")
	}
	in.Region.UsePlainYears()
	if !strings.Contains(pageText(pageAt(t, Build(in), QualityPath)), off) {
		t.Error("plain years are not told")
	}
}

// A crop page says how often the whole careful season is struck.
func TestRiskOnCropPages(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	text := pageText(pageAt(t, Build(in), CropPath("tomato")))
	b := &builder{Input: in, words: in.Book}
	for _, x := range in.Bands {
		for _, p := range x.Plans {
			if r := p.Layers[0].Risk; p.Crop.ID == "tomato" && r.Known {
				if want := "at one end or the other in " + b.risk(r) + "."; !strings.Contains(text, want) {
					t.Errorf("%s: %q is not said", x.Climate.Band.ID, want)
				}
			}
		}
	}
	if !strings.Contains(text, "at one end or the other in") {
		t.Error("no band's risk is said")
	}
}
