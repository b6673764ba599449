package frost

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

func row(e record.Event, belowF float64, percent int, month, day int) record.FreezeRow {
	return record.FreezeRow{Event: e, Below: quantity.FromFahrenheit(belowF), Odds: quantity.Odds(percent) / 100, Date: quantity.MonthDay{Month: month, Day: day}}
}

func special(e record.Event, belowF float64, percent int, s record.FreezeState) record.FreezeRow {
	return record.FreezeRow{Event: e, Below: quantity.FromFahrenheit(belowF), Odds: quantity.Odds(percent) / 100, State: s}
}

// told is an answer in one line: state, date, "?" for an estimate.
func told(a Answer, h quantity.Hemisphere) string {
	s := a.State.String()
	if a.State == Dated {
		s = h.MonthDay(a.Slot).String()
	}
	if a.Estimate {
		s += "?"
	}
	return s
}

// By hand. Deviates: 10 % 1.2816, 20 % 0.8416, 50 % 0. From 28 to 32 F is 2.22 K, so
// 30 F lies half way and 31 F three quarters of it.
func TestTable(t *testing.T) {
	last, first := record.Last, record.First
	full := []record.FreezeRow{
		row(last, 28, 10, 5, 10), row(last, 28, 50, 4, 26), row(last, 32, 10, 5, 24), row(last, 32, 50, 5, 8),
		row(first, 28, 10, 10, 3), row(first, 28, 50, 10, 15), row(first, 32, 10, 9, 23), row(first, 32, 50, 10, 5),
	}
	mild := []record.FreezeRow{
		special(last, 24, 10, record.FreezeNever), special(last, 24, 50, record.FreezeNever),
		row(last, 28, 10, 2, 10), special(last, 28, 50, record.FreezeNever), row(last, 32, 10, 3, 10), row(last, 32, 50, 2, 8),
		special(last, 36, 10, record.FreezeAnyMonth), row(last, 36, 50, 3, 20),
	}
	cases := []struct {
		name   string
		rows   []record.FreezeRow
		event  record.Event
		belowF float64
		odds   quantity.Odds
		want   string
	}{
		{"as published, last", full, last, 32, 0.1, "05-24"},
		{"as published, written to 0.1 C", full, last, quantity.Celsius(-2.2).Fahrenheit(), 0.5, "04-26"},
		{"as published, first", full, first, 28, 0.1, "10-03"},
		{"between thresholds, last", full, last, 30, 0.5, "05-02"},             // 26 April to 8 May is 12 days, half of it 6
		{"between thresholds, rounded later", full, last, 31, 0.1, "05-21"},    // 10 to 24 May, 10.5 days on: 20.5
		{"between thresholds, rounded earlier", full, first, 31, 0.1, "09-25"}, // 3 October to 23 September, 7.5 days back: 25.5 September
		{"between odds", full, last, 32, 0.2, "05-19"},                         // 8 May + 16 x 0.8416/1.2816 = 10.5 days: 18.5
		{"between both", full, first, 30, 0.2, "10-02"},                        // 28 F: 15 October - 7.88 = 7.12; 32 F: 5 October - 7.88 = 27.12 September; half way 2.12
		{"colder than the table", full, last, 27, 0.1, "not known"},
		{"warmer than the table", full, first, 33, 0.5, "not known"},
		{"rarer than the table", full, last, 32, 0.05, "not known"},
		{"likelier than the table", full, last, 32, 0.6, "not known"},

		{"never: none needed", mild, last, 24, 0.1, "none needed"},
		{"colder than never", mild, last, 10, 0.1, "none needed"},
		{"between never and a date the date stands", mild, last, 26, 0.1, "02-10"},
		{"between never and a date, in odds", mild, last, 28, 0.3, "02-10"},
		{"never at the likelier odds", mild, last, 28, 0.5, "none needed"},
		{"likelier than never", mild, last, 28, 0.8, "none needed"},
		{"between a date and any month there is none", mild, last, 34, 0.1, "any month"},
		{"between in odds", mild, last, 36, 0.3, "any month"},
		{"rarer than any month", mild, last, 36, 0.02, "any month"},
		{"warmer than any month", mild, last, 50, 0.1, "any month"},
		{"a date beside any month", mild, last, 36, 0.5, "03-20"},
		{"nothing of that event", mild, first, 32, 0.5, "not known"},

		{"never stays never where colder, one threshold", []record.FreezeRow{special(last, 32, 50, record.FreezeNever)}, last, 28, 0.5, "none needed?"},
		{"and is not known where warmer", []record.FreezeRow{special(last, 32, 50, record.FreezeNever)}, last, 36, 0.5, "not known?"},
		{"any month, one threshold", []record.FreezeRow{special(first, 32, 50, record.FreezeAnyMonth)}, first, 34, 0.5, "any month?"},
	}
	for _, c := range cases {
		table := NewTable(&record.Freeze{Rows: c.rows}, quantity.North)
		a := table.Date(c.event, quantity.FromFahrenheit(c.belowF), c.odds)
		if got := told(a, quantity.North); got != c.want {
			t.Errorf("%s: %s (%.2f), want %s", c.name, got, a.Exact, c.want)
		}
	}
}

