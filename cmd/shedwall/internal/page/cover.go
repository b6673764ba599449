package page

import (
	"slices"
	"strings"
	"unicode"

	"shedwall/cmd/shedwall/internal/catalog"
	"shedwall/cmd/shedwall/internal/cover"
	"shedwall/cmd/shedwall/internal/figure"
	"shedwall/cmd/shedwall/internal/plan"
	"shedwall/cmd/shedwall/internal/quantity"
	"shedwall/cmd/shedwall/internal/words"
)

// cover is the page of a cover: how much warmer it keeps, honestly at its low end,
// when it must come off, what it bears, and what it buys in each band.
func (b *builder) cover(c *catalog.Cover) *Page {
	p := b.newPage(CoverPath(c.ID), HTML(IndexPath)+"#covers", firstUpper(c.Name), b.t("cover.description", "cover", c.Name))
	lead := b.t("cover.kind."+c.Kind.String()) + " " + b.t("cover.letter", "letter", c.Letter)
	if c.Letter == "" || !b.onSheets(c) {
		lead = b.t("cover.kind."+c.Kind.String()) + " " + b.t("cover.no_sheet")
	}
	p.add(Para{Lead: true, Text: plain(lead)}, b.drawing(c), b.coverFacts(c))
	p.add(b.prose("covers/"+c.ID, 0)...)
	if c.Note != "" {
		p.add(para(Inline{Text: c.Note}))
	}
	low, known := c.Gain.Low.Get()
	if known && low <= 0 {
		p.add(Note{Kind: "caution", Label: b.t("note.no_help"), Text: b.say("cover.no_help")})
	}
	if c.Touches && c.Kind != catalog.Mulch {
		p.add(Note{Kind: "caution", Label: b.t("note.touches"), Text: b.say("cover.touches")})
	}
	p.add(b.loggedPart(c.ID)...)
	p.add(b.heading(2, "figures", "crop.h.figures"), b.coverFigures(c))
	var in []housed
	if s := b.Tables.Structure(c.ID); s != nil {
		var missing []string
		in, missing = b.houses(s)
		p.add(b.builtHow(s))
		p.add(b.housePart(s, in, missing)...)
	}
	p.add(b.heading(2, "buys", "cover.h.buys"))
	p.add(b.coverBuys(c, in)...)
	p.add(b.coverWeather(c)...)
	p.add(b.coverVents(c)...)
	p.add(b.cutList(c)...)
	if together := b.layersWith(c.ID); len(together.Items) > 0 {
		p.add(b.heading(2, "together", "cover.h.together"), para(Inline{Text: b.t("cover.together.intro")}), together)
	}
	p.add(b.heading(2, "cautions", "band.h.cautions"))
	p.add(b.cautions(b.hazardsOf(c)...)...)
	p.add(para(Inline{Text: b.t("band.cautions.more") + " "}, link(b.t("band.cautions.link"), HTML(SafetyPath))))
	return p
}

// hazardsOf is what the table of hazards may name to stand on the page of a cover: its id,
// and the words for things of its kind (catalog.Hazard.On).
func (b *builder) hazardsOf(c *catalog.Cover) []string {
	on := []string{"all", c.ID}
	if c.Kind == catalog.Film || c.Kind == catalog.Glass {
		on = append(on, c.Kind.String())
	}
	if !c.ByHand() {
		on = append(on, "house")
	}
	s := b.Tables.Structure(c.ID)
	if s == nil {
		return on
	}
	on = append(on, "structure")
	if s.Water.Known() {
		on = append(on, "water")
	}
	switch {
	case s.HeatW.Known() && s.Heat == catalog.Heater:
		on = append(on, "heat")
	case s.HeatW.Known():
		on = append(on, "lamps")
	}
	return on
}

// onSheets says whether any wall sheet of the guide draws the cover.
func (b *builder) onSheets(c *catalog.Cover) bool {
	return b.drawn.has(KeyEntry{Style: c.Kind.String(), Letter: c.Letter, Text: c.Name})
}

