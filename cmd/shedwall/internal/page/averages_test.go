package page

import (
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// averagesInput is the invented guide with two typed average dates at each station in place
// of its record.
func averagesInput(t testing.TB) Input {
	t.Helper()
	in := input(t, tables(), quantity.North, nil)
	for i := range in.Tables.Crops {
		in.Tables.Crops[i].WinterKill = known(quantity.Celsius(-20))
	}
	w := band.Weather{Tables: map[string]*record.Freeze{}}
	for _, s := range in.Tables.Stations {
		w.Tables[s.ID] = &record.Freeze{Typed: true, Rows: []record.FreezeRow{
			{Event: record.Last, Odds: 0.5, Date: quantity.MonthDay{Month: 5, Day: 24}}, {Event: record.First, Odds: 0.5, Date: quantity.MonthDay{Month: 9, Day: 22}},
		}}
	}
	in.Region, in.Bands = band.RegionOf(in.Tables.Stations, w, 0, 0, quantity.North), nil
	planner := plan.NewPlanner(in.Tables)
	for i := range in.Tables.Bands {
		c := in.Region.Climate(&in.Tables.Bands[i])
		in.Bands = append(in.Bands, BandInput{c, planner.Band(c)})
	}
	return in
}

// TestGuideOfAverages: what pages say of years on record is not said where there are none,
// and no column or table is left of which every cell is not known.
func TestGuideOfAverages(t *testing.T) {
	records := input(t, tables(), quantity.North, nil)
	for i := range records.Tables.Crops {
		records.Tables.Crops[i].WinterKill = known(quantity.Celsius(-20))
	}
	for _, x := range []struct {
		in       Input
		averages bool
	}{{averagesInput(t), true}, {records, false}} {
		g := Build(x.in)
		said := map[string]string{"band": pageText(pageAt(t, g, BandPath("slopes"))), "index": pageText(pageAt(t, g, IndexPath)), "words": pageText(pageAt(t, g, WordsPath)), "crop": pageText(pageAt(t, g, CropPath("kale")))}
		for _, s := range []struct {
			page, text string
			ofAverages bool
		}{
			{"band", "counted within each year", false}, {"band", "the days between the two dates of half the years", true},
			{"index", "counted within each year", false}, {"index", "Days without frost are the days between the two dates", true},
			{"words", "counted one by one", false}, {"words", "published or typed freeze dates", true},
			{"band", "Careful dates rest on an assumed spread", true}, {"band", "How many years stand behind each date is not known", true},
			{"band", "How often winters get colder is not known", true}, {"crop", "How often winters get colder is not known", true},
		} {
			if got := strings.Contains(said[s.page], s.text); got != (s.ofAverages == x.averages) {
				t.Errorf("averages %v, %s page: %q is %v", x.averages, s.page, s.text, got)
			}
		}
		for _, p := range []*Page{pageAt(t, g, BandPath("slopes")), pageAt(t, g, CropPath("kale"))} {
			for _, block := range p.Blocks {
				table, ok := block.(Table)
				if !ok || x.averages != slices.Contains([]string{"odds-table", "winter-table"}, table.ID) {
					continue
				}
				for c := 1; x.averages && c < len(table.Head); c++ {
					if !slices.ContainsFunc(table.Rows, func(row [][]Inline) bool { return textOf(row[c]) != "not known" }) {
						t.Errorf("%s, table %s: nothing but not known in column %q", p.Path, table.ID, table.Head[c])
					}
				}
			}
		}
		w := Wall{Tables: x.in.Tables, Book: x.in.Book, Climate: x.in.Bands[0].Climate, Plans: x.in.Bands[0].Plans}
		if got := strings.Contains(strings.Join(w.lead(), " "), ", careful dates "); got != x.averages {
			t.Errorf("averages %v: the lead of the sheet %q", x.averages, w.lead())
		}
	}
}

// TestHeldNamesWhatDecides: the days that leave no start, and what nobody measures for what
// is planted in fall.
func TestHeldNamesWhatDecides(t *testing.T) {
	in := averagesInput(t)
	b := &builder{Input: in, words: in.Book}
	m := b.outline(in.Bands[0].Climate)
	c := in.Tables.Crops[2] // tomato: 60 to 85 days from setting out
	w := plan.Window{Action: plan.SetOut, From: plan.Bound{State: plan.Dated, Slot: 340}, To: plan.Bound{State: plan.Never, Slot: 330, Gate: plan.Maturity}}
	if got := b.held(cropIn{m, &plan.CropPlan{Crop: &c}}, w, "setting out"); !strings.Contains(got, "need 85 days") || !strings.Contains(got, "quick kinds of 60 days may fit") {
		t.Errorf("ten days short of the slow kinds: %q", got)
	}
	w.To.Slot = 300
	if got := b.held(cropIn{m, &plan.CropPlan{Crop: &c}}, w, "setting out"); !strings.Contains(got, "need 85 days, its quick ones 60") || strings.Contains(got, "may fit") {
		t.Errorf("forty days short: %q", got)
	}
	c.Start, c.Season = catalog.Planted, catalog.FallPlanted
	if got := b.held(cropIn{m, &plan.CropPlan{Crop: &c}}, plan.Window{Action: plan.SowOutside}, "planting"); !strings.Contains(got, "how warm days are") {
		t.Errorf("planted in fall without a station of days: %q", got)
	}
}

// TestExampleHasADate: the worked example of a worksheet lands on a date; where those of so
// cold a garden are not known it takes a milder one, and there is none where none is known.
func TestExampleHasADate(t *testing.T) {
	in := averagesInput(t)
	b := &builder{Input: in, words: in.Book, planner: plan.NewPlanner(in.Tables)}
	m := b.outline(in.Bands[0].Climate)
	for _, scale := range []plan.Degrees{plan.InCelsius, plan.InFahrenheit} {
		for unknown := range shifts[scale] {
			dates := datesOf{names: []string{"last freeze"}}
			for i := range shifts[scale] {
				day := b.words.DateShort(quantity.MonthDay{Month: 6, Day: 20 - i})
				if i < unknown {
					day = "not known"
				}
				dates.dates = append(dates.dates, []string{day})
			}
			m.hand.garden = gardenDates{scale: scale, usual: make([]usualMonth, 8), spring: dates}
			m.hand.garden.usual[1].month = 4
			got := b.worked(m)
			colder := slices.Index(shifts[scale], 0) - 1 // the mildest of the colder gardens
			if strings.Contains(got, "not known") || (got != "") != (unknown <= colder) {
				t.Errorf("dates known from column %d on: %q", unknown, got)
			}
		}
	}
}
