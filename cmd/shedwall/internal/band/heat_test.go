package band

import (
	"strings"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// spell sets minima and maxima of the days a to b, both included, in hundredths.
func spell(d *record.Daily, a, b quantity.Day, low, high quantity.Hundredths) {
	for on := a; on <= b; on++ {
		d.Min[on-d.Start], d.Max[on-d.Start] = low, high
	}
}

// plainDate is a date of half the years at one station, read as it is.
func plainDate(h quantity.Hemisphere, a Answer) string {
	if a.State != Dated {
		return "none"
	}
	return date(h, a)
}

// By hand: each year has 30 C from 1 June to 31 August but for 20 C on 10-14 July, and a
// hot week of 1-7 April. The mean maximum of a month is 30 C where all its days are, from
// 15 June (1-30 June) to 16 August (2-31 August), and 15 C with 15 hot days (14: 14.5), from
// 31 May (17 May to 15 June) to 31 August (17 August to 15 September); the hot week of April
// makes 7.8 C. The thirty days from 14 before a day to 15 after have a mean of minima of 1
// C and maxima as said: 12 C needs a mean maximum of 23: 30 days of 22.76 hot ones
// (1 + 29 n/30 = 23, n = 22.8), so 23 days: those around 8 June reach from 25 May to 23
// June and have 23 of them; those around 24 August from 10 August to 8 September have 22,
// around 23 August 23.
func TestHeatByHand(t *testing.T) {
	for _, h := range []quantity.Hemisphere{quantity.North, quantity.South} {
		d := calm("s", 1990, 2012)
		for y := 1990; y <= 2012; y++ {
			spell(d, day(y, 6, 1), day(y, 8, 31), 100, 3000)
			spell(d, day(y, 7, 10), day(y, 7, 14), 100, 2000)
			spell(d, day(y, 4, 1), day(y, 4, 7), 100, 3000)
		}
		if h == quantity.South { // the same half a year later
			d = moved(d, 184, 0)
		}
		c := alone(d, h).Climate(bandAt(500, 500))
		check := func(name string, s Series, limit quantity.Celsius, from, to string) {
			t.Helper()
			begins, ends := c.Heat(s, quantity.Half, limit)
			if h == quantity.South { // half a year is 184 slots, and now and then a day less in days
				shown := quantity.North.MonthDay(begins.Slot-1).String() + quantity.North.MonthDay(begins.Slot).String() + quantity.North.MonthDay(begins.Slot+1).String()
				if from != "none" && !strings.Contains(shown, from) {
					t.Errorf("south, %s: from %s, want %s", name, shown, from)
				}
				return
			}
			if a, b := plainDate(h, begins), plainDate(h, ends); a != from || b != to {
				t.Errorf("%s: %s to %s, want %s to %s", name, a, b, from, to)
			}
		}
		check("days of 30 C", Hot, 30, "06-15", "08-16")
		check("days of 15 C", Hot, 15, "05-31", "08-31")
		check("never so hot", Hot, 31, "none", "none")
		check("a month of 12 C", Month, 12, "06-08", "08-23")
		if begins, _ := c.Heat(Hot, quantity.Half, 31); begins.State != NoneNeeded {
			t.Errorf("never so hot: %+v", begins)
		}
	}
}

// Hot weather goes by maxima: a station 1,000 m lower has it at its own limit plus the
// lapse of maxima, 6.5 K, and no position counts. By hand: the band at 1,500 m asks the
// station at 500 m for 23.5 + 6.5 = 30 C.
func TestHeatIsCarriedByMaxima(t *testing.T) {
	d := calm("s", 1990, 2012)
	for y := 1990; y <= 2012; y++ {
		spell(d, day(y, 6, 1), day(y, 8, 31), 100, 3000)
	}
	b := bandAt(1500, 1500)
	b.Position = known(catalog.Hollow)
	c := alone(d, quantity.North).Climate(b)
	begins, _ := c.Heat(Hot, quantity.Half, 23.5)
	if plainDate(quantity.North, begins) != "06-15" || begins.Parts[0].Compared[0] != -3000 {
		t.Errorf("%+v", begins)
	}
	if later, _ := c.Heat(Hot, quantity.Half, 23.6); later.State != NoneNeeded {
		t.Errorf("a tenth more is never reached: %+v", later)
	}
}

// Rarer odds begin earlier and end later: by hand, of twenty summers that begin on 1 to 20
// June (months of 30 C from the 15th on, one day each later) and end on 1 to 20 August (17
// July on), one in ten has begun by the second or third and lasts to the 18th or 19th, half
// by the tenth or eleventh.
func TestHeatAtOdds(t *testing.T) {
	d := calm("s", 1991, 2011)
	for k := range 20 {
		spell(d, day(1991+k, 6, 1+k), day(1991+k, 8, 1+k), 100, 3000)
	}
	r := NewRegion([]catalog.Station{station("s", 500, 0)}, map[string]*record.Daily{"s": d}, 1991, 2010, quantity.North)
	c := r.Climate(bandAt(500, 500))
	careful, until := c.Heat(Hot, quantity.Careful, 30)
	half, halfUntil := c.Heat(Hot, quantity.Half, 30)
	if date(quantity.North, careful) != "06-16" || date(quantity.North, half) != "06-24" {
		t.Errorf("begins %s, %s", date(quantity.North, careful), date(quantity.North, half))
	}
	if date(quantity.North, until) != "08-04" || date(quantity.North, halfUntil) != "07-27" {
		t.Errorf("ends %s, %s", date(quantity.North, until), date(quantity.North, halfUntil))
	}
}

// Soil is asked for fourteen days in a row. By hand: the mean of eleven days is 20 C from
// 11 April on, where the days from 1 April are (the mean of day d is that of d-10 to d);
// a warm spell of 20 days from 1 February lasts, as a mean of eleven, from 11 to 20
// February only and opens nothing.
func TestSoilAfterFalseSpring(t *testing.T) {
	d := calm("s", 1990, 2012)
	for y := 1990; y <= 2012; y++ {
		spell(d, day(y, 4, 1), day(y, 9, 30), 2000, 2000)
		spell(d, day(y, 2, 1), day(y, 2, 20), 2000, 2000)
	}
	c := alone(d, quantity.North).Climate(bandAt(500, 500))
	if a := c.Date(record.Last, quantity.Half, Gate{Series: Soil, Limit: 20}); date(quantity.North, a) != "04-11" {
		t.Errorf("%s", date(quantity.North, a))
	}
}

// By hand: 1 C on all days but those from 1 May on, which have 20 C, and 8 C on 5, 9 and
// 13 June: counted back from midsummer, the third cold day at 8 C is 5 June, the fourth 30
// April.
func TestColdDaysByHand(t *testing.T) {
	d := calm("s", 1990, 2012)
	for y := 1990; y <= 2012; y++ {
		spell(d, day(y, 5, 1), day(y, 9, 30), 1500, 2500)
		for _, k := range []int{5, 9, 13} {
			spell(d, day(y, 6, k), day(y, 6, k), 500, 1100)
		}
	}
	c := alone(d, quantity.North).Climate(bandAt(500, 500))
	for count, want := range map[int]string{1: "06-13", 3: "06-05", 4: "04-30", 300: "none"} {
		a := c.Date(record.Last, quantity.Half, Gate{Series: Cold, Limit: 8, Count: count})
		if plainDate(quantity.North, a) != want {
			t.Errorf("%d cold days: %+v, want %s", count, a, want)
		}
	}
}

// A station without maxima keeps its own nights and takes the soil's date from those that
// have some; where none has, the gate is left out and said so. By hand: eleven days have a
// mean of 15 C with nine of 20 C and two of 1 C (16.5; eight: 14.8), on 9 April.
func TestStationWithoutMaxima(t *testing.T) {
	warm := calm("b", 1990, 2012)
	for y := 1990; y <= 2012; y++ {
		spell(warm, day(y, 4, 1), day(y, 9, 30), 2000, 2000)
	}
	bare := calm("a", 1990, 2012)
	for i := range bare.Max {
		bare.Max[i] = quantity.Missing
	}
	for y := 1990; y <= 2012; y++ {
		spell(bare, day(y, 4, 1), day(y, 9, 30), 2000, quantity.Missing)
		spell(bare, day(y, 3, 20), day(y, 3, 20), -500, quantity.Missing)
	}
	rows := []catalog.Station{station("a", 500, 0), station("b", 500, 10)}
	gates := []Gate{{Limit: 0}, {Series: Soil, Limit: 15}}
	region := func(records map[string]*record.Daily) *Climate {
		r := NewRegion(rows, records, 0, 0, quantity.North)
		r.Plain = true
		return r.Climate(bandAt(500, 500))
	}
	a := region(map[string]*record.Daily{"a": bare, "b": warm}).Date(record.Last, quantity.Half, gates...)
	if len(a.Parts) != 2 || date(quantity.North, a) != "04-09" || a.Decides != 1 || !a.Apart || len(a.LeftOut) > 0 {
		t.Errorf("with another station's soil: %+v", a)
	}
	c := region(map[string]*record.Daily{"a": bare})
	a = c.Date(record.Last, quantity.Half, gates...)
	if len(a.Parts) != 1 || date(quantity.North, a) != "03-20" || len(a.LeftOut) != 1 || a.LeftOut[0] != Soil {
		t.Errorf("nobody tells soil: %+v", a)
	}
	if a := c.Date(record.Last, quantity.Half, gates[1]); a.State != NotKnown || c.Tells(Soil) != ToldNot {
		t.Errorf("soil alone: %+v", a)
	}
	years := c.Years(record.Last, quantity.Half, 0, false, gates...)
	if len(years) != 23 || years[0].Decides != 0 {
		t.Errorf("its years are its nights': %+v", years[0])
	}
}

// By hand: stations at 179 E and 179 W are two degrees apart, and their middle is 180.
func TestMiddleAcrossTheDateLine(t *testing.T) {
	rows := []catalog.Station{station("a", 500, 0), station("b", 500, 0)}
	rows[0].Longitude, rows[1].Longitude = known(179.0), known(-179.0)
	r := NewRegion(rows, map[string]*record.Daily{"a": calm("a", 1990, 2012), "b": calm("b", 1990, 2012)}, 0, 0, quantity.North)
	c := r.Climate(bandAt(500, 500))
	if got := c.site.longitude; got != 180 && got != -180 {
		t.Errorf("longitude %v, want 180", got)
	}
	if !near(c.Weight(0), c.Weight(1), 1e-9) {
		t.Errorf("weights %v and %v", c.Weight(0), c.Weight(1))
	}
}
