package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/frost"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/publish"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// arithmetic prints what is behind a date as sums that can be followed with a
// pencil, each figure with the cell it stands in.
type arithmetic struct {
	out     io.Writer
	g       *publish.Guide
	climate *band.Climate
	x       plan.Explanation
	odds    quantity.Odds
}

func (a *arithmetic) line(format string, args ...any) { fmt.Fprintf(a.out, format+"\n", args...) }

func (a *arithmetic) date(s quantity.Slot) string {
	return a.g.Book.Date(a.climate.Region.Hemisphere.MonthDay(s))
}

func (a *arithmetic) harm() string {
	if a.odds == quantity.Half {
		return "half the years are worse"
	}
	return "1 year in 10 is worse"
}

// window prints one window: its end first where that is worked out from the fall,
// its beginning last, so that the block ends with the date it begins on.
func (a *arithmetic) window(w plan.Window) {
	under := "open ground"
	if w.Layers != "" {
		under = "under " + w.Layers
	}
	a.line("%s, %s, %s, %s (%s)", a.x.Crop.Name, w.Action, a.climate.Band.Name, under, a.harm())
	switch w.Action {
	case plan.SowInside:
		a.raising(w)
	case plan.Harvest:
		a.harvest(w)
	default:
		a.figures(w)
		for _, t := range a.x.Traced {
			if t.For == w.Action {
				a.answer(t)
			}
		}
		if w.Action == plan.LastSafeDay && w.To.State == plan.Dated && w.To.EndKnown() {
			a.line("  the night before it belongs to the evening before: 1 day earlier")
		} else if w.To.State == plan.Dated {
			a.latest(w)
		}
		if s, ok := w.TooShort(a.x.Crop); ok {
			a.tooShort(w, s)
		}
	}
	a.line("%s", a.result(w))
	a.line("")
}

// tooShort prints which days to harvest leave no start.
func (a *arithmetic) tooShort(w plan.Window, s plan.TooShort) {
	a.line("  its slow kinds need %d days: a start until %s, and the first is %s", s.Slow, a.date(w.To.Slot), a.date(w.From.Slot))
	if s.QuickFits {
		a.line("  quick kinds of %d days may fit", s.Quick)
	} else {
		a.line("  quick kinds of %d days do not fit either", s.Quick)
	}
}

// figures prints the crop's and the covers' figures used.
func (a *arithmetic) figures(w plan.Window) {
	for _, r := range w.Reasons {
		switch r.Kind {
		case plan.ReasonLimit:
			if r.Gate == plan.Hardened {
				a.line("  hardened by cold it is killed at %.1f C%s%s", r.Number, byWhom(r), at(r.At()))
				continue
			}
			a.line("  harmed at %.1f C%s%s", r.Number, byWhom(r), at(r.At()))
		case plan.ReasonAllowance:
			a.line("  leaf colder than the air on a clear night: + %.1f C%s", r.Number, at(r.At()))
		case plan.ReasonGain:
			if r.Gate == plan.Soil {
				a.soilGain(r)
			} else {
				a.gain(r)
			}
		case plan.ReasonChill:
			a.line("  a week of nights colder than %.1f C on average checks it%s%s", r.Number, byWhom(r), at(r.At()))
		case plan.ReasonSoil:
			a.line("  soil at least %.1f C for emergence%s%s", r.Number, byWhom(r), at(r.At()))
		case plan.ReasonEmerge:
			table := ""
			if r.Of != "" { // else the days are the crop's own
				table = " (" + r.Of + ")"
			}
			a.line("  up %d days after that sowing%s%s", int(r.Number), table, at(r.At()))
		default:
			a.gateFigure(r)
		}
	}
}

func byWhom(r plan.Reason) string {
	switch r.By {
	case figure.ByClass:
		return " (by its class, " + r.Of + ")"
	case figure.Own:
		return " (the publisher's own figure)"
	}
	return ""
}

func at(c figure.Cell) string {
	if c.File == "" {
		return ""
	}
	return "   " + c.String()
}

func (a *arithmetic) gain(r plan.Reason) {
	end := "at its weakest"
	if a.odds == quantity.Half {
		end = "on a typical night"
	}
	how := "measured or stated"
	if a.x.Gain.Estimated {
		how = "estimate, covers added up"
	}
	a.line("  %s keeps it warmer by %.1f C %s (%s)%s", r.Of, r.Number, end, how, at(r.At()))
	for _, p := range a.x.Gain.Parts {
		if share, cell := p.Gain, p.At; len(a.x.Gain.Parts) > 1 {
			if a.odds == quantity.Half {
				share, cell = p.Typical, p.AtTypical
			}
			a.line("      %s %+.1f C%s", p.Cover, float64(share), at(cell))
		}
	}
}