// Order: a colder threshold whose date lies beyond a warmer one's, and rarer odds whose
// date lies on the wrong side, give way to the safer date.
func TestTableOrder(t *testing.T) {
	last, first := record.Last, record.First
	table := NewTable(&record.Freeze{Rows: []record.FreezeRow{
		row(last, 28, 10, 5, 10), row(last, 28, 50, 5, 12), // the rarer is the earlier: both 12 May
		row(last, 32, 10, 5, 11), row(last, 32, 50, 5, 9), // both before the colder ones: 12 May
		row(first, 28, 50, 10, 1), row(first, 32, 50, 10, 4), // the warmer is the later: 1 October
		row(first, 28, 10, 9, 20), row(first, 32, 10, 9, 18),
	}}, quantity.North)
	for _, c := range []struct {
		event  record.Event
		belowF float64
		odds   quantity.Odds
		want   string
	}{{last, 28, 0.1, "05-12"}, {last, 28, 0.5, "05-12"}, {last, 32, 0.1, "05-12"}, {last, 32, 0.5, "05-12"}, {first, 32, 0.5, "10-01"}, {first, 28, 0.5, "10-01"}, {first, 32, 0.1, "09-18"}} {
		if got := told(table.Date(c.event, quantity.FromFahrenheit(c.belowF), c.odds), quantity.North); got != c.want {
			t.Errorf("%v %v F %v: %s, want %s", c.event, c.belowF, c.odds, got, c.want)
		}
	}
}

