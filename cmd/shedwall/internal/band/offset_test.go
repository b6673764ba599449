package band

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
)

func TestDeclaredOffset(t *testing.T) {
	blank := figure.Of[quantity.Kelvins]{}
	for _, c := range []struct {
		name     string
		offset   figure.Of[quantity.Kelvins]
		position figure.Of[catalog.Position]
		want     quantity.Kelvins
		given    bool
	}{
		{"hollow", blank, known(catalog.Hollow), -1.5, false},
		{"floor", blank, known(catalog.Floor), -0.5, false},
		{"slope", blank, known(catalog.Slope), 0, false},
		{"ridge", blank, known(catalog.Ridge), 0.5, false},
		{"nobody said", blank, figure.Of[catalog.Position]{}, 0, false},
		{"the publisher's own wins", known(quantity.Kelvins(-3)), known(catalog.Ridge), -3, true},
		{"0 is a figure too", known(quantity.Kelvins(0)), known(catalog.Hollow), 0, true},
	} {
		if got, given := declaredOffset(c.offset, c.position); got != c.want || given != c.given {
			t.Errorf("%s: %.1f %v, want %.1f %v", c.name, got, given, c.want, c.given)
		}
	}
}

// By hand: one degree of latitude is 6371 km x pi/180 = 111.195 km; of longitude at
// 60 N half of that.
func TestDistance(t *testing.T) {
	at := func(lat, lon float64) site { return site{latitude: lat, longitude: lon, placed: true} }
	for _, c := range []struct {
		a, b site
		km   float64
	}{
		{at(44, -38), at(44, -38), 0},
		{at(44, -38), at(45, -38), 111.195},
		{at(60, 10), at(60, 11), 55.6},
		{at(0, 179.5), at(0, -179.5), 111.195},
		{at(90, 0), at(-90, 0), 20015.1},
	} {
		if km, known := distance(c.a, c.b); !known || !near(km, c.km, 0.05) {
			t.Errorf("%v to %v: %.2f km, want %.2f", c.a, c.b, km, c.km)
		}
	}
	if _, known := distance(at(1, 1), site{}); known {
		t.Error("no coordinates, no distance")
	}
}

func TestAlike(t *testing.T) {
	s := func(low, high float64, p catalog.Position) site {
		return site{low: quantity.Metres(low), high: quantity.Metres(high), position: p}
	}
	for _, c := range []struct {
		name string
		a, b site
		want bool
	}{
		{"within the band", s(500, 700, 0), s(600, 600, 0), true},
		{"50 m above it", s(500, 700, 0), s(750, 750, 0), true},
		{"51 m above it", s(500, 700, 0), s(751, 751, 0), false},
		{"on other ground", s(500, 700, catalog.Hollow), s(600, 600, 0), false},
	} {
		if alike(c.a, c.b) != c.want || alike(c.b, c.a) != c.want {
			t.Errorf("%s: want %v both ways", c.name, c.want)
		}
	}
}

func placed(north, metres float64, p catalog.Position) site {
	return site{44 + north/111.195, -38, true, quantity.Metres(metres), quantity.Metres(metres), p}
}

func TestKrige(t *testing.T) {
	three := []site{placed(0, 500, catalog.Slope), placed(40, 900, catalog.Slope), placed(80, 600, catalog.Hollow)}
	beyond := []float64{2, -1, -2.5}
	for i, s := range three { // own 0.36 + 0.49 (+ 0.25) of own + 0.0225: 97-98 % of the residual, less what the others say
		if got := float64(krige(s, three, beyond)); !near(got, beyond[i], 0.04*math.Abs(beyond[i])+0.02) {
			t.Errorf("at station %d: %.3f, want nearly its own %.1f", i, got, beyond[i])
		}
	}
	// By hand, 300 km off: exp(-10) of 0.36 K squared is nothing.
	if got := float64(krige(placed(-300, 500, catalog.Slope), three, beyond)); !near(got, 0, 1e-3) {
		t.Errorf("far from every station: %.4f, want 0", got)
	}
	if got := krige(placed(0, 500, catalog.Slope), nil, nil); got != 0 {
		t.Errorf("no stations: %.3f, want 0", got)
	}
	// By hand, one station at the same spot 1,000 m lower: what the region shares,
	// 0.36/(0.36 + 0.49 + 0.0225) of it.
	if got := float64(krige(placed(0, 1500, catalog.Slope), three[:1], beyond[:1])); !near(got, 2*0.36/0.8725, 1e-6) {
		t.Errorf("high above one station: %.4f, want %.4f", got, 2*0.36/0.8725)
	}
	// By hand, a hollow without coordinates: what hollows share, 0.25/(1.1225).
	if got := float64(krige(site{low: 600, high: 600, position: catalog.Hollow}, three[2:], beyond[2:])); !near(got, -2.5*0.25/1.1225, 1e-9) {
		t.Errorf("somewhere, in a hollow: %.4f, want %.4f", got, -2.5*0.25/1.1225)
	}
	unplaced := []site{{low: 500, high: 500, position: catalog.Slope}}
	if got := krige(placed(0, 500, catalog.Slope), unplaced, beyond[:1]); got != 0 {
		t.Errorf("a station that may stand anywhere says nothing: %.4f", got)
	}
}

