package page

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// leafText is every word on a leaf, a block a line, cells parted by bars.
func leafText(l *Leaf) string {
	var b strings.Builder
	for _, s := range l.Strips {
		for _, c := range s.Columns {
			for _, x := range c {
				switch x := x.(type) {
				case LeafHeading:
					fmt.Fprintln(&b, x.Text, x.Corner)
				case LeafText:
					fmt.Fprintln(&b, x.Lead, x.Text)
				case LeafBoxes:
					for _, box := range x.Boxes {
						fmt.Fprintln(&b, box.Sign, box.Number, box.Label, "/", box.Note, box.Unit)
					}
				case LeafTable:
					fmt.Fprintln(&b, strings.Join(x.Head, "|"))
					for _, r := range x.Rows {
						for _, cell := range r {
							b.WriteString(cell.Text + "|")
						}
						b.WriteString("\n")
					}
				}
			}
		}
	}
	return strings.ReplaceAll(b.String()+strings.Join(l.Foot, "\n"), "\u00a0", " ")
}

func leafAt(t *testing.T, g *Guide, path string) *Leaf {
	t.Helper()
	for _, l := range g.Leaves {
		if l.Path == path {
			return l
		}
	}
	t.Fatalf("there is no leaf %s", path)
	return nil
}

// oneStation is the invented guide with the station Mill alone at 700 m, so that a band
// differs from it by 4.5 K for each 1,000 m and by its position's default.
func oneStation() *catalog.Tables {
	tb := tables()
	tb.Stations = tb.Stations[:1]
	tb.Stations[0].WhereToRead = "board at the gate"
	return tb
}

// By hand. Slopes, 680-880 m: its colder edge is 180 m above Mill, 0.81 K colder: -1 on the
// card in half degrees Celsius; 1.46 F colder: -1.5, so -2 on the card in whole degrees
// Fahrenheit. Hollow, 850-1,050 m: 350 m, 1.575 K colder in wind, and 1.5 K more on still
// nights, 3.075 K: -2 (to the colder half degree) and -3.5 C; 2.8 F and 5.5 F: -3 and -6 F.
func TestCardDifferences(t *testing.T) {
	g := Build(input(t, oneStation(), quantity.North, nil))
	for _, c := range []struct{ path, want string }{
		{"bands/slopes/tonight", "\n2 not measured: −1. Measured: line 5 of my worksheet\n"},
		{"bands/slopes/tonight", "\n2 not measured: −2. Measured: line 5 of my worksheet\n"},
		{"bands/slopes/tonight", "1 find it: board at the gate\n"},
		{"bands/slopes/tonight", "make 3 My garden tonight / 1 and −1 make 0 °C"},
		{"bands/slopes/tonight", "make 3 My garden tonight / 34 and −2 make 32 °F"},
		{"bands/hollow/tonight", "\n2 not measured: −3.5 on a still, clear night, −2 on a windy or cloudy one. Measured: line 5 of my worksheet\n"},
		{"bands/hollow/tonight", "\n2 not measured: −6 on a still, clear night, −3 on a windy or cloudy one. Measured: line 5 of my worksheet\n"},
	} {
		if text := leafText(leafAt(t, g, c.path)); !strings.Contains(text, c.want) {
			t.Errorf("%s does not say %q:\n%s", c.path, c.want, text)
		}
	}
}

// Differences go to the colder step, one so near a step that it was meant stays there.
// By hand.
func TestColder(t *testing.T) {
	for _, c := range []struct {
		d    plan.Degrees
		k    quantity.Kelvins
		want float64
	}{
		{plan.InCelsius, 0, 0}, {plan.InCelsius, -0.2, -0.5}, {plan.InCelsius, -0.52, -0.5}, {plan.InCelsius, -0.6, -1}, {plan.InCelsius, 0.4, 0}, {plan.InCelsius, 0.7, 0.5},
		{plan.InFahrenheit, -1, -2}, {plan.InFahrenheit, -10 / 9.0, -2}, {plan.InFahrenheit, 1, 1}, {plan.InFahrenheit, -0.02, 0},
	} {
		if got := colder(c.d, c.k); got != c.want || got == 0 && 1/got < 0 {
			t.Errorf("%v K on scale %d: %v, want %v", c.k, c.d, got, c.want)
		}
	}
}

