package page

import (
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// openGround is kale with the starts of open ground changed.
func openGround(t *testing.T, in Input, change func(w *plan.Window)) plan.CropPlan {
	t.Helper()
	i := slices.IndexFunc(in.Bands[0].Plans, func(p plan.CropPlan) bool { return p.Crop.ID == "kale" })
	p := in.Bands[0].Plans[i]
	p.Layers = slices.Clone(p.Layers)
	p.Layers[0].Careful = slices.Clone(p.Layers[0].Careful)
	for i := range p.Layers[0].Careful {
		change(&p.Layers[0].Careful[i])
	}
	return p
}

// TestOpenGroundNotKnown: where open ground has no dates because nobody knows them, no place
// says "only under" covers; where it has no season, every one does.
func TestOpenGroundNotKnown(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	b := &builder{Input: in, words: in.Book, planner: plan.NewPlanner(in.Tables), covers: cover.NewBook(in.Tables)}
	for _, x := range []struct {
		state plan.BoundState
		known bool
	}{{plan.Never, true}, {plan.NotKnown, false}} {
		p := openGround(t, in, func(w *plan.Window) { w.From, w.To = plan.Bound{State: x.state}, plan.Bound{State: x.state} })
		m := b.planned(b.outline(in.Bands[0].Climate), []plan.CropPlan{p})
		w := Wall{Tables: in.Tables, Book: in.Book, Climate: in.Bands[0].Climate, Plans: []plan.CropPlan{p}}
		r, _ := w.row(p)
		table := b.cropCovers(cropIn{m, &p}).(Table)
		last := table.Rows[len(table.Rows)-1]
		said := map[string]string{"type": r.Dates, "sentence": r.Sentence, "calendar": b.coverHint(m, &p), "list": textOf(b.onlyCovered(m)[0].(Para).Text),
			"gained in spring": textOf(last[3]), "gained in fall": textOf(last[5])}
		for where, text := range said {
			text = strings.ToLower(text)
			only, unknown := strings.Contains(text, "only under"), strings.Contains(text, "open ground") && strings.Contains(text, "not known")
			if only != x.known || unknown == x.known {
				t.Errorf("open ground known %v, %s: %q", x.known, where, text)
			}
		}
		want := "no season"
		if !x.known {
			want = "not known"
		}
		if got := textOf(table.Rows[0][3]); got != want {
			t.Errorf("open ground's own row says %q, want %q", got, want)
		}
		p.Layers = p.Layers[:1]
		if got := b.coverHint(m, &p); got == "no season even under covers" != x.known {
			t.Errorf("nothing but open ground, known %v: %q", x.known, got)
		}
	}
}

// TestNightsWithoutARecord: where a start is earlier, or only possible, with covers on and no
// record tells of nights, the nights are not known; none are told where no day is gained.
func TestNightsWithoutARecord(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	started := openGround(t, in, func(*plan.Window) {}).Layers[0]
	averages := &record.Freeze{Typed: true, Rows: []record.FreezeRow{{Event: record.Last, Odds: 0.5, Date: quantity.MonthDay{Month: 5, Day: 24}}}}
	without := band.RegionOf(in.Tables.Stations, band.Weather{Tables: map[string]*record.Freeze{"mill": averages}}, 0, 0, quantity.North)
	const none, unknown = "none: no day is gained", "not known: no daily record to count nights in"
	counted := []plan.Work{{Action: plan.SetOut, Prudent: plan.Nights{Middling: 3, Bad: 5}}}
	for _, x := range []struct {
		region *band.Region
		gain   int
		open   plan.LayerPlan
		work   []plan.Work
		want   string
	}{
		{without, 0, started, nil, none},
		{without, 5, started, nil, unknown},
		{without, 0, plan.LayerPlan{}, nil, unknown},
		{in.Region, 0, started, nil, none},
		{in.Region, 0, plan.LayerPlan{}, nil, none}, // counted, and a start no earlier than open ground's too late one
		{in.Region, 5, started, counted, "about 3, in a bad year 5"},
	} {
		in := in
		in.Region = x.region
		b := &builder{Input: in, words: in.Book}
		l := plan.LayerPlan{Layers: "tunnel", SpringGain: x.gain, Work: x.work}
		if got := b.work(&l, &x.open); got != x.want {
			t.Errorf("%d days gained, records %d, open ground %v: %q, want %q", x.gain, x.region.Basis().Records, len(x.open.Careful) > 0, got, x.want)
		}
	}
}

// A last day on the June sheet that may be later says so.
func TestFallEndNotKnown(t *testing.T) {
	in := input(t, tables(), quantity.North, nil)
	b := &builder{Input: in, words: in.Book, planner: plan.NewPlanner(in.Tables), covers: cover.NewBook(in.Tables)}
	for _, least := range []bool{false, true} {
		p := openGround(t, in, func(w *plan.Window) {
			if w.Action == plan.Harvest {
				w.To = plan.Bound{State: plan.Dated, Slot: 450, AtLeast: least, Gate: plan.Frost}
			}
		})
		r := fallRow{crop: "Kale"}
		r.take(p.Crop, &p.Layers[0], false)
		want := b.words.Date(b.date(450))
		if least {
			want = "at least " + want + ", end not known"
		}
		if got := b.fallCell(r, 3, b.words.Date, "", "none"); got != want {
			t.Errorf("at least %t: %q, want %q", least, got, want)
		}
	}
}
