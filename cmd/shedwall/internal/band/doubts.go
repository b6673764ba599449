package band

import (
	"cmp"
	"math"
	"slices"

	"shedwall/cmd/shedwall/internal/quantity"
)

// Apart is how far the nearest other station is, in km. ok is false where the station or
// all others have no coordinates.
func (r *Region) Apart(station int) (km float64, nearest int, ok bool) {
	return r.closest(r.Stations[station].site, station)
}

// ApartFrom is how far the nearest station is from a place; see Apart.
func (r *Region) ApartFrom(latitude, longitude float64) (km float64, nearest int, ok bool) {
	return r.closest(site{latitude: latitude, longitude: longitude, placed: true}, -1)
}

func (r *Region) closest(at site, but int) (km float64, nearest int, ok bool) {
	km = math.Inf(1)
	for k, s := range r.Stations {
		if d, known := distance(at, s.site); known && k != but && d < km {
			km, nearest, ok = d, k, true
		}
	}
	return km, nearest, ok
}

// HeightOfDays is the height that a station's warm days speak of: where the maxima of its
// spring, in the years that it has in common with another, would belong with
// DefaultMaxLapse from that one; the middle of what the others say, near ones counted more.
// Maxima depend little on where a station sits, so that a slip in its height shows, and
// the middle is not moved by a slip in another's. beside is how many others it rests on;
// only those within reach km are asked.
func (r *Region) HeightOfDays(station int, reach float64) (z quantity.Metres, beside int) {
	s := r.Stations[station]
	type said struct{ z, weight float64 }
	var list []said
	total := 0.0
	for k, other := range r.Stations {
		km, known := distance(s.site, other.site)
		if k == station || !known || km > reach {
			continue
		}
		warmer, years := 0.0, 0
		for y := range min(len(s.maxMeans), len(other.maxMeans)) {
			if d := s.maxMeans[y] - other.maxMeans[y]; !math.IsNaN(d) {
				warmer += d
				years++
			}
		}
		if years == 0 {
			continue
		}
		x := said{float64(other.site.low) - warmer/float64(years)/float64(DefaultMaxLapse), math.Exp(-km / weightReach)}
		list = append(list, x)
		total += x.weight
	}
	slices.SortFunc(list, func(a, b said) int { return cmp.Compare(a.z, b.z) })
	half := 0.0
	for _, x := range list {
		if half += x.weight; half >= total/2 {
			return quantity.Metres(x.z), len(list)
		}
	}
	return 0, 0
}

// Misfits is the misses of stations that the others, when such a station is hidden, guess at
// least as many days off as most says of it, the worst station first. One that is found is
// left out before the next is looked for: a wrong one among few makes all others look
// wrong. At most some are looked for.
func (r *Region) Misfits(most func(*Station) float64, some int) []Miss {
	var out []Miss
	for range some {
		worst, over := -1, 0.0
		for i, s := range r.Stations {
			for _, m := range r.Misses {
				if off := math.Abs(m.Days) - most(s); m.Station == s.Row.ID && off >= 0 && (worst < 0 || off > over) {
					worst, over = i, off
				}
			}
		}
		if worst < 0 {
			break
		}
		id := r.Stations[worst].Row.ID
		for _, m := range r.Misses {
			if m.Station == id && math.Abs(m.Days) >= most(r.Stations[worst]) {
				out = append(out, m)
			}
		}
		r = r.without(worst)
		r.leaveOneOut()
	}
	return out
}
