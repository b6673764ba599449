// Package band carries station records to the bands of a guide. Altitude,
// position, a garden's own offset and a cover all shift degrees, so each becomes
// part of one shifted threshold at each station; the stations' dates at that
// threshold are then blended. Bands never average dates year by year.
package band

import "shedwall/cmd/shedwall/internal/quantity"

// Shift holds what lies between a station and a band for one event: the lapse
// rate of minima, both elevations and both position offsets (negative = colder
// than the altitude says).
type Shift struct {
	Lapse                           quantity.KelvinsPerMetre
	BandElevation, StationElevation quantity.Metres
	BandOffset, StationOffset       quantity.Kelvins
}

// Altitude is the term L*(zb - zs): how much colder the band is for its height.
func (s Shift) Altitude() quantity.Kelvins {
	return quantity.Kelvins(float64(s.Lapse) * float64(s.BandElevation-s.StationElevation))
}

// Position is the term ob - os: how much warmer the band is for where it sits.
func (s Shift) Position() quantity.Kelvins { return s.BandOffset - s.StationOffset }

// Threshold is T*, the station temperature at or below which a plant in the
// band is harmed:
//
//	T* = limit + a - gain + L*(zb - zs) - (ob - os)
//
// limit is what the plant stands, a the allowance for limits measured on the
// plant (leaves are colder than screen air on clear nights), gain the cover's
// warmth at night. No other function applies a lapse or a gain to a threshold.
func (s Shift) Threshold(limit quantity.Celsius, allowance, gain quantity.Kelvins) quantity.Celsius {
	return limit.Plus(allowance - gain + s.Altitude() - s.Position())
}

// Difference is how much warmer (K; colder where negative) the band is than the
// station.
func (s Shift) Difference() quantity.Kelvins { return s.Position() - s.Altitude() }

// ToBand carries a station temperature (a reading, a mean, a winter low) to the
// band: the same shift the other way round.
func (s Shift) ToBand(t quantity.Celsius) quantity.Celsius { return t.Plus(s.Difference()) }
