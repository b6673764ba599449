package main

import (
	"shedwall/cmd/shedwall/internal/band"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/record"
)

// gateFigure prints a figure of the gates beside frost, cold weeks and soil.
func (a *arithmetic) gateFigure(r plan.Reason) {
	switch r.Kind {
	case plan.ReasonWeather:
		a.line("  %s is not counted on in the month of %s: the weather of that month rules it out%s", r.Of, a.date(quantity.Slot(r.Number)), at(r.At()))
	case plan.ReasonBolt:
		a.line("  runs to seed after days with a mean of %.1f C or less, once grown, four weeks after it came up or was set out%s%s", r.Number, byWhom(r), at(r.At()))
	case plan.ReasonBoltDays:
		a.line("  ... %d of them%s%s", int(r.Number), byWhom(r), at(r.At()))
	case plan.ReasonSnow:
		a.line("  snow may lie on %s: the soil's date holds after snow-melt%s", a.date(quantity.Slot(r.Number)), at(r.At()))
	case plan.ReasonCool:
		a.line("  soil that has cooled to %.1f C%s%s", r.Number, byWhom(r), at(r.At()))
	case plan.ReasonGround:
		a.line("  %.0f weeks before the ground freezes%s%s", r.Number, byWhom(r), at(r.At()))
	case plan.ReasonSpring:
		a.line("  goes into the ground within %.0f weeks of the first careful day in open ground (common practice), or of the first day where that has none%s", r.Number, at(r.At()))
	case plan.ReasonHeat:
		a.line("  too hot for it in months whose days reach %.1f C or more on average%s%s", r.Number, byWhom(r), at(r.At()))
	case plan.ReasonHeatMean:
		a.line("  too hot for it in months with a mean, day and night, of %.1f C or more%s%s", r.Number, byWhom(r), at(r.At()))
	}
}

// soilGain prints a cover's gain in the soil.
func (a *arithmetic) soilGain(r plan.Reason) {
	a.line("  the soil under %s is warmer by %.1f C on average%s%s", r.Of, r.Number, byWhom(r), at(r.At()))
	if film := a.x.Film; film.Exists() {
		a.line("  so the film lies on the bed from %s, %d days before, as soil at sowing depth follows the mean of as many days of air, until %s: open it on warm days",
			a.date(film.From), band.SoilDays, a.date(film.To))
	}
}

// heading of a question that is not about frost; false where it is.
func (a *arithmetic) hotWeather(t plan.Traced) bool {
	if s := t.Gates[0].Series; s != band.Hot && s != band.Month {
		return false
	}
	what := "begins"
	if t.Event == record.Last {
		what = "ends"
	}
	a.line("  hot weather %s, asked about half the years, as they were:", what)
	return true
}

// borrowed prints a gate that a station cannot tell because it has no maxima.
func (a *arithmetic) borrowed(t plan.Traced, p band.Part, gate band.Gate) bool {
	if a.climate.Region.Tells(p.Station, gate.Series) {
		return false
	}
	if leftOut(t.Answer, gate.Series) {
		a.line("      %s: no station has maxima to tell it by; it holds no date back", gateNames[gate.Series])
	} else {
		a.line("      %s: its record has no maxima; as the other stations say", gateNames[gate.Series])
	}
	return true
}

// steps are the steps in which records' readings, and so the thresholds that are moved to
// the present climate, go.
var steps = map[record.StepKind]string{
	record.HundredthC: "0.01 C", record.TenthC: "0.1 C", record.HalfC: "0.5 C", record.WholeC: "1 C", record.WholeF: "1 F",
}

// latest prints how the end of a starting window follows from the fall, from the warmth
// that is left, and from hot weather.
func (a *arithmetic) latest(w plan.Window) {
	if w.To.Gate == plan.Ground || w.To.Gate == plan.Spring {
		a.rooted(w)
		return
	}
	if w.To.Gate == plan.Hardened {
		a.line("  until: the first day too; it is not ready by the last safe day, but hardened by cold it ripens until a night kills it (explained under harvest)")
		return
	}
	safe := a.find(plan.LastSafeDay)
	end, last := "last safe day", safe.To
	for _, r := range w.Reasons {
		switch r.Kind {
		case plan.ReasonLight:
			end, last = "last day of ten hours", plan.Bound{State: plan.Dated, Slot: quantity.Slot(r.Number)}
		case plan.ReasonSun:
			end, last = "last day before a ridge takes the sun"+at(r.At())+",", plan.Bound{State: plan.Dated, Slot: quantity.Slot(r.Number)}
		}
	}
	base := plan.Reason{}
	for _, r := range w.Reasons {
		switch {
		case r.Kind == plan.ReasonDays && last.State == plan.Dated:
			a.line("  until: %s %s less %d days to harvest = %s%s", end, a.date(last.Slot), int(r.Number), a.date(last.Slot-quantity.Slot(r.Number)), at(r.At()))
		case r.Kind == plan.ReasonBase:
			base = r
		case r.Kind == plan.ReasonWarmth && w.To.Gate == plan.Warmth:
			a.line("  but days are worth less in fall: so many days from the usual start collect %.0f degree days above %.1f C%s%s; as many are left until %s",
				r.Number, base.Number, byWhom(base), at(base.At()), a.date(w.To.Slot))
		}
	}
	a.heat(w)
}

