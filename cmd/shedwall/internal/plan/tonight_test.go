package plan

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"

	"pgregory.net/rapid"
)

// fourGroups is one invented crop of each group, harmed as grown and as young plants
// at: kale -7 and -4, lettuce -3 and -2, pea -1 and -1, tomato 0 and 0 (C).
func fourGroups() []catalog.Crop {
	crop := func(name string, grown, young quantity.Celsius) catalog.Crop {
		return with(bean(), func(c *catalog.Crop) {
			c.ID, c.Name, c.GrownDamage, c.YoungDamage = name, name, known(grown), known(young)
		})
	}
	return []catalog.Crop{crop("kale", -7, -4), crop("lettuce", -3, -2), crop("pea", -1, -1), crop("tomato", 0, 0)}
}

func tonight(tables *catalog.Tables, d Degrees, most int) Tonight {
	p := NewPlanner(tables)
	var plans []CropPlan
	for i := range tables.Crops {
		c := &tables.Crops[i]
		plans = append(plans, CropPlan{Crop: c, Group: groupOf(limitsOf(c, p.classes[c.Class]))})
	}
	return p.Tonight(nil, plans, d, most)
}

// cardOf prints a card: a row a line, "-" for no cover, "pick" and "?".
func cardOf(t Tonight) string {
	var b strings.Builder
	for _, r := range t.Rows {
		low := fmt.Sprint(r.Low)
		if r.Colder {
			low = "colder"
		}
		b.WriteString(low + ":")
		for _, n := range r.Needs {
			b.WriteString(" " + map[NeedState]string{NeedUnknown: "?", Uncovered: "-", Covered: n.Layers, PickToday: "pick"}[n.State])
		}
		b.WriteString("\n")
	}
	return b.String()
}

// read finds the row for a garden's low as a gardener does: the first from the top
// that is not warmer.
func read(t Tonight, low float64) [4]Need {
	for _, r := range t.Rows {
		if low >= r.Low {
			return r.Needs
		}
	}
	return t.Rows[len(t.Rows)-1].Needs
}

// By hand. Limits (C): A -7, B -3, C -1, D 0. Fabric gains 1.5 K at its
// low end, the tunnel 2, both 4; the hut -1, so that it never holds. Forecast margin 2.
// A garden's low must stay above limit + 2 - gain:
//
//	         A     B     C     D
//	open    -5    -1     1     2
//	fabric  -6.5  -2.5  -0.5   0.5
//	tunnel  -7    -3    -1     0
//	both    -9    -5    -3    -2
//
// and the rows are the next half degree above each of these.
const handCard = `2.5: - - - -
1.5: - - - fabric
1: - - fabric fabric
0.5: - - fabric tunnel
0: - - fabric tunnel+fabric
-0.5: - - tunnel tunnel+fabric
-1.5: - fabric tunnel+fabric tunnel+fabric
-2: - fabric tunnel+fabric pick
-2.5: - tunnel tunnel+fabric pick
-4.5: - tunnel+fabric pick pick
-6: fabric pick pick pick
-6.5: tunnel pick pick pick
-8.5: tunnel+fabric pick pick pick
colder: pick pick pick pick
`

func TestTonightByHand(t *testing.T) {
	card := tonight(shed(fourGroups()...), InCelsius, 20)
	if got := cardOf(card); got != handCard {
		t.Errorf("card\n%swant\n%s", got, handCard)
	}
	for i, want := range []quantity.Celsius{-7, -3, -1, 0} {
		if g := card.Groups[i]; g.Limit != want || !g.Known || len(g.Crops) != 1 || g.By != g.Crops[0] {
			t.Errorf("group %c: %v by %v", g.Group, g.Limit, g.By)
		}
	}
}

// Three made-up evenings, read off the card as by hand above.
func TestThreeEvenings(t *testing.T) {
	card := tonight(shed(fourGroups()...), InCelsius, 20)
	for _, e := range []struct {
		station, garden float64 // forecast low; what the garden differs by
		want            string
	}{
		{5, -2, "- - - -"},                                 // 3: warmer than the first row
		{2.7, -2, "- - fabric tunnel"},                     // 0.7: between 1 and 0.5, so 0.5
		{0, -3, "- tunnel+fabric pick pick"},               // -3: between -2.5 and -4.5, so -4.5
		{-7, -2, "pick pick pick pick"},                    // -9: colder than every row
		{1, 0.5, "- - - fabric"},                           // on the row of 1.5
		{-6.5, 0, "tunnel pick pick pick"},                 // on a row
		{-6.6, 0, "tunnel+fabric pick pick pick"},          // just under it
		{4, -4, "- - fabric tunnel+fabric"},                // 0
		{-1, -0.5, "- fabric tunnel+fabric tunnel+fabric"}, // -1.5
	} {
		got := read(card, e.station+e.garden)
		var words []string
		for _, n := range got {
			words = append(words, map[NeedState]string{Uncovered: "-", Covered: n.Layers, PickToday: "pick"}[n.State])
		}
		if s := strings.Join(words, " "); s != e.want {
			t.Errorf("forecast %g, garden %+g: %s, want %s", e.station, e.garden, s, e.want)
		}
	}
}

