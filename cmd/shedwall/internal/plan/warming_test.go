package plan

import (
	"reflect"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

// filmed is the shed with a tunnel that warms the soil by 3 K and is opened at 10 C.
func filmed(c catalog.Crop) *catalog.Tables {
	t := shed(c)
	t.Covers[0].SoilGain, t.Covers[0].Vent = known(quantity.Kelvins(3)), known(quantity.Celsius(10))
	return t
}

// By hand: in soil that film warms by 3 K a bean is sown on 5 May (TestSoilUnderFilm), so
// the film lies there from 24 April, eleven days before; the last night that harms it comes
// by 30 May. Cloth warms nothing: under it the bean is sown on 8 May, is up on 18 May, and the
// cloth is on from a week before that. Where frost harms it no more, film is off when the seed
// is up, on 15 May: open ground is as warm from 8 May on.
func TestFilmLiesThereBefore(t *testing.T) {
	hardy := with(bean(), func(c *catalog.Crop) {
		c.YoungDamage, c.GrownDamage = known(quantity.Celsius(-4)), known(quantity.Celsius(-4))
	})
	for _, x := range []struct {
		crop   catalog.Crop
		layers string
		want   []string
	}{
		{bean(), "tunnel", []string{"tunnel 0 last 04-24 to 05-29", "tunnel 0 first 09-09 to 10-31"}},
		{bean(), "fabric", []string{"fabric 0 last 05-11 to 05-29", "fabric 0 first 09-09 to 10-31"}},
		{hardy, "tunnel", []string{"tunnel 0 last 04-24 to 05-14", "tunnel 0 first 10-31 to 01-31"}},
		{hardy, "tunnel+fabric", []string{"tunnel 1 last 04-24 to 05-14", "fabric 0 first 10-31 to 01-31"}},
	} {
		p := planned(t, place(44, nil), filmed(x.crop))
		if got := spans(p, x.layers); !reflect.DeepEqual(got, x.want) {
			t.Errorf("%s: %q, want %q", x.layers, got, x.want)
		}
		for _, l := range p.Layers {
			for _, s := range l.Covers {
				if s.Warms != (s.Cover == "tunnel" && s.From < 300) {
					t.Errorf("%s: %+v", l.Layers, s)
				}
			}
		}
	}
}

// The price of that start by hand: 26 nights on end, 24 April to 19 May, on every day after
// which it is 13 C or warmer; then until the seed of open ground is up on 30 May one night
// more, that of 29 May, in 4 years of 30.
func TestFilmIsCounted(t *testing.T) {
	p := planned(t, place(44, nil), filmed(bean()))
	slot := func(m, d int) quantity.Slot { return quantity.North.SlotOf(quantity.MonthDay{Month: m, Day: d}) }
	want := Work{Action: SowOutside, From: slot(4, 24), To: slot(5, 29), Needed: Nights{26, 27}, Prudent: Nights{26, 27}, ShutAndOpen: Nights{26, 27}, VentKnown: true, Warming: 26}
	for _, l := range p.Layers {
		if l.Layers == "tunnel" && l.Work[0] != want {
			t.Errorf("%+v, want %+v", l.Work[0], want)
		}
		if l.Layers == "fabric" && l.Work[0].Warming != 0 {
			t.Errorf("cloth warms the soil: %+v", l.Work[0])
		}
	}
}

// Film goes on as its own piece of work, on 24 April.
func TestFilmIsATask(t *testing.T) {
	c, tables := place(44, nil), filmed(bean())
	p := planned(t, c, tables)
	for i, l := range p.Layers {
		if l.Layers != "tunnel" {
			continue
		}
		list := Tasks(tables, c, []Chosen{{Plan: &p, Layers: p.Layers[i]}}, nil)
		on := quantity.North.SlotOf(quantity.MonthDay{Month: 4, Day: 24})
		if !hasTask(list, func(k Task) bool { return k.Kind == TaskWarmOn && k.From == on && k.Cover == "tunnel" }) {
			t.Errorf("no film on 24 April: %+v", list)
		}
		if !hasTask(list, func(k Task) bool { return k.Kind == TaskVent && k.From == on+1 && k.Cover == "tunnel" }) {
			t.Errorf("not opened by day from 25 April on: %+v", list)
		}
	}
}

// Film that the wind of April rules out cannot lie there eleven days before 12 May: soil of 15
// C, which comes on 8 May, decides.
func TestFilmKeepsOutOfWind(t *testing.T) {
	tables := filmed(bean())
	tables.Covers[0].WindLimit = known(50.0)
	c := place(44, nil)
	c.Band.WindMonths, c.Band.Gust = known(catalog.MonthSet(4)), known(90.0)
	p := planned(t, c, tables)
	check(t, p, "tunnel", careful, SowOutside, "05-08 soil, 09-01 maturity")
	if got, want := spans(p, "tunnel")[0], "tunnel 0 last 05-11 to 05-29"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	c.Band.WindMonths = known(catalog.MonthSet(3))
	check(t, planned(t, c, tables), "tunnel", careful, SowOutside, "05-05 soil, 09-01 maturity")
}

// No cover line where the plant is safe in the open from the same day on. Thirty days after a
// sowing of 8 May, when soil is warm, no frost comes any more, with covers or without. And a
// plant whose flowers stand less than its leaves: up on 2 May it flowers after the last frost,
// 30 May, so it is sown from 22 April in open ground and under a hut that may be no warmer;
// under the tunnel, sown on 10 April when the soil has 7 C, it needs that from 13 April on.
func TestNoCoverThatChangesNothing(t *testing.T) {
	slow := with(bean(), func(c *catalog.Crop) { c.EmergeDays = known(30) })
	p := planned(t, place(44, nil), shed(slow))
	check(t, p, "", careful, SowOutside, "05-08 soil, 07-11 maturity")
	check(t, p, "tunnel", careful, SowOutside, "05-08 soil, 09-01 maturity")
	if got, want := spans(p, "tunnel"), []string{"tunnel 0 first 09-09 to 10-31"}; !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}

	pea := with(bean(), func(c *catalog.Crop) {
		c.YoungDamage, c.SoilMin = known(quantity.Celsius(-4)), known(quantity.Celsius(7))
	})
	p = planned(t, place(44, nil), shed(pea))
	check(t, p, "", careful, SowOutside, "04-22 frost, 07-11 maturity")
	check(t, p, "hut", careful, SowOutside, "04-22 frost, 07-11 maturity")
	check(t, p, "tunnel", careful, SowOutside, "04-10 soil, 09-01 maturity")
	if got := spans(p, "hut"); got != nil {
		t.Errorf("hut: %q", got)
	}
	if got, want := spans(p, "tunnel")[0], "tunnel 0 last 04-13 to 05-29"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// What cold has hardened is picked until a night kills it, at -4 C until 31 October. The
// tunnel, which holds off the harm of September, comes off with its own last safe day; the
// 2 K that it gains in spring are not counted against the winter, though no night has -6 C.
func TestStandsWithoutCovers(t *testing.T) {
	for _, x := range []struct{ kill quantity.Celsius }{{-4}, {-1}} {
		hardened := with(tomato(), func(c *catalog.Crop) { c.WinterKill = known(x.kill) })
		p := planned(t, place(44, nil), shed(hardened))
		check(t, p, "tunnel", careful, LastSafeDay, "10-31 frost, 10-31 frost")
		for _, l := range p.Layers {
			h, _ := l.Find(careful, Harvest)
			safe, _ := l.Find(careful, LastSafeDay)
			if x.kill == -4 && quantity.North.MonthDay(h.To.Slot).String() != "10-31" || x.kill == -1 && h.To.Slot != safe.To.Slot {
				t.Errorf("killed at %v, %q: harvest %s, safe %s", x.kill, l.Layers, says(h), says(safe))
			}
		}
		if got, want := spans(p, "tunnel"), "tunnel 0 first 09-09 to 10-31"; got[len(got)-1] != want {
			t.Errorf("killed at %v: %q, want %s", x.kill, got, want)
		}
	}
}