func (b *builder) coverFacts(c *catalog.Cover) Facts {
	if s := b.Tables.Structure(c.ID); s != nil {
		return b.houseFacts(s)
	}
	gain := Fact{Name: b.t("cover.fact.gain"), Value: plain(firstUpper(b.gainRange(c.Gain))), Detail: b.say("cover.fact.gain.detail")}
	switch {
	case !c.Gain.Low.Known() || !c.Gain.High.Known():
		gain.Detail = b.say("cover.fact.gain.none")
	case c.Gain.Stated:
		gain.Detail = b.say("cover.fact.gain.stated")
	}
	vent := b.opensFact(c)
	if v, ok := c.Vent.Get(); ok {
		vent.Value, vent.Detail = plain(b.words.Temp(v, words.Down)), b.say("cover.fact.vent.outside")
		if c.VentInside {
			vent.Detail = b.say("cover.fact.vent.inside")
		}
	}
	light := Fact{Name: b.t("cover.fact.light"), Value: plain(firstUpper(b.percent(b.lightOf(c)))), Detail: b.say("cover.fact.light.detail")}
	if !b.lightOf(c).Known() {
		light.Detail = b.say("cover.fact.vent.nobody")
	}
	return Facts{Name: b.t("band.facts"), Items: []Fact{gain, vent, light}}
}

// opensFact is when a cover is opened of which nobody gave the temperature: what lets no
// light through comes off every morning, a mulch when growth begins; cloth and nets need
// no opening that is known; what is clear is opened whenever the sun is on it.
func (b *builder) opensFact(c *catalog.Cover) Fact {
	light, known := c.LightPercent.Get()
	switch {
	case c.Kind == catalog.Mulch:
		return Fact{Name: b.t("cover.fact.off"), Value: b.say("cover.fact.off.growth"), Detail: b.say("cover.fact.off.growth.detail")}
	case known && light == 0:
		return Fact{Name: b.t("cover.fact.off"), Value: b.say("cover.fact.off.morning"), Detail: b.say("cover.fact.off.morning.detail")}
	case c.Kind == catalog.Fabric:
		return Fact{Name: b.t("cover.fact.vent"), Value: plain(firstUpper(b.t("not_known"))), Detail: b.say("cover.fact.vent.nobody")}
	}
	return Fact{Name: b.t("cover.fact.vent"), Value: plain(firstUpper(b.t("not_known"))), Detail: b.say("cover.fact.vent.none")}
}

func (b *builder) gainRange(g catalog.Gain) string {
	low, a := g.Low.Get()
	high, c := g.High.Get()
	if !a || !c {
		return b.t("not_known")
	}
	return b.words.DiffRange(low, high)
}

func (b *builder) percent(f figure.Of[float64]) string {
	if v, ok := f.Get(); ok {
		return b.qualified(f.Qualifier, b.t("percent", "n", b.words.Number(v, 0)))
	}
	return b.t("not_known")
}

func (b *builder) coverFigures(c *catalog.Cover) Table {
	t := Table{ID: "figure-table", Caption: b.t("cover.figures.caption", "cover", c.Name), RowHeads: true, Head: []string{
		b.t("figures.head.figure"), b.t("figures.head.value"), b.t("figures.head.whose"), b.t("figures.head.source")}}
	add := func(key, value string, known bool, owner figure.Owner, source string) {
		whose, from := b.t("owner."+ownerKey(owner)), b.source(source)
		if !known {
			whose, from = b.t("owner.nobody"), b.say("source.nothing")
		}
		t.Rows = append(t.Rows, [][]Inline{plain(firstUpper(b.t("figure." + key))), plain(value), plain(whose), from})
	}
	if b.Tables.Structure(c.ID) != nil {
		b.coverRest(c, add)
		return t
	}
	diff := func(key string, f figure.Of[quantity.Kelvins]) {
		value := b.t("not_known")
		if v, ok := f.Get(); ok {
			value = b.qualified(f.Qualifier, b.words.Diff(v, words.Down))
		}
		add(key, value, f.Known(), f.Owner, f.Source)
	}
	diff("gain_low", c.Gain.Low)
	diff("gain_typical", c.Gain.Typical)
	diff("gain_high", c.Gain.High)
	diff("winter_gain_low", c.Winter.Low)
	if c.Winter.Typical.Known() {
		diff("winter_gain_typical", c.Winter.Typical)
	}
	if c.Winter.High.Known() {
		diff("winter_gain_high", c.Winter.High)
	}
	b.coverRest(c, add)
	return t
}

