package page

import (
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
	"shedwall/cmd/shedwall/internal/words"
)

// warning says why a freeze line is missing from the sheet: frost in any month, or too
// little known. A freeze too seldom to wait for leaves nothing to warn of.
func (w Wall) warning() string {
	state := func(e record.Event) band.State { return w.Climate.NightDate(e, quantity.Careful, 0, 0).State }
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

// coverAt is the garden's own low below which a general rule has covers on where no crop has
// a cold figure: what a careful grower takes for frost on the ground (design: 2 C, 36 F).
const coverAt quantity.Celsius = 2

// footFor is what the foot of a sheet with these crops depends on. Its general rule goes by
// the tenderest group that the sheet has, and young plants by the tenderest column in which
// any of them is read.
func (w Wall) footFor(plans []plan.CropPlan) footOf {
	var of footOf
	for _, p := range plans {
		of.warm = of.warm || needsWarmth(p.Crop)
		for _, s := range w.chosen(p).Covers {
			of.film = of.film || s.Warms
		}
		of.grown = max(of.grown, p.Group)
		if len(w.Cards) > 0 {
			of.young = max(of.young, w.Cards[0].YoungIn(p.Crop.ID, p.Group))
		}
	}
	return of
}

// coverBelow is the forecast low below which a group is to be covered, in the units of the
// guide: what the tonight card of each unit says, less what the garden differs by from the
// station. No station: the garden's own low.
func (w Wall) coverBelow(group byte) string {
	var texts []string
	for i := range w.Cards {
		card := &w.Cards[i]
		from, ok := card.OpenFrom(group)
		if !ok {
			continue
		}
		if still, windy, ok := nightsOf(w.Climate, card.Degrees); ok {
			from -= min(still, windy) // a rule for any night
		}
		unit := w.Book.T("unit.c")
		if card.Degrees == plan.InFahrenheit {
			unit = w.Book.T("unit.f")
		}
		texts = append(texts, w.Book.Number(from, 1)+"\u00a0"+unit)
	}
	switch len(texts) {
	case 0:
		low := coverAt
		if i := w.Climate.Nearest(); i >= 0 {
			still, windy := w.Climate.NightAgainstStation(i)
			low = low.Plus(-min(still, windy))
		}
		return w.Book.Temp(low, words.Up)
	case 1:
		return texts[0]
	}
	return texts[0] + " (" + texts[1] + ")"
}

// footTonight is the general rule for nights without a cover line, in terms of the
// station that gardens of the band are compared with: where to read it, and how the
// band's colder edge differs from it. It says of the sheet's crops what the tonight card
// says, of its tenderest group on the colder kind of night.
func (w Wall) footTonight(of footOf) string {
	b := w.Book
	who := b.T("sheet.foot.garden")
	i := w.Climate.Nearest()
	if i >= 0 {
		if who = w.Climate.Region.Stations[i].Row.Name; w.Climate.Region.Stations[i].Row.WhereToRead != "" {
			who = b.T("sheet.foot.station", "station", who, "where", w.Climate.Region.Stations[i].Row.WhereToRead)
		}
	}
	rule := []string{b.T("sheet.foot.tonight", "station", who, "temp", w.coverBelow(of.grown))}
	if of.young > of.grown && w.coverBelow(of.young) != w.coverBelow(of.grown) {
		rule = append(rule, b.T("sheet.foot.young", "temp", w.coverBelow(of.young)))
	}
	if i >= 0 {
		rule = append(rule, w.footNight(i), b.T("sheet.foot.card"))
	}
	return strings.Join(append(rule, b.T("sheet.foot.open")), " ")
}

// footNight says how the band differs from a station on a still night, or on a windy one where
// the rule goes by that. The difference is rounded to half a degree, to the colder side.
func (w Wall) footNight(i int) string {
	b, key := w.Book, ""
	k, windy := w.Climate.NightAgainstStation(i)
	if windy <= k-0.5 { // the least that a card tells apart
		k, key = windy, ".windy"
	}
	k = quantity.Kelvins(colder(plan.InCelsius, k))
	switch {
	case k < 0:
		return b.T("sheet.foot.colder"+key, "diff", b.Diff(-k, words.Nearest))
	case k > 0:
		return b.T("sheet.foot.warmer"+key, "diff", b.Diff(k, words.Nearest))
	}
	return b.T("sheet.foot.same" + key)
}
