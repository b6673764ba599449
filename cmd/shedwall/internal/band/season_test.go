package band

import (
	"testing"

	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// twentySummers is a record whose last frosts fall on 1 to 20 May, one a year, and whose
// first ones on 1 to 20 September: in the same order or turned round.
func twentySummers(turned bool, h quantity.Hemisphere) *record.Daily {
	d := calm("s", 1990, 2012)
	for k := range 20 {
		fall := k
		if turned {
			fall = 19 - k
		}
		if h == quantity.South { // spring November 1990 + k, fall March of the year after
			set(d, day(1990+k, 11, 1+k), -300)
			set(d, day(1991+k, 3, 1+fall), -300)
			continue
		}
		set(d, day(1991+k, 5, 1+k), -300)
		set(d, day(1991+k, 9, 1+fall), -300)
	}
	return d
}

// By hand: started on 18 May, two of twenty springs strike (19, 20 May); standing to 2
// September, two falls do (1, 2 September). Where late springs go with late falls that is
// four years of twenty; where they go with early falls it is the same two. A start whose
// nights count five days back is struck by the frosts of 24 May and later only: never.
func TestSeasonRisk(t *testing.T) {
	for _, h := range []quantity.Hemisphere{quantity.North, quantity.South} {
		from, to := h.SlotOf(quantity.MonthDay{Month: 5, Day: 18}), quantity.SlotsPerYear+h.SlotOf(quantity.MonthDay{Month: 9, Day: 2})
		if h == quantity.South {
			from, to = h.SlotOf(quantity.MonthDay{Month: 11, Day: 18}), quantity.SlotsPerYear+h.SlotOf(quantity.MonthDay{Month: 3, Day: 2})
		}
		for _, c := range []struct {
			turned bool
			share  float64
		}{{false, 0.2}, {true, 0.1}} {
			r := regionOf(twentySummers(c.turned, h), h)
			for i := range r.Stations {
				r.Stations[i].First, r.Stations[i].Last = 1991, 2010
				if h == quantity.South {
					r.Stations[i].First, r.Stations[i].Last = 1990, 2010
				}
			}
			r.Plain = true
			climate := r.Climate(bandAt(500, 500))
			risk := climate.SeasonRisk(quantity.Careful, Gate{Limit: -2}, Gate{Limit: -2}, from, to)
			if !risk.Known || risk.Years != 20 || !near(risk.Share, c.share, 1e-9) || !near(risk.Spring, 0.1, 1e-9) || !near(risk.Fall, 0.1, 1e-9) {
				t.Errorf("%v, turned %v: %+v, want %.1f", h, c.turned, risk, c.share)
			}
			back := Gate{Limit: -2, Days: NewDays(5, nil)}
			if risk := climate.SeasonRisk(quantity.Careful, back, Gate{Limit: -2}, from, to); risk.Spring != 0 || !near(risk.Share, 0.1, 1e-9) {
				t.Errorf("%v, five days back: %+v", h, risk)
			}
			if risk := climate.SeasonRisk(quantity.Careful, Gate{Limit: -4}, Gate{Limit: -4}, from, to); !risk.Known || risk.Share != 0 {
				t.Errorf("%v, a limit never reached: %+v", h, risk)
			}
		}
	}
	few := regionOf(frostyYears(2001, 2008, quantity.MonthDay{Month: 4, Day: 20}, quantity.MonthDay{Month: 10, Day: 5}), quantity.North)
	if risk := few.Climate(bandAt(500, 500)).SeasonRisk(quantity.Careful, Gate{}, Gate{}, 250, 400); risk.Known {
		t.Errorf("eight summers tell no careful odds: %+v", risk)
	}
}

// Windows between careful dates, of each of 17 real stations from its own record: struck
// in more than 10 % of years and in less than 20, on average; at either end in 10 % and
// a year at most.
func TestTrentinoSeasonRisk(t *testing.T) {
	stations, records := trentino(t)
	r := NewRegion(stations, records, 1975, 2004, quantity.North)
	sum, n := 0.0, 0
	for i := range r.Stations {
		c := r.alone(i)
		g := Gate{Limit: 0}
		last, first := c.Date(record.Last, quantity.Careful, g), c.Date(record.First, quantity.Careful, g)
		if last.State != Dated || first.State != Dated {
			continue
		}
		risk := c.SeasonRisk(quantity.Careful, g, g, last.Slot, first.Slot-1)
		if !risk.Known || risk.Spring > 0.1+1/float64(risk.Years) || risk.Fall > 0.1+1/float64(risk.Years) || risk.Share > risk.Spring+risk.Fall+1e-9 || risk.Share < max(risk.Spring, risk.Fall)-1e-9 {
			t.Errorf("%s: %+v", r.Stations[i].Row.ID, risk)
		}
		sum, n = sum+risk.Share, n+1
	}
	t.Logf("between careful dates at 0 C: struck in %.0f %% of years, %d stations", 100*sum/float64(n), n)
	if share := sum / float64(n); share <= 0.1 || share >= 0.2 {
		t.Errorf("struck in %.1f %% of years", 100*share)
	}
}
