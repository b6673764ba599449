package page

import (
	"slices"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// cropPlanting is how a crop that is planted or that stays for years is planted, and what
// its dates mean; nothing for the others.
func (b *builder) cropPlanting(c *catalog.Crop, plans []cropIn) []Block {
	if c.Start != catalog.Planted && !plan.Lasting(c) {
		return nil
	}
	out := []Block{b.heading(2, "planting", "planting.h")}
	if c.Start == catalog.Planted {
		out = append(out, para(Inline{Text: b.t("planting." + c.Season.String())}))
	}
	if year, ok := c.FirstYear.Get(); ok {
		text := b.t("planting.lasting") + " "
		if year > 1 {
			text += b.t("planting.first_year", "n", b.words.Int(year))
		} else {
			text += b.t("planting.first_now")
		}
		out = append(out, para(Inline{Text: text}), para(Inline{Text: b.t("planting.leaves")}), para(Inline{Text: b.t(plantedUntil(c))}))
		if !c.WinterKill.Known() {
			out = append(out, para(Inline{Text: b.t("planting.no_winter")}))
		}
	}
	if c.Start == catalog.Planted && c.Season != catalog.SpringPlanted {
		out = append(out, b.fallPlanting(c, plans)...)
	}
	return out
}

// plantedUntil is the key of what ends the planting of a crop that stays for years.
func plantedUntil(c *catalog.Crop) string {
	switch {
	case plan.PlantedInSpring(c):
		return "planting.in_spring"
	case c.Start != catalog.Planted && c.WeeksInsideHigh.Known():
		return "planting.rooted_sown"
	}
	return "planting.rooted"
}

// heldAction names what a start is: tubers, sets and crowns are planted, not sown.
func (b *builder) heldAction(c *catalog.Crop, a plan.Action) string {
	if c.Start == catalog.Planted {
		return b.t("planting.action")
	}
	return b.t("held.action." + string(a))
}

// fallPlanting is the windows of planting in fall, band by band.
func (b *builder) fallPlanting(c *catalog.Crop, plans []cropIn) []Block {
	t := Table{ID: "fall-planting", Caption: b.t("planting.fall.caption", "crop", c.Name), RowHeads: true, Head: []string{
		b.t("head.band"), b.t("planting.head.plant", "odds", b.words.Odds(quantity.Careful)), b.t("planting.head.plant", "odds", b.words.Odds(quantity.Half)),
		b.t("planting.head.held"), b.t("planting.head.harvest")}}
	for _, x := range plans {
		careful, ok := b.planner.FallPlanting(x.band.in.Climate, c, quantity.Careful)
		if !ok {
			return nil
		}
		half, _ := b.planner.FallPlanting(x.band.in.Climate, c, quantity.Half)
		t.Rows = append(t.Rows, [][]Inline{
			{link(x.band.row().Name, x.band.href())}, plain(b.window(careful.Plant)), plain(b.window(half.Plant)),
			plain(firstUpper(b.held(x, careful.Plant, b.t("planting.action")))), plain(b.harvestDays(careful.Harvest)),
		})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	low, a := c.FallWeeksLow.Get()
	high, z := c.FallWeeksHigh.Get()
	soil, s := c.FallSoil.Get()
	var out []Block
	if a && z && s {
		out = append(out, para(Inline{Text: b.t("planting.fall.rule", "weeks", b.words.NumberRange(low, high, 0), "soil", b.words.Temp(soil, words.Nearest))}))
	}
	out = append(out, t)
	if c.FallWeeksLow.Source == "memory" || c.FallWeeksLow.Source == "practice" {
		out = append(out, para(Inline{Text: b.t("planting.fall.memory")}))
	}
	return out
}

// harvestDays is a harvest about which only the middling year is told.
func (b *builder) harvestDays(w plan.Window) string {
	if w.From.State != plan.Dated || w.To.State != plan.Dated {
		return b.window(w)
	}
	return b.t("planting.about", "days", b.words.DateRange(b.date(w.From.Slot), b.date(w.To.Slot)))
}

// cropLeftOut says which figures nobody gave, and what the plan did without them.
func (b *builder) cropLeftOut(plans []cropIn) []Block {
	if len(plans) == 0 {
		return nil
	}
	var class, none []string
	for _, m := range plans[0].plan.LeftOut {
		name := b.headingName(m.Figure)
		switch {
		case name == "" || m.Want != "":
		case m.Used == "class" && !slices.Contains(class, name):
			class = append(class, name)
		case m.Used == "" && !slices.Contains(none, name):
			none = append(none, name)
		}
	}
	var out []Block
	if len(class) > 0 {
		out = append(out, para(Inline{Text: b.t("left_out.class") + " ", Strong: true}, Inline{Text: namesOf(class)}))
	}
	if len(none) > 0 {
		out = append(out, para(Inline{Text: b.t("left_out.none") + " ", Strong: true}, Inline{Text: namesOf(none)}))
	}
	return out
}

// figureNames is the phrase of a column where it is not the column's name.
var figureNames = map[string]string{"emerge_days": "emerge", "days_low": "days_from_sowing", "days_high": "days_from_sowing", "weeks_inside_low": "weeks_inside"}

// headingName is what a column is called on pages, "" where it has no name.
func (b *builder) headingName(heading string) string {
	key := figureNames[heading]
	if key == "" {
		key = heading
		for _, unit := range []string{"_c", "_cm", "_k"} {
			if n := len(heading) - len(unit); n > 0 && heading[n:] == unit {
				key = heading[:n]
			}
		}
	}
	if !b.words.Has("figure." + key) {
		return ""
	}
	return b.t("figure." + key)
}

// figureRow adds a row to the table of a crop's figures.
type figureRow func(key, value string, known bool, owner figure.Owner, source string)

// meanRange is "15.6 °C (60 °F) to 18.3 °C (65 °F)", or the one end that is known.
func (b *builder) meanRange(low, high figure.Of[quantity.Celsius]) string {
	if low.Known() && high.Known() {
		return b.t("range.words", "from", b.temp(low), "to", b.temp(high))
	}
	if low.Known() {
		return b.temp(low)
	}
	return b.temp(high)
}

// growthFigures is the figures of degree days, bolting and planting.
func (b *builder) growthFigures(c *catalog.Crop, class *catalog.Class, add figureRow) {
	temp := func(key string, f figure.Of[quantity.Celsius]) { add(key, b.temp(f), f.Known(), f.Owner, f.Source) }
	base := c.Base
	if base.State == figure.Blank && class.Base.Known() {
		base = class.Base
		base.Owner = figure.ByClass
	}
	temp("heat_mean", c.HeatMean)
	best, known := c.BestMeanLow, c.BestMeanLow.Known() || c.BestMeanHigh.Known()
	if !best.Known() {
		best = c.BestMeanHigh
	}
	add("best_mean", b.meanRange(c.BestMeanLow, c.BestMeanHigh), known, best.Owner, best.Source)
	temp("base", base)
	temp("ceiling", c.Ceiling)
	if c.Bolt.Known() {
		temp("bolt", c.Bolt)
		add("bolt_days", b.intRange(c.BoltDays, c.BoltDays), c.BoltDays.Known(), c.BoltDays.Owner, c.BoltDays.Source)
	}
	if c.Start == catalog.Planted && c.Season != catalog.SpringPlanted {
		low, a := c.FallWeeksLow.Get()
		high, z := c.FallWeeksHigh.Get()
		text := b.t("not_known")
		if a && z {
			text = b.words.NumberRange(low, high, 1)
		}
		add("fall_weeks", text, a && z, c.FallWeeksLow.Owner, c.FallWeeksLow.Source)
		temp("fall_soil", c.FallSoil)
	}
	if c.FirstYear.Known() {
		add("first_harvest_year", b.intRange(c.FirstYear, c.FirstYear), true, c.FirstYear.Owner, c.FirstYear.Source)
	}
}
