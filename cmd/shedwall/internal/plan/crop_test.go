package plan

import (
	"fmt"
	"reflect"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

const careful, half = quantity.Careful, quantity.Half

// All dates by hand from plainYears.
func TestSowOutside(t *testing.T) {
	c := place(44, nil)
	p := planned(t, c, shed(bean()))
	// Up 10 days after sowing, no earlier than 30 May (20 May): sown from 20 May (10 May).
	// Last safe day the eve of 10 (20) September, less 60 days.
	check(t, p, "", careful, SowOutside, "05-20 frost, 07-11 maturity")
	check(t, p, "", half, SowOutside, "05-10 frost, 07-21 maturity")
	check(t, p, "", careful, LastSafeDay, "09-09 frost, 09-09 frost")
	check(t, p, "", half, LastSafeDay, "09-19 frost, 09-19 frost")
	check(t, p, "", careful, Harvest, "07-09 growth, 09-09 frost") // 20 May + 50
	// Under the tunnel the nights of -1 C do no harm: soil of 15 C decides; and in fall the
	// night of 1 November.
	check(t, p, "tunnel", careful, SowOutside, "05-08 soil, 09-01 maturity")
	check(t, p, "tunnel", careful, LastSafeDay, "10-31 frost, 10-31 frost")

	// With 14 days to come up frost lets sow from 6 May at half odds: the soil is later.
	slow := planned(t, c, shed(with(bean(), func(c *catalog.Crop) { c.EmergeDays = known(14) })))
	check(t, slow, "", careful, SowOutside, "05-16 frost, 07-11 maturity")
	check(t, slow, "", half, SowOutside, "05-08 soil, 07-21 maturity")

	// Without days to come up, sown as if up at once.
	blind := planned(t, c, shed(with(bean(), func(c *catalog.Crop) { c.EmergeDays = figure.Of[int]{} })))
	check(t, blind, "", careful, SowOutside, "05-30 frost, 07-11 maturity")

	// Planted like a seed.
	sets := planned(t, c, shed(with(bean(), func(c *catalog.Crop) { c.Start = catalog.Planted })))
	check(t, sets, "", careful, SowOutside, "05-20 frost, 07-11 maturity")
}

// A germination table against the mean soil: by hand, 18 C in May and June give 1/9 of
// the way a day where 16 C takes 10 days and 20 C takes 90/11 (rates 0.1 and 0.1222,
// halfway 0.1111): nine days. Sown 21 May, up on 30 May.
func TestEmergenceFromTheTable(t *testing.T) {
	tables := shed(with(bean(), func(c *catalog.Crop) { c.Germination, c.EmergeDays = "bean", known(30) }))
	tables.Germination = []catalog.Germination{{ID: "bean", Points: []catalog.GerminationPoint{
		{Soil: 6}, {Soil: 16, Days: known(10.0)}, {Soil: 20, Days: known(90.0 / 11)},
	}}}
	p := planned(t, place(44, nil), tables)
	check(t, p, "", careful, SowOutside, "05-21 frost, 07-11 maturity")
	w, _ := p.Layers[0].Find(careful, SowOutside)
	last := w.Reasons[0]
	for _, r := range w.Reasons {
		if r.Kind == ReasonEmerge {
			last = r
		}
	}
	if last.Kind != ReasonEmerge || last.Number != 9 || last.Of != "bean" {
		t.Errorf("days to come up: %+v, want 9", last)
	}

	// Seed that no soil of the year is warm enough for is never up, so never sown: none
	// came up at 24 C.
	tables.Germination[0].Points = []catalog.GerminationPoint{{Soil: 24}, {Soil: 25, Days: known(5.0)}}
	p = planned(t, place(44, nil), tables)
	check(t, p, "", careful, SowOutside, "never, never")
	check(t, p, "", careful, Harvest, "never, never")

	// Where nothing but frost holds it back, seed that would lie from fall to spring is
	// still sown from the beginning of spring only: frost ends on 31 March.
	hardy := with(bean(), func(c *catalog.Crop) {
		c.Germination, c.YoungDamage, c.SoilMin = "bean", known(quantity.Celsius(-3)), figure.NotKnown[quantity.Celsius](figure.Cell{})
	})
	tables = shed(hardy)
	tables.Germination = []catalog.Germination{{ID: "bean", Points: []catalog.GerminationPoint{{Soil: 4, Days: known(20.0)}, {Soil: 20, Days: known(8.0)}}}}
	p = planned(t, place(44, nil), tables)
	check(t, p, "", half, SowOutside, "02-01 frost, 07-21 maturity")
}

func TestSetOut(t *testing.T) {
	p := planned(t, place(44, nil), shed(tomato()))
	check(t, p, "", careful, SetOut, "05-30 frost, 06-21 maturity")     // 9 September less 80
	check(t, p, "", careful, SowInside, "04-04 raising, 05-10 raising") // 30 May less 8 weeks, 21 June less 6
	check(t, p, "", careful, Harvest, "08-08 growth, 09-09 frost")      // 30 May + 70
	// Under the tunnel the cold weeks decide: 9 C - 2 K = 7 C until 3 May.
	check(t, p, "tunnel", careful, SetOut, "05-03 chill, 08-12 maturity")     // 31 October less 80
	check(t, p, "tunnel", careful, SowInside, "03-08 raising, 07-01 raising") // 12 August less 6 weeks
	if _, ok := p.Layers[0].Find(careful, SowOutside); ok {
		t.Error("a crop raised inside is not sown outside")
	}
	var order []Action
	for _, w := range p.Layers[0].Careful {
		order = append(order, w.Action)
	}
	if want := []Action{SowInside, SetOut, Harvest, LastSafeDay}; !reflect.DeepEqual(order, want) {
		t.Errorf("actions %v, want %v", order, want)
	}

	either := planned(t, place(44, nil), shed(with(tomato(), func(c *catalog.Crop) {
		c.Start, c.SoilMin, c.EmergeDays = catalog.Either, known(quantity.Celsius(15)), known(10)
	})))
	check(t, either, "", careful, SowOutside, "05-20 frost, never") // 80 days from setting out are up to 136 from sowing: by 26 April
	check(t, either, "", careful, SetOut, "05-30 frost, 06-21 maturity")
	check(t, either, "", careful, Harvest, "08-08 growth, 09-09 frost")
}

// A leaf is colder than the air: at -3 C on the plant, 4 K on one night in ten is 1 C in
// the air (8 June), 2 K on half of them is -1 C (20 May).
func TestPlantLimits(t *testing.T) {
	p := planned(t, place(44, nil), shed(with(tomato(), func(c *catalog.Crop) {
		c.Basis, c.Chill, c.YoungDamage = catalog.Plant, figure.Of[quantity.Celsius]{}, known(quantity.Celsius(-3))
	})))
	for odds, want := range map[quantity.Odds]string{careful: "06-08", half: "05-20"} {
		w, _ := p.Layers[0].Find(odds, SetOut)
		if got := quantity.North.MonthDay(w.From.Slot).String(); got != want {
			t.Errorf("%.1f: %s, want %s", odds, got, want)
		}
	}
}

// What short days stop: at 56 N ten hours of day end before the covered harvest would.
func TestShortDays(t *testing.T) {
	p := planned(t, place(56, nil), shed(bean()))
	w, _ := p.Layers[0].Find(careful, SowOutside)
	if w.To.Gate != Maturity {
		t.Errorf("open ground ends with %s, want frost long before the short days", w.To.Gate)
	}
	for _, l := range p.Layers {
		if l.Layers != "tunnel" {
			continue
		}
		w, _ := l.Find(careful, SowOutside)
		md := quantity.North.MonthDay(w.To.Slot + 60) // the last day of ten hours
		if w.To.Gate != Light || md.Month != 10 || md.Day < 18 || md.Day > 24 {
			t.Errorf("until %s, 60 days before %v; want light, before about 21 October", says(w), md)
		}
	}
}

// Days to harvest counted from the other start: a plant set out is ahead by the
// fewest weeks inside, one sown outside is behind by as many as a plant may be old.
func TestSpans(t *testing.T) {
	from := func(setOut bool) catalog.Crop {
		return with(tomato(), func(c *catalog.Crop) { c.DaysFromSetOut = setOut })
	}
	for _, x := range []struct {
		name      string
		s         span
		low, high int
	}{
		{"from setting out, set out", fromSetOut(ptr(from(true))), 70, 80},
		{"from setting out, sown: + 6 and 8 weeks", fromSowing(ptr(from(true))), 112, 136},
		{"from sowing, sown", fromSowing(ptr(from(false))), 70, 80},
		{"from sowing, set out: - half of 6 weeks", fromSetOut(ptr(from(false))), 49, 59},
	} {
		if !x.s.known || x.s.low != x.low || x.s.high != x.high || x.s.why[0].Number != float64(x.high) {
			t.Errorf("%s: %+v, want %d to %d", x.name, x.s, x.low, x.high)
		}
	}
	none := with(tomato(), func(c *catalog.Crop) { c.WeeksInsideLow = figure.Of[float64]{} })
	if fromSowing(&none).known || !fromSetOut(&none).known {
		t.Error("weeks are only needed to carry days over")
	}
	quick := with(from(false), func(c *catalog.Crop) { c.DaysLow, c.DaysHigh = known(10), known(20) })
	if s := fromSetOut(&quick); s.low != 1 || s.high != 1 {
		t.Errorf("at least a day from setting out: %+v", s)
	}
}

func ptr[T any](v T) *T { return &v }

func TestSeasonTooShort(t *testing.T) {
	p := planned(t, place(44, nil), shed(with(tomato(), func(c *catalog.Crop) { c.DaysLow, c.DaysHigh = known(150), known(180) })))
	w, _ := p.Layers[0].Find(careful, SetOut)
	if w.To.State != Never || w.Exists() {
		t.Errorf("%+v: want no such date", w)
	}
	check(t, p, "", careful, SowInside, "never, never")
	check(t, p, "", careful, Harvest, "never, never")
	check(t, p, "tunnel", careful, SetOut, "05-03 chill, 05-04 maturity") // 31 October less 180
	if got := spans(p, ""); len(got) != 0 {
		t.Errorf("covers of nothing: %v", got)
	}
}

// A hollow with a night of -1 C every July: no date on open ground at any odds, and
// under the tunnel one that holds only while it is on all summer.
func TestFrostInAnyMonth(t *testing.T) {
	hollow := place(44, func(d *record.Daily) {
		for y := 1990; y < 2022; y++ {
			i := quantity.DayOf(y, 7, 25) - d.Start
			d.Max[i] += d.Min[i] + 100
			d.Min[i] = -100
		}
	})
	p := planned(t, hollow, shed(bean()))
	for _, odds := range []quantity.Odds{careful, half} {
		for _, a := range []Action{SowOutside, Harvest, LastSafeDay} {
			check(t, p, "", odds, a, "never, never")
		}
	}
	check(t, p, "tunnel", careful, SowOutside, "05-08 soil, 09-01 maturity")
	want := []string{"tunnel 0 last 05-11 to 10-31"} // at hand a week before it is up on 18 May; one line over the end of the season year
	if got := spans(p, "tunnel"); !reflect.DeepEqual(got, want) {
		t.Errorf("on %v, want %v", got, want)
	}
}

func TestFiguresNotKnown(t *testing.T) {
	none := figure.Of[quantity.Celsius]{}
	bare := with(bean(), func(c *catalog.Crop) { c.YoungDamage, c.GrownDamage, c.SoilMin = none, none, none })
	p := planned(t, place(44, nil), shed(bare))
	check(t, p, "", careful, SowOutside, "not known, not known")
	check(t, p, "", careful, Harvest, "not known, not known")
	check(t, p, "tunnel", half, LastSafeDay, "not known, not known")
	if want := []string{"young_damage_c:", "grown_damage_c:", "soil_min_c:"}; !reflect.DeepEqual(missing(p), want) || p.Group != 'D' {
		t.Errorf("left out %v, group %c", missing(p), p.Group)
	}
	days := planned(t, place(44, nil), shed(with(bean(), func(c *catalog.Crop) { c.DaysHigh = figure.Of[int]{} })))
	check(t, days, "", careful, SowOutside, "05-20 frost, not known")
	check(t, days, "", careful, Harvest, "not known, not known")
}

// A class figure stands in for a crop's own, is never used where the crop's own is
// declared unknown, and never makes a date earlier than the crop's kill allows. Kill
// makes no date otherwise.
func TestClassAndKill(t *testing.T) {
	c := place(44, nil)
	class := []catalog.Class{{ID: "tender", YoungDamage: byClass(-3), GrownDamage: byClass(-3), SoilMin: byClass(7)}}
	by := func(change func(c *catalog.Crop)) CropPlan {
		crop := with(bean(), func(c *catalog.Crop) {
			c.Class, c.YoungDamage, c.SoilMin = "tender", figure.Of[quantity.Celsius]{}, figure.Of[quantity.Celsius]{}
			c.GrownDamage = known(quantity.Celsius(-3))
			change(c)
		})
		tables := shed(crop)
		tables.Classes = class
		return planned(t, c, tables)
	}
	p := by(func(*catalog.Crop) {})
	check(t, p, "", careful, SowOutside, "04-10 soil, 09-01 maturity") // frost of -3 C ends on 31 March; soil of 7 C
	if want := []string{"young_damage_c:class", "soil_min_c:class"}; !reflect.DeepEqual(missing(p), want) {
		t.Errorf("left out %v, want %v", missing(p), want)
	}
	w, _ := p.Layers[0].Find(careful, SowOutside)
	if w.Reasons[0].By != figure.ByClass || w.Reasons[0].Of != "tender" {
		t.Errorf("reason %+v does not name the class", w.Reasons[0])
	}
	// Killed at -0.5 C it cannot be unharmed at -3 C.
	p = by(func(c *catalog.Crop) { c.YoungKill = known(quantity.Celsius(-0.5)) })
	check(t, p, "", careful, SowOutside, "05-20 frost, 09-01 maturity")
	// A kill figure colder than the class's damage does not make the date earlier.
	p = by(func(c *catalog.Crop) { c.YoungKill = known(quantity.Celsius(-9)) })
	check(t, p, "", careful, SowOutside, "04-10 soil, 09-01 maturity")
	p = by(func(c *catalog.Crop) { c.YoungDamage = figure.NotKnown[quantity.Celsius](figure.Cell{}) })
	check(t, p, "", careful, SowOutside, "not known, not known")

	for _, kill := range []quantity.Celsius{-30, 10} {
		crop := with(bean(), func(c *catalog.Crop) {
			c.YoungKill, c.GrownKill = known(kill), known(kill)
		})
		a, b := planned(t, c, shed(crop)), planned(t, c, shed(bean()))
		for i := range a.Layers {
			if fmt.Sprint(a.Layers[i]) != fmt.Sprint(b.Layers[i]) {
				t.Errorf("killed at %.0f C changes the windows under %q", float64(kill), a.Layers[i].Layers)
			}
		}
	}
}

func TestGroups(t *testing.T) {
	for grown, want := range map[quantity.Celsius]byte{-10: 'A', -4.4: 'A', -4.3: 'B', -2.2: 'B', -2.1: 'C', -0.5: 'C', -0.4: 'D', 2: 'D'} {
		if got := groupOf(limits{grown: known(grown)}); got != want {
			t.Errorf("harmed at %.1f C: group %c, want %c", float64(grown), got, want)
		}
	}
	if got := groupOf(limits{}); got != 'D' {
		t.Errorf("not known: group %c, want D", got)
	}
}
