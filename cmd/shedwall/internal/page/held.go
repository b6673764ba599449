package page

import (
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
)

// heldAlso is what else bears on the careful dates of a crop in open ground: a gap that
// heat makes, snow that lies, the week of hardening off, and the days of the harvest that
// are hot or on which hardly anything grows.
func (b *builder) heldAlso(x cropIn) string {
	open, text := &x.plan.Layers[0], ""
	say := func(key string, s plan.Stretch) {
		text += " " + b.t(key, "from", b.words.Date(b.date(s.From)), "to", b.words.Date(b.date(s.To)))
	}
	said := plan.Stretch{}
	for _, a := range []plan.Action{plan.SowOutside, plan.SetOut} {
		w, ok := open.Find(quantity.Careful, a)
		if !ok || !w.Exists() {
			continue
		}
		if w.Gap.Exists() && w.Gap != said {
			said = w.Gap
			say("held.gap."+w.Gap.Gate.String(), w.Gap)
		}
		for _, r := range w.Reasons {
			if r.Kind == plan.ReasonSnow {
				text += " " + b.t("held.snow")
			}
		}
		if from, _, ok := plan.HardenOff(w); ok {
			text += " " + b.t("held.harden", "date", b.words.Date(b.date(from)))
		}
	}
	h, ok := open.Find(quantity.Careful, plan.Harvest)
	if !ok || !h.Exists() {
		return text
	}
	text += b.standsOn(open, h)
	if h.Hot.Exists() {
		key := "held.hot.cool"
		if needsWarmth(x.plan.Crop) {
			key = "held.hot.tender"
		}
		say(key, h.Hot)
	}
	if h.Slow.Exists() {
		key := "held.slow"
		if _, sun := plan.SlowDays(x.band.in.Climate); sun {
			key = "held.slow_sun"
		}
		say(key, h.Slow)
	}
	return text
}

// standsOn says why a harvest goes on after the last safe day: what cold has hardened stands
// until a night that kills it. "" where it does not.
func (b *builder) standsOn(open *plan.LayerPlan, h plan.Window) string {
	safe, ok := open.Find(quantity.Careful, plan.LastSafeDay)
	if !ok || safe.To.State != plan.Dated || !safe.To.EndKnown() {
		return ""
	}
	switch {
	case h.To.State == plan.Open:
		return " " + b.t("held.stands.on")
	case h.To.State == plan.Dated && h.To.EndKnown() && h.To.Slot > safe.To.Slot:
		return " " + b.t("held.stands", "date", b.words.Date(b.date(h.To.Slot)))
	}
	return ""
}
