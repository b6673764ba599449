package intake

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// A record is the same in whatever order its days stand, but for the line that a day
// given twice is said to come from; days given twice are counted as said.
func TestDaysInAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		type row struct {
			day       quantity.Day
			low, high int
		}
		var rows []row
		start := quantity.DayOf(rapid.IntRange(1700, 2190).Draw(t, "year"), 1, 1)
		for range rapid.IntRange(1, 60).Draw(t, "rows") {
			r := row{start + quantity.Day(rapid.IntRange(0, 3000).Draw(t, "day")), rapid.IntRange(-3, 3).Draw(t, "low") * 10, noReading}
			if rapid.Bool().Draw(t, "maximum") {
				r.high = 100
			}
			rows = append(rows, r)
		}
		read := func(rows []row) (record.Daily, bool) {
			var s readings
			for i, r := range rows {
				s.add(r.day, r.low, r.high, int32(i+2))
			}
			d, ok := s.daily(&teller{}, true)
			for i := range d.Lines {
				d.Lines[i] = min(d.Lines[i], 1)
			}
			return d, ok
		}
		one, _ := read(rows)
		other, _ := read(rapid.Permutation(rows).Draw(t, "order"))
		// Of three different values of a day the first two contradict each other and the
		// third is not looked at; which those are is a matter of order.
		one.Dropped.Repeated, other.Dropped.Repeated = 0, 0
		if !reflect.DeepEqual(one, other) {
			t.Fatalf("%+v\nin another order %+v", one, other)
		}
		want := map[quantity.Day]map[int]bool{}
		for _, r := range rows {
			if want[r.day] == nil {
				want[r.day] = map[int]bool{}
			}
			want[r.day][r.low] = true
		}
		for day, values := range want {
			got := one.MinOn(day)
			if len(values) > 1 != !got.Known() || got.Known() && !values[int(got)] {
				t.Fatalf("day %d has %d, given %v", day, got, values)
			}
		}
		if int(one.End()-one.Start) != len(one.Max) || want[one.Start] == nil || want[one.End()-1] == nil {
			t.Fatalf("from %d to %d", one.Start, one.End())
		}
	})
}
