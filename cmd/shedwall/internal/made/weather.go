package made

import (
	"math"
	"math/rand/v2"
	"strconv"
	"time"
)

// lastYear is the last year of every record.
const lastYear = 2024

// records is a daily record of every station, by rule: the year as a cosine, a spell of
// weather that all stations share and a little that is each one's own, colder with height
// and, on clear nights, in hollows; a slow warming; a few missing days. The figures are
// those of a cool temperate upland, from memory: they need to be plausible, no more.
func (l *land) records(years int) map[string][]byte {
	first := time.Date(lastYear-years+1, 1, 1, 0, 0, 0, 0, time.UTC)
	days := int(time.Date(lastYear+1, 1, 1, 0, 0, 0, 0, time.UTC).Sub(first).Hours() / 24)
	shared := newSpells(l.seed, 3, days, 3.4, 0.75)
	clear := newSpells(l.seed, 4, days, 1, 0.5)
	files := map[string][]byte{}
	for i, s := range l.stations {
		own := newSpells(l.seed, 100+uint64(i), days, 0.9, 0.3)
		gaps := rand.New(rand.NewPCG(l.seed, 10_000+uint64(i)))
		text := []byte("date,tmin_c,tmax_c\n")
		gap := 0
		for d := range days {
			date := first.AddDate(0, 0, d)
			text = date.AppendFormat(text, "2006-01-02,")
			if gap == 0 && gaps.IntN(2000) == 0 {
				gap = 1 + gaps.IntN(6)
			}
			if gap > 0 {
				gap--
				text = append(text, ",\n"...)
				continue
			}
			low, high := s.day(date, d, shared[d]+own[d], clear[d])
			text = strconv.AppendFloat(text, low, 'f', 1, 64)
			text = append(text, ',')
			text = strconv.AppendFloat(text, high, 'f', 1, 64)
			text = append(text, '\n')
		}
		files["data/records/"+s.id+".csv"] = text
	}
	return files
}

// day is the minimum and maximum of the day d of a record, in C.
func (s place) day(date time.Time, d int, spell, clear float64) (low, high float64) {
	year := math.Cos(2 * math.Pi * float64(date.YearDay()-20) / 365.25)
	low = 7.5 - 4.6*s.height/1000 - 10*year + 0.02*float64(d)/365.25 + spell*(1+0.25*year)
	switch s.position {
	case "hollow":
		low -= 1.5 + 1.2*max(0, clear)
	case "floor":
		low -= 0.5 + 0.6*max(0, clear)
	case "ridge":
		low += 0.5
	}
	span := 9.5 - 2.5*year - 1.5*s.height/1000 + 2.2*clear
	return low, low + max(1, span)
}

// newSpells is a series of days that remember the day before: its standard deviation and
// how much is remembered, 0 to 1.
func newSpells(seed, of uint64, days int, sd, remembered float64) []float64 {
	chance := rand.New(rand.NewPCG(seed, of))
	out := make([]float64, days)
	fresh := sd * math.Sqrt(1-remembered*remembered)
	x := 0.0
	for d := range out {
		// Twelve evenly spread numbers less six are near enough to a normal one, and the
		// same on every machine.
		n := -6.0
		for range 12 {
			n += chance.Float64()
		}
		x = remembered*x + fresh*n
		out[d] = x
	}
	return out
}