// ripe prints the warmth that days to harvest stand for.
func (a *arithmetic) ripe(w plan.Window) {
	var base, best plan.Reason
	for _, r := range w.Reasons {
		switch {
		case r.Kind == plan.ReasonBase:
			base = r
		case r.Kind == plan.ReasonBest:
			best = r
		case r.Kind == plan.ReasonRipe:
			a.line("  such days, at a mean of %.1f C in which it grows well%s%s, are %.0f degree days above %.1f C%s%s; it is picked when it has as many (under covers after as many days as in the open)",
				best.Number, byWhom(best), at(best.At()), r.Number, base.Number, byWhom(base), at(base.At()))
			if w.From.State == plan.NotKnown {
				a.line("  there are not so many before the end: whether it ripens is not known")
			}
		}
	}
}

// rooted prints the end of a window of planting what stays for years, which no days to
// harvest decide.
func (a *arithmetic) rooted(w plan.Window) {
	for _, r := range w.Reasons {
		if r.Kind == plan.ReasonWeeks && r.Gate == plan.Ground {
			a.line("  sown outside it is %.0f weeks behind a plant set out%s", r.Number, at(r.At()))
		}
	}
	if w.To.Gate == plan.Spring {
		a.line("  planted in spring: until %s", a.date(w.To.Slot))
	} else {
		a.line("  so until %s", a.date(w.To.Slot))
	}
}

// heat prints what hot weather closes of a window.
func (a *arithmetic) heat(w plan.Window) {
	for _, r := range w.Reasons {
		if r.Kind != plan.ReasonReady {
			continue
		}
		switch {
		case w.Gap.Exists():
			a.line("  none from %s to %s: it would be ready in hot weather (reckoned with %d days)%s", a.date(w.Gap.From), a.date(w.Gap.To), int(r.Number), at(r.At()))
		case w.From.Gate == plan.Heat:
			a.line("  so from %s, to be ready after hot weather%s", a.date(w.From.Slot), at(r.At()))
		case w.To.Gate == plan.Heat:
			a.line("  so until %s, to be ready before hot weather (reckoned with %d days)%s", a.date(w.To.Slot), int(r.Number), at(r.At()))
		}
	}
}

// harvestEnd prints the end of a harvest: the last safe day or, of what cold hardens, the day
// before the night that kills it, never before the last safe day.
func (a *arithmetic) harvestEnd(w plan.Window) {
	safe := a.find(plan.LastSafeDay)
	if w.From.State != plan.Dated || w.To.State == plan.Never {
		return
	}
	stands := false
	for _, r := range w.Reasons {
		switch r.Kind {
		case plan.ReasonLimit:
			stands = true
			a.line("  hardened by cold it stands until a night of %.1f C kills it%s%s", r.Number, byWhom(r), at(r.At()))
		case plan.ReasonAllowance:
			a.line("  leaf colder than the air on a clear night: + %.1f C%s", r.Number, at(r.At()))
		case plan.ReasonGain:
			a.gain(r)
		case plan.ReasonWeather:
			a.gateFigure(r)
		}
	}
	if stands {
		for _, t := range a.x.Traced {
			if t.For == plan.Harvest && t.Gates[0].Series == band.Night {
				a.answer(t)
			}
		}
	}
	switch {
	case w.To.State == plan.Open:
		a.line("  until: no night ends it")
	case w.To.State != plan.Dated || !w.To.EndKnown():
		a.line("  until: not known")
	case w.To.Slot == safe.To.Slot && safe.To.State == plan.Dated:
		a.line("  until: the last safe day, %s (explained under last-safe-day)", a.date(w.To.Slot))
	case stands:
		a.line("  until: the day before that night, %s; safe from harm until %s (explained under last-safe-day)", a.date(w.To.Slot), a.endOf(safe))
	default:
		a.line("  until: %s", a.date(w.To.Slot))
	}
}

// endOf is the day a window ends on, or that none is known.
func (a *arithmetic) endOf(w plan.Window) string {
	switch {
	case w.To.State == plan.Open:
		return "no date needed"
	case w.To.State == plan.Dated && w.To.EndKnown():
		return a.date(w.To.Slot)
	}
	return "a day that is not known"
}

// seasons prints the days of a harvest that are hot, and those on which hardly anything
// grows.
func (a *arithmetic) seasons(w plan.Window) {
	for _, r := range w.Reasons {
		if r.Kind == plan.ReasonHeat || r.Kind == plan.ReasonHeatMean {
			a.gateFigure(r)
		}
	}
	if w.Hot.Exists() {
		a.line("  hot weather in it: %s to %s", a.date(w.Hot.From), a.date(w.Hot.To))
	}
	if w.Slow.Exists() {
		a.line("  days too short to grow in it: %s to %s", a.date(w.Slow.From), a.date(w.Slow.To))
	}
}