// By hand, in Fahrenheit: limits 28 F (kept as -2.2 C) for B and 32 F for D, margin 4 F,
// a cover of 1.5 K = 2.7 F: B stays open above 32, under cover above 29.3; D above 36 and
// 33.3. Rows: 37, 34; 33, 30.
func TestTonightInFahrenheit(t *testing.T) {
	crops := []catalog.Crop{
		with(bean(), func(c *catalog.Crop) {
			c.Name, c.GrownDamage, c.YoungDamage = "beet", known(quantity.Celsius(-2.2)), known(quantity.Celsius(-2.2))
		}),
		with(bean(), func(c *catalog.Crop) { c.Name = "bean" }),
	}
	tables := shed(crops...)
	tables.Covers, tables.Layers = tables.Covers[1:2], nil
	const want = `37: ? - - -
34: ? - - fabric
33: ? - - pick
30: ? fabric fabric pick
colder: ? pick pick pick
`
	// Column C has no crop of its own and takes the limit of B, for young beet.
	if got := cardOf(tonight(tables, InFahrenheit, 20)); got != want {
		t.Errorf("card\n%swant\n%s", got, want)
	}
}

// A limit of 20 F is -6.7 C in a table, 19.94 F: with a margin of 4 F the row of 24 F
// lies 0.06 F above it and must not count as safe. 25 F is the first that does.
func TestTonightRoundsToTheSafeSide(t *testing.T) {
	tables := shed(with(bean(), func(c *catalog.Crop) {
		c.GrownDamage, c.YoungDamage = known(quantity.Celsius(-6.7)), known(quantity.Celsius(-6.7))
	}))
	tables.Covers, tables.Layers = nil, nil
	if card := tonight(tables, InFahrenheit, 20); card.Rows[0].Low != 25 {
		t.Errorf("the first row is %v F", card.Rows[0].Low)
	}
}

// A limit measured on leaves: kale at -7 stands screen air 4 K warmer, -3. Young plants
// that one column to the right does not serve: by hand, limits A -3 (or -7), B -3, C -1,
// D 0. Young kale at -4 + 4 = 0 is beyond B and C, so D; young lettuce at 1 is beyond D;
// young lettuce at -2 is served by C.
func TestTonightSeedlingsAndLeaves(t *testing.T) {
	crops := fourGroups()
	crops[0].Basis = catalog.Plant
	card := tonight(shed(crops...), InCelsius, 20)
	for i, want := range []quantity.Celsius{-3, -3, -1, 0} {
		if g := card.Groups[i]; g.Limit != want {
			t.Errorf("group %c: limit %v, want %v", g.Group, g.Limit, want)
		}
	}
	if len(card.Tender) != 1 || card.Tender[0].Crop.Name != "kale" || card.Tender[0].Group != 'D' {
		t.Errorf("tender: %+v", card.Tender)
	}
	crops = fourGroups()
	crops[1].YoungDamage = known(quantity.Celsius(1))
	card = tonight(shed(crops...), InCelsius, 20)
	if len(card.Tender) != 1 || card.Tender[0].Crop.Name != "lettuce" || card.Tender[0].Group != 0 {
		t.Errorf("tender: %+v", card.Tender)
	}
	if got := cardOf(card); got != handCard {
		t.Errorf("young plants changed the card of grown ones:\n%s", got)
	}
}

// A crop without figures is on no column, and a card without any crop has no rows.
func TestTonightWithoutFigures(t *testing.T) {
	mystery := catalog.Crop{ID: "mystery", Name: "Mystery"}
	card := tonight(shed(append(fourGroups(), mystery)...), InCelsius, 20)
	if len(card.Unknown) != 1 || card.Unknown[0].Name != "Mystery" || len(card.Groups[3].Crops) != 1 {
		t.Errorf("unknown %v, D %v", card.Unknown, card.Groups[3].Crops)
	}
	if got := cardOf(card); got != handCard {
		t.Errorf("a crop without figures changed the card:\n%s", got)
	}
	if card := tonight(shed(mystery), InCelsius, 20); len(card.Rows) != 0 || card.Groups[3].Known {
		t.Errorf("a card from nothing: %s", cardOf(card))
	}
}

// A coarser card is never less careful: every low asks for at least what the fine card
// asks for.
func TestTonightCoarser(t *testing.T) {
	tables := shed(fourGroups()...)
	fine := tonight(tables, InCelsius, 20)
	order := append([]string{""}, NewPlanner(tables).Offered()...)
	for _, most := range []int{13, 10, 8, 6, 5, 1} {
		coarse := tonight(tables, InCelsius, most)
		if len(coarse.Rows) > max(most, fewestRows) {
			t.Errorf("%d rows where %d are wanted:\n%s", len(coarse.Rows), most, cardOf(coarse))
		}
		for low := -12.0; low < 6; low += 0.25 {
			f, c := read(fine, low), read(coarse, low)
			for i := range f {
				if work(order, c[i]) < work(order, f[i]) {
					t.Errorf("%d rows, %g C, group %d: %+v, the fine card %+v", most, low, i, c[i], f[i])
				}
			}
		}
	}
}

