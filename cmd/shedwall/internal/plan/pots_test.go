package plan

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
)

func potShed(pots ...catalog.Pot) *catalog.Tables {
	t := shed(bean())
	t.Pots = pots
	return t
}

func dates(b [2]Bound) [2]string {
	var out [2]string
	for k, x := range b {
		switch x.State {
		case Dated:
			out[k] = quantity.North.MonthDay(x.Slot).String()
		case Open:
			out[k] = "open"
		case Never:
			out[k] = "never"
		}
	}
	return out
}

// By hand from plainYears: the first night at 0 C is 10 September at careful odds and 20
// September in half the years, the last 30 and 20 May; at 5 C 1 September and 8 June for
// both. A plant is in on the evening before.
func TestPotDates(t *testing.T) {
	c := place(45, nil)
	p := NewPlanner(potShed(
		catalog.Pot{ID: "zero", BringIn: known(quantity.Celsius(0)), Never: known(quantity.Celsius(-2))},
		catalog.Pot{ID: "lemon", Never: known(quantity.Celsius(5)), Kill: known(quantity.Celsius(-1.5))},
		catalog.Pot{ID: "tree", Damage: known(quantity.Celsius(-6.7))},
		catalog.Pot{ID: "tropical", BringIn: known(quantity.Celsius(11))},
		catalog.Pot{ID: "tuber", Kind: catalog.Lifted, Kill: known(quantity.Celsius(0))},
	))
	for i, want := range []struct {
		in, out [2]string
		outside quantity.Celsius
		inside  quantity.Celsius
		missing int
	}{
		{[2]string{"09-09", "09-19"}, [2]string{"05-30", "05-20"}, 0, -2, 0},
		{[2]string{"08-31", "08-31"}, [2]string{"06-08", "06-08"}, 5, 5, 1},
		// Nobody knows what a tree in a pot stands: frost stands in for a limit of trees in the ground.
		{[2]string{"09-09", "09-19"}, [2]string{"05-30", "05-20"}, 0, 0, 2},
		// Every night of the year may be as cold as 11 C.
		{[2]string{"never", "never"}, [2]string{"never", "never"}, 11, 0, 1},
		// Lifted before the ground freezes on 11 November (TestFallPlanting); out after the last frost.
		{[2]string{"11-10", "11-10"}, [2]string{"05-30", "05-20"}, 0, 0, 2},
	} {
		got := p.Pots(c)[i]
		if in, out := dates(got.BringIn), dates(got.PutOut); in != want.in || out != want.out {
			t.Errorf("%s: in %v out %v, by hand %v %v", got.Pot.ID, in, out, want.in, want.out)
		}
		if got.Outside != want.outside || got.Inside != want.inside || len(got.Missing) != want.missing {
			t.Errorf("%s: outside %v, inside %v, missing %v; want %v, %v, %d", got.Pot.ID, got.Outside, got.Inside, got.Missing, want.outside, want.inside, want.missing)
		}
	}
}

// By hand: inside it is half as cold as outside, so -4 C inside is -8 C outside.
func TestColdestNightHeld(t *testing.T) {
	k := keeper{}
	for _, night := range coldNights {
		k.inside = append(k.inside, float64(night)/2)
	}
	for _, x := range []struct{ limit, want quantity.Celsius }{
		{-4, -8}, {0, 0}, {-2.5, -5}, {5, 10},
		{9, 10},    // warmer than it gets on the mildest night worked out
		{-30, -45}, // colder than it gets on the coldest
	} {
		if got := k.holds(x.limit); got < x.want-1e-9 || got > x.want+1e-9 {
			t.Errorf("%v inside holds to %v, by hand %v", x.limit, got, x.want)
		}
	}
}

// The winters of plainYears all have -5 C as their lowest night. A cover that is 3 K
// warmer in winter keeps a plant above -3 C in all of them and above -1 C in none; one
// whose gain in winter nobody knows says nothing and is not among the places.
func TestPlacesByHand(t *testing.T) {
	tables := potShed(
		catalog.Pot{ID: "hard", Never: known(quantity.Celsius(-3))},
		catalog.Pot{ID: "soft", Never: known(quantity.Celsius(-1))},
	)
	fleece := catalog.Cover{ID: "fleece", Kind: catalog.Fabric, Gain: gain(1, 2, 3), Winter: gain(3, 4, 5), Offered: true}
	unknown := catalog.Cover{ID: "unknown", Kind: catalog.Film, Gain: gain(1, 2, 3), Offered: true}
	tables.Covers = []catalog.Cover{fleece, unknown}
	got := NewPlanner(tables).Pots(place(45, nil))
	for i, share := range []float64{1, 0} {
		if len(got[i].Keeps) != 1 || got[i].Keeps[0].Place != "fleece" {
			t.Fatalf("places %+v", got[i].Keeps)
		}
		if o := got[i].Keeps[0].Odds; !o.Known || o.Share != share {
			t.Errorf("%s: %+v, by hand %v of winters", got[i].Pot.ID, o, share)
		}
	}
}

