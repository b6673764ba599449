package plan

import (
	"reflect"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// pepper is tomato that a night of 2 C harms.
func pepper() catalog.Crop {
	return with(tomato(), func(c *catalog.Crop) {
		c.ID, c.YoungDamage, c.GrownDamage, c.Chill = "pepper", known(quantity.Celsius(2)), known(quantity.Celsius(2)), figure.Of[quantity.Celsius]{}
	})
}

// All by hand from plainYears; each span ends on the evening before the first night
// that the layers under it hold, and begins on the evening before the first they do not.
func TestCoverSpans(t *testing.T) {
	hut := with(tomato(), func(c *catalog.Crop) { c.YoungDamage = known(quantity.Celsius(-4)) })
	for _, x := range []struct {
		name   string
		crop   catalog.Crop
		layers string
		want   []string
	}{
		// Set out 3 May against cold weeks; without the tunnel on 30 May. Fall: -1 C of 10
		// September to -5 C of 1 November.
		{"one layer", tomato(), "tunnel", []string{"tunnel 0 last 05-03 to 05-29", "tunnel 0 first 09-09 to 10-31"}},
		// Sown 8 May when the soil is warm, up ten days later: at hand a week before, 11 May.
		{"sown outside", bean(), "tunnel", []string{"tunnel 0 last 05-11 to 05-29", "tunnel 0 first 09-09 to 10-31"}},
		// Harmed at 2 C: bare until 8 June; fabric of 1.5 K holds 1 C, not -1 C: until 30 May;
		// tunnel and fabric of 4 K hold all but the winter: set out 31 March. In fall fabric
		// before 1 September, the tunnel over it before 10 September.
		{"two layers, the outermost off first and on last", pepper(), "tunnel+fabric", []string{
			"tunnel 1 last 03-31 to 05-29", "tunnel 1 first 09-09 to 10-31",
			"fabric 0 last 03-31 to 06-07", "fabric 0 first 08-31 to 10-31",
		}},
		// No frost harms it after 31 March, but weeks of 9 C check it until 5 May.
		{"on against cold weeks alone", hut, "tunnel", []string{"tunnel 0 last 05-03 to 05-04", "tunnel 0 first 09-09 to 10-31"}},
		{"colder inside on some nights: never needed, since never counted on", tomato(), "hut", nil},
		{"open ground", tomato(), "", nil},
	} {
		if got := spans(planned(t, place(44, nil), shed(x.crop)), x.layers); !reflect.DeepEqual(got, x.want) {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
		}
	}
}

// A crop that stands all winter under covers: nothing holds it back in spring nor ends
// it in fall, so the tunnel is on through the half of the year that has winter in it.
func TestCoversThroughTheWinter(t *testing.T) {
	hardy := with(tomato(), func(c *catalog.Crop) {
		c.YoungDamage, c.GrownDamage, c.Chill = known(quantity.Celsius(-4)), known(quantity.Celsius(-4)), figure.Of[quantity.Celsius]{}
	})
	p := planned(t, place(44, nil), shed(hardy))
	check(t, p, "", careful, LastSafeDay, "10-31 frost, 10-31 frost")
	check(t, p, "tunnel", careful, LastSafeDay, "open, open")
	check(t, p, "tunnel", careful, SetOut, "open, 08-18 light")   // 6 November, the last day of ten hours at 44 N, less 80
	check(t, p, "tunnel", careful, Harvest, "04-11 growth, open") // 1 February + 70 slots, 29 of them in February
	want := []string{"tunnel 0 last 02-01 to 03-30", "tunnel 0 first 10-31 to 01-31"}
	if got := spans(p, "tunnel"); !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// What layers buy at careful odds, by hand: 30 May to 3 May and 9 September to 31
// October for the tunnel; nothing for a cover that is colder inside on some nights.
func TestBought(t *testing.T) {
	p := planned(t, place(44, nil), shed(tomato()))
	for _, l := range p.Layers[1:] {
		spring, fall := 27, 52
		switch l.Layers {
		case "hut":
			spring, fall = 0, 0
		case "fabric": // 9 - 1.5 = 7.5 C of a week until 3 May (6.4; 7.6 on the 4th); -1.5 C on no night before 1 November
			spring, fall = 27, 52
		case "tunnel+fabric": // 9 - 4 = 5 C until 1 May (3 + 8/7 = 4.1; 5.3 on the 2nd)
			spring, fall = 29, 52
		}
		if !l.GainKnown || l.SpringGain != spring || l.FallGain != fall {
			t.Errorf("%s buys %d days in spring, %d in fall (%v); want %d, %d", l.Layers, l.SpringGain, l.FallGain, l.GainKnown, spring, fall)
		}
	}
	var layers []string
	for _, l := range p.Layers {
		layers = append(layers, l.Layers)
	}
	if want := []string{"", "fabric", "tunnel", "tunnel+fabric", "hut"}; !reflect.DeepEqual(layers, want) {
		t.Errorf("layers %q, want %q", layers, want)
	}
	// Half-and-half dates use the typical gain, where the hut does help.
	check(t, p, "hut", careful, SetOut, "05-30 frost, 06-21 maturity")
	check(t, p, "hut", half, SetOut, "05-03 chill, 08-12 maturity") // 9 - 2.5 = 6.5 C of a week until 3 May (6.4)
}

// Where open ground has no careful start (it freezes in any month) but a tunnel has, only
// the fall's gain could be known: what is not known is not 0 days.
func TestGainOfOneEnd(t *testing.T) {
	dated := func(a Action, from, to Bound) []Window {
		return []Window{{Action: a, Odds: careful, From: from, To: to}, {Action: LastSafeDay, Odds: careful, From: Bound{State: Dated, Slot: 420}, To: Bound{State: Dated, Slot: 420}}}
	}
	open := LayerPlan{Careful: dated(SetOut, Bound{State: Never}, Bound{State: Never})}
	covered := LayerPlan{Careful: dated(SetOut, Bound{State: Dated, Slot: 300}, Bound{State: Dated, Slot: 350})}
	covered.Careful[1].To.Slot = 432
	bought(&open, &covered)
	if covered.SpringKnown || !covered.FallKnown || !covered.GainKnown || covered.FallGain != 12 {
		t.Errorf("%+v", covered)
	}
}