// answer prints one question to the climate, station by station.
func (a *arithmetic) answer(t plan.Traced) {
	c := a.climate
	o, given := c.Offset(t.Event)
	how := "estimate"
	if given {
		how = "given"
	}
	if !a.hotWeather(t) && t.Odds != a.odds {
		a.line("  together with what only checks growth, cold weeks, cold soil and early cold, asked about half the years; the later of the two counts:")
	}
	a.line("  %s: reckoned at %.0f m%s; sits %+.1f C off the height line (%s)", c.Band.Name, float64(c.Elevation(t.Event, t.Odds)), at(c.Band.Cell), float64(o), how)
	if t.Answer.Shifted {
		a.line("  present climate: the threshold of each past year is moved by half the trend of its station, 1 C at most, in whole steps of its readings: as thresholds rise a date may stand still and then jump")
	}
	for _, p := range t.Answer.Parts {
		s := c.Region.Stations[p.Station]
		z, _ := s.Row.Elevation.Get()
		a.line("  %s, %.0f m, counts %.0f %%%s%s", s.Row.Name, float64(z), 100*p.Weight, at(s.Row.Elevation.Cell), tableFiles(s))
		for g, gate := range t.Gates {
			if s.Table != nil || !a.borrowed(t, p, gate) {
				a.threshold(t, p, g, gate)
			}
		}
		if trend, ok := c.Region.Trend(p.Station, t.Event); ok && t.Answer.Shifted {
			a.line("      trend of its nights in that season: %+.2f C in ten years, from its years %d-%d (%s), moved in steps of %s", float64(trend), s.First, s.Last, s.Record.File, steps[s.Record.Step])
		}
		a.quantile(t, p)
	}
	a.blend(t)
	a.rival(t)
}

// rival prints the two dates between which a date was chosen: from the years as they
// were, and with each year moved to the present climate.
func (a *arithmetic) rival(t plan.Traced) {
	if a.climate.Region.Plain || !t.Answer.Shifted && t.Gates[0].Series != band.Night {
		return
	}
	plain, shifted := a.climate.DateBothWays(t.Event, t.Odds, t.Gates...)
	taken := "the present climate is taken"
	if t.Odds < quantity.Half {
		taken = "the safer one is taken"
	}
	a.line("  from the years as they were: %s; moved to the present climate: %s; %s", a.outcome(plain), a.outcome(shifted), taken)
}

// outcome is an answer in a word or two.
func (a *arithmetic) outcome(x band.Answer) string {
	switch x.State {
	case band.Dated:
		return a.date(x.Slot)
	case band.AnyMonth:
		return "any month"
	case band.NoneNeeded:
		return "no date needed"
	case band.Never:
		return "no such date"
	}
	return a.noDate("too few years")
}

// lastOf says which day of a gate's mean a line is of.
var lastOf = [...]string{band.Week: "the last night of that week", band.Soil: "the first day of that fortnight", band.Hot: "the middle of that month", band.Month: "the middle of that month", band.Cold: "that day"}

var gateNames = [...]string{band.Night: "night", band.Week: "week of nights", band.Soil: "soil", band.Hot: "month of days", band.Month: "month", band.Cold: "cold day"}

func (a *arithmetic) threshold(t plan.Traced, p band.Part, g int, gate band.Gate) {
	s := a.climate.ShiftOf(gate, t.Event, t.Odds, p.Station)
	what := gateNames[gate.Series]
	sum := fmt.Sprintf("%.1f", float64(gate.Limit))
	if gate.Allowance != 0 {
		sum += fmt.Sprintf(" + %.1f allowance", float64(gate.Allowance))
	}
	if gate.Gain != 0 {
		sum += fmt.Sprintf(" - %.1f cover", float64(gate.Gain))
	}
	compared := float64(p.Compared[g].Celsius())
	switch gate.Series {
	case band.Soil, band.Hot, band.Month:
		compared = -compared
	}
	a.line("      %s: %s %+.2f height (%.1f C per 1,000 m x %+.0f m) %+.2f position (%+.2f against %+.2f) = %.2f C, compared as %.2f",
		what, sum, float64(s.Altitude()), 1000*float64(s.Lapse), float64(s.BandElevation-s.StationElevation),
		-float64(s.Position()), float64(s.StationOffset), float64(s.BandOffset), float64(p.Thresholds[g]), compared)
}