// By hand, the invented guide's card in Celsius. Kale is harmed at -9 (A); pea at -2 (C:
// above -2.2); tomato at 0 (D); nothing stands in B, which takes A's limit. Layers that
// hold: the tunnel, 1 K, and tunnel over fabric, 3 K measured; fabric gains -1 at its low
// end and holds nothing. Margin 2: A open above -7, tunnel -8, both -10; C 0, -1, -3;
// D 2, 1, -1. Young pea stands -4, young tomato comes in anyhow; young kale at -4 needs
// more than B's -9: column C.
func TestCardByHand(t *testing.T) {
	g := Build(input(t, tables(), quantity.North, nil))
	want := `Box 3|A
stands hard frost|B
stands some frost|C
stands light frost|D
stands no frost
2.5 or warmer|no cover|no cover|no cover|no cover|
2 to 1.5|no cover|no cover|no cover|T|
1 to 0.5|no cover|no cover|no cover|T+F|
0 to -0.5|no cover|no cover|T|T+F|
-1 to -2.5|no cover|no cover|T+F|pick today|
-3 to -6.5|no cover|no cover|pick today|pick today|
-7 to -7.5|T|T|pick today|pick today|
-8 to -9.5|T+F|T+F|pick today|pick today|
colder|pick today|pick today|pick today|pick today|
`
	// -1 and -2.5 need the same of every group, so one row stands for both.
	want = strings.NewReplacer("\n-", "\n−", " -", " −").Replace(want)
	text := leafText(leafAt(t, g, "bands/slopes/tonight"))
	if !strings.Contains(text, want) {
		t.Errorf("no table\n%sin\n%s", want, text)
	}
	for _, w := range []string{"Seedlings of Kale: column C.", "T+F low tunnel over row cover on hoops", "2 °C for a forecast that is too warm", "or as soon as it is 10 °C outside",
		"4 °F for a forecast", "or as soon as it is 50 °F outside", "A Kale\n", "B no crop of this guide\n", "D Tomato\n", "Everyone is welcome."} {
		if !strings.Contains(text, w) {
			t.Errorf("the card does not say %q:\n%s", w, text)
		}
	}
	page := strings.ReplaceAll(pageText(pageAt(t, g, "bands/slopes/tonight")), "\u00a0", " ")
	for _, w := range []string{"low tunnel over row cover on hoops", "colder than −9.5 °C", "2.5 °C or warmer", "−1 to −2.5 °C", "=Mystery | <root>", "The column goes by 0 °C (32 °F) (Tomato).", "15.6 °C (60 °F) outside"} {
		if !strings.Contains(page, w) {
			t.Errorf("the page does not say %q:\n%s", w, page)
		}
	}
}

// One card a unit: a guide in one unit gets one card and figures in it alone.
func TestCardUnits(t *testing.T) {
	for units, want := range map[catalog.Units][]string{catalog.UnitsBoth: {"°C", "°F"}, catalog.UnitsC: {"°C"}, catalog.UnitsF: {"°F"}} {
		tb := oneStation()
		tb.Guide.Units = units
		g := Build(input(t, tb, quantity.North, nil))
		l := leafAt(t, g, "bands/slopes/tonight")
		var corners []string
		for _, c := range l.Strips[0].Columns {
			corners = append(corners, c[0].(LeafHeading).Corner)
		}
		if !reflect.DeepEqual(corners, want) || l.Strips[0].Cut != (len(want) > 1) {
			t.Errorf("units %d: cards %v, want %v", units, corners, want)
		}
		head := leafText(leafAt(t, g, "bands/slopes/worksheet"))
		if first := map[catalog.Units]string{catalog.UnitsBoth: "4 °C\n7.2 °F\ncolder", catalog.UnitsC: "4 °C\ncolder", catalog.UnitsF: "8 °F\ncolder"}[units]; !strings.Contains(head, first) {
			t.Errorf("units %d: no column %q in\n%s", units, first, head)
		}
	}
}

// Where the guide does not say how to read the station, card and worksheet say so.
func TestWhereToReadMissing(t *testing.T) {
	tb := oneStation()
	tb.Stations[0].WhereToRead = ""
	g := Build(input(t, tb, quantity.North, nil))
	const want = "he guide does not say where to read Mill; ask post@example.org"
	for _, path := range []string{"bands/slopes/tonight", "bands/slopes/worksheet"} {
		if !strings.Contains(leafText(leafAt(t, g, path)), want) || !strings.Contains(pageText(pageAt(t, g, path)), want) {
			t.Errorf("%s does not say that", path)
		}
	}
}

// Without stations there is a card, whose difference nobody knows, and no worksheet;
// without crops there is no card.
func TestNothingToPrint(t *testing.T) {
	tb := tables()
	tb.Stations = nil
	g := Build(input(t, tb, quantity.North, nil))
	if text := leafText(leafAt(t, g, "bands/slopes/tonight")); !strings.Contains(text, "Forecast low at your weather station") || !strings.Contains(text, "not known") {
		t.Errorf("%s", text)
	}
	if text := pageText(pageAt(t, g, "bands/slopes/worksheet")); !strings.Contains(text, "there is no worksheet") || slices.ContainsFunc(g.Leaves, func(l *Leaf) bool { return strings.HasSuffix(l.Path, "/worksheet") }) {
		t.Errorf("%d leaves; %s", len(g.Leaves), text)
	}
	tb = tables()
	tb.Crops = nil
	g = Build(input(t, tb, quantity.North, nil))
	if text := pageText(pageAt(t, g, "bands/slopes/tonight")); !strings.Contains(text, "No crop of this guide has a cold figure") {
		t.Errorf("%s", text)
	}
	if text := pageText(pageAt(t, g, "bands/slopes/index")); !strings.Contains(text, "nothing to print") {
		t.Error("the band page leads to a card that is not there")
	}
}