func drawSite(t *rapid.T) site {
	s := placed(rapid.Float64Range(-60, 60).Draw(t, "north"), rapid.Float64Range(0, 400).Draw(t, "metres"), catalog.Position(rapid.IntRange(0, 3).Draw(t, "position")))
	s.longitude += rapid.Float64Range(-1, 1).Draw(t, "east")
	s.placed = rapid.IntRange(0, 5).Draw(t, "placed") > 0
	return s
}

// A covariance must be symmetric, and of any stations positive definite, or the
// guess could be anything: Cholesky's root exists, and the guess stays within what
// the stations together say.
func TestCovariance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 15).Draw(t, "stations")
		sites := make([]site, n)
		beyond := make([]float64, n)
		most := 0.0
		for i := range sites {
			sites[i] = drawSite(t)
			beyond[i] = rapid.Float64Range(-3, 3).Draw(t, "beyond")
			most += beyond[i] * beyond[i]
		}
		root := make([][]float64, n)
		for i := range sites {
			root[i] = make([]float64, n)
			for j := range i + 1 {
				v := covariance(sites[i], sites[j])
				if v != covariance(sites[j], sites[i]) {
					t.Fatalf("stations %d and %d: %.6f one way, %.6f the other", i, j, v, covariance(sites[j], sites[i]))
				}
				if i == j {
					v = variance(sites[i])
				}
				for k := range j {
					v -= root[i][k] * root[j][k]
				}
				if i != j {
					root[i][j] = v / root[j][j]
					continue
				}
				if v < levelSpread*levelSpread-1e-9 {
					t.Fatalf("not positive: pivot %d is %.6f", i, v)
				}
				root[i][i] = math.Sqrt(v)
			}
		}
		// Cauchy and Schwarz: the guess is at most its own spread, sqrt(1.1), times
		// the data's length in units of the least error, 0.15.
		if got := float64(krige(drawSite(t), sites, beyond)); math.IsNaN(got) || math.Abs(got) > math.Sqrt(1.1*most)/levelSpread+1e-9 { // squares of tiny numbers are 0
			t.Fatalf("guess %.3f from %v", got, beyond)
		}
	})
}

func TestSolve(t *testing.T) {
	x := solve([][]float64{{0, 2, 6}, {3, 1, 9}}) // 2y = 6, 3x + y = 9
	if !near(x[0], 2, 1e-12) || !near(x[1], 3, 1e-12) {
		t.Errorf("%v, want [2 3]", x)
	}
}

// Where the publisher gave a band's offset nothing is added to it; where not, its
// position's default and what the stations around show.
func TestBandOffset(t *testing.T) {
	r := valley(5, 1991, 2004, 0)
	b := bandAt(700, 900)
	b.Offset = known(quantity.Kelvins(-2))
	if o, given := r.Climate(b).Offset(0); o != -2 || !given {
		t.Errorf("given -2: %.2f %v", o, given)
	}
	b.Offset, b.Position = figure.Of[quantity.Kelvins]{}, known(catalog.Hollow)
	b.Latitude, b.Longitude = known(50.0), known(-38.0)
	if o, given := r.Climate(b).Offset(0); !near(float64(o), -1.5, 1e-3) || given {
		t.Errorf("a hollow far away: %.3f %v, want -1.5 as an estimate", o, given)
	}
}
