package band

import (
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

// DefaultOffset is what a position is worth where nothing better is known: cold
// air drains from slopes and ridges and gathers in hollows. Estimates, marked as
// such wherever they are printed (our own measurement on 17 mountain stations:
// declared hollows at -1.0 to -2.0 K cut the error of dates by a fifth to a
// quarter, -1.5 most).
func DefaultOffset(p catalog.Position) quantity.Kelvins {
	switch p {
	case catalog.Hollow:
		return -1.5
	case catalog.Floor:
		return -0.5
	case catalog.Ridge:
		return +0.5
	}
	return 0
}

// declaredOffset is the publisher's offset, else the position's default.
func declaredOffset(offset figure.Of[quantity.Kelvins], position figure.Of[catalog.Position]) (o quantity.Kelvins, given bool) {
	if v, ok := offset.Get(); ok {
		return v, true
	}
	p, _ := position.Get()
	return DefaultOffset(p), false
}

// site is where a station or a band sits, as far as known.
type site struct {
	latitude, longitude float64
	placed              bool
	low, high           quantity.Metres // a station has low = high
	position            catalog.Position
}

// Spreads of what a place's offset owes to what, in kelvins, and the distances
// over which places share it. The residuals of the 17 stations about their lapse
// line have a spread of about 1.0 K; of its square roughly a third is shared over
// some 30 km, a third belongs to the site and is lost within a few kilometres,
// the rest to the class of position. Round figures: dates barely move when they
// are doubled or halved.
const (
	regionSpread, regionReach = 0.6, 30.0 // K, km
	siteSpread, siteReach     = 0.7, 3.0  // K, km
	classSpread               = 0.5       // K, among places of one position
	siteHeight                = 50.0      // m, over which a site's share is lost upwards and downwards
	levelSpread               = 0.15      // K, of a 30-year mean itself
)

// covariance of the offsets of two places beyond what is declared (K squared).
// Places of which one has no coordinates share no more than their position.
func covariance(a, b site) float64 {
	var c float64
	if a.position == b.position && a.position != catalog.Slope {
		c += classSpread * classSpread
	}
	km, known := distance(a, b)
	if !known {
		return c
	}
	c += regionSpread * regionSpread * math.Exp(-km/regionReach)
	if a.position == b.position {
		c += siteSpread * siteSpread * math.Exp(-km/siteReach-apart(a, b)/siteHeight)
	}
	return c
}

// variance is the covariance of a station with itself and the error of its mean.
func variance(s site) float64 {
	v := regionSpread*regionSpread + siteSpread*siteSpread + levelSpread*levelSpread
	if s.position != catalog.Slope {
		v += classSpread * classSpread
	}
	return v
}

// apart is the height between two places, 0 where their heights overlap.
func apart(a, b site) float64 { return float64(max(0, a.low-b.high, b.low-a.high)) }

// alike: same position, and heights that overlap or lie within 50 m.
func alike(a, b site) bool {
	return a.position == b.position && apart(a, b) <= siteHeight
}

// Distance is that of two places in km over the sphere: degrees, north and east positive.
func Distance(latA, lonA, latB, lonB float64) float64 {
	km, _ := distance(site{latitude: latA, longitude: lonA, placed: true}, site{latitude: latB, longitude: lonB, placed: true})
	return km
}

// distance in km over the sphere (haversine, radius 6371 km).
func distance(a, b site) (km float64, known bool) {
	if !a.placed || !b.placed {
		return 0, false
	}
	const rad = math.Pi / 180
	dLat, dLon := (b.latitude-a.latitude)*rad/2, (b.longitude-a.longitude)*rad/2
	h := math.Sin(dLat)*math.Sin(dLat) + math.Cos(a.latitude*rad)*math.Cos(b.latitude*rad)*math.Sin(dLon)*math.Sin(dLon)
	return 2 * 6371 * math.Asin(math.Min(1, math.Sqrt(h))), true
}

// krige estimates the offset of a place beyond what is declared for it, from the
// stations' own: the linear guess with the least expected error under covariance
// (simple kriging; Cressie 1993, Statistics for Spatial Data, section 3.2)
// [source cressie93]. Far
// from every station, or with none, it is 0.
func krige(target site, stations []site, beyond []float64) quantity.Kelvins {
	n := len(stations)
	if n == 0 {
		return 0
	}
	m := make([][]float64, n) // covariance matrix with the right-hand side appended
	for i := range m {
		m[i] = make([]float64, n+1)
		for j := range stations {
			m[i][j] = covariance(stations[i], stations[j])
		}
		m[i][i] = variance(stations[i])
		m[i][n] = beyond[i]
	}
	x := solve(m)
	var sum float64
	for i, s := range stations {
		sum += covariance(target, s) * x[i]
	}
	return quantity.Kelvins(sum)
}

// solve is Gaussian elimination with row exchange on the matrix m with its
// right-hand side as last column; m is used up. Covariance matrices with a
// positive diagonal term are never singular.
func solve(m [][]float64) []float64 {
	n := len(m)
	for c := range n {
		p := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[p][c]) {
				p = r
			}
		}
		m[c], m[p] = m[p], m[c]
		for r := c + 1; r < n; r++ {
			f := m[r][c] / m[c][c]
			for k := c; k <= n; k++ {
				m[r][k] -= f * m[c][k]
			}
		}
	}
	x := make([]float64, n)
	for r := n - 1; r >= 0; r-- {
		x[r] = m[r][n]
		for k := r + 1; k < n; k++ {
			x[r] -= m[r][k] * x[k]
		}
		x[r] /= m[r][r]
	}
	return x
}
