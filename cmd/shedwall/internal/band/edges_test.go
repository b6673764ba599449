package band

import (
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// regionOf is a region of one station at 500 m with a record, all its years.
func regionOf(d *record.Daily, h quantity.Hemisphere) *Region {
	return NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 0, 0, h)
}

// frostyYears is 1 C with frosts of -3 C on two days of each year and a winter of 0.5 C
// around them.
func frostyYears(from, to int, spring, fall quantity.MonthDay) *record.Daily {
	d := calm("s", from, to)
	for y := from; y <= to; y++ {
		set(d, day(y, spring.Month, spring.Day), -300)
		set(d, day(y, fall.Month, fall.Day), -300)
	}
	return d
}

// askAll asks a band everything a guide asks; nothing may panic. It gives the careful
// and half answers at 0 C by event.
func askAll(t *testing.T, r *Region) (careful, half [2]Answer) {
	t.Helper()
	c := r.Climate(bandAt(450, 550))
	c.Winter()
	c.WinterBothWays()
	c.ZoneRange()
	c.Wintering(-20, 2)
	c.FrostFree(0)
	c.Soil(quantity.Half)
	c.Latitude()
	c.Nights().Unlike([]Reading{{day(2000, 4, 1), 3}})
	for _, e := range events {
		c.DaysPerHundredMetres(e)
		careful[e], half[e] = c.Date(e, quantity.Careful, Gate{}), c.Date(e, quantity.Half, Gate{})
		c.Date(e, quantity.Half, Gate{}, Gate{Series: Week, Limit: 3}, Gate{Series: Soil, Limit: 8})
		for i := range r.Stations {
			c.Years(e, quantity.Half, i, true, Gate{})
		}
		r.MeanMiss(e)
	}
	r.BackTest([]catalog.Band{*bandAt(450, 550)})
	r.Propose(nil)
	return careful, half
}

// Records that are empty, short, cut off or of the south: states, and no date but those
// that hold.
func TestAnswersFromPoorRecords(t *testing.T) {
	spring, fall := quantity.MonthDay{Month: 4, Day: 20}, quantity.MonthDay{Month: 10, Day: 5}
	cutOff := frostyYears(1991, 2020, spring, fall)
	cutOff.Min, cutOff.Max = cutOff.Min[:len(cutOff.Min)-92], cutOff.Max[:len(cutOff.Max)-92] // 30 September 2020
	gaps := frostyYears(1991, 2020, spring, fall)
	for i := range gaps.Min {
		gaps.Min[i], gaps.Max[i] = quantity.Missing, quantity.Missing
	}
	for _, c := range []struct {
		name          string
		d             *record.Daily
		h             quantity.Hemisphere
		careful, half State
		last, first   string // half dates
		used          [2]int
	}{
		{name: "no record", d: nil, careful: NotKnown, half: NotKnown},
		{name: "a record without a day", d: &record.Daily{Station: "s"}, careful: NotKnown, half: NotKnown},
		{name: "nothing but gaps", d: gaps, careful: NotKnown, half: NotKnown},
		{name: "one year", d: frostyYears(2001, 2001, spring, fall), careful: NotKnown, half: NotKnown},
		{name: "four years", d: frostyYears(2001, 2004, spring, fall), careful: NotKnown, half: NotKnown},
		{name: "nine years", d: frostyYears(2001, 2009, spring, fall), careful: NotKnown, half: Dated, last: "04-20", first: "10-05", used: [2]int{9, 9}},
		{name: "cut off in September", d: cutOff, careful: Dated, half: Dated, last: "04-20", first: "10-05", used: [2]int{29, 29}},
		{name: "the south", d: frostyYears(1991, 2020, fall, spring), h: quantity.South, careful: Dated, half: Dated, last: "10-05", first: "04-20", used: [2]int{29, 30}},
		{name: "never", d: calm("s", 1991, 2020), careful: NoneNeeded, half: NoneNeeded, used: [2]int{29, 29}},
	} {
		careful, half := askAll(t, regionOf(c.d, c.h))
		for _, e := range events {
			if careful[e].State != c.careful || half[e].State != c.half || half[e].Used != c.used[e] {
				t.Errorf("%s, %v: careful %+v\nhalf %+v", c.name, e, careful[e], half[e])
				continue
			}
			want := c.last
			if e == record.First {
				want = c.first
			}
			if got := c.h.MonthDay(half[e].Slot).String(); half[e].State == Dated && got != want {
				t.Errorf("%s, %v: %s, want %s", c.name, e, got, want)
			}
		}
	}
}

