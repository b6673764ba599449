package page

import (
	"strconv"
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// TestHiddenAgreesWithRecords: what the quality page says of a station where it is hidden is,
// to the day, what it says where its own years are told; and a guess is off by as many days
// as lie between the two dates printed.
func TestHiddenAgreesWithRecords(t *testing.T) {
	tb := tables()
	for i := range 3 { // five stations, each with a record of its own
		s := tb.Stations[i%2]
		s.ID, s.Name = "other"+strconv.Itoa(i), "Other "+strconv.Itoa(i)
		s.Latitude = known(44.1 + 0.05*float64(i))
		tb.Stations = append(tb.Stations, s)
	}
	in := input(t, tb, quantity.North, nil)
	records := map[string]*record.Daily{}
	for i := range tb.Stations {
		records[tb.Stations[i].ID] = series(tb.Stations[i].ID, float64(i), false)
	}
	in.Region, in.Bands = band.NewRegion(tb.Stations, records, 0, 0, quantity.North), nil
	b := NewBuilder(in).b
	if len(b.Region.Misses) != 10 {
		t.Fatalf("%d guesses, want 5 stations x 2", len(b.Region.Misses))
	}
	var hidden Table
	for _, x := range b.hidden() {
		if table, ok := x.(Table); ok {
			hidden = table
		}
	}
	halves := 0
	for i, m := range b.Region.Misses {
		c, _ := b.Region.Station(m.Station)
		own := freeze(c, m.Event, quantity.Half, 0)
		cells := hidden.Rows[i]
		if got, want := cells[2][0].Text, b.answer(own); got != want {
			t.Errorf("%s, %v: %s, by its own years %s", m.Station, m.Event, got, want)
		}
		if m.Seen-float64(int(m.Seen)) != 0 {
			halves++
		}
		n := int(m.GuessedDay - m.SeenDay)
		text := cells[4][0].Text
		if n != 0 && !strings.HasPrefix(text, strconv.Itoa(max(n, -n))) || n == 0 && strings.ContainsAny(text, "0123456789") {
			t.Errorf("%s, %v: %s against %s, %s", m.Station, m.Event, cells[3][0].Text, cells[2][0].Text, text)
		}
	}
	if halves == 0 {
		t.Error("no date needs rounding")
	}
}
