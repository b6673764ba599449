package plan

import (
	"slices"
	"testing"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// salad is an invented crop sown outside, 40 to 60 days, picked for 14, base 8 C.
func salad() catalog.Crop {
	return with(bean(), func(c *catalog.Crop) {
		c.ID, c.Name, c.Family = "salad", "Salad", "Asteraceae"
		c.YoungDamage, c.GrownDamage = known(quantity.Celsius(-2)), known(quantity.Celsius(-2))
		c.SoilMin, c.EmergeDays = known(quantity.Celsius(2)), known(5)
		c.DaysLow, c.DaysHigh, c.PickDays, c.Base = known(40), known(60), known(14), known(quantity.Celsius(8))
	})
}

// even is plainYears without its single cold nights, so that means are those of months.
func even(d *record.Daily) {
	for i := range d.Min {
		if mean := (d.Min[i] + d.Max[i]) / 2; mean == 1800 {
			d.Min[i], d.Max[i] = 1100, 2500
		}
	}
}

// By hand: 8 degree days a day where every day is 8 K above the base need 480 for 60 days
// and so 30 days at 16 a day, of which the quick kinds' 40 are the least.
func TestPace(t *testing.T) {
	heat := make([]float64, quantity.SlotsPerYear)
	for s := range heat {
		heat[s] = 8
		if s >= 300 {
			heat[s] = 16
		}
	}
	g := pace{low: 40, high: 60, heat: heat}
	g.needs = g.sum(100, 60)
	for _, x := range []struct {
		start quantity.Slot
		want  int
	}{
		{100, 60}, // as reckoned
		{270, 45}, // 30 days of 8 are 240, then 15 of 16 are 240
		{300, 40}, // 30 days would do, the quick kinds take 40
	} {
		if got := g.days(x.start); got != x.want {
			t.Errorf("from %d: %d days, by hand %d", x.start, got, x.want)
		}
	}
	if got := g.grown(270, 300); got != 0.5 {
		t.Errorf("240 of 480 degree days are %v of the growth", got)
	}
}

// By hand: without degree days each start takes 60 days; picked for 14, the next start
// comes 14 days later, from slot 100 to 140 three of them, and the last day, 140, is 12
// days after the third and prolongs the harvest by 12 of 14 days: a fourth.
func TestAgainByHand(t *testing.T) {
	var got []int
	for _, s := range again(pace{low: 40, high: 60}, 14, 100, 140, [2]quantity.Slot{}) {
		got = append(got, int(s.Start))
		if int(s.From-s.Start) != 60 || int(s.To-s.From) != 13 {
			t.Errorf("%+v: 60 days and 14 of picking", s)
		}
	}
	if !slices.Equal(got, []int{100, 114, 128, 140}) {
		t.Errorf("starts %v, by hand 100 114 128 140", got)
	}
	got = nil
	for _, s := range again(pace{low: 40, high: 60}, 14, 100, 140, [2]quantity.Slot{110, 120}) {
		got = append(got, int(s.Start))
	}
	if !slices.Equal(got, []int{100, 120, 134}) { // nothing comes up from 110 to 119; 140 is 6 days after 134
		t.Errorf("starts %v around hot soil, by hand 100 120 134", got)
	}
}

// In a band's own season: days get fewer towards summer, so the first interval is longer
// than the picking and the last shorter.
func TestIntervalFollowsTheSeason(t *testing.T) {
	c := sixStations().Climate(slopeBand(500, 500))
	tables := shed(salad())
	p := NewPlanner(tables)
	s := p.Successions(c, p.Band(c))
	if len(s) != 1 || len(s[0].Sowings) < 4 {
		t.Fatalf("%d crops; %+v", len(s), s)
	}
	first, shortest, last, _ := s[0].Interval()
	if first <= 14 || shortest < leastInterval || last > 14 {
		t.Errorf("intervals %d, shortest %d, last %d; picked for 14 days", first, shortest, last)
	}
	for i, x := range s[0].Sowings {
		if x.Start > s[0].Last.Slot {
			t.Error("a sowing after the last useful one")
		}
		if i > 0 && x.From <= s[0].Sowings[i-1].From {
			t.Error("a sowing that comes to harvest no later than the one before")
		}
		if days := int(x.From - x.Start); days < 40 {
			t.Errorf("%d days, the quick kinds take 40", days)
		}
	}
}

func TestSuccessionWithoutBase(t *testing.T) {
	c := sixStations().Climate(slopeBand(500, 500))
	bare := with(salad(), func(c *catalog.Crop) { c.Base = bean().Base })
	p := NewPlanner(shed(bare))
	s := p.Successions(c, p.Band(c))
	if len(s) != 1 || len(s[0].Missing) != 1 || s[0].Missing[0].Figure != "base_c" {
		t.Fatalf("%+v", s)
	}
	if first, shortest, _, _ := s[0].Interval(); first != 14 || shortest > 14 {
		t.Errorf("intervals %d and %d without degree days, picked for 14", first, shortest)
	}
	tender := shed(bare)
	tender.Classes = []catalog.Class{{ID: "cool", Base: known(quantity.Celsius(4))}}
	tender.Crops[0].Class = "cool"
	p = NewPlanner(tender)
	if s := p.Successions(c, p.Band(c)); len(s) != 1 || !s[0].ByClass || s[0].Base != 4 {
		t.Errorf("base of the class: %+v", s)
	}
}

// A bed cleared of the early crop goes to one of another family that still has time, not
// to its own and not to one that stays for years.
func TestSecondCrops(t *testing.T) {
	late := with(salad(), func(c *catalog.Crop) { c.ID, c.Name, c.Family = "late", "Late", "Brassicaceae" })
	stays := with(salad(), func(c *catalog.Crop) { c.ID, c.Name, c.Family, c.FirstYear = "stays", "Stays", "Lamiaceae", known(2) })
	slow := with(salad(), func(c *catalog.Crop) {
		c.ID, c.Name, c.Family, c.DaysLow, c.DaysHigh = "slow", "Slow", "Apiaceae", known(150), known(170)
	})
	c := place(45, even)
	twin := with(salad(), func(c *catalog.Crop) { c.ID, c.Name = "twin", "Twin" }) // of the salad's family
	p := NewPlanner(shed(salad(), late, stays, slow, twin))
	for _, s := range SecondCrops(p.Band(c)) {
		for _, f := range s.Next {
			if s.First.Crop.Family == f.Plan.Crop.Family || f.Plan.Crop.ID == "stays" || s.First.Crop.ID == "stays" {
				t.Errorf("%s after %s", f.Plan.Crop.ID, s.First.Crop.ID)
			}
			if f.By < s.Cleared+clearing || f.From > f.By {
				t.Errorf("%s from %d by %d, cleared %d", f.Plan.Crop.ID, f.From, f.By, s.Cleared)
			}
			if s.First.Crop.ID == "salad" && f.Plan.Crop.ID == "slow" {
				t.Error("170 days after a bed cleared in summer")
			}
		}
	}
	var pairs []string
	for _, s := range SecondCrops(p.Band(c)) {
		for _, f := range s.Next {
			pairs = append(pairs, s.First.Crop.ID+">"+f.Plan.Crop.ID)
		}
	}
	if !slices.Contains(pairs, "salad>late") {
		t.Errorf("pairs %v", pairs)
	}
}