// A station of one year among good ones is not heard, and harms nothing.
func TestPoorStationAmongGood(t *testing.T) {
	good := frostyYears(1991, 2020, quantity.MonthDay{Month: 4, Day: 20}, quantity.MonthDay{Month: 10, Day: 5})
	poor := frostyYears(2001, 2001, quantity.MonthDay{Month: 6, Day: 20}, quantity.MonthDay{Month: 8, Day: 5})
	rows := []catalog.Station{station("s", 500, 0), station("p", 500, 1), station("none", 500, 2)}
	r := NewRegion(rows, map[string]*record.Daily{"s": good, "p": poor}, 0, 0, quantity.North)
	_, half := askAll(t, r)
	north(t, half[record.Last].Slot, "04-20")
	if len(half[record.Last].Parts) != 1 || len(r.Left) != 1 {
		t.Errorf("parts %+v, left out %v", half[record.Last].Parts, r.Left)
	}
}

// Real places where frost is rare, late or always about: what a band there is told.
// Sydney never freezes; a summit at 2,125 m has no careful date at 0 C; Death Valley is
// free of -4.4 C in most winters; William Head's freezes come about New Year.
func TestAnswersFromRealEdges(t *testing.T) {
	one := func(file, station string, m intake.Mapping) *record.Daily {
		for _, d := range realRecords(t, file, m) {
			if station == "" || d.Station == station {
				return &d
			}
		}
		t.Fatalf("no station %s in %s", station, file)
		return nil
	}
	careful, half := askAll(t, regionOf(one("IDCJAC0011_066062_1800_Data.csv.gz", "", intake.Mapping{}), quantity.South))
	for _, e := range events {
		if careful[e].State != NoneNeeded || half[e].State != NoneNeeded || half[e].Without != half[e].Used {
			t.Errorf("Sydney, %v: %+v, %+v", e, careful[e], half[e])
		}
	}
	careful, half = askAll(t, regionOf(one(trentinoFile, "T0099", intake.Mapping{}), quantity.North))
	for _, e := range events {
		if careful[e].State != AnyMonth || half[e].State != Dated {
			t.Errorf("Paganella, %v: %+v, %+v", e, careful[e], half[e])
		}
	}
	valley := regionOf(one("ghcnd_cdo_NOAA_data4.csv.gz", "GHCND:USC00042319", intake.Mapping{}), quantity.North)
	careful, half = askAll(t, valley)
	hard := valley.Climate(bandAt(500, 500)).Date(record.Last, quantity.Half, Gate{Limit: -4.4})
	if careful[record.Last].State != Dated || half[record.Last].Without != 1 || hard.State != NoneNeeded {
		t.Errorf("Death Valley: %+v, %+v, at -4.4 C %+v", careful[record.Last], half[record.Last], hard)
	}
	head := regionOf(one("ec_1018935_MIN_TEMP.csv", "", intake.Mapping{Date: []string{"year"}, DayOfYear: "jday", Tmin: "MIN_TEMP", Unit: intake.UnitC}), quantity.North)
	askAll(t, head)
	first := head.Climate(bandAt(500, 500)).Date(record.First, quantity.Half, Gate{Limit: -2.2})
	if md := quantity.North.MonthDay(first.Slot); first.State != Dated || md.Month != 1 {
		t.Errorf("William Head: first -2.2 C in half the years on %v: %+v", md, first)
	}
}
