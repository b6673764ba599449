package page

import (
	"math"
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// warning says why a freeze line is missing from the sheet: frost in any month, or too
// little known. A freeze too seldom to wait for leaves nothing to warn of.
func (w Wall) warning() string {
	state := func(e record.Event) band.State { return w.Climate.Date(e, quantity.Careful, band.Gate{}).State }
	last, first := state(record.Last), state(record.First)
	if last == band.AnyMonth && first == band.AnyMonth {
		return w.Book.T("sheet.warning.any")
	}
	var parts []string
	for _, x := range []struct {
		e record.Event
		s band.State
	}{{record.Last, last}, {record.First, first}} {
		switch x.s {
		case band.AnyMonth:
			parts = append(parts, w.Book.T("sheet.warning.any."+x.e.String()))
		case band.NotKnown, band.Never:
			parts = append(parts, w.Book.T("sheet.warning.not_known."+x.e.String()))
		}
	}
	return strings.Join(parts, " ")
}

// coverAt is the garden's own low at which a general rule has covers on: what a careful
// grower takes for frost on the ground (design: 2 C, 36 F).
const coverAt quantity.Celsius = 2

// footTonight is the general rule for nights without a cover line, in terms of the
// station that gardens of the band are compared with: where to read it, and how the
// band's colder edge differs from it on a still night of spring or fall. The
// difference is rounded to half a degree, to the colder side.
func (w Wall) footTonight() string {
	b := w.Book
	open := b.T("sheet.foot.open")
	i := w.Climate.Nearest()
	if i < 0 {
		return b.T("sheet.foot.tonight.own", "temp", b.Temp(coverAt, 1)) + " " + open
	}
	s := w.Climate.Region.Stations[i].Row
	still, _ := w.Climate.NightAgainstStation(i)
	const slack = 0.05 // of half a degree
	still = quantity.Kelvins(math.Floor(float64(still)*2+slack) / 2)
	name := s.Name
	if s.WhereToRead != "" {
		name = b.T("sheet.foot.station", "station", s.Name, "where", s.WhereToRead)
	}
	rule := b.T("sheet.foot.tonight", "station", name, "temp", b.Temp(coverAt.Plus(-still), 1))
	switch {
	case still < 0:
		rule += " " + b.T("sheet.foot.colder", "diff", b.Diff(-still, 0))
	case still > 0:
		rule += " " + b.T("sheet.foot.warmer", "diff", b.Diff(still, 0))
	default:
		rule += " " + b.T("sheet.foot.same")
	}
	return rule + " " + b.T("sheet.foot.card") + " " + open
}