// Two average dates: 8 May and 5 October at 32 F, half the years. By hand: one year in
// ten is 13 x 1.2816 = 16.7 days on the careful side; colder 4.5 days a kelvin, warmer 7.
func TestTableOfTwoAverages(t *testing.T) {
	last, first := record.Last, record.First
	rows := []record.FreezeRow{row(last, 32, 50, 5, 8), row(first, 32, 50, 10, 5)}
	for _, c := range []struct {
		name  string
		event record.Event
		below quantity.Celsius
		odds  quantity.Odds
		want  string
	}{
		{"the average itself", last, 0, 0.5, "05-08?"},
		{"careful", last, 0, 0.1, "05-25?"},                // 24.7 May
		{"careful, first", first, 0, 0.1, "09-18?"},        // 5 October - 16.7 = 18.3 September
		{"colder", last, -2, 0.5, "04-29?"},                // 9 days
		{"colder, first", first, -2, 0.5, "10-14?"},        // 9 days
		{"warmer", last, 2, 0.5, "05-22?"},                 // 14 days
		{"warmer, first", first, 2, 0.1, "09-04?"},         // 5 October - 14 - 16.7 = 4.3 September
		{"as cold as is assumed", last, -9, 0.5, "03-29?"}, // 40.5 days before 8 May: 28.5 March (29 February apart, none lies between)
		{"colder than is assumed", last, -9.2, 0.5, "not known?"},
		{"warmer than is assumed", last, 2.2, 0.5, "not known?"},
	} {
		a := NewTable(&record.Freeze{Rows: rows}, quantity.North).Date(c.event, c.below, c.odds)
		if got := told(a, quantity.North); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		if a.State == Dated && a.PlusMinus < 2 {
			t.Errorf("%s: give or take %.1f days is too little for an estimate", c.name, a.PlusMinus)
		}
	}
	// Half a year later in the south: 8 November and 5 April.
	south := NewTable(&record.Freeze{Rows: []record.FreezeRow{row(last, 32, 50, 11, 8), row(first, 32, 50, 4, 5)}}, quantity.South)
	if got := told(south.Date(last, 0, 0.1), quantity.South); got != "11-25?" {
		t.Errorf("south, last: %s, want 11-25?", got)
	}
	if got := told(south.Date(first, -2, 0.5), quantity.South); got != "04-14?" {
		t.Errorf("south, first: %s, want 04-14?", got)
	}
	// Over New Year: a mild place with a first freeze on 5 January has it before 14 January.
	mild := NewTable(&record.Freeze{Rows: []record.FreezeRow{row(first, 32, 50, 1, 5), row(last, 32, 50, 2, 10)}}, quantity.North)
	for _, c := range []struct {
		event record.Event
		below quantity.Celsius
		odds  quantity.Odds
		want  string
	}{
		{first, 0, 0.1, "12-19?"},        // 5 January is slot 157; 157 - 16.7 = 140.3, slot 140
		{first, -4, 0.5, "none needed?"}, // 18 days after: beyond the middle of winter, 16 January
		{last, -6, 0.5, "none needed?"},  // 27 days before 10 February: 14 January
		{last, -5, 0.5, "01-19?"},        // 22.5 days before: 18.5 January
	} {
		if got := told(mild.Date(c.event, c.below, c.odds), quantity.North); got != c.want {
			t.Errorf("mild %v %v %v: %s, want %s", c.event, c.below, c.odds, got, c.want)
		}
	}
	// High up: a last freeze of 20 July may come in any month one year in ten.
	high := NewTable(&record.Freeze{Rows: []record.FreezeRow{row(last, 32, 50, 7, 10)}}, quantity.North)
	if a := high.Date(last, 0, 0.1); a.State != AnyMonth || a.Midsummer != 0.1 {
		t.Errorf("high: %v, midsummer %v; want any month at 0.1", a.State, a.Midsummer)
	}
}

// One threshold with the 50 and 90 % dates, as the fixed-width files have it: its own
// spread, (8 May - 24 April)/1.2816 = 10.92 days, carries the date to one year in ten,
// 14 days on, as an estimate; the odds published are read as they are.
func TestTableOfOneThreshold(t *testing.T) {
	last := record.Last
	table := NewTable(&record.Freeze{Rows: []record.FreezeRow{row(last, 32, 50, 5, 8), row(last, 32, 90, 4, 24)}}, quantity.North)
	for odds, want := range map[quantity.Odds]string{0.5: "05-08", 0.9: "04-24", 0.1: "05-22?", 0.95: "04-21?"} { // 0.95: 24 April - 0.3633 x 10.92 = 20.03 April
		if got := told(table.Date(last, 0, odds), quantity.North); got != want {
			t.Errorf("%v: %s, want %s", odds, got, want)
		}
	}
	if got := told(table.Date(last, -2, 0.5), quantity.North); got != "04-29?" {
		t.Errorf("colder: %s, want 04-29?", got)
	}
}

// Two thresholds with an average date each: between them linear, beyond them nothing;
// the careful date by the assumed spread.
func TestTableOfTwoThresholds(t *testing.T) {
	last := record.Last
	table := NewTable(&record.Freeze{Rows: []record.FreezeRow{row(last, 32, 50, 5, 8), row(last, 28, 50, 4, 26)}}, quantity.North)
	for _, c := range []struct {
		belowF float64
		odds   quantity.Odds
		want   string
	}{{32, 0.5, "05-08"}, {30, 0.5, "05-02"}, {30, 0.1, "05-19?"}, {34, 0.5, "not known"}, {20, 0.5, "not known"}} {
		if got := told(table.Date(last, quantity.FromFahrenheit(c.belowF), c.odds), quantity.North); got != c.want {
			t.Errorf("%v F %v: %s, want %s", c.belowF, c.odds, got, c.want)
		}
	}
}

