package band

import (
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// CountSeasons is the season years of a station in which nights around an event can be
// counted, one for each calendar year used; none where a published table stands in
// place of a record.
func (c *Climate) CountSeasons(e record.Event, station int) []int {
	s := c.Region.Stations[station]
	var out []int
	for y := s.First; y <= s.Last; y++ {
		out = append(out, seasonFor(e, y, c.Region.Hemisphere))
	}
	return out
}

// UsableYears is how many of the years used of a station tell both the last freeze of
// spring and the first of fall at 0 C, of how many; 0 of 0 where a published table
// stands in place of a record.
func (r *Region) UsableYears(station int) (usable, used int) {
	s := r.Stations[station]
	for y := s.First; s.Record != nil && y <= s.Last; y++ {
		used++
		told := true
		for _, e := range []record.Event{record.Last, record.First} {
			told = told && s.climbs.night.Year(seasonFor(e, y, r.Hemisphere), e, 0).State != frost.Unusable
		}
		if told {
			usable++
		}
	}
	return usable, used
}

// NightThresholds is what a station's minima are compared with for a night in the band
// to be at or below a limit, in each of CountSeasons: T* without a gain, rounded as in
// Date, moved to the present climate unless the region is plain.
func (c *Climate) NightThresholds(e record.Event, odds quantity.Odds, station int, limit quantity.Celsius, allowance quantity.Kelvins) []quantity.Hundredths {
	s := c.Region.Stations[station]
	_, compared := c.threshold(e, odds, station, Gate{Series: Night, Limit: limit, Allowance: allowance})
	var out []quantity.Hundredths
	for y := s.First; y <= s.Last; y++ {
		at := compared
		if !c.Region.Plain {
			at = frost.Moved(compared, s.drift[e][y-s.First], s.Record.Step)
		}
		out = append(out, at)
	}
	return out
}

// DayThreshold is the least maximum of a station that makes a day in the band as warm
// as t. Maxima have their own lapse and no offsets: cold air drains by night.
func (c *Climate) DayThreshold(e record.Event, odds quantity.Odds, station int, t quantity.Celsius) quantity.Hundredths {
	s := c.Region.Stations[station]
	shift := c.dayShift(odds, station)
	shift.BandElevation = c.Elevation(e, odds)
	return frost.RoundWarm(shift.Threshold(t, 0, 0), s.Record.Step)
}
