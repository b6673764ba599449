package made

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
)

// land is an invented region: valleys of ten bands each, from a floor to a ridge.
type land struct {
	name     string
	bands    []place
	stations []place
	seed     uint64
}

// place is a band, with the height of its middle, or a station.
type place struct {
	id, name            string
	height              float64 // metres
	position            string
	latitude, longitude float64
}

// The lie of the land: a step is what a band spans, in metres; valleys lie some
// kilometres apart in a square.
const (
	bandsAValley = 10
	step         = 100.0
	apart        = 8.0 // km
)

// steps are the bands of a valley from below: what they are called and where they sit.
var steps = [bandsAValley]struct{ name, position string }{
	{"Floor", "floor"}, {"Hollow", "hollow"}, {"Foot", "slope"}, {"Lower Slopes", "slope"}, {"Slopes", "slope"},
	{"Bench", "slope"}, {"Upper Slopes", "slope"}, {"High Hollow", "hollow"}, {"Heights", "slope"}, {"Ridge", "ridge"},
}

func newLand(s Size) *land {
	chance := rand.New(rand.NewPCG(s.Seed, 1))
	taken := map[string]bool{}
	l := &land{name: newName(chance, taken), seed: s.Seed}
	valleys := (s.Bands + bandsAValley - 1) / bandsAValley
	side := int(math.Ceil(math.Sqrt(float64(valleys))))
	for v := range valleys {
		name := newName(chance, taken)
		north, east := float64(v/side)*apart, float64(v%side)*apart
		floor := 250 + 350*chance.Float64()
		for k, x := range steps[:min(bandsAValley, s.Bands-v*bandsAValley)] {
			l.bands = append(l.bands, place{
				id: idOf(name + " " + x.name), name: name + " " + x.name, position: x.position,
				height:   math.Round(floor/10)*10 + (float64(k)+0.5)*step,
				latitude: 44.2 + (north+chance.Float64()*3)/111.2, longitude: -38 + (east+float64(k)*0.4)/79.7,
			})
		}
	}
	// Stations stand in bands, spread over all valleys and heights.
	for i := range s.Stations {
		at := l.bands[(i*len(l.bands)/s.Stations+i*3)%len(l.bands)]
		name := newName(chance, taken)
		at.id, at.name = idOf(name+" station"), name
		at.height += math.Round((chance.Float64() - 0.5) * step)
		l.stations = append(l.stations, at)
	}
	return l
}

func (l *land) bandTable() []byte {
	all := [][]string{{"band", "name", "low_m", "high_m", "position", "latitude", "longitude", "hail_months", "windy_months", "snow_months", "wind_kmh"}}
	for _, b := range l.bands {
		windy, wind := "none", ""
		if b.position == "ridge" {
			windy, wind = "3-5", "75"
		}
		all = append(all, []string{b.id, b.name, whole(b.height - step/2), whole(b.height + step/2), b.position,
			degrees(b.latitude), degrees(b.longitude), "6-7", windy, "12-3", wind})
	}
	return rows(all...)
}

func (l *land) placeTable() []byte {
	chance := rand.New(rand.NewPCG(l.seed, 2))
	taken := map[string]bool{}
	all := [][]string{{"place", "elevation_m", "position"}}
	for _, b := range l.bands {
		all = append(all, []string{newName(chance, taken), whole(b.height + math.Round((chance.Float64()-0.5)*step/2)), b.position})
	}
	return rows(all...)
}

func (l *land) stationTable() []byte {
	all := [][]string{{"station", "name", "latitude", "longitude", "elevation_m", "position", "observed_at", "where_to_read"}}
	for _, s := range l.stations {
		all = append(all, []string{s.id, s.name, degrees(s.latitude), degrees(s.longitude), whole(s.height), s.position, observedAt, whereToRead})
	}
	return rows(all...)
}

// What every station says of itself.
const (
	observedAt  = "8 in the morning"
	whereToRead = "board at the gate"
)

func (l *land) title() string { return "Growing guide for " + l.name }

func degrees(x float64) string { return strconv.FormatFloat(x, 'f', 4, 64) }

var (
	beginnings = []string{"Am", "Bel", "Cor", "Dar", "El", "Fen", "Gar", "Hal", "Is", "Kel", "Lan", "Mor", "Nar", "Or", "Pel", "Quar", "Ros", "Sel", "Tor", "Ul", "Var", "Wen", "Yar", "Zan"}
	middles    = []string{"ba", "de", "fi", "go", "ka", "le", "mi", "no", "ra", "se", "ti", "vo"}
	ends       = []string{"bren", "dal", "fell", "gate", "holt", "ley", "mere", "nock", "rigg", "stow", "thorpe", "wick"}
)

// newName is an invented name of a place that was not taken.
func newName(chance *rand.Rand, taken map[string]bool) string {
	for {
		name := beginnings[chance.IntN(len(beginnings))]
		for n := chance.IntN(3); n > 0; n-- {
			name += middles[chance.IntN(len(middles))]
		}
		name += ends[chance.IntN(len(ends))]
		if !taken[name] {
			taken[name] = true
			return name
		}
	}
}

func idOf(name string) string { return strings.ReplaceAll(strings.ToLower(name), " ", "_") }