// coverRest is the figures that covers and structures have alike.
func (b *builder) coverRest(c *catalog.Cover, add func(key, value string, known bool, owner figure.Owner, source string)) {
	vent := b.t("not_known")
	if v, ok := c.Vent.Get(); ok {
		where := "vent.outside"
		if c.VentInside {
			where = "vent.inside"
		}
		vent = b.t(where, "temp", b.words.Temp(v, words.Down))
	}
	add("vent", vent, c.Vent.Known(), c.Vent.Owner, c.Vent.Source)
	light := b.lightOf(c)
	add("light", b.percent(light), light.Known(), light.Owner, light.Source)
	wind := b.t("not_known")
	if v, ok := c.WindLimit.Get(); ok {
		wind = b.t("wind.limit", "kmh", b.words.Number(v, 0), "mph", b.words.Number(float64(int(v/1.609344)), 0))
	}
	add("wind", wind, c.WindLimit.Known(), c.WindLimit.Owner, c.WindLimit.Source)
	snow, hail := b.t("not_known"), b.t("not_known")
	if r, ok := c.Snow.Get(); ok {
		snow = b.t("snow.rule." + r.String())
	}
	if r, ok := c.Hail.Get(); ok {
		hail = b.t("hail.rule." + r.String())
	}
	add("snow", snow, c.Snow.Known(), c.Snow.Owner, c.Snow.Source)
	add("hail", hail, c.Hail.Known(), c.Hail.Owner, c.Hail.Source)
	insects := b.t("not_known")
	if v, ok := c.InsectsOut.Get(); ok && v {
		insects = b.t("yes")
	} else if ok {
		insects = b.t("no")
	}
	add("insects_out", insects, c.InsectsOut.Known(), c.InsectsOut.Owner, c.InsectsOut.Source)
	years := b.t("not_known")
	if v, ok := c.Years.Get(); ok {
		years = b.words.N("years", int(v))
	}
	add("years", years, c.Years.Known(), c.Years.Owner, c.Years.Source)
	if v, ok := c.Price.Get(); ok {
		add("price", b.money(v), true, c.Price.Owner, c.Price.Source)
	}
}

// money is an amount in the guide's currency.
func (b *builder) money(v float64) string {
	places := 0
	if v < 100 && v != float64(int(v)) {
		places = 2
	}
	amount := b.words.Number(v, places)
	if places == 2 && strings.LastIndexAny(amount, ".,") == len(amount)-2 {
		amount += "0" // 29.40, as money is written
	}
	switch c := b.Tables.Guide.Currency; {
	case c == "":
		return amount
	case strings.IndexFunc(c, unicode.IsLetter) < 0: // a sign stands at the figure, $24; a word beside it, EUR 24
		return b.t("money.sign", "currency", c, "amount", amount)
	default:
		return b.t("money", "currency", c, "amount", amount)
	}
}

// lightOf is the share of light that a cover lets through: of a structure with a second
// skin, both skins.
func (b *builder) lightOf(c *catalog.Cover) figure.Of[float64] {
	if s := b.Tables.Structure(c.ID); s != nil && s.SecondU.Known() && s.SecondLight.Known() {
		return s.SecondLight
	}
	return c.LightPercent
}