// quantile prints the years of the station around the date.
func (a *arithmetic) quantile(t plan.Traced, p band.Part) {
	if a.climate.Region.Stations[p.Station].Table != nil {
		a.published(t, p)
		return
	}
	if math.IsInf(p.Slot, 0) {
		a.line("      no such date in %d of %d years: it counts with the day towards which its dates go, see below", p.Without, p.Used)
		return
	}
	years := a.climate.Years(t.Event, t.Odds, p.Station, t.Answer.Shifted, t.Gates...)
	lower, upper, part := band.Positions(p.Used, t.Event, t.Odds)
	s := a.climate.Region.Stations[p.Station]
	show := func(rank int) string {
		y := years[rank-1]
		if y.State != frost.Date {
			return fmt.Sprintf("number %d: %d, none", rank, y.Year)
		}
		text := fmt.Sprintf("number %d: %s of the %d season", rank, a.date(y.Slot), y.Year)
		if len(t.Gates) > 1 {
			text += ", held by the " + gateNames[t.Gates[y.Decides].Series]
		}
		gate := t.Gates[y.Decides]
		where := fmt.Sprintf("%s:%d", s.Record.File, s.Record.LineOf(y.Reading))
		if s.Record.LineOf(y.Reading) == 0 {
			where = fmt.Sprintf("%s, no reading on %s itself", s.Record.File, a.g.Book.DateFull(y.Reading))
		}
		switch {
		case gate.Series != band.Night:
			where = lastOf[gate.Series] + " " + where
		case gate.Days != nil:
			where = "the night " + where
		}
		return text + " (" + where + ")"
	}
	text := show(lower)
	if upper != lower {
		text += fmt.Sprintf(", %s, %.1f of the way", show(upper), part)
	}
	a.line("      of %d years sorted by date, %s: %s%s", p.Used, text, a.date(quantity.Slot(math.Floor(p.Slot))), tenth(p.Slot))
}

func tenth(slot float64) string {
	if f := slot - math.Floor(slot); f > 0.05 {
		return fmt.Sprintf(" + %.1f day", f)
	}
	return ""
}

func (a *arithmetic) blend(t plan.Traced) {
	ans := t.Answer
	switch ans.State {
	case band.Dated:
		var terms []string
		for _, p := range ans.Parts {
			terms = append(terms, fmt.Sprintf("%.2f x %s%s", p.Weight, a.date(quantity.Slot(math.Floor(p.Counts))), tenth(p.Counts)))
		}
		side := "later"
		if t.Event == record.First {
			side = "earlier"
		}
		a.line("  together: %s = %s%s, whole day rounded to the %s: %s (give or take %d days)",
			strings.Join(terms, " + "), a.date(quantity.Slot(math.Floor(ans.Exact))), tenth(ans.Exact), side, a.date(ans.Slot), ans.PlusMinus)
		if t.Sown.State == plan.Dated {
			a.line("  seed that comes up no earlier is sown from %s", a.date(t.Sown.Slot))
		}
	case band.AnyMonth:
		a.line("  that cold may come in any month: there is no such date")
	case band.NoneNeeded:
		a.line("  it gets that cold in fewer years than that: nothing holds the date back")
	case band.Never:
		a.line("  in too many years that never comes")
	default:
		a.line("  %s", a.noDate("too few usable years"))
	}
}

// noDate says why an answer is not known: years is said where there are any to be too few.
func (a *arithmetic) noDate(years string) string {
	if a.climate.Region.Basis().Records == 0 {
		return "no published or typed date tells of that"
	}
	return years
}

func (a *arithmetic) find(action plan.Action) plan.Window {
	for _, w := range a.x.Windows {
		if w.Action == action {
			return w
		}
	}
	return plan.Window{}
}

func (a *arithmetic) raising(w plan.Window) {
	set := a.find(plan.SetOut)
	for _, r := range w.Reasons {
		if r.Kind == plan.ReasonWeeks && set.From.State == plan.Dated {
			a.line("  set out from %s (explained under set-out) less %.0f weeks inside%s", a.date(set.From.Slot), r.Number, at(r.At()))
			if from, _, ok := plan.HardenOff(set); ok {
				a.line("  hardened off in the week before it is set out, from %s", a.date(from))
			}
		}
	}
}

func (a *arithmetic) harvest(w plan.Window) {
	for _, action := range []plan.Action{plan.SowOutside, plan.SetOut} {
		if s := a.find(action); s.Exists() && s.From.State == plan.Dated && w.From.State == plan.Dated {
			a.line("  %s from %s: first picking of a quick kind %d days later", action, a.date(s.From.Slot), int(w.From.Slot-s.From.Slot))
		}
	}
	for _, r := range w.Reasons {
		if r.Kind == plan.ReasonDays {
			a.line("  days to harvest from %.0f%s", r.Number, at(r.At()))
		}
	}
	a.ripe(w)
	a.harvestEnd(w)
	a.seasons(w)
}

// result is the last line, "= 12 May".
func (a *arithmetic) result(w plan.Window) string {
	from := w.From
	if _, short := w.TooShort(a.x.Crop); short {
		return "= season too short"
	}
	switch from.State {
	case plan.Dated:
		if from.AtLeast {
			return "= not known; " + a.date(from.Slot) + " at least, by the coldest limit above it that has a date"
		}
		return "= " + a.date(from.Slot)
	case plan.Open:
		return "= no date needed"
	case plan.Never:
		return "= no such date"
	}
	return "= not known"
}