// However few rows a card has, each group needs its first cover at the same low as on the
// fine card: wall sheets tell that low as well.
func TestTonightThinnedKeepsTheFirstCover(t *testing.T) {
	tables := shed(fourGroups()...)
	fine, coarse := tonight(tables, InCelsius, 20), tonight(tables, InCelsius, 1)
	if len(coarse.Rows) != fewestRows {
		t.Errorf("%d rows, want %d:\n%s", len(coarse.Rows), fewestRows, cardOf(coarse))
	}
	// By hand, see handCard: open from the next half degree above -5, -1, 1 and 2 C.
	for i, want := range []float64{-4.5, -0.5, 1.5, 2.5} {
		group := 'A' + byte(i)
		f, _ := fine.OpenFrom(group)
		c, ok := coarse.OpenFrom(group)
		if f != want || c != want || !ok {
			t.Errorf("%c: open from %v, on the coarse card from %v, want %v", group, f, c, want)
		}
	}
}

// work orders needs from none to picking.
func work(order []string, n Need) int {
	switch n.State {
	case PickToday:
		return len(order)
	case Covered:
		return slices.Index(order, n.Layers)
	}
	return 0
}

// Over guides of chance: a colder row never needs a lighter cover, a group to the right
// never a lighter one than the group to its left; what is said to hold does hold, for
// every crop of the group and every young plant read there; covers that may not help are
// never named.
func TestTonightProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		tables := &catalog.Tables{}
		for i := range rapid.IntRange(0, 12).Draw(r, "crops") {
			tenths := rapid.IntRange(-120, 40)
			grown := quantity.Celsius(tenths.Draw(r, "grown")) / 10
			young := grown + quantity.Celsius(rapid.IntRange(0, 60).Draw(r, "young"))/10
			tables.Crops = append(tables.Crops, with(bean(), func(c *catalog.Crop) {
				c.ID, c.Name, c.GrownDamage, c.YoungDamage = fmt.Sprint(i), fmt.Sprint(i), known(grown), known(young)
			}))
		}
		for i := range rapid.IntRange(0, 6).Draw(r, "covers") {
			low := quantity.Kelvins(rapid.IntRange(-20, 60).Draw(r, "gain")) / 10
			tables.Covers = append(tables.Covers, catalog.Cover{ID: fmt.Sprint("v", i), Weight: rapid.IntRange(1, 9).Draw(r, "weight"), Offered: true, Gain: gain(low, low+1, low+2)})
		}
		d := Degrees(rapid.IntRange(0, 1).Draw(r, "degrees"))
		card := tonight(tables, d, rapid.IntRange(1, 30).Draw(r, "most"))
		p := NewPlanner(tables)
		order := append([]string{""}, p.Offered()...)
		for k, row := range card.Rows {
			if k > 0 && !row.Colder && row.Low >= card.Rows[k-1].Low || row.Colder != (k == len(card.Rows)-1) {
				r.Fatalf("rows out of order:\n%s", cardOf(card))
			}
			for i, n := range row.Needs {
				if k > 0 && work(order, n) < work(order, card.Rows[k-1].Needs[i]) {
					r.Fatalf("a colder row needs less:\n%s", cardOf(card))
				}
				if i > 0 && card.Groups[i-1].Known && work(order, n) < work(order, row.Needs[i-1]) {
					r.Fatalf("the group to the right needs less:\n%s", cardOf(card))
				}
				if n.State == Covered && p.Gain(n.Layers).Low <= 0 {
					r.Fatalf("%s holds nothing for certain:\n%s", n.Layers, cardOf(card))
				}
				if n.State == PickToday || n.State == NeedUnknown {
					continue
				}
				// Inside is as warm as the low less the margin plus the gain.
				inside := d.Celsius(row.Low) - quantity.Celsius(d.ForecastMargin()-max(p.Gain(n.Layers).Low, 0))
				for _, c := range tables.Crops {
					g := int(groupOf(limitsOf(&c, nil)) - 'A')
					grown, _ := c.GrownDamage.Get()
					young, _ := c.YoungDamage.Get()
					reads := g + 1
					for _, x := range card.Tender {
						if x.Crop.ID == c.ID {
							reads = int(x.Group) - 'A'
						}
					}
					if g == i && inside <= grown || reads == i && inside <= young {
						r.Fatalf("row %g, group %d: %.2f C inside, crop %s harmed at %v, young at %v:\n%s", row.Low, i, inside, c.Name, grown, young, cardOf(card))
					}
				}
			}
		}
	})
}
