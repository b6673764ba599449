package page

import (
	"math"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// cropFigures is every figure of a crop with whose it is and its source. A figure
// that nobody gave is there too: a reader should see what is not known.
func (b *builder) cropFigures(c *catalog.Crop) Table {
	t := Table{ID: "figure-table", Caption: b.t("crop.figures.caption", "crop", c.Name), RowHeads: true, Head: []string{
		b.t("figures.head.figure"), b.t("figures.head.value"), b.t("figures.head.whose"), b.t("figures.head.source")}}
	add := func(key, value string, known bool, owner figure.Owner, source string) {
		whose, from := b.t("owner."+ownerKey(owner)), b.source(source)
		if !known {
			whose, from = b.t("owner.nobody"), b.say("source.nothing")
		}
		t.Rows = append(t.Rows, [][]Inline{plain(firstUpper(b.t("figure." + key))), plain(value), plain(whose), from})
	}
	class := b.class(c)
	temp := func(key string, f, byClass figure.Of[quantity.Celsius]) {
		value, g := b.temp(f), f
		if v, ok := byClass.Get(); ok && f.State == figure.Blank {
			g = byClass
			g.Owner = figure.ByClass
			value = b.words.Temp(v, words.Up)
		}
		add(key, value, g.Known(), g.Owner, g.Source)
	}
	none := figure.Of[quantity.Celsius]{}
	temp("young_damage", c.YoungDamage, class.YoungDamage)
	temp("young_kill", c.YoungKill, none)
	temp("grown_damage", c.GrownDamage, class.GrownDamage)
	temp("grown_kill", c.GrownKill, class.GrownKill)
	if c.Cycle != "annual" {
		temp("winter_kill", c.WinterKill, none)
	}
	basis := "basis.air"
	if c.Basis == catalog.Plant {
		basis = "basis.plant"
	}
	t.Rows = append(t.Rows, [][]Inline{plain(firstUpper(b.t("figure.basis"))), b.say(basis), b.say("basis.whose"), b.say("basis.source")})
	temp("chill", c.Chill, none)
	temp("soil_min", c.SoilMin, class.SoilMin)
	temp("soil_best", c.SoilBest, none)
	temp("soil_max", c.SoilMax, none)
	whole := func(key string, low, high figure.Of[int]) {
		f := low
		if !f.Known() {
			f = high
		}
		add(key, b.intRange(low, high), f.Known(), f.Owner, f.Source)
	}
	if c.Germination != "" {
		t.Rows = append(t.Rows, [][]Inline{plain(firstUpper(b.t("figure.emerge"))), b.say("figure.emerge.table"), b.say("owner.builtin"), b.source(b.germinationSource(c.Germination))})
	} else {
		whole("emerge", c.EmergeDays, c.EmergeDays)
	}
	number := func(key string, low, high figure.Of[float64], places int) {
		f := low
		if !f.Known() {
			f = high
		}
		value := b.t("not_known")
		l, x := low.Get()
		h, y := high.Get()
		switch {
		case x && y:
			value = b.words.NumberRange(l, h, places)
		case x:
			value = b.words.Number(l, places)
		case y:
			value = b.words.Number(h, places)
		}
		add(key, b.qualified(f.Qualifier, value), f.Known(), f.Owner, f.Source)
	}
	number("weeks_inside", c.WeeksInsideLow, c.WeeksInsideHigh, 1)
	key := "days_from_sowing"
	if c.DaysFromSetOut {
		key = "days_from_set_out"
	}
	whole(key, c.DaysLow, c.DaysHigh)
	whole("pick_days", c.PickDays, c.PickDays)
	temp("heat", c.Heat, none)
	b.growthFigures(c, class, add)
	length := func(key string, f figure.Of[float64], places int) {
		value := b.t("not_known")
		if v, ok := f.Get(); ok {
			value = b.qualified(f.Qualifier, b.length(v, places))
		}
		add(key, value, f.Known(), f.Owner, f.Source)
	}
	length("spacing", c.SpacingCm, 0)
	length("depth", c.DepthCm, 1)
	value := b.t("not_known")
	if v, ok := c.NeedsInsect.Get(); ok && v {
		value = b.t("yes")
	} else if ok {
		value = b.t("no")
	}
	add("insects", value, c.NeedsInsect.Known(), c.NeedsInsect.Owner, c.NeedsInsect.Source)
	return t
}

// length is centimetres and inches, as the guide prints units; inches to the nearest
// quarter below 10, whole above.
func (b *builder) length(cm float64, places int) string {
	inches := cm / 2.54
	if inches < 10 {
		inches = math.Max(0.25, math.Round(4*inches)/4)
	} else {
		inches = math.Round(inches)
	}
	metric := b.t("length.cm", "n", b.words.Number(cm, places))
	american := b.t("length.in", "n", b.words.Number(inches, 2))
	switch b.Tables.Guide.Units {
	case catalog.UnitsC:
		return metric
	case catalog.UnitsF:
		return american
	}
	return b.t("length.both", "metric", metric, "american", american)
}

func ownerKey(o figure.Owner) string {
	switch o {
	case figure.Own:
		return "own"
	case figure.ByClass:
		return "class"
	}
	return "builtin"
}

// germinationSource is the source of the first known figure of an emergence table.
func (b *builder) germinationSource(id string) string {
	for i := range b.Tables.Germination {
		if g := &b.Tables.Germination[i]; g.ID == id {
			for _, p := range g.Points {
				if p.Days.Source != "" {
					return p.Days.Source
				}
			}
		}
	}
	return ""
}
