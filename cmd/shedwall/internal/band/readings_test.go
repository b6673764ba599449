package band

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// The rule as it was measured: see ReadingShare.
func TestReadingShare(t *testing.T) {
	for _, c := range []struct {
		evenings, seasons, stations int
		want                        float64
	}{{4, 1, 9, 0}, {5, 1, 9, 0.5}, {9, 1, 9, 0.5}, {10, 1, 9, 0.65}, {30, 1, 2, 0.65}, {20, 2, 9, 0.8}, {20, 2, 1, 0.5}, {0, 0, 0, 0}} {
		if got := ReadingShare(c.evenings, c.seasons, c.stations); got != c.want {
			t.Errorf("%d evenings of %d seasons against %d stations: %.2f, want %.2f", c.evenings, c.seasons, c.stations, got, c.want)
		}
	}
}

// By hand: one station at 500 m, a garden at 700 m: 0.9 K colder by 4.5 K for each 1,000 m.
// It read 1 C, so 0.1 C in the garden; nights of 2.1 and -0.9 C there are 2 K warmer and
// 1 K colder: half a kelvin warmer on average. A night without a reading does not count.
func TestNights(t *testing.T) {
	d := calm("s", 1991, 2000)
	d.Min[day(1995, 4, 3)-d.Start] = quantity.Missing
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 0, 0, quantity.North)
	n := r.Climate(bandAt(650, 750)).Nights()
	if low, ok := n.Low(day(1995, 4, 1)); !ok || !near(float64(low), 0.1, 1e-9) {
		t.Errorf("low %.3f %v, want 0.1", float64(low), ok)
	}
	if _, ok := n.Low(day(1995, 4, 3)); ok {
		t.Error("a night that nobody read")
	}
	by, compared := n.Unlike([]Reading{{day(1995, 4, 1), 2.1}, {day(1995, 4, 2), -0.9}, {day(1995, 4, 3), 9}, {day(2005, 4, 1), 9}})
	if compared != 2 || !near(float64(by), 0.5, 1e-9) {
		t.Errorf("%.3f K from %d nights, want 0.5 from 2", float64(by), compared)
	}
	if by, compared := n.Unlike(nil); by != 0 || compared != 0 {
		t.Errorf("no readings: %.2f from %d", float64(by), compared)
	}
}

// A garden that is warmer by as much as its band is higher has its station's own dates;
// only the season that was read is moved.
func TestWarmer(t *testing.T) {
	r := alone(weather("s", 1981, 2010, 6, 10, 3), quantity.North)
	here, above := r.Climate(bandAt(500, 500)), r.Climate(bandAt(700, 700))
	g := Gate{Limit: 0}
	warmed := above.Warmer(record.Last, 0.9)
	if a, b := warmed.Date(record.Last, quantity.Half, g), here.Date(record.Last, quantity.Half, g); a.Exact != b.Exact {
		t.Errorf("last %.1f, at the station %.1f", a.Exact, b.Exact)
	}
	if a, b := warmed.Date(record.First, quantity.Half, g), above.Date(record.First, quantity.Half, g); a.Exact != b.Exact {
		t.Errorf("first moved to %.1f from %.1f by spring readings", a.Exact, b.Exact)
	}
	if a, ok := warmed.Curves().At(record.Last, quantity.Half, g); ok && a.Exact != here.Date(record.Last, quantity.Half, g).Exact {
		t.Errorf("by the curves %.1f: those of the band, not of the garden", a.Exact)
	}
}