// The dates of a worksheet are those of a climate moved by as much, and no colder garden
// is promised a longer season.
func TestWorksheetDates(t *testing.T) {
	worksheetDates(t, catalog.UnitsBoth, []float64{-4, -3, -2, -1, 0, 1, 2}, func(n float64) quantity.Kelvins { return quantity.Kelvins(n) })
	worksheetDates(t, catalog.UnitsF, []float64{-8, -6, -4, -2, 0, 2, 4}, quantity.FromFahrenheitDifference)
}

func worksheetDates(t *testing.T, units catalog.Units, columns []float64, kelvins func(float64) quantity.Kelvins) {
	t.Helper()
	tb := tables()
	tb.Guide.Units = units
	in := input(t, tb, quantity.North, nil)
	g := Build(in)
	c := in.Bands[0].Climate
	text := leafText(leafAt(t, g, "bands/slopes/worksheet"))
	for e, odds := range map[record.Event]quantity.Odds{record.Last: quantity.Careful, record.First: quantity.Half} {
		row := map[record.Event]string{record.Last: "last freeze, careful|", record.First: "first freeze, half the years|"}[e]
		var slots []int
		for _, n := range columns {
			a := c.Warmer(e, kelvins(n)).Date(e, odds, band.Gate{})
			if a.State != band.Dated {
				t.Fatalf("%v, %+g degrees: %+v", e, n, a)
			}
			row += in.Book.DateShort(quantity.North.MonthDay(a.Slot)) + "|"
			slots = append(slots, int(a.Slot))
		}
		if e == record.Last {
			slices.Reverse(slots)
		}
		if !slices.IsSorted(slots) {
			t.Errorf("%v: %v is out of order", e, slots)
		}
		if !strings.Contains(text, row+"\n") {
			t.Errorf("no row %q in\n%s", row, text)
		}
	}
	if n := strings.Count(text, "Tomato: set out from|"); n != 1 {
		t.Errorf("tomato stands %d times", n)
	}
	if strings.Contains(text, "Kale: ") {
		t.Error("kale, of group A, is on the worksheet")
	}
}

// By hand: the middle of Slopes, 780 m, is 80 m above Mill, 0.36 K or 0.65 F colder in
// every month: -0.4 C and, to the half, -0.5 F. The example's middle is 6 F below that,
// -6.5; half of -6 is -3; between the columns of 2 and 4 colder, 4; on the card -3.5. In
// Celsius 3 below, -3.4; half of -3 is -1.5; between 1 and 2 colder, 2; on the card -1.9.
func TestWorkedExample(t *testing.T) {
	for units, wants := range map[catalog.Units][]string{
		catalog.UnitsBoth: {"March|−0.4 °C (−0.5 °F)|August|−0.4 °C (−0.5 °F)|",
			"April: the middle of ten differences is −3.4 °C. Usual is −0.4 °C, so −3 °C is left, and half of it, −1.5 °C, counts. Column 2 °C (3.6 °F) colder: last freeze, careful,",
			"Tonight card, box 2: −1.9 °C."},
		catalog.UnitsF: {"March|−0.5 °F|August|−0.5 °F|",
			"April: the middle of ten differences is −6.5 °F. Usual is −0.5 °F, so −6 °F is left, and half of it, −3 °F, counts. Column 4 °F colder: last freeze, careful,",
			"Tonight card, box 2: −3.5 °F."},
	} {
		tb := oneStation()
		tb.Guide.Units = units
		text := leafText(leafAt(t, Build(input(t, tb, quantity.North, nil)), "bands/slopes/worksheet"))
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("no %q in\n%s", want, text)
			}
		}
	}
	if half := band.ReadingShare(evenings, 1, 1); half != 0.5 {
		t.Errorf("the sheet says half, the rule %v", half)
	}
}

// Readings of spring and fall in the south: September to December, February to May.
func TestWorksheetSouth(t *testing.T) {
	tb := tables()
	tb.Stations[0].Latitude, tb.Stations[1].Latitude = known(-44.0), known(-44.05)
	g := Build(input(t, tb, quantity.South, nil))
	text := leafText(leafAt(t, g, "bands/slopes/worksheet"))
	if want := "September to December for spring dates, February to May for fall dates"; !strings.Contains(text, want) {
		t.Errorf("no %q in\n%s", want, text)
	}
}

