package cover

import (
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"testing"

	"shedwall/cmd/shedwall/internal/diag"
	"shedwall/cmd/shedwall/internal/intake"
	"shedwall/cmd/shedwall/internal/proof"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// pair is an invented pair of loggers: forty days at ten-minute steps, three readings
// in a hundred missing, weather that changes from day to day, the inside warmer by
// gain at night and by up to 15 K by day, its clock ahead by so many minutes.
func pair(gain float64, ahead int, seed int64) (inside, outside record.Logger) {
	random := rand.New(rand.NewSource(seed))
	level := 2.0
	for d := range 40 {
		level = 2 + 0.6*(level-2) + 3*random.NormFloat64()
		for m := 0; m < 1440; m += 10 {
			at := record.MomentOf(quantity.DayOf(2021, 3, 20)+quantity.Day(d), m)
			hour := float64(m) / 60
			out := level + 10*warmthAt(hour, 12.5) + 0.3*random.NormFloat64()
			in := out + gain
			if hour > 8 && hour < 17 {
				in += 15 * math.Sin(math.Pi*(hour-8)/9)
			}
			add := func(l *record.Logger, at record.Moment, v float64) {
				if random.Float64() > 0.03 {
					l.Readings = append(l.Readings, record.Reading{At: at, Value: quantity.Celsius(math.Round(v*10) / 10).Hundredths()})
				}
			}
			add(&inside, at+record.Moment(ahead), in)
			add(&outside, at, out)
		}
	}
	return inside, outside
}

// A pair of known gain, 2.0 K, also with one clock an hour off, which is named; five
// hours are a fault for the command; set back, the gain is right again.
func TestTrialOfAKnownGain(t *testing.T) {
	for seed := int64(1); seed <= 5; seed++ {
		for _, ahead := range []int{0, 60, -60, 300, -480} {
			inside, outside := pair(2.0, ahead, seed)
			found, sure := ClockAhead(inside, outside)
			if !sure || found != ahead {
				t.Errorf("seed %d, clock ahead by %d: found %d, sure %v", seed, ahead, found, sure)
			}
			if abs(ahead) > 60 {
				inside = Set(inside, -found)
			}
			trial := NewTrial(inside, outside)
			best, _ := trial.Best()
			if math.Abs(float64(best.Middle)-2) > 0.2 || best.Nights < FairNights {
				t.Errorf("seed %d, clock ahead by %d: gain %.2f K over %d nights, want 2.0 give or take 0.2", seed, ahead, best.Middle, best.Nights)
			}
			if n := len(trial.Nights); n < 38 || n > 39 { // the first evening and the last morning have no partner
				t.Errorf("seed %d: %d nights", seed, n)
			}
		}
	}
}

// Gaps: a logger that slept from three in the morning did not see the minimum.
func TestTrialGaps(t *testing.T) {
	inside, outside := pair(1, 0, 9)
	kept := inside.Readings[:0:0]
	for _, r := range inside.Readings {
		if r.At.Day() == quantity.DayOf(2021, 4, 3) && r.At.Minute() > 180 && r.At.Minute() < 600 {
			continue
		}
		kept = append(kept, r)
	}
	inside.Readings = kept
	trial := NewTrial(inside, outside)
	for _, n := range trial.Nights {
		if n.Ends == quantity.DayOf(2021, 4, 3) {
			t.Error("the night of the gap was counted")
		}
	}
	if trial.Gaps == 0 {
		t.Error("no gap told")
	}
	if empty := NewTrial(record.Logger{}, outside); len(empty.Nights) != 0 {
		t.Error("nights of an empty logger")
	}
	if _, sure := ClockAhead(record.Logger{}, outside); sure {
		t.Error("the clock of an empty logger")
	}
	flat := record.Logger{}
	for _, r := range outside.Readings {
		flat.Readings = append(flat.Readings, record.Reading{At: r.At, Value: 500})
	}
	if _, sure := ClockAhead(flat, outside); sure {
		t.Error("a cellar of one temperature tells no time")
	}
}

// By hand: gains of 1, 2, 3, 4 and -1 K; Hazen's quarter is at rank 0.25 x 5 + 0.5 =
// 1.75: -1 + 0.75 x 2 = 0.5; the middle 2; three quarters at rank 4.25: 3 + 0.25 = 3.25.
func TestSpread(t *testing.T) {
	var trial Trial
	for i, g := range []quantity.Celsius{1, 2, 3, 4, -1} {
		trial.Nights = append(trial.Nights, PairedNight{quantity.Day(i), g, 0})
	}
	trial.Nights = append(trial.Nights, PairedNight{9, 15, 5})
	s := trial.Spread(PairedNight.Freezing)
	if s.Nights != 5 || math.Abs(float64(s.Quarter)-0.5) > 1e-9 || s.Middle != 2 || math.Abs(float64(s.ThreeQuarter)-3.25) > 1e-9 || s.Colder != 1 {
		t.Errorf("%+v", s)
	}
	if all, freezing := trial.Best(); freezing || all.Nights != 6 {
		t.Errorf("five freezing nights are too few: %+v", all)
	}
	if none := trial.Spread(func(PairedNight) bool { return false }); none.Nights != 0 {
		t.Errorf("%+v", none)
	}
}

// The cold frame of Winona, Minnesota, March to June 2018 (C. Catlin, CC0): its
// logger keeps universal time, five hours ahead of the station; with that mended,
// gains as in the nightly table that came with it.
func TestRealPair(t *testing.T) {
	dir := filepath.Join(proof.RecordsDir(t), "loggers")
	read := func(name string) record.Logger {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			proof.Absent(t, "records", err.Error())
		}
		var faults diag.List
		l, ok := intake.Logger(name, data, intake.LoggerMapping{}, &faults)
		if !ok {
			t.Fatal(faults.Sorted())
		}
		return l
	}
	inside, outside := read("inside_coldframe_2018.csv"), read("outside_winona_station_2018.csv")
	ahead, sure := ClockAhead(inside, outside)
	if !sure || ahead != 300 {
		t.Errorf("clock ahead by %d minutes, want 300", ahead)
	}
	trial := NewTrial(Set(inside, -300), outside)
	all, freezing := trial.Spread(nil), trial.Spread(PairedNight.Freezing)
	t.Logf("%d nights %.2f %.2f %.2f, freezing %d %.2f %.2f %.2f; unshifted %+v", all.Nights, all.Quarter, all.Middle, all.ThreeQuarter,
		freezing.Nights, freezing.Quarter, freezing.Middle, freezing.ThreeQuarter, NewTrial(inside, outside).Spread(nil))
	for _, c := range []struct {
		what string
		got  quantity.Kelvins
		want quantity.Kelvins
	}{
		{"all, quarter", all.Quarter, -1.2}, {"all, middle", all.Middle, -0.1}, {"all, three quarters", all.ThreeQuarter, 1.0},
		{"freezing, quarter", freezing.Quarter, -1.0}, {"freezing, middle", freezing.Middle, 0.3}, {"freezing, three quarters", freezing.ThreeQuarter, 2.0},
	} {
		if math.Abs(float64(c.got-c.want)) > 0.4 { // the station reads whole degrees
			t.Errorf("%s: %.2f K, published %.1f", c.what, c.got, c.want)
		}
	}
}
