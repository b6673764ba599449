package page

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// TestFreezeLineOrWords: a sheet without one of its freeze lines says why, unless a
// freeze is too seldom to wait for.
func TestFreezeLineOrWords(t *testing.T) {
	for _, cold := range []float64{0, 8} { // 8 K colder: frost in every month
		tb := tables()
		for i := range tb.Bands {
			tb.Bands[i].Offset = known(quantity.Kelvins(-cold))
		}
		in := input(t, tb, quantity.North, nil)
		for i := range in.Bands {
			c := in.Bands[i].Climate
			w := Wall{Tables: in.Tables, Book: in.Book, Climate: c, Plans: in.Bands[i].Plans}
			any := 0
			for _, e := range []record.Event{record.Last, record.First} {
				if c.Date(e, quantity.Careful, band.Gate{}).State == band.AnyMonth {
					any++
				}
			}
			if got := w.warning(); (any > 0) != strings.Contains(got, "any month") {
				t.Errorf("%s, offset %g: %d events in any month, but the sheet says %q", c.Band.Name, -cold, any, got)
			}
			if cold == 8 && any == 0 {
				t.Errorf("%s is not cold enough to test with", c.Band.Name)
			}
		}
	}
}

// TestFootNamesTheStation: the general rule carries the card's figure over to the station.
// By hand: a band 1 K colder than its station on any night; without a card its own low of
// 2 C (36 F) is one of 3 C (37.4 F, printed 38) there. Tomatoes are harmed at 0 C: with the
// card's margin of 2 C they need no cover from 2.5 C (4 F and 37 F), 3.5 C (39 F) at the station.
func TestFootNamesTheStation(t *testing.T) {
	tb := tables()
	tb.Stations = tb.Stations[:1] // one station: no lapse to fit, offsets as declared
	tb.Stations[0].WhereToRead = "board at the gate"
	tb.Stations[0].Offset = known(quantity.Kelvins(0))
	tb.Bands = tb.Bands[:1]
	tb.Bands[0].Low, tb.Bands[0].High = known(quantity.Metres(700)), known(quantity.Metres(700))
	tb.Bands[0].Offset = known(quantity.Kelvins(-1))
	in := input(t, tb, quantity.North, nil)
	w := Wall{Tables: in.Tables, Book: in.Book, Climate: in.Bands[0].Climate, Plans: in.Bands[0].Plans}
	for _, x := range []struct {
		cards []plan.Tonight
		want  []string
	}{
		{nil, []string{"Mill (board at the gate)", "less than 3 °C (38 °F)", "1 °C (2 °F) colder"}},
		{cardsOf(in, 0), []string{"Mill (board at the gate)", "less than 3.5 °C (39 °F)", "1 °C (2 °F) colder"}},
	} {
		w.Cards = x.cards
		foot := strings.ReplaceAll(w.footTonight(footOf{grown: 'D', young: 'D'}), "\u00a0", " ")
		for _, want := range x.want {
			if !strings.Contains(foot, want) {
				t.Errorf("%q is not in the foot: %s", want, foot)
			}
		}
	}
}

// cardsOf is the tonight cards of a band in both units.
func cardsOf(in Input, band int) []plan.Tonight {
	x := NewBuilder(in).b
	return x.tonightCards(in.Bands[band].Climate, in.Bands[band].Plans)
}

// TestSheetsSayWhatTheCardSays: on any night of any forecast, a sheet asks for a cover if the
// card does so for a group that stands on it; and on the kind of night that makes its gardens
// colder only then. So it is on a card that had to be thinned out, and for young plants.
func TestSheetsSayWhatTheCardSays(t *testing.T) {
	tb := tables()
	for i, offset := range []quantity.Kelvins{1.5, -3, 0} { // windy nights are the colder ones, still nights are, neither
		tb.Bands[i].Offset = known(offset)
	}
	in := input(t, tb, quantity.North, nil)
	below := regexp.MustCompile(`less than (−?[0-9.]+) °C \((−?[0-9.]+) °F\)`)
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.ReplaceAll(s, "−", "-"), 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	young := 0
	for i, x := range in.Bands {
		w := Wall{Tables: in.Tables, Book: in.Book, Climate: x.Climate, Plans: x.Plans, Cards: cardsOf(in, i)}
		for k := range w.Cards {
			for w.Cards[k].Thin() {
			}
		}
		for _, p := range x.Plans {
			of := w.footFor([]plan.CropPlan{p})
			said := below.FindAllStringSubmatch(strings.ReplaceAll(w.footTonight(of), "\u00a0", " "), -1)
			for k, card := range w.Cards {
				still, windy, _ := nightsOf(x.Climate, card.Degrees)
				asks := func(group byte, garden float64) bool {
					for _, r := range card.Rows {
						if r.Colder || garden >= r.Low {
							return r.Needs[group-'A'].State != plan.Uncovered
						}
					}
					return false
				}
				check := func(group byte, figure string) {
					for forecast := -20.0; forecast < 60; forecast += card.Degrees.Step() / 2 {
						sheet := forecast < number(figure)
						if card := asks(group, forecast+still) || asks(group, forecast+windy); card != sheet {
							t.Errorf("%s, %s, a forecast of %v: the card asks for a cover of %c: %v, the sheet (%s): %v", x.Climate.Band.Name, p.Crop.Name, forecast, group, card, figure, sheet)
						}
					}
				}
				if len(card.Rows) == 0 || !card.Groups[p.Group-'A'].Known {
					continue
				}
				check(p.Group, said[0][1+k])
				if len(said) > 1 {
					young++
					check(of.young, said[1][1+k])
				}
			}
		}
	}
	if young == 0 {
		t.Error("no sheet says anything of young plants")
	}
}
