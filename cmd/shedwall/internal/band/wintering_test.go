package band

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// Shares of winters are counted: with one station standing in the band they are
// the station's own, and a gain moves the limit, never the count of winters.
func TestWinteringCounts(t *testing.T) {
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": cold()}, 1991, 2002, quantity.North)
	r.UsePlainYears()
	c := r.Climate(bandAt(500, 500))
	c.Region.Stations[0].winter = nil
	for k := range 20 {
		c.Region.Stations[0].winter = append(c.Region.Stations[0].winter, -10-float64(k)) // -10 ... -29
	}
	for _, x := range []struct {
		limit quantity.Celsius
		gain  quantity.Kelvins
		want  float64
		rare  bool
	}{
		{-15, 0, 5.0 / 20, false},    // -10 to -14 stay above; -15 is at the limit and harms
		{-15, 4, 9.0 / 20, false},    // as a limit of -19
		{-5, 0, 0, true},             // every winter is colder
		{-29.5, 0, 1, true},          // none is
		{-28.5, 0, 19.0 / 20, false}, // one winter in twenty: as rare as twenty can tell
	} {
		w := c.Wintering(x.limit, x.gain)
		if !w.Known || w.Share != x.want || w.Rare() != x.rare || w.Winters != 20 {
			t.Errorf("limit %v gain %v: %+v rare %v; want share %v rare %v of 20 winters", x.limit, x.gain, w, w.Rare(), x.want, x.rare)
		}
	}
}

// Thirty winters, on 20 January, that get milder by 0.1 K a year from -12.9 to -10 C: as
// they were -11.45 C on average; moved to the present by half of that, from 1 K (1.45,
// cut) in the first ten years to nothing in the last. By hand: years 0 to 9 move by 1,
// year k of the other twenty by 0.05 (29 - k), 0.475 on average: 19.5/30 = 0.65 K in all,
// -10.8 C. The sheet keeps the colder mean. A limit of -11.6 C is stayed above in the last
// 16 of the plain winters (-11.5 and up), at present in years 3 to 29 (-12.6 + 1 = -11.6 is
// at the limit, -12.5 + 1 above it), so 26; a record that gets colder the other way round.
func TestWintersAtPresent(t *testing.T) {
	build := func(perYear quantity.Hundredths, from quantity.Hundredths) *Climate {
		d := calm("s", 1990, 2021)
		for k := range 30 {
			set(d, day(1991+k, 1, 20), from+perYear*quantity.Hundredths(k))
		}
		r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 1991, 2020, quantity.North)
		return r.Climate(bandAt(500, 500))
	}
	c := build(10, -1290)
	plain, now := c.WinterBothWays()
	if w := c.Winter(); !near(float64(plain.MeanExtreme), -11.45, 1e-9) || !near(float64(now.MeanExtreme), -10.8, 1e-9) || w.MeanExtreme != plain.MeanExtreme || w.Zone != "8a" {
		t.Errorf("plain %+v, at present %+v, printed %+v", plain, now, w)
	}
	was, is := c.WinteringBothWays(-11.6, 0)
	if w := c.Wintering(-11.6, 0); !near(was.Share, 16.0/30, 1e-9) || !near(is.Share, 26.0/30, 1e-9) || w.Share != was.Share {
		t.Errorf("plain %+v, at present %+v, printed %+v", was, is, w)
	}
	colder := build(-10, -1000)
	plain, now = colder.WinterBothWays()
	if w := colder.Winter(); now.MeanExtreme >= plain.MeanExtreme || w.MeanExtreme != now.MeanExtreme || !near(float64(w.Coldest), -12.9, 1e-9) {
		t.Errorf("winters that get colder: plain %+v, at present %+v, printed %+v", plain, now, w)
	}
	colder.Region.Plain = true
	if w := colder.Winter(); w.MeanExtreme != plain.MeanExtreme {
		t.Errorf("plain years were asked for: %+v", w)
	}
}