// Sampling error by hand: sd (24 - 8 May)/1.2816 = 12.48 days; se of a median of 22
// years 12.48/sqrt(22) = 2.66, of a 10 % date 2.66 x sqrt(1 + 1.2816^2/2) = 3.59.
func TestTableError(t *testing.T) {
	last := record.Last
	table := NewTable(&record.Freeze{Years: 22, Rows: []record.FreezeRow{row(last, 28, 10, 5, 10), row(last, 28, 50, 4, 26), row(last, 32, 10, 5, 24), row(last, 32, 50, 5, 8)}}, quantity.North)
	for odds, want := range map[quantity.Odds]float64{0.5: 2.66, 0.1: 3.59} {
		a := table.Date(last, 0, odds)
		if math.Abs(a.PlusMinus-want) > 0.01 || a.Used != 22 || a.Estimate {
			t.Errorf("%v: %+v, want give or take %.2f from 22 years", odds, a, want)
		}
	}
	few := NewTable(&record.Freeze{Years: 15, Rows: []record.FreezeRow{row(last, 28, 50, 4, 26), row(last, 32, 50, 5, 8)}}, quantity.North)
	if a := few.Date(last, 0, 0.5); !a.Estimate {
		t.Error("15 years are an estimate")
	}
}

func TestTableSpan(t *testing.T) {
	rows := []record.FreezeRow{row(record.Last, 28, 50, 4, 26), row(record.Last, 32, 50, 5, 8), row(record.First, 28, 50, 10, 15), row(record.First, 32, 50, 10, 5)}
	f := &record.Freeze{Rows: rows, Spans: []record.SpanRow{
		{Below: quantity.FromFahrenheit(32), Odds: 0.5, Days: 148}, {Below: quantity.FromFahrenheit(32), Odds: 0.1, Days: 128}, {Below: quantity.FromFahrenheit(28), Odds: 0.5, Days: 171},
	}}
	table := NewTable(f, quantity.North)
	if m := table.FrostFree(0, 0); m.State != Dated || m.Days != 148 || m.Estimate {
		t.Errorf("as published: %+v, want 148 days", m)
	}
	if m := table.FrostFree(quantity.FromFahrenheit(29), quantity.FromFahrenheit(31)); m.Days != 159 { // half way from 148 to 171 is 159.5
		t.Errorf("between: %+v, want 159 days", m)
	}
	if m := NewTable(&record.Freeze{Rows: rows}, quantity.North).FrostFree(0, 0); m.Days != 150 || !m.Estimate { // 8 May to 5 October
		t.Errorf("without lengths: %+v, want 150 days as an estimate", m)
	}
	if m := table.FrostFree(5, 5); m.State != NotKnown {
		t.Errorf("beyond the table: %+v", m)
	}
}

func TestTableBehind(t *testing.T) {
	last := record.Last
	rows := []record.FreezeRow{row(last, 28, 10, 5, 10), row(last, 28, 50, 4, 26), row(last, 32, 10, 5, 24), row(last, 32, 50, 5, 8), row(last, 36, 50, 5, 30)}
	kept := slices.Clone(rows)
	f := &record.Freeze{Rows: rows}
	table := NewTable(f, quantity.North)
	show := func(rs []record.FreezeRow) (s string) {
		for _, r := range rs {
			s += fmt.Sprintf("%.0fF%.0f%% ", r.Below.Fahrenheit(), 100*r.Odds)
		}
		return s
	}
	for _, c := range []struct {
		belowF float64
		odds   quantity.Odds
		want   string
	}{{32, 0.1, "32F10% "}, {30, 0.5, "28F50% 32F50% "}, {30, 0.3, "28F50% 28F10% 32F50% 32F10% "}} {
		if got := show(table.Behind(last, quantity.FromFahrenheit(c.belowF), c.odds)); got != c.want {
			t.Errorf("%v F %v: %s, want %s", c.belowF, c.odds, got, c.want)
		}
	}
	if !reflect.DeepEqual(rows, kept) {
		t.Error("the table was changed")
	}
}