// coverBuys is what the cover alone buys in each band, at its weakest and on a typical
// night: a table for each of two limits. in is a structure's gains, band by band.
func (b *builder) coverBuys(c *catalog.Cover, in []housed) []Block {
	if !b.covers.Gain(c.ID).Known && len(in) == 0 {
		return []Block{para(Inline{Text: b.t("cover.buys.unknown")})}
	}
	if len(b.made) == 0 {
		return []Block{para(Inline{Text: b.t("index.bands.none")})}
	}
	out := []Block{para(Inline{Text: b.t("covers.buy.intro", "odds", b.words.Odds(quantity.Careful), "half", b.words.Odds(quantity.Half))})}
	weather := false
	for i, limit := range []quantity.Celsius{0, -2.2} {
		t := Table{Caption: b.t("cover.buys.caption", "cover", firstUpper(c.Name), "temp", b.words.Temp(limit, 0)), RowHeads: true, Head: []string{b.t("head.band"),
			b.t("covers.buy.head.spring"), b.t("covers.buy.head.spring.typical"), b.t("covers.buy.head.fall"), b.t("covers.buy.head.fall.typical")}}
		if i == 0 {
			t.ID = "buys-table"
		}
		for k, m := range b.gained(c, in) {
			out := b.planner.OutMonths(m.band.row(), c.ID)
			cells, cut := b.buysRow(m.band, limit, m.gain, out)
			row := append([][]Inline{{link(m.band.row().Name, m.band.href())}}, cells...)
			weather = weather || cut
			if i == 0 && c.Price.Known() {
				if k == 0 {
					t.Head = append(t.Head, b.t("price.head"))
				}
				row = append(row, plain(b.weekPrice(c, m, out)))
			}
			t.Rows = append(t.Rows, row)
		}
		out = append(out, t)
	}
	if weather {
		out = append(out, para(Inline{Text: b.t("days.weather.means")}))
	}
	if c.Price.Known() {
		out = append(out, para(Inline{Text: b.t("price.intro")}))
	}
	return out
}

// gainedIn is a cover's gain in one band.
type gainedIn struct {
	band *bandPage
	gain cover.Gain
}

func (b *builder) gained(c *catalog.Cover, in []housed) []gainedIn {
	var out []gainedIn
	for _, h := range in {
		out = append(out, gainedIn{h.band, h.gain()})
	}
	if b.Tables.Structure(c.ID) == nil {
		for _, m := range b.made {
			out = append(out, gainedIn{m, b.covers.Gain(c.ID)})
		}
	}
	return out
}

// weekPrice is what an extra week costs under a cover in a band, or why nobody can say.
func (b *builder) weekPrice(c *catalog.Cover, x gainedIn, out catalog.Months) string {
	spring, fall, known := boughtDays(x.band, 0, x.gain, out)
	switch price, ok := plan.WeekPrice(c, spring+fall); {
	case ok:
		return b.t("price.week", "price", b.money(float64(int(price*100+0.5))/100))
	case !c.Years.Known():
		return b.t("price.no_years")
	case !known:
		return b.t("price.no_dates")
	}
	return b.t("price.no_days")
}

// layersWith is every set of layers that the cover is part of.
func (b *builder) layersWith(id string) List {
	l := List{}
	for i := range b.Tables.Layers {
		row := &b.Tables.Layers[i]
		if slices.Contains(row.Covers, id) && len(row.Covers) > 1 {
			text := ": " + b.gainText(row.ID) + ". " + row.Note
			if sum := b.covers.InSeries(row.ID); row.Measured && sum.Known {
				text = ": " + b.gainText(row.ID) + ", " + b.t("gain.together") + ". " + b.t("gain.would_be", "range", b.words.DiffRange(sum.Low, sum.High)) + " " + row.Note
			}
			item := append(b.layersLink(row.ID), Inline{Text: strings.TrimSpace(text)})
			l.Items = append(l.Items, item)
		}
	}
	return l
}