// Ten lines to write on, each with its number and four empty cells.
func TestWorksheetLines(t *testing.T) {
	g := Build(input(t, tables(), quantity.North, nil))
	var lines []LeafTable
	for _, s := range leafAt(t, g, "bands/slopes/worksheet").Strips {
		for _, c := range s.Columns {
			for _, b := range c {
				if x, ok := b.(LeafTable); ok && x.Pencil {
					lines = append(lines, x)
				}
			}
		}
	}
	if len(lines) != 1 || len(lines[0].Rows) != 10 || len(lines[0].Head) != 5 {
		t.Fatalf("%+v", lines)
	}
	for i, r := range lines[0].Rows {
		for k, c := range r {
			if want := map[bool]string{true: strconv.Itoa(i + 1)}[k == 0]; c.Text != want {
				t.Errorf("line %d, cell %d: %q", i+1, k+1, c.Text)
			}
		}
	}
}

// Two builds give the same leaves; each has a code, and two bands' leaves differ in it.
func TestLeafCodes(t *testing.T) {
	a, b := Build(input(t, tables(), quantity.North, nil)), Build(input(t, tables(), quantity.North, nil))
	if !reflect.DeepEqual(a.Leaves, b.Leaves) {
		t.Error("two builds differ")
	}
	codes := map[string]string{}
	for _, l := range a.Leaves {
		if !regexp.MustCompile(`^[A-HJ-NP-Z2-9]{4}$`).MatchString(l.Code) || codes[l.Code] != "" || !strings.Contains(l.Foot[0], l.Code) {
			t.Errorf("%s has the code %q, which is that of %q; foot %q", l.Path, l.Code, codes[l.Code], l.Foot[0])
		}
		codes[l.Code] = l.Path
	}
}

// A card that finds no room names fewer crops, and says how many more there are.
func TestCardNamesFewerCrops(t *testing.T) {
	tb := tables()
	for i := range 30 {
		c := tb.Crops[0]
		c.ID, c.Name = fmt.Sprintf("kale%02d", i), fmt.Sprintf("Kale %02d", i)
		tb.Crops = append(tb.Crops, c)
	}
	in := input(t, tb, quantity.North, nil)
	in.LeafFits = func(l *Leaf) error {
		if strings.Count(leafText(l), "Kale") > 2*20 {
			return fmt.Errorf("no room")
		}
		return nil
	}
	text := leafText(leafAt(t, Build(in), "bands/slopes/tonight"))
	// Of 31 kales 29, 27 ... were tried, the first list of at most 20 is of 19.
	if !strings.Contains(text, "Seedlings of group A: column C.") {
		t.Error("many exceptions are one for the whole group")
	}
	if !strings.Contains(text, "and 12 more: A before their row on the wall sheets") || strings.Contains(text, "Kale 29") {
		t.Errorf("%s", text)
	}
}

// A card whose rows find no room loses those that are nearest to the row below, and every
// low still leads to covers at least as strong as before.
func TestCardOfTooManyRowsStaysSafe(t *testing.T) {
	full := plan.Tonight{}
	for i, low := range []float64{5, 4, 3.5, 3, 1, 0.5, -1, -1.5, -4} {
		full.Rows = append(full.Rows, plan.TonightRow{Low: low, Needs: [4]plan.Need{{State: plan.NeedState(i)}}})
	}
	full.Rows = append(full.Rows, plan.TonightRow{Colder: true, Needs: [4]plan.Need{{State: 99}}})
	rowOf := func(c plan.Tonight, low float64) plan.TonightRow {
		for _, r := range c.Rows {
			if r.Colder || low >= r.Low {
				return r
			}
		}
		t.Fatal("no row")
		return plan.TonightRow{}
	}
	cards := []plan.Tonight{full}
	for thin(cards) {
		for low := -6.0; low < 7; low += 0.25 {
			if got, was := rowOf(cards[0], low), rowOf(full, low); got.Needs[0].State < was.Needs[0].State {
				t.Errorf("at %v the card of %d rows asks for %v, the full one for %v", low, len(cards[0].Rows), got.Needs[0].State, was.Needs[0].State)
			}
		}
	}
	if n := len(cards[0].Rows); n != fewestLows {
		t.Errorf("%d rows are left, want %d", n, fewestLows)
	}
	if first, last := cards[0].Rows[0], cards[0].Rows[fewestLows-1]; first.Low != 5 || !last.Colder {
		t.Errorf("the ends are %v and %v", first, last)
	}
	if len(full.Rows) != 10 {
		t.Error("the plan's own rows were changed")
	}
}
