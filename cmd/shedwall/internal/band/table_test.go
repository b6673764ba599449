package band

import (
	"fmt"
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// averages is a table of two typed average dates at 0 C.
func averages(last, first quantity.MonthDay) *record.Freeze {
	return &record.Freeze{Typed: true, Rows: []record.FreezeRow{
		{Event: record.Last, Odds: 0.5, Date: last}, {Event: record.First, Odds: 0.5, Date: first},
	}}
}

// publishedTable is a table at -4.4, 0 and 2.2 C, the odds 10, 50 and 90 %, 14 days
// apart at a threshold and 13.2 from threshold to threshold (3 days a kelvin below 0),
// about 8 May and 5 October at 0 C; years 1991-2020.
func publishedTable() *record.Freeze {
	f := &record.Freeze{From: 1991, To: 2020, Years: 28}
	for _, below := range []float64{-4.4, 0, 2.2} {
		for k, odds := range []quantity.Odds{0.9, 0.5, 0.1} {
			days := quantity.Slot(14*(k-1)) + quantity.Slot(3*below)
			last, first := quantity.North.SlotOf(quantity.MonthDay{Month: 5, Day: 8})+days, quantity.North.SlotOf(quantity.MonthDay{Month: 10, Day: 5})-days
			f.Rows = append(f.Rows,
				record.FreezeRow{Event: record.Last, Below: quantity.Celsius(below), Odds: odds, Date: quantity.North.MonthDay(last)},
				record.FreezeRow{Event: record.First, Below: quantity.Celsius(below), Odds: odds, Date: quantity.North.MonthDay(first)})
		}
	}
	return f
}

// ramp is a course that is 0 C on 1 February (slot 184) and warms by 0.1 C a day up to
// the end of the season year; before 1 February it cools as it warms after it. The
// means of January are added.
func ramp(monthly [12]float64) []float64 {
	out := make([]float64, quantity.SlotsPerYear)
	for s := range out {
		out[s] = monthly[0] + 0.1*max(float64(s-184), float64(184-s))
	}
	return out
}

// tableRegion is a region of tables at one place, heights in metres.
func tableRegion(h quantity.Hemisphere, tables ...*record.Freeze) *Region {
	w := Weather{Tables: map[string]*record.Freeze{}, Course: ramp}
	var rows []catalog.Station
	for i, f := range tables {
		id := fmt.Sprintf("t%d", i)
		rows = append(rows, station(id, 500, 0))
		w.Tables[id] = f
	}
	return RegionOf(rows, w, 0, 0, h)
}

func date(h quantity.Hemisphere, a Answer) string {
	s := [...]string{"not known", "", "none needed", "never", "any month"}[a.State]
	if a.State == Dated {
		s = h.MonthDay(a.Slot).String()
	}
	if a.Estimate {
		s += "?"
	}
	return s
}

// A band at the station's height has the station's dates; one 100 m higher has T* 0.45
// C higher (4.5 K for each 1,000 m): by hand 7 x 0.45 = 3.15 days for typed averages,
// 100 m lower 4.5 x 0.45 = 2.0. One year in ten is 13 x 1.2816 = 16.7 days further.
func TestTypedAverages(t *testing.T) {
	north, south := quantity.North, quantity.South
	may, october := quantity.MonthDay{Month: 5, Day: 8}, quantity.MonthDay{Month: 10, Day: 5}
	november, april := quantity.MonthDay{Month: 11, Day: 8}, quantity.MonthDay{Month: 4, Day: 5}
	for _, c := range []struct {
		h      quantity.Hemisphere
		table  *record.Freeze
		height float64
		event  record.Event
		odds   quantity.Odds
		limit  quantity.Celsius
		want   string
	}{
		{north, averages(may, october), 500, record.Last, quantity.Half, 0, "05-08?"},
		{north, averages(may, october), 500, record.Last, quantity.Careful, 0, "05-25?"},
		{north, averages(may, october), 600, record.Last, quantity.Half, 0, "05-12?"},
		{north, averages(may, october), 400, record.Last, quantity.Half, 0, "05-06?"},
		{north, averages(may, october), 600, record.First, quantity.Half, 0, "10-01?"},
		{north, averages(may, october), 500, record.First, quantity.Careful, 0, "09-18?"},
		{north, averages(may, october), 500, record.Last, quantity.Half, -10, "not known"},
		{north, averages(may, october), 500, record.Last, quantity.Half, 4, "not known"},
		{south, averages(november, april), 500, record.Last, quantity.Careful, 0, "11-25?"},
		{south, averages(november, april), 600, record.First, quantity.Half, 0, "04-01?"},
	} {
		cl := tableRegion(c.h, c.table).Climate(bandAt(c.height, c.height))
		a := cl.Date(c.event, c.odds, Gate{Limit: c.limit})
		if got := date(c.h, a); got != c.want {
			t.Errorf("%v %v at %v m, %v C: %s, want %s", c.event, c.odds, c.height, c.limit, got, c.want)
		}
		if a.State == Dated && (a.Used != 0 || a.Shifted || a.PlusMinus < 2 || c.event == record.First && a.Slot < quantity.SlotsPerYear) {
			t.Errorf("%v %v: %+v", c.event, c.odds, a)
		}
	}
	cl := tableRegion(north, averages(may, october)).Climate(bandAt(500, 500))
	if days, ok := cl.FrostFree(0); !ok || days != 150 { // 8 May to 5 October
		t.Errorf("frost-free: %d %v, want 150 days", days, ok)
	}
	if cl.Winter().Known || cl.Wintering(-10, 0).Known || cl.Soil(quantity.Half) != nil || cl.Region.LastYear() >= cl.Region.FirstYear() {
		t.Error("two dates tell nothing of winters, soil or years")
	}
	if b := cl.Region.Basis(); b != (Basis{Tables: 1, Typed: 1}) {
		t.Errorf("basis %+v", b)
	}
}

// A published table: -2.2 C lies half way between -4.4 and 0 C, 6.6 days before 8 May
// (13 whole days apart: 6.5); one year in ten 14 days later. 28 years stand behind it.
func TestPublishedTable(t *testing.T) {
	r := tableRegion(quantity.North, publishedTable())
	cl := r.Climate(bandAt(500, 500))
	for _, c := range []struct {
		event record.Event
		odds  quantity.Odds
		limit quantity.Celsius
		want  string
	}{
		{record.Last, quantity.Half, 0, "05-08"}, {record.Last, quantity.Careful, -2.2, "05-16"}, // 22 May - 6.5 = 15.5
		{record.First, quantity.Careful, 0, "09-21"}, {record.First, quantity.Half, -2.2, "10-11"}, // 5 October + 6.5 = 11.5
		{record.Last, quantity.Half, -5, "not known"}, {record.Last, 0.05, 0, "not known"},
	} {
		a := cl.Date(c.event, c.odds, Gate{Limit: c.limit})
		if got := date(quantity.North, a); got != c.want {
			t.Errorf("%v %v %v C: %s, want %s", c.event, c.odds, c.limit, got, c.want)
		}
		if a.State == Dated && a.Used != 28 {
			t.Errorf("%d years, want 28", a.Used)
		}
	}
	if r.FirstYear() != 1991 || r.LastYear() != 2020 {
		t.Errorf("years %d-%d", r.FirstYear(), r.LastYear())
	}
	if rows := r.Behind(0, record.Last, -2.2, quantity.Half); len(rows) != 2 || rows[0].Below != -4.4 || rows[1].Below != 0 {
		t.Errorf("behind it: %+v", rows)
	}
}

// Several gates of a table: without normals, weeks and soil are left out and said so.
// With normals, by hand from the ramp: soil lags 5 days, so it reaches 13.95 C on slot
// 184 + 145 = 329; weeks lag 3 and pass 10.05 C after slot 287. Soil holds half the dates 1.8 days
// after that, 330.8, and careful ones 13 x 1.2816 = 16.7 later, 347.5; weeks hold them at
// 287 + 13 = 300 and 13 x 1.2816 = 16.7 later. Nights let go on 8 May, slot 281, and 22 May, slot 295.
func TestTableGates(t *testing.T) {
	night, week, soil := Gate{Limit: 0}, Gate{Series: Week, Limit: 10.05}, Gate{Series: Soil, Limit: 13.95}
	bare := tableRegion(quantity.North, publishedTable()).Climate(bandAt(500, 500))
	a := bare.Date(record.Last, quantity.Half, night, week, soil)
	if date(quantity.North, a) != "05-08" || !slices.Equal(a.LeftOut, []Series{Week, Soil}) || !a.Apart || a.Decides != 0 {
		t.Errorf("without normals: %+v", a)
	}
	if bare.Tells(Week) != ToldNot || bare.Tells(Soil) != ToldNot || bare.Tells(Night) != ToldByDays {
		t.Error("without normals nights alone are told")
	}
	if a := bare.Date(record.Last, quantity.Half, soil); a.State != NotKnown {
		t.Errorf("soil alone, without normals: %+v", a)
	}
	f := publishedTable()
	f.Normals = &record.Normals{HasMax: true}
	full := tableRegion(quantity.North, f).Climate(bandAt(500, 500))
	for _, c := range []struct {
		name    string
		odds    quantity.Odds
		gates   []Gate
		slot    float64
		decides int
	}{
		{"night and week, half", quantity.Half, []Gate{night, week}, 300, 1},
		{"night and week, careful", quantity.Careful, []Gate{night, week}, 316.7, 1},
		{"all, half", quantity.Half, []Gate{night, week, soil}, 330.8, 2},
		{"all, careful", quantity.Careful, []Gate{night, week, soil}, 347.5, 2},
		{"soil is warm early enough", quantity.Half, []Gate{night, {Series: Soil, Limit: 8}}, 281, 0},
		{"weeks are never so cold", quantity.Half, []Gate{night, {Series: Week, Limit: -10}}, 281, 0},
	} {
		a := full.Date(record.Last, c.odds, c.gates...)
		if a.State != Dated || !near(a.Exact, c.slot, 0.1) || a.Decides != c.decides || len(a.LeftOut) > 0 || !a.Estimate {
			t.Errorf("%s: %+v, want slot %.1f held by gate %d, an estimate", c.name, a, c.slot, c.decides)
		}
	}
	// Fall: on the way down weeks pass 5.05 C first on slot 184 - 50 + 3 = 137, 9 days
	// later than half the years see it: slot 366 + 128; nights of 0 C come on 5 October, slot 65.
	if a := full.Date(record.First, quantity.Half, Gate{Series: Week, Limit: 5.05}); !near(a.Exact, 366+128, 0.1) {
		t.Errorf("weeks in fall: %+v", a)
	}
	if a := full.Date(record.First, quantity.Half, night, Gate{Series: Week, Limit: 5}); !near(a.Exact, 366+65, 0.1) || a.Decides != 0 {
		t.Errorf("nights before weeks in fall: %+v", a)
	}
	if full.Soil(quantity.Half) == nil || full.Tells(Soil) != ToldByMeans || full.Tells(Week) != ToldByMeans {
		t.Error("normals tell of soil and weeks")
	}
	if a := full.Date(record.Last, quantity.Half, Gate{Series: Soil, Limit: 40}, night); a.State != Never {
		t.Errorf("soil that never gets so warm: %+v", a)
	}
	// A seed that may be sown 20 days before its seedling must be safe.
	early := Gate{Limit: 0, Days: NewDays(20, nil)}
	if a := full.Date(record.Last, quantity.Half, early); !near(a.Exact, 261, 0.1) {
		t.Errorf("sown before: %+v", a)
	}
}

// A station with a table among stations with records borrows what it cannot tell: its
// date is the later of its own frost and their soil.
func TestTableBesideRecord(t *testing.T) {
	d := weather("s", 1991, 2020, 5, 10, 3)
	rows := []catalog.Station{station("s", 500, 0), station("t", 500, 0)}
	w := Weather{Records: map[string]*record.Daily{"s": d}, Tables: map[string]*record.Freeze{"t": publishedTable()}}
	r := RegionOf(rows, w, 0, 0, quantity.North)
	r.Plain = true
	cl := r.Climate(bandAt(500, 500))
	night, soil := Gate{Limit: 0}, Gate{Series: Soil, Limit: 14}
	soilAlone := cl.Date(record.Last, quantity.Half, soil)
	both := cl.Date(record.Last, quantity.Half, night, soil)
	if len(soilAlone.Parts) != 1 || len(both.Parts) != 2 || len(both.LeftOut) > 0 {
		t.Fatalf("%+v\n%+v", soilAlone, both)
	}
	if want := max(soilAlone.Exact, 281); !near(both.Parts[1].Slot, want, 1e-9) {
		t.Errorf("the table's part is slot %.1f, want %.1f", both.Parts[1].Slot, want)
	}
	frost := cl.Date(record.Last, quantity.Half, night)
	only := NewRegion(rows[:1], w.Records, 0, 0, quantity.North)
	only.Plain = true
	record0 := only.Climate(bandAt(500, 500)).Date(record.Last, quantity.Half, night)
	if want := (record0.Exact + 281) / 2; !near(frost.Exact, want, 1e-9) { // one place, equal weights, no offsets between them
		t.Errorf("frost slot %.2f, want %.2f half way between record and table", frost.Exact, want)
	}
	// The table's station can freeze in any month in half the years: with half the weight
	// that is a quarter of the years, too many for a careful date, not for a half one.
	high := &record.Freeze{Rows: []record.FreezeRow{
		{Event: record.Last, Odds: 0.5, State: record.FreezeAnyMonth}, {Event: record.Last, Odds: 0.9, Date: quantity.MonthDay{Month: 7, Day: 1}},
	}}
	w.Tables["t"] = high
	r = RegionOf(rows, w, 0, 0, quantity.North)
	r.Plain = true
	cl = r.Climate(bandAt(500, 500))
	if a := cl.Date(record.Last, quantity.Careful, night); a.State != AnyMonth {
		t.Errorf("careful: %+v, want any month", a)
	}
	if a := cl.Date(record.Last, quantity.Half, night); a.State != Dated {
		t.Errorf("half: %+v, want a date", a)
	}
}

// Monthly normals bear the lapse rate: by hand means fall by 6 K for each 1,000 m over
// 900 m, so half of 6 and half of 4.5 makes 5.25; maxima by 8: half of 8 and of 6.5, 7.25.
func TestLapseFromNormals(t *testing.T) {
	w := Weather{Tables: map[string]*record.Freeze{}}
	var rows []catalog.Station
	for i := range 4 {
		id, z := fmt.Sprintf("t%d", i), 300+300*float64(i)
		f := averages(quantity.MonthDay{Month: 5, Day: 8}, quantity.MonthDay{Month: 10, Day: 5})
		f.Normals = &record.Normals{HasMax: true}
		for m := range 12 {
			f.Normals.Min[m], f.Normals.Max[m] = quantity.Celsius(10-0.006*z), quantity.Celsius(20-0.008*z)
		}
		rows = append(rows, station(id, z, 5*float64(i)))
		w.Tables[id] = f
	}
	r := RegionOf(rows, w, 0, 0, quantity.North)
	for _, e := range []record.Event{record.Last, record.First} {
		if !near(float64(r.Lapse[e]), 0.00525, 1e-9) {
			t.Errorf("%v: %.5f K/m, want 0.00525", e, float64(r.Lapse[e]))
		}
	}
	if !near(float64(r.MaxLapse), 0.00725, 1e-9) || r.WinterLapse != DefaultLapse {
		t.Errorf("maxima %.5f, winter %.5f", float64(r.MaxLapse), float64(r.WinterLapse))
	}
	if len(r.Misses) == 0 || r.MissDays[record.Last] == 0 {
		t.Error("stations with tables are hidden and guessed like others")
	}
}

// What tables cannot say is not known, and nothing else breaks: a region of tables goes
// through everything that regions are asked.
func TestTableEverywhere(t *testing.T) {
	f := averages(quantity.MonthDay{Month: 5, Day: 8}, quantity.MonthDay{Month: 10, Day: 5})
	r := tableRegion(quantity.North, f, publishedTable(), f)
	cl := r.Climate(bandAt(300, 900)).Remembering()
	night := Gate{Limit: 0}
	for _, odds := range []quantity.Odds{0.02, quantity.Careful, quantity.Half, 0.9, 0.98} {
		cl.Date(record.Last, odds, night)
		cl.Date(record.First, odds, night, Gate{Series: Week, Limit: 5})
		cl.DateBothWays(record.Last, odds, night)
	}
	cl.Years(record.Last, quantity.Half, 0, true, night)
	cl.ZoneRange()
	cl.DaysPerHundredMetres(record.Last)
	if risk := cl.SeasonRisk(quantity.Careful, night, night, 281, 431); risk.Known {
		t.Errorf("a whole season's risk needs years: %+v", risk)
	}
	if _, ok := r.Trend(0, record.Last); ok {
		t.Error("a table has no trend")
	}
	if _, ok := cl.Nights().Low(day(2000, 5, 1)); ok {
		t.Error("a table has no nights")
	}
	if _, ok := r.Station("t1"); !ok || len(r.Propose(nil)) == 0 {
		t.Error("a station with a table is one like others")
	}
	if got := RegionOf([]catalog.Station{{ID: "x"}}, Weather{Tables: map[string]*record.Freeze{"x": f}}, 0, 0, quantity.North); len(got.Left) != 1 {
		t.Error("a station without a height is left out")
	}
}