// A shed with a heater holds more winters than the same one without, and frost more of
// them than 5 C; a structure too low for pots is no place.
func TestHeatedPlace(t *testing.T) {
	shedOf := func(id string, watts float64, height float64) catalog.Structure {
		return catalog.Structure{
			Cover:  catalog.Cover{ID: id, LightPercent: known(75.0), Offered: true},
			Length: known(3.0), Width: known(2.0), Height: known(height), Floor: catalog.DryFloor,
			Glazing: known(2.0), GlazingU: known(3.0), Walls: known(26.0), WallsU: known(0.4), Changes: known(0.6),
			HeatW: known(watts), Thermostat: known(quantity.Celsius(3)),
		}
	}
	tables := potShed(catalog.Pot{ID: "frost", Never: known(quantity.Celsius(0))}, catalog.Pot{ID: "warm", Never: known(quantity.Celsius(5))})
	tables.Structures = []catalog.Structure{shedOf("cold", 0, 1.2), shedOf("heated", 750, 2.2), shedOf("low", 750, 1.1)}
	for i := range tables.Structures {
		tables.Covers = append(tables.Covers, tables.Structures[i].Cover)
	}
	c := sixStations().Climate(slopeBand(500, 500))
	got := NewPlanner(tables).Pots(c)
	if len(got[0].Keeps) != 2 {
		t.Fatalf("places %+v", got[0].Keeps)
	}
	cold, heated, warm := got[0].Keeps[0].Odds, got[0].Keeps[1].Odds, got[1].Keeps[1].Odds
	if !cold.Known || heated.Share <= cold.Share || heated.Share < 0.9 {
		t.Errorf("above 0 C: %v unheated, %v heated", cold, heated)
	}
	if warm.Share > heated.Share {
		t.Errorf("above 5 C in %v of winters, above 0 C in %v", warm.Share, heated.Share)
	}
}

// In never later in a colder band, out never earlier; careful never later than half in
// fall nor earlier in spring.
func TestPotProperties(t *testing.T) {
	tables := potShed()
	for i := -4; i <= 10; i += 2 {
		tables.Pots = append(tables.Pots, catalog.Pot{ID: string(rune('m' + i)), BringIn: known(quantity.Celsius(i))})
	}
	late, early := lateOf, earlyOf
	p := NewPlanner(tables)
	var before []PotPlan
	for k := 0; k < 4; k++ {
		z := 300 + 200*float64(k)
		now := p.Pots(sixStations().Climate(slopeBand(z, z)))
		for i, x := range now {
			if late(x.BringIn[0]) > late(x.BringIn[1]) || early(x.PutOut[0]) < early(x.PutOut[1]) {
				t.Errorf("%v at %v m: careful in %v out %v, half in %v out %v", x.Outside, z, x.BringIn[0], x.PutOut[0], x.BringIn[1], x.PutOut[1])
			}
			for o := range 2 {
				if k > 0 && (late(x.BringIn[o]) > late(before[i].BringIn[o]) || early(x.PutOut[o]) < early(before[i].PutOut[o])) {
					t.Errorf("%v: %v m comes in later or goes out earlier than 200 m lower", x.Outside, z)
				}
			}
		}
		before = now
	}
}

// lateOf and earlyOf order bounds of fall and spring: never before all, open after all.
func lateOf(b Bound) float64 {
	return map[BoundState]float64{Never: -1, Open: 1e6, Dated: float64(b.Slot)}[b.State]
}

func earlyOf(b Bound) float64 {
	return map[BoundState]float64{Open: -1, Never: 1e6, Dated: float64(b.Slot)}[b.State]
}

// A place is worked out for no colder nights than plants ask for, and holds what it would
// hold if it were worked out for all: a cold house, one kept at 4 C as far as its heater
// goes, one that is never cold.
func TestInsideOn(t *testing.T) {
	for name, lowest := range map[string]func(quantity.Celsius) quantity.Celsius{
		"cold":   func(t quantity.Celsius) quantity.Celsius { return t + 3 },
		"heated": func(t quantity.Celsius) quantity.Celsius { return max(t+15, min(4, t+30)) },
		"warm":   func(quantity.Celsius) quantity.Celsius { return 20 },
	} {
		all := keeper{}
		for _, night := range coldNights {
			all.inside = append(all.inside, float64(lowest(night)))
		}
		for _, least := range []quantity.Celsius{-8, 0, 5} {
			asked := 0
			some := keeper{inside: insideOn(least, func(t quantity.Celsius) quantity.Celsius { asked++; return lowest(t) })}
			for limit := least; limit < 15; limit += 0.5 {
				if got, want := some.holds(limit), all.holds(limit); got != want {
					t.Errorf("%s, least %v: holds %v down to %v, worked out for all nights %v", name, least, limit, got, want)
				}
			}
			if name == "cold" && asked > 7 {
				t.Errorf("%s, least %v: worked out for %d nights", name, least, asked)
			}
		}
	}
}
